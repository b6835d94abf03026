"""What waits for whoever signs in: of each studio they lead, of each scheme they draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.db.models import Count, QuerySet
from django.urls import reverse

from criteria.drawing.running_order import Turn
from criteria.units import System
from reviews import access, clock
from reviews.access import Role, Viewer
from reviews.deeds.revision_issuing import Contents, is_to_issue, lacks, own_contents
from reviews.models import Comment, Crit, NextStep, Package, Revision, Scheme, Seat, Slot, Studio
from reviews.moments import day_words, moment_words
from reviews.pages.check_page import Summary, summary_of
from reviews.pages.crit_today import Today, today_of
from reviews.pages.new_flags import NewFlag, new_flags
from reviews.pages.schedule_drawing import KeptStates, states_at_issue, states_in_preparation
from reviews.reading.brief_questions import unanswered_questions
from reviews.reading.crit_day import turns_of
from reviews.reading.crit_levels_read import read_levels
from reviews.reading.crit_moderation_table import decisions_of
from reviews.reading.crit_waiting import Waits, nearest_crit, what_waits
from reviews.reading.desk_crits import Unseen, open_steps, unseen
from reviews.reading.own_pause import slots_to_pause
from reviews.reading.package_checking import draft, issued
from reviews.worked_out import Told


@dataclass(frozen=True)
class LedStudio:
    """A studio that the viewer leads.

    not_issued   schemes that have not issued for the nearest crit
    not_locked   jurors with sheets of the nearest crit that are not locked, and how many
    unanswered   schemes with comments of the nearest crit, where that is released, that their
                 students haven't answered, and how many
    to_decide    what waits for a decision, each with the page where it is taken
    today        the day of the nearest crit, where it is today
    asked        questions on the brief that nobody has answered
    unseen       how long each scheme had no desk crit, the longest first
    """

    studio: Studio
    crit: Crit | None
    next_date: str
    to_do: list[tuple[str, str]]
    not_issued: Sequence[Scheme] = ()
    not_locked: Sequence[tuple[Seat, int]] = ()
    schemes: int = 0
    unanswered: Sequence[tuple[str, int]] = ()
    to_decide: Sequence[tuple[str, str]] = ()
    today: Today | None = None
    asked: int = 0
    unseen: Sequence[Unseen] = ()


@dataclass(frozen=True)
class OwnScheme:
    """A scheme of which the viewer is a student.

    slot       when and where it is on, in words; blank where no order is set
    drawn      its plans, as it stands; None where no crit is ahead and nothing waits
    flags      comments that it hasn't answered
    summary    what its check sheet comes to, where a crit is ahead
    released   crits with its results, and how many comments of each it hasn't answered
    sent       crits whose comments were sent before their levels
    steps      what is agreed at its desk and not done
    is_again   whether what is ahead is a re-crit, which asks for a part of it
    """

    scheme: Scheme
    state: str
    pens_down: str
    lacks: list[str]
    released: list[tuple[Crit, int]]
    is_brief_out: bool
    slot: str = ""
    summary: Summary | None = None
    today: Today | None = None
    drawn: KeptStates | None = None
    flags: Sequence[NewFlag] = ()
    sent: Sequence[Crit] = ()
    steps: Sequence[NextStep] = ()
    is_again: bool = False


@dataclass(frozen=True)
class PastWork:
    """What a former student of a scheme issued, and the results of the crits it was issued for."""

    scheme: Scheme
    revisions: list[Revision]
    released: list[Crit]


@dataclass(frozen=True)
class SeenStudio:
    """A studio that the viewer attends as scribe, or coordinates."""

    studio: Studio
    next_date: str
    crits: list[Crit]
    today: Today | None = None


def next_date(crit: Crit | None) -> str:
    """Say the next date of a studio: pens down, then the day of the crit, then its release."""
    if crit is None:
        return "No crit is set"
    if clock.now() <= crit.pens_down:
        return f"Pens down {moment_words(crit.pens_down)}"
    if crit.is_released:
        return f"{crit} is released"
    if crit.day >= clock.today():
        return f"{crit.get_kind_display()} {day_words(crit.day)}"
    return f"{crit} is not released"


def led(viewer: Viewer) -> list[LedStudio]:
    """Studios the viewer leads, with who has not issued and who has not locked."""
    studios = access.led_studios(viewer).select_related("brief").prefetch_related("crits")
    studios = studios.defer("brief__text", "brief__site", "brief__climate")
    by_studio = (
        Scheme.objects.standing().filter(studio__in=studios).order_by().values_list("studio")
    )
    counted = dict(by_studio.annotate(Count("pk")))
    nearest = {studio: nearest_crit(studio) for studio in studios}
    waits = what_waits(nearest.values())
    due = _unanswered(
        Comment.objects.released()
        .not_held()
        .filter(
            jury_sheet__seat__crit__in=[
                crit for crit in nearest.values() if crit and crit.is_released
            ]
        )
    )
    asked = unanswered_questions(nearest)
    seen = unseen(studio for studio, crit in nearest.items() if crit and not crit.is_released)
    lines = [
        _led(
            viewer,
            studio,
            crit,
            counted.get(studio.pk, 0),
            waits.get(crit.pk) if crit else None,
            due,
        )
        for studio, crit in nearest.items()
    ]
    return [
        replace(line, asked=asked.get(line.studio.pk, 0), unseen=seen.get(line.studio.pk, ()))
        for line in lines
    ]


def _led(
    viewer: Viewer,
    studio: Studio,
    crit: Crit | None,
    count: int,
    waits: Waits | None,
    due: dict[tuple[int, int], tuple[str, int]],
) -> LedStudio:
    """One of them; with what waits where its nearest crit is open."""
    return LedStudio(
        studio,
        crit,
        next_date(crit),
        _to_do(studio, crit, count, waits),
        waits.not_issued if waits else (),
        waits.not_locked if waits else (),
        count,
        [each for (pk, _), each in due.items() if crit and pk == crit.pk],
        _to_decide(viewer, crit, waits) if crit and waits and waits.has_begun else (),
        today_of(crit, "led", unlocked=waits.unlocked) if waits else None,
    )


def _unanswered(comments: QuerySet[Comment]) -> dict[tuple[int, int], tuple[str, int]]:
    """How many comments wait for an answer, by crit and scheme."""
    found = comments.filter(answer=None).order_by("jury_sheet__scheme__number")
    columns = ("seat__crit", "scheme", "scheme__number", "scheme__name")
    rows = found.values_list(*(f"jury_sheet__{each}" for each in columns)).annotate(Count("pk"))
    return {(crit, pk): (f"{number} {name}", n) for crit, pk, number, name, n in rows}


def _to_decide(viewer: Viewer, crit: Crit, waits: Waits) -> list[tuple[str, str]]:
    """What of a crit that has begun waits for its leader's decision."""
    crit_key = {"crit_id": crit.pk}
    read = read_levels(crit, closed=access.closed_schemes(viewer, crit))
    found = [
        (f"{read.schemes[pk]}: {', '.join(decisions)}", _moderated(crit, read.schemes[pk]))
        for pk, decisions in decisions_of(Told(read.fingerprint, read)).items()
    ]
    slots = list(crit.slots.select_related("scheme"))
    turns = turns_of(crit, slots, clock.now())
    order = reverse("edit-order", kwargs=crit_key)
    found += [
        (f"{slot.scheme} stood down: find it another time", order)
        for slot in slots
        if turns[slot.pk] is Turn.STOOD_DOWN
    ]
    if slots and not waits.not_locked and not crit.day > clock.today():
        found.append(
            ("Every sheet is locked: release the crit", reverse("release-crit", kwargs=crit_key))
        )
    return found


def _moderated(crit: Crit, scheme: Scheme) -> str:
    return reverse("moderate-scheme", kwargs={"crit_id": crit.pk, "scheme_id": scheme.pk})


def _to_do(
    studio: Studio, crit: Crit | None, schemes: int, waits: Waits | None
) -> list[tuple[str, str]]:
    """What the leader has still to set up, each with the page where it is done."""
    here = {"studio_id": studio.pk}
    steps = []
    if not studio.brief.is_issued:
        steps.append(("Write and issue the brief", reverse("show-brief", kwargs=here)))
    if not schemes:
        steps.append(("Bring in the students", reverse("bring-in-people", kwargs=here)))
    if crit is None:
        return [*steps, ("Set the first crit", reverse("open-crit", kwargs=here))]
    there = {"crit_id": crit.pk}
    if waits:
        if not waits.has_criteria:
            steps.append(("Write the criteria sheet", reverse("edit-criteria", kwargs=there)))
        if not waits.has_jurors:
            steps.append(("Invite the jurors", reverse("edit-jurors", kwargs=there)))
        if not waits.has_order and schemes:
            steps.append(("Make the running order", reverse("edit-order", kwargs=there)))
        if waits.lacks_paper:
            words = "The paper sheets could not be made: see when, and ask for them again"
            steps.append((words, reverse("show-paper", kwargs=there)))
    return steps


def own(viewer: Viewer, system: System) -> list[OwnScheme]:
    """The viewer's own schemes, with what each still lacks."""
    schemes = Scheme.objects.filter(pk__in=viewer.own_scheme_ids)
    schemes = schemes.select_related("studio__brief").prefetch_related(
        "revisions", "studio__crits", "members"
    )
    due = _unanswered(access.answerable_comments(viewer))
    ordered = schemes.order_by("-studio__opened_at", "number")
    return [_own(scheme, system, due) for scheme in ordered]


def pausable(viewer: Viewer) -> set[int]:
    """The viewer's own schemes whose clock they may stop for five minutes now."""
    return {slot.scheme_id for slot in slots_to_pause(viewer.person)} if viewer.person else set()


def _own(scheme: Scheme, system: System, due: dict[tuple[int, int], tuple[str, int]]) -> OwnScheme:
    crit = nearest_crit(scheme.studio, scheme.pk)
    package = Package.objects.filter(scheme=scheme).select_related("scheme__studio__brief").first()
    is_ahead = crit is not None and not crit.is_released and scheme.withdrawn_at is None
    brief_is_out = scheme.studio.brief.is_issued
    slots = list(crit.slots.all()) if crit and is_ahead else []
    slot = next((slot for slot in slots if slot.scheme_id == scheme.pk), None)
    is_asked = package is not None and is_ahead and brief_is_out
    released = [
        (c, due.get((c.pk, scheme.pk), ("", 0))[1])
        for c in scheme.studio.crits.all()
        if c.is_released and c.asks_for(scheme.pk)
    ]
    flags = new_flags(scheme, released)
    if package:
        package.hold_typed()
    made = own_contents(package) if package and (is_asked or flags) else None
    stands = _as_it_stands(package, made, system) if package and made else None
    return OwnScheme(
        scheme,
        scheme_state(scheme),
        next_date(crit),
        lacks(package, made) if package and made and is_asked else [],
        released,
        brief_is_out,
        _slot_words(crit, slot, slots) if crit and slot else "",
        summary_of(stands.of.holds, system) if stands and is_asked else None,
        _own_today(crit, slot) if slot else None,
        stands,
        flags,
        [each for each in scheme.studio.crits.all() if each.is_sent],
        open_steps(scheme),
        crit is not None and slot is not None and crit.kind == Crit.Kind.RECRIT,
    )


def _own_today(crit: Crit | None, slot: Slot) -> Today | None:
    """The day as its students see it: of a re-crit, which classmates are in it isn't told."""
    own = {slot.scheme_id}
    only = own if crit and crit.kind == Crit.Kind.RECRIT else None
    return today_of(crit, f"own-{slot.scheme_id}", own=own, room=slot.room, only=only)


def _slot_words(crit: Crit, slot: Slot, slots: Sequence[Slot]) -> str:
    """Say when and where a scheme is on: On at 11:56 in room A.

    slots   all of the day: it is over once the next has begun
    """
    where = f"in room {slot.room}" if slot.room else "before all jurors"
    turn = turns_of(crit, slots, clock.now())[slot.pk]
    when = f"at {slot.starts_at:%H:%M}" if slot.starts_at else f"as number {slot.position}"
    words = {Turn.ON: "On now,", Turn.DONE: "Shown", Turn.STOOD_DOWN: "Stood down; was on"}
    return f"{words.get(turn, 'On')} {when} {where}"


def _as_it_stands(package: Package, made: Told[Contents], system: System) -> KeptStates:
    """Its plans beside its check sheet; those issued, where nothing is changed since."""
    latest = package.scheme.revisions.order_by("-pk").first()
    if latest and not is_to_issue(package, latest, clock.now(), made):
        return states_at_issue(latest, issued(latest), system)
    return states_in_preparation(draft(package, asked_alone=True), system, package.scheme_id)


def past(viewer: Viewer) -> list[PastWork]:
    """The viewer's own work on schemes that others draw now, or nobody."""
    issued = Revision.objects.filter(pk__in=viewer.issued_ids).order_by("pk")
    left = issued.exclude(scheme__in=viewer.own_scheme_ids)
    by_scheme: dict[Scheme, list[Revision]] = {}
    for revision in left.select_related("scheme__studio", "crit"):
        by_scheme.setdefault(revision.scheme, []).append(revision)
    return [
        PastWork(
            scheme,
            revisions,
            list(dict.fromkeys(r.crit for r in revisions if r.crit and r.crit.is_released)),
        )
        for scheme, revisions in by_scheme.items()
    ]


def scheme_state(scheme: Scheme) -> str:
    """Say a scheme's state: Withdrawn, Issued rev B, In preparation."""
    if scheme.withdrawn_at:
        return "Withdrawn"
    issued = list(scheme.revisions.all())
    return f"Issued rev {issued[-1].letter}" if issued else "In preparation"


def attended(viewer: Viewer, role: str) -> list[SeenStudio]:
    """Studios that the viewer attends."""
    studios = Studio.objects.filter(pk__in=viewer.studios_as(role)).prefetch_related("crits")
    return [_seen(studio, role) for studio in studios]


def coordinated(viewer: Viewer) -> list[SeenStudio]:
    if not viewer.is_coordinator:
        return []
    return [_seen(studio, "coordinator") for studio in Studio.objects.prefetch_related("crits")]


def _seen(studio: Studio, role: str) -> SeenStudio:
    nearest = nearest_crit(studio)
    is_told = not (nearest and nearest.kind == Crit.Kind.RECRIT and role == Role.EXAMINER)
    day = today_of(nearest, role, only=None if is_told else ())
    return SeenStudio(studio, next_date(nearest), [*studio.crits.all()], day)

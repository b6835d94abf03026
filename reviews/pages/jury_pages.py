"""What the jury's pages show: running order, a sheet with its facts and questions, what is owed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from django.db.models import Count, Q

from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding, State
from criteria.scoring.levels import NotJudged
from criteria.units import System
from reviews import access
from reviews.deeds.crit_jury_keeping import (
    NOTHING_SHOWN,
    is_open_to_words,
    not_yet_judged,
)
from reviews.models import Comment, Criterion, Interest, JurySheet, Revision, Scheme, Seat, Slot
from reviews.pages.daylight_pages import Shown, plans_beside
from reviews.pages.jury_lines import (
    IMPRESSION_ID,
    CommentLine,
    Line,
    Trouble,
    impression_line,
    level_id,
    level_line,
)
from reviews.pages.sheet_views import SheetView, in_time, sheet_views
from reviews.reading.crit_sheets import level_of, revision_shown
from reviews.reading.package_checking import issued_sheet
from reviews.worked_out import fingerprint

MOST_QUESTIONS = 5
"""Most likely questions that a juror is shown."""


@dataclass(frozen=True)
class OrderRow:
    """One scheme of the running order, as a juror sees it."""

    slot: Slot
    sheet: JurySheet | None
    levels: int
    criteria: int
    interest: Interest | None = None

    @property
    def state(self) -> str:
        """To come, in hand or locked."""
        if self.sheet is None:
            return "To come"
        return "Locked" if self.sheet.is_locked else "In hand"


@dataclass(frozen=True)
class Room:
    """A room's part of the running order; the room with no name is for all jurors."""

    name: str
    rows: list[OrderRow]


def running_order(seat: Seat) -> list[Room]:
    """The schemes that a juror sees, by room and in order."""
    is_given = Q(levels__level__isnull=False) | Q(levels__is_not_mine=True)
    sheets = {
        sheet.scheme_id: sheet
        for sheet in seat.sheets.annotate(given=Count("levels", filter=is_given))
    }
    criteria = seat.crit.criteria.count()
    interests = {interest.scheme_id: interest for interest in seat.interests.standing()}
    rooms = []
    for name, of_room in groupby(_in_order(seat), key=lambda slot: slot.room):
        rows = []
        for slot in of_room:
            sheet = sheets.get(slot.scheme_id)
            given = getattr(sheet, "given", 0)
            rows.append(OrderRow(slot, sheet, given, criteria, interests.get(slot.scheme_id)))
        rooms.append(Room(name, rows))
    return rooms


def _in_order(seat: Seat) -> list[Slot]:
    """The slots that a juror sees, by room; a stable sort keeps the order of the day in each."""
    return sorted(access.seen_slots(seat).select_related("scheme"), key=lambda slot: slot.room)


def neighbours(seat: Seat, slot: Slot) -> tuple[Slot | None, Slot | None]:
    """The scheme before and the scheme after, in the order of the list."""
    slots = _in_order(seat)
    place = next((n for n, other in enumerate(slots) if other.pk == slot.pk), None)
    if place is None:
        return None, None
    before = slots[place - 1] if place else None
    after = slots[place + 1] if place + 1 < len(slots) else None
    return before, after


@dataclass(frozen=True)
class Fact:
    """A check's figure beside a criterion that names it as evidence. It suggests no level.

    note   why it isn't asked here, or is set aside
    """

    ref: str
    title: str
    subject: str
    state: str
    value: str
    target: str
    margin: str
    note: str = ""


@dataclass(frozen=True)
class Judged:
    """A criterion's line with the facts, and the daylight plans they are about, folded under it."""

    line: Line
    facts: list[Fact]
    plans: list[Shown]


def facts_for(criterion: Criterion, sheet: CheckSheet | None, system: System) -> list[Fact]:
    """The facts that a criterion names as its evidence, in the order in which it names them."""
    return [_fact(finding, system) for finding in evidence_of(criterion, sheet)]


def evidence_of(criterion: Criterion, sheet: CheckSheet | None) -> list[Finding]:
    """The findings that a criterion names, in its order."""
    found = {finding.ref: finding for finding in sheet.asked} if sheet else {}
    return [found[ref] for ref in criterion.evidence_refs if ref in found]


def _plans(
    criterion: Criterion, sheet: CheckSheet | None, revision: Revision | None, system: System
) -> list[Shown]:
    if revision is None:
        return []
    key = f"plan-{criterion.pk}"
    return plans_beside(revision, evidence_of(criterion, sheet), system, key=key)


def _fact(finding: Finding, system: System) -> Fact:
    is_held = finding.state is not State.NOT_ASKED
    return Fact(
        ref=finding.ref,
        title=finding.title,
        subject=finding.name,
        state=finding.state,
        value=finding.write_value(system) or "–",
        target=f"{finding.rule} {finding.write_target(system)}".strip(),
        margin=finding.write_margin(system) if is_held else "",
        note="" if is_held else "; ".join(finding.write_notes(system)),
    )


class Asked(NamedTuple):
    """A likely question, and the target that raises it."""

    ref: str
    question: str


def likely_questions(sheet: CheckSheet | None) -> list[Finding]:
    """At most five findings that invite a question, those furthest from their target first."""
    asking = [finding for finding in sheet.asked if finding.question] if sheet else []

    def distance(finding: Finding) -> float:
        return 0.0 if finding.relative_margin is None else finding.relative_margin

    return sorted(asking, key=distance)[:MOST_QUESTIONS]


@dataclass(frozen=True)
class OtherLevel:
    """What another juror gave."""

    given: int | NotJudged | None

    @property
    def level(self) -> int | None:
        """The level, where there is one."""
        return self.given if isinstance(self.given, int) else None

    @property
    def words(self) -> str:
        """Why there is none."""
        return "none" if self.given is None else "Not mine"


@dataclass(frozen=True)
class Others:
    """Other jurors' levels of one scheme, criteria by jurors."""

    jurors: list[str]
    rows: list[tuple[str, list[OtherLevel]]]


@dataclass(frozen=True)
class Page:
    """A jury sheet, whole.

    revision    what it is of, and what stands on the page
    newer       what was issued for the crit since, which changes nothing until it is taken up
    earlier     of a late one, the last issued before pens down
    elsewhere   where nothing is issued for the crit, the last that was issued for another
    """

    slot: Slot
    sheet: JurySheet | None
    is_open: bool
    interest: Interest | None
    revision: Revision | None
    newer: Revision | None
    earlier: Revision | None
    elsewhere: Revision | None
    sheets: list[SheetView]
    impression: Line
    criteria: list[Judged]
    comments: list[CommentLine]
    questions: list[Asked]
    missing: list[Criterion]
    owed: list[str]
    others: Others
    before: Slot | None = None
    after: Slot | None = None

    @property
    def takes_levels(self) -> bool:
        """Whether levels can be set."""
        return self.is_open and self.interest is None

    @property
    def of(self) -> int:
        """The key of the revision that it shows."""
        return self.revision.pk if self.revision else NOTHING_SHOWN

    @property
    def sheets_fingerprint(self) -> str:
        """Of the sheets as they are picked."""
        return fingerprint(self.sheets)

    @property
    def is_locked(self) -> bool:
        """Whether the juror has fixed it."""
        return bool(self.sheet and self.sheet.is_locked)

    @property
    def shows_others(self) -> bool:
        """Whether levels of other jurors are on it."""
        return self.is_locked and bool(self.others.jurors)


def owed_words(
    comments: Iterable[Comment], sheet: JurySheet | None, interest: Interest | None = None
) -> list[str]:
    """What a juror may still want to do before locking; none of it is compulsory."""
    kept = list(comments)
    said = []
    if interest is None and (sheet is None or sheet.impression is None):
        said.append("No overall impression")
    if not any(comment.kind == Comment.Kind.KEEP for comment in kept):
        said.append("Keep 0")
    stubs = sum(comment.is_stub for comment in kept)
    if stubs:
        said.append(f"{stubs} comment{'s' * (stubs != 1)} without words")
    return said


@dataclass(frozen=True)
class Owed:
    """What stands between a sheet and its lock, and what may still be wanted."""

    missing: list[Criterion]
    owed: list[str]


def still_owed(seat: Seat, scheme: Scheme) -> Owed:
    """What a juror's sheet for a scheme still lacks."""
    sheet = seat.sheets.on(scheme.pk)
    interest = seat.interest_in(scheme.pk)
    missing = not_yet_judged(sheet, list(seat.crit.criteria.all()), interest)
    return Owed(missing, owed_words(own_comments(sheet), sheet, interest))


def own_comments(sheet: JurySheet | None) -> list[Comment]:
    """A juror's own comments on a sheet, in the order in which they were begun."""
    if sheet is None:
        return []
    return list(sheet.comments.kept().with_places().select_related("criterion"))


def jury_page(
    seat: Seat, slot: Slot, system: System, *, is_open: bool, troubles: dict[str, Trouble]
) -> Page:
    """Everything of one jury sheet; comment forms are the view's to add."""
    scheme = slot.scheme
    sheets = seat.sheets.select_related("revision", "impression_revision")
    sheet = sheets.prefetch_related("levels__revision").filter(scheme=scheme).first()
    if sheet:
        sheet.seat = seat
    locked = bool(sheet and sheet.is_locked)
    latest = revision_shown(seat.crit, scheme)
    revision = sheet.revision if sheet else latest
    if revision:
        revision.scheme = scheme
    of = revision.pk if revision else NOTHING_SHOWN
    held = {given.criterion_id: given for given in sheet.levels.all()} if sheet else {}
    criteria = list(seat.crit.criteria.all())
    checks = issued_sheet(revision) if revision else None
    comments = own_comments(sheet)
    interest = seat.interest_in(scheme.pk)
    before, after = neighbours(seat, slot)
    return Page(
        slot=slot,
        sheet=sheet,
        is_open=is_open and not locked,
        interest=interest,
        revision=revision,
        newer=None if latest == revision else latest,
        earlier=in_time(seat.crit, revision),
        elsewhere=None if latest or revision else scheme.revisions.last(),
        sheets=sheet_views(revision),
        impression=impression_line(scheme.pk, sheet, of, troubles.get(IMPRESSION_ID)),
        criteria=[
            Judged(
                level_line(scheme.pk, c, held.get(c.pk), of, troubles.get(level_id(c))),
                facts_for(c, checks, system),
                _plans(c, checks, revision, system),
            )
            for c in criteria
        ],
        comments=[CommentLine(c, is_open_to_words(c.jury_sheet, c)) for c in comments],
        questions=[
            Asked(each.ref, each.write_question(system)) for each in likely_questions(checks)
        ],
        missing=not_yet_judged(sheet, criteria, interest),
        owed=owed_words(comments, sheet, interest),
        others=others_of(sheet, criteria),
        before=before,
        after=after,
    )


def others_of(own: JurySheet | None, criteria: list[Criterion]) -> Others:
    """What other jurors gave, as far as a juror may read it beside a locked own sheet."""
    sheets = []
    if own is not None:
        opened = access.opened_sheets(own).select_related("seat")
        sheets = list(opened.prefetch_related("levels"))
    rows = [("Overall impression", [OtherLevel(sheet.impression) for sheet in sheets])]
    held = [{given.criterion_id: level_of(given) for given in s.levels.all()} for s in sheets]
    rows += [(str(c), [OtherLevel(each.get(c.pk)) for each in held]) for c in criteria]
    return Others([sheet.seat.name for sheet in sheets], rows)

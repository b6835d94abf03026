"""What is shown again at a re-crit: which schemes and why, their open criteria and comments."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from django.db.models import Q, QuerySet

from reviews.models import (
    ClockEntry,
    Closing,
    Comment,
    Crit,
    Criterion,
    JurySheet,
    Revision,
    Scheme,
    SecondLook,
    Slot,
    Verdict,
)
from reviews.reading.comment_rulings import as_they_go_out

AGREED = "agreed absence"
SILENT = "absent without word"
NOT_ISSUED = "nothing was issued for it by then"
NOT_SEEN = "no level was given"

_STOOD_DOWN = {
    ClockEntry.Deed.STOOD_DOWN_AGREED: AGREED,
    ClockEntry.Deed.STOOD_DOWN_SILENT: SILENT,
}


@dataclass(frozen=True)
class Scope:
    """What one scheme shows again.

    why         why it is proposed; blank where nothing of the earlier crit asks for it
    verdict     of the earlier crit, where it has one
    open_codes  criteria of the earlier sheet that are judged again
    comments    how many comments are still open
    """

    scheme: Scheme
    why: str
    verdict: Verdict | None
    open_codes: tuple[str, ...]
    comments: int

    @property
    def is_proposed(self) -> bool:
        """Whether the earlier crit asks for it."""
        return bool(self.why)

    @property
    def is_without_prejudice(self) -> bool:
        """Whether its students were away by agreement: no cap holds them back."""
        return self.why == AGREED


def followed_by(crit: Crit) -> list[Crit]:
    """The crits that a re-crit follows, the last first: a re-crit may follow a re-crit."""
    chain: list[Crit] = []
    while crit.follows:
        crit = crit.follows
        chain.append(crit)
    return chain


def sheet_of(crit: Crit) -> list[Criterion]:
    """The whole criteria sheet that a re-crit's levels go back to: of the first crit of all."""
    chain = followed_by(crit)
    return list((chain[-1] if chain else crit).criteria.all())


def asked_of(crit: Crit, scheme_id: int) -> list[Criterion]:
    """The criteria that a crit asks of a scheme: all, or at a re-crit those still open."""
    criteria = list(crit.criteria.all())
    if crit.follows_id is None:
        return criteria
    verdict = Verdict.objects.standing().filter(crit=crit.follows_id, scheme=scheme_id).first()
    codes = open_codes(verdict, criteria)
    return [each for each in criteria if each.code in codes]


def open_codes(verdict: Verdict | None, criteria: Iterable[Criterion]) -> tuple[str, ...]:
    """The codes that a verdict leaves open; all where it names none, or there is none."""
    codes = [each.code for each in criteria]
    named = set(verdict.criteria) & set(codes) if verdict else set()
    return tuple(code for code in codes if not named or code in named)


def open_comments(crit: Crit, schemes: Collection[int]) -> QuerySet[Comment]:
    """Comments of the crits that a re-crit follows, released and not closed.

    Held ones aren't shown again, and what says Keep asks for nothing.
    """
    closed = Closing.objects.standing().filter(is_closed=True)
    released = (
        Comment.objects.released()
        .not_held()
        .filter(jury_sheet__seat__crit__in=followed_by(crit), jury_sheet__scheme__in=schemes)
    )
    return released.exclude(kind=Comment.Kind.KEEP).exclude(pk__in=closed.values("comment"))


def shown_comments(crit: Crit, scheme_id: int) -> list[Comment]:
    """The comments that a re-crit asks of a scheme, each with its answer, hazards first.

    Those that were open before it, whatever it closed itself or its jurors have said of.
    """
    opened = crit.pk or 0  # one that isn't opened yet has neither
    here = Closing.objects.filter(crit=opened).values("comment")
    looked = SecondLook.objects.filter(jury_sheet__seat__crit=opened).values("comment")
    released = (
        Comment.objects.released()
        .not_held()
        .filter(jury_sheet__seat__crit__in=followed_by(crit), jury_sheet__scheme=scheme_id)
    )
    open_now = open_comments(crit, [scheme_id]).values("pk")
    found = released.filter(Q(pk__in=open_now) | Q(pk__in=here) | Q(pk__in=looked)).select_related(
        "jury_sheet__seat",
        "criterion",
        "answer__answered_by",
        "issued_sheet__file",
        "issued_sheet__revision",
        "revision",
    )
    return sorted(
        as_they_go_out(found),
        key=lambda each: (each.kind != Comment.Kind.HAZARD, each.begun_at, each.pk),
    )


def decided_again(crit: Crit, schemes: Collection[int]) -> list[tuple[Comment, Closing | None]]:
    """Of some schemes, each comment that a re-crit asks for with what is decided of it by now."""
    if crit.follows_id is None:
        return []
    decided = {each.comment_id: each for each in Closing.objects.proposed(crit)}
    asked = open_comments(crit, schemes).select_related("jury_sheet", "issued_sheet")
    return [(each, decided.get(each.pk)) for each in asked]


def scopes_of(crit: Crit) -> list[Scope]:
    """What each scheme of the studio would show again at a re-crit; those proposed first."""
    earlier = crit.follows
    if earlier is None:
        return []
    schemes = list(crit.studio.schemes.standing().order_by("number"))
    criteria = sheet_of(crit)
    verdicts = {each.scheme_id: each for each in Verdict.objects.standing().filter(crit=earlier)}
    absent = _why_absent(earlier)
    counted: dict[int, int] = {}
    for scheme_id in open_comments(crit, [each.pk for each in schemes]).values_list(
        "jury_sheet__scheme", flat=True
    ):
        counted[scheme_id] = counted.get(scheme_id, 0) + 1
    found = [
        Scope(
            scheme,
            _why(verdicts.get(scheme.pk), absent.get(scheme.pk, "")),
            verdicts.get(scheme.pk),
            open_codes(verdicts.get(scheme.pk), criteria),
            counted.get(scheme.pk, 0),
        )
        for scheme in schemes
    ]
    return sorted(found, key=lambda each: not each.is_proposed)


def scope_of(crit: Crit, scheme: Scheme) -> Scope:
    """What one scheme shows again."""
    assert crit.follows is not None
    verdict = Verdict.objects.standing().filter(crit=crit.follows, scheme=scheme).first()
    why = _why(verdict, _why_absent(crit.follows, scheme).get(scheme.pk, ""))
    comments = open_comments(crit, [scheme.pk]).count()
    return Scope(scheme, why, verdict, open_codes(verdict, sheet_of(crit)), comments)


def _why(verdict: Verdict | None, absent: str) -> str:
    if absent == AGREED:
        return AGREED
    if verdict and verdict.kind == Verdict.Kind.AGAIN:
        return verdict.get_kind_display().lower()
    return "" if verdict else absent


def _why_absent(earlier: Crit, scheme: Scheme | None = None) -> Mapping[int, str]:
    """Of schemes that a crit gave no level, why: stood down, nothing issued, or not known."""
    slots = Slot.objects.filter(crit=earlier)
    if scheme is not None:
        slots = slots.filter(scheme=scheme)
    judged = JurySheet.objects.counting().filter(seat__crit=earlier).values("scheme")
    slots = slots.exclude(scheme__in=judged)
    issued = set(Revision.objects.filter(crit=earlier).values_list("scheme_id", flat=True))
    why = {slot.scheme_id: NOT_SEEN if slot.scheme_id in issued else NOT_ISSUED for slot in slots}
    entries = ClockEntry.objects.standing().filter(slot__in=slots, deed__in=_STOOD_DOWN)
    entries = entries.order_by("at", "pk")
    why |= {
        pk: _STOOD_DOWN[ClockEntry.Deed(deed)]
        for pk, deed in entries.values_list("slot__scheme", "deed")
    }
    return why

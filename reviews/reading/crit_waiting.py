"""Which crit comes next, who has not issued for it, and which jurors have sheets to lock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db.models import Exists, OuterRef

from reviews import clock
from reviews.models import (
    Crit,
    Criterion,
    Interest,
    JurySheet,
    Revision,
    Scheme,
    Seat,
    Slot,
    Studio,
)
from reviews.reading.paper_tries import given_up


def nearest_crit(studio: Studio, scheme_id: int = 0) -> Crit | None:
    """The next crit of a studio, or the last where none is to come.

    scheme_id   for whom: a re-crit that doesn't ask for the scheme isn't theirs
    """
    crits = [crit for crit in studio.crits.all() if not scheme_id or crit.asks_for(scheme_id)]
    today = clock.today()
    return next((crit for crit in crits if crit.day >= today), crits[-1] if crits else None)


@dataclass(frozen=True)
class Waits:
    """What waits of a crit that is open.

    not_issued   schemes that stand and have not issued for it
    not_locked   jurors who have sheets to lock yet, and how many; none of a declared interest, and
                 nobody before the day
    lacks_paper  its paper sheets were tried and could not be made
    unlocked     schemes of which any juror has a sheet to lock yet
    """

    not_issued: Sequence[Scheme] = ()
    not_locked: Sequence[tuple[Seat, int]] = ()
    unlocked: Collection[int] = ()
    has_begun: bool = False
    has_criteria: bool = False
    has_jurors: bool = False
    has_order: bool = False
    lacks_paper: bool = False


def what_waits(crits: Iterable[Crit | None]) -> dict[int, Waits]:
    """What waits of those crits that are open, by key; of one studio, one crit."""
    open_crits = {crit.pk: crit for crit in crits if crit and not crit.is_released}
    of_studio = {crit.studio_id: pk for pk, crit in open_crits.items()}
    issued = Revision.objects.filter(scheme=OuterRef("pk"), crit__in=open_crits)
    schemes: dict[int, list[Scheme]] = defaultdict(list)
    for scheme in Scheme.objects.standing().filter(~Exists(issued), studio__in=of_studio):
        schemes[of_studio[scheme.studio_id]].append(scheme)
    slots: dict[int, list[Slot]] = defaultdict(list)
    for slot in Slot.objects.filter(crit__in=open_crits).select_related("scheme"):
        slot.crit = open_crits[slot.crit_id]
        slots[slot.crit_id].append(slot)
    for pk, crit in open_crits.items():
        if crit.follows_id:  # only those that show again are waited for
            shown = {slot.scheme_id for slot in slots[pk]}
            schemes[pk] = [scheme for scheme in schemes[pk] if scheme.pk in shown]
    seats: dict[int, list[Seat]] = defaultdict(list)
    for seat in Seat.objects.filter(crit__in=open_crits).prefetch_related("crossings"):
        seats[seat.crit_id].append(seat)
    criteria = Criterion.objects.filter(crit__in=open_crits).order_by()
    with_criteria = {*criteria.values_list("crit_id", flat=True).distinct()}
    today = clock.today()
    begun = [pk for pk, crit in open_crits.items() if crit.day <= today]
    to_lock = _to_lock(begun, slots, seats)
    no_paper = given_up(open_crits)
    return {
        pk: Waits(
            schemes[pk],
            [(seat, len(waiting)) for seat, waiting in to_lock.get(pk, ())],
            {scheme for _, waiting in to_lock.get(pk, ()) for scheme in waiting},
            has_begun=pk in begun,
            has_criteria=pk in with_criteria,
            has_jurors=bool(seats[pk]),
            has_order=bool(slots[pk]),
            lacks_paper=pk in no_paper,
        )
        for pk in open_crits
    }


def _to_lock(
    crits: Collection[int], slots: Mapping[int, list[Slot]], seats: Mapping[int, list[Seat]]
) -> dict[int, list[tuple[Seat, list[int]]]]:
    """By crit, the jurors who have sheets to lock yet, and of which schemes."""
    sheets = JurySheet.objects.filter(seat__crit__in=crits).order_by()
    locked = {
        (seat, scheme): at is not None
        for seat, scheme, at in sheets.values_list("seat_id", "scheme_id", "locked_at")
    }
    declared = Interest.objects.standing().filter(seat__crit__in=crits).order_by()
    free_of = {*declared.values_list("seat_id", "scheme_id")}

    def waits(seat: Seat, slot: Slot) -> bool:
        of = seat.pk, slot.scheme_id
        return (
            not locked.get(of) and of not in free_of and slot.is_asked_of(seat, begun=of in locked)
        )

    found = {
        pk: [
            (seat, [slot.scheme_id for slot in slots[pk] if waits(seat, slot)])
            for seat in seats[pk]
        ]
        for pk in crits
    }
    return {pk: [each for each in jurors if each[1]] for pk, jurors in found.items()}

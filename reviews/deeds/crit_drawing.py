"""The draw: an order by lot laid out over the day, jurors shared among its rooms, kept as one."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import asdict, dataclass
from datetime import time
from typing import Any

from django.db import transaction

from criteria.crit_day.arranging import Arrangement, arrange
from criteria.crit_day.drawing_lots import draw, opening_pair, thirds
from criteria.crit_day.panels import Interest, Juror
from criteria.crit_day.timetable import Plan, Timetable, lay_out
from reviews.deeds.crit_crossing import Move, replace_crossings
from reviews.deeds.crit_running_order import Line, keep_order, order_before, schemes_of
from reviews.deeds.crit_seating import keep_rooms
from reviews.models import Crit, Person, Scheme


@dataclass(frozen=True)
class Drawn:
    """An order by lot, laid out over the day. Nothing of it is kept yet.

    order        numbers of schemes, in the order drawn
    spared       those of the first third at the crit before
    agree        those who agree to open, of whom the opening is drawn; none draws it of all
    arrangement  jurors in rooms and who crosses; None where jurors keep their rooms
    """

    lot: int
    plan: Plan
    order: list[str]
    spared: list[str]
    timetable: Timetable
    schemes: dict[str, Scheme]
    arrangement: Arrangement | None
    agree: tuple[str, ...] = ()

    @property
    def lines(self) -> list[Line]:
        """The order as it is kept."""
        return [
            {
                "scheme": self.schemes[turn.number].pk,
                "position": n,
                "room": turn.room,
                "starts_at": self.timetable.hour(turn.starts),
            }
            for n, turn in enumerate(self.timetable.placed, start=1)
        ]

    @property
    def breaks(self) -> list[Line]:
        """The breaks as they are kept."""
        return [
            {
                "room": each.room,
                "starts_at": self.timetable.hour(each.starts),
                "minutes": each.minutes,
                "words": each.words,
            }
            for each in self.timetable.breaks
        ]

    @property
    def half_time(self) -> time | None:
        """The hour at which jurors change rooms."""
        at = self.timetable.half_time
        return None if at is None else self.timetable.hour(at)


def draw_order(
    crit: Crit,
    plan: Plan,
    lot: int,
    *,
    rotates: bool,
    shares: bool,
    agree: Collection[str] = (),
) -> Drawn:
    """Draw an order by lot and lay it out. Nothing is kept.

    rotates   thirds of the crit before are rotated: whoever was in the first is not in it now
    shares    jurors are shared among the rooms by the same lot; else they keep theirs
    agree     numbers of schemes that agree to open: of them the opening is drawn, by the same lot

    Raises InputError where the day would go past midnight.
    """
    schemes = {s.number: s for s in schemes_of(crit) if s.withdrawn_at is None}
    before = order_before(crit) if rotates else []
    order = draw(schemes, lot, before=before)
    if agree:
        order = opening_pair(order, agree, lot, plan.opening)
    timetable = lay_out(order, plan)
    timetable.hour(timetable.minutes)
    arrangement = _share(crit, timetable, plan, schemes, lot) if shares else None
    return Drawn(
        lot, plan, order, [*thirds(before)[0]], timetable, schemes, arrangement, tuple(agree)
    )


def _share(
    crit: Crit, timetable: Timetable, plan: Plan, schemes: dict[str, Scheme], lot: int
) -> Arrangement | None:
    seats = list(crit.seats.named().prefetch_related("interests"))
    if not seats or not timetable.placed:
        return None
    number = {scheme.pk: each for each, scheme in schemes.items()}
    interests = [
        Interest(seat.name, number[one.scheme_id], one.may_comment)
        for seat in seats
        for one in seat.interests.all()
        if one.taken_back_at is None and one.scheme_id in number
    ]
    jurors = [Juror(seat.name, "", seat.kind) for seat in seats]
    return arrange(jurors, timetable, plan, interests, lot=lot)


@transaction.atomic
def keep_drawn(crit: Crit, drawn: Drawn, seen: int, by: Person) -> None:
    """Keep what was drawn: order, breaks, rooms of jurors and crossings, all or nothing.

    Raises Newer, Frozen as keeping an order does.
    """
    held = Crit.objects.hold(crit.pk)
    laid = laid_of(drawn.plan) | {"agree": [*drawn.agree]}
    keep_order(held, drawn.lines, seen, by=by, lot=drawn.lot, breaks=drawn.breaks, plan=laid)
    if drawn.arrangement is None:
        return
    keep_rooms(held, {juror.name: juror.room for juror in drawn.arrangement.sees.jurors}, by)
    seats = {seat.name: seat for seat in held.seats.all()}
    slots = {slot.scheme.number: slot for slot in held.slots.select_related("scheme")}
    moves = [
        Move(seats[each.juror], slots[each.number], each.comes)
        for each in drawn.arrangement.crossings
    ]
    replace_crossings(held, moves, by, f"Drawn with the order, lot {drawn.lot}.")


def laid_of(plan: Plan) -> dict[str, Any]:
    """A plan as it is remembered with its order."""
    kept = asdict(plan) | {"rooms": list(plan.rooms), "first": f"{plan.first:%H:%M}"}
    del kept["parts"]
    return kept

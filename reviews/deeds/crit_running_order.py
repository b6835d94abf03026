"""The running order: who presents when and where, drawn by lot or written by hand."""

from __future__ import annotations

import random
import secrets
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

from django.db import transaction

from reviews.deeds.record_versions import is_change
from reviews.models import Crit, Scheme, Seat, Slot

Line = dict[str, Any]
"""scheme (pk), position, room, starts_at; a scheme without a position isn't in the order."""

SLOT_MINUTES = {Crit.Kind.INTERIM: 22, Crit.Kind.FINAL: 27, Crit.Kind.RECRIT: 15}
"""Presenting, talking, three silent minutes and the change over. Common practice [min]."""

MOST_SCHEMES = 9
"""Schemes that one juror can do justice to in a day. Common practice [no.]."""

LEAST_PANEL = 3
"""Jurors a scheme. Common practice [no.]."""


@dataclass(frozen=True)
class Day:
    """How a drawn order is laid out over the day.

    rooms          names of the rooms that run side by side; none is one room for everybody
    opening        how many schemes all jurors see together before rooms part
    slot_min …     minutes of a slot, and of a break after every so many slots
    """

    rooms: tuple[str, ...]
    opening: int
    first: time
    slot_min: int
    break_every: int
    break_min: int


def draw(numbers: Iterable[str], seed: int, *, early_before: Iterable[str] = ()) -> list[str]:
    """Draw the numbers of schemes into an order by lot.

    early_before   those of the first third at the crit before, kept out of it now: later
                   schemes tend to be marked higher, and turns are shared

    >>> draw(["H03", "H01", "H02"], 7) == draw(["H01", "H02", "H03"], 7)
    True
    >>> draw(["H01", "H02", "H03"], 7, early_before=["H01", "H02"])[0]
    'H03'
    """
    order = sorted(set(numbers))
    random.Random(seed).shuffle(order)
    spared = set(early_before)
    third = len(order) // 3
    early = [number for number in order if number not in spared][:third]
    return early + [number for number in order if number not in early]


def new_lot() -> int:
    """Return a lot to suggest."""
    return secrets.randbelow(10_000)


def lay_out(order: Sequence[str], day: Day) -> list[tuple[str, str, time]]:
    """Give each scheme a room and an hour: number, room ("" for all jurors), start."""
    clock = datetime.combine(datetime.min, day.first)
    placed, run = [], 0
    groups: list[tuple[str, ...]] = [(number,) for number in order[: day.opening]]
    width = max(1, len(day.rooms))
    rest = order[day.opening :]
    groups += [tuple(rest[n : n + width]) for n in range(0, len(rest), width)]
    for place, group in enumerate(groups):
        if day.break_every and run == day.break_every:
            clock, run = clock + timedelta(minutes=day.break_min), 0
        for number, room in zip(group, day.rooms or ("",), strict=False):
            placed.append((number, "" if place < day.opening else room, clock.time()))
        clock, run = clock + timedelta(minutes=day.slot_min), run + 1
    return placed


def schemes_of(crit: Crit) -> list[Scheme]:
    """The schemes that can present: those not withdrawn, and those already in the order."""
    there = {slot.scheme_id for slot in crit.slots.all()}
    schemes = crit.studio.schemes.order_by("number")
    return [s for s in schemes if s.withdrawn_at is None or s.pk in there]


def early_at(crit: Crit) -> list[str]:
    """Numbers of the schemes in the first third of the studio's crit before this one."""
    before = crit.studio.crits.filter(day__lt=crit.day, slots__isnull=False).distinct()
    last = before.order_by("day", "pk").last()
    if last is None:
        return []
    slots = list(last.slots.select_related("scheme"))
    return [slot.scheme.number for slot in slots[: len(slots) // 3]]


def drawn_lines(crit: Crit, day: Day, seed: int, *, spare_early: bool) -> list[Line]:
    """Propose an order by lot. Nothing is kept."""
    schemes = {s.number: s for s in schemes_of(crit) if s.withdrawn_at is None}
    order = draw(schemes, seed, early_before=early_at(crit) if spare_early else ())
    return [
        {"scheme": schemes[number].pk, "position": n, "room": room, "starts_at": at}
        for n, (number, room, at) in enumerate(lay_out(order, day), start=1)
    ]


def copied_lines(crit: Crit, other: Crit) -> list[Line]:
    """Propose another crit's order. Nothing is kept."""
    can = {scheme.pk for scheme in schemes_of(crit)}
    return [line for line in lines_of(other) if line["scheme"] in can]


def lines_of(crit: Crit) -> list[Line]:
    """A running order as it is compared and kept."""
    lines = [
        {"scheme": s.scheme_id, "position": s.position, "room": s.room, "starts_at": s.starts_at}
        for s in crit.slots.all()
    ]
    return in_order(lines)


def in_order(lines: list[Line]) -> list[Line]:
    """Sort lines by place; rooms that run side by side count their places apart."""
    return sorted(lines, key=lambda line: (line["position"], line["room"], line["scheme"]))


@transaction.atomic
def keep_order(crit: Crit, lines: list[Line], seen: int, *, lot: int | None = None) -> None:
    """Keep the order; a scheme without a line leaves it. Raises Newer.

    lot   the number the order was drawn by, if it was; kept so that the draw can be shown again
    """
    held = Crit.objects.hold(crit.pk)
    if held.drawn_seed != lot:
        held.drawn_seed = lot
        held.save(update_fields=["drawn_seed"])
    if not is_change(lines_of(held), lines, seen):
        return
    slots = {slot.scheme_id: slot for slot in held.slots.all()}
    held.slots.exclude(scheme__in=[line["scheme"] for line in lines]).delete()
    for line in lines:
        slot = slots.get(line["scheme"]) or Slot(crit=held, scheme_id=line["scheme"])
        slot.position, slot.room = line["position"], line["room"]
        slot.starts_at = line["starts_at"]
        slot.save()


def concerns(crit: Crit) -> list[str]:
    """Say what of an order asks too much of somebody. Warnings; nothing is locked by them."""
    slots = list(crit.slots.select_related("scheme"))
    seats = list(crit.seats.prefetch_related("interests", "crossings"))
    if not slots:
        return []
    return [
        *_clashes(slots),
        *_loads(seats, slots),
        *_panels(seats, slots),
        *_left_out(crit, slots),
    ]


def _sees(seat: Seat, slot: Slot) -> bool:
    interest = seat.interest_in(slot.scheme_id)
    return slot.is_before(seat) and (interest is None or interest.may_comment)


def _clashes(slots: list[Slot]) -> list[str]:
    taken = Counter((s.room, s.starts_at) for s in slots if s.starts_at)
    return [
        f"{count} schemes are on at {at:%H:%M} {f'in room {room}' if room else 'for all jurors'}."
        for (room, at), count in taken.items()
        if count > 1
    ]


def _loads(seats: list[Seat], slots: list[Slot]) -> list[str]:
    loads = {seat: sum(_sees(seat, slot) for slot in slots) for seat in seats}
    return [
        f"{seat} sees {load} schemes; more than {MOST_SCHEMES} tire a juror."
        for seat, load in loads.items()
        if load > MOST_SCHEMES
    ]


def _panels(seats: list[Seat], slots: list[Slot]) -> list[str]:
    if not seats:
        return []
    panels = {slot: sum(_sees(seat, slot) for seat in seats) for slot in slots}
    return [
        f"{slot.scheme} is seen by {count} juror{'' if count == 1 else 's'}; "
        f"{LEAST_PANEL} or more are usual."
        for slot, count in panels.items()
        if count < LEAST_PANEL
    ]


def _left_out(crit: Crit, slots: list[Slot]) -> list[str]:
    there = {slot.scheme_id for slot in slots}
    return [f"{s} is not in the order." for s in schemes_of(crit) if s.pk not in there]

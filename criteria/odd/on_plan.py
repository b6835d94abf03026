"""Odd values of the plan in each state: furniture out of its room or in another, beds at doors."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from criteria.checks.before import OPEN_DEG, first_met
from criteria.errors import InputError
from criteria.findings import Amount
from criteria.odd.by_state import in_states
from criteria.odd.value import OddValue, ask
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.furniture import Furniture
from criteria.schedules.states import LIVED_KINDS, NIGHT
from criteria.typed.cells import Lacking
from criteria.units import ANGLE, AREA, LENGTH
from criteria.walking.bodies import Body, Point
from criteria.walking.fronts import clip
from criteria.walking.of_package import is_bed, storeys_of
from criteria.walking.storeys import Place, Storey

OUT_M = 0.020
"""A corner this far out of its room is meant otherwise, or a size is [m]. Ours."""
OF_SMALLER = 0.01
"""Things that lie in each other by more of the smaller are asked about [1]. Ours."""
BUNK_M = 0.6
"""Beds whose mattresses are so far apart lie over each other [m]. Common practice."""
TOUCH = 1e-9
"""What counts as the same: floating point alone."""
SAT_AT = ("table", "desk", "worktop")
"""What seats and cupboards are pushed under."""


@dataclass(frozen=True)
class Stood:
    """A piece of furniture where it stands in a state."""

    piece: Furniture
    body: Body
    storey: Storey

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """Of what it covers; of a disc the corners of a polygon as large within a hundredth."""
        if not self.body.radius_m:
            return self.body.corners
        (x, y), r = self.body.corners[0], self.body.radius_m
        turns = [2 * math.pi * k / 24 for k in range(24)]
        return tuple((x + r * math.cos(a), y + r * math.sin(a)) for a in turns)

    @cached_property
    def reach(self) -> tuple[float, ...]:
        """How far it reaches to the left, down, right and up [m]."""
        across, up = zip(*self.corners, strict=True)
        return min(across), min(up), max(across), max(up)

    def may_meet(self, other: Stood) -> bool:
        """Whether two things could share a place, by how far they reach on one plan."""
        (left, low, right, high), (a, b, c, d) = self.reach, other.reach
        is_near = left < c and a < right and low < d and b < high
        return is_near and self.storey is other.storey and _are_solid(self.piece, other.piece)


def on_plan(package: Package) -> Iterator[OddValue]:
    """Ask about furniture out of its room and about two solid things in one place."""
    if all(row.plan_x_m is None for row in (*package.furniture, *package.furniture_by_state)):
        return
    for named, then in in_states(package, LIVED_KINDS):
        stood = list(_stood(then))
        for each in stood:
            out = max(_out_m(each, corner) for corner in each.corners)
            if out > OUT_M + TOUCH:
                words = "{} ({}){} reaches {} out of {}. Is it its place, its size or the room?"
                row = each.piece.leniently
                reach, room = Amount(out, LENGTH), row.room or ""
                called = (row.mark, row.item or "", named)
                yield ask(row, "plan_x", words, *called, reach, room, is_mismatch=True)
        for one, other in combinations(stood, 2):
            if one.may_meet(other):
                common = _area(_common(one.corners, other.corners))
                smaller = min(_area(one.corners), _area(other.corners))
                if common > OF_SMALLER * smaller + TOUCH:
                    words = "{} and {}{} lie in each other by {}. Does one go under the other?"
                    figures = (one.piece.mark, other.piece.mark, named, Amount(common, AREA))
                    row = other.piece.leniently
                    yield ask(row, "plan_x", words, *figures, is_mismatch=True)


def _stood(package: Package) -> Iterator[Stood]:
    for piece in package.rows_of(Furniture):
        try:
            if piece.kind != "hook":
                storey, body = storeys_of(package).of_piece(piece)
                yield Stood(piece, body, storey)
        except (Lacking, InputError):
            continue


def _out_m(each: Stood, corner: Point) -> float:
    """How far a corner is out of the room of its piece [m]."""
    places = [place for place in each.storey.places if place.room == each.piece.room]
    return min(_beyond(place, corner) for place in places or each.storey.places)


def _beyond(place: Place, corner: Point) -> float:
    sides = zip(place.low, corner, place.high, strict=True)
    return max(max(low - at, at - high) for low, at, high in sides)


def _are_solid(one: Furniture, other: Furniture) -> bool:
    """Whether two things can't share a place: neither is pushed, slept or hung over the other."""
    kinds = {one.kind, other.kind}
    if kinds & {*SAT_AT} and kinds & {"seat", "other"}:
        return False
    tops = one.typed("height_m"), other.typed("height_m")
    if None in tops or max(one.under_m, other.under_m) >= min(tops) - OUT_M:
        return False
    return kinds != {"bed"} or abs(tops[0] - tops[1]) < BUNK_M - TOUCH


def _common(one: tuple[Point, ...], other: tuple[Point, ...]) -> tuple[Point, ...]:
    """What two convex polygons share."""
    left = list(one)
    for k, (x, y) in enumerate(other):
        to_x, to_y = other[(k + 1) % len(other)]
        across, up = to_x - x, to_y - y
        left = clip(left, lambda u, v: across * (v - y) - up * (u - x))  # noqa: B023
    return tuple(left)


def _area(corners: tuple[Point, ...]) -> float:
    turned = (*corners[1:], *corners[:1])
    return abs(sum(x * b - a * y for (x, y), (a, b) in zip(corners, turned, strict=True))) / 2


def doors(package: Package) -> Iterator[OddValue]:
    """Ask about doors that a bed stops when it is made."""
    if all(row.faces is None for row in package.doors):
        return
    for named, then in in_states(package, (NIGHT,)):
        for door in then.rows_of(Door):
            try:
                found = _met(then, door)
            except (Lacking, InputError, KeyError):
                continue
            if found:
                words = "{} opens {}{} and meets {}, a bed. Who gets out first?"
                yield ask(door.leniently, "swing", words, door.mark, found[0], named, found[1])


def _met(package: Package, door: Door) -> tuple[Amount, str] | None:
    if door.swing not in ("in", "out") or not door.faces:
        return None
    storey = storeys_of(package).of(door.room or "")
    gate = next((gate for gate in storey.gates if gate.mark == door.mark), None)
    if gate is None:
        return None
    met = first_met(storey, gate, door.swing, door.hinge)
    beds = {piece.mark for piece in package.furniture if is_bed(package, piece)}
    if met is None or met.angle_deg >= OPEN_DEG or met.body.mark not in beds:
        return None
    return Amount(met.angle_deg, ANGLE), met.body.mark

"""The rooms of one storey with their doors and what stands in them, and the walls between.

Rooms are rectangles of inside faces, with strips between them for the walls; each wall is a body
without thickness that ends where an open door begins. Plan frame: x to the right, y up, metres.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields
from functools import cached_property, lru_cache, wraps
from typing import Any, ParamSpec, TypeVar

from criteria.typed.cells import is_supposed
from criteria.walking.bodies import Body, Plan, Point, wall
from criteria.walking.circles import Circle, largest_circle, largest_circle_reached
from criteria.walking.doors import Leaf, standing_open
from criteria.walking.shortest import ShortestWay, shortest_ways
from criteria.walking.widest import WidestWay, widest_ways

SIDES: tuple[Point, ...] = ((0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0))
"""The way out of a rectangle by its four walls, clockwise from the upper one."""

WALL_MOST_M = 0.7
"""Rooms whose walls face each other within this share that wall [m]. Ours."""
ROUNDED_M = 0.05
"""By how much places that were typed may be off, where rooms and doors meet [m]. Ours."""
OUTSIDE_M = 1.0
"""How far before a door a way begins [m]. Ours."""

KEPT = 256
"""Plans, and ways on them, that a process remembers."""


@dataclass(frozen=True)
class Place:
    """A room's rectangle, or one leg of a room that has two: its lower left and upper right.

    room   the whole room's mark
    row    the mark of the rectangle's own row
    """

    room: str
    row: str
    low: Point
    high: Point

    def side(self, out: Point) -> tuple[Point, Point]:
        """Return the ends of a wall, the left one first as seen from inside."""
        (x, y), (to_x, to_y) = self.low, self.high
        upper, right, lower, left = SIDES
        ends = {
            upper: ((x, to_y), (to_x, to_y)),
            right: ((to_x, to_y), (to_x, y)),
            lower: ((to_x, y), (x, y)),
            left: ((x, y), (x, to_y)),
        }
        return ends[out]

    def holds(self, point: Point) -> bool:
        """Tell whether a point lies in it or on its rim."""
        return all(a <= p <= b for a, p, b in zip(self.low, point, self.high, strict=True))


@dataclass(frozen=True)
class WallOf:
    """A wall of a rectangle, by its place and the way out of it."""

    place: Place
    out: Point

    @property
    def length_m(self) -> float:
        """From end to end [m]."""
        start, end = self.place.side(self.out)
        return along(end, self.out) - along(start, self.out)

    def at(self, left_m: float) -> Point:
        """Return the point of it so far from its left end, as seen from inside."""
        (x, y), _ = self.place.side(self.out)
        return x + self.out[1] * left_m, y - self.out[0] * left_m


@dataclass(frozen=True)
class Gate:
    """A door where it stands.

    place       the rectangle in whose wall it is drawn
    out         the way out of that rectangle by its wall
    left, right the ends of its leaf, as seen from inside
    gap         what is clear of it, left end first
    into        the rectangle that it opens to; None where that is outdoors, or not on the plan
    is_outside  whether it leads out of doors
    swing       which way its leaf opens, "" where none swings or nobody said
    hinge       the end at which it hangs, "" where nobody said
    """

    mark: str
    place: Place
    out: Point
    left: Point
    right: Point
    gap: tuple[Point, Point]
    into: Place | None = None
    is_outside: bool = False
    is_main: bool = False
    swing: str = ""
    hinge: str = ""

    def hung(self, swing: str, end: str) -> Leaf:
        """Return its leaf as it hangs at one end; into the next room at that one's face."""
        thick, to = 0.0, (-self.out[0], -self.out[1])
        if swing == "out":
            if self.into is not None:
                thick = depth(self.into.side(to)[0], self.out) - depth(self.left, self.out)
            to = self.out
        hinge, latch = (self.left, self.right) if end == "left" else (self.right, self.left)
        run = latch[0] - hinge[0], latch[1] - hinge[1]
        at = hinge[0] + self.out[0] * thick, hinge[1] + self.out[1] * thick
        opens = 90.0 if -run[1] * to[0] + run[0] * to[1] > 0 else -90.0
        return Leaf(at, math.hypot(*run), math.degrees(math.atan2(run[1], run[0])), opens)

    @cached_property
    def leaf(self) -> Body | None:
        """Its leaf open at 90°, beside what is clear; None where nobody said how it hangs."""
        if not (self.swing and self.hinge):
            return None
        leaf = self.hung(self.swing, self.hinge)
        return standing_open(leaf, leaf.length_m - self.width_m, self.mark)

    @property
    def middle(self) -> Point:
        """The middle of the gap."""
        (x, y), (to_x, to_y) = self.gap
        return (x + to_x) / 2, (y + to_y) / 2

    @property
    def before(self) -> Point:
        """Where a way through it begins, outside."""
        (x, y), (across, up) = self.middle, self.out
        return x + across * OUTSIDE_M, y + up * OUTSIDE_M

    @property
    def width_m(self) -> float:
        """How wide it is clear [m]."""
        return abs(along(self.gap[1], self.out) - along(self.gap[0], self.out))


@dataclass(frozen=True)
class Storey:
    """All that a walker meets on one plan; hashable, so that its ways can be kept.

    of          the room whose own plan it is; "" of several rooms on one plan
    level       0 the floor by the door, 1 a loft
    things      bodies that stand there, by mark
    left_out    what has no place or size and isn't on it, with why
    unplaced    furniture among those: with it, every way may be narrower
    lost_doors  doors among those
    turned_deg  bearing that its upper walls look to
    """

    of: str
    level: int
    places: tuple[Place, ...]
    gates: tuple[Gate, ...]
    things: tuple[Body, ...]
    left_out: tuple[tuple[str, str], ...] = ()
    unplaced: tuple[tuple[str, str], ...] = ()
    lost_doors: tuple[str, ...] = ()
    turned_deg: float = 0.0

    def __hash__(self) -> int:
        return self._fingerprint

    @cached_property
    def _fingerprint(self) -> int:
        return hash(tuple(getattr(self, each.name) for each in fields(self)))

    def where(self, point: Point) -> str:
        """Return the room that a point lies in, "" where it is in none."""
        return next((place.room for place in self.places if place.holds(point)), "")

    @cached_property
    def marks(self) -> frozenset[str]:
        """Of the things that stand there."""
        return frozenset(body.mark for body in self.things)

    @cached_property
    def inner(self) -> frozenset[str]:
        """Doors between rooms; on a room's own plan those that don't lead out of doors."""
        return frozenset(
            gate.mark for gate in self.gates if gate.into or (self.of and not gate.is_outside)
        )


def along(point: Point, out: Point) -> float:
    """How far along a wall a point lies, from left to right as seen from inside [m]."""
    return point[0] * out[1] - point[1] * out[0]


def depth(point: Point, out: Point) -> float:
    """How far out a point lies [m]."""
    return point[0] * out[0] + point[1] * out[1]


def facing(places: Sequence[Place], wall: WallOf, at: Point) -> Place | None:
    """Return the rectangle on the other side of a wall at a place, None where there is none."""
    place, out = wall.place, wall.out
    back = (-out[0], -out[1])
    found: list[tuple[float, Place]] = []
    for other in places:
        start, end = other.side(back)
        ends = sorted((along(start, out), along(end, out)))
        apart = depth(start, out) - depth(place.side(out)[0], out)
        if other != place and ends[0] < along(at, out) < ends[1]:
            found.append((apart, other))
    near = [each for each in found if -ROUNDED_M <= each[0] <= WALL_MOST_M]
    return min(near, key=lambda each: each[0])[1] if near else None


def walls(storey: Storey, opened: frozenset[str]) -> Iterator[Body]:
    """Give the walls of a storey with some doors open, and the reveals of those between rooms."""
    gates = [gate for gate in storey.gates if gate.mark in opened]
    for place in storey.places:
        for out in SIDES:
            yield from _pieces(place, out, _cuts(storey, place, out, gates))
    for gate in gates:
        if gate.into:
            (start, _), out = gate.into.side((-gate.out[0], -gate.out[1])), gate.out
            thick = depth(start, out) - depth(gate.gap[0], out)
            for x, y in gate.gap:
                yield wall((x, y), (x + out[0] * thick, y + out[1] * thick), gate.mark)


def _cuts(
    storey: Storey, place: Place, out: Point, gates: Sequence[Gate]
) -> Iterator[tuple[float, float]]:
    """Where a wall is open, by doors or to the other leg of its room, along itself [m]."""
    start, end = place.side(out)
    back = (-out[0], -out[1])
    for gate in gates:
        if (gate.place, gate.out) == (place, out) or (gate.into, gate.out) == (place, back):
            low, high = sorted(along(point, out) for point in gate.gap)
            yield low, high
    beyond = depth(start, out) + ROUNDED_M
    for other in storey.places:
        if other.room != place.room or other == place:
            continue
        near, far = sorted(depth(other.side(side)[0], out) for side in (out, back))
        if near <= beyond <= far:
            low, high = sorted(along(point, out) for point in other.side(out))
            yield max(low, along(start, out)), min(high, along(end, out))


def _pieces(place: Place, out: Point, cuts: Iterator[tuple[float, float]]) -> Iterator[Body]:
    start, end = place.side(out)
    at, last = along(start, out), along(end, out)
    right = (out[1], -out[0])

    def point(where: float) -> Point:
        step = where - along(start, out)
        return start[0] + right[0] * step, start[1] + right[1] * step

    for low, high in sorted(cut for cut in cuts if cut[0] < cut[1]):
        if low > at:
            yield wall(point(at), point(low), place.room)
        at = max(at, high)
    if at < last:
        yield wall(point(at), point(last), place.room)


@lru_cache(KEPT)
def one_of_alike(storey: Storey) -> Storey:
    """Return the first of all storeys that equal one: what is kept of it is found at once."""
    return storey


@lru_cache(KEPT)
def plan(storey: Storey, opened: frozenset[str]) -> Plan:
    """Return a storey with some doors open, their leaves left out, and all others shut."""
    return Plan([*walls(storey, opened), *storey.things])


@lru_cache(KEPT)
def _hung(storey: Storey, opened: frozenset[str], leaves: frozenset[str]) -> Plan:
    """Return the same with the leaves of some of the open doors at 90°."""
    bodies = [gate.leaf for gate in storey.gates if gate.mark in leaves]
    return Plan([*walls(storey, opened), *filter(None, bodies), *storey.things])


def plan_to(storey: Storey, opened: frozenset[str], start: Point, end: Point) -> Plan:
    """Return a storey as it stands to a way: open, with the leaves of the doors it leads through.

    Those of the fewest doors between the two rooms, whatever stands there: so that more furniture
    never widens a way. Other doors are shut behind whoever used them.
    """
    through = _doors_between(storey, opened, storey.where(start), storey.where(end))
    leaves = frozenset(gate.mark for gate in storey.gates if gate.leaf and gate.mark in through)
    return _hung(storey, opened, leaves) if leaves else plan(storey, opened)


@lru_cache(KEPT)
def _doors_between(storey: Storey, opened: frozenset[str], start: str, end: str) -> frozenset[str]:
    """The open doors of a way of the fewest from a room to another, "" being out of doors."""
    through: dict[str, frozenset[str]] = {start: frozenset()}
    rooms = [start]
    for room in rooms:
        for gate in storey.gates:
            ends = {gate.place.room, gate.into.room if gate.into else ""}
            for other in ends - {room} if room in ends and gate.mark in opened else ():
                if other not in through:
                    through[other] = through[room] | {gate.mark}
                    rooms.append(other)
    return through.get(end, frozenset())


P = ParamSpec("P")
R = TypeVar("R")


def kept(supposed: Any) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Keep what is walked by all that it is walked on; where values stand in, nobody walks.

    supposed   what is given instead then: it is thrown away, and an absurd plan takes long
    """

    def keeping(walk: Callable[P, R]) -> Callable[P, R]:
        once = lru_cache(KEPT)(walk)

        @wraps(walk)
        def walked(*args: P.args, **named: P.kwargs) -> R:
            given: R = supposed if is_supposed() else once(*args, **named)  # type: ignore[arg-type]
            return given

        return walked

    return keeping


@kept(())
def ways(
    storey: Storey, opened: frozenset[str], start: Point, targets: tuple[Point, ...]
) -> tuple[WidestWay, ...]:
    """Return the widest way to each target with some doors open, their leaves as `plan_to`."""
    found: dict[int, WidestWay] = {}
    plans: dict[Plan, list[int]] = {}
    for k, target in enumerate(targets):
        plans.setdefault(plan_to(storey, opened, start, target), []).append(k)
    for each, at in plans.items():
        found |= zip(at, widest_ways(each, start, [targets[k] for k in at]), strict=True)
    return tuple(found[k] for k in range(len(targets)))


@kept(())
def travels(
    storey: Storey,
    opened: frozenset[str],
    starts: tuple[Point, ...],
    ends: tuple[Point, ...],
    keeps_m: float,
) -> tuple[ShortestWay, ...]:
    """Return the shortest way from each start to the nearest end, doors shut behind oneself."""
    return tuple(shortest_ways(plan(storey, opened), starts, *ends, keeps_m=keeps_m))


@kept(None)
def circle_in(storey: Storey, place: Place) -> Circle | None:
    """Return the largest clear circle in a rectangle, its doors shut."""
    return largest_circle(plan(storey, frozenset()), place.low, place.high)


@kept(None)
def circle_reached(
    storey: Storey, opened: frozenset[str], start: Point, way_m: float, place: Place
) -> Circle | None:
    """Return the largest clear circle in a rectangle that a walker of some width comes to.

    Doors are shut behind oneself, and for the circle.
    """
    shut, open_ = plan(storey, frozenset()), plan(storey, opened)
    return largest_circle_reached(shut, open_, start, way_m, place.low, place.high)

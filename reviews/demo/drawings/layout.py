"""Turn a room schedule into a plan: two rows of rooms whose drawn floors are the schedule's.

Rooms that all say where they lie are drawn there; of others a place is found.
The day room ends one row; where other rooms of its row would be cut off, it reaches past them as
a lobby, and the lobby is counted in its floor. A short search, the same for the same schedules,
tries orders and lengths and keeps the plan whose windows face as they should, whose rooms can be
reached and whose proportions can be furnished.
"""

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import combinations, product
from math import inf, sqrt
from random import Random
from typing import NamedTuple

from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from reviews.demo.drawings.as_placed import placed_plan
from reviews.demo.drawings.geometry import (
    PARTITION_M,
    Plan,
    PlannedRoom,
    Rect,
    is_level,
    outside_sides,
    shared_m,
    sides_facing,
)
from reviews.demo.drawings.names import mark_named, speaks_of

UPPER_WORDS = ("loft", "upper", "attic", "gallery", "mezzanine")
LOBBY_M = 0.95
STARTS = 6
PART_WHERE_BLANK_M = 0.3
FLOOR_WHERE_BLANK_M2 = 4.0
NARROWEST_M = {
    "day": 2.9,
    "sleep": 2.05,
    "kitchen": 1.9,
    "lab": 2.1,
    "wc": 1.05,
    "circulation": 1.5,
}


def thickness_m(package: Package, part: str) -> float:
    """Return the thickness of walls, roof or floor from the envelope schedule [m]."""
    thick = sum(layer.thickness_m or 0 for layer in package.envelope if layer.part == part)
    return thick or PART_WHERE_BLANK_M


def floor_of(room: Room) -> float:
    """Return a room's floor; where it is blank, enough to draw [m²]."""
    return room.floor_m2 or FLOOR_WHERE_BLANK_M2


class _Draft(NamedTuple):
    """An order of rooms to be tried."""

    near: tuple[int, ...]  # the day room's row, left to right
    far: tuple[int, ...]
    length_m: float
    lobby_m: float
    flipped: bool  # the day room's row at the top


def lay_out(package: Package) -> Plan:
    """Return the plan of a package. Raises ValueError where no room is scheduled."""
    if placed := placed_plan(package, thickness_m(package, "wall")):
        return placed
    upper = [room for room in package.rooms if speaks_of(room.name, UPPER_WORDS)]
    ground = [room for room in package.rooms if room not in upper]
    if not ground:
        upper, ground = [], upper
    if not ground:
        raise ValueError("read no rooms; expected a room schedule with at least one room")
    found: list[tuple[float, Plan]] = []
    for turn in _turns(package.windows):
        rival = min((cost for cost, _ in found), default=inf)
        found.append(_Search(ground, package, turn).best(rival))
    _, plan = min(found, key=_cost_of)
    return _with_upper(plan, upper)


def _turns(windows: Sequence[Window]) -> tuple[float, ...]:
    slanted = sum((w.n or 1) for w in windows if w.faces and len(w.faces) == 2 and w.faces != "up")
    straight = sum((w.n or 1) for w in windows if w.faces in ("N", "E", "S", "W"))
    return (-45.0, 45.0) if slanted > straight else (0.0,)


def _with_upper(plan: Plan, upper: Sequence[Room]) -> Plan:
    """Set upper rooms as strips of the whole depth, from the end that has most sleeping below."""
    right = plan.day.main.centre[0] < plan.inner.centre[0]
    x, placed = 0.0, []
    for room in upper:
        width = floor_of(room) / plan.inner.height
        start = plan.inner.x1 - x - width if right else plan.inner.x0 + x
        rect = Rect(start, plan.inner.y0, start + width, plan.inner.y1)
        placed.append(PlannedRoom(room, rect, is_upper=True))
        x += width + PARTITION_M
    return Plan(plan.inner, plan.wall_m, plan.turn_deg, (*plan.rooms, *placed))


class _Search:
    """Tries orders of rooms, keeps the best."""

    def __init__(self, rooms: Sequence[Room], package: Package, turn_deg: float) -> None:
        self.rooms = list(rooms)
        self.floors = [floor_of(room) for room in rooms]
        self.turn = turn_deg
        self.wall = thickness_m(package, "wall")
        self.cost = cache(self._cost)
        self.day = max(range(len(rooms)), key=lambda i: (rooms[i].use == "day", self.floors[i]))
        self.entrances = [i for i, room in enumerate(rooms) if room.use == "circulation"]
        self.needs: list[list[tuple[tuple[str, ...], float]]] = [[] for _ in rooms]
        self.fronts = [0.9 for _ in rooms]
        for i, room in enumerate(rooms):
            leaves = [
                (door.leaf_w_m or 0.8) + 0.14
                for door in package.doors
                if not door.is_outside and mark_named(rooms, door.place) == room.mark
            ]
            if i != self.day:
                self.fronts[i] = max(0.9, sum(leaves) + 0.12 if leaves else 0.0)
            for window in package.windows_of(room):
                wide = (window.n or 1) * ((window.frame_w_m or 0.6) + 0.15)
                if not window.is_rooflight:
                    self.needs[i].append((sides_facing(window.faces, turn_deg), wide))

    def best(self, rival: float) -> tuple[float, Plan]:
        """Return the least cost and its plan; give up early where a rival is far better."""
        random = Random(2640)
        others = [i for i in range(len(self.rooms)) if i != self.day]
        total = sum(self.floors)
        lengths = [sqrt(total * ratio) for ratio in (1.3, 1.7, 2.1)]
        found: list[tuple[float, _Draft]] = []
        for start in range(STARTS):
            if start > 1 and min(cost for cost, _ in found) > 2 * rival:
                break
            order = others[:]
            random.shuffle(order)
            half = len(order) // 2
            near, far = (self.day, *order[:half]), tuple(order[half:])
            lobby = LOBBY_M if start % 2 else 0.0
            draft = _Draft(near, far, lengths[start % 3], lobby, start % 4 == 3)
            found.append(self._improve(draft))
        cost, draft = min(found, key=_cost_of)
        plan = self.solve(draft)
        assert plan is not None
        return cost, plan

    def _improve(self, draft: _Draft) -> tuple[float, _Draft]:
        """Step to the best neighbour for as long as one is better."""
        while True:
            best = min(self._near(draft), key=self.cost)
            if self.cost(best) >= self.cost(draft) - 1e-9:
                return self.cost(draft), draft
            draft = best

    def _near(self, d: _Draft) -> Iterator[_Draft]:
        """Yield drafts that differ in one thing."""
        for longer in (-0.6, -0.2, 0.2, 0.6):
            yield d._replace(length_m=d.length_m + longer)
        yield d._replace(lobby_m=LOBBY_M - d.lobby_m)
        yield d._replace(flipped=not d.flipped)
        yield d._replace(near=d.near[::-1])
        yield d._replace(far=d.far[::-1])
        yield d._replace(near=d.near[::-1], far=d.far[::-1])
        whole = [*d.near, None, *d.far]
        for i, j in combinations(range(len(whole)), 2):
            swapped = whole[:]
            swapped[i], swapped[j] = swapped[j], swapped[i]
            yield from self._drafted(swapped, d)
        for i, j in product(range(len(whole)), repeat=2):
            moved = whole[:]
            moved.insert(j, moved.pop(i))
            yield from self._drafted(moved, d)

    def _drafted(self, whole: list[int | None], d: _Draft) -> Iterator[_Draft]:
        """Yield a draft with the rooms before and after the cut, the day room's row first."""
        cut = whole.index(None)
        rows = [tuple(i for i in row if i is not None) for row in (whole[:cut], whole[cut:])]
        near, far = sorted(rows, key=lambda row: self.day not in row)
        yield d._replace(near=near, far=far)

    def solve(self, d: _Draft) -> Plan | None:
        """Return the plan whose floors are exactly the schedule's; None where none fits."""
        t, length, lobby = PARTITION_M, d.length_m, d.lobby_m
        is_first = d.near[0] == self.day
        if length < 1.5 or (lobby and not (is_first or d.near[-1] == self.day)):
            return None
        if lobby and (len(d.near) < 2 or not d.far):
            return None
        rects: dict[int, Rect] = {}
        y, strip = 0.0, None
        if d.far:
            deep = self._deep(d.far, length)
            rects |= self._row(d.far, 0.0, 0.0, deep)
            y = deep + t
        if lobby:
            others = d.near[1:] if is_first else d.near[:-1]
            wide = self._day_width(d, others)
            if wide is None:
                return None
            top = y + lobby + t
            bottom = top + self._deep(others, length - wide - t)
            start = 0.0 if is_first else length - wide
            rects |= self._row(others, wide + t if is_first else 0.0, top, bottom)
            rects[self.day] = Rect(start, y, start + wide, bottom)
            strip = Rect(*((wide, y, length) if is_first else (0.0, y, start)), y + lobby)
        else:
            bottom = y + self._deep(d.near, length)
            rects |= self._row(d.near, 0.0, y, bottom)
        if min(rect.width for rect in rects.values()) <= 0:
            return None
        if d.flipped:
            rects = {i: _flip(r, bottom) for i, r in rects.items()}
            strip = strip and _flip(strip, bottom)
        rooms = tuple(
            PlannedRoom(room, rects[i], strip if i == self.day else None)
            for i, room in enumerate(self.rooms)
        )
        return Plan(Rect(0.0, 0.0, length, bottom), self.wall, self.turn, rooms)

    def _deep(self, row: Sequence[int], length: float) -> float:
        """Return how deep a row of a length is; endless where it is all partitions [m]."""
        free = length - PARTITION_M * (len(row) - 1)
        return sum(self.floors[i] for i in row) / free if free > 0.5 else inf

    def _row(self, row: Sequence[int], x: float, y0: float, y1: float) -> dict[int, Rect]:
        found = {}
        for i in row:
            wide = self.floors[i] / (y1 - y0)
            found[i] = Rect(x, y0, x + wide, y1)
            x += wide + PARTITION_M
        return found

    def _day_width(self, d: _Draft, others: Sequence[int]) -> float | None:
        """Return the day room's width so that it and its lobby have its floor together [m]."""
        t, length, lobby, k = PARTITION_M, d.length_m, d.lobby_m, len(others)
        others_m2 = sum(self.floors[i] for i in others)
        low, high = 0.3, length - t * k - 0.3
        if high <= low:
            return None

        def excess(wide: float) -> float:
            deep = others_m2 / (length - wide - t * k)
            return wide * (lobby + t + deep) + (length - wide) * lobby - self.floors[self.day]

        if excess(low) > 0 or excess(high) < 0:
            return None
        for _ in range(44):
            middle = (low + high) / 2
            low, high = (middle, high) if excess(middle) < 0 else (low, middle)
        return (low + high) / 2

    def _cost(self, d: _Draft) -> float:
        """Return how far a draft is from a good plan."""
        plan = self.solve(d)
        if plan is None:
            return inf
        rects = [room.main for room in plan.rooms]
        ratio = plan.inner.width / plan.inner.height
        cost = 6 * max(0.0, ratio - 2.1) + 14 * max(0.0, 1.35 - ratio) + (2.0 if d.lobby_m else 0)
        day = plan.rooms[self.day]
        cost += 1.2 * day.lobby.area if day.lobby else 0.0
        for i in self.entrances:
            cost += 4.0 if "top" not in outside_sides(rects[i], plan.inner) else 0.0
            if max(shared_m(rects[i], part) for part in day.parts) < LOBBY_M - 1e-6:
                cost += 25.0
        for i, rect in enumerate(rects):
            cost += self._room_cost(i, rect, plan)
            if i != self.day:
                cost += self._unreached_cost(i, rects, day)
        return cost

    def _unreached_cost(self, i: int, rects: Sequence[Rect], day: PlannedRoom) -> float:
        public = list(day.parts)
        if self.rooms[i].use not in ("kitchen", "lab"):
            public += [rects[j] for j in self.entrances if j != i]
        front = max(shared_m(rects[i], part) for part in public)
        if front < 0.9 - 1e-6:
            return 25.0
        return 12.0 * max(0.0, self.fronts[i] - front)

    def _room_cost(self, i: int, rect: Rect, plan: Plan) -> float:
        room = self.rooms[i]
        narrow = min(rect.width, rect.height)
        least = min(NARROWEST_M.get(room.use or "", 1.2), 0.8 * sqrt(self.floors[i]))
        stretched = max(rect.width, rect.height) / narrow - 2
        cost = 30 * max(0.0, least - narrow) + 2 * max(0.0, stretched)
        here = outside_sides(rect, plan.inner)
        for sides, wide in self.needs[i]:
            longest = max((rect.long(is_level(s)) for s in sides if s in here), default=wide - 1)
            cost += 40.0 * max(0.0, wide - longest)
        return cost


def _cost_of(found: tuple[float, object]) -> float:
    """Return a cost so that what is all but the same counts as the same."""
    return round(found[0], 9)


def _flip(rect: Rect, high: float) -> Rect:
    return Rect(rect.x0, high - rect.y1, rect.x1, high - rect.y0)

"""Turn a room schedule into a plan: two rows of rooms whose drawn floors are the schedule's.

The day room ends one row; where other rooms of its row would be cut off, it reaches past them as
a lobby, and the lobby is counted in its floor. A short search, the same for the same schedules,
tries orders and lengths and keeps the plan whose windows face as they should, whose rooms can be
reached and whose proportions can be furnished.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf, sqrt
from random import Random

from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from reviews.demo.drawings.geometry import (
    PARTITION_M,
    Plan,
    PlannedRoom,
    Rect,
    outside_sides,
    shared_m,
    sides_facing,
)
from reviews.demo.drawings.names import mark_named

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


def is_upper(room: Room) -> bool:
    """Whether a room's name says that it lies over others."""
    return any(word in (room.name or "").casefold() for word in UPPER_WORDS)


def floor_of(room: Room) -> float:
    """Return a room's floor; where it is blank, enough to draw [m²]."""
    return room.floor_m2 or FLOOR_WHERE_BLANK_M2


@dataclass(frozen=True)
class _Draft:
    """An order of rooms to be tried."""

    near: tuple[int, ...]  # the day room's row, left to right
    far: tuple[int, ...]
    length_m: float
    lobby_m: float
    flipped: bool  # the day room's row at the top


def lay_out(package: Package) -> Plan:
    """Return the plan of a package. Raises ValueError where no room is scheduled."""
    ground = [room for room in package.rooms if not is_upper(room)] or list(package.rooms)
    if not ground:
        raise ValueError("read no rooms; expected a room schedule with at least one room")
    wall = thickness_m(package, "wall")
    best: tuple[float, Plan] | None = None
    for turn in _turns(package.windows):
        search = _Search(ground, package, turn, wall)
        cost, plan = search.best(best[0] if best else inf)
        if best is None or cost < best[0] - 1e-9:
            best = cost, plan
    assert best is not None
    upper = [room for room in package.rooms if room not in ground]
    return _with_upper(best[1], upper)


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

    def __init__(
        self, rooms: Sequence[Room], package: Package, turn_deg: float, wall_m: float
    ) -> None:
        self.rooms = list(rooms)
        self.floors = [floor_of(room) for room in rooms]
        self.turn = turn_deg
        self.wall = wall_m
        self.costs: dict[_Draft, float] = {}
        self.whole: set[_Draft] = set()
        uses = [room.use == "day" for room in rooms]
        self.day = max(range(len(rooms)), key=lambda i: (uses[i], self.floors[i]))
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
        kept: tuple[float, _Draft] | None = None
        for start in range(STARTS):
            if start > 1 and kept and kept[0] > 2 * rival:
                break
            order = others[:]
            random.shuffle(order)
            half = len(order) // 2
            draft = _Draft(
                (self.day, *order[:half]),
                tuple(order[half:]),
                lengths[start % 3],
                LOBBY_M if start % 2 else 0.0,
                start % 4 == 3,
            )
            cost, draft = self._improve(draft)
            if kept is None or cost < kept[0] - 1e-9:
                kept = cost, draft
        assert kept is not None
        plan = self.solve(kept[1])
        assert plan is not None
        return kept[0], plan

    def _improve(self, draft: _Draft) -> tuple[float, _Draft]:
        """Step to the best neighbour for as long as one is better."""
        cost = self.cost(draft)
        while True:
            least, best = cost - 1e-9, draft
            for other in self._near(draft):
                if (tried := self.cost(other, least)) < least:
                    least, best = tried, other
            if best is draft:
                return cost, draft
            cost, draft = least, best

    def _near(self, d: _Draft) -> Iterator[_Draft]:
        """Yield drafts that differ in one thing."""
        for length in (d.length_m - 0.6, d.length_m - 0.2, d.length_m + 0.2, d.length_m + 0.6):
            yield _Draft(d.near, d.far, length, d.lobby_m, d.flipped)
        yield _Draft(d.near, d.far, d.length_m, LOBBY_M - d.lobby_m, d.flipped)
        yield _Draft(d.near, d.far, d.length_m, d.lobby_m, not d.flipped)
        yield _Draft(d.near[::-1], d.far, d.length_m, d.lobby_m, d.flipped)
        yield _Draft(d.near, d.far[::-1], d.length_m, d.lobby_m, d.flipped)
        yield _Draft(d.near[::-1], d.far[::-1], d.length_m, d.lobby_m, d.flipped)
        whole = [*d.near, None, *d.far]
        for i in range(len(whole)):
            for j in range(i + 1, len(whole)):
                swapped = whole[:]
                swapped[i], swapped[j] = swapped[j], swapped[i]
                if (made := self._drafted(swapped, d)) is not None:
                    yield made
        for i in range(len(whole)):
            for j in range(len(whole)):
                moved = whole[:]
                moved.insert(j, moved.pop(i))
                if (made := self._drafted(moved, d)) is not None:
                    yield made

    def _drafted(self, whole: list[int | None], d: _Draft) -> _Draft | None:
        cut = whole.index(None)
        near = tuple(i for i in whole[:cut] if i is not None)
        far = tuple(i for i in whole[cut + 1 :] if i is not None)
        if self.day in far:
            near, far = far, near
        return _Draft(near, far, d.length_m, d.lobby_m, d.flipped) if self.day in near else None

    def solve(self, d: _Draft) -> Plan | None:
        """Return the plan whose floors are exactly the schedule's; None where none fits."""
        t, length, lobby = PARTITION_M, d.length_m, d.lobby_m
        if length < 1.5 or (lobby and (d.near[0] != self.day and d.near[-1] != self.day)):
            return None
        if lobby and (len(d.near) < 2 or not d.far):
            return None
        near_floor = sum(self.floors[i] for i in d.near)
        rects: dict[int, Rect] = {}
        y = 0.0
        if d.far:
            free = length - t * (len(d.far) - 1)
            if free <= 0.5:
                return None
            y = sum(self.floors[i] for i in d.far) / free
            rects |= self._row(d.far, 0.0, 0.0, y)
            y += t
        lobby_rect = None
        if lobby:
            wide = self._day_width(d, near_floor - self.floors[self.day])
            if wide is None:
                return None
            first = d.near[0] == self.day
            others = d.near[1:] if first else d.near[:-1]
            start = wide + t if first else 0.0
            free = length - wide - t * len(others)
            deep = sum(self.floors[i] for i in others) / free
            rects |= self._row(others, start, y + lobby + t, y + lobby + t + deep)
            x0 = 0.0 if first else length - wide
            rects[self.day] = Rect(x0, y, x0 + wide, y + lobby + t + deep)
            lobby_rect = Rect(wide, y, length, y + lobby) if first else Rect(0, y, x0, y + lobby)
            y += lobby + t + deep
        else:
            free = length - t * (len(d.near) - 1)
            if free <= 0.5:
                return None
            deep = near_floor / free
            rects |= self._row(d.near, 0.0, y, y + deep)
            y += deep
        if d.flipped:
            rects = {i: _flip(r, y) for i, r in rects.items()}
            lobby_rect = lobby_rect and _flip(lobby_rect, y)
        rooms = tuple(
            PlannedRoom(room, rects[i], lobby_rect if i == self.day else None)
            for i, room in enumerate(self.rooms)
        )
        return Plan(Rect(0.0, 0.0, length, y), self.wall, self.turn, rooms)

    def _row(self, row: Sequence[int], x: float, y0: float, y1: float) -> dict[int, Rect]:
        found = {}
        for i in row:
            wide = self.floors[i] / (y1 - y0)
            found[i] = Rect(x, y0, x + wide, y1)
            x += wide + PARTITION_M
        return found

    def _day_width(self, d: _Draft, others_m2: float) -> float | None:
        """Return the day room's width so that it and its lobby have its floor together [m]."""
        t, length, lobby = PARTITION_M, d.length_m, d.lobby_m
        k = len(d.near) - 1
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

    def cost(self, d: _Draft, stop: float = inf) -> float:
        """Return how far a draft is from a good plan, or infinity once that is over a limit."""
        if self.costs.get(d, 0.0) > stop:
            return inf
        if d in self.whole:
            return self.costs[d]
        cost, is_whole = self._cost(d, stop)
        self.costs[d] = cost
        if not is_whole:
            return inf
        self.whole.add(d)
        return cost

    def _cost(self, d: _Draft, stop: float) -> tuple[float, bool]:
        """Return the cost, or what was counted of it when it passed the limit, and which."""
        plan = self.solve(d)
        if plan is None:
            return inf, True
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
            if cost > stop:
                return cost, False
            cost += self._room_cost(i, rect, plan)
            if i != self.day:
                cost += self._unreached_cost(i, rects, day)
        return cost, True

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
        cost = 30 * max(0.0, least - narrow) + 2 * max(
            0.0, max(rect.width, rect.height) / narrow - 2
        )
        here = outside_sides(rect, plan.inner)
        for sides, wide in self.needs[i]:
            runs = [
                rect.width if s in ("top", "bottom") else rect.height for s in sides if s in here
            ]
            cost += 40.0 if not runs else 40.0 * max(0.0, wide - max(runs))
        return cost


def _flip(rect: Rect, high: float) -> Rect:
    return Rect(rect.x0, high - rect.y1, rect.x1, high - rect.y0)

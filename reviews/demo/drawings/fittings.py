"""Furnish a plan: beds for the sleepers, tables for the people, tanks where their place says."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from criteria.package import Package
from reviews.demo.drawings.as_placed import head_of, kind_of, rect_of
from reviews.demo.drawings.geometry import SIDES, Plan, PlannedRoom, Rect, is_level
from reviews.demo.drawings.names import mark_named, speaks_of
from reviews.demo.drawings.openings import Openings

BED_M = (0.75, 2.0)
MATTRESS_M = 0.66
STEP_M = 0.05
TABLE_M, BENCH_M, SEATS = (1.7, 0.75), 0.32, 6
COUNTER_M = 0.6
BASIN_FROM_M2 = 2.5
TANK_HEIGHT_M = 1.3
"""Sizes of furniture that no schedule gives: common practice."""

SURFACES_M = {
    "table": ((0.7, 0.75),),
    "bench": ((0.4, 0.45),),
    "lab": ((0.84, 0.9),),
    "counter": ((0.0, 0.9),),
    "hearth": ((0.0, 1.05),),
    "stove": ((0.0, 1.05),),
    "bed": ((0.42, 0.54),),
    "bunk": ((0.45, 0.57), (1.5, 1.62)),
    "mattress": ((0.2, 0.45),),
    "tank": ((0.0, TANK_HEIGHT_M),),
    "seat": ((0.0, 0.45),),
    "shelf": ((0.0, 1.8),),
}
"""Underside and top of what furniture shows above the floor, lowest first [m]: common practice."""
BEDS = ("bed", "bunk", "mattress")
FIRES = ("hearth", "stove")
FIRE_WORDS = ("hearth core", "stove")


@dataclass(frozen=True)
class Fitting:
    """A piece of furniture or plant on plan.

    kind    bed, bunk, mattress, table, bench, stove, counter, pan, tray, tank, shelf, seat, lab
    head    side at which the pillow, tap or back is
    """

    kind: str
    room: PlannedRoom
    rect: Rect
    head: str = ""
    words: str = ""


def furnish(plan: Plan, openings: Openings, package: Package) -> list[Fitting]:
    """Return all furniture of a plan: as it is placed, else set so that doors are kept clear."""
    found: list[Fitting] = []
    for room in plan.rooms:
        fit = _Fitter(room, plan, openings)
        fit.fittings = _as_placed(room, package)
        use = room.room.use
        if fit.fittings:
            if use in ("plant", "store"):
                fit.tanks(package)
            found += fit.fittings
            continue
        if use == "sleep" or room.room.sleepers:
            fit.beds(room.room.sleepers or 0)
        if room is plan.day:
            fit.fire(package)
            if not any(other.room.use == "kitchen" for other in plan.rooms):
                fit.run("counter", COUNTER_M, 2.6, fit.inner_first)
            fit.tables(package.site.people or sum(o.n or 0 for o in package.occupants))
        elif use == "kitchen":
            fit.run("counter", COUNTER_M, 9.0, fit.outer_first)
            fit.run("shelf", 0.4, 1.6, fit.inner_first)
        elif use == "lab":
            fit.run("lab", 0.7, 9.0, fit.outer_first)
            fit.run("lab", 0.7, 2.4, fit.inner_first)
        elif use == "wc":
            fit.pans()
        elif use in ("plant", "store"):
            fit.tanks(package)
            fit.run("shelf", 0.4, 2.0, fit.outer_first)
        elif use == "circulation":
            fit.run("seat", 0.38, 2.4, fit.inner_first)
            fit.run("hooks", 0.25, 2.4, fit.outer_first)
        found += fit.fittings
    return found


def _as_placed(room: PlannedRoom, package: Package) -> list[Fitting]:
    """Return what the furniture schedule places in a room; two beds over each other once."""
    pieces = [piece for piece in package.furniture if piece.room == room.room.mark]
    rects = [rect_of(room, piece) for piece in pieces]
    found: dict[Rect, Fitting] = {}
    for piece, rect in zip(pieces, rects, strict=True):
        if rect is not None:
            is_bed = piece.kind == "bed"
            kind = kind_of(room, piece, rects.count(rect) > 1)
            found.setdefault(rect, Fitting(kind, room, rect, head_of(room, rect, is_bed)))
    return list(found.values())


class _Fitter:
    """Fits furniture into one room."""

    def __init__(self, room: PlannedRoom, plan: Plan, openings: Openings) -> None:
        self.room = room
        self.rect = room.main
        self.fittings: list[Fitting] = []
        self.blocked: list[Rect] = []
        for door in openings.doors:
            if door.room.is_upper is room.is_upper:
                deep = max(0.75, door.wide_m if door.inward and door.door else 0.75)
                across = (0.0, deep) if is_level(door.side) else (deep, 0.0)
                self.blocked.append(door.hole.grown(*across))
        if room.lobby:
            self.blocked.append(room.lobby.grown(0.5))
        outer = plan.outside_sides(room)
        inner = tuple(side for side in SIDES if side not in outer)
        self.outer_first, self.inner_first = outer + inner, inner + outer

    def free(self, rect: Rect) -> bool:
        """Whether a place inside the room is clear of doors and furniture."""
        return rect.within(self.rect) and not any(
            rect.meets(b) for b in (*self.blocked, *(f.rect for f in self.fittings))
        )

    def add(self, kind: str, rect: Rect, head: str = "", words: str = "") -> None:
        """Keep a fitting."""
        self.fittings.append(Fitting(kind, self.room, rect, head, words))

    def against(self, side: str, long: float, deep: float) -> Iterator[Rect]:
        """Yield clear places of a size with their back to a wall, from left or top."""
        start, end = self.rect.span(is_level(side))
        for i in range(int((end - start - long) / STEP_M + 1e-6) + 1):
            at = start + i * STEP_M
            rect = self.rect.beside(side, -deep, at, at + long)
            if self.free(rect):
                yield rect

    def first(self, sides: Sequence[str], long: float, deep: float) -> tuple[Rect, str] | None:
        """Return the first clear place against some walls."""
        for side in sides:
            for rect in self.against(side, long, deep):
                return rect, side
        return None

    def run(self, kind: str, deep: float, most: float, sides: Sequence[str]) -> None:
        """Fit the longest run of a depth, at most so long, against the first wall with room."""
        found: list[tuple[float, Rect, str]] = []
        for rank, side in enumerate(sides):
            long = min(most, self.rect.long(is_level(side)))
            while long > 0.7:
                if rect := next(self.against(side, long, deep), None):
                    found.append((long - 0.25 * rank, rect, side))
                    break
                long -= 0.1
        if found:
            _, rect, side = max(found, key=lambda f: f[0])
            self.add(kind, rect, side)

    def beds(self, sleepers: int) -> None:
        """Fit beds side by side, heads to one wall; two to a bunk where floor is short."""
        if not sleepers:
            return
        floor = self.room.room.floor_m2 or self.rect.area
        name = self.room.room.name
        flat = speaks_of(name, ("shelf", "loft", "platform")) or self.room.is_upper
        bunks = not flat and sleepers >= 4 and floor / sleepers < 3
        left = ceil(sleepers / 2) if bunks else sleepers
        kind = "mattress" if flat else "bunk" if bunks else "bed"
        wide = MATTRESS_M if flat else BED_M[0]
        if left == 1 and (place := self.first(self.outer_first, BED_M[1], BED_M[0])):
            rect, side = place
            self.add(kind, rect, "left" if is_level(side) else "top")
            return
        while left > 0:
            rows = [self._row(side, left, wide) for side in self.outer_first]
            row = max(rows, key=len)
            if not row:
                return
            side = self.outer_first[rows.index(row)]
            for rect in row:
                self.add(kind, rect, side)
            left -= len(row)

    def _row(self, side: str, most: int, wide: float) -> list[Rect]:
        """Return beds spread over the longest clear stretch of a wall."""
        level = is_level(side)
        stretches: list[list[float]] = []
        for rect in self.against(side, STEP_M, BED_M[1]):
            at = rect.span(level)[0]
            if stretches and abs(at - stretches[-1][-1] - STEP_M) < 1e-6:
                stretches[-1].append(at)
            else:
                stretches.append([at])
        longest = max(stretches, key=len, default=[])
        room = STEP_M * len(longest)
        n = min(most, int((room + 1e-6) / wide))
        gap = (room - n * wide) / (n - 1) if n > 1 else 0.0
        starts = [longest[0] + i * (wide + gap) for i in range(n)]
        return [self.rect.beside(side, -BED_M[1], at, at + wide) for at in starts]

    def fire(self, package: Package) -> None:
        """Fit the hearth or stove of the piece schedule by its own sizes."""
        for piece in package.pieces:
            if not speaks_of(piece.piece, FIRE_WORDS):
                continue
            long, deep = piece.length_m or 1.0, piece.width_m or 0.8
            if speaks_of(piece.piece, ("hearth",)):
                x, y = self.rect.centre
                x += 0.12 * self.rect.width
                rect = Rect(x - long / 2, y - deep / 2, x + long / 2, y + deep / 2)
                if self.free(rect):
                    self.add("hearth", rect)
                    return
            if place := self.first(self.inner_first, long, deep):
                self.add("stove", place[0], place[1])
            return

    def tables(self, people: int) -> None:
        """Fit tables with a bench at each long side, enough for the people or what there's room."""
        wanted = max(1, ceil(people / SEATS))
        long, across = TABLE_M[0], TABLE_M[1] + 2 * (BENCH_M + 0.1)
        for sides, wide, high in (
            (("top", "bottom"), long, across),
            (("left", "right"), across, long),
        ):
            y = self.rect.y1 - high - 0.12
            while y >= self.rect.y0 + 0.12:
                x = self.rect.x1 - wide - 0.3
                while x >= self.rect.x0 + 0.3:
                    if sum(f.kind == "table" for f in self.fittings) >= wanted:
                        return
                    rect = Rect(x, y, x + wide, y + high)
                    if self.free(rect.grown(0.1)):
                        self._table(rect, sides)
                        x -= wide
                    x -= 0.1
                y -= 0.1

    def _table(self, r: Rect, sides: Sequence[str]) -> None:
        across = (0.0, -BENCH_M - 0.1) if is_level(sides[0]) else (-BENCH_M - 0.1, 0.0)
        self.add("table", r.grown(*across))
        for side in sides:
            self.add("bench", r.beside(side, -BENCH_M))

    def pans(self) -> None:
        """Fit a toilet or a shower."""
        name = self.room.room.name or ""
        if speaks_of(name, ("shower",)):
            if place := self.first(self.outer_first, 0.85, 0.85):
                self.add("tray", *place)
        else:
            for _ in range(2 if "2" in name else 1):
                if place := self.first(self.outer_first, 0.42, 0.62):
                    self.add("pan", *place)
                    self.blocked.append(place[0].grown(0.2))
        is_roomy = self.rect.area >= BASIN_FROM_M2
        if is_roomy and (place := self.first(self.inner_first, 0.42, 0.32)):
            self.add("basin", *place)

    def tanks(self, package: Package) -> None:
        """Fit the tanks whose place speaks of this room."""
        rooms = [self.room.room]
        for tank in package.tanks:
            if mark_named(rooms, tank.place) is None or not tank.volume_m3:
                continue
            foot = max(0.05, tank.volume_m3 / TANK_HEIGHT_M)
            deep = min(0.75, max(0.3, foot**0.5))
            if place := self.first(self.outer_first, foot / deep, deep):
                self.add("tank", place[0], place[1], tank.mark)

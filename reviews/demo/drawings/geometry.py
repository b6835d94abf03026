"""What a plan is made of: rectangles, rooms as they lie, the building around them."""

from dataclasses import dataclass

from criteria.schedules.openings import BEARINGS_DEG
from criteria.schedules.rooms import Room
from reviews.demo.drawings.canvas import Point, quad

SIDES = ("top", "right", "bottom", "left")
OPPOSITE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
ENDS = {True: ("left", "right"), False: ("top", "bottom")}
"""The sides at the ends of a wall that runs along the sheet, and of one that doesn't."""
EDGES = {"top": "y0", "right": "x1", "bottom": "y1", "left": "x0"}
OUTWARD = {"top": -1, "right": 1, "bottom": 1, "left": -1}
"""Which way along the sheet is out of a room at each of its sides."""
PARTITION_M = 0.1
"""Thickness of inside walls; no schedule gives it."""
TOUCH_M = 1e-6


def is_level(side: str) -> bool:
    """Whether a side runs along the sheet."""
    return side in ("top", "bottom")


@dataclass(frozen=True)
class Rect:
    """An upright rectangle on plan, y downwards [m]."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """Along the sheet [m]."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Down the sheet [m]."""
        return self.y1 - self.y0

    @property
    def area(self) -> float:
        """Area [m²]."""
        return self.width * self.height

    @property
    def centre(self) -> Point:
        """The middle [m]."""
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    @property
    def corners(self) -> list[Point]:
        """Its corners, round from the upper left."""
        return quad(self.x0, self.y0, self.x1, self.y1)

    def span(self, level: bool) -> Point:
        """Return from where to where it reaches along the sheet, or down it [m]."""
        return (self.x0, self.x1) if level else (self.y0, self.y1)

    def long(self, level: bool) -> float:
        """Return its length along the sheet, or down it [m]."""
        return self.width if level else self.height

    def edge(self, side: str) -> float:
        """Return where one of its sides lies [m]."""
        return float(getattr(self, EDGES[side]))

    def grown(self, by: float, down: float | None = None) -> "Rect":
        """Return it larger by so much on each side, above and below perhaps by other."""
        down = by if down is None else down
        return Rect(self.x0 - by, self.y0 - down, self.x1 + by, self.y1 + down)

    def beside(
        self, side: str, deep: float, start: float | None = None, end: float | None = None
    ) -> "Rect":
        """Return a strip along one of its sides: outside it, or inside for a negative depth [m]."""
        low, high = self.span(is_level(side))
        start, end = low if start is None else start, high if end is None else end
        a, b = sorted((self.edge(side), self.edge(side) + OUTWARD[side] * deep))
        return Rect(start, a, end, b) if is_level(side) else Rect(a, start, b, end)

    def layer(
        self,
        side: str,
        near: float,
        far: float,
        start: float | None = None,
        end: float | None = None,
    ) -> "Rect":
        """Return a strip inside it along one of its sides, from one depth to another [m]."""
        return self.beside(side, -near).beside(OPPOSITE[side], far - near, start, end)

    def line(self, side: str) -> list[Point]:
        """Return the ends of one of its sides."""
        return self.beside(side, 0.0).corners[::2]

    def shared(self, other: "Rect") -> Point:
        """Return how far two overlap along and down the sheet; less than nothing is apart [m]."""
        return (
            min(self.x1, other.x1) - max(self.x0, other.x0),
            min(self.y1, other.y1) - max(self.y0, other.y0),
        )

    def overlap(self, other: "Rect") -> float:
        """Return how much floor the two share [m²]."""
        across, down = self.shared(other)
        return max(0.0, across) * max(0.0, down)

    def meets(self, other: "Rect") -> bool:
        """Whether the two overlap."""
        return min(self.shared(other)) > TOUCH_M

    def within(self, other: "Rect") -> bool:
        """Whether it lies inside another."""
        return bounds(self, other.grown(TOUCH_M)) == other.grown(TOUCH_M)


def bounds(*rects: Rect) -> Rect:
    """Return the least rectangle round others."""
    return Rect(
        min(r.x0 for r in rects),
        min(r.y0 for r in rects),
        max(r.x1 for r in rects),
        max(r.y1 for r in rects),
    )


@dataclass(frozen=True)
class PlannedRoom:
    """A room as it lies on plan: its main rectangle and, for the day room, perhaps a lobby."""

    room: Room
    main: Rect
    lobby: Rect | None = None
    is_upper: bool = False

    @property
    def parts(self) -> tuple[Rect, ...]:
        """Its rectangles."""
        return (self.main, self.lobby) if self.lobby else (self.main,)

    @property
    def floor_m2(self) -> float:
        """Floor as drawn [m²]."""
        return sum(part.area for part in self.parts)


@dataclass(frozen=True)
class Plan:
    """A building on plan; the origin is the upper left inside corner [m].

    inner      inside of the outer walls
    wall_m     thickness of the outer walls
    turn_deg   bearing that the top of the sheet looks to
    """

    inner: Rect
    wall_m: float
    turn_deg: float
    rooms: tuple[PlannedRoom, ...]

    @property
    def outer(self) -> Rect:
        """Outside of the outer walls."""
        return self.inner.grown(self.wall_m)

    @property
    def ground(self) -> tuple[PlannedRoom, ...]:
        """Rooms of the entrance level."""
        return tuple(room for room in self.rooms if not room.is_upper)

    @property
    def upper(self) -> tuple[PlannedRoom, ...]:
        """Rooms over others."""
        return tuple(room for room in self.rooms if room.is_upper)

    @property
    def day(self) -> PlannedRoom:
        """The room that people gather in."""
        return max(self.ground, key=lambda r: (r.room.use == "day", r.floor_m2))

    def of(self, mark: str | None) -> PlannedRoom | None:
        """Return the room of a mark."""
        return next((room for room in self.rooms if room.room.mark == mark), None)

    def outside_sides(self, room: PlannedRoom) -> tuple[str, ...]:
        """Return the sides on which a room has an outer wall."""
        return outside_sides(room.main, self.inner)


def outside_sides(rect: Rect, inner: Rect) -> tuple[str, ...]:
    """Return the sides on which a rectangle lies against the outer wall."""
    return tuple(side for side in SIDES if abs(rect.edge(side) - inner.edge(side)) < TOUCH_M)


def sides_facing(faces: str | None, turn_deg: float) -> tuple[str, ...]:
    """Return the sides that look nearest to a way; two where it lies between them."""
    if faces not in BEARINGS_DEG:
        return SIDES
    off = {
        side: abs((BEARINGS_DEG[faces] - turn_deg - 90 * i + 180) % 360 - 180)
        for i, side in enumerate(SIDES)
    }
    least = min(off.values())
    return tuple(side for side in SIDES if off[side] - least < 1)


def shared_m(a: Rect, b: Rect) -> float:
    """Return how much wall two rectangles share, a partition between them [m]."""
    across, down = a.shared(b)
    if across > 0 and abs(down) < PARTITION_M + TOUCH_M:
        return across
    return down if down > 0 and abs(across) < PARTITION_M + TOUCH_M else 0.0

"""What a plan is made of: rectangles, rooms as they lie, the building around them."""

from dataclasses import dataclass

from criteria.schedules.rooms import Room

SIDES = ("top", "right", "bottom", "left")
BEARINGS = {name: 45 * i for i, name in enumerate(("N", "NE", "E", "SE", "S", "SW", "W", "NW"))}
PARTITION_M = 0.1
"""Thickness of inside walls; no schedule gives it."""


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
    def centre(self) -> tuple[float, float]:
        """The middle [m]."""
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def grown(self, by: float) -> "Rect":
        """Return it larger by so much on each side."""
        return Rect(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def meets(self, other: "Rect") -> bool:
        """Whether the two overlap."""
        return (
            self.x0 < other.x1 - 1e-6
            and other.x0 < self.x1 - 1e-6
            and self.y0 < other.y1 - 1e-6
            and other.y0 < self.y1 - 1e-6
        )

    def within(self, other: "Rect") -> bool:
        """Whether it lies inside another."""
        return (
            self.x0 >= other.x0 - 1e-6
            and self.x1 <= other.x1 + 1e-6
            and self.y0 >= other.y0 - 1e-6
            and self.y1 <= other.y1 + 1e-6
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
    found = {
        "top": abs(rect.y0 - inner.y0) < 1e-6,
        "right": abs(rect.x1 - inner.x1) < 1e-6,
        "bottom": abs(rect.y1 - inner.y1) < 1e-6,
        "left": abs(rect.x0 - inner.x0) < 1e-6,
    }
    return tuple(side for side in SIDES if found[side])


def sides_facing(faces: str | None, turn_deg: float) -> tuple[str, ...]:
    """Return the sides that look nearest to a way; two where it lies between them."""
    if faces not in BEARINGS:
        return SIDES
    off = {
        side: abs((BEARINGS[faces] - turn_deg - 90 * i + 180) % 360 - 180)
        for i, side in enumerate(SIDES)
    }
    least = min(off.values())
    return tuple(side for side in SIDES if off[side] - least < 1)


def shared_m(a: Rect, b: Rect) -> float:
    """Return how much wall two rectangles share, a partition between them [m]."""
    across = min(a.x1, b.x1) - max(a.x0, b.x0)
    down = min(a.y1, b.y1) - max(a.y0, b.y0)
    gap = PARTITION_M + 1e-6
    if across > 0 and min(abs(a.y0 - b.y1), abs(b.y0 - a.y1)) < gap:
        return across
    if down > 0 and min(abs(a.x0 - b.x1), abs(b.x0 - a.x1)) < gap:
        return down
    return 0.0

"""Set the windows and doors of the schedules into the walls of a plan."""

from dataclasses import dataclass, field

from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.openings import Window
from reviews.demo.drawings.as_placed import door_start, hinge_is_last, window_starts
from reviews.demo.drawings.geometry import (
    OPPOSITE,
    PARTITION_M,
    Plan,
    PlannedRoom,
    Rect,
    is_level,
    outside_sides,
    shared_m,
    sides_facing,
)
from reviews.demo.drawings.names import LOBBY_WORDS, mark_named, speaks_of

CORNER_M = 0.12
LEAF_WHERE_BLANK_M, HEIGHT_WHERE_BLANK_M = 0.8, 2.0
RANKS = {"circulation": 1, "day": 2, "kitchen": 3, "lab": 4}
"""Rooms that others may be entered from, best first; the day room and its lobby come before."""

MAIN_SIDES = ("top", "bottom", "left", "right")
OTHER_SIDES = ("right", "left", "bottom", "top")
"""Sides that the main door and the others take, best first."""


@dataclass(frozen=True)
class Wall:
    """One stretch of a wall that openings can stand in, along one side of a room.

    side       which side of the room
    start, end along the wall, from left or top [m]
    line       where the room's face of it lies, across [m]
    """

    side: str
    start: float
    end: float
    line: float

    @property
    def long(self) -> float:
        """Its length [m]."""
        return self.end - self.start

    def rect(self, start: float, end: float, thick: float) -> Rect:
        """Return the part of the wall between two places as a rectangle."""
        return Rect(self.line, self.line, self.line, self.line).beside(self.side, thick, start, end)


@dataclass(frozen=True)
class _Placed:
    """An opening in a wall.

    side              the wall's side as the room sees it
    start_m, wide_m   along its wall [m]
    hole              the opening through the wall on plan; of a roof light, its outline
    """

    room: PlannedRoom
    side: str
    start_m: float
    wide_m: float
    hole: Rect

    @property
    def end_m(self) -> float:
        """Where it ends along its wall [m]."""
        return self.start_m + self.wide_m


@dataclass(frozen=True)
class PlacedWindow(_Placed):
    """One window of the schedule (several alike are placed one by one).

    is_astray   whether the wall it stands in is not the one it is said to face
    """

    window: Window
    index: int
    is_roof_light: bool = False
    is_astray: bool = False

    @property
    def frame_m(self) -> tuple[float, float] | None:
        """Underside and top of its frame above the floor; None where the schedule lacks them."""
        w = self.window
        if self.is_roof_light or w.sill_m is None or not w.frame_h_m:
            return None
        low = w.sill_m - self.edge_m
        return low, low + w.frame_h_m

    @property
    def edge_m(self) -> float:
        """How wide its frame shows above and below the glass [m]."""
        high = self.window.frame_h_m or 0.0
        return (high - (self.window.glass_h_m or high)) / 2

    @property
    def jamb_m(self) -> float:
        """How wide its frame shows beside the glass [m]."""
        return (self.wide_m - (self.window.glass_w_m or self.wide_m)) / 2


@dataclass(frozen=True)
class PlacedDoor(_Placed):
    """A door on plan; one without a mark is a doorway that no schedule names.

    inward    whether the leaf swings into the room
    hung_last whether it hangs at the lower or right end of its opening
    """

    door: Door | None
    inward: bool = True
    hung_last: bool = False

    @property
    def mark(self) -> str:
        """Its mark, or nothing."""
        return self.door.mark if self.door else ""

    @property
    def is_outside(self) -> bool:
        """Whether it leads out of doors."""
        return bool(self.door and self.door.is_outside)

    @property
    def height_m(self) -> float:
        """Its height, or a usual one where it is blank [m]."""
        return (self.door.height_m if self.door else None) or HEIGHT_WHERE_BLANK_M

    @property
    def frame_m(self) -> tuple[float, float] | None:
        """Underside and top above the floor of one that leads out of doors; of others, None."""
        return (0.0, self.height_m) if self.is_outside else None

    @property
    def opens_to(self) -> str:
        """The side of its opening that its leaf swings to."""
        return OPPOSITE[self.side] if self.inward else self.side


@dataclass
class Openings:
    """All openings of a plan, and which stretches of wall are taken."""

    windows: list[PlacedWindow] = field(default_factory=list)
    doors: list[PlacedDoor] = field(default_factory=list)

    def taken(self, wall: Wall) -> list[tuple[float, float]]:
        """Return the stretches of a wall that openings take [m]."""
        probe = wall.rect(wall.start, wall.end, 0.05)
        upright = [window.hole for window in self.windows if not window.is_roof_light]
        holes = [*upright, *(door.hole for door in self.doors)]
        level = is_level(wall.side)
        return sorted(hole.span(level) for hole in holes if hole.grown(0.02).meets(probe))

    def free(self, wall: Wall) -> list[tuple[float, float]]:
        """Return the free stretches of a wall, corners and openings kept clear of [m]."""
        at, stretches = wall.start + CORNER_M, []
        for start, end in (*self.taken(wall), (wall.end, wall.end)):
            if start - CORNER_M > at:
                stretches.append((at, start - CORNER_M))
            at = max(at, end + CORNER_M)
        return stretches

    def longest(self, wall: Wall) -> tuple[float, float]:
        """Return the longest free stretch of a wall, or all of it where none is free [m]."""
        return max(self.free(wall) or [(wall.start, wall.end)], key=lambda s: s[1] - s[0])

    def hang(
        self,
        door: Door | None,
        room: PlannedRoom,
        wall: Wall,
        start: float,
        wide: float,
        thick: float,
        inward: bool = True,
    ) -> None:
        """Set a door into a wall."""
        hole = wall.rect(start, start + wide, thick)
        self.doors.append(PlacedDoor(room, wall.side, start, wide, hole, door, inward))


def place_openings(plan: Plan, package: Package) -> Openings:
    """Place outside doors first, then windows, then inside doors and doorways."""
    openings = Openings()
    doors = [door for door in package.doors if not _placed(openings, plan, door)]
    by_day = sorted(doors, key=lambda door: door.role != "main exit")
    for door in by_day:
        if door.is_outside:
            _place_outside(openings, plan, door, package)
    for window in package.windows:
        if room := plan.of(window.room):
            _place_window(openings, plan, window, room)
    for door in by_day:
        if not door.is_outside:
            _place_inside(openings, plan, door)
    for room in plan.ground:
        _open_up(openings, plan, room)
    return openings


def _placed(openings: Openings, plan: Plan, door: Door) -> bool:
    """Hang a door where its row says; tell whether it does."""
    wide = door.leaf_w_m or LEAF_WHERE_BLANK_M
    where = door_start(plan, door, wide)
    if where is None:
        return False
    room, side, start = where
    wall = Wall(side, *room.main.span(is_level(side)), room.main.edge(side))
    thick = plan.wall_m if door.is_outside else PARTITION_M
    hole = wall.rect(start, start + wide, thick)
    inward, last = door.swing != "out", hinge_is_last(side, door)
    openings.doors.append(PlacedDoor(room, side, start, wide, hole, door, inward, last))
    return True


def _room_named(plan: Plan, place: str | None) -> PlannedRoom | None:
    return plan.of(mark_named((room.room for room in plan.rooms), place))


def _outer_walls(plan: Plan, room: PlannedRoom) -> list[Wall]:
    """Return the outer walls of a room, lobby included."""
    return [
        Wall(side, *part.span(is_level(side)), part.edge(side))
        for part in room.parts
        for side in outside_sides(part, plan.inner)
    ]


def _place_outside(openings: Openings, plan: Plan, door: Door, package: Package) -> None:
    is_main = door.role == "main exit"
    lobby = None if is_main or not speaks_of(door.place, LOBBY_WORDS) else plan.day.lobby
    room = plan.day if lobby else _room_named(plan, door.place)
    if room is None:
        entrances = [r for r in plan.ground if is_main and r.room.use == "circulation"]
        room = (*entrances, plan.day)[0]
    wide = door.leaf_w_m or LEAF_WHERE_BLANK_M
    lit = {
        side for w in package.windows_of(room.room) for side in sides_facing(w.faces, plan.turn_deg)
    }
    walls = [w for w in _outer_walls(plan, room) if w.long >= wide - 0.02]
    if lobby:
        ends = [w for w in walls if not is_level(w.side) and w.long < lobby.height + 0.01]
        walls, wide = ends or walls, min(wide, lobby.height - 0.02)
    walls = walls or _outer_walls(plan, room) or _outer_walls(plan, plan.day)
    used = {placed.side for placed in openings.doors if placed.room is room}
    order = MAIN_SIDES if is_main else OTHER_SIDES
    wall = min(walls, key=lambda w: (w.side in used, w.side in lit, order.index(w.side)))
    start = _fit(openings, wall, wide)
    if is_main and is_level(wall.side) and wall.long > wide + 1.0:
        near_right = plan.inner.x1 - wall.end < wall.start - plan.inner.x0
        start = wall.end - CORNER_M - 0.05 - wide if near_right else wall.start + CORNER_M + 0.05
    openings.hang(door, room, wall, start, wide, plan.wall_m, door.swing != "out")


def _fit(openings: Openings, wall: Wall, wide: float) -> float:
    """Return where an opening starts in a wall: the near end of its longest free stretch."""
    start, end = openings.longest(wall)
    if end - start < wide:
        return max(wall.start, min((start + end - wide) / 2, wall.end - wide))
    return (start + end - wide) / 2 if wall.long < wide + 1.0 else start + 0.05


def _place_window(openings: Openings, plan: Plan, window: Window, room: PlannedRoom) -> None:
    n, wide = window.n or 1, window.frame_w_m or 0.6
    wanted = sides_facing(window.faces, plan.turn_deg)
    if window.is_rooflight:
        _place_roof_lights(openings, wanted[0] if len(wanted) < 4 else "top", window, room)
        return
    walls = _outer_walls(plan, room)
    if not walls:
        return
    for wall in walls:
        starts = window_starts(room, wall.side, window) if wall.side in wanted else None
        if starts is not None:
            _stand(openings, room, wall, window, starts, plan.wall_m)
            return
    need = n * wide + (n - 1) * CORNER_M

    def rank(wall: Wall) -> tuple[bool, bool, float]:
        longest = max((b - a for a, b in openings.free(wall)), default=0.0)
        return wall.side not in wanted, longest < need, -longest

    wall = min(walls, key=rank)
    side = wall.side
    start, end = openings.longest(wall)
    gap = max(0.0, (end - start - n * wide) / (n + 1))
    spread = [start + gap * (i + 1) + wide * i for i in range(n)]
    starts = [max(wall.start, min(at, wall.end - wide)) for at in spread]
    _stand(openings, room, wall, window, starts, plan.wall_m, side not in wanted)


def _stand(
    openings: Openings,
    room: PlannedRoom,
    wall: Wall,
    window: Window,
    starts: list[float],
    thick: float,
    is_astray: bool = False,
) -> None:
    wide = window.frame_w_m or 0.6
    for i, at in enumerate(starts):
        hole = wall.rect(at, at + wide, thick)
        openings.windows.append(
            PlacedWindow(room, wall.side, at, wide, hole, window, i, is_astray=is_astray)
        )


def _place_roof_lights(openings: Openings, side: str, window: Window, room: PlannedRoom) -> None:
    rect, level, n, wide = room.main, is_level(side), window.n or 1, window.frame_w_m or 0.6
    deep = min(window.frame_h_m or wide, rect.height / 3)
    gap = max(0.05, (rect.long(level) - n * wide) / (n + 1))
    off = 0.28 * rect.long(not level) - deep / 2
    for i in range(n):
        at = rect.span(level)[0] + gap * (i + 1) + wide * i
        hole = rect.layer(side, off, off + deep, at, at + wide)
        placed = PlacedWindow(room, side, at, wide, hole, window, i, is_roof_light=True)
        openings.windows.append(placed)


def _public_walls(plan: Plan, room: PlannedRoom) -> list[tuple[int, Wall]]:
    """Return the walls that a room shares with rooms people pass through, best first."""
    found = []
    for other in plan.ground:
        rank = 0 if other is plan.day else RANKS.get(other.room.use or "", 9)
        for mine in room.parts:
            for part in other.parts:
                if other is not room and shared_m(mine, part) > 0.5:
                    found.append((-1 if part is other.lobby else rank, _between(mine, part)))
    return sorted(found, key=lambda f: (f[0], f[1].start - f[1].end))


def _between(mine: Rect, other: Rect) -> Wall:
    """Return the wall that two rectangles share, as the first has it."""
    across, down = mine.shared(other)
    level = across > down
    near, far = ("top", "bottom") if level else ("left", "right")
    side = near if other.edge(far) <= mine.edge(near) + 1e-6 else far
    (a, b), (c, d) = mine.span(level), other.span(level)
    return Wall(side, max(a, c), min(b, d), mine.edge(side))


def _place_inside(openings: Openings, plan: Plan, door: Door) -> None:
    day, lobby = plan.day, plan.day.lobby
    wide = door.leaf_w_m or LEAF_WHERE_BLANK_M
    if lobby and speaks_of(door.place, LOBBY_WORDS):
        wide = min(wide, lobby.height)
        side = "left" if lobby.x0 < day.main.x0 else "right"
        wall = Wall(side, lobby.y0, lobby.y1, day.main.edge(side))
        openings.hang(door, day, wall, lobby.centre[1] - wide / 2, wide, PARTITION_M)
        return
    room = _room_named(plan, door.place)
    if room is not None and not room.is_upper:
        _hang(openings, plan, room, door, wide)


def _hang(
    openings: Openings, plan: Plan, room: PlannedRoom, door: Door | None, wide: float
) -> None:
    walls = _public_walls(plan, room)
    if not walls:
        return

    def lacks(found: tuple[int, Wall]) -> bool:
        return all(b - a < wide for a, b in openings.free(found[1]))

    _, wall = min(walls, key=lambda f: (f[0] > max(RANKS.values()), lacks(f), f[0]))
    wide = min(wide, wall.long - 0.04)
    is_small = room.room.use == "wc" or min(room.main.width, room.main.height) < 1.5
    start = _fit(openings, wall, wide)
    openings.hang(door, room, wall, start, wide, PARTITION_M, not is_small)


def _open_up(openings: Openings, plan: Plan, room: PlannedRoom) -> None:
    """Give a room that no scheduled inside door opens a plain doorway."""
    inside = [placed for placed in openings.doors if not placed.is_outside]
    is_open = any(
        placed.room is room or any(placed.hole.grown(0.06).meets(p) for p in room.parts)
        for placed in inside
    )
    if room is not plan.day and not is_open:
        wide = 1.1 if room.room.use == "kitchen" else LEAF_WHERE_BLANK_M
        _hang(openings, plan, room, None, wide)

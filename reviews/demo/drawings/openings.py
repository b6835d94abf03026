"""Set the windows and doors of the schedules into the walls of a plan."""

from dataclasses import dataclass, field

from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.openings import Window
from reviews.demo.drawings.geometry import (
    PARTITION_M,
    SIDES,
    Plan,
    PlannedRoom,
    Rect,
    shared_m,
    sides_facing,
)
from reviews.demo.drawings.names import LOBBY_WORDS, mark_named, speaks_of

CORNER_M = 0.12
LEAF_WHERE_BLANK_M = 0.8
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
    def is_level(self) -> bool:
        """Whether it runs along the sheet."""
        return self.side in ("top", "bottom")

    def rect(self, start: float, end: float, thick: float) -> Rect:
        """Return the part of the wall between two places as a rectangle."""
        outward = thick if self.side in ("right", "bottom") else -thick
        a, b = sorted((self.line, self.line + outward))
        return Rect(start, a, end, b) if self.is_level else Rect(a, start, b, end)


@dataclass(frozen=True)
class PlacedWindow:
    """One window of the schedule (several alike are placed one by one).

    start_m, wide_m   along its wall [m]
    hole              the opening through the wall on plan; of a roof light, its outline
    is_astray         whether the wall it stands in is not the one it is said to face
    """

    window: Window
    index: int
    room: PlannedRoom
    side: str
    start_m: float
    wide_m: float
    hole: Rect
    is_roof_light: bool = False
    is_astray: bool = False


@dataclass(frozen=True)
class PlacedDoor:
    """A door on plan; one without a mark is a doorway that no schedule names.

    hole      the opening through the wall
    side      the wall's side as the room sees it
    inward    whether the leaf swings into the room
    """

    door: Door | None
    room: PlannedRoom
    side: str
    start_m: float
    wide_m: float
    hole: Rect
    inward: bool = True

    @property
    def mark(self) -> str:
        """Its mark, or nothing."""
        return self.door.mark if self.door else ""

    @property
    def is_outside(self) -> bool:
        """Whether it leads out of doors."""
        return bool(self.door and self.door.is_outside)


@dataclass
class Openings:
    """All openings of a plan, and which stretches of wall are taken."""

    windows: list[PlacedWindow] = field(default_factory=list)
    doors: list[PlacedDoor] = field(default_factory=list)

    def taken(self, wall: Wall) -> list[tuple[float, float]]:
        """Return the stretches of a wall that openings take [m]."""
        probe = wall.rect(wall.start, wall.end, 0.05)
        found = []
        upright = [window.hole for window in self.windows if not window.is_roof_light]
        for hole in (*upright, *(door.hole for door in self.doors)):
            if hole.grown(0.02).meets(probe):
                found.append((hole.x0, hole.x1) if wall.is_level else (hole.y0, hole.y1))
        return sorted(found)

    def free(self, wall: Wall) -> list[tuple[float, float]]:
        """Return the free stretches of a wall, corners and openings kept clear of [m]."""
        at, stretches = wall.start + CORNER_M, []
        for start, end in self.taken(wall):
            if start - CORNER_M > at:
                stretches.append((at, start - CORNER_M))
            at = max(at, end + CORNER_M)
        if wall.end - CORNER_M > at:
            stretches.append((at, wall.end - CORNER_M))
        return stretches


def place_openings(plan: Plan, package: Package) -> Openings:
    """Place outside doors first, then windows, then inside doors and doorways."""
    openings = Openings()
    by_day = sorted(package.doors, key=lambda door: door.role != "main exit")
    for door in by_day:
        if door.is_outside:
            _place_outside(openings, plan, door, package)
    for window in package.windows:
        _place_window(openings, plan, window)
    for door in by_day:
        if not door.is_outside:
            _place_inside(openings, plan, door)
    for room in plan.ground:
        _open_up(openings, plan, room)
    return openings


def room_named(plan: Plan, place: str | None) -> PlannedRoom | None:
    """Return the room that a place speaks of, or None."""
    return plan.of(mark_named((room.room for room in plan.rooms), place))


def outer_walls(plan: Plan, room: PlannedRoom) -> list[Wall]:
    """Return the outer walls of a room, lobby included."""
    walls = []
    for part in room.parts:
        inner = plan.inner
        edges = {
            "top": (part.y0, inner.y0),
            "right": (part.x1, inner.x1),
            "bottom": (part.y1, inner.y1),
            "left": (part.x0, inner.x0),
        }
        for side in SIDES:
            mine, outer = edges[side]
            if abs(mine - outer) < 1e-6:
                level = side in ("top", "bottom")
                start, end = (part.x0, part.x1) if level else (part.y0, part.y1)
                walls.append(Wall(side, start, end, mine))
    return walls


def _place_outside(openings: Openings, plan: Plan, door: Door, package: Package) -> None:
    is_main = door.role == "main exit"
    room = room_named(plan, door.place)
    if room is None:
        entrances = [r for r in plan.ground if r.room.use == "circulation"]
        room = entrances[0] if is_main and entrances else plan.day
    to_lobby = bool(plan.day.lobby) and not is_main and speaks_of(door.place, LOBBY_WORDS)
    if to_lobby:
        room = plan.day
    wide = door.leaf_w_m or LEAF_WHERE_BLANK_M
    lit = {
        side for w in package.windows_of(room.room) for side in sides_facing(w.faces, plan.turn_deg)
    }
    walls = [w for w in outer_walls(plan, room) if w.end - w.start >= wide - 0.02]
    if to_lobby and plan.day.lobby:
        high = plan.day.lobby.height
        walls = [w for w in walls if not w.is_level and w.end - w.start < high + 0.01] or walls
        wide = min(wide, high - 0.02)
    walls = walls or outer_walls(plan, room) or outer_walls(plan, plan.day)
    used = {placed.side for placed in openings.doors if placed.room is room}
    order = MAIN_SIDES if is_main else OTHER_SIDES
    wall = min(walls, key=lambda w: (w.side in used, w.side in lit, order.index(w.side)))
    start = _fit(openings, wall, wide)
    if is_main and wall.is_level and wall.end - wall.start > wide + 1.0:
        near_right = plan.inner.x1 - wall.end < wall.start - plan.inner.x0
        start = wall.end - CORNER_M - 0.05 - wide if near_right else wall.start + CORNER_M + 0.05
    hole = wall.rect(start, start + wide, plan.wall_m)
    inward = door.swing != "out"
    openings.doors.append(PlacedDoor(door, room, wall.side, start, wide, hole, inward))


def _fit(openings: Openings, wall: Wall, wide: float) -> float:
    """Return where an opening starts in a wall: the near end of its longest free stretch."""
    stretches = openings.free(wall) or [(wall.start, wall.end)]
    start, end = max(stretches, key=lambda s: s[1] - s[0])
    room = end - start
    if room < wide:
        return max(wall.start, min((start + end - wide) / 2, wall.end - wide))
    if wall.end - wall.start < wide + 1.0:
        return (start + end - wide) / 2
    return start + 0.05


def _place_window(openings: Openings, plan: Plan, window: Window) -> None:
    room = plan.of(window.room)
    if room is None:
        return
    n = window.n or 1
    wide = window.frame_w_m or 0.6
    if window.is_rooflight:
        _place_roof_lights(openings, plan, window, room, n, wide)
        return
    wanted = sides_facing(window.faces, plan.turn_deg)
    walls = outer_walls(plan, room)
    if not walls:
        return
    need = n * wide + (n - 1) * CORNER_M

    def rank(wall: Wall) -> tuple[bool, bool, float]:
        longest = max((b - a for a, b in openings.free(wall)), default=0.0)
        return wall.side not in wanted, longest < need, -longest

    wall = min(walls, key=rank)
    stretches = openings.free(wall) or [(wall.start, wall.end)]
    start, end = max(stretches, key=lambda s: s[1] - s[0])
    gap = max(0.0, (end - start - n * wide) / (n + 1))
    for i in range(n):
        at = start + gap * (i + 1) + wide * i
        at = max(wall.start, min(at, wall.end - wide))
        hole = wall.rect(at, at + wide, plan.wall_m)
        astray = wall.side not in wanted
        openings.windows.append(
            PlacedWindow(window, i, room, wall.side, at, wide, hole, is_astray=astray)
        )


def _place_roof_lights(
    openings: Openings, plan: Plan, window: Window, room: PlannedRoom, n: int, wide: float
) -> None:
    rect = room.main
    deep = min(window.frame_h_m or wide, rect.height / 3)
    wanted = sides_facing(window.faces, plan.turn_deg)
    side = wanted[0] if len(wanted) < 4 else "top"
    across = side in ("top", "bottom")
    long = rect.width if across else rect.height
    gap = max(0.05, (long - n * wide) / (n + 1))
    for i in range(n):
        at = (rect.x0 if across else rect.y0) + gap * (i + 1) + wide * i
        off = 0.28 * (rect.height if across else rect.width) - deep / 2
        if across:
            y = rect.y0 + off if side == "top" else rect.y1 - off - deep
            hole = Rect(at, y, at + wide, y + deep)
        else:
            x = rect.x0 + off if side == "left" else rect.x1 - off - deep
            hole = Rect(x, at, x + deep, at + wide)
        openings.windows.append(
            PlacedWindow(window, i, room, side, at, wide, hole, is_roof_light=True)
        )


def _public_walls(plan: Plan, room: PlannedRoom) -> list[tuple[int, Wall]]:
    """Return the walls that a room shares with rooms people pass through, best first."""
    found = []
    for other in plan.ground:
        if other is room:
            continue
        rank = 0 if other is plan.day else RANKS.get(other.room.use or "", 9)
        for mine in room.parts:
            for part in other.parts:
                if shared_m(mine, part) > 0.5:
                    is_lobby = part is other.lobby
                    found.append((rank if not is_lobby else -1, _between(mine, part)))
    return sorted(found, key=lambda f: (f[0], f[1].start - f[1].end))


def _between(mine: Rect, other: Rect) -> Wall:
    x0, x1 = max(mine.x0, other.x0), min(mine.x1, other.x1)
    y0, y1 = max(mine.y0, other.y0), min(mine.y1, other.y1)
    if x1 - x0 > y1 - y0:
        side, line = ("top", mine.y0) if other.y1 <= mine.y0 + 1e-6 else ("bottom", mine.y1)
        return Wall(side, x0, x1, line)
    side, line = ("left", mine.x0) if other.x1 <= mine.x0 + 1e-6 else ("right", mine.x1)
    return Wall(side, y0, y1, line)


def _place_inside(openings: Openings, plan: Plan, door: Door) -> None:
    day = plan.day
    wide = door.leaf_w_m or LEAF_WHERE_BLANK_M
    if day.lobby and speaks_of(door.place, LOBBY_WORDS):
        side = "left" if day.lobby.x0 < day.main.x0 else "right"
        line = day.main.x0 if side == "left" else day.main.x1
        wide = min(wide, day.lobby.height)
        start = day.lobby.y0 + (day.lobby.height - wide) / 2
        wall = Wall(side, day.lobby.y0, day.lobby.y1, line)
        hole = wall.rect(start, start + wide, PARTITION_M)
        openings.doors.append(PlacedDoor(door, day, side, start, wide, hole))
        return
    room = room_named(plan, door.place)
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
    wide = min(wide, wall.end - wall.start - 0.04)
    start = _fit(openings, wall, wide)
    hole = wall.rect(start, start + wide, PARTITION_M)
    small = room.room.use == "wc" or min(room.main.width, room.main.height) < 1.5
    openings.doors.append(PlacedDoor(door, room, wall.side, start, wide, hole, inward=not small))


def _open_up(openings: Openings, plan: Plan, room: PlannedRoom) -> None:
    """Give a room that no scheduled inside door opens a plain doorway."""
    if room is plan.day:
        return
    for placed in openings.doors:
        if placed.is_outside:
            continue
        if placed.room is room or any(placed.hole.grown(0.06).meets(p) for p in room.parts):
            return
    wide = 1.1 if room.room.use == "kitchen" else LEAF_WHERE_BLANK_M
    _hang(openings, plan, room, None, wide)

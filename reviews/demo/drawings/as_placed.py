"""Rooms, openings and furniture where their rows place them; the sheet's y runs downwards.

The plan of the rows has its y upwards and its upper walls looking to `turned_deg`: so has the
sheet. A package whose rooms aren't all placed is laid out by a search instead.
"""

from dataclasses import dataclass

from criteria.package import Package
from criteria.plans.of_package import Outline, outline
from criteria.schedules.access import Door
from criteria.schedules.furniture import Furniture
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from reviews.demo.drawings.geometry import (
    Plan,
    PlannedRoom,
    Rect,
    bounds,
    is_level,
    sides_facing,
)
from reviews.demo.drawings.names import speaks_of

PLACED = ("at_x_m", "at_y_m", "depth_m", "width_m")
BED_M = 1.2
"""A bed that is shorter is folded to a seat [m]."""
LEFT_IS_FIRST = {"top": True, "right": True, "bottom": False, "left": False}
"""Whether the left end of a wall, seen from inside, is its upper or left end on the sheet."""

WORDS = {
    "hearth": ("hearth",),
    "stove": ("stove",),
    "pan": ("toilet",),
    "basin": ("basin",),
    "tray": ("shower",),
    "stair": ("stair", "ladder"),
    "tank": ("tank",),
}
"""What a piece of no kind of its own is drawn as, by words of its name."""


def placed_plan(package: Package, wall_m: float) -> Plan | None:
    """Return the plan that the rooms' rows give, or None where they don't give it whole."""
    rooms = package.rooms
    if not rooms or any(getattr(room, name) is None for room in rooms for name in PLACED):
        return None
    ground = [room for room in rooms if not room.level]
    outlines = {
        room.mark: outline(package, room, *(ground if room in ground else ())) for room in rooms
    }
    rects = {room.mark: _rect(room, outlines[room.mark]) for room in rooms}
    inner = bounds(*(rects[room.mark] for room in ground))
    planned = tuple(
        PlannedRoom(room, _moved(rects[room.mark], inner), is_upper=bool(room.level))
        for room in rooms
    )
    turned = outlines[ground[0].mark].turned_deg
    return Plan(_moved(inner, inner), wall_m, turned, planned)


def _rect(room: Room, outline: Outline) -> Rect:
    x, y = room.at_x_m, room.at_y_m
    return Rect(x, -y - outline.up_m, x + outline.across_m, -y)


def _moved(rect: Rect, inner: Rect) -> Rect:
    """Return a rectangle measured from the upper left inside corner."""
    return Rect(rect.x0 - inner.x0, rect.y0 - inner.y0, rect.x1 - inner.x0, rect.y1 - inner.y0)


@dataclass(frozen=True)
class Bay:
    """A piece that stands beside the building: on plan, and its underside and top [m]."""

    rect: Rect
    low_m: float
    high_m: float


def outside(plan: Plan, package: Package) -> tuple[Bay, ...]:
    """Return the pieces that have a place beside the building, such as the bays of a terrace."""
    ground = [room for room in package.rooms if not room.level]
    if any(getattr(room, name) is None for room in ground for name in PLACED):
        return ()
    x0, y0 = (min(getattr(room, name) for room in ground) for name in PLACED[:2])
    found = []
    for piece in package.pieces:
        spot = (piece.at_x_m, piece.at_y_m, piece.at_z_m)
        if None not in (*spot, *piece.sizes_m):
            x, y, long, wide = piece.at_x_m - x0, piece.at_y_m - y0, piece.length_m, piece.width_m
            up = plan.inner.height - y
            rect, low = Rect(x, up - wide, x + long, up), piece.at_z_m
            found.append(Bay(rect, low, low + piece.height_m))
    return tuple(bay for bay in found if not bay.rect.meets(plan.inner))


def side_of(plan: Plan, faces: str | None) -> str | None:
    """Return the one side of a plan that looks a way."""
    sides = sides_facing(faces, plan.turn_deg)
    return sides[0] if len(sides) == 1 else None


def start_on(room: PlannedRoom, side: str, left_m: float, wide_m: float) -> float:
    """Return where an opening starts along a side, from the left or top of the sheet [m]."""
    low, high = room.main.span(is_level(side))
    return low + left_m if LEFT_IS_FIRST[side] else high - left_m - wide_m


def window_starts(room: PlannedRoom, side: str, window: Window) -> list[float] | None:
    """Return where the frames of a row of windows start; None where the row doesn't say."""
    n, frame, glass = window.n or 1, window.frame_w_m, window.glass_w_m
    if window.left_m is None or not (frame and glass) or (n > 1 and window.gap_m is None):
        return None
    edge, step = (frame - glass) / 2, glass + (window.gap_m or 0.0)
    return [start_on(room, side, window.left_m - edge + i * step, frame) for i in range(n)]


def door_start(plan: Plan, door: Door, wide_m: float) -> tuple[PlannedRoom, str, float] | None:
    """Return the room, its side and where a door starts along it; None where no row says so."""
    room, side = plan.of(door.room), side_of(plan, door.faces) if door.faces else None
    if room is None or side is None or door.left_m is None:
        return None
    return room, side, start_on(room, side, door.left_m, wide_m)


def hinge_is_last(side: str, door: Door) -> bool:
    """Whether a leaf hangs at the lower or right end of its opening."""
    return (door.hinge == "right") is LEFT_IS_FIRST[side]


def rect_of(room: PlannedRoom, piece: Furniture) -> Rect | None:
    """Return where a piece stands on the sheet; None where its row doesn't say."""
    sizes = (piece.used_l_m, piece.used_w_m, piece.plan_x_m, piece.plan_y_m)
    if None in sizes:
        return None
    long, deep, x, y = sizes
    if round(piece.turn_deg or 0.0) % 180 == 90:
        long, deep = deep, long
    x, y = room.main.x0 + x, room.main.y1 - y
    return Rect(x - long / 2, y - deep / 2, x + long / 2, y + deep / 2)


def kind_of(room: PlannedRoom, piece: Furniture, twice: bool) -> str:
    """Return as what a piece is drawn; two beds on one place are a bunk."""
    if piece.kind == "bed" and max(piece.used_l_m or 0, piece.used_w_m or 0) < BED_M:
        return "bench"
    if piece.kind == "bed":
        flat = room.is_upper or speaks_of(piece.item, ("mattress",))
        return "bunk" if twice else "mattress" if flat else "bed"
    if piece.kind == "worktop":
        return "lab" if room.room.use == "lab" else "counter"
    known = {"table": "table", "seat": "bench", "desk": "table", "hook": "hooks"}
    words = (kind for kind, each in WORDS.items() if speaks_of(piece.item, each))
    return known.get(piece.kind or "") or next(words, "shelf")


def head_of(room: PlannedRoom, rect: Rect, is_bed: bool) -> str:
    """Return the side where a pillow or back is: the nearest wall, of a bed by its short sides."""
    ends = ("left", "right") if rect.width > rect.height else ("top", "bottom")
    sides = ends if is_bed else ("top", "right", "bottom", "left")
    return min(sides, key=lambda side: abs(rect.edge(side) - room.main.edge(side)))

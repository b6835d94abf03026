"""The parts of a plan drawing: walls cut through, windows, doors and furniture."""

from collections.abc import Sequence
from itertools import product

from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.fittings import BEDS, FIRES, Fitting
from reviews.demo.drawings.geometry import ENDS, SIDES, Plan, PlannedRoom, Rect, bounds, is_level
from reviews.demo.drawings.openings import Openings, PlacedDoor, PlacedWindow

SWINGS = {"bottom": (0, 90), "right": (0, 90), "left": (90, 180), "top": (270, 360)}
LAST_SWINGS = {"bottom": (90, 180), "right": (270, 360), "left": (180, 270), "top": (180, 270)}
"""From where to where a leaf swings by the side it opens to [°], hung first or last."""


def draw_walls(view: Canvas, plan: Plan, rooms: Sequence[PlannedRoom], openings: Openings) -> None:
    """Draw the walls round some rooms, cut through, with the openings in them."""
    inside = bounds(*(part for room in rooms for part in room.parts))
    inner = Rect(inside.x0, plan.inner.y0, inside.x1, plan.inner.y1)
    view.shape(inner.grown(plan.wall_m).corners, "cut", hatch=(1.05, 45, "ochre"))
    view.shape(inner.corners, "cut", fill="ink")
    for room in rooms:
        for part in room.parts:
            view.shape(part.corners)
    for room in rooms:
        if room.lobby:
            mouth = "left" if room.lobby.x0 >= room.main.x1 - 1e-6 else "right"
            view.wipe(room.lobby.beside(mouth, 0.03).grown(0.03, -0.012).corners)
    for window in openings.windows:
        if window.room in rooms:
            _window(view, window)
    for door in openings.doors:
        if door.room in rooms:
            _door(view, door)


def _window(view: Canvas, window: PlacedWindow) -> None:
    hole, side = window.hole, window.side
    if window.is_roof_light:
        view.shape(hole.corners, "thin", "graphite", dash=(2.2, 1.1))
        view.line(hole.corners[::2], "hair", "graphite")
        return
    view.shape(hole.corners)
    middle = 0.32 * hole.long(not is_level(side))
    frame = hole.layer(side, middle - 0.035, middle + 0.035)
    view.shape(frame.corners, "thin")
    view.line(hole.layer(side, middle, middle).corners[::2], "thin")
    for end in ENDS[is_level(side)]:
        view.shape(frame.beside(end, -0.08).corners, "hair", fill="ink")


def _door(view: Canvas, door: PlacedDoor) -> None:
    """Draw an opening and, of a scheduled door, its leaf open and the way it swings."""
    hole, level = door.hole, is_level(door.side)
    view.wipe(hole.grown(*((0.0, 0.02) if level else (0.02, 0.0))).corners)
    for side in SIDES:
        if side in ENDS[level]:
            view.line(hole.line(side), "bold")
        elif door.door is None or door.is_outside:
            view.line(hole.line(side), "hair", "fine")
    if door.door is None or door.door.swing == "slides":
        return
    to, (start, end) = door.opens_to, hole.span(level)
    swings, first = (LAST_SWINGS, end - 0.045) if door.hung_last else (SWINGS, start)
    view.arc(hole.line(to)[-1 if door.hung_last else 0], view.mm(door.wide_m), *swings[to])
    view.shape(hole.beside(to, door.wide_m, first, first + 0.045).corners, "thin")


def draw_at_night(view: Canvas, fitting: Fitting) -> None:
    """Draw with a broken line where a piece of furniture stands at night, over the day's."""
    corners = fitting.rect.corners
    view.line([*corners, corners[0]], "thin", "spruce", (2.6, 1.2))


def draw_fitting(view: Canvas, fitting: Fitting) -> None:
    """Draw one piece of furniture on plan."""
    r, kind = fitting.rect, fitting.kind
    shape = r.corners
    if kind in FIRES:
        view.shape(shape, "bold", hatch=(1.0, 45, "graphite"))
        view.hatch(shape, 1.0, -45, "graphite")
        view.circle(r.centre, view.mm(0.14))
        return
    heavy = (*BEDS, "table", "counter", "lab", "tank")
    view.shape(shape, "thin" if kind in heavy else "hair", "graphite")
    if kind in BEDS:
        pillow = r.grown(-0.07).beside(fitting.head or "top", -0.31)
        view.shape(pillow.corners, "hair", "graphite")
    if kind == "bunk":
        view.line(shape[::2], "hair", "fine", (2, 1))
    elif kind in ("counter", "lab"):
        _worktop(view, fitting)
    elif kind == "stair":
        view.hatch(shape, 3.0, 0 if r.height > r.width else 90, "graphite")
    elif kind == "tray":
        view.line(shape[::2], "hair", "fine")
        view.line(shape[1::2], "hair", "fine")
    elif kind == "pan":
        view.circle(r.centre, view.mm(min(r.width, r.height) * 0.36), "thin", "graphite")
    elif kind == "tank":
        view.hatch(shape, 1.5, -45, "spruce")
        view.text(r.centre, fitting.words, 3.4, "medium", anchor="mm", halo=True)
    elif kind == "hooks":
        level = r.width > r.height
        for i in range(int(r.long(level) / 0.18)):
            at = r.span(level)[0] + 0.09 + i * 0.18
            spot = (at, r.centre[1]) if level else (r.centre[0], at)
            view.circle(spot, 0.35, "hair", "graphite", "graphite")


def _worktop(view: Canvas, fitting: Fitting) -> None:
    """Draw the sink and, in a kitchen, the rings."""
    r = fitting.rect
    level = r.width > r.height
    start, long = r.span(level)[0], r.long(level)

    def spot(share: float, half: float) -> Rect:
        at = start + long * share
        x, y = (at, r.centre[1]) if level else (r.centre[0], at)
        return Rect(x, y, x, y).grown(*((half, half * 0.75) if level else (half * 0.75, half)))

    if long > 0.8:
        view.shape(spot(0.28, 0.22).corners, "hair", "graphite")
    if fitting.kind == "counter" and long > 1.3:
        hob = spot(0.74, 0.26)
        for dx, dy in product((-0.23, 0.23), repeat=2):
            at = (hob.centre[0] + hob.width * dx, hob.centre[1] + hob.height * dy)
            view.circle(at, view.mm(0.075), "hair", "graphite")

"""The parts of a plan drawing: walls cut through, windows, doors and furniture."""

from collections.abc import Sequence

from reviews.demo.drawings.canvas import (
    BOLD,
    CUT,
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PAPER,
    SPRUCE,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.fittings import Fitting
from reviews.demo.drawings.geometry import Plan, PlannedRoom, Rect
from reviews.demo.drawings.openings import Openings, PlacedDoor, PlacedWindow
from reviews.demo.drawings.symbols import Placing

INWARD = {"top": 1, "bottom": -1, "left": 1, "right": -1}
"""Which way along the sheet is into a room from each of its sides."""


def corners(place: Placing, rect: Rect) -> list[Point]:
    """Return a rectangle's corners on paper."""
    return [
        place.at(rect.x0, rect.y0),
        place.at(rect.x1, rect.y0),
        place.at(rect.x1, rect.y1),
        place.at(rect.x0, rect.y1),
    ]


def draw_walls(
    canvas: Canvas, place: Placing, plan: Plan, rooms: Sequence[PlannedRoom], openings: Openings
) -> None:
    """Draw the walls round some rooms, cut through, with the openings in them."""
    inner = Rect(
        min(r.x0 for room in rooms for r in room.parts),
        plan.inner.y0,
        max(r.x1 for room in rooms for r in room.parts),
        plan.inner.y1,
    )
    outer = inner.grown(plan.wall_m)
    canvas.shape(corners(place, outer), PAPER, ink=None)
    for strip in (
        Rect(outer.x0, outer.y0, outer.x1, inner.y0),
        Rect(outer.x0, inner.y1, outer.x1, outer.y1),
        Rect(outer.x0, inner.y0, inner.x0, inner.y1),
        Rect(inner.x1, inner.y0, outer.x1, inner.y1),
    ):
        canvas.hatch(corners(place, strip), 1.05, 45, HAIR, OCHRE)
    canvas.shape(corners(place, outer), None, CUT, INK)
    canvas.shape(corners(place, inner), INK, CUT, INK)
    for room in rooms:
        for part in room.parts:
            canvas.shape(corners(place, part), PAPER, LINE, INK)
    for room in rooms:
        if room.lobby:
            canvas.shape(corners(place, _mouth(room.main, room.lobby)), PAPER, ink=None)
    for window in openings.windows:
        if window.room in rooms:
            _window(canvas, place, window)
    for door in openings.doors:
        if door.room in rooms:
            _door(canvas, place, door)


def _mouth(main: Rect, lobby: Rect) -> Rect:
    """Return a strip that wipes out the line between a room and its lobby."""
    x = lobby.x0 if lobby.x0 >= main.x1 - 1e-6 else lobby.x1
    return Rect(x - 0.03, lobby.y0 + 0.012, x + 0.03, lobby.y1 - 0.012)


def _strip(hole: Rect, level: bool, middle: float, thick: float) -> Rect:
    """Return a strip along a wall's opening."""
    if level:
        return Rect(hole.x0, middle - thick / 2, hole.x1, middle + thick / 2)
    return Rect(middle - thick / 2, hole.y0, middle + thick / 2, hole.y1)


def _window(canvas: Canvas, place: Placing, window: PlacedWindow) -> None:
    hole = window.hole
    if window.is_roof_light:
        shape = corners(place, hole)
        canvas.shape(shape, PAPER, THIN, GRAPHITE, (2.2, 1.1))
        canvas.line([shape[0], shape[2]], HAIR, GRAPHITE)
        return
    canvas.shape(corners(place, hole), PAPER, LINE, INK)
    level = window.side in ("top", "bottom")
    thick = hole.height if level else hole.width
    x, y = hole.centre
    middle = (y if level else x) - INWARD[window.side] * 0.18 * thick
    strip = _strip(hole, level, middle, 0.07)
    canvas.shape(corners(place, strip), PAPER, THIN, INK)
    ends = (
        ((strip.x0, middle), (strip.x1, middle))
        if level
        else ((middle, strip.y0), (middle, strip.y1))
    )
    canvas.line([place.at(*end) for end in ends], THIN, INK)
    block = 0.08
    for part in (
        Rect(strip.x0, strip.y0, strip.x0 + block, strip.y1)
        if level
        else Rect(strip.x0, strip.y0, strip.x1, strip.y0 + block),
        Rect(strip.x1 - block, strip.y0, strip.x1, strip.y1)
        if level
        else Rect(strip.x0, strip.y1 - block, strip.x1, strip.y1),
    ):
        canvas.shape(corners(place, part), INK, HAIR, INK)


def _door(canvas: Canvas, place: Placing, door: PlacedDoor) -> None:
    hole = door.hole
    level = door.side in ("top", "bottom")
    wipe = (
        Rect(hole.x0, hole.y0 - 0.02, hole.x1, hole.y1 + 0.02)
        if level
        else Rect(hole.x0 - 0.02, hole.y0, hole.x1 + 0.02, hole.y1)
    )
    canvas.shape(corners(place, wipe), PAPER, ink=None)
    shape = corners(place, hole)
    jambs = ((0, 3), (1, 2)) if level else ((0, 1), (3, 2))
    faces = ((0, 1), (3, 2)) if level else ((0, 3), (1, 2))
    for a, b in jambs:
        canvas.line([shape[a], shape[b]], BOLD, INK)
    if door.door is None or door.is_outside:
        for a, b in faces:
            canvas.line([shape[a], shape[b]], HAIR, FINE)
    if door.door is not None:
        _leaf(canvas, place, door)


def _leaf(canvas: Canvas, place: Placing, door: PlacedDoor) -> None:
    """Draw the leaf open at a right angle and the way it swings."""
    hole, wide = door.hole, door.wide_m
    into = INWARD[door.side] * (1 if door.inward else -1)
    if door.side in ("top", "bottom"):
        y = hole.y1 if into > 0 else hole.y0
        hinge, tip = (hole.x0, y), y + into * wide
        start, end = (0, 90) if into > 0 else (270, 360)
        leaf = Rect(hole.x0, min(y, tip), hole.x0 + 0.045, max(y, tip))
    else:
        x = hole.x1 if into > 0 else hole.x0
        hinge, tip = (x, hole.y0), x + into * wide
        start, end = (0, 90) if into > 0 else (90, 180)
        leaf = Rect(min(x, tip), hole.y0, max(x, tip), hole.y0 + 0.045)
    canvas.arc(place.at(*hinge), place.mm(wide), start, end, THIN, GRAPHITE)
    canvas.shape(corners(place, leaf), PAPER, THIN, INK)


def draw_fitting(canvas: Canvas, place: Placing, fitting: Fitting) -> None:
    """Draw one piece of furniture on plan."""
    r, kind = fitting.rect, fitting.kind
    shape = corners(place, r)
    if kind in ("bed", "bunk", "mattress"):
        canvas.shape(shape, PAPER, THIN, GRAPHITE)
        canvas.shape(corners(place, _pillow(r, fitting.head)), None, HAIR, GRAPHITE)
        if kind == "bunk":
            canvas.line([shape[0], shape[2]], HAIR, FINE, (2, 1))
        return
    if kind in ("hearth", "stove"):
        canvas.shape(shape, PAPER, BOLD, INK)
        canvas.hatch(shape, 1.0, 45, HAIR, GRAPHITE)
        canvas.hatch(shape, 1.0, -45, HAIR, GRAPHITE)
        canvas.circle(place.at(*r.centre), place.mm(0.14), PAPER, LINE, INK)
        return
    pen = THIN if kind in ("table", "counter", "lab", "tank") else HAIR
    canvas.shape(shape, PAPER, pen, GRAPHITE)
    if kind in ("counter", "lab"):
        _worktop(canvas, place, fitting)
    elif kind == "tray":
        canvas.line([shape[0], shape[2]], HAIR, FINE)
        canvas.line([shape[1], shape[3]], HAIR, FINE)
    elif kind == "pan":
        radius = place.mm(min(r.width, r.height) * 0.36)
        canvas.circle(place.at(*r.centre), radius, PAPER, THIN, GRAPHITE)
    elif kind == "tank":
        canvas.hatch(shape, 1.5, -45, HAIR, SPRUCE)
        canvas.text(place.at(*r.centre), fitting.words, 3.4, "medium", INK, "mm", halo=True)
    elif kind == "hooks":
        _hooks(canvas, place, r)


def _pillow(r: Rect, head: str) -> Rect:
    inset, deep = 0.07, 0.38
    return {
        "bottom": Rect(r.x0 + inset, r.y1 - deep, r.x1 - inset, r.y1 - inset),
        "left": Rect(r.x0 + inset, r.y0 + inset, r.x0 + deep, r.y1 - inset),
        "right": Rect(r.x1 - deep, r.y0 + inset, r.x1 - inset, r.y1 - inset),
    }.get(head, Rect(r.x0 + inset, r.y0 + inset, r.x1 - inset, r.y0 + deep))


def _hooks(canvas: Canvas, place: Placing, r: Rect) -> None:
    level = r.width > r.height
    for i in range(int((r.width if level else r.height) / 0.18)):
        at = 0.09 + i * 0.18
        spot = (r.x0 + at, r.centre[1]) if level else (r.centre[0], r.y0 + at)
        canvas.circle(place.at(*spot), 0.35, GRAPHITE, HAIR, GRAPHITE)


def _worktop(canvas: Canvas, place: Placing, fitting: Fitting) -> None:
    """Draw the sink and, in a kitchen, the rings."""
    r = fitting.rect
    level = r.width > r.height
    long = r.width if level else r.height

    def spot(at: float, half: float) -> Rect:
        x, y = r.centre
        if level:
            return Rect(r.x0 + at - half, y - half * 0.75, r.x0 + at + half, y + half * 0.75)
        return Rect(x - half * 0.75, r.y0 + at - half, x + half * 0.75, r.y0 + at + half)

    if long > 0.8:
        canvas.shape(corners(place, spot(long * 0.28, 0.22)), None, HAIR, GRAPHITE)
    if fitting.kind == "counter" and long > 1.3:
        hob = spot(long * 0.74, 0.26)
        for dx in (0.27, 0.73):
            for dy in (0.27, 0.73):
                at = place.at(hob.x0 + hob.width * dx, hob.y0 + hob.height * dy)
                canvas.circle(at, place.mm(0.075), None, HAIR, GRAPHITE)

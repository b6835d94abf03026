"""Sheet 04: two inside views in one-point perspective, constructed from plan and heights."""

from collections.abc import Sequence
from dataclasses import dataclass

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    BOLD,
    FINE,
    GLASS,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    SPRUCE,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.fittings import OPPOSITE
from reviews.demo.drawings.geometry import PlannedRoom, Rect
from reviews.demo.drawings.heights import clear_height_m
from reviews.demo.drawings.key_plan import draw_key
from reviews.demo.drawings.openings import PlacedDoor, PlacedWindow
from reviews.demo.drawings.page import FIELD, Field, caption
from reviews.demo.drawings.stage import Stage, back_of
from reviews.demo.drawings.symbols import grouped, person

EYE_M = 1.55
TAKEN_AWAY_M = 1.0
"""How much of the near end of the room is taken away with the wall behind one [m]."""
TALLEST_MM, APART_MM = 140.0, 12.0
"""The tallest that a view may be, and the space between two [mm of paper]."""
TALL = {
    "table": (0.71, 0.75), "bench": (0.40, 0.45), "counter": (0.0, 0.9), "lab": (0.84, 0.9),
    "hearth": (0.0, 1.0), "stove": (0.0, 1.0), "tank": (0.0, 1.3), "seat": (0.0, 0.45),
    "bed": (0.3, 0.5), "bunk": (0.35, 0.5), "mattress": (0.2, 0.4), "shelf": (0.0, 1.8),
}  # fmt: skip
"""Underside and top of furniture above the floor [m]: common practice."""


@dataclass(frozen=True)
class Camera:
    """Where one stands and how the picture lies on paper."""

    stage: Stage
    back_m: float
    per_m: float
    left: float
    floor: float

    def at(self, x: float, d: float, z: float) -> Point:
        """Return on paper a place: across, into the room, above the floor [m]."""
        s = self.stage
        shrink = self.back_m / (self.back_m + d)
        mid = s.width / 2
        return (
            self.left + (mid + (x - mid) * shrink) * self.per_m,
            self.floor - (EYE_M + (z - EYE_M) * shrink) * self.per_m,
        )


def draw_views(canvas: Canvas, building: Building) -> None:
    """Draw two views of one height side by side, and over them where one stands."""
    stages = _stages(building)
    shapes = [stage.width / stage.high for stage in stages]
    high = min(TALLEST_MM, (FIELD.width - APART_MM) / sum(shapes))
    wide = sum(shapes) * high + APART_MM
    left, foot = FIELD.left + (FIELD.width - wide) / 2, FIELD.bottom - 13
    for number, (stage, shape) in enumerate(zip(stages, shapes, strict=True), start=1):
        camera = Camera(stage, back_of(stage), high / stage.high, left, foot)
        _view(canvas, building, camera)
        words = f"{number}  {stage.room.room.name}, looking {_way(building, stage.towards)}"
        note = f"{grouped(stage.width)} wide, {grouped(stage.depth)} deep"
        room = shape * high - canvas.width_of(words, 5.2, "strong") - 3
        caption(canvas, (left, foot + 9), words, note if canvas.width_of(note, 4.0) < room else "")
        left += shape * high + APART_MM
    draw_key(canvas, building, stages, Field(FIELD.left, FIELD.top, FIELD.right, foot - high - 9))


def _stages(building: Building) -> list[Stage]:
    """Choose what to look at: a lab first, then the day room, each towards its best window."""
    plan = building.plan
    lab = next((r for r in plan.ground if r.room.use == "lab"), None)
    day = _stage(building, plan.day, _lit_sides(building, plan.day)[0])
    if lab:
        return [_stage(building, lab, _lit_sides(building, lab)[0]), day]
    sides = _lit_sides(building, plan.day)
    other = next((s for s in sides[1:] if s != OPPOSITE[sides[0]]), OPPOSITE[sides[0]])
    return [day, _stage(building, plan.day, other)]


def _lit_sides(building: Building, room: PlannedRoom) -> list[str]:
    glass = dict.fromkeys(building.plan.outside_sides(room), 0.0)
    for window in building.openings.windows:
        if window.room is room and not window.is_roof_light:
            glass[window.side] = glass.get(window.side, 0.0) + window.wide_m
    return sorted(glass, key=lambda side: -glass[side]) or ["top"]


def _stage(building: Building, room: PlannedRoom, towards: str) -> Stage:
    r = room.main
    wide, deep = (r.width, r.height) if towards in ("top", "bottom") else (r.height, r.width)
    return Stage(room, towards, wide, deep, clear_height_m(room.room))


def _view(canvas: Canvas, building: Building, camera: Camera) -> None:
    stage = camera.stage
    w, d, h = stage.width, stage.depth, stage.high
    frame = [camera.at(0, 0, 0), camera.at(w, 0, 0), camera.at(w, 0, h), camera.at(0, 0, h)]
    canvas.shape(frame, PAPER, BOLD)
    far = [camera.at(0, d, 0), camera.at(w, d, 0), camera.at(w, d, h), camera.at(0, d, h)]
    _boards(canvas, camera)
    canvas.shape(far, PAPER, LINE, INK)
    for a, b in zip(frame, far, strict=True):
        canvas.line([a, b], LINE, INK)
    ceiling = [frame[3], frame[2], far[2], far[3]]
    canvas.hatch(ceiling, 2.6, 0, HAIR, PALE)
    for side in ("left", "right"):
        x = 0.0 if side == "left" else w
        wall = [camera.at(x, 0, 0), camera.at(x, d, 0), camera.at(x, d, h), camera.at(x, 0, h)]
        canvas.hatch(wall, 2.2, 90, HAIR, PALE)
        canvas.shape(wall, None, LINE, INK)
    for window in building.openings.windows:
        if window.room is stage.room and not window.is_roof_light:
            _window(canvas, camera, window)
    for door in building.openings.doors:
        _door(canvas, camera, door)
    _furniture(canvas, building, camera)
    canvas.shape(frame, None, BOLD)


def _way(building: Building, towards: str) -> str:
    names = (
        "north",
        "north-east",
        "east",
        "south-east",
        "south",
        "south-west",
        "west",
        "north-west",
    )
    index = ("top", "right", "bottom", "left").index(towards)
    bearing = (building.plan.turn_deg + 90 * index) % 360
    return names[round(bearing / 45) % 8]


def _boards(canvas: Canvas, camera: Camera) -> None:
    s = camera.stage
    n = round(s.width / 0.28)
    for i in range(1, n):
        x = s.width * i / n
        canvas.line([camera.at(x, 0, 0), camera.at(x, s.depth, 0)], HAIR, PALE)


def _wall_points(
    camera: Camera, side: str, start: float, end: float, low: float, high: float
) -> list[Point] | None:
    """Return a rectangle on one of the room's walls as the picture shows it."""
    s = camera.stage
    r = s.room.main
    spots = {
        "top": ((start, r.y0), (end, r.y0)),
        "bottom": ((start, r.y1), (end, r.y1)),
        "left": ((r.x0, start), (r.x0, end)),
        "right": ((r.x1, start), (r.x1, end)),
    }[side]
    if side == OPPOSITE[s.towards]:
        return None
    (x0, d0), (x1, d1) = (s.turned(*p) for p in spots)
    d0, d1 = max(0.0, d0), max(0.0, d1)
    return [
        camera.at(x0, d0, low),
        camera.at(x1, d1, low),
        camera.at(x1, d1, high),
        camera.at(x0, d0, high),
    ]


def _window(canvas: Canvas, camera: Camera, window: PlacedWindow) -> None:
    w = window.window
    sill, high = w.sill_m, w.frame_h_m
    if sill is None or not high:
        return
    edge = (high - (w.glass_h_m or high)) / 2
    side = (window.wide_m - (w.glass_w_m or window.wide_m)) / 2
    a, b = window.start_m, window.start_m + window.wide_m
    frame = _wall_points(camera, window.side, a, b, sill - edge, sill - edge + high)
    glass = _wall_points(camera, window.side, a + side, b - side, sill, sill + high - 2 * edge)
    if frame is None or glass is None:
        return
    canvas.shape(frame, PAPER, LINE, INK)
    canvas.shape(glass, GLASS, THIN, INK)
    _outlook(canvas, glass)
    x = (frame[0][0] + frame[1][0]) / 2
    y = min(frame[2][1], frame[3][1]) - 1.8
    words = f"{w.mark}  {grouped(w.frame_w_m or 0)} × {grouped(high)}"
    if canvas.width_of(words, 3.4) > frame[1][0] - frame[0][0]:
        words = w.mark
    if window.side == camera.stage.towards:
        canvas.text(
            (x, y),
            words,
            3.4,
            "label",
            GRAPHITE,
            "ms",
            True,
        )


def _outlook(canvas: Canvas, glass: Sequence[Point]) -> None:
    """Draw a far ridge or shore through the glass."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = glass

    def spot(u: float, v: float) -> Point:
        low = (x0 + (x1 - x0) * u, y0 + (y1 - y0) * u)
        top = (x3 + (x2 - x3) * u, y3 + (y2 - y3) * u)
        return low[0] + (top[0] - low[0]) * v, low[1] + (top[1] - low[1]) * v

    far = [(0, 0.42), (0.16, 0.52), (0.3, 0.44), (0.47, 0.63), (0.63, 0.46), (0.8, 0.55), (1, 0.45)]
    canvas.line([spot(u, v) for u, v in far], THIN, FINE)
    near = [(0, 0.26), (0.3, 0.3), (0.6, 0.22), (1, 0.29)]
    canvas.line([spot(u, v) for u, v in near], THIN, SPRUCE)
    hill = [spot(u, v) for u, v in (*near, (1, 0), (0, 0))]
    canvas.hatch(hill, 1.6, 20, HAIR, SPRUCE)


def _door(canvas: Canvas, camera: Camera, door: PlacedDoor) -> None:
    room = camera.stage.room
    hole, main = door.hole, room.main
    if not hole.grown(0.03).meets(main):
        return
    touching = {
        "top": abs(hole.y1 - main.y0) < 0.03
        or (abs(hole.y0 - main.y0) < 0.15 and hole.y1 <= main.y0 + 0.15),
        "bottom": abs(hole.y0 - main.y1) < 0.03,
        "left": abs(hole.x1 - main.x0) < 0.03,
        "right": abs(hole.x0 - main.x1) < 0.03,
    }
    side = next((s for s, on in touching.items() if on), None)
    if side is None:
        return
    a, b = (hole.x0, hole.x1) if side in ("top", "bottom") else (hole.y0, hole.y1)
    high = (door.door.height_m if door.door else None) or 2.05
    shape = _wall_points(camera, side, a, b, 0.0, min(high, camera.stage.high - 0.05))
    if shape is None:
        return
    canvas.shape(shape, PAPER, LINE, INK)
    if door.door:
        mid_low = ((shape[0][0] * 0.12 + shape[1][0] * 0.88), (shape[0][1] + shape[1][1]) / 2)
        mid_top = (mid_low[0], (shape[2][1] + shape[3][1]) / 2)
        y = mid_low[1] + (mid_top[1] - mid_low[1]) * 0.48
        canvas.circle((mid_low[0], y), 0.7, INK, HAIR, INK)
    else:
        canvas.hatch(shape, 1.8, 45, HAIR, FINE)


def _furniture(canvas: Canvas, building: Building, camera: Camera) -> None:
    s = camera.stage
    boxes = []
    for fitting in building.fittings:
        if fitting.room is s.room and fitting.kind in TALL:
            r: Rect = fitting.rect
            corners = [s.turned(x, y) for x in (r.x0, r.x1) for y in (r.y0, r.y1)]
            x0, x1 = min(c[0] for c in corners), max(c[0] for c in corners)
            d0, d1 = min(c[1] for c in corners), max(c[1] for c in corners)
            if d1 > TAKEN_AWAY_M:
                boxes.append((d1, x0, x1, d0, fitting.kind))
    mid = s.width / 2
    for d1, x0, x1, d0, kind in sorted(boxes, key=lambda b: (-b[0], -abs((b[1] + b[2]) / 2 - mid))):
        low, high = TALL[kind]
        _box(canvas, camera, x0, x1, d0, d1, low, high, kind)
    across, into = _standing(s, [(b[1], b[2], b[3], b[0]) for b in boxes])
    spot, top = camera.at(across, into, 0.0), camera.at(across, into, 1.68)
    near = [box for box in boxes if box[3] < into]
    person(canvas, spot, spot[1] - top[1])
    for d1, x0, x1, d0, kind in sorted(near, key=lambda b: (-b[0], -abs((b[1] + b[2]) / 2 - mid))):
        low, high = TALL[kind]
        _box(canvas, camera, x0, x1, d0, d1, low, high, kind)


def _standing(stage: Stage, boxes: Sequence[tuple[float, float, float, float]]) -> Point:
    """Return a clear place to stand, across and depth [m], about half way in and to one side."""
    spots = [
        (stage.width * i / 20, stage.depth * j / 20) for i in range(2, 19) for j in range(6, 17)
    ]

    def cost(spot: Point) -> float:
        x, d = spot
        inside = any(a - 0.25 < x < b + 0.25 and c - 0.2 < d < e + 0.2 for a, b, c, e in boxes)
        return 100.0 * inside + abs(x - stage.width * 0.2) + abs(d - stage.depth * 0.45)

    return min(spots, key=cost)


def _box(
    canvas: Canvas,
    camera: Camera,
    x0: float,
    x1: float,
    d0: float,
    d1: float,
    low: float,
    high: float,
    kind: str,
) -> None:
    def spot(x: float, d: float, z: float) -> Point:
        return camera.at(x, d, z)

    if low > 0.1:
        for x in (x0 + 0.06, x1 - 0.06):
            for d in (d1, d0):
                canvas.line([spot(x, d, 0), spot(x, d, low)], THIN, GRAPHITE)
    mid = camera.stage.width / 2
    if x0 > mid or x1 < mid:
        x = x0 if x0 > mid else x1
        side = [spot(x, d0, low), spot(x, d1, low), spot(x, d1, high), spot(x, d0, high)]
        canvas.shape(side, PAPER, THIN, INK)
        canvas.hatch(side, 1.1, 45, HAIR, FINE)
    top = [spot(x0, d0, high), spot(x1, d0, high), spot(x1, d1, high), spot(x0, d1, high)]
    if high < EYE_M:
        canvas.shape(top, PAPER, THIN, INK)
    front = [spot(x0, d0, low), spot(x1, d0, low), spot(x1, d0, high), spot(x0, d0, high)]
    canvas.shape(front, PAPER, THIN, INK)
    if kind in ("hearth", "stove"):
        canvas.hatch(front, 1.6, 45, HAIR, OCHRE)
        canvas.hatch(front, 1.6, -45, HAIR, OCHRE)
        x = (x0 + x1) / 2
        d = (d0 + d1) / 2
        ceiling = camera.stage.high
        pipe = [
            spot(x - 0.09, d, high),
            spot(x + 0.09, d, high),
            spot(x + 0.09, d, ceiling),
            spot(x - 0.09, d, ceiling),
        ]
        canvas.shape(pipe, PAPER, THIN, INK)
        canvas.hatch(pipe, 1.4, 90, HAIR, GRAPHITE)

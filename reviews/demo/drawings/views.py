"""Sheet 04: two inside views in one-point perspective, constructed from plan and heights."""

from collections.abc import Sequence
from dataclasses import dataclass

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas, Point, Spot
from reviews.demo.drawings.fittings import FIRES, SURFACES_M
from reviews.demo.drawings.geometry import OPPOSITE, SIDES, PlannedRoom, Rect, is_level
from reviews.demo.drawings.heights import clear_height_m
from reviews.demo.drawings.key_plan import draw_key
from reviews.demo.drawings.openings import PlacedDoor, PlacedWindow
from reviews.demo.drawings.page import FIELD, Field, caption
from reviews.demo.drawings.stage import Stage
from reviews.demo.drawings.symbols import grouped, person

EYE_M = 1.55
TAKEN_AWAY_M = 1.0
"""How much of the near end of the room is taken away with the wall behind one [m]."""
TALLEST_MM, APART_MM = 140.0, 12.0
"""The tallest that a view may be, and the space between two [mm of paper]."""
WAYS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


@dataclass(frozen=True)
class Box:
    """A piece of furniture as the picture has it: across, into the room, above the floor [m]."""

    kind: str
    x0: float
    x1: float
    d0: float
    d1: float

    def face(self, d: float) -> list[Spot]:
        """Return its outline at a depth."""
        low, high = SURFACES_M[self.kind][0]
        return _upright((self.x0, d), (self.x1, d), low, high)


def _upright(a: Point, b: Point, low: float, high: float) -> list[Spot]:
    """Return a rectangle that stands between two places."""
    return [(*a, low), (*b, low), (*b, high), (*a, high)]


def draw_views(canvas: Canvas, building: Building) -> None:
    """Draw two views of one height side by side, and over them where one stands."""
    stages = _stages(building)
    shapes = [stage.width / stage.high for stage in stages]
    high = min(TALLEST_MM, (FIELD.width - APART_MM) / sum(shapes))
    wide = sum(shapes) * high + APART_MM
    left, foot = FIELD.left + (FIELD.width - wide) / 2, FIELD.bottom - 13
    for number, (stage, shape) in enumerate(zip(stages, shapes, strict=True), start=1):
        _view(_through_eye(canvas, stage, high / stage.high, left, foot), building, stage)
        bearing = building.plan.turn_deg + 90 * SIDES.index(stage.towards)
        words = f"{number}  {stage.room.room.name}, looking {WAYS[round(bearing / 45) % 8]}"
        note = f"{grouped(stage.width)} wide, {grouped(stage.depth)} deep"
        room = shape * high - canvas.width_of(words, 5.2, "strong") - 3
        caption(canvas, (left, foot + 9), words, note if canvas.width_of(note, 4.0) < room else "")
        left += shape * high + APART_MM
    draw_key(canvas, building, stages, Field(FIELD.left, FIELD.top, FIELD.right, foot - high - 9))


def _through_eye(canvas: Canvas, stage: Stage, per_m: float, left: float, floor: float) -> Canvas:
    """Return the sheet as a view in perspective: across, into the room, above the floor [m]."""
    middle = stage.width / 2

    def at(x: float, d: float, z: float) -> Point:
        shrink = stage.back_m / (stage.back_m + d)
        across, up = middle + (x - middle) * shrink, EYE_M + (z - EYE_M) * shrink
        return left + across * per_m, floor - up * per_m

    return canvas.seen(at)


def _stages(building: Building) -> list[Stage]:
    """Choose what to look at: a lab first, then the day room, each towards its best window."""
    plan = building.plan
    day, sides = plan.day, _lit_sides(building, plan.day)
    for lab in [r for r in plan.ground if r.room.use == "lab"][:1]:
        return [_stage(lab, _lit_sides(building, lab)[0]), _stage(day, sides[0])]
    other = next((s for s in sides[1:] if s != OPPOSITE[sides[0]]), OPPOSITE[sides[0]])
    return [_stage(day, sides[0]), _stage(day, other)]


def _lit_sides(building: Building, room: PlannedRoom) -> list[str]:
    glass = dict.fromkeys(building.plan.outside_sides(room), 0.0)
    for window in building.openings.windows:
        if window.room is room and not window.is_roof_light:
            glass[window.side] = glass.get(window.side, 0.0) + window.wide_m
    return sorted(glass, key=lambda side: -glass[side]) or ["top"]


def _stage(room: PlannedRoom, towards: str) -> Stage:
    return Stage(room, towards, clear_height_m(room.room))


def _view(view: Canvas, building: Building, stage: Stage) -> None:
    w, d, h = stage.width, stage.depth, stage.high
    frame, far = _upright((0, 0), (w, 0), 0, h), _upright((0, d), (w, d), 0, h)
    view.shape(frame, "bold")
    n = round(w / 0.28)
    for i in range(1, n):
        view.line([(w * i / n, 0, 0), (w * i / n, d, 0)], "hair", "pale")
    view.shape(far)
    view.hatch([(0, 0, h), (w, 0, h), (w, d, h), (0, d, h)], 2.6, 0, "pale")
    for x in (0.0, w):
        view.shape(_upright((x, 0), (x, d), 0, h), fill=None, hatch=(2.2, 90, "pale"))
    for window in building.openings.windows:
        if window.room is stage.room:
            _window(view, stage, window)
    for door in building.openings.doors:
        _door(view, stage, door)
    _furniture(view, building, stage)
    view.shape(frame, "bold", fill=None)


def _on_wall(
    stage: Stage, side: str, start: float, end: float, low: float, high: float
) -> list[Spot]:
    """Return a rectangle on one of the room's walls."""
    a, b = stage.room.main.beside(side, 0.0, start, end).corners[::2]
    (x0, d0), (x1, d1) = stage.turned(*a), stage.turned(*b)
    return _upright((x0, max(0.0, d0)), (x1, max(0.0, d1)), low, high)


def _window(view: Canvas, stage: Stage, window: PlacedWindow) -> None:
    if window.frame_m is None or window.side == OPPOSITE[stage.towards]:
        return
    (low, high), side, edge = window.frame_m, window.side, window.edge_m
    a, b = window.start_m, window.end_m
    view.shape(_on_wall(stage, side, a, b, low, high))
    jamb = window.jamb_m
    glass = _on_wall(stage, side, a + jamb, b - jamb, low + edge, high - edge)
    view.shape(glass, "thin", fill="glass")
    _outlook(view, glass)
    if side == stage.towards:
        middle = stage.turned(*stage.room.main.beside(side, 0.0, a, b).centre)
        words = f"{window.window.mark}  {grouped(b - a)} × {grouped(high - low)}"
        seen = abs(view.at(b - a, stage.depth, 0)[0] - view.at(0, stage.depth, 0)[0])
        words = window.window.mark if view.width_of(words, 3.4) > seen else words
        view.text((*middle, high), words, 3.4, "label", "graphite", "ms", True, (0, -1.8))


def _outlook(view: Canvas, glass: Sequence[Spot]) -> None:
    """Draw a far ridge or shore through the glass, by shares of its width and height."""
    (x0, d0, low), (x1, d1, _), (_, _, high) = glass[:3]
    view = view.seen(
        lambda u, v, at=view.at: at(x0 + (x1 - x0) * u, d0 + (d1 - d0) * u, low + (high - low) * v)
    )
    far = [(0, 0.42), (0.16, 0.52), (0.3, 0.44), (0.47, 0.63), (0.63, 0.46), (0.8, 0.55), (1, 0.45)]
    near = [(0, 0.26), (0.3, 0.3), (0.6, 0.22), (1, 0.29)]
    view.line(far, "thin", "fine")
    view.line(near, "thin", "spruce")
    view.hatch([*near, (1, 0), (0, 0)], 1.6, 20, "spruce")


def _door(view: Canvas, stage: Stage, door: PlacedDoor) -> None:
    """Draw a door in a wall that is seen: a leaf with its handle, or an open doorway."""
    hole, main = door.hole, stage.room.main
    sides = [s for s in SIDES if abs(hole.edge(OPPOSITE[s]) - main.edge(s)) < 0.03]
    if not sides or sides[0] == OPPOSITE[stage.towards] or not hole.grown(0.03).meets(main):
        return
    a, b = hole.span(is_level(sides[0]))
    high = min(door.height_m, stage.high - 0.05)
    shape = _on_wall(stage, sides[0], a, b, 0.0, high)
    view.shape(shape, hatch=None if door.door else (1.8, 45, "fine"))
    if door.door:
        (x0, d0, _), (x1, d1, _) = shape[:2]
        view.circle((x0 + (x1 - x0) * 0.88, d0 + (d1 - d0) * 0.88, high * 0.48), 0.7, fill="ink")


def _furniture(view: Canvas, building: Building, stage: Stage) -> None:
    """Draw the furniture from the far wall to the eye, and somebody who stands between it."""
    boxes = []
    for fitting in building.fittings:
        if fitting.room is stage.room and fitting.kind in SURFACES_M:
            ends = [stage.turned(x, y) for x, y in fitting.rect.corners[::2]]
            (x0, x1), (d0, d1) = (sorted(values) for values in zip(*ends, strict=True))
            if d1 > TAKEN_AWAY_M:
                boxes.append(Box(fitting.kind, x0, x1, d0, d1))
    mid = stage.width / 2
    boxes.sort(key=lambda b: (-b.d1, -abs((b.x0 + b.x1) / 2 - mid)))
    x, d = _standing(stage, boxes)
    for box in boxes:
        _box(view, stage, box)
    foot, head = view.at(x, d, 0.0), view.at(x, d, 1.68)
    person(view.paper, foot, foot[1] - head[1])
    for box in boxes:
        if box.d0 < d:
            _box(view, stage, box)


def _standing(stage: Stage, boxes: Sequence[Box]) -> Point:
    """Return a clear place to stand, across and depth [m], about half way in and to one side."""
    spots = [
        (stage.width * i / 20, stage.depth * j / 20) for i in range(2, 19) for j in range(6, 17)
    ]

    def cost(spot: Point) -> float:
        here = Rect(*spot, *spot).grown(0.25, 0.2)
        inside = any(here.meets(Rect(b.x0, b.d0, b.x1, b.d1)) for b in boxes)
        return 100.0 * inside + abs(spot[0] - stage.width * 0.2) + abs(spot[1] - stage.depth * 0.45)

    return min(spots, key=cost)


def _box(view: Canvas, stage: Stage, box: Box) -> None:
    (low, high), mid = SURFACES_M[box.kind][0], stage.width / 2
    if low > 0.1:
        for x in (box.x0 + 0.06, box.x1 - 0.06):
            for d in (box.d1, box.d0):
                view.line([(x, d, 0), (x, d, low)], "thin", "graphite")
    if box.x0 > mid or box.x1 < mid:
        x = box.x0 if box.x0 > mid else box.x1
        side = _upright((x, box.d0), (x, box.d1), low, high)
        view.shape(side, "thin", hatch=(1.1, 45, "fine"))
    front, back = box.face(box.d0), box.face(box.d1)
    if high < EYE_M:
        view.shape([*front[2:], *back[:1:-1]], "thin")
    view.shape(front, "thin")
    if box.kind in FIRES:
        view.hatch(front, 1.6, 45)
        view.hatch(front, 1.6, -45)
        x, d = (box.x0 + box.x1) / 2, (box.d0 + box.d1) / 2
        pipe = _upright((x - 0.09, d), (x + 0.09, d), high, stage.high)
        view.shape(pipe, "thin", hatch=(1.4, 90, "graphite"))

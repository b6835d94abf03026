"""The words on a plan: room names, marks of windows and doors, dimensions, section markers."""

from itertools import pairwise

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import GRAPHITE, INK, OCHRE, Canvas
from reviews.demo.drawings.geometry import Plan, PlannedRoom, Rect
from reviews.demo.drawings.openings import PlacedDoor
from reviews.demo.drawings.page import FIELD
from reviews.demo.drawings.plan_parts import INWARD
from reviews.demo.drawings.symbols import (
    Placing,
    centre_line,
    dimension,
    disc,
    grouped,
    lozenge,
    section_mark,
)

NAME, SMALL = 3.9, 3.5
CHAIN_MM, WHOLE_MM = 19.0, 27.0
CHAIN_BELOW_MM, WHOLE_BELOW_MM = 17.0, 23.5
"""How far from the wall the room and the whole dimensions stand, beside and below [mm]."""
MARKER_MM, MARKER_ABOVE_RAMP_MM = 8.5, 15.0
"""How far below the wall, and above wall or ramp, the markers of section B stand [mm]."""
CLEAR_M = 0.66
"""How far section B keeps from windows' marks, so that both can be read [m]."""


def letter_room(canvas: Canvas, place: Placing, room: PlannedRoom, building: Building) -> None:
    """Letter mark, name and floor where they cross least furniture."""
    wide = place.mm(room.main.width) - 3
    name = room.room.name or ""
    size = NAME if len(canvas.lines(name, wide, NAME, "medium")) <= 2 else SMALL
    lines = canvas.lines(name, wide, size, "medium")[:3]
    floor = f"{room.floor_m2:.1f} m²" if room.room.floor_m2 else "floor blank"
    step = size * 1.12
    half_w = max(canvas.width_of(line, size, "medium") for line in [*lines, floor]) / 2 + 0.8
    half_h = step * (len(lines) + 2) / 2
    x, y = place.at(*_quiet_spot(room, building, half_w / place.mm(1), half_h / place.mm(1)))
    top = y - half_h
    canvas.text((x, top + step * 0.8), room.room.mark, SMALL, "strong", OCHRE, "ms", halo=True)
    for i, line in enumerate(lines):
        at = (x, top + step * (i + 1.8))
        canvas.text(at, line, size, "medium", INK, "ms", halo=True)
    at = (x, top + step * (len(lines) + 1.8))
    canvas.text(at, floor, 3.6, "label", GRAPHITE, "ms", halo=True)


def _quiet_spot(
    room: PlannedRoom, building: Building, half_w: float, half_h: float
) -> tuple[float, float]:
    """Return where words of a size cross least furniture, doors and roof lights."""
    rect = room.main
    half_w = min(half_w, rect.width / 2 - 0.02)
    half_h = min(half_h, rect.height / 2 - 0.02)
    busy = [(f.rect.grown(0.03), 3.0) for f in building.fittings if f.room is room]
    for door in building.openings.doors:
        if door.room.is_upper is room.is_upper:
            busy.append((_swept(door), 2.0))
    for window in building.openings.windows:
        if window.is_roof_light and window.room is room:
            hole = window.hole
            busy.append((Rect(hole.x0 - 0.1, hole.y0 - 0.1, hole.x1 + 0.1, hole.y1 + 0.5), 3.0))
    best: tuple[float, tuple[float, float]] | None = None
    steps = 12
    for i in range(steps + 1):
        for j in range(steps + 1):
            x = rect.x0 + half_w + (rect.width - 2 * half_w) * i / steps
            y = rect.y0 + half_h + (rect.height - 2 * half_h) * j / steps
            label = Rect(x - half_w, y - half_h, x + half_w, y + half_h)
            cost = sum(weight * _overlap(label, b) for b, weight in busy)
            cx, cy = rect.centre
            cost += 0.012 * ((x - cx) ** 2 + (y - cy) ** 2)
            if best is None or cost < best[0] - 1e-9:
                best = cost, (x, y)
    assert best is not None
    return best[1]


def _swept(door: PlacedDoor) -> Rect:
    """Return what a door's leaf and its mark take of the rooms."""
    hole, deep = door.hole, door.wide_m if door.door else 0.3
    into = INWARD[door.side] * (1 if door.inward else -1)
    if door.side in ("top", "bottom"):
        y0, y1 = sorted((hole.y0 if into < 0 else hole.y1, hole.centre[1] + into * deep))
        return Rect(hole.x0 - 0.2, min(y0, hole.y0 - 0.2), hole.x1 + 0.2, max(y1, hole.y1 + 0.2))
    x0, x1 = sorted((hole.x0 if into < 0 else hole.x1, hole.centre[0] + into * deep))
    return Rect(min(x0, hole.x0 - 0.5), hole.y0 - 0.1, max(x1, hole.x1 + 0.5), hole.y1 + 0.1)


def _overlap(a: Rect, b: Rect) -> float:
    if not a.meets(b):
        return 0.0
    return (min(a.x1, b.x1) - max(a.x0, b.x0)) * (min(a.y1, b.y1) - max(a.y0, b.y0))


def mark_openings(canvas: Canvas, place: Placing, building: Building, upper: bool) -> None:
    """Letter the marks of one level's windows and doors."""
    off = building.plan.wall_m / 2 + 0.26
    for window in building.openings.windows:
        if window.room.is_upper is not upper:
            continue
        x, y = window.hole.centre
        at = {
            "top": (x, y - off),
            "bottom": (x, y + off),
            "left": (x - off - 0.08, y),
            "right": (x + off + 0.08, y),
        }[window.side]
        if window.is_roof_light:
            at = (x, window.hole.y1 + 0.24)
        lozenge(canvas, place.at(*at), window.window.mark)
    for door in building.openings.doors:
        if door.door is not None and door.room.is_upper is upper:
            _mark_door(canvas, place, door)


def _mark_door(canvas: Canvas, place: Placing, door: PlacedDoor) -> None:
    """Letter a door's mark in its opening and its clear width on the side without the leaf."""
    clear = door.door.clear_w_m if door.door else None
    words = f"clear {grouped(clear)}" if clear else "clear –"
    hole = door.hole
    x, y = place.at(*hole.centre)
    disc(canvas, (x, y), door.mark)
    away = -INWARD[door.side] * (1 if door.inward else -1)
    if door.side in ("top", "bottom"):
        reach = max(place.mm(hole.height) / 2, 3.2)
        at = (x, y + away * (reach + (4.2 if away > 0 else 1.4)))
        canvas.text(at, words, 3.2, "label", GRAPHITE, "ms", halo=True)
    else:
        reach = max(place.mm(hole.width) / 2, 3.2)
        anchor = "lm" if away > 0 else "rm"
        at = (x + away * (reach + 1.0), y)
        canvas.text(at, words, 3.2, "label", GRAPHITE, anchor, halo=True)


def draw_dimensions(canvas: Canvas, place: Placing, plan: Plan, left: bool) -> None:
    """Draw room and whole dimensions, below and at one side."""
    outer, inner = plan.outer, plan.inner
    y = place.at(0, outer.y1)[1]
    lower = [r.main for r in plan.ground if abs(r.main.y1 - inner.y1) < 1e-6]
    _chain(
        canvas, place, sorted({v for r in lower for v in (r.x0, r.x1)}), y + CHAIN_BELOW_MM, True
    )
    line = y + WHOLE_BELOW_MM
    ends = (place.at(outer.x0, 0)[0], line), (place.at(outer.x1, 0)[0], line)
    dimension(canvas, *ends, grouped(outer.width), INK)
    side = -1 if left else 1
    x = place.at(outer.x0 if left else outer.x1, 0)[0]
    edge = inner.x0 if left else inner.x1
    beside = [
        part
        for room in plan.ground
        for part in room.parts
        if abs((part.x0 if left else part.x1) - edge) < 1e-6
    ]
    stops = sorted({v for r in beside for v in (r.y0, r.y1)})
    _chain(canvas, place, stops, x + side * CHAIN_MM, False)
    at = x + side * WHOLE_MM
    ends = (at, place.at(0, outer.y0)[1]), (at, place.at(0, outer.y1)[1])
    dimension(canvas, *ends, grouped(outer.height), INK)


def _chain(canvas: Canvas, place: Placing, stops: list[float], at: float, level: bool) -> None:
    for a, b in pairwise(stops):
        if b - a < 0.3:
            continue
        if level:
            ends = (place.at(a, 0)[0], at), (place.at(b, 0)[0], at)
        else:
            ends = (at, place.at(0, a)[1]), (at, place.at(0, b)[1])
        dimension(canvas, *ends, grouped(b - a))


def section_cuts(building: Building) -> tuple[float, float]:
    """Return where section A is cut (down the plan) and section B (along it) [m].

    B goes through the day room, through one of its windows where that can be, clear of marks.
    """
    plan, ramp = building.plan, building.ramp
    top = [r for r in plan.ground if abs(r.main.y0 - plan.inner.y0) < 1e-6]
    widest = max(top, key=lambda r: r.main.width)
    main = plan.day.main
    level = [w for w in building.openings.windows if w.side in ("top", "bottom")]
    marks = [w.hole.centre[0] for w in level if not w.is_roof_light]
    if ramp and ramp.is_level:
        marks.append(ramp.run.centre[0])

    def cost(x: float) -> float:
        through = any(w.room is plan.day and w.hole.x0 < x < w.hole.x1 for w in level)
        crowded = sum(max(0.0, CLEAR_M - abs(x - mark)) for mark in marks)
        return 40 * crowded + (0 if through else 6) + abs(x - main.centre[0])

    steps = [main.x0 + main.width * (i + 8) / 80 for i in range(65)]
    return widest.main.y0 + widest.main.height * 0.55, min(steps, key=cost)


def draw_section_marks(canvas: Canvas, place: Placing, building: Building, left: bool) -> None:
    """Draw where the two sections of sheet 03 are cut and which way they look."""
    plan, ramp = building.plan, building.ramp
    y, x = section_cuts(building)
    for edge, step in ((plan.outer.x0, -1), (plan.outer.x1, 1)):
        end = place.at(edge, y)
        out = WHOLE_MM + 7 if (step < 0) == left else 17.0
        spot = (end[0] + step * out, end[1])
        if FIELD.left - 2 < spot[0] - 4 and spot[0] + 4 < FIELD.right + 2:
            centre_line(canvas, (end[0] + step, end[1]), (spot[0] - step * 4.6, end[1]), INK)
            section_mark(canvas, spot, "A", "03", (0, -1))
    top = plan.outer.y0
    if ramp and ramp.side == "top" and ramp.extent.x0 - 0.3 < x < ramp.extent.x1 + 0.3:
        top = ramp.extent.y0
    above = MARKER_ABOVE_RAMP_MM if top < plan.outer.y0 else MARKER_MM + 3
    for edge, step, beyond in ((top, -1, above), (plan.outer.y1, 1, MARKER_MM)):
        end = place.at(x, edge)
        spot = (end[0], end[1] + step * beyond)
        centre_line(canvas, (end[0], end[1] + step), (spot[0], spot[1] - step * 4.6), INK)
        section_mark(canvas, spot, "B", "03", (1, 0))

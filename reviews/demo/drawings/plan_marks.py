"""The words on a plan: room names, marks of windows and doors, dimensions, section markers."""

from itertools import pairwise, product

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas, Point
from reviews.demo.drawings.geometry import (
    OPPOSITE,
    OUTWARD,
    Plan,
    PlannedRoom,
    Rect,
    bounds,
    is_level,
    outside_sides,
)
from reviews.demo.drawings.openings import PlacedDoor
from reviews.demo.drawings.page import FIELD
from reviews.demo.drawings.symbols import CHAIN, dimension, disc, grouped, lozenge, section_mark

NAME, SMALL = 3.9, 3.5
CHAIN_MM, WHOLE_MM = 19.0, 27.0
CHAIN_BELOW_MM, WHOLE_BELOW_MM = 17.0, 23.5
"""How far from the wall the room and the whole dimensions stand, beside and below [mm]."""
MARKER_MM, MARKER_ABOVE_RAMP_MM = 8.5, 15.0
"""How far below the wall, and above wall or ramp, the markers of section B stand [mm]."""
CLEAR_M = 0.66
"""How far section B keeps from windows' marks, so that both can be read [m]."""
NARROW_M = 2.0
"""A room narrower than this has no place for a width beside its door [m]."""
CLEARS = {
    "top": (0, -1.4, "ms"),
    "bottom": (0, 4.2, "ms"),
    "left": (-1, 0, "rm"),
    "right": (1, 0, "lm"),
}
"""Where a door's clear width is lettered past the edge of its wall [mm], and its anchor."""


def letter_room(view: Canvas, room: PlannedRoom, building: Building) -> None:
    """Letter mark, name and floor where they cross least furniture."""
    wide = view.mm(room.main.width) - 3
    name = room.room.name or ""
    size = NAME if len(view.lines(name, wide, NAME, "medium")) <= 2 else SMALL
    lines = view.lines(name, wide, size, "medium")[:3]
    floor = f"{room.floor_m2:.1f} m²" if room.room.floor_m2 else "floor blank"
    step = size * 1.12
    half_w = max(view.width_of(line, size, "medium") for line in [*lines, floor]) / 2 + 0.8
    half_h = step * (len(lines) + 2) / 2
    at = _quiet_spot(room, building, half_w / view.mm(1), half_h / view.mm(1))
    set_lines = [
        (room.room.mark, SMALL, "strong", "ochre"),
        *((line, size, "medium", "ink") for line in lines),
        (floor, 3.6, "label", "graphite"),
    ]
    for i, line in enumerate(set_lines):
        view.text(at, *line, "ms", True, (0, step * (i + 0.8) - half_h))


def _quiet_spot(room: PlannedRoom, building: Building, half_w: float, half_h: float) -> Point:
    """Return where words of a size cross least furniture, doors and roof lights."""
    rect, openings = room.main, building.openings
    half_w = min(half_w, rect.width / 2 - 0.02)
    half_h = min(half_h, rect.height / 2 - 0.02)
    busy = [(f.rect.grown(0.03), 3.0) for f in building.fittings if f.room is room]
    doors = [d for d in openings.doors if d.room.is_upper is room.is_upper]
    busy += [(swept, 2.0) for d in doors for swept in (_swept(d), _lettered(d))]
    busy += [
        (bounds(window.hole.grown(0.1), window.hole.beside("bottom", 0.5)), 3.0)
        for window in openings.windows
        if window.is_roof_light and window.room is room
    ]
    free, (cx, cy) = rect.grown(-half_w, -half_h), rect.centre

    def cost(spot: Point) -> float:
        label = Rect(*spot, *spot).grown(half_w, half_h)
        crossed = sum(weight * label.overlap(b) for b, weight in busy)
        return round(crossed + 0.012 * ((spot[0] - cx) ** 2 + (spot[1] - cy) ** 2), 9)

    spots = [
        (free.x0 + free.width * i / 12, free.y0 + free.height * j / 12)
        for i, j in product(range(13), repeat=2)
    ]
    return min(spots, key=cost)


def _swept(door: PlacedDoor) -> Rect:
    """Return what a door's leaf and its mark take of the rooms."""
    hole, deep = door.hole, door.wide_m if door.door else 0.3
    level = is_level(door.side)
    mark = hole.grown(0.2) if level else hole.grown(0.5, 0.1)
    return bounds(mark, hole.beside(door.opens_to, deep - hole.long(not level) / 2))


def _lettered_side(door: PlacedDoor) -> str:
    """Return where a door's width is written: not where it opens to, but out of narrow rooms."""
    is_narrow = not is_level(door.side) and door.room.main.width < NARROW_M
    return door.opens_to if is_narrow and not door.inward else OPPOSITE[door.opens_to]


def _lettered(door: PlacedDoor) -> Rect:
    """Return what the width that is written beside a door takes."""
    away, (x, y) = _lettered_side(door), door.hole.centre
    wide, high = (0.5, 0.1) if is_level(door.side) else (0.1, 0.15)
    return Rect(x, y, x, y).grown(wide, high).beside(away, 0.35 if is_level(away) else 1.0)


def mark_openings(view: Canvas, building: Building, upper: bool) -> None:
    """Letter the marks of one level's windows and doors."""
    for window in building.openings.windows:
        if window.room.is_upper is upper:
            (x, y), level = window.hole.centre, is_level(window.side)
            out = OUTWARD[window.side] * (building.plan.wall_m / 2 + (0.26 if level else 0.34))
            at = (x, y + out) if level else (x + out, y)
            at = (x, window.hole.y1 + 0.24) if window.is_roof_light else at
            lozenge(view, at, window.window.mark)
    for door in building.openings.doors:
        if door.door is not None and door.room.is_upper is upper:
            clear = door.door.clear_w_m
            words = f"clear {grouped(clear)}" if clear else "clear –"
            disc(view, door.hole.centre, door.mark)
            away, level = _lettered_side(door), is_level(door.side)
            dx, dy, anchor = CLEARS[away]
            reach = OUTWARD[away] * max(view.mm(door.hole.long(not level)) / 2, 3.2)
            off = (dx, dy + reach) if level else (dx + reach, dy)
            view.text(door.hole.centre, words, 3.2, "label", "graphite", anchor, True, off)


def draw_dimensions(view: Canvas, plan: Plan, side: str) -> None:
    """Draw room and whole dimensions, below and at one side."""
    for at, chain, whole in (
        ("bottom", CHAIN_BELOW_MM, WHOLE_BELOW_MM),
        (side, CHAIN_MM, WHOLE_MM),
    ):
        level, out = is_level(at), OUTWARD[at]
        offs = [(0, out * mm) if level else (out * mm, 0) for mm in (chain, whole)]
        parts = [
            part
            for room in plan.ground
            for part in room.parts
            if at in outside_sides(part, plan.inner)
        ]
        for a, b in pairwise(sorted({v for part in parts for v in part.span(level)})):
            if b - a >= 0.3:
                dimension(view, plan.outer.beside(at, 0, a, b).corners[::2], off=offs[0])
        dimension(view, plan.outer.line(at), "ink", offs[1])


def section_cuts(building: Building) -> Point:
    """Return where section A is cut (down the plan) and section B (along it) [m].

    B goes through the day room, through one of its windows where that can be, clear of marks.
    """
    plan, ramp = building.plan, building.ramp
    top = [r for r in plan.ground if "top" in plan.outside_sides(r)]
    widest = max(top, key=lambda r: r.main.width)
    main = plan.day.main
    level = [w for w in building.openings.windows if is_level(w.side)]
    marks = [w.hole.centre[0] for w in level if not w.is_roof_light]
    if ramp and ramp.is_level:
        marks.append(ramp.run.centre[0])

    def cost(x: float) -> float:
        through = any(w.room is plan.day and w.hole.x0 < x < w.hole.x1 for w in level)
        crowded = sum(max(0.0, CLEAR_M - abs(x - mark)) for mark in marks)
        return 40 * crowded + (0 if through else 6) + abs(x - main.centre[0])

    steps = [main.x0 + main.width * (i + 8) / 80 for i in range(65)]
    return widest.main.y0 + widest.main.height * 0.55, min(steps, key=cost)


def draw_section_marks(view: Canvas, building: Building, side: str) -> None:
    """Draw where the two sections of sheet 03 are cut and which way they look."""
    plan, ramp, canvas = building.plan, building.ramp, view.paper
    y, x = section_cuts(building)
    top, above = plan.outer.y0, MARKER_MM + 3
    if ramp and ramp.side == "top" and ramp.extent.x0 - 0.3 < x < ramp.extent.x1 + 0.3:
        top, above = ramp.extent.y0, MARKER_ABOVE_RAMP_MM
    for letter, end, (dx, dy), out in (
        ("A", (plan.outer.x0, y), (-1, 0), WHOLE_MM + 7 if side == "left" else 17.0),
        ("A", (plan.outer.x1, y), (1, 0), 17.0 if side == "left" else WHOLE_MM + 7),
        ("B", (x, top), (0, -1), above),
        ("B", (x, plan.outer.y1), (0, 1), MARKER_MM),
    ):
        px, py = view.at(*end)
        at = (px + dx * out, py + dy * out)
        if FIELD.left + 2 < at[0] < FIELD.right - 2:
            to = (at[0] - dx * 4.6, at[1] - dy * 4.6)
            canvas.line([(px + dx, py + dy), to], "thin", dash=CHAIN)
            section_mark(canvas, at, letter, "03", (0, -1) if letter == "A" else (1, 0))

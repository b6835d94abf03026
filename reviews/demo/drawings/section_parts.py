"""What a section shows of rooms: partitions, ceilings, windows, doors, furniture and names."""

from collections.abc import Sequence
from dataclasses import dataclass

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    FINE,
    GLASS,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    PALE,
    PAPER,
    PETROL,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.fittings import Fitting
from reviews.demo.drawings.geometry import PARTITION_M, Plan, PlannedRoom
from reviews.demo.drawings.heights import UPPER_FLOOR_M, Heights, clear_height_m
from reviews.demo.drawings.openings import PlacedWindow
from reviews.demo.drawings.plan_marks import section_cuts
from reviews.demo.drawings.symbols import Placing, dimension, grouped

SURFACES = {
    "bunk": ((0.45, 0.57), (1.5, 1.62)), "bed": ((0.42, 0.54),), "mattress": ((0.0, 0.45),),
    "table": ((0.7, 0.75),), "bench": ((0.4, 0.45),), "counter": ((0.0, 0.9),),
    "lab": ((0.84, 0.9),), "hearth": ((0.0, 1.05),), "stove": ((0.0, 1.05),),
}  # fmt: skip
"""Underside and top of what furniture shows, above the floor [m]: common practice."""
SEEN_SIDE = {True: "top", False: "right"}
"""The side that section A and section B look to."""


@dataclass(frozen=True)
class Cell:
    """A room as a section shows it: from, to, floor and clear height [m]."""

    room: PlannedRoom
    start: float
    end: float
    floor: float
    high: float


def cells(building: Building, heights: Heights, along: bool) -> list[Cell]:
    """Return the rooms that a section cuts, from left to right."""
    y, x = section_cuts(building)
    found = []
    for room in building.plan.rooms:
        spans = []
        for part in room.parts:
            low, high = (part.y0, part.y1) if along else (part.x0, part.x1)
            if low <= (y if along else x) <= high:
                spans.append((part.x0, part.x1) if along else (part.y0, part.y1))
        if spans:
            floor = (heights.upper_floor or 0.0) if room.is_upper else 0.0
            start, end = min(a for a, _ in spans), max(b for _, b in spans)
            found.append(Cell(room, start, end, floor, clear_height_m(room.room)))
    return sorted(found, key=lambda c: (c.floor, c.start))


def _block(place: Placing, x0: float, z0: float, x1: float, z1: float) -> list[Point]:
    return [place.up(x0, z0), place.up(x1, z0), place.up(x1, z1), place.up(x0, z1)]


def draw_room(
    canvas: Canvas, building: Building, place: Placing, cell: Cell, long: float, along: bool
) -> None:
    """Draw a room's ceiling and the partition at its right."""
    plan = building.plan
    if cell.room.is_upper:
        low = cell.floor - UPPER_FLOOR_M
        canvas.shape(_block(place, cell.start, low, cell.end, cell.floor), INK, LINE)
        return
    ceiling = cell.floor + cell.high
    ends = [place.up(cell.start, ceiling), place.up(cell.end, ceiling)]
    if plan.upper and cell.room is plan.day:
        canvas.line(ends, THIN, GRAPHITE, (3, 1.4))
    else:
        canvas.line(ends, LINE, INK)
    if cell.end < long - 1e-6:
        x = cell.end
        canvas.shape(_block(place, x, cell.floor, x + PARTITION_M, ceiling), INK, LINE)


def draw_furniture(
    canvas: Canvas, building: Building, place: Placing, cell: Cell, along: bool
) -> None:
    """Draw the outline of the furniture of a room."""
    for fitting in building.fittings:
        if fitting.room is cell.room and fitting.kind in SURFACES:
            _fitting(canvas, place, fitting, cell, along)


def _fitting(canvas: Canvas, place: Placing, fitting: Fitting, cell: Cell, along: bool) -> None:
    r = fitting.rect
    a, b = (r.x0, r.x1) if along else (r.y0, r.y1)
    for low, high in SURFACES[fitting.kind]:
        shape = _block(place, a, cell.floor + low, b, cell.floor + high)
        canvas.shape(shape, PAPER, THIN, FINE)
        if fitting.kind in ("hearth", "stove"):
            canvas.hatch(shape, 1.3, 45, HAIR, FINE)
            x = (a + b) / 2
            pipe = _block(place, x - 0.08, cell.floor + high, x + 0.08, cell.floor + cell.high)
            canvas.shape(pipe, PAPER, THIN, FINE)
    if fitting.kind in ("bunk", "bed", "table", "lab", "bench"):
        _, top = SURFACES[fitting.kind][-1]
        under, _ = SURFACES[fitting.kind][-1]
        for x in (a + 0.03, b - 0.03):
            reach = top if fitting.kind == "bunk" else under
            canvas.line([place.up(x, cell.floor), place.up(x, cell.floor + reach)], THIN, FINE)


def draw_window(
    canvas: Canvas,
    place: Placing,
    window: PlacedWindow,
    found: Sequence[Cell],
    along: bool,
    plan: Plan,
) -> None:
    """Draw a window seen beyond the cut, or cut through in an end wall."""
    w = window.window
    cell = next((c for c in found if c.room is window.room), None)
    if window.is_roof_light or w.sill_m is None or not w.frame_h_m or cell is None:
        return
    edge = (w.frame_h_m - (w.glass_h_m or w.frame_h_m)) / 2
    low = cell.floor + w.sill_m - edge
    if window.side == SEEN_SIDE[along]:
        a, b = window.start_m, window.start_m + window.wide_m
        if cell.start - 0.01 <= a and b <= cell.end + 0.01:
            _elevation(canvas, place, low, window, edge)
        return
    ends = (
        {"left": (-plan.wall_m, 0.0), "right": (plan.inner.width, plan.inner.width + plan.wall_m)}
        if along
        else {
            "top": (-plan.wall_m, 0.0),
            "bottom": (plan.inner.height, plan.inner.height + plan.wall_m),
        }
    )
    if window.side in ends and window.index == 0:
        _cut_window(canvas, place, window, cell, *ends[window.side])


def _cut_window(
    canvas: Canvas, place: Placing, window: PlacedWindow, cell: Cell, a: float, b: float
) -> None:
    """Draw a window cut through, with its sill and head."""
    w = window.window
    assert w.sill_m is not None
    assert w.frame_h_m is not None
    edge = (w.frame_h_m - (w.glass_h_m or w.frame_h_m)) / 2
    low = cell.floor + w.sill_m - edge
    high = low + w.frame_h_m
    canvas.shape(_block(place, a, low, b, high), PAPER, LINE)
    at_left = window.side in ("left", "top")
    pane = a + 0.09 if at_left else b - 0.09
    canvas.shape(_block(place, pane - 0.035, low, pane + 0.035, high), PAPER, THIN)
    canvas.line([place.up(pane, low), place.up(pane, high)], THIN, PETROL)
    inside, step = (b, 0.62) if at_left else (a, -0.62)
    for level, words in (
        (cell.floor + w.sill_m, f"sill {grouped(w.sill_m)}"),
        (high - edge, f"head {grouped(high - edge - cell.floor)}"),
    ):
        canvas.line([place.up(inside, level), place.up(inside + step, level)], HAIR, GRAPHITE)
        x, y = place.up(inside, level)
        at = (x + (1.2 if at_left else -1.2), y - 0.9)
        canvas.text(at, words, 3.3, "label", GRAPHITE, "ls" if at_left else "rs", halo=True)


def _elevation(
    canvas: Canvas, place: Placing, low: float, window: PlacedWindow, edge: float
) -> None:
    """Draw a window from inside, with the sign of how it opens."""
    w = window.window
    a, b = window.start_m, window.start_m + window.wide_m
    high = low + (w.frame_h_m or 0.0)
    side = (window.wide_m - (w.glass_w_m or window.wide_m)) / 2
    frame = _block(place, a, low, b, high)
    glass = _block(place, a + side, low + edge, b - side, high - edge)
    canvas.shape(frame, PAPER, LINE)
    canvas.shape(glass, GLASS, THIN, GRAPHITE)
    if not w.is_fixed:
        middle = (glass[0][0], (glass[0][1] + glass[3][1]) / 2)
        canvas.line([glass[1], middle, glass[2]], HAIR, FINE, (1.6, 0.9))
    x = (frame[0][0] + frame[1][0]) / 2
    canvas.text((x, glass[0][1] - 1.2), w.mark, 3.3, "medium", INK, "ms", halo=True)
    words = f"sill {grouped(w.sill_m or 0.0)}"
    canvas.text((x, frame[0][1] + 4.2), words, 3.2, "label", GRAPHITE, "ms", halo=True)


def draw_doors(
    canvas: Canvas, building: Building, place: Placing, found: Sequence[Cell], along: bool
) -> None:
    """Draw outside doors that stand in the wall beyond the cut."""
    for door in building.openings.doors:
        cell = next((c for c in found if c.room is door.room), None)
        is_seen = door.side == SEEN_SIDE[along] and door.is_outside
        if not is_seen or cell is None or door.door is None:
            continue
        a, b = door.start_m, door.start_m + door.wide_m
        top = cell.floor + (door.door.height_m or 2.0)
        canvas.shape(_block(place, a, cell.floor, b, top), PAPER, LINE)
        for i in range(1, 5):
            x = a + (b - a) * i / 5
            canvas.line([place.up(x, cell.floor), place.up(x, top)], HAIR, PALE)
        x, y = place.up((a + b) / 2, (cell.floor + top) / 2)
        canvas.text((x, y), door.mark, 3.3, "medium", INK, "ms", halo=True)


def letter_cell(
    canvas: Canvas, place: Placing, cell: Cell, along: bool, windows: Sequence[PlacedWindow]
) -> None:
    """Letter a room's name and clear height."""
    wide = cell.end - cell.start
    if wide < 0.7:
        return
    x, _ = place.up((cell.start + cell.end) / 2, 0)
    name = canvas.fitted(cell.room.room.name or "", place.mm(wide) - 2, 3.6, "medium")
    _, y = place.up(0, cell.floor + 0.12)
    canvas.text((x, y), name, 3.6, "medium", INK, "ms", halo=True)
    if cell.room.is_upper:
        words = f"{grouped(cell.high)} mean"
        canvas.text((x, y - 5), words, 3.4, "label", GRAPHITE, "ms", halo=True)
    elif wide > 1.0:
        at = _clear_of(cell, along, windows)
        ends = place.up(at, cell.floor), place.up(at, cell.floor + cell.high)
        dimension(canvas, *ends, grouped(cell.high))


def _clear_of(cell: Cell, along: bool, windows: Sequence[PlacedWindow]) -> float:
    """Return where a height can be dimensioned clear of the windows that are seen [m]."""
    seen = [
        w
        for w in windows
        if w.room is cell.room and w.side == SEEN_SIDE[along] and not w.is_roof_light
    ]
    wide = cell.end - cell.start
    spots = [cell.start + wide * i / 20 for i in range(3, 18)]
    wish = cell.start + (0.24 if along else wide * 0.62)

    def cost(at: float) -> float:
        hit = any(w.start_m - 0.2 < at < w.start_m + w.wide_m + 0.2 for w in seen)
        return 10.0 * hit + abs(at - wish)

    return min([wish, *spots], key=cost)

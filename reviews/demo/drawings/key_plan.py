"""A small plan that shows where the views are taken from, beside the windows of the rooms."""

from collections.abc import Sequence

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    BOLD,
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    OCHRE,
    PAPER,
    SPRUCE,
    THIN,
    TRACE,
    Canvas,
)
from reviews.demo.drawings.geometry import PlannedRoom
from reviews.demo.drawings.page import Field
from reviews.demo.drawings.plan_parts import corners
from reviews.demo.drawings.stage import Stage, back_of
from reviews.demo.drawings.symbols import Placing, grouped

SCALES = (50, 75, 100, 125, 150, 200)
LIST_MM, ROW_MM = 78.0, 11.0


def draw_key(canvas: Canvas, building: Building, stages: Sequence[Stage], field: Field) -> None:
    """Draw the key plan at the largest scale that fits, and list the rooms' windows."""
    plan = building.plan
    outer = plan.outer
    eyes = [stage.on_plan(stage.width / 2, -back_of(stage)) for stage in stages]
    top = min(outer.y0, *(y - 0.4 for _, y in eyes))
    bottom = max(outer.y1, *(y + 0.4 for _, y in eyes))
    left = min(outer.x0, *(x - 0.4 for x, _ in eyes))
    right = max(outer.x1, *(x + 0.4 for x, _ in eyes))
    fits = [
        scale
        for scale in SCALES
        if (bottom - top) * 1000 / scale <= field.height
        and (right - left) * 1000 / scale <= field.width - LIST_MM - 10
    ]
    scale = (fits or SCALES[-1:])[0]
    k = 1000 / scale
    place = Placing(scale, field.left - left * k, field.top - top * k)
    canvas.shape(corners(place, outer), GRAPHITE, BOLD)
    shown = [stage.room for stage in stages]
    for room in plan.ground:
        for part in room.parts:
            is_shown = room in shown
            ink = GRAPHITE if is_shown else FINE
            canvas.shape(corners(place, part), TRACE if is_shown else PAPER, THIN, ink)
    for window in building.openings.windows:
        if not window.is_roof_light and not window.room.is_upper:
            canvas.shape(corners(place, window.hole), PAPER, THIN, INK)
    for door in building.openings.doors:
        if not door.room.is_upper:
            canvas.shape(corners(place, door.hole), PAPER, HAIR, FINE)
    for number, (stage, eye) in enumerate(zip(stages, eyes, strict=True), start=1):
        at = place.at(*eye)
        for across in (0.0, stage.width):
            far = place.at(*stage.on_plan(across, stage.depth))
            canvas.line([at, far], THIN, SPRUCE, (2.4, 1))
        canvas.circle(at, 2.6, PAPER, THIN, SPRUCE)
        canvas.text(at, str(number), 3.8, "strong", SPRUCE, "mm")
    words_left = place.at(right, 0)[0] + 12
    canvas.text((words_left, field.top + 4), "Where the views are taken", 4.6, "strong", INK)
    wide = canvas.width_of("Where the views are taken", 4.6, "strong")
    canvas.text((words_left + wide + 3, field.top + 4), f"1:{scale}", 4.0, "label", GRAPHITE)
    seen = Field(words_left, field.top + 13, field.right, field.bottom)
    _windows(canvas, building, list(dict.fromkeys(shown)), seen)


def _windows(
    canvas: Canvas, building: Building, rooms: Sequence[PlannedRoom], field: Field
) -> None:
    """List the windows of the rooms that are seen."""
    y = field.top
    for room in rooms:
        canvas.text((field.left, y), room.room.name or "", 4.0, "medium", INK)
        y += 6.5
        for window in building.package.windows_of(room.room):
            if y > field.bottom - ROW_MM / 2:
                return
            canvas.text((field.left, y), window.mark, 3.9, "strong", OCHRE)
            number = f"{window.n} no., " if window.n and window.n > 1 else ""
            words = f"{number}{window.opens or ''}, faces {window.faces or '–'}"
            canvas.text((field.left + 9, y), words, 3.7, "label", INK)
            if window.glass_w_m and window.glass_h_m:
                glass = f"glass {grouped(window.glass_w_m)} × {grouped(window.glass_h_m)}"
                sill = f", sill {grouped(window.sill_m)}" if window.sill_m is not None else ""
                canvas.text((field.left + 9, y + 4.6), glass + sill, 3.6, "label", GRAPHITE)
            y += ROW_MM
        y += 3

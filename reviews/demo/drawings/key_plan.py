"""A small plan that shows where a view is taken from, beside the windows of the room."""

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
from reviews.demo.drawings.page import Field
from reviews.demo.drawings.plan_parts import corners
from reviews.demo.drawings.stage import Stage
from reviews.demo.drawings.symbols import Placing, grouped

SCALES = (100, 125, 150, 200)


def draw_key(canvas: Canvas, building: Building, stage: Stage, back_m: float, field: Field) -> None:
    """Draw the key plan at the largest scale that fits, and list the room's windows."""
    plan = building.plan
    outer = plan.outer
    fits = [s for s in SCALES if outer.height * 1000 / s <= field.height]
    scale = (fits or SCALES[-1:])[0]
    k = 1000 / scale
    _, eye_y = stage.on_plan(stage.width / 2, -back_m)
    drop = max(0.0, (outer.y0 - eye_y) * k + 1.5)
    place = Placing(scale, field.left - outer.x0 * k, field.top + drop - outer.y0 * k)
    canvas.shape(corners(place, outer), GRAPHITE, BOLD)
    for room in plan.ground:
        for part in room.parts:
            fill = TRACE if room is stage.room else PAPER
            canvas.shape(corners(place, part), fill, THIN, GRAPHITE if room is stage.room else FINE)
    for window in building.openings.windows:
        if not window.is_roof_light and not window.room.is_upper:
            canvas.shape(corners(place, window.hole), PAPER, THIN, INK)
    for door in building.openings.doors:
        if not door.room.is_upper:
            canvas.shape(corners(place, door.hole), PAPER, HAIR, FINE)
    eye = place.at(*stage.on_plan(stage.width / 2, -back_m))
    for across in (0.0, stage.width):
        canvas.line([eye, place.at(*stage.on_plan(across, stage.depth))], THIN, SPRUCE, (2.4, 1))
    canvas.circle(eye, 1.3, PAPER, THIN, SPRUCE)
    canvas.circle(eye, 0.5, SPRUCE, HAIR, SPRUCE)
    _windows(canvas, building, stage, field, place.at(outer.x1, 0)[0] + 9, scale)


def _windows(
    canvas: Canvas, building: Building, stage: Stage, field: Field, left: float, scale: int
) -> None:
    y = field.top + 3.4
    canvas.text((left, y), f"key 1:{scale}", 3.5, "label", GRAPHITE)
    y += 7
    for window in building.package.windows_of(stage.room.room):
        if y > field.bottom - 9:
            return
        canvas.text((left, y), window.mark, 3.9, "strong", OCHRE)
        number = f"{window.n} no.  " if window.n and window.n > 1 else ""
        words = f"{number}{window.opens or ''}, faces {window.faces or '–'}"
        canvas.text((left + 9, y), words, 3.7, "label", INK)
        if window.glass_w_m and window.glass_h_m:
            glass = f"glass {grouped(window.glass_w_m)} × {grouped(window.glass_h_m)}"
            sill = f", sill {grouped(window.sill_m)}" if window.sill_m is not None else ""
            canvas.text((left + 9, y + 4.6), glass + sill, 3.6, "label", GRAPHITE)
        y += 11

"""A small plan that shows where the views are taken from, beside the windows of the rooms."""

from collections.abc import Sequence

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.geometry import Rect, bounds
from reviews.demo.drawings.page import FITTING_SCALES, Field
from reviews.demo.drawings.stage import Stage
from reviews.demo.drawings.symbols import Placing, grouped

LIST_MM, ROW_MM = 78.0, 11.0


def draw_key(canvas: Canvas, building: Building, stages: Sequence[Stage], field: Field) -> None:
    """Draw the key plan at the largest scale that fits, and list the rooms' windows."""
    plan, openings = building.plan, building.openings
    eyes = [stage.on_plan(stage.width / 2, -stage.back_m) for stage in stages]
    reach = bounds(plan.outer, *(Rect(*eye, *eye).grown(0.4) for eye in eyes))
    scale = next(
        (
            scale
            for scale in FITTING_SCALES
            if reach.height * 1000 / scale <= field.height
            and reach.width * 1000 / scale <= field.width - LIST_MM - 10
        ),
        FITTING_SCALES[-1],
    )
    k = 1000 / scale
    view = Placing(scale, field.left - reach.x0 * k, field.top - reach.y0 * k).on(canvas)
    view.shape(plan.outer.corners, "bold", "graphite", "graphite")
    shown = [stage.room for stage in stages]
    for room in plan.ground:
        ink, fill = ("graphite", "trace") if room in shown else ("fine", "paper")
        for part in room.parts:
            view.shape(part.corners, "thin", ink, fill)
    for window in openings.windows:
        if not window.is_roof_light and not window.room.is_upper:
            view.shape(window.hole.corners, "thin")
    for door in openings.doors:
        if not door.room.is_upper:
            view.shape(door.hole.corners, "hair", "fine")
    for number, (stage, eye) in enumerate(zip(stages, eyes, strict=True), start=1):
        for across in (0.0, stage.width):
            view.line([eye, stage.on_plan(across, stage.depth)], "thin", "spruce", (2.4, 1))
        view.circle(eye, 2.6, "thin", "spruce")
        view.text(eye, str(number), 3.8, "strong", "spruce", "mm")
    left, words = view.at(reach.x1, 0)[0] + 12, "Where the views are taken"
    canvas.text((left, field.top + 4), words, 4.6, "strong")
    wide = canvas.width_of(words, 4.6, "strong")
    canvas.text((left + wide + 3, field.top + 4), f"1:{scale}", 4.0, ink="graphite")
    y = field.top + 13
    for room in dict.fromkeys(shown):
        canvas.text((left, y), room.room.name or "", 4.0, "medium")
        y += 6.5
        for row in building.package.windows_of(room.room):
            if y > field.bottom - ROW_MM / 2:
                return
            canvas.text((left, y), row.mark, 3.9, "strong", "ochre")
            number_words = f"{row.n} no., " if row.n and row.n > 1 else ""
            words = f"{number_words}{row.opens or ''}, faces {row.faces or '–'}"
            canvas.text((left + 9, y), words, 3.7)
            if row.glass_w_m and row.glass_h_m:
                words = f"glass {grouped(row.glass_w_m)} × {grouped(row.glass_h_m)}"
                words += f", sill {grouped(row.sill_m)}" if row.sill_m is not None else ""
                canvas.text((left + 9, y + 4.6), words, 3.6, ink="graphite")
            y += ROW_MM
        y += 3

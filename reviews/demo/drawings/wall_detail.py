"""The layers of wall, roof and floor, drawn at 1:5 with their thicknesses."""

from criteria.package import Package
from criteria.schedules.envelope import Layer
from reviews.demo.drawings.canvas import (
    BOLD,
    CUT,
    GRAPHITE,
    HAIR,
    INK,
    OCHRE,
    PAPER,
    THIN,
    Canvas,
)
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.symbols import dimension, grouped

SCALE = 5
BAND_MM = 30.0


def draw_detail(canvas: Canvas, package: Package, left: float, top: float) -> None:
    """Draw what the envelope is made of, outside on the left, as wide as the field allows."""
    walls = [layer for layer in package.envelope if layer.part == "wall" and layer.thickness_m]
    if not walls:
        return
    caption(canvas, (left, top), "Wall, outside on the left", "1:5")
    y0 = top + 14
    y1 = min(y0 + 58, FIELD.bottom - 12)
    x = left + 4
    start = x
    for i, layer in enumerate(walls):
        wide = (layer.thickness_m or 0) * 1000 / SCALE
        shape = [(x, y0), (x + wide, y0), (x + wide, y1), (x, y1)]
        canvas.shape(shape, PAPER, BOLD)
        _fill(canvas, layer, x, x + wide, y0, y1)
        canvas.shape(shape, None, BOLD if layer.counts else THIN)
        canvas.text((x + wide / 2, y0 - 1.6), str(i + 1), 3.6, "strong", OCHRE, "ms")
        x += wide
    dimension(
        canvas, (start, y1 + 7), (x, y1 + 7), grouped(sum(w.thickness_m or 0 for w in walls)), INK
    )
    words_x = x + 10
    y = y0 + 3
    for part in ("wall", "roof", "floor"):
        layers = [layer for layer in package.envelope if layer.part == part]
        if not layers or y > y1 + 14:
            continue
        canvas.text((words_x, y), part.capitalize(), 3.9, "strong", INK)
        y += 4.9
        for i, layer in enumerate(layers):
            thick = grouped(layer.thickness_m) if layer.thickness_m else "–"
            number = f"{i + 1}  " if part == "wall" else ""
            room = FIELD.right - words_x - 14
            canvas.text((words_x + 10, y), thick, 3.6, "label", INK, "rs")
            canvas.text(
                (words_x + 12.5, y), canvas.fitted(number + (layer.layer or ""), room, 3.6), 3.6
            )
            y += 4.7
        y += 2


def _fill(canvas: Canvas, layer: Layer, x0: float, x1: float, y0: float, y1: float) -> None:
    """Hatch a layer by what its conductivity says it is."""
    shape = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    lam = layer.lambda_w_mk
    if lam is None:
        canvas.hatch(shape, 2.4, 90, HAIR, GRAPHITE)
    elif lam < 0.06 or (layer.thickness_m or 0) > 0.12:
        wide = x1 - x0
        step = max(2.0, wide * 0.28)
        y, right = y0, False
        points = [(x0, y0)]
        while y < y1:
            y = min(y + step / 2, y1)
            right = not right
            points.append((x1 if right else x0, y))
        canvas.line(points, THIN, OCHRE)
    else:
        canvas.hatch(shape, 1.3, 45, HAIR, OCHRE)
    canvas.line([(x0, y0), (x0, y1)], CUT if lam else THIN, INK)

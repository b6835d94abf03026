"""The layers of wall, roof and floor, drawn at 1:5 with their thicknesses."""

from collections.abc import Sequence

from criteria.package import Package
from criteria.schedules.envelope import PARTS, Layer
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
        canvas.shape(shape, None, THIN if layer.lambda_w_mk is None else BOLD)
        canvas.text((x + wide / 2, y0 - 1.6), str(i + 1), 3.6, "strong", OCHRE, "ms")
        x += wide
    dimension(
        canvas, (start, y1 + 7), (x, y1 + 7), grouped(sum(w.thickness_m or 0 for w in walls)), INK
    )
    left, y = x + 10, y0 + 3
    free = FIELD.right - left
    beside = free > 210
    for part in PARTS:
        layers = [layer for layer in package.envelope if layer.part == part]
        if not layers or (not beside and y > y1 + 16):
            continue
        end = _list(canvas, part, layers, left, y, free / 3 - 6 if beside else free)
        if beside:
            left += free / 3
        else:
            y = end + 2


def _list(
    canvas: Canvas, part: str, layers: Sequence[Layer], left: float, y: float, wide: float
) -> float:
    """Letter the layers of a part with their thicknesses; return the next line [mm]."""
    total = sum(layer.thickness_m or 0 for layer in layers)
    canvas.text((left, y), f"{part.capitalize()}, {grouped(total)} mm", 3.9, "strong", INK)
    y += 5.2
    for i, layer in enumerate(layers):
        thick = grouped(layer.thickness_m) if layer.thickness_m else "–"
        canvas.text((left, y), str(i + 1), 3.6, "strong", OCHRE)
        canvas.text((left + 12, y), thick, 3.6, "label", INK, "rs")
        for line in canvas.lines(layer.layer or "", wide - 16, 3.6):
            canvas.text((left + 15, y), line, 3.6)
            y += 4.7
    return y


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

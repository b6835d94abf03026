"""The layers of wall, roof and floor, drawn at 1:5 with their thicknesses."""

from collections.abc import Sequence

from criteria.package import Package
from criteria.schedules.envelope import PARTS, Layer
from reviews.demo.drawings.canvas import Canvas, quad
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.symbols import Placing, dimension, grouped

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
    whole = 0.0
    for i, layer in enumerate(walls):
        wide = (layer.thickness_m or 0) * 1000 / SCALE
        _layer(canvas, layer, x, x + wide, y0, y1)
        canvas.text((x + wide / 2, y0 - 1.6), str(i + 1), 3.6, "strong", "ochre", "ms")
        x, whole = x + wide, whole + (layer.thickness_m or 0)
    view = Placing(SCALE, left + 4, y1 + 7).on(canvas)
    dimension(view, [(0, 0), (whole, 0)], "ink")
    left, y = x + 10, y0 + 3
    free = FIELD.right - left
    is_beside = free > 210
    for part in PARTS:
        layers = [layer for layer in package.envelope if layer.part == part]
        if not layers or (not is_beside and y > y1 + 16):
            continue
        end = _list(canvas, part, layers, left, y, free / 3 - 6 if is_beside else free)
        left, y = (left + free / 3, y) if is_beside else (left, end + 2)


def _list(
    canvas: Canvas, part: str, layers: Sequence[Layer], left: float, y: float, wide: float
) -> float:
    """Letter the layers of a part with their thicknesses; return the next line [mm]."""
    total = sum(layer.thickness_m or 0 for layer in layers)
    canvas.text((left, y), f"{part.capitalize()}, {grouped(total)} mm", 3.9, "strong")
    y += 5.2
    for i, layer in enumerate(layers):
        thick = grouped(layer.thickness_m) if layer.thickness_m else "–"
        canvas.text((left, y), str(i + 1), 3.6, "strong", "ochre")
        canvas.text((left + 12, y), thick, 3.6, anchor="rs")
        for line in canvas.lines(layer.layer or "", wide - 16, 3.6):
            canvas.text((left + 15, y), line, 3.6)
            y += 4.7
    return y


def _layer(canvas: Canvas, layer: Layer, x0: float, x1: float, y0: float, y1: float) -> None:
    """Draw a layer, hatched by what its conductivity says it is."""
    lam = layer.lambda_w_mk
    if lam is None:
        canvas.box(x0, y0, x1, y1, hatch=(2.4, 90, "graphite"))
        return
    is_soft = lam < 0.06 or (layer.thickness_m or 0) > 0.12
    canvas.shape(quad(x0, y0, x1, y1), "bold", hatch=None if is_soft else (1.3, 45, "ochre"))
    if is_soft:
        step = max(2.0, (x1 - x0) * 0.28) / 2
        ends = [y0 + step * i for i in range(int((y1 - y0) / step) + 1)]
        canvas.line([(x1 if i % 2 else x0, y) for i, y in enumerate(ends)], "thin", "ochre")

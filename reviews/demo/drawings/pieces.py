"""Sheet 06: every piece to one scale with mark and mass, and the order in which they come."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.site import Site
from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    SPRUCE,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.symbols import arrow, scale_bar

SCALES = (50, 75, 100, 125, 150, 200)
DEPTH = (0.42, 0.30)
"""How a metre of width lies on paper beside a metre of length, to the right and up."""
FLAT_M, WORDS_MM = 0.5, 17.0
ORDER_TOP = FIELD.bottom - 44.0


@dataclass(frozen=True)
class Grid:
    """The cells that pieces stand in, one each, filled column by column [mm]."""

    columns: int
    rows: int

    @property
    def wide(self) -> float:
        """Width of a cell."""
        return FIELD.width / self.columns

    @property
    def high(self) -> float:
        """Height of a cell."""
        return (ORDER_TOP - FIELD.top - 16) / self.rows

    @property
    def free(self) -> float:
        """Height that is left in a cell under the words."""
        return self.high - WORDS_MM


def grid_for(pieces: Sequence[Piece]) -> Grid:
    """Return the cells for so many pieces."""
    columns = 4 if len(pieces) > 9 else 3
    return Grid(columns, max(1, ceil(len(pieces) / columns)))


def scale_for(package: Package) -> int:
    """Return the largest scale at which every piece, and the largest that may come, fits."""
    grid, site = grid_for(package.pieces), package.site
    sizes = [p.sizes_m for p in package.pieces]
    sizes.append((site.piece_l_m, site.piece_w_m, site.piece_h_m))
    whole = [tuple(s or 0.0 for s in size) for size in sizes if None not in size]
    for scale in SCALES:
        k = 1000 / scale
        if all(
            k * (l + w * DEPTH[0]) <= grid.wide - 8 and k * (h + w * DEPTH[1]) <= grid.free
            for l, w, h in whole
        ):
            return scale
    return SCALES[-1]


def draw_pieces(canvas: Canvas, building: Building) -> None:
    """Draw the pieces and their order."""
    package = building.package
    pieces, scale = ordered(package.pieces), scale_for(package)
    note = f"1:{scale}; broken line: the largest that can be brought"
    caption(canvas, (FIELD.left, FIELD.top + 5), "Pieces in the order they come", note)
    if not pieces:
        canvas.text((FIELD.left, FIELD.top + 20), "None in the schedule.", 4, "label", GRAPHITE)
        return
    grid = grid_for(pieces)
    for i, piece in enumerate(pieces):
        column, row = divmod(i, grid.rows)
        at = (FIELD.left + column * grid.wide, FIELD.top + 14 + row * grid.high)
        _piece(canvas, piece, package.site, at, grid, scale)
    _order(canvas, pieces)
    scale_bar(canvas, (FIELD.right - 21 - 4000 / scale, FIELD.top + 5), scale, 1.0)


def ordered(pieces: Sequence[Piece]) -> list[Piece]:
    """Return the pieces in order of arrival; those without an order keep the schedule's."""
    return sorted(pieces, key=lambda p: p.order if p.order is not None else 10_000)


def _box(
    canvas: Canvas, at: Point, scale: int, l: float, w: float, h: float, dash: bool = False
) -> None:
    """Draw a box in oblique projection; at is its lower left front corner; sizes in metres."""
    x, y = at
    s = 1000 / scale
    dx, dy = w * s * DEPTH[0], w * s * DEPTH[1]
    a, b = (x, y), (x + l * s, y)
    c, d = (x + l * s, y - h * s), (x, y - h * s)
    back = [(p[0] + dx, p[1] - dy) for p in (a, b, c, d)]
    if dash:
        pattern = (2.4, 1.2)
        for line in (
            (a, b, back[1]),
            (a, d, c),
            (d, back[3], back[2]),
            (c, back[2], back[1]),
            (b, c),
        ):
            canvas.line(line, HAIR, FINE, pattern)
        return
    top = [d, c, back[2], back[3]]
    end = [b, back[1], back[2], c]
    canvas.shape([a, b, c, d], PAPER, LINE)
    canvas.shape(top, PAPER, LINE)
    canvas.shape(end, PAPER, LINE)
    canvas.hatch(end, 1.1, 45, HAIR, OCHRE)
    if h < 0.7:
        for k in range(1, 4):
            p = (d[0] + (back[3][0] - d[0]) * k / 4, d[1] + (back[3][1] - d[1]) * k / 4)
            canvas.line([p, (p[0] + l * s, p[1])], HAIR, PALE)


def _piece(canvas: Canvas, piece: Piece, site: Site, at: Point, grid: Grid, scale: int) -> None:
    """Draw a piece as often as it comes, as far as its cell has room: stacked, else in a row."""
    x, y = at
    n = piece.n or 1
    canvas.text((x, y + 5), piece.mark, 4.6, "strong", OCHRE)
    name = canvas.fitted(piece.piece or "", grid.wide - 18, 4.2, "medium")
    canvas.text((x + 12, y + 5), name, 4.2, "medium")
    kilos = f"{piece.mass_kg:,.0f} kg" if piece.mass_kg is not None else "kg blank"
    words = f"{n} × {kilos}".replace(",", "\u2009")
    canvas.text((x, y + 10.6), words, 4.0, "label", INK)
    beside = x + canvas.width_of(words, 4.0) + 4
    if None in piece.sizes_m:
        canvas.text((beside, y + 10.6), "sizes blank", 3.7, "italic", GRAPHITE)
        return
    l, w, h = (size or 0.0 for size in piece.sizes_m)
    canvas.text((beside, y + 10.6), f"{l:g} × {w:g} × {h:g} m", 3.7, "label", GRAPHITE)
    k = 1000 / scale
    base_x, base_y = x + 2, y + grid.high - 5
    limit = (site.piece_l_m, site.piece_w_m, site.piece_h_m)
    if None not in limit:
        most_l, most_w, most_h = (v or 0.0 for v in limit)
        _box(canvas, (base_x, base_y), scale, most_l, most_w, most_h, dash=True)
    if h < FLAT_M:
        stack = int((grid.free - k * w * DEPTH[1]) / (k * h + 0.6))
        for i in range(max(1, min(n, stack))):
            _box(canvas, (base_x, base_y - i * (k * h + 0.6)), scale, l, w, h)
        return
    pitch = k * l + 3.0
    row = int((grid.wide - 8 - k * w * DEPTH[0] + 3.0) / pitch)
    for i in reversed(range(max(1, min(n, row)))):
        _box(canvas, (base_x + i * pitch, base_y), scale, l, w, h)


def _order(canvas: Canvas, pieces: Sequence[Piece]) -> None:
    """Draw one square for each lift, numbered in order; removal is the same way back."""
    y = ORDER_TOP + 8
    total = sum(p.n or 1 for p in pieces)
    canvas.line([(FIELD.left - 5, ORDER_TOP), (FIELD.right + 5, ORDER_TOP)], LINE)
    known = [(p.n or 1) * p.mass_kg for p in pieces if p.mass_kg is not None]
    tonnes = f"{sum(known) / 1000:.1f} t" + ("" if len(known) == len(pieces) else ", some blank")
    caption(canvas, (FIELD.left, y), "Order", f"{total} loads, {tonnes}")
    gaps = len(pieces) - 1
    step = max(1.2, min(9.0, (FIELD.width - gaps * 2.4) / max(1, total)))
    x, top, number = FIELD.left, y + 9, 0
    for piece in pieces:
        start = x
        for _ in range(piece.n or 1):
            number += 1
            canvas.box(x, top, x + step - 0.9, top + 7.2, PAPER, THIN)
            if step > 6.5:
                canvas.text((x + step / 2 - 0.4, top + 3.7), str(number), 3.3, "label", INK, "mm")
            x += step
        canvas.line([(start, top + 9), (x - 0.9, top + 9)], LINE, OCHRE)
        canvas.text(((start + x - 0.9) / 2, top + 13.6), piece.mark, 3.6, "strong", OCHRE, "ms")
        x += 2.4
    arrow(canvas, (FIELD.left, top + 18), (FIELD.left + 40, top + 18), THIN, INK)
    canvas.text((FIELD.left + 43, top + 19.2), "coming", 3.7, "label", INK)
    arrow(canvas, (FIELD.left + 110, top + 18), (FIELD.left + 70, top + 18), THIN, SPRUCE)
    canvas.text(
        (FIELD.left + 113, top + 19.2),
        "going: the same order from the last to the first",
        3.7,
        "label",
        SPRUCE,
    )

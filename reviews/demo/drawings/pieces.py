"""Sheet 06: every piece to one scale with mark and mass, and the order in which they come."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.site import Site
from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas, Point, Spot
from reviews.demo.drawings.page import FIELD, FITTING_SCALES, caption
from reviews.demo.drawings.symbols import arrow, scale_bar, thousands

DEPTH = (0.42, 0.30)
"""How a metre of width lies on paper beside a metre of length, to the right and up."""
FLAT_M, WORDS_MM = 0.5, 17.0
"""Below what height pieces are stacked [m]; what the words take at the top of a cell [mm]."""
ORDER_TOP = FIELD.bottom - 44.0


class Grid(NamedTuple):
    """The cells that pieces stand in, filled column by column: in a column, and one's size [mm]."""

    rows: int
    wide: float
    high: float


def grid_for(pieces: Sequence[Piece]) -> Grid:
    """Return the cells for so many pieces."""
    columns = 4 if len(pieces) > 9 else 3
    rows = max(1, ceil(len(pieces) / columns))
    return Grid(rows, FIELD.width / columns, (ORDER_TOP - FIELD.top - 16) / rows)


def scale_for(package: Package, pieces: Sequence[Piece]) -> int:
    """Return the largest scale at which every piece, and the largest that may come, fits."""
    grid = grid_for(pieces)
    sizes = [*(p.sizes_m for p in pieces), _limit(package.site)]
    whole = [tuple(s or 0.0 for s in size) for size in sizes if None not in size]
    for scale in FITTING_SCALES:
        k = 1000 / scale
        if all(
            k * (l + w * DEPTH[0]) <= grid.wide - 8
            and k * (h + w * DEPTH[1]) <= grid.high - WORDS_MM
            for l, w, h in whole
        ):
            return scale
    return FITTING_SCALES[-1]


def _limit(site: Site) -> tuple[float | None, float | None, float | None]:
    """Return the largest piece that can be brought [m]."""
    return site.piece_l_m, site.piece_w_m, site.piece_h_m


def draw_pieces(canvas: Canvas, building: Building) -> None:
    """Draw the pieces and their order."""
    package = building.package
    scale = scale_for(package, building.pieces)
    unordered = len(building.pieces)
    pieces = sorted(building.pieces, key=lambda p: unordered if p.order is None else p.order)
    note = f"1:{scale}; broken line: the largest that can be brought"
    caption(canvas, (FIELD.left, FIELD.top + 5), "Pieces in the order they come", note)
    if not pieces:
        canvas.text((FIELD.left, FIELD.top + 20), "None in the schedule.", 4, ink="graphite")
        return
    grid = grid_for(pieces)
    for i, piece in enumerate(pieces):
        column, row = divmod(i, grid.rows)
        at = (FIELD.left + column * grid.wide, FIELD.top + 14 + row * grid.high)
        _piece(canvas, piece, package.site, at, grid, scale)
    _order(canvas, pieces)
    scale_bar(canvas, (FIELD.right - 21 - 4000 / scale, FIELD.top + 5), scale, 1.0)


def _oblique(canvas: Canvas, at: Point, scale: int) -> Canvas:
    """Return the sheet as a view in oblique projection from a place: length, width, height [m]."""
    k = 1000 / scale
    return canvas.seen(
        lambda l, w, h: (at[0] + (l + w * DEPTH[0]) * k, at[1] - (h + w * DEPTH[1]) * k), k
    )


def _box(view: Canvas, l: float, w: float, h: float) -> None:
    """Draw a box of a length, width and height [m]; boards show on a flat one."""
    view.shape([(0, 0, 0), (l, 0, 0), (l, 0, h), (0, 0, h)])
    view.shape([(0, 0, h), (l, 0, h), (l, w, h), (0, w, h)])
    end = [(l, 0, 0), (l, w, 0), (l, w, h), (l, 0, h)]
    view.shape(end, hatch=(1.1, 45, "ochre"))
    for k in range(1, 4 if h < 0.7 else 1):
        view.line([(0, w * k / 4, h), (l, w * k / 4, h)], "hair", "pale")


def _edges(l: float, w: float, h: float) -> Sequence[Sequence[Spot]]:
    """Return the edges that show of a box [m]."""
    return (
        [(0, 0, 0), (l, 0, 0), (l, w, 0), (l, w, h), (0, w, h), (0, 0, h), (0, 0, 0)],
        [(0, 0, h), (l, 0, h), (l, 0, 0)],
        [(l, 0, h), (l, w, h)],
    )


def _piece(canvas: Canvas, piece: Piece, site: Site, at: Point, grid: Grid, scale: int) -> None:
    """Draw a piece as often as it comes, as far as its cell has room: stacked, else in a row."""
    (x, y), n = at, piece.n or 1
    canvas.text((x, y + 5), piece.mark, 4.6, "strong", "ochre")
    name = canvas.fitted(piece.piece or "", grid.wide - 18, 4.2, "medium")
    canvas.text((x + 12, y + 5), name, 4.2, "medium")
    kilos = f"{thousands(piece.mass_kg)} kg" if piece.mass_kg is not None else "kg blank"
    words = f"{n} × {kilos}"
    canvas.text((x, y + 10.6), words, 4.0)
    beside = (x + canvas.width_of(words, 4.0) + 4, y + 10.6)
    if None in piece.sizes_m:
        canvas.text(beside, "sizes blank", 3.7, "italic", "graphite")
        return
    l, w, h = (size or 0.0 for size in piece.sizes_m)
    canvas.text(beside, f"{l:g} × {w:g} × {h:g} m", 3.7, ink="graphite")
    k, base = 1000 / scale, (x + 2, y + grid.high - 5)
    limit = _limit(site)
    if None not in limit:
        for line in _edges(*(size or 0.0 for size in limit)):
            _oblique(canvas, base, scale).line(line, "hair", "fine", (2.4, 1.2))
    if h < FLAT_M:
        fits = int((grid.high - WORDS_MM - k * w * DEPTH[1]) / (k * h + 0.6))
        places = [(base[0], base[1] - i * (k * h + 0.6)) for i in range(max(1, min(n, fits)))]
    else:
        fits = int((grid.wide - 5 - k * w * DEPTH[0]) / (k * l + 3.0))
        places = [(base[0] + i * (k * l + 3.0), base[1]) for i in range(max(1, min(n, fits)))][::-1]
    for place in places:
        _box(_oblique(canvas, place, scale), l, w, h)


def _order(canvas: Canvas, pieces: Sequence[Piece]) -> None:
    """Draw one square for each lift, numbered in order; removal is the same way back."""
    y = ORDER_TOP + 8
    total = sum(p.n or 1 for p in pieces)
    canvas.line([(FIELD.left - 5, ORDER_TOP), (FIELD.right + 5, ORDER_TOP)])
    known = [(p.n or 1) * p.mass_kg for p in pieces if p.mass_kg is not None]
    tonnes = f"{sum(known) / 1000:.1f} t" + ("" if len(known) == len(pieces) else ", some blank")
    caption(canvas, (FIELD.left, y), "Order", f"{total} loads, {tonnes}")
    step = max(1.2, min(9.0, (FIELD.width - (len(pieces) - 1) * 2.4) / max(1, total)))
    x, top, number = FIELD.left, y + 9, 0
    for piece in pieces:
        start = x
        for _ in range(piece.n or 1):
            number += 1
            canvas.box(x, top, x + step - 0.9, top + 7.2, "thin")
            if step > 6.5:
                canvas.text((x + step / 2 - 0.4, top + 3.7), str(number), 3.3, anchor="mm")
            x += step
        canvas.line([(start, top + 9), (x - 0.9, top + 9)], ink="ochre")
        at = ((start + x - 0.9) / 2, top + 13.6)
        canvas.text(at, piece.mark, 3.6, "strong", "ochre", "ms")
        x += 2.4
    for start, end, ink, words in (
        (0, 40, "ink", "coming"),
        (110, 70, "spruce", "going: the same order from the last to the first"),
    ):
        left = FIELD.left
        arrow(canvas, (left + start, top + 18), (left + end, top + 18), ink=ink)
        canvas.text((left + max(start, end) + 3, top + 19.2), words, 3.7, ink=ink)

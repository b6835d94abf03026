"""Sheet 06: every piece to one scale with mark and mass, and the order in which they come."""

from collections.abc import Sequence

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

SCALE = 100
DEPTH = (0.42, 0.30)
"""How a metre of width lies on paper beside a metre of length, to the right and up."""
ORDER_TOP = FIELD.bottom - 44.0


def draw_pieces(canvas: Canvas, building: Building) -> None:
    """Draw the pieces and their order."""
    pieces = ordered(building.package.pieces)
    caption(
        canvas,
        (FIELD.left, FIELD.top + 5),
        "Pieces in the order they come",
        "1:100; broken line: largest that can be brought",
    )
    if not pieces:
        canvas.text((FIELD.left, FIELD.top + 20), "None in the schedule.", 4, "label", GRAPHITE)
        return
    columns = 4 if len(pieces) > 9 else 3
    rows = -(-len(pieces) // columns)
    wide = FIELD.width / columns
    high = (ORDER_TOP - FIELD.top - 16) / rows
    for i, piece in enumerate(pieces):
        row, column = divmod(i, columns)
        x, y = FIELD.left + column * wide, FIELD.top + 14 + row * high
        _piece(canvas, piece, building.package.site, x, y, wide, high, i + 1)
    _order(canvas, pieces)
    scale_bar(canvas, (FIELD.right - 68, FIELD.top + 5), SCALE, 1.0)


def ordered(pieces: Sequence[Piece]) -> list[Piece]:
    """Return the pieces in order of arrival; those without an order keep the schedule's."""
    return sorted(pieces, key=lambda p: p.order if p.order is not None else 10_000)


def _box(canvas: Canvas, at: Point, l: float, w: float, h: float, dash: bool = False) -> None:
    """Draw a box in oblique projection; at is its lower left front corner; sizes in metres."""
    x, y = at
    s = 1000 / SCALE
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


def _piece(
    canvas: Canvas,
    piece: Piece,
    site: Site,
    x: float,
    y: float,
    wide: float,
    high: float,
    number: int,
) -> None:
    canvas.text((x, y + 5), piece.mark, 4.6, "strong", OCHRE)
    name = canvas.fitted(piece.piece or "", wide - 26, 4.2, "medium")
    canvas.text((x + 12, y + 5), name, 4.2, "medium")
    mass = (
        f"{piece.mass_kg:,.0f} kg".replace(",", "\u2009")
        if piece.mass_kg is not None
        else "kg blank"
    )
    canvas.text((x, y + 10.6), f"{piece.n or 1} × {mass}", 4.0, "label", INK)
    sizes = piece.sizes_m
    if None in sizes:
        canvas.text((x, y + 20), "sizes blank", 3.7, "italic", GRAPHITE)
        return
    l, w, h = (size or 0.0 for size in sizes)
    words = f"{l:g} × {w:g} × {h:g} m"
    canvas.text(
        (x + canvas.width_of(f"{piece.n or 1} × {mass}", 4.0) + 4, y + 10.6),
        words,
        3.7,
        "label",
        GRAPHITE,
    )
    base = (x + 2, y + high - 5)
    limit = (site.piece_l_m, site.piece_w_m, site.piece_h_m)
    room = high - 17
    tall = max(h, limit[2] or 0) * 10 + max(w, limit[1] or 0) * 10 * DEPTH[1]
    if None not in limit and tall <= room:
        _box(canvas, base, *(v or 0.0 for v in limit), dash=True)
    for i in reversed(range(min(piece.n or 1, 4))):
        if i and h * 10 * (i + 1) + w * 3 < room and h < 0.7:
            continue
    stack = (
        min(piece.n or 1, max(1, int((room - w * 10 * DEPTH[1]) / (h * 10 + 0.6))))
        if h < 0.5
        else 1
    )
    for i in range(stack):
        _box(canvas, (base[0], base[1] - i * (h * 10 + 0.6)), l, w, h)


def _order(canvas: Canvas, pieces: Sequence[Piece]) -> None:
    """Draw one square for each lift, numbered in order; removal is the same way back."""
    y = ORDER_TOP + 8
    total = sum(p.n or 1 for p in pieces)
    canvas.line([(FIELD.left - 5, ORDER_TOP), (FIELD.right + 5, ORDER_TOP)], LINE)
    known = [(p.n or 1) * p.mass_kg for p in pieces if p.mass_kg is not None]
    tonnes = f"{sum(known) / 1000:.1f} t" + ("" if len(known) == len(pieces) else ", some blank")
    caption(canvas, (FIELD.left, y), "Order", f"{total} loads, {tonnes}")
    gaps = len(pieces) - 1
    step = min(9.0, (FIELD.width - gaps * 2.4) / max(1, total))
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

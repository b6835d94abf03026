"""The order of arrival, drawn: pieces along a line by their number; twice or none is told."""

from __future__ import annotations

from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.held import failing
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.schedules.moving import Piece

CELL_MM, TALL_MM, GAP_MM, LINE_MM, MOST = 31.0, 13.0, 3.0, 3.9, 10
"""How wide a piece is at least, how tall, between pieces, a line of words [mm];
rows of pieces that are drawn."""


def draw_order(seen: Seen, field: Field) -> Drawing:
    """Draw pieces in the order of their numbers, in rows from left to right."""
    head = answer(seen, field)
    rows = sorted(
        seen.package.leniently.pieces, key=lambda row: (row.order is None, row.order or 0)
    )
    missed = failing(seen)
    room = field.width_mm - 2 * SIDE_MM
    columns = int((room + GAP_MM) / (CELL_MM + GAP_MM))
    cell = (room + GAP_MM) / columns
    drawn, rest = rows[: MOST * columns], rows[MOST * columns :]
    marks: list[Mark] = [*head.letters]
    top = head.height_mm + 1.5
    for n, row in enumerate(drawn):
        left, y = SIDE_MM + n % columns * cell, top + n // columns * (TALL_MM + GAP_MM)
        if n % columns:  # the way from the one before
            line = (left - GAP_MM, y + TALL_MM / 2), (left, y + TALL_MM / 2)
            marks.append(Path(points=line, pen=Pen.FINE))
        box = (left, y, left + cell - GAP_MM, y + TALL_MM)
        marks.append(_cell(row, box, is_missed=row.title in missed))
    lines = -(-len(drawn) // columns)
    return Drawing(
        title="Pieces in the order of their arrival",
        says=head.says,
        width_mm=field.width_mm,
        height_mm=round(top + lines * (TALL_MM + GAP_MM), 2),
        marks=tuple(marks),
        figures=head.figures,
        left_out=tuple(_gap(row) for row in rest if row.order is None),
        key=tuple(row.mark for row in rest),
    )


def _cell(row: Piece, box: tuple[float, float, float, float], *, is_missed: bool) -> Touch:
    """A piece with its number; dashed where it has none, red where another has the same."""
    left, top, right, _ = box
    gap = _gap(row) if row.order is None else None
    tone = Tone.SHORT if is_missed and not gap else Tone.INK
    pen = Pen.ASSUMED if gap else Pen.SEEN
    shape = Path(
        points=rectangle(box), pen=pen, tone=tone, fill=Fill.PAPER, is_closed=True, gap=gap
    )
    number = "not given" if gap else str(row.order)
    cap = LEAST_MM if gap else NAME_MM
    wide = right - left - 3.0
    x, y = left + 1.5, top + NAME_MM + 1.5
    said = Lettering(words=number, at=(x, y), cap_mm=cap, gap=gap, tone=tone, is_strong=not gap)
    title = f"{row.mark} {row.piece or ''}".strip()
    name = Lettering(words=fitted(title, LEAST_MM, wide), at=(x, y + LINE_MM + 0.6))
    says = f"{title}, {number}"
    return Touch(schedule="pieces", mark=row.mark, says=says, marks=(shape, said, name))


def _gap(row: Piece) -> Gap:
    says = f"{row.mark}: order not given"
    return Gap(schedule="pieces", mark=row.mark, column="order", says=says)


def _ready(seen: Seen) -> Ready | None:
    return Ready(partial(draw_order, seen)) if seen.package.leniently.pieces else None


ORDER = Picture(ready=_ready, wants="there are no pieces to number", checks=("order_numbers",))

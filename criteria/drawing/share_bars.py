"""Bars of what is carried beside what may be: one a row, the limit a heavy tick across all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from criteria.drawing.drawing import Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.findings import SAME, Amount, Measured
from criteria.units import RATIO

ROW_MM, BAR_MM, NAME_SHARE = 5.2, 2.6, 0.3
MOST = 6
"""Rows that are drawn, the worst first; the rest stand in the check's own table."""


class ShareBars:
    """Figures that are shares of what may be, such as a load of its plate.

    most    of what may be, where it is held to some: 1 is all of it
    of      the words of what a share is of: "payload"
    ends    where they begin and end across the paper [mm]
    """

    def __init__(
        self,
        found: Sequence[Measured],
        most: float | None,
        of: str,
        field: Field,
        ends: tuple[float, float],
    ) -> None:
        self.rows = [each for each in found if each.values][:MOST]
        self.most, self.of, self.field, self.ends = most, of, field, ends
        self.figures: list[Figure] = []

    @property
    def height_mm(self) -> float:
        """How much of the paper they take."""
        return ROW_MM * (len(self.rows) + 1) if self.rows else 0.0

    def marks(self, top: float) -> Iterator[Mark]:
        """Draw them."""
        if not self.rows:
            return
        begin, right = self.ends
        named = NAME_SHARE * (right - begin)
        left = begin + named
        written = [Amount(each.values[0], RATIO).write(self.field.system) for each in self.rows]
        words = max(width_mm(each, LEAST_MM) for each in written) + 1.6
        most = max(1.0, self.most or 0.0, *(each.values[0] for each in self.rows))
        per = (right - left - words) / most
        foot = top + self.height_mm
        for n, (each, said) in enumerate(zip(self.rows, written, strict=True)):
            middle = top + ROW_MM * (n + 1.5)
            name = fitted(f"{each.subject} {each.name}".strip(), LEAST_MM, named - 1.0)
            yield Lettering(words=name, at=(begin, middle + LEAST_MM / 2))
            value = each.values[0]
            end = left + per * value
            box = rectangle((left, middle - BAR_MM / 2, end, middle + BAR_MM / 2))
            yield Path(points=box, pen=Pen.SEEN, fill=Fill.TRACE, is_closed=True)
            is_over = self.most is not None and value > self.most * (1 + SAME)
            if is_over:
                x = left + per * (self.most or 0.0)
                over = rectangle((x, middle - BAR_MM / 2, end, middle + BAR_MM / 2))
                yield Path(points=over, pen=Pen.SEEN, tone=Tone.SHORT, is_closed=True)
                yield hatched(over, 0.9, Tone.SHORT)
            tone = Tone.SHORT if is_over else Tone.INK
            amount = Amount(value, RATIO)
            self.figures.append(Figure(what=f"{name} / {self.of}", amount=amount, lettered=said))
            at = (right, middle + LEAST_MM / 2)
            yield Lettering(words=said, at=at, anchor="end", tone=tone)
        yield from self._line(left + per * (self.most or 1.0), top, foot)

    def _line(self, x: float, top: float, foot: float) -> Iterator[Mark]:
        pen, words = Pen.FINE, f"all of the {self.of}"
        if self.most is not None:
            limit = Amount(self.most, RATIO)
            pen, words = Pen.CUT, f"at most {limit.write(self.field.system)}"
            self.figures.append(Figure(what="Asked, at most", amount=limit, lettered=words))
        yield Path(points=((x, top + ROW_MM - 1.0), (x, foot)), pen=pen)
        at = (max(x - 0.8, self.ends[0] + width_mm(words, LEAST_MM)), top + ROW_MM - 2.0)
        yield Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE)

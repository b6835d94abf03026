"""Minutes that each scheme was given, drawn beside each other: parts in a row, the plan a line.

Equal time is the fairness that students notice most.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, rectangle
from criteria.drawing.pens import Fill, Pen, Tone

ROW_MM, BAR_MM, HEAD_MM, FOOT_MM, SIDE_MM, GAP_MM = 5.2, 2.8, 6.0, 1.6, 2.0, 2.0
NAME_SHARE, NARROW_NAME_SHARE = 0.26, 0.16
PARTS = (Fill.TRACE, Fill.LIT, Fill.CUT)
"""How presenting, discussion and silent writing are filled."""


@dataclass(frozen=True, kw_only=True)
class Given:
    """What a scheme was given.

    minutes   of presenting, discussion, silent writing
    allowed   that it had in all, with what was added for it
    is_on     whether it is on yet, and more comes
    """

    number: str
    name: str
    minutes: tuple[float, float, float]
    allowed: float
    is_on: bool = False

    @property
    def whole(self) -> float:
        """All parts together [min]."""
        return sum(self.minutes)

    @property
    def words(self) -> str:
        """Minutes and seconds."""
        return "{}:{:02}".format(*divmod(round(self.whole * 60), 60))


def draw_minutes(given: Sequence[Given], planned: float, over: float, field: Field) -> Drawing:
    """Draw what schemes were given, at least one, in the order of the day.

    planned   minutes that a slot's parts have together
    over      minutes over what a scheme had that are let pass; what goes beyond is hatched
    """
    strip = _Strip(given, planned, over, field)
    return Drawing(
        title="Minutes given",
        says=strip.says(),
        width_mm=field.width_mm,
        height_mm=HEAD_MM + ROW_MM * len(given) + FOOT_MM,
        marks=tuple(strip.marks()),
    )


class _Strip:
    def __init__(self, given: Sequence[Given], planned: float, over: float, field: Field) -> None:
        self.given, self.planned, self.over = given, planned, over
        share = NARROW_NAME_SHARE if field.is_narrow else NAME_SHARE
        self.named = share * field.width_mm
        self.is_narrow = field.is_narrow
        self.left = SIDE_MM + self.named
        self.right = field.width_mm - SIDE_MM
        widest = max(width_mm(each.words, LEAST_MM) for each in given)
        longest = max(planned + over, *(each.whole for each in given))
        self.per = (self.right - self.left - widest - GAP_MM) / longest

    def _is_over(self, each: Given) -> bool:
        return each.whole > each.allowed + self.over

    def says(self) -> str:
        rows = (
            f"{each.number} {each.name} {each.words}{' so far' if each.is_on else ''}"
            f"{', over' if self._is_over(each) else ''}"
            for each in self.given
        )
        return f"A slot's parts have {self.planned:g} min. {'; '.join(rows)}."

    def marks(self) -> Iterator[Mark]:
        x = self.left + self.per * self.planned
        foot = HEAD_MM + ROW_MM * len(self.given)
        yield Path(points=((x, HEAD_MM - 1.0), (x, foot)), pen=Pen.CUT)
        words = f"planned {self.planned:g} min"
        yield Lettering(words=words, at=(x, HEAD_MM - 2.2), anchor="end", tone=Tone.GRAPHITE)
        for n, each in enumerate(self.given):
            yield from self._row(each, HEAD_MM + ROW_MM * (n + 0.5))

    def _row(self, each: Given, y: float) -> Iterator[Mark]:
        foot, x = y + LEAST_MM / 2, self.left
        name = each.number if self.is_narrow else f"{each.number} {each.name}"
        words = fitted(name, LEAST_MM, self.named - GAP_MM)
        yield Lettering(words=words, at=(SIDE_MM, foot), is_strong=each.is_on)
        for minutes, fill in zip(each.minutes, PARTS, strict=True):
            if minutes:
                end = x + self.per * minutes
                box = rectangle((x, y - BAR_MM / 2, end, y + BAR_MM / 2))
                yield Path(points=box, pen=Pen.FINE, fill=fill, is_closed=True)
                x = end
        if is_over := self._is_over(each):
            begin = self.left + self.per * (each.allowed + self.over)
            box = rectangle((begin, y - BAR_MM / 2, x, y + BAR_MM / 2))
            yield Path(points=box, pen=Pen.SEEN, tone=Tone.SHORT, is_closed=True)
            yield hatched(box, 0.9, Tone.SHORT)
        tone = Tone.SHORT if is_over else Tone.INK
        yield Lettering(words=each.words, at=(self.right, foot), anchor="end", tone=tone)

"""What moves the worst night, ranked: each input a step less and a step more, from the night as is.

A step less is left open, a step more is filled; colder lies to the left.
"""

from __future__ import annotations

from collections.abc import Iterator

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.value_bars import GAP_MM, LINE_MM, SIDE_MM
from criteria.drawing.year_frame import heading, notes
from criteria.findings import Amount
from criteria.hourly.sensitivity import Moved, Moves
from criteria.units import TEMPERATURE, System

BAR_MM, ROW_MM, STACKED_MM, NAMES = 2.6, 8.6, 12.4, 0.42
"""How high a bar is, an input's row, and one of a telephone [mm]; how much names take [1]."""


def draw_moves(moves: Moves, field: Field) -> Drawing:
    """Draw the inputs that move a night most."""
    return _Moves(moves, field).drawing()


def apart(kelvin: float, system: System) -> str:
    """Write how far a night is moved, with its sign: +0.5 °C.

    >>> apart(0.5, System.METRIC), apart(-1.0, System.US), apart(0.0, System.METRIC)
    ('+0.5 °C', '−1.8 °F', '0.0 °C')
    """
    written = TEMPERATURE.difference(abs(kelvin), system)
    if written == TEMPERATURE.difference(0.0, system):
        return written
    return ("+" if kelvin > 0 else "−") + written


class _Moves:
    def __init__(self, moves: Moves, field: Field) -> None:
        self.moves, self.field = moves, field
        self.most = moves.most
        words = max(
            (width_mm(apart(k, field.system), LEAST_MM) for _, k in self._ways()), default=0.0
        )
        left = SIDE_MM if field.is_narrow else field.width_mm * NAMES
        right = field.width_mm - SIDE_MM
        self.middle = (left + right) / 2
        reach = max((each.most_k for each in self.most), default=1.0)
        self.per_k = ((right - left) / 2 - words - GAP_MM) / reach

    def _ways(self) -> Iterator[tuple[Moved, float]]:
        for each in self.most:
            yield from ((each, k) for k in (each.less_k, each.more_k) if k is not None)

    def drawing(self) -> Drawing:
        system, moves = self.field.system, self.moves
        night = Amount(moves.night_k, TEMPERATURE).write(system)
        says = f"the coldest night without plant, {moves.night.words}"
        if self.most:
            says += f"; moved most by {self.most[0].name}"
        marks, top = heading(night, says, Tone.INK, self.field)
        for each in self.most:
            parts, top = self._row(each, top)
            marks += parts
        key = ["open: a step less; filled: a step more; left of the line colder, right warmer"]
        said, top = notes(key, top + 1.0, self.field)
        return Drawing(
            title="What moves the worst night",
            says=f"{night}: {says}.",
            width_mm=self.field.width_mm,
            height_mm=round(top + 1.6, 2),
            marks=(*marks, *said),
            figures=tuple(self._figures(night)),
        )

    def _row(self, each: Moved, top: float) -> tuple[list[Mark], float]:
        """An input's name and its two bars; a telephone has the name over them."""
        system = self.field.system
        name = f"{each.name}, {each.step.write(system)}"
        room = self.field.width_mm - 2 * SIDE_MM
        foot, end = top + BAR_MM + 0.9 + LEAST_MM / 2, top + ROW_MM
        if self.field.is_narrow:
            foot, end, top = top + LEAST_MM + 0.6, top + STACKED_MM, top + LINE_MM
        else:
            room = self.field.width_mm * NAMES - SIDE_MM - GAP_MM
        marks: list[Mark] = [Lettering(words=fitted(name, LEAST_MM, room), at=(SIDE_MM, foot))]
        ways = (each.less_k, Fill.PAPER), (each.more_k, Fill.INK)
        for n, (kelvin, fill) in enumerate(ways):
            if kelvin is not None:
                marks += self._bar(kelvin, fill, top + 0.6 + n * (BAR_MM + 0.6))
        line = (self.middle, top), (self.middle, top + 2 * BAR_MM + 1.8)
        marks.append(Strokes(segments=(line,), pen=Pen.SEEN))
        return marks, end

    def _bar(self, kelvin: float, fill: Fill, top: float) -> Iterator[Mark]:
        end = self.middle + kelvin * self.per_k
        one, other = sorted((self.middle, end))
        box = rectangle((one, top, other, top + BAR_MM))
        yield Path(points=box, pen=Pen.FINE, fill=fill, is_closed=True)
        is_warmer = kelvin > 0
        at = (end + (0.8 if is_warmer else -0.8), top + BAR_MM / 2 + LEAST_MM / 2)
        words = apart(kelvin, self.field.system)
        yield Lettering(words=words, at=at, anchor="start" if is_warmer else "end")

    def _figures(self, lettered: str) -> Iterator[Figure]:
        night = Amount(self.moves.night_k, TEMPERATURE)
        yield Figure(what="The coldest night without plant", amount=night, lettered=lettered)
        for each, kelvin in self._ways():
            way = "less" if kelvin is each.less_k else "more"
            what = f"{each.name}, {each.step.write(self.field.system)}, a step {way}"
            amount = Amount(self.moves.night_k + kelvin, TEMPERATURE)
            yield Figure(what=what, amount=amount, lettered=apart(kelvin, self.field.system))

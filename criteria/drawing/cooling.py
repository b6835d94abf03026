"""Heat to take out on a hot afternoon, drawn as a stair of what comes in, over what goes out.

Each step begins where the one before it ended, so that the last ends at the whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.checks.cooling import PANELS_FOR_COOLING, Term, terms_of
from criteria.checks.heat import fabric
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import (
    Held,
    amounts_in,
    held,
    held_to_nothing,
    in_its_case,
    is_of_its_case,
)
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Box, Lettering, Mark, Path, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import lettered
from criteria.drawing.value_bars import Axis, Bar, height_mm, strip
from criteria.errors import InputError
from criteria.findings import Amount
from criteria.typed.cells import Lacking
from criteria.units import POWER

LOAD, PLANT, PANELS = "cooling_load", "cooling_plant", PANELS_FOR_COOLING.slug
ROW_MM, BAR_MM, NAME_MM, LEAST_PART_MM = 5.6, 3.2, 38.0, 1.2
"""A step of the stair, its bar, names before it, and the least part of one that is told [mm]."""


def draw_cooling(terms: Sequence[Term], seen: Seen, field: Field) -> Drawing:
    """Draw what heats a building on a hot afternoon."""
    return _Stair(terms, seen, field).drawing()


class _Stair:
    def __init__(self, terms: Sequence[Term], seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        self.terms = sorted(terms, key=lambda term: -term.heat_w)
        self.head = answer(seen, field)
        self.load = self._one(LOAD)
        self.gives = seen.package.leniently.plant.cooling_w
        load = self.load.amount.si if self.load else 0.0
        limit = (self.load.part.target or 0.0) if self.load else 0.0
        ends = [load, min(limit, 2 * load), min(self.gives or 0.0, 2 * load)]
        ends += [term.heat_w for term in self.terms]
        figures = [self._write(each) for each in (load, self.gives or 0.0)]
        words = max(width_mm(each, LEAST_MM) for each in figures) + 3.0
        left = SIDE_MM + min(NAME_MM, field.width_mm * 0.38)
        self.axis = Axis(left, field.width_mm - SIDE_MM - words, max(ends) or 1.0)
        self.figures: list[Figure] = []

    def _one(self, check: str) -> Held | None:
        """The figure of a check for the people that are drawn."""
        found = (each for each in held(self.seen, check) if is_of_its_case(self.seen, each))
        return next(found, None)

    def _write(self, watts: float) -> str:
        return lettered(Amount(watts, POWER), self.field.system)

    def drawing(self) -> Drawing:
        """Draw the answer, the stair, the whole with its limit, and what takes it out."""
        marks: list[Mark] = [*self.head.letters]
        top, reached = self.head.height_mm + 2.0, 0.0
        for n, term in enumerate(self.terms):
            marks += self._term(term, reached, top + n * ROW_MM)
            reached += term.heat_w
        top += len(self.terms) * ROW_MM
        marks += self._whole(top)
        top += ROW_MM
        if self.seen.check != PANELS and self.gives is not None:
            marks += self._given(top)
            top += ROW_MM
        bars = self._electric()
        marks += strip(bars, top + 2.0, self.field)
        top += height_mm(bars, is_stacked=self.field.is_narrow) + 2.0 * bool(bars)
        largest = self.terms[0]
        return Drawing(
            title="Heat to take out at the hottest hour",
            says=f"{self.head.says} Most comes by {largest.name}: {self._write(largest.heat_w)}.",
            width_mm=self.field.width_mm,
            height_mm=round(top + 3.0, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
        )

    def _row(
        self, name: str, watts: float, top: float, tone: Tone = Tone.INK, *, is_strong: bool = False
    ) -> tuple[float, list[Mark]]:
        """Name a row and write its figure; say where its middle lies."""
        middle = top + ROW_MM / 2
        foot = middle + LEAST_MM / 2
        words = self._write(watts)
        self.figures.append(Figure(what=name, amount=Amount(watts, POWER), lettered=words))
        name = fitted(name, LEAST_MM, self.axis.left_mm - SIDE_MM - 1.5)
        right = self.field.width_mm - SIDE_MM
        return middle, [
            Lettering(words=name, at=(SIDE_MM, foot), is_strong=is_strong),
            Lettering(words=words, at=(right, foot), anchor="end", tone=tone, is_strong=is_strong),
        ]

    def _box(self, start: float, end: float, middle: float) -> Box:
        left, right = sorted((self.axis.x(start), self.axis.x(end)))
        return left, middle - BAR_MM / 2, right, middle + BAR_MM / 2

    def _term(self, term: Term, reached: float, top: float) -> Iterator[Mark]:
        """A step of the stair: a bar from where the one before ended, parted by its lines."""
        middle, words = self._row(term.name, term.heat_w, top)
        yield from words
        box = self._box(reached, reached + term.heat_w, middle)
        fill = Fill.TRACE if term.heat_w >= 0 else Fill.GLASS
        yield Path(points=rectangle(box), pen=Pen.SEEN, fill=fill, is_closed=True)
        at, parts = reached, []
        for watts, _ in term.lines:
            at += watts
            x = self.axis.x(at)
            if watts > 0 and box[0] + LEAST_PART_MM < x < box[2] - LEAST_PART_MM:
                parts.append(((x, box[1]), (x, box[3])))
        yield Strokes(segments=tuple(parts), pen=Pen.FINE)
        down = self.axis.x(reached + term.heat_w)
        line = (down, middle + BAR_MM / 2), (down, middle + ROW_MM - BAR_MM / 2)
        yield Path(points=line, pen=Pen.HATCH)

    def _whole(self, top: float) -> Iterator[Mark]:
        """All of it, with what it is held to; what is over that is hatched."""
        if self.load is None:
            return
        value, tone, limit = self.load.amount.si, self.load.tone, self.load.part.target
        is_strong = self.seen.check == LOAD
        middle, words = self._row("all to take out", value, top, tone, is_strong=is_strong)
        yield from words
        box = self._box(0.0, value, middle)
        state = self.load.part.state
        fill = Fill.INK if state.is_met else Fill.PAPER if state.is_missed else Fill.TRACE
        yield Path(points=rectangle(box), pen=Pen.SEEN, tone=tone, fill=fill, is_closed=True)
        if limit is None:
            return
        if self.load.lacks:
            yield hatched(rectangle(self._box(limit, value, middle)), 1.1, tone)
        x = self.axis.x(limit)
        yield Path(points=((x, middle - 2.4), (x, middle + 2.4)), pen=Pen.CUT)

    def _given(self, top: float) -> Iterator[Mark]:
        """What the plant takes out, as typed; what it lacks to all of it is hatched."""
        gives = self.gives or 0.0
        found = self._one(PLANT)
        tone = found.tone if found else Tone.INK
        is_strong = self.seen.check == PLANT
        middle, words = self._row("cooling takes out", gives, top, tone, is_strong=is_strong)
        yield from words
        box = self._box(0.0, gives, middle)
        yield Path(points=rectangle(box), pen=Pen.SEEN, fill=Fill.GLASS, is_closed=True)
        if found and found.lacks and self.load:
            lacking = rectangle(self._box(gives, self.load.amount.si, middle))
            yield Path(points=lacking, pen=Pen.FINE, tone=tone, is_closed=True)
            yield hatched(lacking, 1.1, tone)

    def _electric(self) -> list[Bar]:
        """What cooling takes of electricity and what panels give at noon, of one unit."""
        found = self._one(PANELS) if self.seen.check == PANELS else None
        if found is None:
            return []
        made, need = amounts_in(found.measured.steps[-1])[:2]
        bars = []
        for name, amount in (("cooling draws", need), ("panels give at noon", made)):
            words = lettered(amount, self.field.system)
            known = held_to_nothing(amount.si, amount.scale)
            is_strong = amount is made
            bars.append(Bar(name=name, held=known, words=words, is_strong=is_strong))
            self.figures.append(Figure(what=name, amount=amount, lettered=words))
        return bars


def _ready(seen: Seen) -> Ready | None:
    try:
        package = in_its_case(seen)
        terms = terms_of(package, fabric(package))
    except (Lacking, InputError):
        return None
    return Ready(partial(draw_cooling, terms, seen))


COOLING = Picture(
    ready=_ready,
    wants="envelope, windows, loads and site want what heats a building on a hot afternoon",
    checks=(LOAD, PLANT, PANELS),
)

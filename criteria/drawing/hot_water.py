"""Hot water of a day, drawn: as wide as its litres, as high as it is warmed, and what it takes."""

from __future__ import annotations

from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.held import Held, amounts_in, held, held_to_nothing, is_of_its_case
from criteria.drawing.lettering import LEAST_MM, width_mm, wrapped
from criteria.drawing.marks import Lettering, Mark, Path, Strokes, rectangle
from criteria.drawing.pens import Fill, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import lettered, per_mm, stands_for
from criteria.drawing.value_bars import Bar, height_mm, strip
from criteria.findings import Amount
from criteria.units import TEMPERATURE

CHECK = "hot_water"
TALL_MM, WIDE_SHARE, LINE_MM = 26.0, 0.55, 3.9
"""How tall the block is at most [mm], how wide of a wide drawing [1]; a line of words."""


def draw_hot_water(found: Held, seen: Seen, field: Field) -> Drawing:
    """Draw what is warmed in a day, and the energy that it takes."""
    return _HotWater(found, seen, field).drawing()


class _HotWater:
    """The block is what its check counts: litres of a day by how much they are warmed."""

    def __init__(self, found: Held, seen: Seen, field: Field) -> None:
        self.found, self.seen, self.field = found, seen, field
        counted, warmed, _ = found.measured.steps
        self.people = int(str(counted.amounts[0]))
        self.each, self.litres = amounts_in(counted)
        _, _, self.rise, self.in_water = amounts_in(warmed)
        self.figures: list[Figure] = []

    def _in(self, amount: Amount) -> float:
        return float(amount.scale.unit(self.field.system).from_si(amount.si))

    def _write(self, amount: Amount, what: str) -> str:
        words = lettered(amount, self.field.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    def drawing(self) -> Drawing:
        """Draw the answer, the block, and what is in the water beside what is put in."""
        head, field = answer(self.seen, self.field), self.field
        ends = self._ends()
        before = max(width_mm(words, LEAST_MM) for words in ends) + 2.0
        room = field.width_mm - 2 * SIDE_MM - before
        room *= 1.0 if field.is_narrow else WIDE_SHARE
        litres, kelvin = self._in(self.litres), self._in(self.rise)
        per_l = per_mm(lambda per: litres / per <= room, field.system, 100)
        per_k = per_mm(lambda per: kelvin / per <= TALL_MM, field.system, 100)
        left, top = SIDE_MM + before, head.height_mm + 3.0
        right, foot = left + litres / per_l, top + kelvin / per_k
        box = rectangle((left, top, right, foot))
        marks: list[Mark] = [*head.letters, Path(points=box, fill=Fill.GLASS, is_closed=True)]
        each_mm = (right - left) / self.people
        if each_mm > 1.0:
            parts = [left + n * each_mm for n in range(1, self.people)]
            marks.append(Strokes(segments=tuple(((x, top), (x, foot)) for x in parts)))
        for words, y in zip(ends, (top, foot), strict=True):
            marks.append(Lettering(words=words, at=(left - 1.5, y + LEAST_MM / 2), anchor="end"))
        each, a_day = self._write(self.each, "of each"), self._write(self.litres, "a day")
        symbol, degrees = (a.scale.unit(field.system).symbol for a in (self.litres, self.rise))
        scale = ", ".join(
            stands_for(per, of, field.system, way)
            for per, of, way in ((per_l, symbol, "wide"), (per_k, degrees, "high"))
        )
        y = foot + 1.5
        for words, tone in (
            (f"{self.people} people × {each}: {a_day} a day", Tone.INK),
            (scale, Tone.GRAPHITE),
        ):
            for line in wrapped(words, LEAST_MM, field.width_mm - 2 * SIDE_MM):
                y += LINE_MM
                marks.append(Lettering(words=line, at=(SIDE_MM, y), tone=tone))
        bars = self._bars()
        marks += strip(bars, y + 1.5, field)
        return Drawing(
            title="Hot water of a day",
            says=head.says,
            width_mm=field.width_mm,
            height_mm=round(y + height_mm(bars, is_stacked=field.is_narrow) + 3.5, 2),
            marks=tuple(marks),
            figures=(*head.figures, *self.figures),
            scale=scale,
        )

    def _ends(self) -> list[str]:
        """How warm it is drawn, and how cold it comes."""
        site = self.seen.package.leniently.site
        return [
            f"{what} {self._write(Amount(si, TEMPERATURE), f'{what}, as typed')}"
            for si, what in ((site.hot_k, "warm"), (site.cold_k, "cold"))
        ]

    def _bars(self) -> list[Bar]:
        """The energy that the water holds, and what is put in for it, with its limit."""
        system, is_narrow = self.field.system, self.field.is_narrow
        held_in = held_to_nothing(self.in_water.si, self.in_water.scale)
        found = []
        for name, each in (("in the water", held_in), ("put in", self.found)):
            words = each.write_beside(system, is_narrow=is_narrow)
            self.figures.append(Figure(what=name, amount=each.amount, lettered=words))
            is_strong = each is self.found
            row = ("plant", "")
            found.append(Bar(name=name, held=each, words=words, row=row, is_strong=is_strong))
        return found


def _ready(seen: Seen) -> Ready | None:
    found = next((each for each in held(seen, CHECK) if is_of_its_case(seen, each)), None)
    return Ready(partial(draw_hot_water, found, seen)) if found and found.amount.si else None


HOT_WATER = Picture(
    ready=_ready,
    wants="site and plant want how much water is drawn warm, how warm, and what is kept of it",
    checks=(CHECK,),
)

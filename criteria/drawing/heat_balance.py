"""Heat on the coldest night, drawn: surfaces by area and U, so that each block is what it loses.

Under them what each loses in order, the whole beside what stove and heaters give, and how cold it
may be outside before anybody lights them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.checks.heat import Balance, Surface, balance
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import held, held_to_nothing, in_its_case, is_of_its_case, told
from criteria.drawing.lettering import LEAST_MM, width_mm, wrapped
from criteria.drawing.marks import Box, Lettering, Mark, Path, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.placing import Look, Placing
from criteria.drawing.scales import lettered, per_mm, stands_for
from criteria.drawing.value_bars import (
    LINE_MM,
    SIDE_MM,
    Axis,
    Bar,
    answer,
    height_mm,
    strip,
)
from criteria.errors import InputError
from criteria.findings import Amount
from criteria.typed.cells import Lacking
from criteria.units import AREA, HEAT_LOSS_RATE, POWER, TEMPERATURE, U_VALUE, Scale

BLOCKS_MM, HATCH_MM = 26.0, 1.6
"""How high the blocks are at most, and how far apart they are hatched [mm]."""
MOST_BARS, MOST_NARROW, MOST_CASES = 8, 5, 3
"""Surfaces that have a bar, the largest of more; and people cases of the whole."""


def draw_heat(seen: Seen, known: Balance, field: Field) -> Drawing:
    """Draw a heat balance."""
    return _Heat(seen, known, field).drawing()


class _Heat:
    def __init__(self, seen: Seen, known: Balance, field: Field) -> None:
        self.seen, self.known, self.field = seen, known, field
        self.wide = field.width_mm - 2 * SIDE_MM
        area = sum(self._in(AREA, each.area_m2) for each in known.surfaces)
        tallest = max(self._in(U_VALUE, each.u_w_m2k) for each in known.surfaces)
        self.per_area = per_mm(lambda per: area / per <= self.wide, field.system, 10)
        self.per_u = per_mm(lambda per: tallest / per <= BLOCKS_MM, field.system, 1000)
        self.high = tallest / self.per_u
        self.figures: list[Figure] = []
        self.unlettered: list[str] = []

    def _in(self, scale: Scale, si: float) -> float:
        return float(scale.unit(self.field.system).from_si(si))

    def drawing(self) -> Drawing:
        asked, field = self.seen.asked, self.field
        marks, top = answer(asked, told(self.seen), field.width_mm, field.system)
        foot = top + LINE_MM + self.high
        marks += self._blocks(foot)
        top = foot + 0.6
        for line in wrapped(self._says_scale(), LEAST_MM, self.wide):
            top += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, top), tone=Tone.GRAPHITE))
        top += 2.0
        for bars in (self._losses(), self._whole()):
            marks += self._strip(bars, top)
            top += height_mm(bars, is_stacked=field.is_narrow) + 3.0
        outside, top = self._outside(top)
        marks += outside
        return Drawing(
            title="Where heat goes on the coldest night",
            says=self._says(),
            width_mm=field.width_mm,
            height_mm=round(top, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale,
            key=tuple(self.unlettered),
        )

    @property
    def scale(self) -> str:
        """What a step of a block stands for, across and up."""
        system = self.field.system
        area, u = (scale.unit(system).symbol for scale in (AREA, U_VALUE))
        wide = stands_for(self.per_area, area, system, "wide")
        return f"{wide}, {stands_for(self.per_u, u, system, 'high')}"

    def _says_scale(self) -> str:
        return f"each block is as large as what it loses: {self.scale}"

    def _says(self) -> str:
        most = max(self.known.surfaces, key=lambda each: each.rate_w_k)
        loses = HEAT_LOSS_RATE.write(most.rate_w_k, self.field.system)
        return f"{self.seen.asked.state.word}. Most goes by {most.name}: {loses}."

    # Surfaces, as wide as their area and as high as their U

    def _rows(self) -> list[tuple[Surface, str]]:
        """Surfaces in the order they are drawn, with the schedule that each is a row of."""
        known = self.known
        kinds = ((known.parts, ""), (known.windows, "windows"), (known.doors, "doors"))
        return [
            (each, slug)
            for surfaces, slug in kinds
            for each in sorted(surfaces, key=lambda each: -each.rate_w_k)
        ]

    def _blocks(self, foot: float) -> Iterator[Mark]:
        placing = Placing(self.field.width_mm, foot + LINE_MM)
        left = SIDE_MM
        starts: dict[str, Box] = {}
        for n, (each, slug) in enumerate(self._rows()):
            wide = self._in(AREA, each.area_m2) / self.per_area
            box = (left, foot - self._in(U_VALUE, each.u_w_m2k) / self.per_u, left + wide, foot)
            yield from self._block(each, slug, box, is_rising=n % 2 == 0)
            starts.setdefault(slug or each.name, box)
            left += wide
        yield Path(points=((SIDE_MM, foot), (SIDE_MM + self.wide, foot)), pen=Pen.CUT)
        for words, (start, head, _, _) in starts.items():
            half = width_mm(words, LEAST_MM) / 2
            places = [(start + half, head - 2.4), (start - half - 1.0, head + 1.6)]
            if not placing.letter(words, places, Look()):
                self.unlettered.append(words)
        yield from placing.letters

    def _block(self, each: Surface, slug: str, box: Box, *, is_rising: bool) -> Iterator[Mark]:
        corners = rectangle(box)
        fill = {"": Fill.PAPER, "windows": Fill.GLASS, "doors": Fill.TRACE}[slug]
        pen = Pen.FINE if slug else Pen.SEEN
        outline = Path(points=corners, pen=pen, fill=fill, is_closed=True)
        if not slug:
            yield outline
            yield hatched(corners, HATCH_MM, Tone.GRAPHITE, is_rising=is_rising)
            return
        loses = HEAT_LOSS_RATE.write(each.rate_w_k, self.field.system)
        says = f"{each.name}, {loses}"
        yield Touch(schedule=slug, mark=each.name, says=says, marks=(outline,))

    # In order, and as a whole

    def _losses(self) -> list[Bar]:
        most = MOST_NARROW if self.field.is_narrow else MOST_BARS
        rates = [(each.name, each.rate_w_k, slug) for each, slug in self._rows()]
        rates.append(("air", self.known.air_w_k, ""))
        rates.sort(key=lambda rate: -rate[1])
        return [
            self._bar(name, rate, HEAT_LOSS_RATE, (slug, name) if slug else None)
            for name, rate, slug in rates[:most]
        ]

    def _whole(self) -> list[Bar]:
        """The loss for each people case as its check holds it, and what stove and heaters give."""
        system, is_narrow = self.field.system, self.field.is_narrow
        found = []
        for each in held(self.seen, "heat_loss")[:MOST_CASES]:
            case = each.measured.in_case
            words = each.write_beside(system, is_narrow=is_narrow)
            is_picked = each.measured == self.seen.asked.measured
            name = f"all of it, {case}" if case else "all of it"
            found.append(Bar(name=name, held=each, words=words, is_strong=is_picked))
        gives = self.seen.package.leniently.plant.heat_w
        if gives is not None:
            found.append(self._bar("stove and heaters give", gives, POWER, None))
        return found

    def _bar(self, name: str, value: float, scale: Scale, row: tuple[str, str] | None) -> Bar:
        words = lettered(Amount(value, scale), self.field.system)
        return Bar(name=name, held=held_to_nothing(value, scale), words=words, row=row)

    def _strip(self, bars: Sequence[Bar], top: float) -> Iterator[Mark]:
        yield from strip(bars, top, self.field)
        for bar in bars:
            figure = Figure(what=bar.name, amount=bar.held.amount, lettered=bar.words)
            self.figures.append(figure)

    # How cold it may be outside before anything burns

    def _outside(self, top: float) -> tuple[list[Mark], float]:
        """Temperatures from outside to inside, and that which people alone hold."""
        figures = held(self.seen, "balance_temperature")
        each = next((one for one in figures if is_of_its_case(self.seen, one)), None)
        if each is None:
            return [], top
        known, system = self.known, self.field.system
        low = min(known.outside_k, each.amount.si)
        axis = Axis(SIDE_MM, SIDE_MM + self.wide, known.inside_k - low)
        y = top + LINE_MM + 2.0
        marks: list[Mark] = [Path(points=((SIDE_MM, y), (SIDE_MM + self.wide, y)), pen=Pen.SEEN)]
        outside, inside = (Amount(k, TEMPERATURE) for k in (known.outside_k, known.inside_k))
        for amount, name, anchor, x in (
            (outside, "outside", "start", SIDE_MM),
            (inside, "inside", "end", SIDE_MM + self.wide),
        ):
            words = f"{name} {amount.write(system)}"
            marks.append(Lettering(words=words, at=(x, y - 1.8), anchor=anchor))
            self.figures.append(Figure(what=f"Design {name}", amount=amount, lettered=words))
        limit = each.part.target
        ticks = [(limit, Pen.CUT, Tone.INK)] if limit is not None else []
        for kelvin, pen, tone in (*ticks, (each.amount.si, Pen.SEEN, each.tone)):
            x = axis.x(kelvin - low)
            marks.append(Path(points=((x, y - 1.4), (x, y + 1.8)), pen=pen, tone=tone))
        words = f"people alone hold it at {each.write_beside(system, is_narrow=True)}"
        half = width_mm(words, LEAST_MM) / 2
        x = min(max(axis.x(each.amount.si - low), SIDE_MM + half), SIDE_MM + self.wide - half)
        at = (x, y + 5.2)
        marks.append(Lettering(words=words, at=at, anchor="middle", tone=each.tone))
        self.figures.append(Figure(what="People alone hold it at", amount=each.amount))
        return marks, y + 7.0


def _ready(seen: Seen) -> Ready | None:
    try:
        known = balance(in_its_case(seen))
    except (Lacking, InputError):
        return None
    return Ready(partial(draw_heat, seen, known))


HEAT = Picture(
    ready=_ready,
    wants="envelope, windows, outside doors and rooms want what a heat loss is reckoned from",
    checks=("heat_loss", "balance_temperature", "heat_plant", "warm_up", "fuel_days"),
    schedules=("plant",),
    main="heat_loss",
)

"""Uses of water, drawn: from the tap by each use to the tank that it ends in.

Bands are as wide as the water of one person in a day, of each use and of where it goes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.checks.water import used_by_fixtures
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.held import held, held_to_nothing, told
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm, wrapped
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Point, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import per_mm, stands_for
from criteria.drawing.value_bars import (
    GAP_MM,
    LINE_MM,
    SIDE_MM,
    Bar,
    answer,
    height_mm,
    strip,
)
from criteria.findings import Amount
from criteria.schedules.fixtures import GOES_TO, Fixture
from criteria.typed.cells import Lacking
from criteria.units import LITRES_A_DAY

MOST_USES = 14
"""Uses that are drawn; the largest of more."""
WIDEST_MM, BAR_MM, USE_MM = 30.0, 3.0, 4.6
"""How wide all bands are together, the bars that they come from and go to, and the least paper
from one use to the next [mm]."""
NOWHERE = "not given"


@dataclass(frozen=True, kw_only=True)
class Use:
    """A use of water, as it is drawn: of one person in a day [m³]."""

    row: Fixture
    m3_pd: float

    @property
    def name(self) -> str:
        """What it is, else its mark."""
        return self.row.use or self.row.title

    @property
    def goes_to(self) -> str:
        """Which tank it ends in."""
        return self.row.goes_to or NOWHERE


def uses_of(seen: Seen) -> tuple[list[Use], tuple[Gap, ...], tuple[str, ...]]:
    """Return the uses that are drawn, what isn't given, and the marks of those past the most."""
    found, gaps = [], []
    for row in seen.package.rows_of(Fixture):
        try:
            found.append(Use(row=row.leniently, m3_pd=row.per_person_day_m3))
        except Lacking as lacks:
            cell = lacks.cells[0]
            gaps.append(
                Gap(
                    schedule="fixtures",
                    mark=row.title,
                    column=cell.head,
                    says=f"{cell}: not given",
                )
            )
            continue
        if row.typed("goes_to") is None:
            says = f"{row.title}: where it goes isn't given"
            gaps.append(Gap(schedule="fixtures", mark=row.title, column="goes_to", says=says))
    found.sort(key=lambda use: -use.m3_pd)
    past = tuple(use.row.title for use in found[MOST_USES:])
    found = found[:MOST_USES]
    found.sort(key=lambda use: (*GOES_TO, NOWHERE).index(use.goes_to))
    return found, tuple(gaps), past


def draw_tree(
    seen: Seen, uses: Sequence[Use], gaps: tuple[Gap, ...], past: Sequence[str], field: Field
) -> Drawing:
    """Draw the way of water by its uses, over what the brief reckons with."""
    return _Tree(seen, uses, field).drawing(gaps, past)


class _Tree:
    def __init__(self, seen: Seen, uses: Sequence[Use], field: Field) -> None:
        self.seen, self.uses, self.field = seen, uses, field
        total = self._figure(sum(use.m3_pd for use in uses))
        self.per_mm = per_mm(lambda per: total / per <= WIDEST_MM, field.system, 100)
        self.ends = [end for end in (*GOES_TO, NOWHERE) if any(use.goes_to == end for use in uses)]
        wide = field.width_mm
        if field.is_narrow:
            self.at_use, self.from_use, self.at_end = 12.0, 55.0, 64.0
        else:
            self.at_use, self.from_use, self.at_end = 26.0, 92.0, wide - 48.0
        self.figures: list[Figure] = []

    def drawing(self, gaps: tuple[Gap, ...], past: Sequence[str]) -> Drawing:
        asked, field = self.seen.asked, self.field
        marks, top = answer(asked, told(self.seen), field.width_mm, field.system)
        top += 1.0
        use_mm = [max(self._mm(use.m3_pd), USE_MM) for use in self.uses]
        end_mm = [max(self._mm(self._to(end)), 2 * LINE_MM + 1.0) for end in self.ends]
        tall = max(sum(use_mm), sum(end_mm), WIDEST_MM)
        marks += self._bands(top, tall, use_mm, end_mm)
        top += tall + 3.0
        bars = self._bars()
        marks += strip(bars, top, field)
        self.figures += [Figure(what=f"Water {b.name}", amount=b.held.amount) for b in bars]
        top += height_mm(bars, is_stacked=field.is_narrow) + 1.0
        words = f"bands as wide as the water of one person in a day, {self.scale}"
        for line in wrapped(words, LEAST_MM, field.width_mm - 2 * SIDE_MM):
            top += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, top), tone=Tone.GRAPHITE))
        top += 1.6
        largest = max(self.uses, key=lambda use: use.m3_pd)
        most = LITRES_A_DAY.write(largest.m3_pd, field.system)
        return Drawing(
            title="Water of one person in a day, use by use",
            says=f"{asked.state.word}. Largest use: {largest.name}, {most}.",
            width_mm=field.width_mm,
            height_mm=round(top, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale,
            left_out=gaps,
            key=(f"smaller uses: {', '.join(past)}",) if past else (),
        )

    def _mm(self, m3_pd: float) -> float:
        wide: float = self._figure(m3_pd) / self.per_mm
        return wide

    def _figure(self, m3_pd: float) -> float:
        return float(LITRES_A_DAY.unit(self.field.system).from_si(m3_pd))

    @property
    def scale(self) -> str:
        """What the width of a band stands for."""
        system = self.field.system
        return stands_for(self.per_mm, LITRES_A_DAY.unit(system).symbol, system)

    def _to(self, end: str) -> float:
        return sum(use.m3_pd for use in self.uses if use.goes_to == end)

    def _bands(
        self, top: float, tall: float, use_mm: Sequence[float], end_mm: Sequence[float]
    ) -> Iterator[Mark]:
        """Bands from the tap to uses and from these to their ends, all beside each other."""
        all_mm = sum(self._mm(use.m3_pd) for use in self.uses)
        at_tap = top + (tall - all_mm) / 2
        tap = (SIDE_MM, at_tap, SIDE_MM + BAR_MM, at_tap + all_mm)
        yield Path(points=rectangle(tap), pen=Pen.SEEN, fill=Fill.GLASS, is_closed=True)
        starts: dict[str, float] = {}
        spare = (tall - sum(end_mm)) / len(self.ends)
        y = top
        for end, high in zip(self.ends, end_mm, strict=True):
            starts[end] = y + (high + spare - self._mm(self._to(end))) / 2
            yield from self._end(end, starts[end])
            y += high + spare
        spare, y = (tall - sum(use_mm)) / len(self.uses), top
        for use, high in zip(self.uses, use_mm, strict=True):
            thick, middle = self._mm(use.m3_pd), y + (high + spare) / 2
            come = _band((tap[2], at_tap), (self.at_use, middle - thick / 2), thick)
            go = _band(
                (self.from_use, middle - thick / 2), (self.at_end, starts[use.goes_to]), thick
            )
            bands: list[Path | Lettering] = [_filled(come, Fill.GLASS)]
            if use.goes_to != NOWHERE:
                bands.append(_filled(go, Fill.TRACE))
            yield self._use(use, middle, bands)
            at_tap += thick
            starts[use.goes_to] += thick
            y += high + spare

    def _use(self, use: Use, middle: float, bands: Sequence[Path | Lettering]) -> Touch:
        amount = Amount(use.m3_pd, LITRES_A_DAY)
        words = self._written(amount)
        left, right = self.at_use + 1.5, self.from_use - 1.5
        y = middle + LEAST_MM / 2
        room = right - left - width_mm(words, LEAST_MM) - GAP_MM
        name = Lettering(words=fitted(use.name, LEAST_MM, room), at=(left, y))
        figure = Lettering(words=words, at=(right, y), anchor="end")
        self.figures.append(Figure(what=use.name, amount=amount, lettered=words))
        says = f"{use.row.title} {use.name}, {words}, goes to {use.goes_to}"
        marks = (*bands, name, figure)
        return Touch(schedule="fixtures", mark=use.row.title, says=says, marks=marks)

    def _end(self, end: str, top: float) -> Iterator[Mark]:
        """Where water goes, and how much of it by the check's own sum."""
        if end == NOWHERE:
            return
        box = (self.at_end, top, self.at_end + BAR_MM, top + self._mm(self._to(end)))
        pen = Pen.CUT if (self.seen.check, end) == ("grey_made", "grey") else Pen.SEEN
        yield Path(points=rectangle(box), pen=pen, fill=Fill.TRACE, is_closed=True)
        middle, left = (box[1] + box[3]) / 2, box[2] + 1.5
        yield Lettering(words=end, at=(left, middle - 0.6), is_strong=True)
        try:
            made = used_by_fixtures(self.seen.package, end).values[0]
        except Lacking:
            return
        amount = Amount(made, LITRES_A_DAY)
        words = self._written(amount)
        yield Lettering(words=words, at=(left, middle - 0.6 + LINE_MM))
        self.figures.append(Figure(what=f"To {end}", amount=amount, lettered=words))

    def _written(self, amount: Amount) -> str:
        """Write a figure, on narrow paper without the unit that the answer has."""
        if self.field.is_narrow:
            return amount.scale.number(amount.si, self.field.system)
        return amount.write(self.field.system)

    # By fixture, beside the brief's

    def _bars(self) -> list[Bar]:
        """What all uses take as their check holds it, over what the brief reckons with."""
        figures = [("by your fixtures", each) for each in held(self.seen, "fixture_use")]
        rate = self.seen.package.leniently.site.water_m3_pd
        if rate:
            figures.append(("by the brief", held_to_nothing(rate, LITRES_A_DAY)))
        system, is_narrow = self.field.system, self.field.is_narrow
        return [
            Bar(name=name, held=each, words=each.write_beside(system, is_narrow=is_narrow))
            for name, each in figures
        ]


def _band(start: Point, end: Point, thick: float) -> tuple[Point, ...]:
    """A band between two edges that stand upright, each from its upper corner."""
    return start, end, (end[0], end[1] + thick), (start[0], start[1] + thick)


def _filled(points: tuple[Point, ...], fill: Fill) -> Path:
    return Path(points=points, pen=Pen.FINE, tone=Tone.GRAPHITE, fill=fill, is_closed=True)


def _ready(seen: Seen) -> Ready | None:
    try:
        uses, gaps, past = uses_of(seen)
    except Lacking:
        return None
    return Ready(partial(draw_tree, seen, uses, gaps, past)) if uses else None


WATER_TREE = Picture(
    ready=_ready,
    wants="uses of water want how often a day, and litres or minutes and flow",
    checks=("fixture_use", "fixture_share", "grey_made"),
    schedules=("fixtures",),
    main="fixture_use",
)

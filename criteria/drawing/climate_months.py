"""The climate, drawn: twelve columns of warmth, rain and snow; what is used beside what falls.

Columns of months in which the building is closed are empty. The line of what is used stands as
high as the rain that would bring it, by the check's own ratio of the driest open month.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import finding_of, held, told
from criteria.drawing.lettering import LEAST_MM, wrapped
from criteria.drawing.marks import Gap, Lettering, Mark, Path, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.value_bars import LINE_MM, SIDE_MM, Bar, answer, height_mm, strip
from criteria.findings import Amount
from criteria.schedules.climate import Month
from criteria.schedules.site import MONTHS
from criteria.units import RAIN, SNOW, TEMPERATURE

WARM_MM, FALLS_MM, COLUMN = 18.0, 22.0, 0.36
"""How high temperatures are drawn, and rain and snow at most [mm]; half a column of a month [1]."""
FREEZES_K = 273.15
FULL = 3.0
"""As much more than the most that falls is shown at most, where more is used [1]."""


def draw_climate(
    seen: Seen, months: Sequence[Month], gaps: tuple[Gap, ...], field: Field
) -> Drawing:
    """Draw months beside each other, over how the rain of the driest stands to its use."""
    return _Climate(seen, months, field).drawing(gaps)


class _Climate:
    def __init__(self, seen: Seen, months: Sequence[Month], field: Field) -> None:
        self.seen, self.months, self.field = seen, months, field
        self.step = (field.width_mm - 2 * SIDE_MM) / len(MONTHS)
        self.rain = max((each.rain_m or 0.0 for each in months), default=0.0)
        self.snow = max((each.snow_m or 0.0 for each in months), default=0.0)
        self.used = self._used()
        self.most = max(self.rain, min(self.used, self.rain * FULL)) or 1.0
        self.figures: list[Figure] = []

    @property
    def is_used(self) -> bool:
        """Whether what is used is known, and not far beyond what falls."""
        return 0 < self.used <= self.most

    def _used(self) -> float:
        """The rain that would bring what is used; 0 where that isn't known [m]."""
        ratio, driest = told(self.seen) if self.seen.check else None, self._driest()
        if ratio is None or driest is None or not ratio.amount.si:
            return 0.0
        return float(driest.rain_m / ratio.amount.si)

    def _driest(self) -> Month | None:
        """The month that decided, as the check names it."""
        named = [amount for note in self.seen.asked.measured.notes for amount in note.amounts]
        return next((each for each in self.months if each.month in named), None)

    def drawing(self, gaps: tuple[Gap, ...]) -> Drawing:
        asked, field = self.seen.asked, self.field
        marks: list[Mark] = []
        top = 2.0
        if self.seen.check:  # over the brief's own table nothing is asked of it
            marks, top = answer(asked, told(self.seen), field.width_mm, field.system)
        top += LINE_MM
        marks += self._warmth(top)
        foot = top + WARM_MM + 2 * LINE_MM + FALLS_MM + 1.0
        marks += self._falls(foot)
        marks += self._names(foot)
        top = foot + LINE_MM + 0.6
        for line in wrapped(self._key(), LEAST_MM, field.width_mm - 2 * SIDE_MM):
            top += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, top), tone=Tone.GRAPHITE))
        bars = self._bars()
        marks += strip(bars, top + 2.0, field)
        top += 2.0 + height_mm(bars, is_stacked=field.is_narrow) + 1.6
        return Drawing(
            title="Twelve months: warmth, rain and snow",
            says=f"{asked.state.word}. {self._key()}." if self.seen.check else f"{self._key()}.",
            width_mm=field.width_mm,
            height_mm=round(top, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            left_out=gaps,
        )

    def _key(self) -> str:
        """What columns are."""
        words = "filled: open, empty: closed; from mean to mean minimum; rain"
        if self.snow:
            deepest = SNOW.write(self.snow, self.field.system)
            words = f"{words}; hatched: snow, {deepest} at most"
        return f"{words}; heavy line: rain that would bring what is used" if self.is_used else words

    def _column(self, month: Month, part: float) -> tuple[float, float]:
        """Where a month's column begins and ends; part of half a column to either side."""
        middle = SIDE_MM + (MONTHS.index(month.month) + 0.5) * self.step
        half = self.step * COLUMN * part
        return middle - half, middle + half

    def _warmth(self, top: float) -> Iterator[Mark]:
        """Means over mean minima, on one line of degrees, with the freezing point."""
        known = [each for each in self.months if each.mean_k and each.mean_min_k]
        if not known:
            return
        low = min(FREEZES_K, *(each.mean_min_k for each in known))
        high = max(FREEZES_K, *(each.mean_k for each in known))
        per_k = WARM_MM / ((high - low) or 1.0)
        y = top + (high - FREEZES_K) * per_k
        right = self.field.width_mm - SIDE_MM
        yield Path(points=((SIDE_MM, y), (right, y)), pen=Pen.DATUM, tone=Tone.GRAPHITE)
        for month in known:
            left, end = self._column(month, 0.5)
            box = (
                left,
                top + (high - month.mean_k) * per_k,
                end,
                top + (high - month.mean_min_k) * per_k,
            )
            fill = Fill.INK if month.is_open else Fill.PAPER
            yield Path(points=rectangle(box), pen=Pen.SEEN, fill=fill, is_closed=True)
        coldest = min(known, key=lambda each: each.mean_min_k)
        warmest = max(known, key=lambda each: each.mean_k)
        for month, kelvin, at in (
            (warmest, warmest.mean_k, top - 1.2),
            (coldest, coldest.mean_min_k, top + WARM_MM + LEAST_MM + 1.2),
        ):
            yield self._figure(month, Amount(kelvin, TEMPERATURE), at)

    def _figure(self, month: Month, amount: Amount, y: float) -> Lettering:
        words = amount.write(self.field.system)
        self.figures.append(Figure(what=month.month, amount=amount, lettered=words))
        middle = SIDE_MM + (MONTHS.index(month.month) + 0.5) * self.step
        at_left, at_right = middle < self.field.width_mm * 0.15, middle > self.field.width_mm * 0.85
        anchor = "start" if at_left else "end" if at_right else "middle"
        x = SIDE_MM if at_left else self.field.width_mm - SIDE_MM if at_right else middle
        return Lettering(words=words, at=(x, y), anchor=anchor)

    def _falls(self, foot: float) -> Iterator[Mark]:
        """Rain as columns, snow that lies as hatched ones behind, and the line of what is used."""
        for month in self.months:
            if self.snow and month.snow_m:
                left, right = self._column(month, 1.0)
                head = foot - month.snow_m / self.snow * FALLS_MM
                yield hatched(rectangle((left, head, right, foot)), 1.6, Tone.GRAPHITE)
            if month.rain_m:
                left, right = self._column(month, 0.6)
                box = (left, foot - month.rain_m / self.most * FALLS_MM, right, foot)
                fill = Fill.GLASS if month.is_open else Fill.PAPER
                pen = Pen.CUT if month is self._driest() else Pen.SEEN
                yield Path(points=rectangle(box), pen=pen, fill=fill, is_closed=True)
        right = self.field.width_mm - SIDE_MM
        yield Path(points=((SIDE_MM, foot), (right, foot)), pen=Pen.SEEN)
        if self.is_used:
            y = foot - self.used / self.most * FALLS_MM
            yield Path(points=((SIDE_MM, y), (right, y)), pen=Pen.CUT)
        if self.rain:
            wettest = max(self.months, key=lambda each: each.rain_m or 0.0)
            head = foot - self.rain / self.most * FALLS_MM
            yield self._figure(wettest, Amount(wettest.rain_m, RAIN), head - 1.4)

    def _names(self, foot: float) -> Iterator[Mark]:
        design = self.seen.package.leniently.site.design_month
        for n, name in enumerate(MONTHS):
            words = name[0] if self.field.is_narrow else name
            at = (SIDE_MM + (n + 0.5) * self.step, foot + LINE_MM - 0.4)
            yield Lettering(words=words, at=at, anchor="middle", is_strong=name == design)

    def _bars(self) -> list[Bar]:
        if not self.seen.check:
            return []
        system, is_narrow = self.field.system, self.field.is_narrow
        name = finding_of(self.seen, "rain_catch").check_title
        return [
            Bar(
                name=each.measured.in_case or name,
                held=each,
                words=each.write_beside(system, is_narrow=is_narrow),
                is_strong=each.measured == self.seen.asked.measured,
            )
            for each in held(self.seen, "rain_catch")[:3]
        ]


def _ready(seen: Seen) -> Ready | None:
    rows = [row for row in seen.package.leniently.climate if row.month]
    months = list({row.month: row for row in rows}.values())
    gaps = tuple(
        Gap(
            schedule="climate", mark=row.month, column=column, says=f"{row.month}: {what} not given"
        )
        for row in months
        for column, what, value in (
            ("mean_c", "mean", row.mean_k),
            ("mean_min_c", "mean minimum", row.mean_min_k),
            ("rain_mm", "rain", row.rain_m),
        )
        if value is None
    )
    return Ready(partial(draw_climate, seen, months, gaps)) if months else None


CLIMATE = Picture(
    ready=_ready,
    wants="the brief's climate wants months",
    checks=("rain_catch",),
    schedules=("climate",),
    main="rain_catch",
)

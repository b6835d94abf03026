"""A year as a carpet: a day across, an hour down, in few classes that are read without colour.

Classes are ours: what is wanted bounds those of temperature, quarters those of a battery. What is
alike in hours that touch is one patch; lines lie on hours or on days, so that they tell two classes
apart in black and white.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Box, Disc, Lettering, Mark, Patches, Path, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.placing import Look, Placing, about
from criteria.drawing.value_bars import LINE_MM, SIDE_MM
from criteria.drawing.year_frame import BEGINS, frame, heading, month_axis, notes
from criteria.findings import Amount
from criteria.hourly.worst import DAYS, above, below, dark, longest, when
from criteria.hourly.year import PowerYear, Run, Year
from criteria.schedules.site import MONTHS
from criteria.units import STORED_ENERGY, TEMPERATURE, WHOLE_HOURS, System

Classes = NDArray[np.int64]
"""The class of each hour of a year: shape (365, 24)."""
HOUR_MM, HOUR_NARROW_MM = 1.7, 1.5
SWATCH_MM = (6.0, 3.2)
FAR_K = 5.0
"""What is further from what is wanted is drawn as far [K]."""
RING_MM = 1.4


@dataclass(frozen=True, kw_only=True)
class Texture:
    """How a class is drawn.

    per_hour    lines along the days, so many an hour
    apart_mm    between lines along the hours; 0 is none
    is_dotted   whether short strokes lie in it here and there
    least_mm    that it is wide at least, so that a single day is seen
    """

    says: str
    fill: Fill = Fill.NONE
    tone: Tone = Tone.INK
    per_hour: int = 0
    apart_mm: float = 0.0
    is_dotted: bool = False
    least_mm: float = 0.0


WARMTH = (
    Texture(says="more than {} too cold", fill=Fill.INK, tone=Tone.GRAPHITE),
    Texture(says="too cold", fill=Fill.GLASS, per_hour=1),
    Texture(says="as wanted"),
    Texture(says="too warm", fill=Fill.TRACE, apart_mm=1.8),
    Texture(says="more than {} too warm", fill=Fill.TRACE, apart_mm=0.8),
    Texture(says="nothing is wanted", tone=Tone.GRAPHITE, is_dotted=True),
)
CHARGE = (
    Texture(says="essential loads dark", fill=Fill.INK, tone=Tone.SHORT, least_mm=0.8),
    Texture(says="under a quarter", fill=Fill.GLASS, per_hour=2),
    Texture(says="a quarter to a half", fill=Fill.GLASS, per_hour=1),
    Texture(says="over a half"),
    Texture(says="full", fill=Fill.TRACE, apart_mm=1.8),
)
FULL = 0.995
"""From so much of what it may hold on a battery is drawn as full [1]."""


def draw_warmth(year: Year, run: Run, which: str, field: Field) -> Drawing:
    """Draw the temperature of a run through a year.

    which   of its runs: "with the plant that is drawn"
    """
    system, felt = field.system, run.operative_k
    cold, warm = (int(hours.sum()) for hours in (below(run, year), above(run, year)))
    far = TEMPERATURE.difference(FAR_K, system)
    textures = [Texture(**{**each.__dict__, "says": each.says.format(far)}) for each in WARMTH]
    carpet = _Carpet(_warmth_classes(year, run), textures, field)
    there = year.is_there if year.is_there.any() else ~year.is_there
    coldest, warmest = np.where(there, felt, np.inf).argmin(), np.where(there, felt, 0.0).argmax()
    extremes = [(int(coldest), "coldest"), (int(warmest), "warmest")]
    figures = [
        Figure(
            what=f"{name.capitalize()}, {when(hour)}",
            amount=(amount := Amount(float(felt[hour]), TEMPERATURE)),
            lettered=amount.write(system),
        )
        for hour, name in extremes
    ]
    counted = (("too cold", below(run, year)), ("too warm", above(run, year)))
    figures += [each for words, hours in counted for each in _by_month(words, hours)]
    words = f"{counted_hours(cold, system)} too cold"
    says = f"{counted_hours(warm, system)} too warm, {which}, while somebody is there"
    rings = [(hour, figure.lettered) for (hour, _), figure in zip(extremes, figures, strict=False)]
    return carpet.drawing(
        title=f"Warmth through the year, {which}",
        answer=(words, says, Tone.SHORT if cold or warm else Tone.INK),
        rings=rings,
        figures=figures,
    )


def draw_charge(year: Year, power: PowerYear, field: Field) -> Drawing:
    """Draw how full the battery is through a year."""
    out = dark(year)
    run = longest(out)
    least = int(power.stored_j.argmin())
    amount = Amount(float(power.stored_j[least]), STORED_ENERGY)
    lowest = Figure(
        what=f"Least in the battery, {when(least)}",
        amount=amount,
        lettered=amount.write(field.system),
    )
    hours = int(out.sum())
    figures = [
        lowest,
        Figure(what="Longest time without", amount=Amount(run.hours * 3600.0, WHOLE_HOURS)),
        *_by_month("essential loads without power", out),
    ]
    words = f"{counted_hours(hours, field.system)} dark"
    says = "essential loads always have power"
    if hours:
        lasts = counted_hours(run.hours, field.system)
        says = f"essential loads without power, the longest {lasts}: {run.words}"
    return _Carpet(_charge_classes(power, out), CHARGE, field).drawing(
        title="Charge of the battery through the year",
        answer=(words, says, Tone.SHORT if hours else Tone.INK),
        rings=[(least, lowest.lettered)],
        figures=figures,
    )


def counted_hours(count: int, system: System) -> str:
    """Write how many hours something is.

    >>> counted_hours(312, System.METRIC)
    '312 h'
    """
    return WHOLE_HOURS.write(count * 3600.0, system)


def _warmth_classes(year: Year, run: Run) -> Classes:
    felt, warm, cool = run.operative_k, year.warm_k, year.cool_k
    found = np.full(felt.shape, 2, dtype=np.int64)
    found[felt < warm - 0.5] = 1
    found[felt < warm - FAR_K] = 0
    found[felt > cool + 0.5] = 3
    found[felt > cool + FAR_K] = 4
    found[np.isnan(warm) & np.isnan(cool)] = 5
    return found.reshape(DAYS, 24)


def _charge_classes(power: PowerYear, out: NDArray[np.bool_]) -> Classes:
    room = (power.most_j - power.least_j) or 1.0
    share = (power.stored_j - power.least_j) / room
    found = np.searchsorted((0.25, 0.5, FULL), share, side="right") + 1
    found[out] = 0
    return found.reshape(DAYS, 24)


def _by_month(words: str, hours: NDArray[np.bool_]) -> Iterator[Figure]:
    days = hours.reshape(DAYS, 24).sum(axis=1)
    for n, month in enumerate(MONTHS):
        counted = float(days[BEGINS[n] : BEGINS[n + 1]].sum())
        yield Figure(what=f"{month}, {words}", amount=Amount(counted * 3600.0, WHOLE_HOURS))


class _Carpet:
    def __init__(self, classes: Classes, textures: Sequence[Texture], field: Field) -> None:
        self.classes, self.textures, self.field = classes, textures, field
        self.left = SIDE_MM + width_mm("24", LEAST_MM) + 1.2
        self.right = field.width_mm - SIDE_MM
        self.day_mm = (self.right - self.left) / DAYS
        self.hour_mm = HOUR_NARROW_MM if field.is_narrow else HOUR_MM
        self.top = 0.0

    def drawing(
        self,
        title: str,
        answer: tuple[str, str, Tone],
        rings: Sequence[tuple[int, str]],
        figures: Sequence[Figure],
    ) -> Drawing:
        marks, self.top = heading(*answer, self.field)
        foot = self.top + 24 * self.hour_mm
        present = [n for n in range(len(self.textures)) if (self.classes == n).any()]
        for n in present:
            marks += self._class(n)
        marks.append(frame(self.left, self.top, self.right, foot))
        marks += self._hours()
        marks += month_axis(self.left, self.right, foot, self.field)
        marks += self._rings(rings)
        key, top = self._key(present, foot + LINE_MM + 2.0)
        marks += key
        said, top = notes(["down: the hours of a day, standard time"], top, self.field)
        words, beside, _ = answer
        extremes = [f"{each.what}: {each.lettered}" for each in figures if each.lettered]
        return Drawing(
            title=title,
            says=f"{words}: {beside}. {'; '.join(extremes)}.",
            width_mm=self.field.width_mm,
            height_mm=round(top + 1.6, 2),
            marks=(*marks, *said),
            figures=tuple(figures),
        )

    def _class(self, n: int) -> Iterator[Mark]:
        texture, here = self.textures[n], self.classes == n
        if texture.fill is not Fill.NONE:
            boxes = tuple(self._widened(box, texture.least_mm) for box in self._boxes(here))
            yield Patches(boxes=boxes, fill=texture.fill, tone=texture.tone)
        segments: list[Box] = []
        if texture.per_hour:
            segments += self._along_days(here, texture.per_hour)
        if texture.apart_mm:
            segments += self._along_hours(here, texture.apart_mm)
        if texture.is_dotted:
            segments += self._dots(here)
        if segments:
            lines = tuple(((a, b), (c, d)) for a, b, c, d in segments)
            yield Strokes(segments=lines, pen=Pen.HATCH, tone=texture.tone)

    def _box(self, first: int, last: int, begins: float, ends: float) -> Box:
        return (
            self.left + first * self.day_mm,
            self.top + begins * self.hour_mm,
            self.left + last * self.day_mm,
            self.top + ends * self.hour_mm,
        )

    def _widened(self, box: Box, least_mm: float) -> Box:
        left, top, right, foot = box
        more = max(0.0, least_mm - (right - left)) / 2
        return max(self.left, left - more), top, min(self.right, right + more), foot

    def _boxes(self, here: NDArray[np.bool_]) -> Iterator[Box]:
        """Hours of a day that follow each other, with those of the days after that are the same."""
        standing: dict[tuple[int, int], int] = {}
        for day, runs in enumerate((*map(set, _runs(here)), set[tuple[int, int]]())):
            for run in [each for each in standing if each not in runs]:
                yield self._box(standing.pop(run), day, *run)
            for run in runs:
                standing.setdefault(run, day)

    def _along_days(self, here: NDArray[np.bool_], per_hour: int) -> Iterator[Box]:
        for hour, runs in enumerate(_runs(here.T)):
            for first, last in runs:
                for n in range(per_hour):
                    at = hour + (n + 0.5) / per_hour
                    yield self._box(first, last, at, at)

    def _along_hours(self, here: NDArray[np.bool_], apart_mm: float) -> Iterator[Box]:
        step = max(1, round(apart_mm / self.day_mm))
        for day, runs in zip(range(0, DAYS, step), _runs(here[::step]), strict=True):
            for begins, ends in runs:
                left, top, _, foot = self._box(day, day, begins, ends)
                yield left + self.day_mm / 2, top, left + self.day_mm / 2, foot

    def _dots(self, here: NDArray[np.bool_]) -> Iterator[Box]:
        step = max(1, round(3.0 / self.day_mm))
        for n, hour in enumerate(range(1, 24, 2)):
            for day in range(n % 2 * step // 2, DAYS, step):
                if here[day, hour]:
                    left, top, right, foot = self._box(day, day + 1, hour, hour + 0.5)
                    yield left, foot, max(right, left + 0.7), top

    def _hours(self) -> Iterator[Mark]:
        for hour in (0, 6, 12, 18, 24):
            y = self.top + hour * self.hour_mm
            at = (self.left - 1.2, y + LEAST_MM / 2)
            yield Lettering(words=str(hour), at=at, anchor="end", tone=Tone.GRAPHITE)
        ticks = tuple(
            ((self.left - 0.9, y), (self.left, y))
            for y in (self.top + hour * self.hour_mm for hour in (0, 6, 12, 18, 24))
        )
        yield Strokes(segments=ticks, pen=Pen.FINE)

    def _rings(self, rings: Sequence[tuple[int, str]]) -> Iterator[Mark]:
        foot = self.top + 24 * self.hour_mm
        placing = Placing(self.right, foot)
        placing.keep_free((0.0, 0.0, self.left, foot))
        placing.keep_free((0.0, 0.0, self.right, self.top))
        for hour, words in rings:
            day, of_day = divmod(hour, 24)
            left, top, right, under = self._box(day, day + 1, of_day, of_day + 1)
            middle = (
                min(max((left + right) / 2, self.left + RING_MM), self.right - RING_MM),
                (top + under) / 2,
            )
            yield Disc(middle=middle, radius_mm=RING_MM, pen=Pen.SEEN, fill=Fill.PAPER)
            look = Look(is_strong=True)
            placing.letter(words, about(middle, words, LEAST_MM, RING_MM + 0.8), look)
        yield from placing.letters

    def _key(self, present: Sequence[int], top: float) -> tuple[list[Mark], float]:
        """What each class is, beside a piece of it."""
        marks: list[Mark] = []
        (wide, high), x, y = SWATCH_MM, SIDE_MM, top
        for n in present:
            texture = self.textures[n]
            takes = wide + 1.4 + width_mm(texture.says, LEAST_MM) + 3.5
            if x > SIDE_MM and x + takes > self.field.width_mm - SIDE_MM + 3.5:
                x, y = SIDE_MM, y + high + 1.8
            box = (x, y, x + wide, y + high)
            marks += swatch(texture, box)
            at = (x + wide + 1.4, y + high / 2 + LEAST_MM / 2)
            marks.append(Lettering(words=texture.says, at=at))
            x += takes
        return marks, y + high


def swatch(texture: Texture, box: Box) -> Iterator[Mark]:
    """Draw a piece of a class for a key."""
    left, top, right, foot = box
    if texture.fill is not Fill.NONE:
        yield Patches(boxes=(box,), fill=texture.fill, tone=texture.tone)
    lines: list[tuple[tuple[float, float], tuple[float, float]]] = []
    rows = 2 * texture.per_hour
    for n in range(rows):
        y = top + (n + 0.5) * (foot - top) / rows
        lines.append(((left, y), (right, y)))
    columns = int((right - left) / texture.apart_mm) if texture.apart_mm else 0
    for n in range(columns):
        x = left + (n + 0.5) * (right - left) / columns
        lines.append(((x, top), (x, foot)))
    if texture.is_dotted:
        for n in range(3):
            x, y = left + 1.2 + n * 1.6, top + 1.0 + n % 2 * 1.2
            lines.append(((x, y + 0.6), (x + 0.7, y)))
    if lines:
        yield Strokes(segments=tuple(lines), pen=Pen.HATCH, tone=texture.tone)
    yield Path(points=rectangle(box), pen=Pen.FINE, is_closed=True)


def _runs(flags: NDArray[np.bool_]) -> list[list[tuple[int, int]]]:
    """Where told ones begin and end, row by row."""
    found: list[list[tuple[int, int]]] = [[] for _ in flags]
    edges = np.diff(np.pad(flags, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    rows, begins = np.nonzero(edges == 1)
    ends = np.nonzero(edges == -1)[1]
    for row, first, last in zip(rows.tolist(), begins.tolist(), ends.tolist(), strict=True):
        found[row].append((first, last))
    return found

"""Tanks, drawn: as wide as their volume, with their level day by day, and the days of all stores.

Of a tank its volume is known, and seldom its shape: all stand equally high, and 1 mm of width is
so many litres. What is short stands beside them, as wide as the days that lack.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.checks.supply import SUPPLY_CHECKS
from criteria.checks.waste import WASTE_CHECKS
from criteria.checks.water import WATER_CHECKS
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import told
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm, wrapped
from criteria.drawing.marks import Box, Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import PER_MM, STEP, lettered, per_mm, stands_for
from criteria.drawing.stores import LASTS, Store, stores
from criteria.drawing.value_bars import (
    GAP_MM,
    LINE_MM,
    SIDE_MM,
    Axis,
    Bar,
    answer,
    draw_bars,
    end_of,
    height_mm,
)
from criteria.findings import Amount
from criteria.schedules.water import STANDS, Tank
from criteria.units import DAYS, LITRES, rounded

ELSEWHERE = ("fixture_use", "fixture_share", "grey_made", "rain_catch")
"""Checks of water that other drawings show."""
TALL_MM, TALL_NARROW_MM, LOW_MM = 36.0, 30.0, 14.0
BETWEEN_MM, APART_MM, HEAD_MM, LABEL_MM, LABEL_MOST_MM = 1.2, 5.0, 8.8, 9.0, 34.0
SHELTER = dict(zip(STANDS, ("heated", "kept from frost", "outside"), strict=True))
LINES_MM, NUMBERS_MM = 1.3, 3.6
"""Least between two lines of days, and between two that are numbered [mm]."""
EACH_DAYS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 5000, 20_000, 100_000)
MOST_CASES, MANY = 3, 4
"""People cases of each store that are drawn; from more stores on each is drawn lower."""
MOST_LACK = 0.35
"""What is short is drawn this part of the paper wide at most [1]."""


def draw_tanks(
    seen: Seen, found: Sequence[Store], gaps: tuple[Gap, ...], past: Sequence[str], field: Field
) -> Drawing:
    """Draw stores over the days that they last."""
    return _Tanks(seen, found, field).drawing(gaps, past)


class _Tanks:
    def __init__(self, seen: Seen, found: Sequence[Store], field: Field) -> None:
        self.seen, self.found, self.field = seen, found, field
        self.tall_mm = TALL_NARROW_MM if field.is_narrow else TALL_MM
        self.cases = 1 if field.is_narrow else MOST_CASES
        if len(found) > MANY:
            self.tall_mm, self.cases = LOW_MM, min(self.cases, 2)
        self.picked = seen.asked.measured.subject
        self.figures: list[Figure] = []
        self.head = {store.holds: self._head(store) for store in found}
        least = len(self._rows(PER_MM[-1] / STEP[field.system][1]))
        self.per_mm = per_mm(lambda per: self._fits(per, least), field.system)

    def drawing(self, gaps: tuple[Gap, ...], past: Sequence[str]) -> Drawing:
        asked, field = self.seen.asked, self.field
        marks, top = answer(asked, told(self.seen), field.width_mm, field.system)
        for row in self._rows(self.per_mm):
            left = SIDE_MM
            for store in row:
                marks += self._store(store, left, top)
                left += self._wide(store, self.per_mm) + APART_MM
            top += HEAD_MM + self.tall_mm + LABEL_MM
        days, height = self._days(top + 1.0)
        marks += days
        says = [f"{self._name(s)} {s.lasts[0].write(field.system)}" for s in self.found if s.lasts]
        return Drawing(
            title="Tanks to volume, and the days that they last",
            says=f"{asked.state.word}. {'; '.join(says)}.",
            width_mm=field.width_mm,
            height_mm=round(height, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale,
            left_out=gaps,
            key=(f"smaller tanks: {', '.join(past)}",) if past else (),
        )

    @property
    def scale(self) -> str:
        """What a width stands for: 1 mm = 20 L."""
        system = self.field.system
        return stands_for(self.per_mm, LITRES.unit(system).symbol, system)

    def _rows(self, per_mm: float) -> list[list[Store]]:
        """Which stores stand beside each other."""
        rows: list[list[Store]] = []
        left = 0.0
        for store in self.found:
            wide = self._wide(store, per_mm)
            if not rows or left + wide > self.field.width_mm - 2 * SIDE_MM:
                rows.append([])
                left = 0.0
            rows[-1].append(store)
            left += wide + APART_MM
        return rows

    def _fits(self, per_mm: float, rows: int) -> bool:
        """Whether all stores stand on the paper at a scale, in so many rows."""
        room = self.field.width_mm - 2 * SIDE_MM
        return len(self._rows(per_mm)) <= rows and all(
            self._wide(store, per_mm) <= room for store in self.found
        )

    def _wide(self, store: Store, per_mm: float) -> float:
        words = max(width_mm(line, LEAST_MM) for line in self.head[store.holds])
        words = max(words, min(width_mm(self._names(store), LEAST_MM), LABEL_MOST_MM))
        return max(words, self._tanks_mm(store, per_mm) + self._lack_mm(store, per_mm))

    def _tanks_mm(self, store: Store, per_mm: float) -> float:
        gaps = BETWEEN_MM * (len(store.tanks) - 1)
        return sum(store.litres(self.field.system)) / per_mm + gaps

    def _lack_mm(self, store: Store, per_mm: float) -> float:
        wide = store.lack * sum(store.litres(self.field.system)) / per_mm
        return min(wide, MOST_LACK * self.field.width_mm)

    def _head(self, store: Store) -> tuple[str, str]:
        """What is lettered over a store: what it holds and how long it lasts, and its limit."""
        if not store.lasts:
            return store.holds, ""
        lasts, system = store.lasts[0], self.field.system
        if self.field.is_narrow:
            return store.holds, lasts.write(system)
        return f"{store.holds} {lasts.write(system)}", lasts.write_limits(system)

    def _name(self, store: Store) -> str:
        case = store.lasts[0].measured.in_case
        return f"{store.holds}, {case}:" if case else store.holds

    def _store(self, store: Store, left: float, top: float) -> Iterator[Mark]:
        tone = store.lasts[0].tone if store.lasts else Tone.INK
        lines = self.head[store.holds]
        is_picked = LASTS.get(store.holds) == self.seen.check
        for words, y, strong in ((lines[0], top + 2.8, True), (lines[1], top + 6.8, False)):
            if words:
                yield Lettering(words=words, at=(left, y), tone=tone, is_strong=strong)
        x, head = left, top + HEAD_MM
        widest = max(store.tanks, key=lambda tank: tank.volume_m3)
        is_numbered = self._is_numbered(store)
        for tank, litres in zip(store.tanks, store.litres(self.field.system), strict=True):
            wide = litres / self.per_mm
            box = (x, head, x + wide, head + self.tall_mm)
            pen = Pen.CUT if is_picked or tank.mark == self.picked else Pen.SEEN
            numbered = is_numbered and tank is widest
            marks = tuple(self._tank(store, tank, box, pen, is_numbered=numbered))
            volume = lettered(Amount(tank.volume_m3, LITRES), self.field.system)
            says = f"{tank.title}, {volume} {store.holds}"
            yield Touch(schedule="tanks", mark=tank.title, says=says, marks=marks)
            self.figures.append(Figure(what=tank.title, amount=Amount(tank.volume_m3, LITRES)))
            x += wide + BETWEEN_MM
        lack = self._lack_mm(store, self.per_mm)
        if lack:
            yield from self._lack(store, (x - BETWEEN_MM, head, x - BETWEEN_MM + lack))
        foot = head + self.tall_mm
        room = min(self._wide(store, self.per_mm) + APART_MM - 1.0, self.field.width_mm - left)
        for n, words in enumerate(self._labels(store)):
            at = (left, foot + (n + 1) * LINE_MM)
            yield Lettering(words=fitted(words, LEAST_MM, room), at=at, tone=Tone.GRAPHITE)

    def _names(self, store: Store) -> str:
        """What is lettered under a store: its tanks, and of each what it holds or where it is."""
        if self.seen.check == "tank_frost":
            says = ["not given" if t.stands is None else SHELTER[t.stands] for t in store.tanks]
        elif self.field.is_narrow:
            says = [""] * len(store.tanks)
        else:
            system = self.field.system
            says = [lettered(Amount(t.volume_m3, LITRES), system) for t in store.tanks]
        named = zip(store.tanks, says, strict=True)
        return ", ".join(f"{tank.title} {words}".strip() for tank, words in named)

    def _labels(self, store: Store) -> tuple[str, ...]:
        """The lines under a store: its tanks, and what its lines stand for if no number says it."""
        each = self._each(store, LINES_MM)
        lines = f"a line each {each} days" if each > 1 else "a line a day"
        is_said = store.days > each and not self._is_numbered(store) and not self.field.is_narrow
        return self._names(store), *((lines,) if is_said else ())

    def _is_numbered(self, store: Store) -> bool:
        """Whether days can be numbered within the widest tank."""
        widest: float = max(store.litres(self.field.system)) / self.per_mm
        return widest > width_mm(rounded(store.days, 0), LEAST_MM) + 4.0

    def _each(self, store: Store, apart_mm: float) -> int:
        """How many days stand between two lines that lie so far apart at least."""
        share = min(1.0 if t.usable_share is None else t.usable_share for t in store.tanks)
        day = self.tall_mm * share / store.days if store.days else self.tall_mm
        return next((n for n in EACH_DAYS if n * day >= apart_mm), EACH_DAYS[-1])

    def _tank(
        self,
        store: Store,
        tank: Tank,
        box: Box,
        pen: Pen,
        *,
        is_numbered: bool,
    ) -> Iterator[Path | Strokes | Lettering]:
        """A tank: what can't be drawn or filled hatched, and a line for each day of the rest."""
        left, top, right, foot = box
        share = 1.0 if tank.usable_share is None else tank.usable_share
        rest = (1 - share) * self.tall_mm
        full, empty = (top, foot - rest) if store.is_stock else (top + rest, foot)
        fill = Fill.GLASS if store.is_stock else Fill.TRACE
        held_box = (left, full, right, empty)
        yield Path(points=rectangle(held_box), pen=None, fill=fill, is_closed=True)
        unused = (left, empty, right, foot) if store.is_stock else (left, top, right, full)
        if rest:
            yield hatched(rectangle(unused), 1.2, Tone.GRAPHITE)
            edge = empty if store.is_stock else full
            yield Path(points=((left, edge), (right, edge)), pen=Pen.FINE)
        yield from self._levels(store, held_box, is_numbered=is_numbered)
        yield Path(points=rectangle(box), pen=pen, is_closed=True)

    def _levels(self, store: Store, box: Box, *, is_numbered: bool) -> Iterator[Path | Lettering]:
        left, top, right, foot = box
        if not store.days or (self.field.is_narrow and not self._is_numbered(store)):
            return
        day = (foot - top) / store.days
        line, number = self._each(store, LINES_MM), self._each(store, NUMBERS_MM)
        while number % line:
            number = EACH_DAYS[EACH_DAYS.index(number) + 1]
        for n in range(line, int(store.days + 1e-9) + 1, line):
            y = top + n * day if store.is_stock else foot - n * day
            words = rounded(n, 0, self.field.system)
            is_lettered = is_numbered and n % number == 0
            end = right - width_mm(words, LEAST_MM) - 1.4 if is_lettered else right
            yield Path(points=((left, y), (end, y)), pen=Pen.FINE, tone=Tone.GRAPHITE)
            if is_lettered:
                at = (right - 0.8, y + LEAST_MM / 2)
                yield Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE)

    def _lack(self, store: Store, span: tuple[float, float, float]) -> Iterator[Mark]:
        """What is short, as wide as the days that lack; open at its end where it goes on."""
        left, top, right = span
        foot = top + self.tall_mm
        corners = rectangle((left, top, right, foot))
        yield hatched(corners, 1.4, Tone.SHORT)
        edges = [((left, top), (right, top)), ((left, foot), (right, foot))]
        if right - left < MOST_LACK * self.field.width_mm:
            edges.append(((right, top), (right, foot)))
        yield Strokes(segments=tuple(edges), pen=Pen.FINE, tone=Tone.SHORT)

    # Days of all stores on one line

    def _bars(self) -> list[Bar]:
        found = []
        for store in self.found:
            for n, each in enumerate(store.lasts[: self.cases]):
                case = each.measured.in_case
                name = f"{store.holds}, {case}" if case else store.holds
                words = each.write_beside(self.field.system, is_narrow=True)
                is_picked = n == 0 and LASTS[store.holds] == self.seen.check
                found.append(Bar(name=name, held=each, words=words, is_strong=is_picked))
        return found

    def _axis(self, bars: Sequence[Bar]) -> Axis:
        wide, left, right = self.field.width_mm, SIDE_MM, self.field.width_mm - SIDE_MM
        if not self.field.is_narrow:
            names = max(width_mm(bar.name, LEAST_MM) for bar in bars) + GAP_MM
            left += min(names, wide * 0.3)
            right -= max(width_mm(bar.words, LEAST_MM) for bar in bars) + GAP_MM
        return Axis(left, right, end_of([bar.held for bar in bars]))

    def _days(self, top: float) -> tuple[list[Mark], float]:
        """Bars of days, a line at the first visit of supply, what they are; and where it ends."""
        bars, notes = self._bars(), [f"tanks as wide as their volume, {self.scale}"]
        marks: list[Mark] = []
        if bars:
            axis, is_stacked = self._axis(bars), self.field.is_narrow
            foot = top + height_mm(bars, is_stacked=is_stacked)
            says = "bars: days until empty or full; heavy tick: asked"
            supply = self.seen.package.leniently.site.supply_s
            if supply and supply <= axis.end and not is_stacked:
                x = axis.x(supply)
                ends = (x, top), (x, foot + 1.0)
                marks.append(Path(points=ends, pen=Pen.DATUM, tone=Tone.GRAPHITE))
                says = f"{says}; broken line: supply each {DAYS.write(supply)}"
            notes.insert(0, says)
            marks += draw_bars(bars, top, axis, self.field.width_mm, is_stacked=is_stacked)
            top = foot
        for bar in bars:
            what, amount = f"Days, {bar.name}", bar.held.amount
            self.figures.append(Figure(what=what, amount=amount, lettered=bar.words))
        room = self.field.width_mm - 2 * SIDE_MM
        top += 0.8
        for line in (each for note in notes for each in wrapped(note, LEAST_MM, room)):
            top += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, top), tone=Tone.GRAPHITE))
        return marks, top + 1.6


def _ready(seen: Seen) -> Ready | None:
    found, gaps, past = stores(seen)
    return Ready(partial(draw_tanks, seen, found, gaps, past)) if found else None


TANKS = Picture(
    ready=_ready,
    wants="tanks want a volume and what they hold",
    checks=tuple(
        each.slug
        for each in (*WATER_CHECKS, *WASTE_CHECKS, *SUPPLY_CHECKS)
        if each.slug not in ELSEWHERE
    ),
    schedules=("tanks",),
    main="water_days",
)

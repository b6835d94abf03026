"""A day of electricity, drawn: loads as blocks of hours and watts, made over used, dark days.

When in the day a load runs isn't asked, so no time of day is drawn: a block is as long as the
hours that its load runs and as high as its watts, so that its area is what it uses.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial

from criteria.checks.inverter import INVERTER_CHECKS
from criteria.checks.power import POWER_CHECKS, made, used
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import (
    Held,
    finding_of,
    held,
    in_its_case,
    is_asked,
    is_of_its_case,
    told,
)
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm, wrapped
from criteria.drawing.load_blocks import Block, blocks
from criteria.drawing.marks import Box, Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import lettered, per_mm, stands_for
from criteria.drawing.value_bars import (
    GAP_MM,
    LINE_MM,
    SIDE_MM,
    Bar,
    answer,
    height_mm,
    strip,
)
from criteria.findings import Amount, Measured, Part, State
from criteria.package import Package
from criteria.schedules.power import Load
from criteria.typed.cells import Lacking
from criteria.units import ELECTRIC_POWER, ENERGY

DAY_S = 86_400.0
BLOCKS_MM, SHARE, MOST_NAMES, PANEL_MM = 44.0, 0.56, 10, 22.0
"""How high all blocks are at most; how much of a wide drawing they take; how many are named; and
how long panels are drawn from the side."""
HATCHES = ((1.2, True), (2.0, False), (0.0, True), (3.0, True), (1.4, False))
"""How blocks are hatched in turn: how far apart, and whether it rises; 0 is not at all."""
LASTS = {
    "battery_days": "battery",
    "essential_days": "battery, essential loads",
    "battery_in_cold": "battery in the cold",
}
"""Checks of how long the battery lasts, and what they are of."""
MOST_CASES = 3


def draw_day(
    seen: Seen,
    package: Package,
    found: Sequence[Block],
    gaps: tuple[Gap, ...],
    past: Sequence[str],
    field: Field,
) -> Drawing:
    """Draw a day of loads over what is made and how long the battery lasts."""
    return _Day(seen, package, found, field).drawing(gaps, past)


class _Day:
    def __init__(self, seen: Seen, package: Package, found: Sequence[Block], field: Field) -> None:
        self.seen, self.package, self.field, self.found = seen, package, field, found
        wide = field.width_mm - 2 * SIDE_MM
        self.left, self.wide = SIDE_MM, wide if field.is_narrow else wide * SHARE
        self.watts = sum(block.watts for block in found)
        most = max(self.watts, self._line_w)
        self.per_mm = per_mm(lambda per: most / per <= BLOCKS_MM, field.system)
        self.high = most / self.per_mm
        self.named = found[:MOST_NAMES]
        self.scale = stands_for(self.per_mm, "W", field.system)
        words = f"hours a day that each runs, not at which hour; high: {self.scale}"
        self.says = wrapped(words, LEAST_MM, wide)
        self.figures: list[Figure] = []
        self.gaps: list[Gap] = []

    @property
    def _line_w(self) -> float:
        """The line that all loads together are held to: the inverter's, where that is asked."""
        plant = self.package.leniently.power
        if self.seen.check != "inverter_start":
            return 0.0
        is_starting = self.seen.asked.measured.subject == "starting"
        return (plant.surge_w if is_starting else plant.inverter_w) or 0.0

    def drawing(self, gaps: tuple[Gap, ...], past: Sequence[str]) -> Drawing:
        asked, field = self.seen.asked, self.field
        marks, top = answer(asked, told(self.seen), field.width_mm, field.system)
        names = LINE_MM * len(self.named)
        head = top + 1.0
        tall = self.high if field.is_narrow else max(self.high, names)
        foot = head + tall
        marks += self._blocks(foot)
        marks += self._hours(foot)
        top = foot + 8.0 + len(self.says) * LINE_MM
        if field.is_narrow:
            marks += self._listed(top)
            top += names + 2.0
        else:
            marks += self._beside(foot)
        if self.seen.check == "panel_tilt":
            top += PANEL_MM + 2.0
            marks += self._tilt(SIDE_MM, top)
            top += 3.0
        for bars in (self._energy(), self._days()):
            marks += self._bars(bars, top)
            top += height_mm(bars, is_stacked=field.is_narrow) + (3.0 if bars else 0.0)
        return Drawing(
            title="A day of loads, what is made, and dark days",
            says=self._says(),
            width_mm=field.width_mm,
            height_mm=round(top, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale,
            left_out=(*gaps, *self.gaps),
            key=(f"smaller loads: {', '.join(past)}",) if past else (),
        )

    def _tilt(self, left: float, foot: float) -> Iterator[Mark]:
        """The panels from the side, at their angle, beside the angle that is asked."""
        yield Path(points=((left, foot), (left + PANEL_MM, foot)), pen=Pen.CUT)
        figure = told(self.seen)
        limit = figure.part.target if figure else None
        angles = [(limit, Pen.CUT, Tone.INK)] if limit is not None else []
        angles += [(figure.amount.si, Pen.SEEN, figure.tone)] if figure else []
        for degrees, pen, tone in angles:
            turn = math.radians(degrees)
            end = left + PANEL_MM * math.cos(turn), foot - PANEL_MM * math.sin(turn)
            yield Path(points=((left, foot), end), pen=pen, tone=tone)

    def _says(self) -> str:
        largest = self.found[0]
        energy = ENERGY.write(largest.energy_j)
        return f"{self.seen.asked.state.word}. Largest load: {largest.name}, {energy} a day."

    # Blocks of hours and watts

    def _stack(self, foot: float) -> Iterator[tuple[Block, Box]]:
        """Blocks from the ground up, those that run longest at the foot."""
        y = foot
        for block in sorted(self.found, key=lambda block: (-block.hours, -block.watts)):
            top = y - block.watts / self.per_mm
            yield block, (self.left, top, self.left + block.hours / 24 * self.wide, y)
            y = top

    def _blocks(self, foot: float) -> Iterator[Mark]:
        for n, (block, box) in enumerate(self._stack(foot)):
            corners = rectangle(box)
            is_picked = block.row.title == self.seen.asked.measured.subject
            apart, is_rising = HATCHES[n % len(HATCHES)]
            marks: list[Path | Strokes | Lettering] = [
                Path(points=corners, pen=None, fill=Fill.PAPER, is_closed=True)
            ]
            if apart and box[3] > box[1] and box[2] > box[0]:
                marks.append(hatched(corners, apart, Tone.GRAPHITE, is_rising=is_rising))
            pen = Pen.CUT if is_picked else Pen.SEEN
            marks.append(Path(points=corners, pen=pen, is_closed=True))
            if self.field.is_narrow and _fits(block, box):
                at = (box[0] + box[2]) / 2, (box[1] + box[3] + LEAST_MM) / 2
                marks.append(Lettering(words=block.row.title, at=at, anchor="middle"))
            says = f"{block.name}, {ENERGY.write(block.energy_j)} a day"
            yield Touch(schedule="loads", mark=block.row.title, says=says, marks=tuple(marks))
        line = self._line_w
        if line:
            y = foot - line / self.per_mm
            yield Path(points=((self.left, y), (self.left + self.wide, y)), pen=Pen.CUT)
            at = (self.left + self.wide, y + LEAST_MM + 1.4)
            yield Lettering(words=self._gives(line), at=at, anchor="end")

    def _gives(self, watts: float) -> str:
        is_starting = self.seen.asked.measured.subject == "starting"
        gives = Amount(watts, ELECTRIC_POWER).write(self.field.system)
        return f"the inverter gives {gives}{' for a moment' * is_starting}"

    def _hours(self, foot: float) -> Iterator[Mark]:
        """The ground line, with hours under it, and what a block is."""
        yield Path(points=((self.left, foot), (self.left + self.wide, foot)), pen=Pen.CUT)
        for hour in (0, 6, 12, 18, 24):
            x = self.left + hour / 24 * self.wide
            yield Path(points=((x, foot), (x, foot + 1.4)), pen=Pen.FINE)
            anchor = "start" if not hour else "end" if hour == 24 else "middle"
            words = f"{hour} h"
            at = (x, foot + 5.0)
            yield Lettering(words=words, at=at, anchor=anchor, tone=Tone.GRAPHITE)
        for n, line in enumerate(self.says):
            at = (self.left, foot + 5.0 + (n + 1) * LINE_MM)
            yield Lettering(words=line, at=at, tone=Tone.GRAPHITE)

    def _beside(self, foot: float) -> Iterator[Mark]:
        """Names beside their blocks, led to them, from the ground up."""
        left = self.left + self.wide + 6.0
        right = self.field.width_mm - SIDE_MM
        named = {id(block) for block in self.named}
        y = foot + LINE_MM - 1.0
        for block, box in self._stack(foot):
            if id(block) not in named:
                continue
            middle = (box[1] + box[3]) / 2
            y = min(y - LINE_MM, middle + LEAST_MM / 2)
            level = y - LEAST_MM / 2
            turn = self.left + self.wide + 2.0
            points = ((box[2], middle), (turn, middle), (left - 1.0, level))
            yield Path(points=points, pen=Pen.HATCH, tone=Tone.GRAPHITE)
            yield from self._name(block, left, right, y)

    def _listed(self, top: float) -> Iterator[Mark]:
        """Names under their blocks, from the top of these down."""
        named = {id(block) for block in self.named}
        stack = [block for block, _ in self._stack(0.0) if id(block) in named]
        for n, block in enumerate(reversed(stack)):
            y = top + n * LINE_MM + LEAST_MM
            yield from self._name(block, SIDE_MM, self.field.width_mm - SIDE_MM, y)

    def _name(self, block: Block, left: float, right: float, y: float) -> Iterator[Lettering]:
        energy = Amount(block.energy_j, ENERGY)
        words = lettered(energy, self.field.system)
        is_strong = block.row.title == self.seen.asked.measured.subject
        room = right - left - width_mm(words, LEAST_MM) - GAP_MM
        yield Lettering(words=fitted(block.name, LEAST_MM, room), at=(left, y), is_strong=is_strong)
        yield Lettering(words=words, at=(right, y), anchor="end", is_strong=is_strong)
        self.figures.append(Figure(what=block.name, amount=energy, lettered=words))

    # Made over used, and days of the battery

    def _energy(self) -> list[Bar]:
        """What is made, held to what is used as often as the brief asks; and what is used."""
        try:
            total, _ = made(self.package)
        except Lacking:
            says = "what panels make: not given"
            self.gaps.append(Gap(schedule="power", mark="", column="pv_kwp", says=says))
            return []
        try:
            of_loads = used(self.package, self.package.rows_of(Load)).total_j
        except Lacking:
            return []
        finding = finding_of(self.seen, "power_ratio")
        ratios = held(self.seen, "power_ratio")
        ratio = next((each for each in ratios if is_of_its_case(self.seen, each)), None)
        target = ratio.part.target if ratio else None
        bars = []
        for name, value, least, state in (
            ("made in a day", total, target and target * of_loads, ratio and ratio.part.state),
            ("used in a day", of_loads, None, None),
        ):
            part = Part(
                name="",
                scale=ENERGY,
                value=value,
                target=least,
                state=state or State.NOT_ASKED,
                rule=finding.rule,
            )
            figure = Held(measured=Measured(values=(value,)), part=part)
            words = lettered(Amount(value, ENERGY), self.field.system)
            bars.append(Bar(name=name, held=figure, words=words))
        return bars

    def _days(self) -> list[Bar]:
        found = []
        if not held(self.seen, "battery_days"):
            says = "how long the battery lasts: not known"
            self.gaps.append(Gap(schedule="power", mark="", column="battery_kwh", says=says))
        for check, words in LASTS.items():
            if check != "battery_days" and not is_asked(self.seen, check):
                continue
            for each in held(self.seen, check)[:MOST_CASES]:
                case = each.measured.in_case
                name = f"{words}, {case}" if case else words
                is_picked = each.measured == self.seen.asked.measured
                says = each.write_beside(self.field.system, is_narrow=self.field.is_narrow)
                found.append(Bar(name=name, held=each, words=says, is_strong=is_picked))
        return found

    def _bars(self, bars: Sequence[Bar], top: float) -> Iterator[Mark]:
        yield from strip(bars, top, self.field)
        self.figures += [Figure(what=bar.name, amount=bar.held.amount) for bar in bars]


def _fits(block: Block, box: Box) -> bool:
    """Whether a load's mark stands within its block."""
    wide = width_mm(block.row.title, LEAST_MM)
    return box[3] - box[1] > LINE_MM and box[2] - box[0] > wide + 2 * GAP_MM


def _ready(seen: Seen) -> Ready | None:
    try:
        package = in_its_case(seen)
        found, gaps, past = blocks(package)
    except Lacking:
        return None
    return Ready(partial(draw_day, seen, package, found, gaps, past)) if found else None


POWER_DAY = Picture(
    ready=_ready,
    wants="loads want a number, a power and hours a day",
    checks=tuple(each.slug for each in (*POWER_CHECKS, *INVERTER_CHECKS)),
    schedules=("loads", "power"),
    main="power_ratio",
)

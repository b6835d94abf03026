"""Electric light, drawn: what lamps bring to each task as bars, and lamps as large as their light.

Rows say no place of a lamp, so none is drawn in plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import partial

from criteria.drawing.answering import answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import Held, finding_of, held
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Disc, Gap, Lettering, Mark, Path, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import STEP
from criteria.findings import Amount, State, Step
from criteria.package import Package
from criteria.schedules.rooms import Room
from criteria.units import ILLUMINANCE, LUMENS, System

SIDE_MM, APART_MM, FOOT_MM = 2.0, 5.0, 6.0
TITLE_MM, BAR_MM, LAMP_MM, BETWEEN_MM = 4.2, 3.6, 6.4, 2.4
"""What the name of a task, its bar, a line of its lamps, and what follows take [mm]."""
TALLEST_MM, RADIUS_MM = 150.0, 2.8
MOST_LAMPS = 4
"""Kinds of lamps that are drawn of one room; more are in its bar alone."""


def lamps_of(measured: Held) -> list[Step]:
    """Return the working of each kind of lamp: mark, how many, light of each …, what it brings."""
    return [step for step in measured.measured.steps if len(step.amounts) > 3]


def amount_of(step: Step, nth: int) -> Amount:
    """Return a figure of a line of working."""
    amount = step.amounts[nth]
    assert isinstance(amount, Amount)
    return amount


def draw_lamps(lit: Sequence[Held], seen: Seen, field: Field) -> Drawing:
    """Draw what each task is lit with, the one that stands worst first."""
    return _Lamps(lit, seen, field).drawing()


class _Lamps:
    """A drawing of lamps while it is drawn."""

    def __init__(self, lit: Sequence[Held], seen: Seen, field: Field) -> None:
        self.lit, self.seen, self.field, self.system = lit, seen, field, field.system
        self.head = answer(seen, field)
        self.columns = 1 if field.is_narrow else 2
        self.wide = (field.width_mm - 2 * SIDE_MM - APART_MM * (self.columns - 1)) / self.columns
        highest = max(max(self._lux(each).si, self._wanted(each)) for each in lit)
        self.step, unit = STEP[field.system], ILLUMINANCE.unit(field.system)
        a_step = _round_up(float(unit.from_si(highest / self.wide)) * self.step[1])
        self.per_mm = float(unit.to_si(Fraction(a_step))) / self.step[1]
        brightest = max(amount_of(step, 2).si for each in lit for step in lamps_of(each))
        square = self.step[1] ** 2
        self.lm_per_mm2 = _round_up(brightest / (math.pi * RADIUS_MM**2) * square) / square
        self.names = _names(seen.package)
        self.figures = list(self.head.figures)

    @staticmethod
    def _lux(each: Held) -> Amount:
        return amount_of(each.measured.steps[-1], 0)

    @staticmethod
    def _wanted(each: Held) -> float:
        """The light that is asked for: the level wanted, as often as the target wants it [lx]."""
        return amount_of(each.measured.steps[-1], 1).si * (each.part.target or 1.0)

    def drawing(self) -> Drawing:
        """Draw the answer, each task in the shorter column, and what a millimetre is."""
        marks: list[Mark] = [*self.head.letters]
        at = [self.head.height_mm] * self.columns
        over = []
        for each in self.lit:
            column = at.index(min(at))
            high = self._height(each)
            if at[column] + high > TALLEST_MM:
                over.append(each.measured.subject)
                continue
            marks += self._task(each, SIDE_MM + column * (self.wide + APART_MM), at[column])
            at[column] += high
        height = max(at) + FOOT_MM
        name, step = self.step
        lux, light = (
            Amount(self.per_mm * step, ILLUMINANCE),
            Amount(self.lm_per_mm2 * step**2, LUMENS),
        )
        square = "1 mm²" if self.system is System.METRIC else f"{name} square"
        says = f"{name} = {lux.scale.write(lux.si, self.system, 1)}, {square} = {light.write()}"
        at_foot = (SIDE_MM, height - 2.0)
        says = fitted(says, LEAST_MM, self.field.width_mm - 2 * SIDE_MM)
        marks.append(Lettering(words=says, at=at_foot, tone=Tone.GRAPHITE))
        gaps = self._left_out()
        not_given = "; ".join(gap.says for gap in gaps)
        return Drawing(
            title=f"Electric light: {self.seen.asked.title}".removesuffix(": "),
            says=f"{self.head.says} Not given: {not_given}." if gaps else self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(height, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            left_out=gaps,
            key=(", ".join(over),) if over else (),
        )

    def _left_out(self) -> tuple[Gap, ...]:
        """What the check couldn't measure, each with the first cell that it lacks."""
        unknown = [m for m in finding_of(self.seen, "lamp_light").worst_first if not m.values]
        return tuple(
            Gap(schedule="lights", mark=m.subject, column="", says=f"{m.subject}: {m.missing[0]}")
            for m in unknown
        )

    def _height(self, each: Held) -> float:
        shown = min(len(lamps_of(each)), MOST_LAMPS)
        return TITLE_MM + BAR_MM + LAMP_MM * shown + BETWEEN_MM

    def _task(self, each: Held, x: float, y: float) -> Iterator[Mark]:
        subject, lux = each.measured.subject, self._lux(each)
        said = f"{lux.write(self.system)} of {self._write(each)}"
        self.figures.append(Figure(what=f"Light, {subject}", amount=lux, lettered=said))
        end = x + self.wide
        room = self.wide - width_mm(said, LEAST_MM) - 2.0
        name = fitted(f"{subject} {self.names.get(subject, '')}".strip(), LEAST_MM, room)
        is_picked = self.seen.asked.measured.subject == subject
        line = y + LEAST_MM + 0.4
        yield Lettering(words=name, at=(x, line), is_strong=is_picked, tone=each.tone)
        yield Lettering(words=said, at=(end, line), anchor="end", tone=each.tone)
        top = y + TITLE_MM
        yield from self._bar(each, x, top)
        line = top + BAR_MM + LAMP_MM
        for step in lamps_of(each)[:MOST_LAMPS]:
            yield self._lamp(step, x, line - LAMP_MM / 2)
            line += LAMP_MM

    def _write(self, each: Held) -> str:
        return Amount(self._wanted(each), ILLUMINANCE).write(self.system)

    def _bar(self, each: Held, x: float, top: float) -> Iterator[Mark]:
        """What each kind of lamp brings, one behind the other; what is wanted as a heavy tick."""
        at, low = x, top + BAR_MM - 1.0
        for n, step in enumerate(lamps_of(each)):
            end = at + amount_of(step, len(step.amounts) - 1).si / self.per_mm
            fill = Fill.TRACE if n % 2 else Fill.GLASS
            box = rectangle((at, top, end, low))
            yield Path(points=box, pen=Pen.FINE, fill=fill, is_closed=True)
            at = end
        wanted = x + self._wanted(each) / self.per_mm
        if each.part.state is State.SHORT:
            box = rectangle((at, top, wanted, low))
            yield Path(points=box, pen=Pen.FINE, tone=Tone.SHORT, is_closed=True)
            yield hatched(box, 1.2, Tone.SHORT)
        yield Path(points=((wanted, top - 0.6), (wanted, low + 0.6)), pen=Pen.CUT)

    def _lamp(self, step: Step, x: float, middle: float) -> Touch:
        """A lamp: a disc as large as its light, how many there are and what each gives."""
        mark, n, light = str(step.amounts[0]), step.amounts[1], amount_of(step, 2)
        radius = math.sqrt(light.si / self.lm_per_mm2 / math.pi)
        disc = Disc(
            middle=(x + RADIUS_MM, middle),
            radius_mm=radius,
            pen=Pen.FINE,
            fill=Fill.PAPER,
        )
        words = f"{mark} {n} × {light.write(self.system)}"
        at = (x + 2 * RADIUS_MM + 1.5, middle + LEAST_MM / 2)
        name = Lettering(words=fitted(words, LEAST_MM, self.wide - at[0] + x), at=at)
        return Touch(schedule="lights", mark=mark, says=words, marks=(disc, name))


def _names(package: Package) -> dict[str, str]:
    return {row.mark: str(row.if_given("name") or "") for row in package.rows_of(Room)}


def _round_up(figure: float) -> float:
    """The next of 1, 2 and 5 times a power of ten.

    >>> _round_up(3.2), _round_up(0.05), _round_up(51)
    (5.0, 0.05, 100.0)
    """
    power = 10.0 ** math.floor(math.log10(figure))
    return next(round(n * power, 9) for n in (1, 2, 5, 10) if n * power >= figure * (1 - 1e-9))


def _ready(seen: Seen) -> Ready | None:
    lit = held(seen, "lamp_light")
    return Ready(partial(draw_lamps, lit, seen)) if lit else None


LAMPS = Picture(
    ready=_ready,
    wants="lamps want a room with its floor, their light, and the level wanted",
    checks=("lamp_light",),
    schedules=("lights",),
    main="lamp_light",
)

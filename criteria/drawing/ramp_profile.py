"""The ramp, drawn: what the rise needs in profile, what is drawn of it, and how wide it is."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from criteria.drawing.answering import answer
from criteria.drawing.dimensions import across, level, upwards
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, Point, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.plan_parts import scale_bar
from criteria.drawing.ramped import Ramped, profile, ramped
from criteria.drawing.scales import DrawnScale, largest, lettered
from criteria.findings import Amount, State
from criteria.typed.cells import Lacking
from criteria.units import LENGTH, RATIO

SIDE_MM, DOOR_MM, OVER_MM, ROW_MM, FOOT_MM = 2.0, 21.0, 9.0, 5.0, 8.0
"""Beside a drawing; from the door to the edge; over the floor; a row of dimensions; the foot."""
WIDE_MM = 24.0
"""How high a piece of it in plan is at most, and how long it is drawn in plan [mm]."""
LONG_MM = 50.0
SLOPE_MM = 30.0
"""How long a run is drawn to show how it rises [mm]."""


def draw_ramp(ramp: Ramped, seen: Seen, field: Field) -> Drawing:
    """Draw a ramp in profile, its door at the right, and a piece of it in plan."""
    return _RampDrawing(ramp, seen, field).drawing()


class _RampDrawing:
    """A drawing of a ramp while it is drawn."""

    def __init__(self, ramp: Ramped, seen: Seen, field: Field) -> None:
        self.ramp, self.seen, self.field, self.system = ramp, seen, field, field.system
        self.head = answer(seen, field)
        self.door = field.width_mm - DOOR_MM
        high = max(ramp.rise_m, ramp.flood_m or 0.0)
        room = self.door - SIDE_MM - 1.0, 60.0
        self.scale: DrawnScale = largest((ramp.longest_m, high), room, self.system, ratio=48)
        self.ground = self.head.height_mm + OVER_MM + self.scale.mm(high)
        self.floor = self.ground - self.scale.mm(ramp.rise_m)
        self.figures = list(self.head.figures)

    def drawing(self) -> Drawing:
        """Draw the profile, its dimensions under it, and how wide and steep it is."""
        marks: list[Mark] = [*self.head.letters, *self._profile(), *self._levels()]
        y = self.ground + ROW_MM
        if self.ramp.need.runs:
            marks += self._lengths(y)
            y += 2 * ROW_MM
        wide, high = self._in_plan(y)
        beside = high > 0 and not self.field.is_narrow
        at = (SIDE_MM + 2 * LONG_MM, y) if beside else (SIDE_MM, y + high)
        steep, more = self._slope(*at)
        marks += [*wide, *steep]
        y += max(high, more) if beside else high + more
        height = y + FOOT_MM
        bar = scale_bar((SIDE_MM, height - 4.0), self.scale, self.field.width_mm / 4, self.system)
        at = (SIDE_MM + bar.length_mm + 1.5, height - 2.3)
        marks += [*bar.marks, Lettering(words=bar.says, at=at, tone=Tone.GRAPHITE)]
        gaps = "; ".join(gap.says for gap in self.ramp.gaps)
        return Drawing(
            title=f"Ramp in profile: {self.seen.asked.title}".removesuffix(": "),
            says=f"{self.head.says} Not given: {gaps}." if gaps else self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(height, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale.name,
            left_out=self.ramp.gaps,
        )

    def _write(self, m: float, what: str) -> str:
        amount = Amount(m, LENGTH)
        words = lettered(amount, self.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    def _profile(self) -> Iterator[Mark]:
        """The ground, the floor at the door, and the ramp that the rise needs."""
        ground, floor, door = self.ground, self.floor, self.door
        yield Path(points=((0.0, ground), (self.field.width_mm, ground)), pen=Pen.CUT)
        slab = (door, floor, self.field.width_mm, min(floor + 1.6, ground))
        yield Path(points=rectangle(slab), pen=None, fill=Fill.CUT, is_closed=True)
        yield Path(points=((door, floor), (door, floor - OVER_MM + 2.0)), pen=Pen.CUT)
        points: list[Point] = [(door, floor)]
        missing = self._missing_landings()
        for n, (length, fall, is_level) in enumerate(profile(self.ramp)):
            x, y = points[-1]
            to = x - self.scale.mm(length), y + self.scale.mm(fall)
            if is_level and missing:
                box = rectangle((to[0], y - 1.8, x, y))
                yield Path(points=box, pen=Pen.FINE, tone=Tone.SHORT, is_closed=True)
                yield hatched(box, 1.2, Tone.SHORT)
            elif is_level:
                yield from self._landing(x, to[0], y, is_first=n == 0)
            points.append(to)
        if len(points) > 1:
            yield Path(points=tuple(points), pen=Pen.SEEN)

    def _missing_landings(self) -> bool:
        """Whether none of the landings is drawn that are needed: of some, which ones isn't said."""
        return self.ramp.landings == 0 and self.ramp.need.landings > 0

    def _landing(self, right: float, left: float, y: float, *, is_first: bool) -> Iterator[Mark]:
        words = lettered(Amount(self.ramp.rule.landing_m, LENGTH), self.system)
        if is_first:
            amount = Amount(self.ramp.rule.landing_m, LENGTH)
            self.figures.append(Figure(what="A landing, needed", amount=amount, lettered=words))
        if width_mm(words, LEAST_MM) < right - left:
            at = (left + right) / 2, y - 1.2
            yield Lettering(words=words, at=at, anchor="middle", tone=Tone.GRAPHITE)

    def _levels(self) -> Iterator[Mark]:
        rise = self._write(self.ramp.rise_m, "Rise")
        x = self.door + 2.4
        room = self.field.width_mm - x - 2.2
        yield from level((x, self.floor), fitted(rise, LEAST_MM, room))
        if self.ramp.flood_m and self.ramp.flood_m > 0:
            y = self.ground - self.scale.mm(self.ramp.flood_m)
            yield Path(points=((0.0, y), (self.door, y)), pen=Pen.DATUM, tone=Tone.GRAPHITE)
            yield Lettering(words="flood or storm tide", at=(SIDE_MM, y - 0.9))

    def _lengths(self, y: float) -> Iterator[Mark]:
        """What is needed, and under it what is drawn with what it lacks or has to spare."""
        needed, drawn = self.ramp.need.length_m, self.ramp.drawn_m
        words = f"needs {self._write(needed, 'Length needed')}"
        yield from self._row(self.door - self.scale.mm(needed), self.door, y, words)
        y += ROW_MM
        if drawn is None:
            at = self.door, y
            yield Lettering(words="length drawn: not given", at=at, anchor="end")
            return
        end = self.door - self.scale.mm(drawn)
        words = f"drawn {self._write(drawn, 'Length drawn')}"
        landings = self.ramp.landings
        if landings is not None and not self.field.is_narrow:
            words += f", {landings} of {self.ramp.need.landings} landings"
        yield from self._row(end, self.door, y, words)
        start = self.door - self.scale.mm(needed)
        if drawn < needed:
            box = rectangle((start, y - 1.0, end, y + 1.0))
            yield Path(points=box, pen=Pen.FINE, tone=Tone.SHORT, is_closed=True)
            yield hatched(box, 1.2, Tone.SHORT)
            words = f"{self._write(needed - drawn, 'Short by')} short"
            yield from self._under(words, (start + end) / 2, y + ROW_MM - 0.6)

    def _row(self, left: float, right: float, y: float, words: str) -> Iterator[Mark]:
        """A dimension; its words end at the door where they are wider than it."""
        marks = list(across(left, right, y, words))
        (letter,) = [mark for mark in marks if isinstance(mark, Lettering)]
        yield from (mark for mark in marks if mark is not letter)
        half = width_mm(words, LEAST_MM) / 2
        x = max(half + 0.5, min((left + right) / 2, self.field.width_mm - half - 0.5))
        yield Lettering(words=words, at=(x, letter.at[1]), anchor="middle")

    def _under(self, words: str, x: float, y: float) -> Iterator[Mark]:
        half = width_mm(words, LEAST_MM) / 2
        x = max(half + 0.5, min(x, self.field.width_mm - half - 0.5))
        yield Lettering(words=words, at=(x, y), anchor="middle", tone=Tone.SHORT, is_strong=True)

    def _in_plan(self, top: float) -> tuple[list[Mark], float]:
        """A piece of it in plan: as wide as it is clear, its rails as heavy lines."""
        clear, limit = self.ramp.clear_m, self._limit("ramp_width")
        if clear is None:
            return [], 0.0
        top += 1.5
        wanted = max(clear, limit or 0.0)
        scale = largest((0.0, wanted), (1.0, WIDE_MM), self.system, ratio=48)
        foot = top + scale.mm(clear)
        left, right = 12.0, 12.0 + LONG_MM
        marks: list[Mark] = []
        for n, y in enumerate((top, foot)):
            is_rail = (self.ramp.rails or 0) > n
            pen = Pen.CUT if is_rail else Pen.FINE
            marks.append(Path(points=((left, y), (right, y)), pen=pen))
        words = self._write(clear, "Clear width")
        marks += upwards(top, foot, left - 3.0, words, of=left)
        rails = {None: "rails not given", 0: "no rails", 1: "a rail on one side"}
        says = rails.get(self.ramp.rails, "rails on both sides")
        at = (left + 2.0, (top + foot + LEAST_MM) / 2)
        marks.append(Lettering(words=f"{says}, in plan {scale.name}", at=at))
        low = foot
        if limit is not None and limit > clear:
            low = top + scale.mm(limit)
            box = rectangle((left, foot, right, low))
            marks.append(Path(points=box, pen=Pen.FINE, tone=Tone.SHORT, is_closed=True))
            marks.append(hatched(box, 1.2, Tone.SHORT))
            words = f"{self._write(limit - clear, 'Narrow by')} short"
            low += LEAST_MM + 1.2
            marks.append(Lettering(words=words, at=(left, low), tone=Tone.SHORT))
        return marks, low - top + 4.5

    def _limit(self, check: str) -> float | None:
        limit = self.seen.asked.limit
        return limit.si if limit and self.seen.check == check else None

    def _slope(self, left: float, top: float) -> tuple[list[Mark], float]:
        """How steep it rises, and the steepest that is asked."""
        run = self.ramp.slope_run
        if run is None:
            return [], 0.0
        limit = self._limit("ramp_slope")
        rises = [SLOPE_MM / run, *([limit * SLOPE_MM] if limit else [])]
        foot = top + max(*rises, LEAST_MM) + 1.0
        end = left + SLOPE_MM
        is_over = self.seen.asked.state is State.OVER and limit is not None
        tone = Tone.SHORT if is_over else Tone.INK
        points = ((left, foot), (end, foot), (end, foot - rises[0]))
        marks: list[Mark] = [Path(points=points, pen=Pen.SEEN, tone=tone, is_closed=True)]
        words = f"1:{run:g}"
        self.figures.append(
            Figure(what="Slope drawn, 1 in", amount=Amount(run, RATIO), lettered=words)
        )
        marks.append(Lettering(words=f"{words} drawn", at=(end + 2.0, foot), tone=tone))
        if limit:
            ends = ((left, foot), (end, foot - rises[1]))
            marks.append(Path(points=ends, pen=Pen.CUT))
        return marks, foot - top + 2.0


def _ready(seen: Seen) -> Ready | None:
    try:
        ramp = ramped(seen.package)
    except Lacking:
        return None
    return Ready(partial(draw_ramp, ramp, seen))


RAMP = Picture(
    ready=_ready,
    wants="a ramp wants the rise from the ground to the floor",
    checks=("ramp_length", "ramp_slope", "floor_above_datum", "ramp_width", "ramp_handrails"),
    schedules=("ramp",),
    main="ramp_length",
)

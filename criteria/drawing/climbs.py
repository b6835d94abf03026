"""Climbs, drawn from the side: risers and treads as they are typed, headroom, handrail, faults."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.dimensions import upwards
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.held import faults_of
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm, wrapped
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Point, Strokes, Touch
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import largest, lettered
from criteria.findings import Amount
from criteria.measures.climbing import LADDER_DEG
from criteria.schedules.climbs import Climb
from criteria.units import LENGTH

TALL_MM, APART_MM, BEFORE_MM, LINE_MM, MOST = 46.0, 6.0, 7.0, 3.9, 2
"""How tall a climb is at most, between climbs, kept before one, a line of words [mm]; rows."""
RAIL_M = 0.9
"""How high a handrail is drawn over the nosings [m]: its height isn't asked."""
LANDING_M = 0.45
"""How much of the upper floor is drawn, and of the lower one before the first step [m]."""
LADDER = "ladder"
WANTS = {"rise_m": "rise", "risers": "risers", "tread_m": "tread"}


@dataclass(frozen=True)
class Flight:
    """A climb that can be drawn: its row, how deep a step is [m], and what is wrong with it."""

    row: Climb
    tread_m: float
    fault: str

    @property
    def run_m(self) -> float:
        """How far it reaches on plan."""
        return (self.row.risers - 1) * self.tread_m


def flights(seen: Seen) -> tuple[list[Flight], tuple[Gap, ...]]:
    """Return the climbs that are drawn, those at fault first, and what isn't given of any."""
    faults = faults_of(seen)
    found, gaps = [], []
    for row in seen.package.leniently.climbs:
        asked = {**WANTS, "width_m": "width", "headroom_m": "headroom", "has_rail": "rail"}
        is_ladder = row.kind == LADDER
        for name, column in asked.items():
            is_wanted = not is_ladder or name in ("rise_m", "risers", "width_m")
            if is_wanted and getattr(row, name) is None:
                label = row.schedule.column(column).label.lower()
                says = f"{row.mark}: {label} not given"
                gaps.append(Gap(schedule="climbs", mark=row.mark, column=column, says=says))
        if row.rise_m is None or row.risers is None:
            continue
        tread = row.tread_m
        if is_ladder and row.risers:
            tread = row.rise_m / math.tan(math.radians(LADDER_DEG)) / row.risers
        if tread is not None:
            found.append(Flight(row, tread, faults.get(row.mark, "")))
    return sorted(found, key=lambda each: not each.fault), tuple(gaps)


def draw_climbs(found: list[Flight], gaps: tuple[Gap, ...], seen: Seen, field: Field) -> Drawing:
    """Draw climbs side by side."""
    return _Climbs(found, seen, field).drawing(gaps)


class _Climbs:
    def __init__(self, found: list[Flight], seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        self.head = answer(seen, field)
        columns = min(len(found), 1 if field.is_narrow else 3)
        room = field.width_mm - 2 * SIDE_MM
        self.columns, self.cell = columns, (room + APART_MM) / columns
        wide = max(each.run_m for each in found) + 2 * LANDING_M
        tall = max(each.row.rise_m + max(each.row.headroom_m or 0.0, RAIL_M) for each in found)
        free = self.cell - APART_MM - BEFORE_MM
        self.scale = largest((wide, tall), (free, TALL_MM), field.system, ratio=20)
        self.tall = self.scale.mm(tall)
        self.drawn, self.rest = found[: MOST * columns], found[MOST * columns :]
        self.figures: list[Figure] = []

    def drawing(self, gaps: tuple[Gap, ...]) -> Drawing:
        """Draw the answer, and each climb with its words under it."""
        marks: list[Mark] = [*self.head.letters]
        top = self.head.height_mm + 2.0
        for begin in range(0, len(self.drawn), self.columns):
            row = self.drawn[begin : begin + self.columns]
            foot, lines = top + self.tall, 0
            for n, each in enumerate(row):
                left = SIDE_MM + n * self.cell
                shapes = tuple(self._climb(each, left + BEFORE_MM, foot))
                letters = tuple(self._words(each, left, foot))
                lines = max(lines, len(letters))
                says = f"{each.row.mark} {each.row.kind or ''}".strip()
                marks.append(
                    Touch(
                        schedule="climbs", mark=each.row.mark, says=says, marks=(*shapes, *letters)
                    )
                )
            top = foot + lines * LINE_MM + 5.0
        at = (self.field.width_mm - SIDE_MM, top)
        words = f"{self.scale.name}; dash-dot: headroom"
        marks.append(Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE))
        return Drawing(
            title="Climbs, from the side",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(top + 1.5, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=gaps,
            key=tuple(each.row.mark for each in self.rest),
        )

    def _climb(
        self, each: Flight, left: float, foot: float
    ) -> Iterator[Path | Strokes | Lettering]:
        """Floors, steps up between them, the headroom over the nosings and the handrail."""
        row, mm = each.row, self.scale.mm
        start = left + mm(LANDING_M)
        tone = Tone.SHORT if each.fault else Tone.INK
        up = foot - mm(row.rise_m)
        end = start + mm(each.run_m)
        yield Path(points=((left, foot), (start, foot)), pen=Pen.CUT)
        yield Path(points=((end, up), (end + mm(LANDING_M), up)), pen=Pen.CUT)
        if row.kind == LADDER:
            yield from self._ladder(each, (start, foot), (end, up), tone)
        else:
            yield Path(points=tuple(self._steps(each, start, foot)), pen=Pen.SEEN, tone=tone)
        nosings = (start, foot - mm(row.rise_m / row.risers)), (end, up)
        if row.headroom_m is not None and row.kind != LADDER:
            high = mm(row.headroom_m)
            is_low = "headroom" in each.fault
            over = tuple((x, y - high) for x, y in nosings)
            yield Path(points=over, pen=Pen.DATUM, tone=Tone.SHORT if is_low else Tone.GRAPHITE)
        if row.has_rail and row.kind != LADDER:
            rail = tuple((x, y - mm(RAIL_M)) for x, y in nosings)
            yield Path(points=rail, pen=Pen.FINE)
        words = self._rise(each)
        if self._is_roomy(each):
            yield from upwards(up, foot, left - 1.5, words)

    def _rise(self, each: Flight) -> str:
        return lettered(Amount(each.row.rise_m, LENGTH), self.field.system)

    def _is_roomy(self, each: Flight) -> bool:
        """Whether its rise has room along it; else it stands in the words under it."""
        return self.scale.mm(each.row.rise_m) > width_mm(self._rise(each), LEAST_MM)

    def _steps(self, each: Flight, start: float, foot: float) -> Iterator[Point]:
        rise, tread = (self.scale.mm(m) for m in (each.row.rise_m / each.row.risers, each.tread_m))
        for n in range(each.row.risers):
            yield start + n * tread, foot - n * rise
            yield start + n * tread, foot - (n + 1) * rise

    def _ladder(
        self, each: Flight, foot: Point, head: Point, tone: Tone
    ) -> Iterator[Path | Strokes]:
        """A stile from floor to floor, and its rungs."""
        yield Path(points=(foot, head), pen=Pen.SEEN, tone=tone)
        shares = [n / each.row.risers for n in range(1, each.row.risers)]
        at = [tuple(a + (b - a) * s for a, b in zip(foot, head, strict=True)) for s in shares]
        yield Strokes(
            segments=tuple(((x - 0.8, y), (x + 0.8, y)) for x, y in at), pen=Pen.FINE, tone=tone
        )

    def _words(self, each: Flight, left: float, foot: float) -> Iterator[Lettering]:
        """Its mark and kind, its lengths as typed, and what is wrong with it."""
        row, wide = each.row, self.cell - APART_MM
        title = f"{row.mark} {row.place or ''}".strip()
        lines = [(fitted(title, LEAST_MM, wide), Tone.INK, True)]
        lengths = [f"{row.kind or 'kind not given'}, {row.risers} risers"]
        rise = Figure(what=f"{row.mark}, rise as typed", amount=Amount(row.rise_m, LENGTH))
        self.figures.append(rise)
        if not self._is_roomy(each):
            lengths.append(f"rise {self._rise(each)}")
        for m, what in ((row.tread_m, "treads"), (row.width_m, "wide"), (row.headroom_m, "head")):
            if m is not None and (row.kind != LADDER or what == "wide"):
                amount = Amount(m, LENGTH)
                words = f"{what} {lettered(amount, self.field.system)}"
                lengths.append(words)
                figure = Figure(what=f"{row.mark}, {what} as typed", amount=amount)
                self.figures.append(figure)
        if row.kind != LADDER:
            lengths.append("handrail" if row.has_rail else "no handrail")
        said = [(", ".join(lengths), Tone.INK), (each.fault, Tone.SHORT)]
        for words, tone in said:
            wrap = wrapped(words, LEAST_MM, wide) if words else []
            lines += [(line, tone, False) for line in wrap]
        for n, (words, tone, is_strong) in enumerate(lines):
            at = (left, foot + LEAST_MM + 2.5 + n * LINE_MM)
            yield Lettering(words=words, at=at, tone=tone, is_strong=is_strong)


def _ready(seen: Seen) -> Ready | None:
    found, gaps = flights(seen)
    return Ready(partial(draw_climbs, found, gaps, seen)) if found else None


CLIMBS = Picture(
    ready=_ready,
    wants="climbs want their rise, risers and treads",
    checks=("loft_stair",),
    schedules=("climbs",),
    main="loft_stair",
)

"""Heights of furniture, drawn: pieces on one floor line, each with the band it keeps to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.checks.reach import LOWEST_M, highest_m
from criteria.checks.rooms import RANGES_M
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Disc, Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import DrawnScale, largest, lettered
from criteria.findings import SAME, Amount, Rule
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.units import LENGTH, System

TALL_MM, APART_MM, TICK_MM, TOP_M, WIDE_M = 42.0, 3.0, 1.2, 0.05, 0.6
"""How tall the strip is at most, between pieces, how far a limit passes one; how thick a top is
drawn, and how wide what says no length [m]."""
HEIGHTS, SIT_UP, REACH = "furniture_heights", "sit_up", "reach"
LINE_MM = 3.9


@dataclass(frozen=True)
class Stood:
    """Pieces alike on the floor line: a figure from where it is measured, and its limits [m].

    least, most   None where nothing is asked of that side
    """

    row: Furniture
    marks: tuple[str, ...]
    from_m: float
    value_m: float
    least: float | None
    most: float | None

    @property
    def top_m(self) -> float:
        """How high it is drawn."""
        return self.from_m + max(self.value_m, self.least or 0.0, self.most or 0.0)

    @property
    def wide_m(self) -> float:
        """How long it stands on the floor line."""
        return self.row.used_l_m or WIDE_M

    @property
    def label(self) -> str:
        """Its mark; of pieces alike the first and how many more."""
        more = len(self.marks) - 1
        return f"{self.marks[0]} +{more}" if more else self.marks[0]


def stood(seen: Seen) -> tuple[Stood, ...]:
    """Return what stands on the floor line, pieces alike once."""
    found: dict[tuple[object, ...], list[Stood]] = {}
    for row in seen.package.leniently.furniture:
        for each in _of(row, seen):
            alike = (row.kind, each.from_m, each.value_m, each.most, row.used_l_m, row.under_m)
            found.setdefault(alike, []).append(each)
    return tuple(
        Stood(same[0].row, tuple(each.row.mark for each in same), *_measures(same[0]))
        for same in found.values()
    )


def _measures(each: Stood) -> tuple[float, float, float | None, float | None]:
    return each.from_m, each.value_m, each.least, each.most


def _of(row: Furniture, seen: Seen) -> Iterator[Stood]:
    if seen.check == SIT_UP:
        if row.kind == "bed" and None not in (row.height_m, row.above_m):
            finding = seen.findings.get(SIT_UP)
            is_least = finding is not None and finding.rule is Rule.AT_LEAST
            least = finding.target if finding and is_least else None
            yield Stood(row, (row.mark,), row.height_m, row.above_m, least, None)
    elif seen.check == REACH:
        if row.reach_m is not None:
            most = highest_m(row.over_m or 0.0)
            yield Stood(row, (row.mark,), 0.0, row.reach_m, LOWEST_M, most)
    elif row.kind in RANGES_M and row.height_m is not None:
        yield Stood(row, (row.mark,), 0.0, row.height_m, *RANGES_M[row.kind])


def draw_heights(pieces: Sequence[Stood], seen: Seen, field: Field) -> Drawing:
    """Draw pieces on one floor line."""
    return _Strip(pieces, seen, field).drawing()


class _Strip:
    def __init__(self, pieces: Sequence[Stood], seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        self.head = answer(seen, field)
        self.wide = field.width_mm - 2 * SIDE_MM
        subject = seen.asked.measured.subject
        first = sorted(pieces, key=lambda each: subject not in each.marks)
        tall = max(each.top_m for each in pieces)
        smallest = 96 if field.system is System.US else 100
        self.scale = largest((0.01, tall), (self.wide, TALL_MM), field.system, ratio=20)
        # fewer pieces are drawn before they are drawn smaller than a hand can be seen
        while self.scale.ratio < smallest and self._ends(first)[-1] > self.wide:
            ratio = self.scale.ratio * 2
            self.scale = largest((0.01, tall), (self.wide, TALL_MM), field.system, ratio=ratio)
        ends = self._ends(first)
        count = sum(end <= self.wide for end in ends) or 1
        self.pieces, self.rest = first[:count], first[count:]
        self.figures: list[Figure] = []

    def _place_mm(self, each: Stood) -> float:
        words = max(width_mm(words, LEAST_MM) for words in self._words(each))
        return max(self.scale.mm(each.wide_m), words)

    def _ends(self, pieces: Sequence[Stood]) -> list[float]:
        ends, x = [], 0.0
        for each in pieces:
            x += self._place_mm(each)
            ends.append(x)
            x += APART_MM
        return ends

    def _words(self, each: Stood) -> tuple[str, ...]:
        """Under a piece: its mark, its figure, and what that keeps to."""
        written = lettered(Amount(each.value_m, LENGTH), self.field.system)
        least, most = (
            None if limit is None else lettered(Amount(limit, LENGTH), self.field.system)
            for limit in (each.least, each.most)
        )
        if self._is_far(each):
            return each.label, written, "too far"
        if least and most:
            band = (least, f"to {most}") if self.field.is_narrow else (f"{least} to {most}",)
            return each.label, written, *band
        return (each.label, written, f"at least {least}") if least else (each.label, written)

    def _is_far(self, each: Stood) -> bool:
        """Whether it is out of reach at any height, behind what stands before it."""
        return self.seen.check == REACH and each.most is None

    def drawing(self) -> Drawing:
        """Draw the floor line, what stands on it, and the words under it."""
        tall = max(self.scale.mm(each.top_m) for each in self.pieces)
        floor = self.head.height_mm + 1.5 + tall
        marks: list[Mark] = [*self.head.letters]
        x = SIDE_MM
        for each in self.pieces:
            room = self._place_mm(each)
            marks.append(self._piece(each, (x, x + room), floor))
            x += room + APART_MM
        ends = ((SIDE_MM, floor), (self.field.width_mm - SIDE_MM, floor))
        marks.append(Path(points=ends, pen=Pen.CUT))
        foot = floor + max(len(self._words(each)) for each in self.pieces) * LINE_MM + 1.5
        at = (self.field.width_mm - SIDE_MM, foot + LINE_MM)
        words = f"{self.scale.name}, from the side"
        marks.append(Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE))
        return Drawing(
            title="Heights on one floor line",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(foot + LINE_MM + 1.5, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=tuple(_gaps(self.seen)),
            key=tuple(mark for each in self.rest for mark in each.marks),
        )

    def _piece(self, each: Stood, ends: tuple[float, float], floor: float) -> Touch:
        middle, half = sum(ends) / 2, self.scale.mm(each.wide_m) / 2
        left, right = middle - half, middle + half
        marks: list[Path | Strokes | Disc | Lettering] = []
        if self.seen.check == REACH:
            at = (middle, floor - self.scale.mm(each.value_m))
            marks.append(Path(points=((middle, floor), at), pen=Pen.FINE))
            marks.append(Disc(middle=at, radius_mm=1.0, fill=Fill.INK))
            left, right = middle - 3.0, middle + 3.0
        else:
            marks += _furniture(each, left, right, floor, self.scale)
        marks += self._limits(each, left, right, floor)
        is_out = self._is_out(each)
        y = floor + LEAST_MM + 1.4
        for n, words in enumerate(self._words(each)):
            at = (middle, y + n * LINE_MM)
            tone = Tone.SHORT if is_out and n == 1 else Tone.GRAPHITE if n > 1 else Tone.INK
            marks.append(
                Lettering(
                    words=words,
                    at=at,
                    anchor="middle",
                    tone=tone,
                    is_strong=n == 1,
                    gap=None if n else _unlong(each.row) if self.seen.check != REACH else None,
                )
            )
        written = self._words(each)[1]
        amount = Amount(each.value_m, LENGTH)
        what = f"{each.label}, as typed"
        self.figures.append(Figure(what=what, amount=amount, lettered=written))
        says = f"{each.label} {each.row.item or ''}, {written}"
        return Touch(schedule="furniture", mark=each.marks[0], says=says, marks=tuple(marks))

    def _is_out(self, each: Stood) -> bool:
        is_low = each.least is not None and each.value_m < each.least * (1 - SAME)
        is_high = each.most is not None and each.value_m > each.most * (1 + SAME)
        return is_low or is_high or self._is_far(each)

    def _limits(
        self, each: Stood, left: float, right: float, floor: float
    ) -> Iterator[Path | Strokes]:
        """Heavy ticks at what it keeps to; what it misses that by is hatched."""
        value = floor - self.scale.mm(each.from_m + each.value_m)
        for limit, is_missed in (
            (each.least, each.least is not None and each.value_m < each.least * (1 - SAME)),
            (each.most, each.most is not None and each.value_m > each.most * (1 + SAME)),
        ):
            if limit is None:
                continue
            y = floor - self.scale.mm(each.from_m + limit)
            if is_missed:
                box = rectangle((left, min(y, value), right, max(y, value)))
                yield Path(points=box, tone=Tone.SHORT, is_closed=True)
                yield hatched(box, 1.1, Tone.SHORT)
            for x, way in ((left, -1), (right, 1)):
                yield Path(points=((x - way * TICK_MM, y), (x + way * TICK_MM, y)), pen=Pen.CUT)


def _furniture(
    each: Stood, left: float, right: float, floor: float, scale: DrawnScale
) -> Iterator[Path]:
    """A top on two legs; a bed as a mattress, with what is over it."""
    row = each.row
    height = row.height_m if each.from_m else each.value_m
    under = row.under_m or 0.0
    top = floor - scale.mm(height)
    low = min(floor, top + scale.mm(TOP_M if row.kind != "bed" else 3 * TOP_M))
    for x in (left + 0.8, right - 0.8):
        if under < height - TOP_M:
            yield Path(points=((x, low), (x, floor - scale.mm(under))), pen=Pen.SEEN)
    box = rectangle((left, top, right, low))
    fill = Fill.TRACE if row.kind == "bed" else Fill.PAPER
    gap = _unlong(row)  # as long as it is drawn by nobody's word
    pen = Pen.ASSUMED if gap else Pen.SEEN
    yield Path(points=box, pen=pen, fill=fill, is_closed=True, gap=gap)
    if each.from_m:
        over = floor - scale.mm(each.from_m + each.value_m)
        yield Path(points=((left, over), (right, over)), pen=Pen.SEEN)


def _unlong(row: Furniture) -> Gap | None:
    if row.used_l_m is not None:
        return None
    says = f"{row.mark}: length not given"
    return Gap(schedule="furniture", mark=row.mark, column="l", says=says)


def _gaps(seen: Seen) -> Iterator[Gap]:
    package: Package = seen.package.leniently
    attribute, column = (
        ("above_m", "above_mm") if seen.check == SIT_UP else ("height_m", "height_mm")
    )
    kinds = ("bed",) if seen.check == SIT_UP else tuple(RANGES_M)
    for row in package.furniture if seen.check != REACH else ():
        if row.kind in kinds and getattr(row, attribute) is None:
            says = f"{row.mark}: {'clear above' if column == 'above_mm' else 'height'} not given"
            yield Gap(schedule="furniture", mark=row.mark, column=column, says=says)


def _ready(seen: Seen) -> Ready | None:
    pieces = stood(seen)
    return Ready(partial(draw_heights, pieces, seen)) if pieces else None


FURNITURE_HEIGHTS = Picture(
    ready=_ready,
    wants="furniture wants heights",
    checks=(HEIGHTS, SIT_UP, REACH),
    schedules=("furniture",),
    main=HEIGHTS,
)

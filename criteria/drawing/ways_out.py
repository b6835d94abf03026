"""Ways out, drawn: the furthest way made straight, the second exit over its drift, guards."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.dimensions import level
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Disc, Gap, Lettering, Mark, Path, Point, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import DrawnScale, largest, lettered
from criteria.findings import SAME, Amount, Rule
from criteria.units import COUNT, DISTANCE, LENGTH, ROOM_LENGTH, Scale

DRAWN = (
    *("ways_out", "exits_by_count", "furthest_bunk", "second_exit_threshold"),
    *("guard_height", "smoke_alarms", "co_alarm"),
)
ROUTE_MM, SECTION_MM, OUTSIDE_MM = 3.0, 40.0, 14.0
"""How thick a way is drawn, how tall a section is at most, how much ground lies before a wall."""
SIGN_MM, EARTH_MM, LINE_MM, MOST_SIGNS = 5.0, 1.8, 4.2, 12


def draw_ways_out(seen: Seen, field: Field) -> Drawing:
    """Draw the ways out of a package."""
    return _Ways(seen, field).drawing()


class _Ways:
    def __init__(self, seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        self.row = seen.package.leniently.ways_out
        self.head = answer(seen, field)
        self.figures: list[Figure] = []
        self.scales: list[str] = []

    def drawing(self) -> Drawing:
        """Draw the way, the sections under it, and how many there are of what is counted."""
        marks: list[Mark] = [*self.head.letters]
        y = self.head.height_mm
        if self.row.furthest_m is not None:
            marks += self._route(y)
            y += ROUTE_MM + 10.0 + (LINE_MM if self.field.is_narrow else 0.0)
        foot, sections = self._sections(y)
        marks += [*sections, *(mark for part in self._counted(foot) for mark in part)]
        signs = sum(value is not None for _, value in self._counts())
        return Drawing(
            title="Ways out",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(foot + signs * (SIGN_MM + 1.0) + 1.5, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=" and ".join(dict.fromkeys(self.scales)),
            left_out=tuple(self._gaps()),
        )

    def _gaps(self) -> Iterator[Gap]:
        for attribute, column, what in (
            ("furthest_m", "furthest_m", "way of the furthest bunk"),
            ("ways", "ways_out", "how many ways out"),
            ("second_threshold_m", "second_exit_threshold_mm", "threshold of the second exit"),
        ):
            if getattr(self.row, attribute) is None:
                says = f"{what}: not given"
                yield Gap(schedule="ways_out", mark="", column=column, says=says)

    def _write(self, value: float, scale: Scale, what: str) -> str:
        amount = Amount(value, scale)
        words = lettered(amount, self.field.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    def _limit(self, slug: str, rule: Rule) -> float | None:
        finding = self.seen.findings.get(slug)
        return finding.target if finding and finding.rule is rule else None

    # The way of the furthest bunk, as long as it is walked

    def _route(self, top: float) -> Iterator[Mark]:
        long, limit = self.row.furthest_m, self._limit("furthest_bunk", Rule.AT_MOST)
        room = self.field.width_mm - 2 * SIDE_MM - SIGN_MM - 2.0
        most = max(long, limit or 0.0), 0.01
        scale = largest(most, (room, 9.0), self.field.system, ratio=50)
        self.scales.append(scale.name)
        left = SIDE_MM + SIGN_MM + 1.0
        y, end = top + LEAST_MM + 2.6, left + scale.mm(long)
        foot = y + ROUTE_MM
        bed = rectangle((SIDE_MM, y - 0.4, SIDE_MM + SIGN_MM, foot + 0.4))
        yield Path(points=bed, pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)
        pillow = rectangle((SIDE_MM + 0.5, y + 0.2, SIDE_MM + 1.7, foot - 0.2))
        yield Path(points=pillow, pen=Pen.FINE, is_closed=True)
        yield Path(
            points=rectangle((left, y, end, foot)), pen=Pen.SEEN, fill=Fill.TRACE, is_closed=True
        )
        said = f"furthest bunk {self._write(long, DISTANCE, 'furthest bunk, as typed')}"
        below = foot + LEAST_MM + 1.6
        yield Lettering(words=said, at=(SIDE_MM, below))
        at = (self.field.width_mm - SIDE_MM, below)
        if self.field.is_narrow:
            at = (at[0], below + LINE_MM)
        words = f"its way made straight, {scale.name}"
        yield Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE)
        if limit is None:
            return
        x = left + scale.mm(limit)
        if long > limit * (1 + SAME):
            yield from _short((x, y, end, foot))
        yield Path(points=((x, y - 1.4), (x, foot + 1.4)), pen=Pen.CUT)
        words = f"at most {self._write(limit, DISTANCE, 'Asked, at most')}"
        at = (max(x, SIDE_MM + width_mm(words, LEAST_MM)), top + LEAST_MM)
        yield Lettering(words=words, at=at, anchor="end")

    # Sections: the second exit over the ground outside, and the largest drop with its guard

    def _sections(self, top: float) -> tuple[float, list[Mark]]:
        marks: list[Mark] = []
        foot, left = top, SIDE_MM
        if self.row.second_threshold_m is not None:
            foot, left, part = self._exit(top, left)
            marks += part
        if self.row.drop_m is not None and self.row.guard_m is not None:
            if left > self.field.width_mm / 2 + SIDE_MM:
                top, left = foot, SIDE_MM
            low, part = self._guard(top, left)
            foot, marks = max(foot, low), [*marks, *part]
        return foot, marks

    def _scale(self, tall_m: float) -> DrawnScale:
        scale = largest((0.01, tall_m), (9.0, SECTION_MM), self.field.system, ratio=50)
        self.scales.append(scale.name)
        return scale

    def _exit(self, top: float, left: float) -> tuple[float, float, list[Mark]]:
        sill, drift = self.row.second_threshold_m, self.seen.package.leniently.site.drift_m
        limit = self._limit("second_exit_threshold", Rule.AT_LEAST)
        doors = self.seen.package.leniently.doors
        door = next((each for each in doors if each.role == "second exit"), None)
        high = door.height_m if door else None
        low = min(0.0, sill)
        tall = max(sill + (high or 0.0), drift or 0.0, limit or 0.0, 0.5) - low
        scale = self._scale(tall)
        ground = top + 5.0 + scale.mm(tall + low)
        wall = left + OUTSIDE_MM
        at = partial(_up, ground, scale)
        foot = ground - scale.mm(low)
        marks: list[Mark] = []
        if drift:
            points = ((left, ground), (left, at(drift * 0.7)), (wall, at(drift)), (wall, ground))
            marks.append(Path(points=points, pen=Pen.FINE, fill=Fill.TRACE, is_closed=True))
        marks += _ground(left, wall + 4.0, ground)
        ends = [at(sill), at(sill + high)] if high else [at(sill)]
        marks.append(Path(points=((wall, foot), (wall, ends[0])), pen=Pen.CUT))
        marks.append(Path(points=((wall, ends[0]), (wall + 9.0, ends[0])), pen=Pen.SEEN))
        if high:
            marks.append(Path(points=((wall, ends[1]), (wall, ends[1] - 2.0)), pen=Pen.CUT))
            leaf = rectangle((wall - 0.4, ends[1], wall + 0.4, ends[0]))
            marks.append(Path(points=leaf, pen=Pen.FINE, fill=Fill.PAPER, is_closed=True))
        if limit is not None:
            if sill < limit * (1 - SAME):
                marks += _short((wall - 1.5, at(limit), wall + 1.5, at(sill)))
            tick = ((wall - 4.0, at(limit)), (wall + 2.0, at(limit)))
            marks.append(Path(points=tick, pen=Pen.CUT))
        words = self._write(sill, LENGTH, "second exit threshold, as typed")
        mark = (wall + 11.0, at(sill))
        marks += level(mark, words)
        x = mark[0] + width_mm(words, LEAST_MM) + 4.5
        lines = ["second exit"]
        if limit is not None:
            lines.append(f"at least {self._write(limit, LENGTH, 'Asked, at least')}")
        if drift:
            lines.append(f"drift {self._write(drift, ROOM_LENGTH, 'drift, of the site sheet')}")
        lines.append(scale.name)
        marks += _column(lines, (x, top + 4.0))
        right = x + max(width_mm(each, LEAST_MM) for each in lines)
        return max(foot + 4.0, top + 3.0 + LINE_MM * len(lines)), right + 6.0, marks

    def _guard(self, top: float, left: float) -> tuple[float, list[Mark]]:
        drop, guard = self.row.drop_m, self.row.guard_m
        limit = self._limit("guard_height", Rule.AT_LEAST)
        scale = self._scale(drop + max(guard, limit or 0.0))
        foot = top + 3.0 + scale.mm(drop + max(guard, limit or 0.0))
        edge, at = left + OUTSIDE_MM, partial(_up, foot, scale)
        floor = at(drop)
        marks: list[Mark] = [
            Path(points=((left, floor), (edge, floor), (edge, foot)), pen=Pen.CUT),
            *_ground(edge, edge + 12.0, foot),
        ]
        if guard:
            marks.append(Path(points=((edge, floor), (edge, at(drop + guard))), pen=Pen.SEEN))
        x = edge + 5.0
        if limit is not None and drop > 0:
            if guard < limit * (1 - SAME):
                marks += _short((edge - 1.0, at(drop + limit), edge + 1.0, at(drop + guard)))
            tick = ((edge - 3.0, at(drop + limit)), (edge + 3.0, at(drop + limit)))
            marks.append(Path(points=tick, pen=Pen.CUT))
        lines = [f"guard {self._write(guard, LENGTH, 'guard, as typed')}"]
        if limit is not None:
            lines.append(f"at least {self._write(limit, LENGTH, 'Asked of a guard, at least')}")
        lines.append(f"drop {self._write(drop, LENGTH, 'drop, as typed')}")
        lines.append(scale.name)
        marks += _column(lines, (x + 1.0, top + 4.0))
        return max(foot + 4.0, top + 3.0 + LINE_MM * len(lines)), marks

    # What is counted: a sign each

    def _counts(self) -> tuple[tuple[str, int | None], ...]:
        row = self.row
        return (
            ("ways out", row.ways),
            ("smoke alarms", row.smoke_alarms),
            ("carbon monoxide alarms", row.co_alarms),
        )

    def _counted(self, top: float) -> Iterator[Iterator[Mark]]:
        y = top
        for what, value in self._counts():
            if value is not None:
                yield self._signs(what, value, y)
                y += SIGN_MM + 1.0

    def _signs(self, what: str, value: int, y: float) -> Iterator[Mark]:
        words, middle = f"{value} {what}", y + SIGN_MM / 2
        amount = Amount(value, COUNT)
        self.figures.append(Figure(what=f"{what}, as typed", amount=amount, lettered=words))
        yield Lettering(words=words, at=(SIDE_MM, middle + LEAST_MM / 2))
        x = SIDE_MM + 42.0
        for n in range(min(value, MOST_SIGNS)):
            yield from _sign(what, (x + n * 3.4, middle))
        limit = self._limit("ways_out", Rule.AT_LEAST) if what == "ways out" else None
        for n in range(value, min(int(limit or 0), MOST_SIGNS)):
            yield from _sign(what, (x + n * 3.4, middle), Tone.SHORT)


def _sign(what: str, at: Point, tone: Tone = Tone.INK) -> Iterator[Mark]:
    """An arrow for a way out, open and red where it is missing; a circle for an alarm."""
    x, y = at
    if what != "ways out":
        yield Disc(middle=at, radius_mm=1.2, pen=Pen.SEEN)
        return
    corners = ((x - 1.2, y - 1.6), (x + 1.4, y), (x - 1.2, y + 1.6))
    fill = Fill.INK if tone is Tone.INK else Fill.NONE
    yield Path(points=corners, pen=Pen.SEEN, tone=tone, fill=fill, is_closed=True)


def _column(lines: Sequence[str], at: Point) -> Iterator[Mark]:
    """Words under each other."""
    for n, words in enumerate(lines):
        yield Lettering(words=words, at=(at[0], at[1] + n * LINE_MM))


def _up(ground: float, scale: DrawnScale, m: float) -> float:
    return ground - scale.mm(m)


def _ground(left: float, right: float, y: float) -> Iterator[Mark]:
    yield Path(points=((left, y), (right, y)), pen=Pen.CUT)
    xs = [left + (n + 1) * EARTH_MM for n in range(int((right - left) / EARTH_MM))]
    yield Strokes(segments=tuple(((x, y), (x - EARTH_MM, y + EARTH_MM)) for x in xs))


def _short(box: tuple[float, float, float, float]) -> Iterator[Mark]:
    """What is missing, or over, hatched."""
    yield Path(points=rectangle(box), tone=Tone.SHORT, is_closed=True)
    yield hatched(rectangle(box), 1.1, Tone.SHORT)


def _ready(seen: Seen) -> Ready | None:
    row = seen.package.leniently.ways_out
    shown = (row.furthest_m, row.ways, row.second_threshold_m, row.drop_m, row.smoke_alarms)
    return None if all(each is None for each in shown) else Ready(partial(draw_ways_out, seen))


WAYS_OUT = Picture(
    ready=_ready,
    wants="ways out want how far the furthest bunk is, or how many there are",
    checks=DRAWN,
    schedules=("ways_out",),
    main="furthest_bunk",
)

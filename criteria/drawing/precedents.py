"""Precedents, drawn: a line a building, what became of it, the lesson, and where that shows."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.lettering import LEAST_MM, fitted, wrapped
from criteria.drawing.marks import Disc, Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.findings import Amount
from criteria.schedules.precedents import Precedent
from criteria.units import COUNT

LINE_MM, APART_MM, SIGN_MM, SHEET_MM, MOST_TALL_MM = 4.2, 3.0, 5.0, 4.2, 130.0
"""From line to line, between buildings, what the sign before one takes, the marker of a sheet, and
how far down buildings are drawn."""
CELLS = ("outcome", "lesson", "sheet")
SHARES = (0.0, 0.32, 0.62)
"""Where building, outcome and lesson begin across a wide sheet [1]."""


def draw_precedents(seen: Seen, field: Field) -> Drawing:
    """Draw the buildings that were studied, those that failed first."""
    return _Lines(seen, field).drawing()


class _Lines:
    def __init__(self, seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        rows = seen.package.leniently.precedents
        self.rows = sorted(rows, key=lambda row: not row.has_failed)
        self.rest: list[str] = []
        self.head = answer(seen, field)
        self.figures: list[Figure] = []
        self.gaps: list[Gap] = []

    def drawing(self) -> Drawing:
        """Draw the answer, how many failed, and a line a building."""
        marks: list[Mark] = [*self.head.letters, *self._failed()]
        y = self.head.height_mm + LINE_MM
        for n, row in enumerate(self.rows):
            if y > MOST_TALL_MM:
                self.rest = [each.mark for each in self.rows[n:]]
                break
            touch, lines = self._building(row, y)
            marks.append(touch)
            y += lines * LINE_MM + APART_MM
            edge = y - APART_MM / 2
            ends = ((SIDE_MM, edge), (self.field.width_mm - SIDE_MM, edge))
            marks.append(Path(points=ends, pen=Pen.HATCH, tone=Tone.GRAPHITE))
        return Drawing(
            title="Buildings studied, those that failed first",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(y, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            left_out=tuple(self.gaps),
            key=tuple(self.rest),
        )

    def _failed(self) -> Iterator[Mark]:
        """How many of them failed, beside how many should have."""
        values = self.seen.asked.measured.values
        if len(values) < 2:
            return
        finding = self.seen.findings.get(self.seen.check)
        failed = Amount(values[1], COUNT)
        words = f"{failed.write(self.field.system)} of them failed"
        if finding and finding.parts[1].target is not None:
            asked = Amount(finding.parts[1].target, COUNT)
            words += f", {finding.rule} {asked.write(self.field.system)}"
        is_short = bool(finding and finding.parts[1].state.is_missed)
        self.figures.append(Figure(what="of which failed", amount=failed, lettered=words))
        at = (SIDE_MM, self.head.height_mm + LEAST_MM - 1.4)
        yield Lettering(words=words, at=at, tone=Tone.SHORT if is_short else Tone.INK)

    def _building(self, row: Precedent, top: float) -> tuple[Touch, int]:
        """A building: its sign, its words, the sheet; and how many lines these take."""
        base = top + LEAST_MM + 0.8
        marks: list[Path | Strokes | Disc | Lettering] = [*_sign(row, base - LEAST_MM / 2)]
        left, sheet = SIDE_MM + SIGN_MM, self.field.width_mm - SIDE_MM - SHEET_MM
        gaps = {column: self._gap(row, column) for column in CELLS if not getattr(row, column)}
        name = f"{row.mark} {row.building or ''}".strip()
        line = deepest = 0
        said_of = ((name, ""), (row.outcome, "outcome"), (row.lesson, "lesson"))
        for n, (said, column) in enumerate(said_of):
            x, room = left, sheet - left - 2.0
            if not self.field.is_narrow:
                ends = [left + share * (sheet - left) for share in (*SHARES, 1.0)]
                x, room, line = ends[n], ends[n + 1] - ends[n] - 2.0, 0
            gap = None if said else gaps.get(column)
            tone = Tone.GRAPHITE if gap else Tone.INK
            for words in wrapped(said or f"{column} not given", LEAST_MM, room):
                at = (x, base + line * LINE_MM)
                is_strong = n == 0
                letter = Lettering(words=words, at=at, tone=tone, is_strong=is_strong, gap=gap)
                marks.append(letter)
                line += 1
            deepest = max(deepest, line)
        marks += self._marker(row, (sheet + SHEET_MM / 2, base - LEAST_MM / 2), gaps.get("sheet"))
        says = f"{name}, {row.outcome or 'outcome not given'}"
        touch = Touch(schedule="precedents", mark=row.mark, says=says, marks=tuple(marks))
        return touch, deepest

    def _gap(self, row: Precedent, column: str) -> Gap:
        says = f"{row.mark}: {column} not given"
        gap = Gap(schedule="precedents", mark=row.mark, column=column, says=says)
        self.gaps.append(gap)
        return gap

    def _marker(
        self, row: Precedent, middle: tuple[float, float], gap: Gap | None
    ) -> Iterator[Path | Disc | Lettering]:
        """The sheet where its lesson shows, in a circle; an empty place where it isn't given."""
        x, y = middle
        if gap is None:
            yield Disc(middle=middle, radius_mm=SHEET_MM / 2 + 0.6, pen=Pen.FINE)
            words = fitted(row.sheet or "", LEAST_MM, SHEET_MM + 1.5)
            at = (x, y + LEAST_MM / 2)
            yield Lettering(words=words, at=at, anchor="middle")
            return
        half = SHEET_MM / 2
        box = rectangle((x - half, y - half, x + half, y + half))
        yield Path(points=box, pen=Pen.ASSUMED, is_closed=True, gap=gap)
        yield Lettering(words="?", at=(x, y + LEAST_MM / 2), anchor="middle", gap=gap)


def _sign(row: Precedent, y: float) -> Iterator[Disc | Strokes]:
    """A cross before a building that failed, a ring before one that stands."""
    x, half = SIDE_MM + 1.6, 1.3
    if row.has_failed:
        strokes = (
            ((x - half, y - half), (x + half, y + half)),
            ((x - half, y + half), (x + half, y - half)),
        )
        yield Strokes(segments=strokes, pen=Pen.CUT)
    else:
        yield Disc(middle=(x, y), radius_mm=half, pen=Pen.SEEN, fill=Fill.PAPER)


def _ready(seen: Seen) -> Ready | None:
    rows = seen.package.leniently.precedents
    return Ready(partial(draw_precedents, seen)) if rows else None


PRECEDENTS = Picture(
    ready=_ready,
    wants="precedents want a building each",
    checks=("precedents",),
    schedules=("precedents",),
    main="precedents",
)

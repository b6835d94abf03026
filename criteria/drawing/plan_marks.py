"""Marks on sheets, drawn: each sheet with the marks it shows, and those that stand on none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.checks.package import DRAWN, MARKS, unmatched
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, width_mm
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Point, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.plan import READ, PlanMarks
from criteria.typed.cells import Lacking

APART_MM, LINE_MM, HEAD_MM, PAD_MM = 4.0, 4.8, 7.0, 2.0
"""Between sheets; from line to line of marks; what a sheet's number takes, and its edge keeps."""
SHEET_MM, LEAST_TALL_MM, MOST_TALL_MM, MOST_LINES = 38.0, 22.0, 150.0, 6
"""How wide a sheet is at least, how tall; how far down they are drawn; lines of marks on one."""
NOWHERE = "on no sheet"


@dataclass(frozen=True)
class Shown:
    """A sheet and its marks; those that have no row; by mark, the schedule that each is of."""

    sheets: tuple[tuple[str, tuple[str, ...]], ...]
    not_drawn: tuple[str, ...]
    not_scheduled: frozenset[str]
    schedules: dict[str, str]


def shown_of(package: Package) -> Shown | None:
    """Return the sheets of a package; None where there is none, or a row can't be told apart."""
    try:
        rows = package.plan_marks
        not_drawn, not_scheduled = unmatched(package)
        schedules = {row.mark: slug for slug in DRAWN for row in package.rows_of(BY_SLUG[slug].row)}
    except Lacking:
        return None
    sheets = tuple((_name(row), row.listed) for row in rows)
    return Shown(sheets, tuple(not_drawn), frozenset(not_scheduled), schedules)


def _name(row: PlanMarks) -> str:
    """The number of a sheet, and whether its marks were read from its letters."""
    number = row.if_given("sheet") or "?"
    return f"{number}, {READ}" if row.if_given("how") == READ else number


def draw_marks(shown: Shown, seen: Seen, field: Field) -> Drawing:
    """Draw the sheets in the order of their rows, and after them what stands on none."""
    return _Sheets(shown, seen, field).drawing()


class _Sheets:
    def __init__(self, shown: Shown, seen: Seen, field: Field) -> None:
        self.shown, self.field = shown, field
        self.head = answer(seen, field)
        wide = field.width_mm - 2 * SIDE_MM
        self.columns = int((wide + APART_MM) / (SHEET_MM + APART_MM))
        self.wide = (wide + APART_MM) / self.columns - APART_MM
        self.left_over: list[str] = []

    def drawing(self) -> Drawing:
        """Draw the answer and the sheets, row by row."""
        lost = self.shown.not_drawn
        gap = Gap(
            schedule="plan_marks", mark="", column="marks", says=f"{NOWHERE}: {', '.join(lost)}"
        )
        sheets = [(name, marks, None) for name, marks in self.shown.sheets]
        cells: list[tuple[str, tuple[str, ...], Gap | None]] = [*sheets]
        if lost:
            cells.insert(0, (NOWHERE, lost, gap))
        marks: list[Mark] = [*self.head.letters]
        y = self.head.height_mm + 1.0
        while cells:
            row, after = cells[: self.columns], cells[self.columns :]
            lines = [self._lines(each) for _, each, _ in row]
            tall = max(LEAST_TALL_MM, HEAD_MM + PAD_MM + LINE_MM * max(map(len, lines)))
            if y + tall > MOST_TALL_MM:
                self.left_over += [name for name, _, _ in cells]
                break
            for n, ((name, _, lacks), set_in) in enumerate(zip(row, lines, strict=True)):
                x = SIDE_MM + n * (self.wide + APART_MM)
                marks += self._sheet(name, set_in, (x, y, x + self.wide, y + tall), lacks)
            y, cells = y + tall + APART_MM, after
        return Drawing(
            title="Marks on their sheets",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(y - APART_MM + 1.5, 2),
            marks=tuple(marks),
            figures=self.head.figures,
            left_out=tuple(self._unnumbered()),
            key=tuple(self.left_over),
        )

    def _unnumbered(self) -> Iterator[Gap]:
        if any(name == "?" for name, _ in self.shown.sheets):
            says = "number of a sheet: not given"
            yield Gap(schedule="plan_marks", mark="", column="sheet", says=says)

    def _lines(self, marks: Sequence[str]) -> list[list[str]]:
        """Set marks in lines of a sheet; what finds no room on it is named beside the drawing."""
        room, at = self.wide - 2 * PAD_MM, 0.0
        lines: list[list[str]] = [[]]
        for n, mark in enumerate(marks):
            wide = width_mm(mark, LEAST_MM) + APART_MM / 2
            if lines[-1] and at + wide > room:
                if len(lines) == MOST_LINES:
                    self.left_over += marks[n:]
                    break
                lines.append([])
                at = 0.0
            lines[-1].append(mark)
            at += wide
        return lines

    def _sheet(
        self,
        name: str,
        lines: list[list[str]],
        box: tuple[float, float, float, float],
        gap: Gap | None,
    ) -> Iterator[Mark]:
        left, top, _, _ = box
        pen = Pen.ASSUMED if gap else Pen.SEEN
        yield Path(points=rectangle(box), pen=pen, fill=Fill.PAPER, is_closed=True, gap=gap)
        words = fitted(name, NAME_MM, self.wide - 2 * PAD_MM)
        at = (left + PAD_MM, top + NAME_MM + 1.6)
        tone = Tone.SHORT if gap else Tone.INK
        yield Lettering(words=words, at=at, cap_mm=NAME_MM, is_strong=True, tone=tone, gap=gap)
        for n, line in enumerate(lines):
            x = left + PAD_MM
            for mark in line:
                at = (x, top + HEAD_MM + LEAST_MM + n * LINE_MM)
                yield from self._mark(fitted(mark, LEAST_MM, self.wide - 2 * PAD_MM), mark, at, gap)
                x += width_mm(mark, LEAST_MM) + APART_MM / 2

    def _mark(self, words: str, mark: str, at: Point, gap: Gap | None) -> Iterator[Mark]:
        """A mark, which leads to its row; one that has none is underlined."""
        is_lost = gap is not None or mark in self.shown.not_scheduled
        letter = Lettering(words=words, at=at, tone=Tone.SHORT if is_lost else Tone.INK)
        if schedule := self.shown.schedules.get(mark):
            says = f"{mark}, {NOWHERE}" if gap else mark
            yield Touch(schedule=schedule, mark=mark, says=says, marks=(letter,))
            return
        yield letter
        if is_lost:
            y = at[1] + 1.0
            ends = (at[0], y), (at[0] + width_mm(words, LEAST_MM), y)
            yield Strokes(segments=(ends,), pen=Pen.SEEN, tone=Tone.SHORT)


def _ready(seen: Seen) -> Ready | None:
    shown = shown_of(seen.package)
    return Ready(partial(draw_marks, shown, seen)) if shown else None


PLAN_MARKS = Picture(
    ready=_ready,
    wants="sheets want the marks that stand on them",
    checks=(MARKS.slug,),
    schedules=("plan_marks",),
    main=MARKS.slug,
)

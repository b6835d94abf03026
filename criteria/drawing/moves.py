"""The change of use, drawn: each move along the seconds, as thick as it takes people."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from criteria.checks.stowage import STOWAGE_CHECKS
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import lettered
from criteria.findings import SAME, Amount, Rule
from criteria.schedules.stowage import Move
from criteria.units import COUNT, MASS, SECONDS, Scale

ROW_MM, PERSON_MM, THICKEST_MM = 9.4, 1.6, 4.8
NAME_SHARE, MOST_ROWS = 0.34, 14
TIME = "change_of_use"
CELLS = (("time_s", "s", SECONDS), ("people", "people", COUNT), ("mass_kg", "kg", MASS))
"""What is lettered of a move: its attribute, its column, its scale."""
WORDS = {"s": "time", "kg": "weight"}
"""What a column is called in words."""


def draw_moves(seen: Seen, field: Field) -> Drawing:
    """Draw the moves of a package, in the order of their rows."""
    return _Moves(seen, field).drawing()


class _Moves:
    def __init__(self, seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        rows = seen.package.leniently.moves
        self.rows, self.rest = rows[:MOST_ROWS], rows[MOST_ROWS:]
        self.head = answer(seen, field)
        self.left = SIDE_MM + field.width_mm * NAME_SHARE
        finding = seen.findings.get(TIME)
        limit = finding.target if finding and finding.rule is Rule.AT_MOST else None
        total = sum(row.time_s or 0.0 for row in rows)
        # a limit far beyond would leave no room for the bars: it stands at the head alone
        self.limit = limit if limit and limit <= 2 * total else None
        room = field.width_mm - SIDE_MM - self.left
        self.per_s = room / max(total, self.limit or 0.0, 1.0)
        self.figures: list[Figure] = []
        self.gaps: list[Gap] = []
        self.unknown: Gap | None = None

    def drawing(self) -> Drawing:
        """Draw the answer, the moves one under another, and where they should have ended."""
        top = self.head.height_mm + (LEAST_MM + 2.0 if self.limit else 0.0)
        foot = top + ROW_MM * len(self.rows) + 1.0
        marks: list[Mark] = [*self.head.letters, *self._limit(top, foot)]
        at = 0.0
        for n, row in enumerate(self.rows):
            marks.append(self._move(row, top + n * ROW_MM, at))
            at += row.time_s or 0.0
        return Drawing(
            title="The change, move by move",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(foot + 1.5, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            left_out=tuple(self.gaps),
            key=tuple(row.mark for row in self.rest),
        )

    def _move(self, row: Move, top: float, at_s: float) -> Touch:
        """A move: its name, from what to what, and its bar from where those before it end."""
        is_picked = row.mark == self.seen.asked.measured.subject
        room = self.left - SIDE_MM - 2.0
        name = fitted(f"{row.mark} {row.item or ''}".strip(), LEAST_MM, room)
        change = " to ".join(filter(None, (row.from_state, row.to_state)))
        marks: list[Path | Strokes | Lettering] = [
            Lettering(words=name, at=(SIDE_MM, top + LEAST_MM + 0.6), is_strong=is_picked),
        ]
        if change:
            words = fitted(change, LEAST_MM, room)
            at = (SIDE_MM, top + 2 * LEAST_MM + 2.0)
            marks.append(Lettering(words=words, at=at, tone=Tone.GRAPHITE))
        if row.time_s is not None:
            marks += self._bar(row, top, at_s, is_picked)
        said = self._cells(row)
        is_hot = bool(row.over_heat)
        words = f"{said}, over {row.over_heat}" if is_hot else said
        words = fitted(words, LEAST_MM, self.field.width_mm - SIDE_MM - self.left)
        tone = Tone.SHORT if is_hot else Tone.INK
        at = (self.left, top + ROW_MM - 1.4)
        gap = self.unknown if row.time_s is None else None
        marks.append(Lettering(words=words, at=at, tone=tone, is_strong=is_picked, gap=gap))
        says = f"{name}, {said}"
        return Touch(schedule="moves", mark=row.mark, says=says, marks=tuple(marks))

    def _cells(self, row: Move) -> str:
        """Write seconds, people and mass; what isn't given is said and named."""
        said = []
        for attribute, column, scale in CELLS:
            value, what = getattr(row, attribute), WORDS.get(column, column)
            if value is not None:
                said.append(self._write(value, scale, f"{row.mark}, {what} as typed"))
                continue
            says = f"{row.mark}: {what} not given"
            gap = Gap(schedule="moves", mark=row.mark, column=column, says=says)
            self.gaps.append(gap)
            said.append(f"{what} not given")
            if attribute == "time_s":
                self.unknown = self.unknown or gap
        return ", ".join(said)

    def _write(self, value: float, scale: Scale, what: str) -> str:
        amount = Amount(value, scale)
        words = lettered(amount, self.field.system)
        if scale is COUNT:
            words = "1 person" if value == 1 else f"{words} people"
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    def _bar(self, row: Move, top: float, at_s: float, is_picked: bool) -> Iterator[Path | Strokes]:
        thick = min(THICKEST_MM, PERSON_MM * (row.people or 1))
        start, end = self.left + at_s * self.per_s, self.left + (at_s + row.time_s) * self.per_s
        box = start, top + 0.4, end, top + 0.4 + thick
        fill = Fill.INK if is_picked else Fill.TRACE
        # after a move whose time isn't given nobody knows when it begins
        pen = Pen.ASSUMED if self.unknown else Pen.SEEN
        yield Path(points=rectangle(box), pen=pen, fill=fill, is_closed=True, gap=self.unknown)
        limit = self.left + (self.limit or 0.0) * self.per_s
        if self.limit and end > limit + SAME:
            over = rectangle((max(start, limit), box[1], end, box[3]))
            yield Path(points=over, tone=Tone.SHORT, is_closed=True)
            yield hatched(over, 1.1, Tone.SHORT)

    def _limit(self, top: float, foot: float) -> Iterator[Mark]:
        if self.limit:
            x = self.left + self.limit * self.per_s
            yield Path(points=((x, top - 1.4), (x, foot)), pen=Pen.CUT)
            words = f"at most {SECONDS.write(self.limit, self.field.system)}"
            at = (max(x, SIDE_MM + width_mm(words, LEAST_MM)), top - 2.4)
            yield Lettering(words=words, at=at, anchor="end")


def _ready(seen: Seen) -> Ready | None:
    return Ready(partial(draw_moves, seen)) if seen.package.leniently.moves else None


MOVES = Picture(
    ready=_ready,
    wants="moves want seconds, people and what is lifted",
    checks=tuple(check.slug for check in STOWAGE_CHECKS if check.slug.startswith("change")),
    schedules=("moves",),
    main=TIME,
)

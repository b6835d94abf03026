"""Bring a table in: read it, show what would happen to each line, and only then keep it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from criteria.errors import Refused
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.typed.tables import Reading, RefusedCell, parse_block, read_grid
from criteria.units import PLAIN, Notation

Synonyms = Mapping[str, str]
Record = dict[str, str]
LineCheck = Callable[[int, Record], list[RefusedCell]]
"""Holds one line, by its number, to what the columns alone can't know."""
Grid = Sequence[Sequence[str]]
Check = Callable[[Reading], Iterable[RefusedCell]]
"""Holds all lines to what the columns alone can't know."""

THE_SAME = "the same"
"""What would happen to a line that stands as it is."""


@dataclass(frozen=True)
class Cell:
    """A cell as it would be kept, and what was expected of it where it is refused."""

    column: Column
    text: str
    expected: str = ""


@dataclass(frozen=True)
class Line:
    """One line of a preview: its number below the heads, its cells, and what would happen."""

    number: int
    cells: list[Cell]
    news: str = ""


@dataclass(frozen=True)
class Preview:
    """A table as read, before anything is kept.

    records        as they would be kept
    refused        every cell that can't be read
    ignored        heads that mean no column
    news           what would happen to each line
    seen           the last change of what is there already (0: none)
    """

    schedule: Schedule
    records: tuple[Record, ...]
    refused: tuple[RefusedCell, ...]
    ignored: tuple[str, ...] = ()
    news: tuple[str, ...] = ()
    seen: int = 0

    @property
    def is_clean(self) -> bool:
        """Whether it can be kept."""
        return bool(self.records) and not self.refused

    @property
    def what(self) -> str:
        """What is done where it is kept."""
        return f"{len(self.records)} {'line is' if len(self.records) == 1 else 'lines are'} in."

    @property
    def change(self) -> str:
        """What keeping it changes: of one line all of it, of more the first and how many."""
        changed = [line for line in self.lines if line.news != THE_SAME]
        if not changed:
            return ""
        name, more = changed[0].cells[0].text.strip(), len(changed) - 1
        return f"{name} and {more} more brought in" if more else f"{name}: {changed[0].news}"

    @property
    def columns(self) -> tuple[Column, ...]:
        return self.schedule.columns

    @property
    def elsewhere(self) -> list[RefusedCell]:
        """Refusals that belong to no one cell: of the heads, of a row's length."""
        labels = {column.label for column in self.columns}
        return [r for r in self.refused if not r.row or r.column not in labels]

    @property
    def lines(self) -> list[Line]:
        """The lines with each refused cell marked."""
        expected = {(r.row, r.column): r.expected for r in self.refused}
        return [
            Line(
                number,
                [
                    Cell(c, record.get(c.head, ""), expected.get((number, c.label), ""))
                    for c in self.columns
                ],
                self.news[number - 1] if number <= len(self.news) else "",
            )
            for number, record in enumerate(self.records, start=1)
        ]


class NotClean(Exception):
    """A table with refused cells, or none at all: nothing is kept."""

    def __init__(self, preview: Preview) -> None:
        super().__init__("A cell is refused, or there is no line.")
        self.preview = preview


def clean(preview: Preview) -> Preview:
    """Return a preview that can be kept; any other raises NotClean."""
    if not preview.is_clean:
        raise NotClean(preview)
    return preview


def folded(text: str) -> str:
    """Return only the letters and figures of a text, in small letters, as heads are compared.

    >>> folded("E-mail address")
    'emailaddress'
    """
    return re.sub(r"[^a-z0-9]+", "", text.casefold())


def synonyms(names: Mapping[str, str]) -> Synonyms:
    """Return what each other name means, of names each with its others.

    >>> synonyms({"at least": "min atleast"})
    {'min': 'at least', 'atleast': 'at least'}
    """
    return {other: name for name, others in names.items() for other in others.split()}


def read_table(
    schedule: Schedule,
    text: str,
    notation: Notation = PLAIN,
    *,
    heads: Synonyms | None = None,
    words: Synonyms | None = None,
    check: Check | None = None,
    marks: Mapping[str, Iterable[str]] | None = None,
    laid: Callable[[Grid], Grid] = list,
) -> Preview:
    """Read a pasted block or the text of a CSV file.

    notation  the decimal sign, and the units of bare numbers whose head names none
    heads     other names of columns, folded, and the head that each means
    words     other names of what a WORD column takes, folded, and the choice that each means
    check     holds the lines to what the columns alone can't know
    marks     the marks of other schedules, to which references are held
    laid      lays out lines of cells that others lay out otherwise
    """
    try:
        grid = laid(parse_block(text))
    except Refused as refusal:
        whole = RefusedCell(0, "", "block", refusal.read, refusal.expected)
        return Preview(schedule, (), (whole,))
    named = _with_own_heads(schedule, grid, heads or {}, words or {})
    reading = read_grid(schedule, named, notation, marks=marks)
    refused = [*reading.refused, *(check(reading) if check else ())]
    refused.sort(key=lambda cell: cell.row)
    return Preview(schedule, reading.records, tuple(refused), reading.ignored)


def line_by_line(check: LineCheck) -> Check:
    """Hold each line that can be read to what stands above it and elsewhere."""

    def all_lines(reading: Reading) -> Iterable[RefusedCell]:
        bad = {cell.row for cell in reading.refused}
        for number, record in enumerate(reading.records, start=1):
            if number not in bad:
                yield from check(number, record)

    return all_lines


def _with_own_heads(
    schedule: Schedule, grid: Sequence[Sequence[str]], heads: Synonyms, words: Synonyms
) -> list[list[str]]:
    lines = [list(line) for line in grid if any(cell.strip() for cell in line)]
    if not lines:
        return []
    known = {folded(head) for head in schedule.heads} | set(heads)
    if sum(folded(cell) in known for cell in lines[0]) >= min(2, len(lines[0])):
        lines[0] = [heads.get(folded(cell), cell) for cell in lines[0]]
    return [lines[0], *([words.get(folded(cell), cell) for cell in line] for line in lines[1:])]

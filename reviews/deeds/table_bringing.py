"""Bring a table in: read it, show what would happen to each line, and only then keep it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from criteria.errors import Refused
from criteria.typed.rows import Schedule
from criteria.typed.tables import RefusedCell, parse_block, read_grid

Synonyms = Mapping[str, str]
Record = dict[str, str]
LineCheck = Callable[[int, Record], list[RefusedCell]]


@dataclass(frozen=True)
class Cell:
    """A cell as read, and what was expected of it where it is refused."""

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

    refused   every cell that can't be used; nothing is kept while there is one
    ignored   heads that mean no column
    """

    schedule: Schedule
    records: tuple[Record, ...]
    refused: tuple[RefusedCell, ...]
    ignored: tuple[str, ...] = ()
    news: tuple[str, ...] = ()

    @property
    def is_clean(self) -> bool:
        """Whether it can be kept."""
        return bool(self.records) and not self.refused

    @property
    def heads(self) -> list[str]:
        """Labels of the columns."""
        return [column.label for column in self.schedule.columns]

    @property
    def elsewhere(self) -> list[RefusedCell]:
        """Refusals that belong to no one cell: of the heads, of a row's length."""
        labels = set(self.heads)
        return [r for r in self.refused if not r.row or r.column not in labels]

    @property
    def lines(self) -> list[Line]:
        """The lines with each refused cell marked."""
        expected = {(r.row, r.column): r.expected for r in self.refused}
        return [
            Line(
                number,
                [
                    Cell(record.get(c.head, ""), expected.get((number, c.label), ""))
                    for c in self.schedule.columns
                ],
                self.news[number - 1] if number <= len(self.news) else "",
            )
            for number, record in enumerate(self.records, start=1)
        ]


def folded(text: str) -> str:
    """Return only the letters and figures of a text, in small letters, as heads are compared.

    >>> folded("E-mail address")
    'emailaddress'
    """
    return re.sub(r"[^a-z0-9]+", "", text.casefold())


def read_table(
    schedule: Schedule, text: str, *, heads: Synonyms, words: Synonyms, check: LineCheck
) -> Preview:
    """Read a pasted block or the text of a CSV file.

    heads   other names of columns, folded, and the head that each means
    words   other names of what a WORD column takes, folded, and the choice that each means
    check   holds a line to what the columns alone can't know
    """
    try:
        grid = parse_block(text)
    except Refused as refusal:
        whole = RefusedCell(0, "", "block", refusal.read, refusal.expected)
        return Preview(schedule, (), (whole,))
    reading = read_grid(schedule, _with_own_heads(schedule, grid, heads, words))
    refused = list(reading.refused)
    bad = {cell.row for cell in refused}
    for number, record in enumerate(reading.records, start=1):
        if number not in bad:
            refused += check(number, record)
    refused.sort(key=lambda cell: cell.row)
    return Preview(schedule, reading.records, tuple(refused), reading.ignored)


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

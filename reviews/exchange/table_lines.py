"""Lines of cells under heads as proposed rows, for every format that is a table.

Heads are known by name or by label, in any order. Below them may stand what the columns are called
and their units, as workbooks of ours have them. What no column is called is named, never dropped.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from criteria.typed import quantities
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.typed.tables import MOST_ROWS, are_labels, are_units, match_heads, under_head
from criteria.units import UNITS, System
from reviews.exchange.proposed import LONGEST_TEXT, ProposedCell, ProposedRow, Question

Line = Sequence[str]
Heads = Sequence[tuple[Column, str] | None]

UNITS_ASKED = "units"
"""By this name it is answered which system bare figures are in where no head says so."""

_MOST_NAMED = 6


@dataclass(frozen=True, kw_only=True)
class Told:
    """How the cells of a table are known.

    where   of a row and column counted from 0, the place in words
    cell    of a row, column and text, the cell that it makes; None where it is left out
    """

    where: Callable[[int, int], str]
    cell: Callable[[int, int, str], ProposedCell | None] = field(
        default=lambda row, column, text: ProposedCell(text=text)
    )


@dataclass(frozen=True)
class Lines:
    """What was made of a table.

    rows     proposed, in order
    said     what was left out and why
    bare     columns with bare figures for which neither head nor line of units names one, each
             with the first such figure
    """

    rows: tuple[ProposedRow, ...] = ()
    said: tuple[str, ...] = ()
    bare: tuple[tuple[Column, str], ...] = ()


def rows_of(schedule: Schedule, grid: Sequence[Line], told: Told, units: str = "") -> Lines:
    """Make rows of a schedule of a table, heads first.

    units   the system of bare figures where nothing else says it; metric where it isn't answered
    """
    first = next((n for n, line in enumerate(grid) if any(map(str.strip, line))), None)
    if first is None:
        return Lines()
    heads = match_heads(schedule, list(grid[first]))
    if not any(heads):
        named = listed([cell for cell in grid[first] if cell.strip()])
        expected = ", ".join(schedule.heads[:3])
        return Lines(
            said=(f"{schedule.slug} is left out: read {named}; expected heads ({expected} …).",)
        )
    return _Table(schedule, grid, first, heads, told, units).lines()


def asked_units(bare: Sequence[tuple[Column, str]], chosen: str) -> Question | None:
    """Ask in which units bare figures are, where no head names one; nothing where none is bare."""
    if not bare:
        return None
    (column, text), more = bare[0], len(bare) - 1
    others = f" and {more} more" if more else ""
    sizes = (
        (system.value, f"{name}: {text} {column.unit(system)}")
        for system, name in ((System.METRIC, "metric"), (System.US, "US units"))
    )
    return Question(
        name=UNITS_ASKED,
        asked=f"No unit stands over {column.label}{others}. In which units are the bare figures?",
        choices=tuple(sizes),
        chosen=chosen or System.METRIC.value,
    )


class _Table:
    """One table as it is read."""

    def __init__(
        self,
        schedule: Schedule,
        grid: Sequence[Line],
        first: int,
        heads: Heads,
        told: Told,
        units: str,
    ) -> None:
        self.schedule, self.grid, self.told = schedule, grid, told
        self.first, self.heads = first, heads
        self.system = System(units) if units in {each.value for each in System} else System.METRIC
        self.said: list[str] = []
        self.bare: dict[Column, str] = {}
        self.long: list[str] = []
        self.units: dict[int, str] = {}
        self.unread: set[int] = set()

    def lines(self) -> Lines:
        body = self.first + 1
        if are_labels(self.heads, self._line(body)):
            body += 1
        if are_units(self.heads, self._line(body)):
            self._read_units(body)
            body += 1
        filled = [n for n in range(body, len(self.grid)) if any(map(str.strip, self.grid[n]))]
        if len(filled) > MOST_ROWS:
            few = f"at most {MOST_ROWS:,}"
            said = f"{self.schedule.slug} is left out: read {len(filled):,} rows; expected {few}."
            return Lines(said=(said,))
        self._say_unknown(filled)
        rows = tuple(row for n in filled if (row := self._row(n)).cells)
        if self.long:
            most = f"text of at most {LONGEST_TEXT:,} letters"
            self.said.append(f"Left out: {listed(self.long)}. Expected {most}.")
        return Lines(rows, tuple(self.said), tuple(self.bare.items()))

    def _columns(self) -> Iterator[tuple[int, Column, str]]:
        for at, match in enumerate(self.heads):
            if match:
                yield at, *match

    def _line(self, row: int) -> Line:
        return self.grid[row] if row < len(self.grid) else ()

    def _cell(self, row: int, at: int) -> str:
        line = self._line(row)
        return line[at] if at < len(line) else ""

    def _read_units(self, row: int) -> None:
        for at, column, of_head in self._columns():
            unit = self._cell(row, at).strip()
            if not unit or of_head or column.scale is None:
                continue
            symbol = _symbol(unit, column)
            if not symbol:
                self.unread.add(at)
                named = f"a unit of {column.scale.dimension}, such as {column.unit()}"
                place = self.told.where(row, at)
                self.said.append(
                    f"{place}: read “{unit}”; expected {named}. The column is left out."
                )
            self.units[at] = symbol

    def _say_unknown(self, filled: Sequence[int]) -> None:
        """Name the columns that mean nothing here and hold something."""
        widest = max((len(self.grid[n]) for n in (self.first, *filled)), default=0)
        unknown = [
            self._cell(self.first, at).strip() or self.told.where(self.first, at)
            for at in range(widest)
            if (at >= len(self.heads) or self.heads[at] is None)
            and any(self._cell(n, at).strip() for n in filled)
        ]
        if unknown:
            of = self.schedule.title.lower()
            why = "no column is called so, or one stands there already"
            self.said.append(f"Left out of the {of}: {listed(unknown)}; {why}.")

    def _row(self, row: int) -> ProposedRow:
        cells = {}
        for at, column, of_head in self._columns():
            text = self._cell(row, at)
            if not text.strip() or at in self.unread:
                continue
            if len(text) > LONGEST_TEXT:
                self.long.append(self.told.where(row, at))
            elif cell := self.told.cell(row, at, text):
                unit = of_head or self.units.get(at, "")
                kept = self._kept(column, unit, cell.text)
                cells[column.head] = replace(cell, text=kept, place=self.told.where(row, at))
        return ProposedRow(schedule=self.schedule.slug, cells=cells)

    def _kept(self, column: Column, unit: str, text: str) -> str:
        if column.scale is None or column.scale.us == column.scale.metric:
            return text if not unit else under_head(text, column, unit)
        if not unit and quantities.is_bare(text):
            self.bare.setdefault(column, text)
        return under_head(text, column, unit, self.system)


def _symbol(unit: str, column: Column) -> str:
    """The symbol of a unit in which a column measures, however it is spelled; or nothing."""
    assert column.scale is not None
    own = (column.scale.metric, column.scale.us)
    measured = (*own, *(u for u in UNITS if u.dimension == column.scale.dimension))
    spelled = unit.casefold()
    return next((u.symbol for u in measured if spelled in (u.symbol.casefold(), *u.spellings)), "")


def listed(words: Sequence[str]) -> str:
    """Name a few, and how many more.

    >>> listed(["a", "b"]), listed([*"abcdefgh"])
    ('“a”, “b”', '“a”, “b”, “c”, “d”, “e”, “f” and 2 more')
    """
    named = ", ".join(f"“{word[:40]}”" for word in words[:_MOST_NAMED])
    more = len(words) - _MOST_NAMED
    return f"{named} and {more:,} more" if more > 0 else named

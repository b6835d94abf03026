"""What was taken for cells that are blank, and what would write it there."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from criteria.findings import Amount, Step
from criteria.typed.columns import Column
from criteria.typed.rows import Row
from criteria.units import System


@dataclass(frozen=True)
class Blank:
    """A blank cell: its column's head and label, and the text that would be typed into it."""

    head: str
    label: str
    value: str


@dataclass(frozen=True)
class Assumed:
    """What was taken for blank cells of one row; written into them it says the same.

    schedule, mark   where they stand
    row      row of a schedule without marks, counted from 1; 0 elsewhere
    cells    all that are to be written at once
    said     what was taken, in a sentence with its figures
    source   where that comes from
    """

    schedule: str
    mark: str
    row: int
    cells: tuple[Blank, ...]
    said: Step
    source: str

    def write(self, system: System = System.METRIC) -> str:
        """Write what was taken in a system's units."""
        return self.said.write(system)


class Taking:
    """Hands out what cells hold, and keeps what was taken for those that are blank."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, str, int, tuple[str, ...]], Assumed] = {}

    @property
    def found(self) -> tuple[Assumed, ...]:
        """All that was taken, each once, in the order in which it was asked for."""
        return tuple(self._found.values())

    def of(self, row: Row, attribute: str, value: Any, words: str, source: str) -> Any:
        """Return what a cell holds, else a value [SI] that is taken for it.

        words   a sentence with a brace for the row's name and one for the value, or for neither

        Raises Lacking where the cell was refused: what can't be read is never taken for blank.
        """
        given = row.unless_blank(attribute)
        if given is not None:
            return given
        self.take(row, {attribute: value}, words, source)
        return value

    def take(
        self, row: Row, values: Mapping[str, Any], words: str, source: str, *more: str
    ) -> None:
        """Keep what was taken for cells of a row, by attribute [SI].

        words   a sentence with braces for the row's name, then for `more`, then for the values
        """
        columns = {row.schedule.by_attribute[name]: value for name, value in values.items()}
        cells = tuple(Blank(c.head, c.label, _typed(c, value)) for c, value in columns.items())
        figures = [_shown(column, value) for column, value in columns.items()]
        said = Step(words, (row.title or row.schedule.title, *more, *figures)[: words.count("{}")])
        number = 0 if row.key or row.schedule.is_single else row.number
        place = (row.schedule.slug, row.key, number)
        key = (*place, tuple(cell.head for cell in cells))
        self._found.setdefault(key, Assumed(*place, cells, said, source))


def _typed(column: Column, value: Any) -> str:
    """Write a value as it would be typed: with its unit it means the same to every reader.

    In two decimals at most, which no decimal sign can turn into thousands.
    """
    if column.scale is None or isinstance(value, str):
        return column.show(value)
    number = round(float(column.scale.metric.from_si(value)), 2)
    return f"{number:.8g} {column.scale.metric.symbol}".strip()


def _shown(column: Column, value: Any) -> Amount | str:
    if column.scale is None or isinstance(value, str):
        return column.show(value)
    return Amount(value, column.scale)

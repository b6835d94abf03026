"""What rows by state say of a row, in words beneath it; and the states that say nothing yet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from criteria.schedules import BY_SLUG, STATES, beside
from criteria.schedules.by_state import StateRow
from criteria.typed.columns import Column
from criteria.typed.quantities import is_bare
from criteria.typed.rows import Schedule
from criteria.units import System
from reviews.models import Row

Tables = Mapping[str, Sequence[Mapping[str, str]]]


@dataclass(frozen=True)
class Differs:
    """What one row by state says of its base row.

    pk   of the row that says it
    """

    slug: str
    state: str
    words: str
    pk: int


@dataclass(frozen=True)
class InStates:
    """Of one row, what differs in which states, and which states say nothing of it.

    slug    of the schedule that says it
    """

    slug: str
    mark: str
    differs: tuple[Differs, ...]
    others: tuple[str, ...]


class StateLines:
    """What rows by state say of the rows of one schedule."""

    def __init__(self, schedule: Schedule, rows: Iterable[Row], tables: Tables) -> None:
        over = beside(schedule)
        is_base = over and not issubclass(schedule.row, StateRow)
        self._of: dict[str, list[Differs]] = {}
        self._states = [record.get("state", "").strip() for record in tables.get(STATES.slug, ())]
        self._slug = over[0].slug if is_base else ""
        for row in rows if is_base else ():
            if row.schedule == self._slug:
                self._add(row)

    def _add(self, row: Row) -> None:
        schedule = BY_SLUG[row.schedule]
        base, state = (row.cells.get(column.head, "").strip() for column in schedule.keys)
        said = Differs(row.schedule, state, _words(schedule, row.cells), row.pk)
        self._of.setdefault(base, []).append(said)

    def of(self, mark: str) -> InStates | None:
        """Return what is said of a row, None where nothing is and no brief names states."""
        differs = tuple(self._of.get(mark, ()))
        said = {each.state for each in differs}
        others = tuple(state for state in self._states if state and state not in said)
        known = mark and self._slug and (differs or others)
        return InStates(self._slug, mark, differs, others) if known else None


def _words(schedule: Schedule, cells: Mapping[str, str]) -> str:
    """Write the filled cells of a row by state, as they are kept: width 1400 mm, sleeps 2."""
    own = (column for column in schedule.columns if not column.is_key)
    filled = ((column, cells.get(column.head, "").strip()) for column in own)
    return ", ".join(_cell(column, text) for column, text in filled if text) or "nothing differs"


def _cell(column: Column, text: str) -> str:
    unit = column.unit(System.METRIC) if is_bare(text) else ""
    return f"{column.label[0].lower()}{column.label[1:]} {text} {unit}".strip()

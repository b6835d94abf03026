"""What rows by state say of a row, in words beneath it; and the states that say nothing yet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from criteria.own_words import column_in
from criteria.schedules import BY_SLUG, STATES, beside
from criteria.schedules.by_state import StateRow
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.units import Notation
from reviews.deeds.record_typed import figure_text
from reviews.models.packages import TypedRow

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

    def __init__(
        self, schedule: Schedule, rows: Iterable[TypedRow], tables: Tables, notation: Notation
    ) -> None:
        over, self._notation = beside(schedule), notation
        is_base = over and not issubclass(schedule.row, StateRow)
        self._of: dict[str, list[Differs]] = {}
        self._states = [record.get("state", "").strip() for record in tables.get(STATES.slug, ())]
        self._slug = over[0].slug if is_base else ""
        for row in rows if is_base else ():
            if row.schedule == self._slug:
                self._add(row)

    def _add(self, row: TypedRow) -> None:
        schedule = BY_SLUG[row.schedule]
        base, state = (row.cells.get(column.head, "").strip() for column in schedule.keys)
        said = Differs(row.schedule, state, _words(schedule, row.cells, self._notation), row.pk)
        self._of.setdefault(base, []).append(said)

    def of(self, mark: str) -> InStates | None:
        """Return what is said of a row, None where nothing is and no brief names states."""
        differs = tuple(self._of.get(mark, ()))
        said = {each.state for each in differs}
        others = tuple(state for state in self._states if state and state not in said)
        known = mark and self._slug and (differs or others)
        return InStates(self._slug, mark, differs, others) if known else None


def _words(schedule: Schedule, cells: Mapping[str, str], notation: Notation) -> str:
    """Write the filled cells of a row by state: width 1400 mm, sleeps 2."""
    own = (column for column in schedule.columns if not column.is_key)
    filled = ((column, cells.get(column.head, "").strip()) for column in own)
    return ", ".join(_cell(*each, notation) for each in filled if each[1]) or "nothing differs"


def _cell(column: Column, text: str, notation: Notation) -> str:
    label = column_in(column, notation.system).label
    return f"{label[0].lower()}{label[1:]} {figure_text(column, text, notation)}".strip()

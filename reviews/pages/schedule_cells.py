"""Cells of a schedule as one reader sees them: what each takes and means, why it is refused."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from criteria.errors import Refused
from criteria.own_words import column_in
from criteria.schedules import BY_SLUG, STATES, marks_in
from criteria.schedules.by_state import StateRow
from criteria.schedules.states import BuildingState, named_states
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.typed.tables import RefusedCell
from criteria.units import PLAIN, Notation, System
from reviews.deeds.record_typed import example_text, in_head_unit, shown_cells

Record = Mapping[str, str]
Tables = Mapping[str, Sequence[Record]]
RefusedCells = Mapping[str, Sequence[RefusedCell]]


@dataclass(frozen=True)
class Head:
    """The head of a column: label, unit, what it takes, and what a first row might hold."""

    column: Column
    unit: str
    expected: str
    example: str

    @property
    def is_mark(self) -> bool:
        """Whether rows are told apart by it."""
        return self.column.kind is Kind.MARK

    @property
    def help_id(self) -> str:
        """The id of its help, to which each of its cells points."""
        return f"help-{self.column.head}"


@dataclass(frozen=True)
class Cell:
    """One cell.

    text      as it stands under its head
    unit      the unit of its head
    beneath   the same in the head's unit, or what a reference leads to
    refused   why it can't be read, with what would be
    kept      what stands where a save was refused and differs from what was sent
    options   the texts it takes, where they are few, each with how it is shown
    """

    column: Column
    name: str
    id: str
    help_id: str
    text: str
    unit: str = ""
    beneath: str = ""
    refused: str = ""
    kept: str | None = None
    options: tuple[tuple[str, str], ...] = ()
    placeholder: str = ""

    @property
    def is_blank(self) -> bool:
        """Whether nothing is typed."""
        return not self.text.strip()

    @property
    def described_by(self) -> str:
        return f"{self.help_id} {self.id}-note" if self.refused or self.beneath else self.help_id


class Reader:
    """Shows the rows of a package to one reader.

    refused   by schedule, the cells that couldn't be read when the package was
    notation  how the reader sees figures
    """

    def __init__(self, tables: Tables, refused: RefusedCells, notation: Notation) -> None:
        self.tables, self.refused, self.notation = tables, refused, notation
        self.system = notation.system

    @cached_property
    def names(self) -> dict[str, dict[str, str]]:
        """The marks of each schedule with what stands beside them: R2 is the day room."""
        said: dict[str, dict[str, str]] = {}
        for slug, records in self.tables.items():
            if (schedule := BY_SLUG.get(slug)) is None:  # what names the weather
                continue
            head = next((c.head for c in schedule.columns if c.kind is Kind.TEXT), "")
            said[slug] = {schedule.name_of(record): record.get(head, "") for record in records}
        words = {mark: text for of in said.values() for mark, text in of.items()}
        return {
            slug: {mark: said.get(slug, words).get(mark, "") for mark in marks}
            for slug, marks in marks_in(self.tables).items()
        }

    def base_of(self, schedule: Schedule, record: Record) -> Record:
        """Of a row by state, what its base row has under each head; nothing for any other."""
        if not issubclass(schedule.row, StateRow):
            return {}
        mark, state = (record.get(column.head, "").strip() for column in schedule.keys)
        states = named_states(self._states)
        kind = next((each.if_given("kind") for each in states if each.key == state), "")
        other = schedule.row.stands_for(kind)
        for slug in schedule.row.of:
            base = BY_SLUG[slug]
            heads = {column.attribute: column.head for column in base.columns}
            for cells in self.tables.get(slug, ()):
                if base.name_of(cells) == mark:
                    shown = shown_cells(base, cells, self.system)
                    own = ((c.head, other.get(c.attribute, c.attribute)) for c in schedule.columns)
                    return {head: shown[heads[name]] for head, name in own if name in heads}
        return {}

    @cached_property
    def _states(self) -> list[BuildingState]:
        rows = (STATES.parse(record) for record in self.tables.get(STATES.slug, ()))
        return [row for row in rows if isinstance(row, BuildingState)]

    def refusals(
        self, schedule: Schedule, shown: Sequence[Record], before: int = 0
    ) -> dict[tuple[int, str], str]:
        """Say why cells can't be read, by row from 0 and label, in the reader's units.

        before   how many rows stand before those that are shown
        """
        labels = {column.label: column for column in schedule.columns}
        return {
            (at, cell.column): self._why(cell, labels[cell.column], shown[at])
            for cell in self.refused.get(schedule.slug, ())
            if cell.column in labels and 0 <= (at := cell.row - 1 - before) < len(shown)
        }

    def _why(self, cell: RefusedCell, column: Column, record: Record) -> str:
        said: Refused | RefusedCell = cell
        try:
            column.read(record[column.head], self.notation)
        except Refused as refusal:
            said = refusal
        return f"Read “{said.read}”. Expected {said.expected}."

    def cell(self, column: Column, text: str, refused: str, place: str) -> Cell:
        is_named = column.kind is Kind.REFERENCE
        named = self.names.get(column.refers_to, {}).get(text.strip(), "") if is_named else ""
        if refused and not text.strip():
            refused = f"Blank. Expected {column.expected(self.system)}."
        return Cell(
            column=column_in(column, self.system),
            name=f"cell-{column.head}",
            id=f"{place}-{column.head}",
            help_id=f"help-{column.head}",
            text=text,
            unit=column.unit(self.system),
            beneath=named or ("" if refused else in_head_unit(column, text, self.notation)),
            refused=refused,
            options=self._options(column, text),
        )

    def _options(self, column: Column, text: str) -> tuple[tuple[str, str], ...]:
        if column.kind is Kind.WORD:
            known = column.choices
        elif column.kind is Kind.YES_NO:
            known = ("yes", "no")
        elif column.kind is Kind.REFERENCE:
            known = tuple(self.names.get(column.refers_to, {}))
        else:
            return ()
        options = known if text in known or not text else (*known, text)
        return tuple((option, column.choice_said(option).replace("_", " ")) for option in options)


def heads_of(schedule: Schedule, system: System) -> tuple[Head, ...]:
    """The heads of a schedule, in a reader's units."""
    columns = (column_in(column, system) for column in schedule.columns)
    notation = PLAIN.read_in(system)
    return tuple(
        Head(c, c.unit(system), c.expected(system), example_text(c, notation)) for c in columns
    )


def next_mark(schedule: Schedule, records: Iterable[Record]) -> str:
    """Suggest the mark of the next row: the schedule's letter and the number after the highest.

    >>> from criteria.schedules.openings import Window
    >>> next_mark(Window.schedule, [{"mark": "W2"}, {"mark": "W10"}, {"mark": "north"}])
    'W11'
    """
    if not schedule.mark_prefix or not schedule.mark_head:
        return ""
    taken = [
        int(match[1])
        for record in records
        if (mark := record.get(schedule.mark_head, "").strip())
        and (match := re.fullmatch(rf"{schedule.mark_prefix}(\d{{1,6}})\w?", mark))
    ]
    return f"{schedule.mark_prefix}{max(taken, default=0) + 1}"

"""A schedule and its rows: what each cell holds, and what couldn't be read.

    @schedule("windows", "Window schedule", mark_prefix="W", purpose="…")
    class Window(Row):
        mark: str = mark()
        frame_w_m: float = quantity("frame_w", LENGTH, "Frame width", within=(0.1, 4))

The field holds SI (its name says which); the head is what stands over the column in a file;
what a field is stands once, in its column's help.
Asking a row for a cell that is blank or refused raises Lacking, which names the cell. A blank
that means something says so in its declaration (`blank=0`); what is refused never means it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property
from types import MappingProxyType
from typing import Any, ClassVar, Self, TypeVar, dataclass_transform

from criteria.errors import Refused
from criteria.typed import quantities
from criteria.typed.cells import Cell, Lacking, stands_in
from criteria.typed.columns import (
    ASKED,
    Column,
    Kind,
    count,
    mark,
    quantity,
    reference,
    text,
    word,
    yes_no,
)
from criteria.units import FT, IN, PLAIN, Notation


@dataclass(frozen=True)
class Schedule:
    """A table of like things and how each of its rows is read.

    slug        name in files and addresses ("windows")
    title       name on screen ("Window schedule")
    row         the frozen dataclass of one row
    mark_prefix letter that a new row's mark starts with
    purpose     one sentence: what it holds and which checks read it
    is_single   true for a sheet that has one row, such as the site sheet
    """

    slug: str
    title: str
    row: type[Row]
    mark_prefix: str
    purpose: str
    is_single: bool = False
    columns: tuple[Column, ...] = ()

    def column(self, head: str) -> Column:
        """Return the column of a head. Raises KeyError where there is none."""
        return next(c for c in self.columns if c.head == head) if head in self.heads else _no(head)

    @cached_property
    def by_attribute(self) -> Mapping[str, Column]:
        """Each column by the name of its row's attribute."""
        return {column.attribute: column for column in self.columns}

    @cached_property
    def keys(self) -> tuple[Column, ...]:
        """The columns that tell a row from others: its mark, or marks of others with a state."""
        return tuple(column for column in self.columns if column.is_key)

    @cached_property
    def mark_head(self) -> str:
        """The head under which rows have their own mark, or nothing where they have none."""
        return next((c.head for c in self.keys if c.kind is Kind.MARK), "")

    def name_of(self, record: Mapping[str, str]) -> str:
        """Return by what a typed record is told from others, or nothing: “W3”, “U1 night”."""
        return " ".join(filter(None, ((record.get(c.head) or "").strip() for c in self.keys)))

    @cached_property
    def heads(self) -> tuple[str, ...]:
        """The heads of all columns, in order."""
        return tuple(column.head for column in self.columns)

    @cached_property
    def called(self) -> tuple[tuple[Column, frozenset[str]], ...]:
        """Each column with what its head may say, as it folds."""
        return tuple((c, frozenset({folded(c.head), folded(c.label)})) for c in self.columns)

    def parse(
        self, record: Mapping[str, str], notation: Notation = PLAIN, *, number: int = 0
    ) -> Row:
        """Return the row of a typed record, which remembers what was refused.

        `number` is its place in the table, counted from 1, by which a row without a mark is
        named.
        """
        values: dict[str, Any] = {}
        refused: dict[str, Refused] = {}
        for column in self.columns:
            try:
                values[column.attribute] = column.read(record.get(column.head, "") or "", notation)
            except Refused as refusal:
                refused[column.attribute] = refusal
        row: Row = self.row(**values)
        row.__dict__["_as_typed"] = (record, notation)
        return row._remembering(refused, number)

    def record(self, row: Row) -> dict[str, str]:
        """Write a row as a typed record in metric units, to full precision."""
        written = {}
        for column in self.columns:
            value = row.typed(column.attribute)
            if column.scale is None or value is None:
                written[column.head] = column.show(value)
            else:
                number = float(column.scale.metric.from_si(value))
                written[column.head] = quantities.plain(f"{Decimal(f'{number:.10g}'):f}")
        return written


def _no(head: str) -> Any:
    raise KeyError(head)


def folded(text: str) -> str:
    """A head without case, spaces and marks, so that however it is set it is the same."""
    return re.sub(r"[\W_]+", "", unicodedata.normalize("NFKC", text).casefold())


R = TypeVar("R", bound="Row")


class Row:
    """A row of a schedule: what it holds in SI, and what it couldn't read.

    A cell with a value is an attribute as of any object. Asking for one that is blank or was
    refused raises Lacking; `if_given` asks for prose, where nothing is decided by it.
    """

    schedule: ClassVar[Schedule]
    number = 0
    _refused: Mapping[str, Refused] = MappingProxyType({})
    _blank: frozenset[str] = frozenset()
    _is_lenient = False
    _as_typed: tuple[Mapping[str, str], Notation] = (MappingProxyType({}), PLAIN)
    _over: Mapping[str, tuple[Row, str]] = MappingProxyType({})

    def __init__(self, **values: Any) -> None:  # the decorator gives each class its own
        raise NotImplementedError

    def __post_init__(self) -> None:
        blank = set()
        for column in self.schedule.columns if hasattr(type(self), "schedule") else ():
            if self.__dict__[column.attribute] is None:
                blank.add(column.attribute)
                if column.blank is ASKED or callable(column.blank):
                    del self.__dict__[column.attribute]
                else:
                    self.__dict__[column.attribute] = column.blank
        self.__dict__["_blank"] = frozenset(blank)

    def _remembering(self, refused: Mapping[str, Refused], number: int) -> Self:
        self.__dict__["number"] = number
        if refused:
            self.__dict__["_refused"] = MappingProxyType(dict(refused))
            self.__dict__["_blank"] = self._blank - refused.keys()
        for attribute in refused:
            self.__dict__.pop(attribute, None)
        return self

    def __getattr__(self, attribute: str) -> Any:
        column = self.schedule.by_attribute.get(attribute)
        if column is None:
            raise AttributeError(f"{type(self).__name__} has no {attribute}")
        if held := stands_in(id(self), attribute):
            return held[0]
        if attribute in self._blank and callable(column.blank):
            means = column.blank(self)
            if means is not ASKED:
                return means
        if self._is_lenient:
            return None
        raise Lacking(self.cell(attribute))

    def cell(self, attribute: str) -> Cell:
        """Return the address of a cell, and what was refused there."""
        if attribute in self._over:
            row, name = self._over[attribute]
            return replace(row.cell(name), row=id(self))
        column = self.schedule.by_attribute[attribute]
        place = f"{column.label} ({self.schedule.title.lower()})"
        return Cell(
            where=f"{self.title}, {place}" if self.title else place,
            refusal=self._refused.get(attribute),
            schedule=self.schedule.slug,
            mark=self.key,
            head=column.head,
            column=column,
            row=id(self),
        )

    @property
    def title(self) -> str:
        """What a message calls the row: its mark, else the words it must have, else its place."""
        if self.schedule.is_single:
            return ""
        if self.key:
            return self.key
        words = (self.typed(c.attribute) for c in self.schedule.columns if c.required)
        return ", ".join(str(word) for word in words if word) or f"row {self.number}"

    @property
    def key(self) -> str:
        """By what it is told from others, as far as that is known: “W3”, “U1 night”."""
        marks = (self.typed(column.attribute) for column in self.schedule.keys)
        return " ".join(mark for mark in marks if mark)

    def typed(self, attribute: str) -> Any:
        """Return what was typed into a cell in SI, or None where it is blank or refused."""
        return None if attribute in self._blank else self.__dict__.get(attribute)

    def is_of_state(self, attribute: str) -> bool:
        """Whether a cell was said by a row of a state, not by the base row."""
        return attribute in self._over

    def is_in_inches(self, attribute: str) -> bool:
        """Whether a length was typed in inches or feet: a standard's own inches then hold."""
        if attribute in self._over:
            row, name = self._over[attribute]
            return row.is_in_inches(name)
        column = self.schedule.by_attribute[attribute]
        record, notation = self._as_typed
        text = record.get(column.head) or ""
        if not text or attribute in self._refused or column.scale is None:
            return False
        return quantities.read(text, column.scale, notation).unit in (IN, FT)

    def if_given(self, attribute: str) -> Any:
        """Return a value, what its blank means, or None: for prose, never for a verdict."""
        return self.__dict__.get(attribute)

    def unless_blank(self, attribute: str) -> Any:
        """Return a value, or None where the cell is blank. Raises Lacking where it is refused."""
        return None if attribute in self._blank else getattr(self, attribute)

    @property
    def refused(self) -> Mapping[str, Refused]:
        """What couldn't be read, by attribute."""
        return self._refused

    @property
    def leniently(self) -> Self:
        """The same row for drawings and prose: what isn't known is None."""
        same = object.__new__(type(self))
        same.__dict__.update(self.__dict__, _is_lenient=True)
        return same

    def but(self, **values: Any) -> Self:
        """Return the row with other values; None makes a cell blank."""
        kept = {c.attribute: self.typed(c.attribute) for c in self.schedule.columns}
        refused = {name: why for name, why in self._refused.items() if name not in values}
        other = type(self)(**{**kept, **values})._remembering(refused, self.number)
        other.__dict__["_over"] = self._over
        return other

    def overlaid(self, over: Row, cells: Mapping[str, str]) -> Self:
        """Return the row with what another one says, blank cells of which say nothing.

        cells   which of the other row's attributes stands for each of its own; a cell so taken
                keeps its address, so that whatever lacks it names the row it was typed in
        """
        said = {own: name for own, name in cells.items() if name not in over._blank}
        refused = {own: over.refused[name] for own, name in said.items() if name in over.refused}
        other = self.but(**{own: over.typed(name) for own, name in said.items()})
        other._remembering({**other.refused, **refused}, self.number)
        origins = {own: (over, name) for own, name in said.items()}
        other.__dict__.update(_as_typed=self._as_typed, _over={**self._over, **origins})
        return other

    def refusing(self, attribute: str, refusal: Refused) -> Self:
        """Return the row with one more cell that couldn't be read."""
        return self.but()._remembering({**self._refused, attribute: refusal}, self.number)

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and self._said() == other._said()

    def __hash__(self) -> int:
        return hash((type(self), self.key))

    def _said(self) -> dict[str, Any]:
        return {name: v for name, v in self.__dict__.items() if name not in _BESIDE}

    def __repr__(self) -> str:
        said = ", ".join(f"{name}={value!r}" for name, value in self._said().items())
        return f"{type(self).__name__}({said})"


def _nothing() -> None:
    return None


_BESIDE = ("number", "_is_lenient", "_blank", "_as_typed", "_over")
"""What a row remembers beside its cells."""


@dataclass_transform(
    kw_only_default=True,
    frozen_default=True,
    field_specifiers=(mark, text, word, yes_no, reference, count, quantity),
)
def schedule(
    slug: str, title: str, *, mark_prefix: str = "", purpose: str, is_single: bool = False
) -> Callable[[type[R]], type[R]]:
    """Make a class of declared columns into a frozen row, and hang its Schedule on it."""

    def made(cls: type[R]) -> type[R]:
        columns = tuple(
            replace(column, attribute=name)
            for name, column in vars(cls).items()
            if isinstance(column, Column)
        )
        for column in columns:
            # a factory, for a default would be found on the class where the row has nothing
            setattr(cls, column.attribute, field(default_factory=_nothing))
        row = dataclass(frozen=True, kw_only=True, eq=False, repr=False)(cls)
        row.schedule = Schedule(slug, title, row, mark_prefix, purpose, is_single, columns)
        return row

    return made

"""Tables of a studio's archive as CSV: a row as cells, cells as a row, and what describes them.

A row begins with its line, by which others name it. Keys to several rows and plain data stand as
JSON. A cell that is too long for a table lies as a file of its own, and a table says which.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, time
from decimal import Decimal
from typing import Any

from django.db import models

from criteria.errors import InputError
from reviews.deeds.studio_archive_form import (
    KEYS_IN_JSON,
    Field,
    Model,
    Record,
    label_of,
    other_of,
    told_fields,
)
from reviews.exchange.described import NO, YES, Head, Leads, Table, Type

LINE = "line"
LONG, LONG_HEADS = "longcell", ("of_table", "of_line", "of_field", "sha256")
"""The table of cells that lie as files."""
MOST_LETTERS = 100_000
"""Of a cell in a table: many readers of CSV stop at 131,072."""
MOST_DIGITS = 9

_TYPES: tuple[tuple[type[Field], Type], ...] = (
    (models.BooleanField, Type.YES_NO),
    (models.IntegerField, Type.WHOLE),
    (models.FloatField, Type.FIGURE),
    (models.DecimalField, Type.FIGURE),
    (models.DateTimeField, Type.MOMENT),
    (models.DateField, Type.DAY),
    (models.TimeField, Type.HOUR),
    (models.JSONField, Type.ANY),
)
"""A moment is a day, by its class: it stands first."""
_MAY_BE_BLANK = (Type.TEXT, Type.ANY)


def path_of(label: str) -> str:
    """Where a table lies."""
    return f"tables/{label}.csv"


def names_of(model: Model) -> list[str]:
    """The heads of a model's table."""
    return [LINE, *(field.name for field in told_fields(model))]


def cells_of(model: Model, line: int, record: Record) -> list[str]:
    """A row as it stands in its table."""
    return [str(line), *(_cell(field, record[field.name]) for field in told_fields(model))]


def record_of(model: Model, cells: Mapping[str, str], place: str) -> Record:
    """A row of its cells, by head. Raises InputError where a cell isn't JSON that should be."""
    by_name = {field.name: field for field in told_fields(model)}
    if unknown := sorted(cells.keys() - by_name.keys()):
        raise InputError(f"{place}: Read a field “{unknown[0][:40]}”, which isn’t known here.")
    return {name: _value(by_name[name], cell, place) for name, cell in cells.items()}


def _cell(field: Field, value: Any) -> str:
    if _is_json(field):
        return json.dumps(value, ensure_ascii=False, sort_keys=True)
    if isinstance(value, bool):
        return YES if value else NO
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, float):
        return f"{Decimal(repr(value)):f}"
    return "" if value is None else str(value)


def _value(field: Field, cell: str, place: str) -> Any:
    if _is_json(field):
        try:
            return json.loads(cell)
        except (ValueError, RecursionError):
            raise InputError(
                f"{place}, {field.name}: Read {cell[:40] or 'nothing'}. Expected JSON."
            ) from None
    if field.is_relation and cell.isdecimal() and len(cell) <= MOST_DIGITS:
        return int(cell)
    if isinstance(field, models.BooleanField):
        return {YES: True, NO: False}.get(cell, cell)
    return None if cell == "" and field.null else cell


def _is_json(field: Field) -> bool:
    return bool(field.many_to_many) or isinstance(field, models.JSONField)


@dataclass
class Long:
    """Cells that are too long for a table: where each stands, and their texts by SHA-256."""

    lines: list[list[str]] = field(default_factory=list)
    texts: dict[str, bytes] = field(default_factory=dict)

    def without(self, label: str, heads: list[str], cells: list[str]) -> list[str]:
        """The cells of a row, blank where they are too long, and are held here."""
        for n, cell in enumerate(cells):
            if len(cell) > MOST_LETTERS:
                raw = cell.encode()
                digest = hashlib.sha256(raw).hexdigest()
                self.texts[digest] = raw
                self.lines.append([label, cells[0], heads[n], digest])
                cells[n] = ""
        return cells


def described(records: Mapping[Model, Sequence[Record]]) -> list[Table]:
    """What each table holds, and which line of which table its keys name."""
    return [*(_table(model, rows) for model, rows in records.items()), _LONG]


def _table(model: Model, rows: Sequence[Record]) -> Table:
    label, fields = label_of(model), told_fields(model)
    return Table(
        name=label,
        path=path_of(label),
        title=str(model._meta.verbose_name_plural).capitalize(),
        heads=[_OWN_LINE, *(_head(model, field) for field in fields)],
        keys=[LINE],
        leads=[
            Leads(
                heads=[field.name],
                to=label_of(other_of(field)),
                by=[LINE],
                is_filled=all(row[field.name] for row in rows),
            )
            for field in fields
            if field.is_relation and not field.many_to_many
        ],
    )


_OWN_LINE = Head(
    name=LINE, label="Line", help="By which other rows name it.", type=Type.WHOLE, is_required=True
)
_LONG = Table(
    name=LONG,
    path=path_of(LONG),
    title="Cells that lie as files",
    words="Each is too long for its table, where it is blank: its text is the file of that name.",
    heads=[
        *(Head(name=name) for name in LONG_HEADS[:1]),
        Head(name=LONG_HEADS[1], type=Type.WHOLE, least=1),
        *(Head(name=name) for name in LONG_HEADS[2:]),
    ],
    keys=LONG_HEADS[:3],
)


def _head(model: Model, field: Field) -> Head:
    kind = _type(field)
    has_words = kind is Type.TEXT and not field.is_relation and field.choices
    return Head(
        name=field.name,
        label=str(field.verbose_name).capitalize(),
        help=_help(model, field),
        type=kind,
        is_required=not field.null and not field.many_to_many and kind not in _MAY_BE_BLANK,
        words=[str(word) for word, _ in field.flatchoices if word != ""] if has_words else (),
        longest=field.max_length if isinstance(field, models.CharField) and not has_words else None,
    )


def _type(field: Field) -> Type:
    if field.is_relation:
        return Type.ANY if field.many_to_many else Type.WHOLE
    return next((type_ for of, type_ in _TYPES if isinstance(field, of)), Type.TEXT)


def _help(model: Model, field: Field) -> str:
    other = KEYS_IN_JSON.get(f"{model.__name__}.{field.name}")
    if other is not None:
        return f"Its heads are lines of {label_of(other)}."
    if field.is_relation:
        return f"{'Lines' if field.many_to_many else 'A line'} of {label_of(other_of(field))}."
    if isinstance(field, models.FileField):
        return "SHA-256 of the file, by which it lies in files."
    return str(field.help_text)

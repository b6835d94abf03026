"""A check sheet as a record that stays: everything in it, to be read again as it was.

The record is JSON. A dataclass becomes an object with its kind and its fields, an enumeration
and a fraction their value, a tuple a list; what comes often, scales and citations, stands once
in `shared` and is pointed to. A scale is kept whole, not by its name: a library that rounds
otherwise later still writes the figure as it was. Fields are taken from the dataclasses
themselves, so that a new one is carried without a line here; a field that a record doesn't
hold takes its default, one that no dataclass has any more is passed over.
"""

import math
from collections.abc import Iterator
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any, get_args, get_type_hints

from criteria.check_sheet.sheet import CheckSheet
from criteria.errors import Refused
from criteria.sources import Citation
from criteria.units import Scale

Record = dict[str, Any]

KIND, VALUE, SHARED = "is", "value", "shared"
_STANDS_ONCE = (Scale, Citation)


def as_record(sheet: CheckSheet) -> Record:
    """Write a check sheet as JSON. Raises TypeError where it holds what no field declares."""
    shared: dict[Any, int] = {}
    placed: dict[int, int] = {}  # the same by identity: a scale is long to compare
    written: list[Any] = []

    def place(value: Any) -> int:
        if value not in shared:
            whole = _whole(value, write)
            shared[value] = len(written)
            written.append(whole)
        return shared[value]

    def write(value: Any) -> Any:
        if not isinstance(value, _STANDS_ONCE):
            return _whole(value, write)
        if id(value) not in placed:
            placed[id(value)] = place(value)
        return {SHARED: placed[id(value)]}

    return {"sheet": write(sheet), SHARED: written}


def _whole(value: Any, write: Any) -> Any:
    kind = type(value).__name__
    if isinstance(value, Enum):
        return {KIND: _known(kind, value), VALUE: value.value}
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else {KIND: "float", VALUE: str(value)}
    if isinstance(value, Fraction):
        return {KIND: "Fraction", VALUE: str(value)}
    if isinstance(value, tuple):
        return [write(each) for each in value]
    held = {
        name: write(field)
        for name, default in _fields(value.__class__)
        if (field := getattr(value, name)) is not default
        and (default is MISSING or field != default)
    }
    return {KIND: _known(kind, value), **held}


def read_record(record: Record) -> CheckSheet:
    """Read a check sheet as it was written. Raises Refused where the record can't be read."""
    shared: list[Any] = []

    def read(value: Any) -> Any:
        if isinstance(value, list):
            return tuple(read(each) for each in value)
        if not isinstance(value, dict):
            return value
        if SHARED in value:
            return shared[value[SHARED]]
        kind = _kinds().get(value[KIND])
        if kind is None:
            raise Refused(str(value[KIND]), "a kind that a check sheet is made of")
        if VALUE in value and not is_dataclass(kind):
            return kind(value[VALUE])
        return kind(**{name: read(value[name]) for name, _ in _fields(kind) if name in value})

    try:
        for each in record[SHARED]:
            shared.append(read(each))
        sheet = read(record["sheet"])
    except (KeyError, TypeError, ValueError, IndexError) as wrong:
        raise Refused(repr(wrong), "a check sheet as it was kept") from wrong
    if not isinstance(sheet, CheckSheet):
        raise Refused(type(sheet).__name__, "a check sheet as it was kept")
    return sheet


def _known(kind: str, value: Any) -> str:
    if _kinds().get(kind) is not type(value):
        raise TypeError(f"{type(value).__qualname__} isn't what any field of a check sheet holds")
    return kind


@cache
def _fields(kind: type) -> tuple[tuple[str, Any], ...]:
    """Each field of a dataclass with its default, or MISSING."""
    return tuple((field.name, field.default) for field in fields(kind))


@cache
def _kinds() -> dict[str, type]:
    """Every class that a field of a check sheet may hold, by name."""
    found: dict[str, type] = {"float": float, "Fraction": Fraction}
    waiting: list[Any] = [CheckSheet]
    while waiting:
        kind = waiting.pop()
        if is_dataclass(kind) and isinstance(kind, type) and kind.__name__ not in found:
            found[kind.__name__] = kind
            for hint in get_type_hints(kind).values():
                waiting += _parts(hint)
        elif isinstance(kind, type) and issubclass(kind, Enum):
            found[kind.__name__] = kind
    return found


def _parts(hint: Any) -> Iterator[Any]:
    yield hint
    for part in get_args(hint):
        yield from _parts(part)

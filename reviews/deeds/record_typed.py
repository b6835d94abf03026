"""What was typed, between the unit of the head it was typed under and the text that is kept.

Text is kept so that it means the same to every reader: a bare number is in the column's metric
unit, and one typed under a US head is kept with that head's unit. Whoever reads in US units is
shown the unit of what is bare; what comes back as it was shown stays as it is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal

from criteria.errors import Refused
from criteria.typed import quantities
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.units import Notation, System

Cells = dict[str, str]


def shown_text(column: Column, kept: str, system: System) -> str:
    """Return kept text as it stands under a system's head: a bare number gets its unit there.

    >>> from criteria.schedules.openings import Window
    >>> glass = Window.schedule.column("glass_w")
    >>> shown_text(glass, "1240", System.METRIC), shown_text(glass, "1240", System.US)
    ('1240', '1240 mm')
    """
    if column.scale is None or system is System.METRIC:
        return kept
    return quantities.with_unit(kept, column.scale)


def kept_text(column: Column, sent: str, kept: str, system: System) -> str:
    """Return the text to keep of what was sent; what was only shown stays as it is kept.

    >>> from criteria.schedules.openings import Window
    >>> glass = Window.schedule.column("glass_w")
    >>> kept_text(glass, "1240 mm", "1240", System.US), kept_text(glass, "36", "1240", System.US)
    ('1240', '36 in')
    """
    if is_as_shown(sent, shown_text(column, kept, system)):
        return kept
    if column.scale is None or system is System.METRIC:
        return sent
    return quantities.with_unit(sent, column.scale, system)


def is_as_shown(sent: str, shown: str) -> bool:
    """Tell whether a field came back as it was shown.

    A browser takes line breaks out of a line, and writes its own into a longer text.

    >>> is_as_shown("two lines", "two\\nlines"), is_as_shown("a\\r\\nb", "a\\nb")
    (False, True)
    >>> is_as_shown("twolines", "two\\nlines "), is_as_shown("two  lines", "two lines")
    (True, False)
    """
    return _unbroken(sent) == _unbroken(shown)


def _unbroken(text: str) -> str:
    return text.replace("\r", "").replace("\n", "").strip()


def kept_cells(
    schedule: Schedule, sent: Mapping[str, str], kept: Mapping[str, str], system: System
) -> Cells:
    """Return the text to keep of the cells that were sent."""
    return {
        column.head: kept_text(column, sent[column.head], kept.get(column.head, ""), system)
        for column in schedule.columns
        if column.head in sent
    }


def shown_cells(schedule: Schedule, kept: Mapping[str, str], system: System) -> Cells:
    """Return a kept record as it stands under a system's heads."""
    return {c.head: shown_text(c, kept.get(c.head, ""), system) for c in schedule.columns}


def taken_text(column: Column, kept: str, notation: Notation) -> str:
    """Return kept text as it is taken out under a head that names its unit.

    A figure in the head's unit stands bare, so that a spreadsheet knows it; what has a unit of
    its own keeps it.

    >>> from criteria.schedules.openings import Window
    >>> glass, us = Window.schedule.column("glass_w"), Notation(System.US)
    >>> [taken_text(glass, text, us) for text in ("1219.2", "36 in", "0.9 m", "2'-6\\"", "wide")]
    ['48', '36', '0.9 m', '2\\'-6"', 'wide']
    """
    if column.scale is None or notation.system is System.METRIC:
        return kept
    unit = column.unit(notation.system)
    number = kept.removesuffix(f" {unit}")
    if unit != column.unit() and number != kept and quantities.is_bare(number):
        return number
    shown = shown_text(column, kept, notation.system)
    if shown == kept:
        return kept
    try:
        read = quantities.read(kept, column.scale, notation.kept)
    except Refused:
        return shown
    return quantities.plain(f"{Decimal(f'{float(column.scale.us.from_si(read.si)):.10g}'):f}")


def taken_cells(schedule: Schedule, kept: Mapping[str, str], notation: Notation) -> Cells:
    """Return a kept record as it is taken out in a system's units."""
    return {c.head: taken_text(c, kept.get(c.head, ""), notation) for c in schedule.columns}


def brought_back(
    schedule: Schedule,
    records: Iterable[Mapping[str, str]],
    there: Iterable[Mapping[str, str]],
    notation: Notation,
    name: Callable[[Mapping[str, str]], str] | None = None,
) -> tuple[Cells, ...]:
    """Return records that are brought in, where a cell is as it was taken out as it is kept.

    there   the rows that are kept, among which a record finds its own by its name
    name    what tells a row from others, where it isn't its mark
    """
    name, us = name or schedule.name_of, notation.read_in(System.US)
    by_name = {name(kept): kept for kept in there}

    def as_kept(record: Mapping[str, str]) -> Cells:
        kept = by_name.get(name(record), {})
        came = kept_cells(schedule, taken_cells(schedule, kept, us), {}, System.US)
        return {
            head: kept.get(head, "") if text == came[head] else text
            for head, text in record.items()
        }

    return tuple(as_kept(record) for record in records)


def example_text(column: Column, notation: Notation) -> str:
    """Return what a first row might hold, as a reader would type it.

    >>> from criteria.schedules.openings import Window
    >>> print(example_text(Window.schedule.column("sill"), Notation(System.US)))
    2'-3 9/16"
    """
    if column.scale is None or notation.system is System.METRIC:
        return column.example
    try:
        return column.show(column.read(column.example, notation.kept), notation.system)
    except Refused:
        return column.example


def figure_text(column: Column, kept: str, notation: Notation) -> str:
    """Return a kept cell as a figure with its unit: as typed, or drawn for readers of US units.

    >>> from criteria.schedules.openings import Window
    >>> glass = Window.schedule.column("glass_w")
    >>> print(figure_text(glass, "1240", Notation(System.US)), figure_text(glass, "9", Notation()))
    4'-0 13/16" 9 mm
    """
    if column.scale is None or not kept.strip():
        return kept
    if notation.system is System.US and column.kind is Kind.QUANTITY:
        try:
            return column.scale.write(column.read(kept, notation.kept), notation.system)
        except Refused:
            return kept
    return f"{kept} {column.unit()}".strip() if quantities.is_bare(kept) else kept


def in_head_unit(column: Column, shown: str, notation: Notation) -> str:
    """Return a figure in the head's unit, where it was typed in another; else nothing.

    >>> from criteria.schedules.openings import Window
    >>> in_head_unit(Window.schedule.column("glass_w"), "2'", Notation())
    '610 mm'
    """
    if column.scale is None or column.kind is not Kind.QUANTITY or not shown.strip():
        return ""
    try:
        read = quantities.read(shown, column.scale, notation)
    except Refused:
        return ""
    if read.unit.symbol == column.scale.unit(notation.system).symbol:
        return ""
    return column.scale.write(read.si, notation.system)

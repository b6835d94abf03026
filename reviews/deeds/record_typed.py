"""What was typed, between the unit of the head it was typed under and the text that is kept.

Text is kept so that it means the same to every reader: a bare number is in the column's metric
unit, and one typed under a US head is kept with that head's unit.
"""

from __future__ import annotations

from collections.abc import Mapping

from criteria.errors import Refused
from criteria.typed import quantities
from criteria.typed.columns import Column, Kind, Schedule
from criteria.units import Notation, System

Cells = dict[str, str]


def shown_text(column: Column, kept: str, system: System) -> str:
    """Return kept text as it stands under a system's head: a bare number gets its unit there.

    >>> from criteria.schedules.openings import Window
    >>> glass = Window.schedule.column("glass_w")
    >>> shown_text(glass, "1240", System.METRIC), shown_text(glass, "1240", System.US)
    ('1240', '1240 mm')
    """
    scale = column.scale
    if scale is None or column.kind is not Kind.QUANTITY:
        return kept
    is_same = scale.unit(system) == scale.metric
    if is_same or not quantities.is_bare(kept):
        return kept
    return f"{kept.strip()} {scale.metric.symbol}".strip()


def kept_text(column: Column, sent: str, kept: str, system: System) -> str:
    """Return the text to keep of what was sent; what was only shown stays as it is kept.

    >>> from criteria.schedules.openings import Window
    >>> glass = Window.schedule.column("glass_w")
    >>> kept_text(glass, "1240 mm", "1240", System.US), kept_text(glass, "36", "1240", System.US)
    ('1240', '36 in')
    """
    if sent == shown_text(column, kept, system):
        return kept
    if column.scale is None or column.kind is not Kind.QUANTITY:
        return sent
    return quantities.with_unit(sent, column.scale, system)


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


def in_head_unit(column: Column, shown: str, system: System) -> str:
    """Return a figure in the head's unit, where it was typed in another; else nothing.

    >>> from criteria.schedules.openings import Window
    >>> in_head_unit(Window.schedule.column("glass_w"), "4'", System.METRIC)
    '1,219 mm'
    """
    if column.scale is None or column.kind is not Kind.QUANTITY or not shown.strip():
        return ""
    try:
        read = quantities.read(shown, column.scale, Notation(system))
    except Refused:
        return ""
    if read.unit.symbol == column.scale.unit(system).symbol:
        return ""
    return column.scale.write(read.si, system)

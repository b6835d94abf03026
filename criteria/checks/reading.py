"""What checks have in common: read a figure as scheduled, one for each row, or all of them."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from criteria.checks.check import blank
from criteria.findings import NOT_ALL, Amount, Measured, Step
from criteria.typed.columns import Schedule
from criteria.units import Scale

Figure = Callable[[Any], tuple[float, tuple[Step, ...]]]
"""A row's value in SI and its working."""


def scheduled(
    schedule: Schedule, row: Any, head: str, scale: Scale, notes: Sequence[Step] = ()
) -> Measured:
    """Measure a figure that stands in a row as it is."""
    if missing := blank(schedule, row, head):
        return Measured(missing=missing)
    column = schedule.column(head)
    value = getattr(row, column.attribute)
    step = Step("{} as scheduled: {}", (column.label, Amount(value, scale)))
    return Measured(values=(value,), steps=(step,), notes=tuple(notes))


def each(
    schedule: Schedule, rows: Iterable[Any], heads: Sequence[str], figure: Figure
) -> list[Measured]:
    """Measure each row; one with a blank among the heads says which."""
    found = []
    for row in rows:
        about = named(row)
        if missing := blank(schedule, row, *heads):
            found.append(Measured(missing=missing, **about))
            continue
        value, steps = figure(row)
        found.append(Measured(values=(value,), steps=steps, **about))
    return found


def named(row: Any) -> dict[str, str]:
    """Return subject, name and use of a row."""
    names = ("name", "place", "item", "piece", "what", "finish", "use")
    name = next((text for n in names if isinstance(text := getattr(row, n, None), str)), "")
    use = getattr(row, "use", "") if hasattr(row, "sleepers") else ""
    return {"subject": row.mark, "name": name, "use": use or ""}


def rows_missing(schedule: Schedule) -> list[Measured]:
    """Say that a schedule has no rows."""
    title = schedule.title.lower()
    return [Measured(missing=(f"rows of the {title}",))]


def all_but(
    outside: Sequence[str],
    missing: Sequence[str] = (),
    steps: Sequence[Step] = (),
    notes: Sequence[Step] = (),
) -> Measured:
    """Measure how many don't hold, named; none is all."""
    shown = f"{NOT_ALL}{', '.join(outside)}" if outside else "all"
    return Measured(
        values=(len(outside),),
        steps=tuple(steps),
        missing=tuple(missing),
        notes=tuple(notes),
        shown=shown,
    )

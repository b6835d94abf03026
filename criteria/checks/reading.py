"""How checks read rows: what lacks a cell is No data, says which, and how far it could reach.

A check asks rows for what it needs and computes. Where a cell is blank or was refused, the row
raises Lacking; here that becomes a Measured without a value. To name every cell at once, and
not only the first, the figure is asked again with values standing in for what lacks; what comes
of that is thrown away. Asked with the ends of what the cells may hold, it tells how far the
figure could reach, so that a miss which nothing could mend stays a miss.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial
from itertools import product
from typing import Any, TypeVar

from criteria.errors import InputError
from criteria.findings import NOT_ALL, Amount, Measured, Step
from criteria.typed.cells import Cell, Lacking, Standing, standing_in
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Row
from criteria.units import Scale

R = TypeVar("R", bound=Row)
T = TypeVar("T")

MOST_NAMED = 40
"""A subject names at most this many cells that it lacks."""
MOST_REACHES = 64
"""At most this many ways to fill the cells are tried, to learn how far a figure reaches."""


def measured(figure: Callable[[], Sequence[Measured]]) -> list[Measured]:
    """Return what a figure gives, or which cells it lacks and how to learn how far it reaches."""
    try:
        return list(figure())
    except InputError as impossible:
        return [Measured(missing=(f"a figure that can be: {impossible}",))]
    except Lacking as first:
        cells = _all_lacking(figure, first.cells)
        names = tuple(dict.fromkeys(map(str, cells)))
        return [Measured(missing=names, reach=partial(_reach, figure, cells))]


def of_each(rows: Iterable[R], figure: Callable[[R], Measured]) -> list[Measured]:
    """Measure each row; one that lacks a cell says which, and the others stand."""
    found = []
    for row in rows:
        one = measured(lambda row=row: [figure(row)])[0]  # type: ignore[misc]
        said = {k: v for k, v in about(row).items() if not getattr(one, k)}
        found.append(replace(one, **said))
    return found


def about(row: Row) -> dict[str, Any]:
    """Return subject, name and use of a row."""
    held = {column.attribute for column in row.schedule.columns}
    names = ("name", "place", "item", "piece", "step", "what", "finish", "use")
    name = next((str(text) for n in names if n in held and (text := row.if_given(n))), "")
    use = row.if_given("use") if "sleepers" in held else ""
    return {"subject": row.title, "name": name, "use": use or ""}


def scheduled(row: Row, head: str, scale: Scale, notes: Sequence[Step] = ()) -> Measured:
    """Measure a figure that stands in a row as it is."""
    column = row.schedule.column(head)
    value = getattr(row, column.attribute)
    step = Step("{} as scheduled: {}", (column.label, Amount(value, scale)))
    return Measured(values=(value,), steps=(step,), notes=tuple(notes))


def each_scheduled(rows: Iterable[Row], head: str, scale: Scale) -> list[Measured]:
    """Measure of each row a figure that stands in it as it is."""
    return of_each(rows, lambda row: scheduled(row, head, scale))


def all_but(
    outside: Sequence[str], steps: Sequence[Step] = (), notes: Sequence[Step] = ()
) -> Measured:
    """Measure how many don't hold, named; none is all."""
    shown = f"{NOT_ALL}{', '.join(outside)}" if outside else "all"
    return Measured(values=(len(outside),), steps=tuple(steps), notes=tuple(notes), shown=shown)


def all_that_hold(
    rows: Iterable[R], holds: Callable[[R], bool], steps: Sequence[Step] = ()
) -> Measured:
    """Measure which rows don't hold; one that lacks a cell may not, but mends no other."""
    return all_without(rows, lambda row: None if holds(row) else "", steps)


def all_without(
    rows: Iterable[R],
    fault: Callable[[R], str | None],
    steps: Sequence[Step] = (),
    notes: Sequence[Step] = (),
) -> Measured:
    """Measure which rows have a fault, in a word or two beside the row's name; None is none."""
    outside, lacking = [], []
    for row in rows:
        try:
            if (why := fault(row)) is not None:
                outside.append(f"{row.title} ({why})" if why else row.title)
        except Lacking as cells:
            lacking.append(cells)
    if lacking and not outside:
        raise Lacking(*(cell for cells in lacking for cell in cells.cells))
    missing = tuple(str(cell) for cells in lacking for cell in cells.cells)
    return replace(all_but(outside, steps, notes), missing=missing)


def gathered(rows: Iterable[T], figure: Callable[[T], Any]) -> list[Any]:
    """Return a figure of each row. Raises Lacking with the cells of all rows that lack one."""
    found: list[Any] = []
    cells: list[Cell] = []
    for row in rows:
        try:
            found.append(figure(row))
        except Lacking as lacking:
            cells += lacking.cells
    if cells:
        raise Lacking(*cells)
    return found


def _all_lacking(figure: Callable[[], Any], first: Sequence[Cell]) -> list[Cell]:
    """Ask again with values standing in, until no cell lacks that none of them stands in for."""
    cells, latest = list(first), list(first)
    standing: dict[tuple[int, str], Any] = {}
    while len(cells) < MOST_NAMED:
        standing |= {_address(cell): _any_value(cell) for cell in latest}
        try:
            with standing_in(standing):
                figure()
            break
        except Lacking as more:
            latest = [cell for cell in more.cells if _address(cell) not in standing]
            if not latest:
                break
            cells += latest
        except Exception:  # what stands in may be absurd beside what was typed
            break
    return cells


def _address(cell: Cell) -> tuple[int, str]:
    """Return where a value could stand in for a cell, or the address of none."""
    if cell.column is not None:
        is_open = cell.column.kind in (Kind.TEXT, Kind.MARK, Kind.REFERENCE)
        return (0, "") if is_open else (cell.row, cell.column.attribute)
    return (cell.row, cell.schedule) if cell.row else (0, "")


def _any_value(cell: Cell) -> Any:
    """Return a value that a cell might hold: its column's example, else the middle."""
    if cell.column is None:
        return True
    if cell.column.example:
        return cell.column.read(cell.column.example)
    ends = _ends(cell.column)
    return sum(ends) / 2 if cell.column.kind is Kind.QUANTITY and ends else (*ends, 1)[0]


def _ends(column: Column) -> tuple[Any, ...]:
    """Return the ends of what a column may hold; nothing where it is open."""
    if column.kind is Kind.YES_NO:
        return (True, False)
    if column.kind is Kind.WORD:
        return column.choices
    if column.least is None or column.most is None:
        return ()
    turn = int if column.kind is Kind.COUNT else float
    return (turn(column.least), turn(column.most))


def _reach(figure: Callable[[], Sequence[Measured]], cells: Sequence[Cell]) -> tuple[Measured, ...]:
    """Measure with the cells at their ends; nothing where one is open or an end can't be."""
    unique = {(cell.row, cell.column.attribute): cell.column for cell in cells if cell.column}
    ends = [_ends(column) for column in unique.values()]
    ways = 1
    for each in ends:
        ways *= len(each)
    if len(unique) != len({id(cell) for cell in cells}) or not 0 < ways <= MOST_REACHES:
        return ()
    found = []
    for values in product(*ends):
        standing: Standing = dict(zip(unique, values, strict=True))
        try:
            with standing_in(standing):
                reached = list(figure())
        except Exception:  # an end may be absurd beside what was typed: then nothing is bounded
            return ()
        if len(reached) != 1 or not reached[0].values:
            return ()
        found += reached
    return tuple(found)

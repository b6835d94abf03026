"""Write what the hourly year took for blank cells into them: then it is the students' own."""

from __future__ import annotations

from collections.abc import Sequence

from criteria.hourly.assumed import Assumed
from criteria.schedules import BY_SLUG, SCHEDULES
from reviews.deeds.package_keeping import add_row, save_row
from reviews.models import Package, Person, Row
from reviews.models.packages import TypedRow


def row_of(rows: Sequence[TypedRow], assumed: Assumed) -> TypedRow | None:
    """Return the row in whose cells something was assumed; None where there is none yet."""
    schedule = BY_SLUG[assumed.schedule]
    there = [row for row in rows if row.schedule == assumed.schedule]
    if schedule.is_single:
        return there[0] if there else None
    if assumed.mark:
        named = (row for row in there if schedule.name_of(row.cells) == assumed.mark)
        return next(named, None)
    return there[assumed.row - 1] if 0 < assumed.row <= len(there) else None


def can_write(rows: Sequence[TypedRow], assumed: Assumed) -> bool:
    """Tell whether students may write it: a brief's own schedules are its leader's."""
    schedule = BY_SLUG[assumed.schedule]
    if schedule not in SCHEDULES:
        return False
    return schedule.is_single or row_of(rows, assumed) is not None


def write(package: Package, assumed: Assumed, by: Person) -> Row | None:
    """Write an assumption into its cells; one that isn't theirs to write stays.

    Raises Newer where the row was changed meanwhile.
    """
    rows = package.typed().holds
    if not can_write(rows, assumed):
        return None
    typed = {cell.head: cell.value for cell in assumed.cells}
    row = row_of(rows, assumed)
    if row is None:
        return add_row(package, assumed.schedule, typed, by)
    return save_row(package, row.pk, typed, row.version, by)

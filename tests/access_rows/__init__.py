"""Who may reach which address: a row each, a module a part of the site."""

from tests.access_rows import (
    before,
    desks,
    evening,
    first,
    jury_day,
    offline,
    planning,
    room,
    spoken,
)
from tests.access_rows.base import Row

_PARTS = (before, desks, evening, first, jury_day, offline, planning, room, spoken)

ROWS: dict[str, Row] = {name: row for part in _PARTS for name, row in part.ROWS.items()}

assert len(ROWS) == sum(len(part.ROWS) for part in _PARTS), "one address stands in two parts"

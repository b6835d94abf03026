"""A long schedule in pages: which of its rows are shown, and which one the reader came for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from django.core.paginator import Page, Paginator

from criteria.typed.rows import Schedule
from reviews.models.packages import TypedRow

ROWS_A_PAGE = 100


class Place(NamedTuple):
    """Where a schedule is open: at a row, at the first row of a mark, at a page, or at its end.

    begun   what a row about to be added is told apart by, which opens it at its end
    """

    row: int = 0
    mark: str = ""
    page: str | int = ""
    begun: tuple[str, ...] = ()


FIRST, LAST = Place(page=1), Place(page=2**31)


class Shown(NamedTuple):
    """Rows of one page, how many stand before them, and the key of the row that was asked for."""

    rows: Page[TypedRow]
    before: int
    at: int


def shown_at(place: Place, rows: Sequence[TypedRow], schedule: Schedule) -> Shown:
    """The rows of the page that a place is on; the nearest where there is none of it."""
    pages, number, found = Paginator(rows, ROWS_A_PAGE), place.page, 0
    if place.begun:
        return Shown(page := pages.get_page(pages.num_pages), ROWS_A_PAGE * (page.number - 1), 0)
    for at, row in enumerate(rows):
        is_at_mark = place.mark and schedule.name_of(row.cells) == place.mark
        if row.pk == place.row or is_at_mark:
            number, found = at // ROWS_A_PAGE + 1, row.pk
            break
    page = pages.get_page(number)
    return Shown(page, ROWS_A_PAGE * (page.number - 1), found)

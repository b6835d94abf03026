"""Rows typed into the pages of a package, as its students type them."""

from collections.abc import Iterable, Mapping

from django.urls import reverse
from playwright.sync_api import Locator, Page, expect


def fill(page: Page | Locator, name: str, text: str) -> None:
    """Fill a cell or choose its word."""
    place = page.locator(f"[name='{name}']")
    if place.evaluate("it => it.tagName") == "SELECT":
        place.select_option(text)
    else:
        place.fill(text)


def table(heads: str, *lines: str) -> list[dict[str, str]]:
    """Rows from lines of cells parted by bars; what is blank isn't typed."""
    names = heads.split()
    parted = ([cell.strip() for cell in line.split("|")] for line in lines)
    return [
        {name: cell for name, cell in zip(names, cells, strict=True) if cell} for cells in parted
    ]


def add_row(page: Page, live_server, scheme, slug: str, **cells: str) -> None:
    """Open a schedule and add a row."""
    page.goto(live_server.url + reverse("show-schedule", args=[scheme.pk, slug]))
    _add(page, cells)


def add_rows(page: Page, live_server, scheme, slug: str, rows: Iterable[Mapping[str, str]]) -> None:
    """Open a schedule and add rows, one after another; each is kept before the next."""
    page.goto(live_server.url + reverse("show-schedule", args=[scheme.pk, slug]))
    for count, cells in enumerate(rows, 1):
        _add(page, cells)
        expect(page.locator("tbody[id^=row-]:not(#row-new)")).to_have_count(count)


def _add(page: Page, cells: Mapping[str, str]) -> None:
    """Type a row; a column that the brief doesn't ask for is asked for first."""
    new = page.locator("#row-new")
    expect(new).to_be_visible()
    if any(new.locator(f"[name='cell-{head}']").count() == 0 for head in cells):
        page.locator(".column-tiers button").click()
    for head, text in cells.items():
        fill(page.locator("#row-new"), f"cell-{head}", text)
    page.get_by_role("button", name="Add the row").click()

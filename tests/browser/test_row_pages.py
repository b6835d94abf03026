"""A long schedule in a real browser: typed over the ends of its pages, with nothing lost."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from reviews.models import Row
from reviews.pages import row_pages
from tests.browser.conftest import broken_rules, sign_in

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def doors(page, cast, live_server):
    """Two hundred and fifty doors, open at the first page."""
    rows = Row.objects.bulk_create(
        Row(
            package=cast.scheme.package,
            schedule="doors",
            position=n,
            cells={"mark": f"D{n}", "clear_w": "900"},
            changed_by=cast.student,
        )
        for n in range(1, 251)
    )
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "doors"]))
    return rows


def cell(page, row, head="clear_w"):
    return page.locator(f"#row-{row.pk} [name=cell-{head}]")


def kept(row):
    row.refresh_from_db()
    return row.cells["clear_w"]


def test_enter_goes_down_a_column_over_the_end_of_a_page_and_back(page, doors):
    cell(page, doors[99]).fill("870")
    cell(page, doors[99]).press("Enter")
    expect(cell(page, doors[100])).to_be_focused()
    expect(page.locator("nav.pager").first).to_contain_text("Rows 101–200 of 250")
    cell(page, doors[100]).press("Shift+Enter")
    expect(cell(page, doors[99])).to_be_focused()
    expect(cell(page, doors[99])).to_have_value("870")
    assert kept(doors[99]) == "870"


def test_a_row_kept_on_the_way_to_another_page_is_not_shown_there(page, doors):
    cell(page, doors[3]).fill("880")
    page.get_by_role("link", name="Add a row").first.click()
    expect(page.locator("#row-new")).to_be_visible()
    expect(page.locator("nav.pager").first).to_contain_text("Rows 201–250 of 250")
    expect(page.locator("#tally")).to_contain_text("900 → 880")
    expect(page.locator(f"#row-{doors[3].pk}")).to_have_count(0)
    assert kept(doors[3]) == "880"


def test_the_keyboard_goes_from_the_last_row_to_the_next_page(page, doors):
    last = page.locator(f"#row-{doors[99].pk}").locator("input, select, button:visible").last
    last.focus()
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Rows after").last).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("nav.pager").first).to_contain_text("Rows 101–200 of 250")


@pytest.mark.parametrize("width", [1440, 390])
def test_a_page_of_many_is_accessible(page, doors, width, monkeypatch):
    monkeypatch.setattr(row_pages, "ROWS_A_PAGE", 5)
    page.set_viewport_size({"width": width, "height": 900})
    page.reload()
    expect(page.locator("nav.pager").first).to_contain_text("Rows 1–5 of 250")
    assert broken_rules(page) == []

"""The draw in front of the class: schemes appear one by one, or all at once."""

import pytest
from playwright.sync_api import expect

from tests import factories
from tests.browser.conftest import broken_rules, sign_in

pytestmark = pytest.mark.django_db(transaction=True)


def test_schemes_appear_one_by_one_by_keyboard_and_all_at_once(page, cast, live_server):
    for n in range(3, 9):
        factories.SchemeFactory(studio=cast.studio, number=f"R{n:02d}")
    asked = "?rooms=A+B&first=09:15&opening=2&break_every=3&break_min=15&move_min=11&lot=7"
    sign_in(page, cast, cast.leader, live_server.url)
    page.goto(f"{live_server.url}/crits/{cast.crit.pk}/draw/{asked}")
    turns = page.locator("[data-place]")
    expect(turns).to_have_count(8)
    expect(turns.first).to_be_visible()
    assert broken_rules(page) == []
    slowly = page.get_by_role("button", name="One by one")
    slowly.focus()
    page.keyboard.press("Enter")
    expect(page.locator("[data-drawn-now]")).to_contain_text("1. ")
    expect(turns.first).to_be_visible()
    expect(turns.last).to_be_hidden()
    page.get_by_role("button", name="All at once").click()
    expect(turns.last).to_be_visible()
    expect(slowly).to_be_visible()
    page.get_by_role("button", name="Save this order").click()
    expect(page.get_by_role("heading", name="Running order")).to_be_visible()
    expect(page.locator("main")).to_contain_text("Drawn by lot 7.")

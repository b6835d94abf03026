"""A building that changes, from its brief to its check sheet, in a real browser."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from reviews.models import Brief, Row
from tests.browser.conftest import broken_rules, sign_in
from tests.browser.rows import add_row, fill
from tests.factories import TargetLineFactory

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def brief(cast):
    """A brief in preparation that asks for floor for each sleeper."""
    brief = cast.studio.brief
    Brief.objects.filter(pk=brief.pk).update(issued_at=None)
    asked = {"id": "T70", "check": "floor_per_sleeper", "rule": "at least", "value": "4"}
    beds = {"id": "T71", "check": "sleeping_places", "rule": "at least", "value": "0"}
    for cells in (asked, beds):
        TargetLineFactory(brief=brief, cells=cells)
    return brief


def write_the_brief(page, cast, live_server):
    sign_in(page, cast, cast.leader, live_server.url)
    page.goto(live_server.url + reverse("edit-states", args=[cast.studio.pk]))
    assert broken_rules(page) == []
    for name, text in {
        "states-1-state": "packed", "states-1-kind": "road",
        "states-2-state": "storm", "states-2-kind": "night",
        "cases-1-case": "everyday", "cases-1-people": "2", "cases-1-days": "285",
        "cases-2-case": "weekend", "cases-2-people": "4", "cases-2-days": "80",
    }.items():  # fmt: skip
        fill(page, name, text)
    page.get_by_role("button", name="Save states and people").click()
    expect(page.locator("[role=status], .message").first).to_contain_text("kept")
    page.goto(live_server.url + reverse("issue-brief", args=[cast.studio.pk]))
    expect(page.get_by_role("region", name="People cases", exact=True)).to_contain_text("weekend")
    page.get_by_role("button", name="Issue the brief").click()


def test_a_room_that_becomes_a_bedroom_is_judged_by_night_for_the_most_who_sleep(
    page, cast, live_server, brief
):
    write_the_brief(page, cast, live_server)
    page.context.clear_cookies()
    sign_in(page, cast, cast.student, live_server.url)
    room = {"mark": "R1", "room": "Day room", "floor_m2": "12", "use": "day", "sleepers": "0",
            "clear_height_m": "2.4"}  # fmt: skip
    add_row(page, live_server, cast.scheme, "rooms", **room)
    expect(page.locator("#tally")).to_contain_text("added")
    page.get_by_role("link", name="Rooms by state", exact=True).click()
    assert broken_rules(page) == []
    add_row(
        page, live_server, cast.scheme, "rooms_by_state", room="R1", state="storm", sleepers="4"
    )
    expect(page.locator("#tally")).to_contain_text("R1 storm added")
    row = Row.objects.get(schedule="rooms_by_state")
    grey = page.locator(f"#row-{row.pk} [name='cell-clear_height_m']")
    expect(grey).to_have_attribute("placeholder", "2.4")
    page.goto(live_server.url + reverse("show-check", args=[cast.scheme.pk, "T70"]))
    expect(page.locator("main")).to_contain_text("3.00 m²")
    expect(page.locator("main")).to_contain_text("state storm")
    page.goto(live_server.url + reverse("show-checks", args=[cast.scheme.pk]))
    page.locator(".folds summary").first.click()
    serving = page.get_by_role("region", name="Figures by people case")
    expect(serving).to_contain_text("4 people, 80 days")
    assert broken_rules(page) == []

"""The whole way through a school in a browser: three origins, and the strict policy holds."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import broken_rules
from tests.conftest import Cast
from tests.school_server import school_server


@pytest.fixture
def school(cast: Cast, settings, monkeypatch):
    monkeypatch.setenv("NO_PROXY", "127.0.0.1,localhost")
    with school_server() as server:
        server.asks = True
        settings.SCHOOL = server.school
        yield server


def test_a_member_signs_in_through_the_school(page: Page, cast, live_server, school):
    page.goto(f"{live_server.url}/sign-in/?next=/you/")
    assert broken_rules(page) == []
    page.get_by_role("button", name="Sign in through Fell School").click()
    expect(page.get_by_role("link", name="It is me")).to_be_visible()
    assert page.url.startswith("http://localhost:")
    page.get_by_role("link", name="It is me").click()
    expect(page).to_have_url(f"{live_server.url}/you/")
    expect(page.locator("body")).to_contain_text("stef@example.org")
    page.get_by_role("button", name="Sign out").click()
    expect(page).to_have_url(f"{live_server.url}/sign-in/")


def test_somebody_unknown_is_told_in_words(page: Page, cast, live_server, school):
    school.person["email"] = "nobody@example.org"
    page.goto(f"{live_server.url}/sign-in/")
    page.get_by_role("button", name="Sign in through Fell School").click()
    page.get_by_role("link", name="It is me").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(
        "Nobody with this address is in a studio"
    )
    assert broken_rules(page) == []

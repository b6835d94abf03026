"""What a refused sign-in says; after signing out, going back shows nothing, caches and all."""

import pytest
from playwright.sync_api import BrowserType, Page, expect

from tests.browser.conftest import broken_rules, sign_in
from tests.conftest import Cast


@pytest.fixture
def fresh(browser_type: BrowserType, browser_type_launch_args, live_server, cast: Cast):
    """A page of a browser that keeps whole pages to go back to, as people's do."""
    browser = browser_type.launch(
        **browser_type_launch_args, ignore_default_args=["--disable-back-forward-cache"]
    )
    page = browser.new_context(base_url=live_server.url).new_page()
    yield page
    browser.close()


def test_a_page_is_not_shown_again_after_signing_out(fresh, cast, live_server):
    sign_in(fresh, cast, cast.student, live_server.url)
    fresh.goto(f"/studios/{cast.studio.pk}/")
    expect(fresh.locator("body")).to_contain_text("Lee")
    fresh.goto("/you/")
    fresh.get_by_role("button", name="Sign out").click()
    expect(fresh).to_have_url(f"{live_server.url}/sign-in/")
    for _ in range(3):
        fresh.go_back()
        expect(fresh.locator("body")).not_to_contain_text("Lee")
        assert "Stef Student" not in fresh.content()


def test_a_jury_page_is_not_shown_again_after_the_link_is_closed(fresh, cast, live_server):
    fresh.goto(f"/j/{cast.seat.code}/")
    fresh.goto(f"/jury/{cast.scheme.pk}/")
    expect(fresh.locator("body")).to_contain_text("Lee")
    fresh.goto("/jury/")
    fresh.locator("form[action='/jury/leave/'] button").click()
    expect(fresh).to_have_url(f"{live_server.url}/sign-in/")
    for _ in range(3):
        fresh.go_back()
        expect(fresh.locator("body")).not_to_contain_text("Lee")


def test_a_refused_sign_in_can_be_read_by_all(page: Page, cast, live_server):
    page.goto(f"{live_server.url}/sign-in/")
    page.locator("#id_username").fill(cast.student.email)
    page.locator("#id_password").fill("not it")
    page.get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("No account has this e-mail address")
    assert broken_rules(page) == []

"""A passkey made and used in a browser, by a device that its developers' protocol makes up."""

from playwright.sync_api import Page, expect

from tests.browser.conftest import broken_rules, sign_in
from tests.conftest import Cast

DEVICE = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}


def test_a_passkey_is_made_used_and_taken_away(page: Page, cast: Cast, live_server):
    cast.student.set_password("lee-shelf-1")
    cast.student.save()
    devices = page.context.new_cdp_session(page)
    devices.send("WebAuthn.enable")
    devices.send("WebAuthn.addVirtualAuthenticator", {"options": DEVICE})
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(f"{live_server.url}/you/")
    page.get_by_role("link", name="Passkeys").click()
    expect(page.get_by_text("This browser can't make passkeys")).to_be_hidden()
    page.get_by_label("Name").fill("laptop at home")
    page.get_by_label("Password in use now").fill("not it")
    page.get_by_role("button", name="Add a passkey").click()
    expect(page.get_by_text("This is not the password in use now.")).to_be_visible()
    assert page.get_by_label("Name").input_value() == "laptop at home"
    page.get_by_label("Password in use now").fill("lee-shelf-1")
    page.get_by_role("button", name="Add a passkey").click()
    expect(page.get_by_role("row", name="laptop at home")).to_contain_text("never")
    assert broken_rules(page) == []
    page.get_by_label("Name").fill("the same once more")
    page.get_by_label("Password in use now").fill("lee-shelf-1")
    page.get_by_role("button", name="Add a passkey").click()
    expect(page.get_by_text("This device holds a passkey of yours already.")).to_be_visible()
    page.get_by_role("button", name="Sign out").click()
    expect(page).to_have_url(f"{live_server.url}/sign-in/")
    page.goto(f"{live_server.url}/sign-in/?next=/you/passkeys/")
    page.get_by_role("button", name="Sign in with a passkey").click()
    expect(page).to_have_url(f"{live_server.url}/you/passkeys/")
    expect(page.get_by_role("row", name="laptop at home")).not_to_contain_text("never")
    page.get_by_role("button", name="Remove laptop at home").click()
    expect(page.get_by_text("The passkey signs nobody in any more.")).to_be_visible()
    page.get_by_role("button", name="Sign out").click()
    page.get_by_role("button", name="Sign in with a passkey").click()
    expect(page.get_by_role("heading", name="This passkey signs nobody in")).to_be_visible()

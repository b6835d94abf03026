"""A server that takes what is sent and never answers: said in words in time, and nothing lost."""

import pytest
from django.urls import reverse
from playwright.sync_api import BrowserContext, Page, Route, expect

from reviews.deeds import package_keeping
from tests.browser.conftest import sign_in

pytestmark = pytest.mark.django_db(transaction=True)

IN_TIME_MS = 15_000
ROOM = {"mark": "R1", "room": "Day room", "floor_m2": "20", "use": "day"}
TELL = """new MutationObserver(() => {
  const said = document.getElementById("unanswered").textContent;
  console.log(said, document.querySelector("[name=name]").value);
}).observe(document.getElementById("unanswered"), {childList: true})"""


@pytest.fixture
def silent(context: BrowserContext) -> Page:
    """A page whose console may say that a request came to nothing."""
    page = context.new_page()
    page.set_default_timeout(20_000)
    return page


def never_answer_once(page: Page, address: str) -> None:
    """Let the first that is sent hang; to let go of the address would send it on."""
    met: list[Route] = []

    def hang(route: Route) -> None:
        if met or route.request.method == "GET":
            route.continue_()
        else:
            met.append(route)

    page.route(address, hang)


def test_a_save_without_an_answer_says_so_and_is_sent_again(silent, cast, live_server):
    row = package_keeping.add_row(cast.scheme.package, "rooms", ROOM, cast.student)
    sign_in(silent, cast, cast.student, live_server.url)
    silent.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "rooms"]))
    never_answer_once(silent, "**/rows/**")
    floor = silent.locator(f"#row-{row.pk} [name=cell-floor_m2]")
    floor.fill("22")
    silent.locator("h1").click()
    expect(silent.locator("#keeper")).to_have_text(
        "No answer from the server. 1 change waits on this device and will be sent: "
        "Room schedule, R1, Floor: 22.",
        timeout=IN_TIME_MS,
    )
    expect(floor).to_have_value("22")
    expect(silent.locator("#keeper")).to_be_empty()
    row.refresh_from_db()
    assert row.cells["floor_m2"] == "22"


def answer_once(page: Page, address: str, status: int) -> None:
    """Answer the first that is sent with a status."""
    met: list[Route] = []

    def answer(route: Route) -> None:
        if met or route.request.method == "GET":
            route.continue_()
        else:
            met.append(route)
            route.fulfill(status=status, body="")

    page.route(address, answer)


def test_a_server_without_room_is_said_and_the_change_waits_and_is_sent(silent, cast, live_server):
    row = package_keeping.add_row(cast.scheme.package, "rooms", ROOM, cast.student)
    sign_in(silent, cast, cast.student, live_server.url)
    silent.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "rooms"]))
    answer_once(silent, "**/rows/**", 507)
    silent.locator(f"#row-{row.pk} [name=cell-floor_m2]").fill("22")
    silent.locator("h1").click()
    expect(silent.locator("#keeper")).to_have_text(
        "The server has no room left. 1 change waits on this device and will be sent: "
        "Room schedule, R1, Floor: 22.",
        timeout=IN_TIME_MS,
    )
    expect(silent.locator("#keeper")).to_be_empty()
    row.refresh_from_db()
    assert row.cells["floor_m2"] == "22"


@pytest.mark.parametrize(
    ("status", "said"),
    [
        (503, "The server's database or store does not answer."),
        (507, "The server has no room left: nothing was kept."),
        (500, "The server answered 500."),
    ],
)
def test_what_htmx_sends_and_a_server_in_trouble_answers_is_said(
    silent, cast, live_server, status, said
):
    """Before, nothing was said of it."""
    sign_in(silent, cast, cast.student, live_server.url)
    silent.goto(live_server.url + reverse("you"))
    silent.evaluate(
        "status => document.body.dispatchEvent(new CustomEvent('htmx:responseError', "
        "{bubbles: true, detail: {xhr: {status}}}))",
        status,
    )
    expect(silent.locator("#unanswered")).to_have_text(
        f"{said} Try it again; what you typed stays on this page."
    )


def test_a_press_without_an_answer_says_so(silent, cast, live_server):
    package_keeping.add_row(cast.scheme.package, "rooms", ROOM, cast.student)
    sign_in(silent, cast, cast.student, live_server.url)
    silent.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "rooms"]))
    never_answer_once(silent, "**/remove/**")
    silent.get_by_role("button", name="Remove R1").click()
    expect(silent.locator("#unanswered")).to_contain_text(
        "No answer from the server.", timeout=IN_TIME_MS
    )
    expect(silent.get_by_role("button", name="Remove R1")).to_be_visible()


def test_a_plain_form_without_an_answer_says_so_and_keeps_what_was_typed(silent, cast, live_server):
    sign_in(silent, cast, cast.student, live_server.url)
    silent.goto(live_server.url + reverse("you"))
    never_answer_once(silent, "**/you/")
    silent.locator("input[name=name]").fill("Stefanie Student")
    silent.evaluate(TELL)  # whatever asks the page later waits for the one that never comes
    with silent.expect_console_message(timeout=IN_TIME_MS) as told:
        silent.locator("main form button").first.click(no_wait_after=True)
    assert told.value.text.startswith("No answer from the server yet.")
    assert told.value.text.endswith("Stefanie Student")

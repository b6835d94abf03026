"""Typing into schedules in a real browser: kept, met, waiting, undone."""

import re
from collections.abc import Callable
from time import monotonic, sleep

import pytest
from django.urls import reverse
from playwright.sync_api import BrowserContext, Page, expect

from reviews.deeds import package_keeping
from reviews.models import Row
from tests.browser.conftest import broken_rules, sign_in
from tests.conftest import Cast
from tests.factories import RowFactory

pytestmark = pytest.mark.django_db(transaction=True)

ROOM = {"mark": "R1", "room": "Day room", "floor_m2": "20", "use": "day"}
WAITING = "Object.keys(localStorage).filter((k) => /^muntin-waiting-\\d+\\//.test(k)).length"


@pytest.fixture
def rooms(cast: Cast, live_server) -> tuple[str, Row]:
    row = package_keeping.add_row(cast.scheme.package, "rooms", ROOM, cast.student)
    return live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "rooms"]), row


@pytest.fixture
def cut_page(context: BrowserContext) -> Page:
    """A page whose network is cut, which its console may say."""
    page = context.new_page()
    page.set_default_timeout(20_000)
    return page


def cell(page: Page, row: Row, head: str):
    return page.locator(f"#row-{row.pk} [name=cell-{head}]")


def kept(row: Row, head: str) -> str:
    row.refresh_from_db()
    return row.cells.get(head, "")


def test_a_row_is_kept_when_it_is_left_and_says_so(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    cell(page, row, "floor_m2").fill("12 ft x")
    cell(page, row, "room").focus()
    page.locator("h1").click()
    expect(page.locator(f"#row-{row.pk} .refusal")).to_contain_text("Read “12 ft x”")
    expect(page.locator("#tally")).to_contain_text("Floor 20 → 12 ft x, by Stef Student")
    assert kept(row, "floor_m2") == "12 ft x"
    cell(page, row, "floor_m2").fill("86 sq ft")
    page.locator("h1").click()
    expect(page.locator(f"#row-{row.pk} .beneath")).to_contain_text("8.0 m²")
    expect(page.locator("#checks")).to_contain_text("T01")


def test_a_pause_keeps_the_row_and_the_hand_where_it_is(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    field = cell(page, row, "room")
    field.focus()
    field.press("End")
    page.keyboard.type(" one")
    expect(page.locator("#tally")).to_contain_text("Day room → Day room one")
    page.keyboard.type(" two")
    expect(page.locator("#tally")).to_contain_text("Day room one → Day room one two")
    expect(field).to_be_focused()
    assert kept(row, "room") == "Day room one two"


def test_enter_goes_down_a_column_and_adds_a_row_at_its_end(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    cell(page, row, "room").focus()
    page.keyboard.press("Enter")
    new = page.locator("#row-new")
    expect(new.locator("[name=cell-room]")).to_be_focused()
    expect(new.locator("[name=cell-mark]")).to_have_value("R2")
    page.keyboard.type("Sauna")
    page.keyboard.press("Enter")
    expect(page.locator("#tally")).to_contain_text("2 rows.")
    expect(new.locator("[name=cell-mark]")).to_have_value("R3")
    expect(new.locator("[name=cell-room]")).to_have_value("")
    assert [r.cells["room"] for r in Row.objects.all()] == ["Day room", "Sauna"]


def test_escape_puts_a_cell_back(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    cell(page, row, "room").fill("Something else")
    page.keyboard.press("Escape")
    expect(cell(page, row, "room")).to_have_value("Day room")


def test_two_who_type_at_once_see_both_and_lose_nothing(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    package_keeping.save_row(cast.scheme.package, row.pk, {"floor_m2": "21"}, 1, cast.mate)
    cell(page, row, "floor_m2").fill("22")
    page.locator("h1").click()
    alert = page.locator(f"#row-{row.pk} [role=alert]")
    expect(alert).to_contain_text("Mira Mate changed R1")
    expect(page.locator(f"#row-{row.pk} .stands")).to_have_text("Kept: 21")
    assert kept(row, "floor_m2") == "21"
    page.reload()  # what was typed is still there, beside what is kept
    expect(alert).to_be_visible()
    expect(cell(page, row, "floor_m2")).to_have_value("22")
    page.get_by_role("button", name="Save mine").click()
    expect(alert).to_have_count(0)
    assert kept(row, "floor_m2") == "22"
    assert page.evaluate(WAITING) == 0


def test_leaving_it_as_a_mate_has_it_lets_go_of_what_was_typed(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    package_keeping.save_row(cast.scheme.package, row.pk, {"floor_m2": "21"}, 1, cast.mate)
    cell(page, row, "floor_m2").fill("22")
    page.locator("h1").click()
    page.get_by_role("link", name="Leave it as Mira Mate has it").click()
    expect(cell(page, row, "floor_m2")).to_have_value("21")
    expect(page.locator("[role=alert]")).to_have_count(0)


def test_without_a_network_changes_wait_and_are_sent_once(cut_page, cast, live_server, rooms):
    url, row = rooms
    sign_in(cut_page, cast, cast.student, live_server.url)
    cut_page.goto(url)
    cut_page.route("**/rows/**", lambda route: route.abort())
    cell(cut_page, row, "floor_m2").fill("22")
    cut_page.locator("h1").click()
    expect(cut_page.locator("#keeper")).to_contain_text(
        "1 change waits on this device and will be sent: Room schedule, R1, Floor: 22."
    )
    assert kept(row, "floor_m2") == "20"
    cut_page.unroute("**/rows/**")
    cut_page.reload()
    expect(cell(cut_page, row, "floor_m2")).to_have_value("22")
    expect(cut_page.locator("#tally")).to_contain_text("Floor 20 → 22")
    expect(cut_page.locator("#keeper")).to_be_empty()
    assert (kept(row, "floor_m2"), row.version) == ("22", 2)


def test_an_answer_that_is_lost_is_no_conflict_with_oneself(cut_page, cast, live_server, rooms):
    url, row = rooms
    sign_in(cut_page, cast, cast.student, live_server.url)
    cut_page.goto(url)

    def lose(route) -> None:
        route.fetch()
        route.abort()

    cut_page.route("**/rows/**", lose)
    cell(cut_page, row, "floor_m2").fill("22")
    cut_page.locator("h1").click()
    expect(cut_page.locator("#keeper")).to_contain_text("waits")
    cell(cut_page, row, "floor_m2").fill("23")
    cut_page.locator("h1").click()
    expect(cut_page.locator("#keeper")).to_contain_text("2 changes wait")
    cut_page.unroute("**/rows/**")
    expect(cut_page.locator("#keeper")).to_be_empty()
    expect(cut_page.locator("[role=alert]")).to_have_count(0)
    assert (kept(row, "floor_m2"), row.version) == ("23", 3)


def test_what_was_typed_just_before_the_page_closed_is_kept(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    cell(page, row, "floor_m2").fill("22")
    page.goto(live_server.url + reverse("show-package", args=[cast.scheme.pk]))
    page.goto(url)
    expect(page.locator("#tally")).to_contain_text("Floor 20 → 22")
    assert kept(row, "floor_m2") == "22"


def test_a_row_is_removed_and_the_removal_undone(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    page.get_by_role("button", name="Remove R1").click()
    expect(page.locator("#tally")).to_contain_text("R1 removed, by Stef Student")
    page.get_by_role("button", name="Undo it").click()
    expect(cell(page, row, "room")).to_have_value("Day room")
    expect(page.locator("#messages")).to_contain_text("Undone: R1 removed.")


def test_one_press_mends_an_odd_value(page, cast, live_server):
    tank = {"mark": "T1", "holds": "potable", "litres": "1.6", "usable_share": "0.9"}
    row = package_keeping.add_row(cast.scheme.package, "tanks", tank, cast.student)
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "tanks"]))
    page.get_by_role("button", name="Write 1.6 m³").click()
    expect(page.locator(f"#row-{row.pk} .odd")).to_have_count(0)
    expect(page.locator(f"#row-{row.pk} .beneath")).to_have_text("1\u202f600 L")
    assert kept(row, "litres") == "1.6 m³"


def test_the_statement_is_kept_as_it_is_typed(page, cast, live_server):
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("show-package", args=[cast.scheme.pk]))
    page.get_by_role("textbox", name="Statement").fill("A shelf in the calm.")
    expect(page.locator("#statement-note")).to_contain_text("5 words")
    cast.scheme.package.refresh_from_db()
    assert cast.scheme.package.statement == "A shelf in the calm."


def test_what_is_refused_odd_and_met_is_accessible(page, cast, live_server):
    tank = {"mark": "T1", "holds": "beer", "litres": "1.6", "usable_share": "1"}
    row = package_keeping.add_row(cast.scheme.package, "tanks", tank, cast.student)
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "tanks"]))
    package_keeping.save_row(cast.scheme.package, row.pk, {"usable_share": "0.9"}, 1, cast.mate)
    cell(page, row, "usable_share").fill("0.8")
    page.locator("h1").click()
    expect(page.locator("[role=alert]")).to_be_visible()
    assert broken_rules(page) == []


@pytest.mark.parametrize("way", ["checks", "back", "closed", "reload"])
def test_what_still_has_the_focus_arrives_however_the_page_is_left(
    context, cast, live_server, rooms, way
):
    url, row = rooms
    page = context.new_page()
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("show-package", args=[cast.scheme.pk]))
    page.goto(url)
    cell(page, row, "floor_m2").fill("22")
    expect(cell(page, row, "floor_m2")).to_be_focused()
    if way == "checks":
        page.goto(live_server.url + reverse("show-checks", args=[cast.scheme.pk]))
    elif way == "back":
        page.go_back()
    elif way == "reload":
        page.reload()
    else:
        page.close()
    wait_for(lambda: kept(row, "floor_m2") == "22")


def wait_for(what: Callable[[], bool]) -> None:
    deadline = monotonic() + 10
    while not what() and monotonic() < deadline:
        sleep(0.1)
    assert what()


def test_what_a_page_had_no_time_to_send_goes_from_any_other(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    page.evaluate(
        "() => ['pagehide', 'visibilitychange', 'focusout'].forEach((it) =>"
        " window.addEventListener(it, (event) => event.stopImmediatePropagation(), true))"
    )
    cell(page, row, "floor_m2").fill("22")
    page.goto(live_server.url + reverse("show-questions", args=[cast.scheme.pk]))
    wait_for(lambda: kept(row, "floor_m2") == "22")


def test_an_issue_is_held_until_what_was_typed_has_arrived(cut_page, cast, live_server, rooms):
    url, row = rooms
    sign_in(cut_page, cast, cast.student, live_server.url)
    cut_page.route("**/rows/**", lambda route: route.abort())
    cut_page.goto(url)
    cell(cut_page, row, "floor_m2").fill("22")
    cut_page.goto(live_server.url + reverse("issue-package", args=[cast.scheme.pk]))
    held = cut_page.locator("[data-waits]")
    expect(held).to_have_text("Held until it has arrived: Room schedule, R1, Floor: 22")
    cut_page.get_by_role("button", name="Issue revision A").click()
    expect(held).to_contain_text("Held until")
    assert not cast.scheme.revisions.exists()
    cut_page.unroute("**/rows/**")
    expect(held).to_be_empty()
    cut_page.get_by_role("button", name="Issue revision A").click()
    expect(cut_page.locator("#messages")).to_contain_text("Revision A is issued")
    assert kept(row, "floor_m2") == "22"
    assert cast.scheme.revisions.get().contents["schedules"]["rooms"][0]["floor_m2"] == "22"


REFUSES = "Object.defineProperty(window, 'localStorage', {get() { throw new Error('refused'); }})"


def test_without_storage_the_buttons_stay_and_the_page_says_so(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.add_init_script(REFUSES)
    page.goto(url)
    expect(page.locator("#keeper")).to_contain_text("This browser stores nothing on this device")
    button = page.locator(f"#row-{row.pk} .by-hand")
    expect(button).to_be_visible()
    cell(page, row, "floor_m2").fill("22")
    button.click()
    expect(page.locator("#tally")).to_contain_text("Floor 20 → 22")
    assert kept(row, "floor_m2") == "22"


def test_a_device_with_no_room_left_says_so_and_still_sends(page, cast, live_server, rooms):
    url, row = rooms
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(url)
    expect(page.locator(f"#row-{row.pk} .by-hand")).to_be_hidden()
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error('full'); }; }")
    cell(page, row, "floor_m2").fill("22")
    page.locator("h1").click()
    expect(page.locator(f"#row-{row.pk} .by-hand")).to_be_visible()
    expect(page.locator("#keeper")).to_contain_text("stores nothing")
    expect(page.locator("#tally")).to_contain_text("Floor 20 → 22")


def test_a_new_row_half_typed_comes_back_on_its_own_page_only(cut_page, cast, live_server, rooms):
    url, _ = rooms
    sign_in(cut_page, cast, cast.student, live_server.url)
    cut_page.goto(url)
    cut_page.locator("#row-new [name=cell-room]").press_sequentially("Sau")
    other = cut_page.context.new_page()
    other.goto(live_server.url + reverse("show-package", args=[cast.scheme.pk]))
    other.wait_for_timeout(3500)
    assert Row.objects.count() == 1
    cut_page.close()
    wait_for(lambda: Row.objects.count() == 2)


def test_what_waits_in_one_schedule_is_no_draft_of_another(cut_page, cast, live_server, rooms):
    url, row = rooms
    sign_in(cut_page, cast, cast.student, live_server.url)
    cut_page.route("**/rows/**", lambda route: route.abort())
    cut_page.goto(url)
    cut_page.locator("#row-new [name=cell-room]").fill("Sauna")
    cut_page.keyboard.press("Enter")
    cut_page.goto(url.replace("rooms", "tanks"))
    cut_page.locator("#row-new [name=cell-place]").fill("loft")
    cut_page.keyboard.press("Enter")
    expect(cut_page.locator("#keeper")).to_contain_text("2 changes wait")
    cut_page.unroute("**/rows/**")
    expect(cut_page.locator("#keeper")).to_be_empty()
    assert {each.schedule for each in Row.objects.exclude(pk=row.pk)} == {"rooms", "tanks"}


def test_the_column_in_hand_says_what_it_takes_and_a_suggested_mark_is_typed_over(
    page, cast, live_server
):
    sign_in(page, cast, cast.student, live_server.url)
    lead_from_a_window_to_its_row_and_back(page, cast, live_server.url)
    page.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "rooms"]))
    strip = page.locator("#column-in-hand")
    expect(strip).to_be_hidden()
    mark = page.locator("#row-new [name=cell-mark]")
    mark.focus()
    page.keyboard.type("R9")
    expect(mark).to_have_value("R9")
    page.locator("#row-new [name=cell-floor_m2]").focus()
    expect(strip).to_contain_text("Floor [m²]")
    expect(strip).to_contain_text("Takes an area")
    page.get_by_role("link", name="Package").first.focus()
    expect(strip).to_be_hidden()


def lead_from_a_window_to_its_row_and_back(page, cast, site):
    """What a schedule shows drawn leads to the row that it is drawn of."""
    room = {"mark": "R1", "room": "Day", "use": "day", "floor_m2": "12", "clear_height_m": "2.4"}
    RowFactory(package=cast.scheme.package, schedule="rooms", cells=room)
    cells = {"room": "R1", "n": "1", "glass_w": "900", "glass_h": "900", "faces": "S"}
    for mark in ("W1", "W2"):
        RowFactory(package=cast.scheme.package, schedule="windows", cells={"mark": mark} | cells)
    page.goto(site + reverse("show-schedule", args=[cast.scheme.pk, "windows"]))
    window = page.locator(".drawn-wide a.touch[data-row='windows W2']")
    window.click()
    row = page.locator("tbody[data-row='windows W2']")
    expect(row.locator(":focus")).to_have_count(1)
    expect(window).to_have_class(re.compile("in-hand"))
    page.keyboard.press("Escape")
    expect(window).to_be_focused()

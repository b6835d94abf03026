"""One clock on three devices, two of which are wrong by an hour; and presses without network."""

import re
from datetime import time, timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Browser, Page, expect

from reviews.deeds.crit_timekeeping import Deed, Press, link_room, press
from reviews.models import ClockEntry
from tests.conftest import Cast

WRONG_CLOCK = """(ms) => {
  const real = Date.now;
  Date.now = () => real() + ms;
}"""

LEFT = """() => {
  const [minutes, seconds] = document.querySelector('.left').textContent.split(':').map(Number);
  const machine = performance.timeOrigin + performance.now();
  return [minutes * 60 + seconds, window.muntinClock.now() - machine];
}"""

KNOWN = "() => window.muntinClock?.isKnown() && window.muntinClock.within() < 400"
HOUR_MS = 3_600_000


@pytest.fixture
def room(cast: Cast) -> Cast:
    """The first scheme is on in room A, for two minutes."""
    first, second = cast.crit.slots.all()
    for slot, hour in ((first, 10), (second, 11)):
        slot.room, slot.starts_at = "A", time(hour)
        slot.save()
    at = timezone.now() - timedelta(minutes=2)
    press(first, Press(Deed.STARTED, at=at), cast.leader)
    return cast


def device(browser: Browser, live_server, cast: Cast, who, path: str, wrong_ms: int = 0) -> Page:
    context = browser.new_context(base_url=live_server.url, viewport={"width": 390, "height": 844})
    if who is not None:
        cookies = cast.client(who).cookies
        context.add_cookies(
            [{"name": "sessionid", "value": cookies["sessionid"].value, "url": live_server.url}]
        )
    context.add_init_script(f"({WRONG_CLOCK})({wrong_ms})")
    page = context.new_page()
    page.goto(path)
    page.wait_for_function(KNOWN)
    return page


@pytest.mark.django_db(transaction=True)
def test_every_device_shows_the_same_second_whatever_its_clock_says(browser, live_server, room):
    crit = room.crit.pk
    pages = [
        device(browser, live_server, room, room.leader, f"/crits/{crit}/day/", HOUR_MS),
        device(browser, live_server, room, room.leader, f"/crits/{crit}/rooms/A/clock/", -HOUR_MS),
        device(browser, live_server, room, None, f"/rooms/{link_room(room.crit, 'A').code}/"),
    ]
    now_ms = timezone.now().timestamp() * 1000
    for page in pages:
        assert abs(page.evaluate("() => window.muntinClock.now()") - now_ms) < 3_000
    # asked one right after another: as far apart as asking takes, and a second of rounding
    shown = [page.evaluate(LEFT) for page in pages]
    offsets = [offset for _, offset in shown]
    assert max(offsets) - min(offsets) < 1_000
    assert max(left for left, _ in shown) - min(left for left, _ in shown) <= 2
    pages[1].get_by_role("button", name="Pause").click()
    for page in pages:
        expect(page.locator("[data-live]")).to_contain_text("paused")
    assert len({page.locator(".left").inner_text() for page in pages}) == 1
    for page in pages:
        page.context.close()


@pytest.mark.django_db(transaction=True)
def test_what_is_pressed_without_network_arrives_once_at_its_moment(browser, live_server, room):
    where = f"/crits/{room.crit.pk}/rooms/A/clock/"
    page = device(browser, live_server, room, room.leader, where, HOUR_MS)
    page.context.set_offline(True)
    page.get_by_role("button", name="Discussion").click()
    expect(page.locator("[data-presses]")).to_contain_text("1 waiting")
    pressed_at = timezone.now()
    page.context.set_offline(False)
    page.reload()  # the press outlives the page
    expect(page.locator(".room-part")).to_contain_text(re.compile("Discussion"))
    (entry,) = ClockEntry.objects.filter(deed=Deed.NEXT_PART)
    assert abs(entry.at - pressed_at) < timedelta(seconds=3)
    page.context.close()


@pytest.mark.django_db(transaction=True)
def test_nobody_signs_out_over_a_press_that_waits(browser, live_server, room):
    where = f"/crits/{room.crit.pk}/rooms/A/clock/"
    page = device(browser, live_server, room, room.leader, where)
    page.route("**/clock/press/", lambda route: route.abort())
    page.get_by_role("button", name="Discussion").click()
    expect(page.locator("[data-presses]")).to_contain_text("1 waiting")
    page.get_by_role("button", name="Sign out").first.click()
    expect(page).to_have_url(re.compile("/device/$"))
    expect(page.locator("[data-entries]")).to_contain_text("Discussion")
    page.unroute("**/clock/press/")
    page.locator("[data-send]").dispatch_event("click")  # it may have gone by itself meanwhile
    expect(page.locator("[data-none]")).to_be_visible()
    assert ClockEntry.objects.filter(deed=Deed.NEXT_PART).count() == 1
    page.get_by_role("button", name="Forget this device").click()
    expect(page).to_have_url(re.compile("/sign-in/$"))
    assert "muntin-clock" not in page.evaluate("JSON.stringify(localStorage)")
    page.context.close()


@pytest.mark.django_db(transaction=True)
def test_a_juror_is_offered_the_sheet_that_is_called(browser, live_server, room):
    page = device(browser, live_server, room, room.seat, f"/jury/{room.other_scheme.pk}/")
    offered = page.locator(".thumb-bar .now-live a")
    expect(offered).to_contain_text("R01")
    expect(page.locator(".thumb-bar .left")).to_have_text(re.compile(r"^5:\d\d$"))
    page.context.close()

"""What waits on a device: while the server is away, with no room left, and at the link's end."""

import os
import re
import signal

import pytest
from playwright.sync_api import Browser, expect

from reviews.models import JurySheet, LevelGiven
from tests import crowd_site
from tests.benchmarks import faults
from tests.browser.test_jury_sheet import KEPT, _line, sheet
from tests.browser.test_jury_sheet import tablet as bare_tablet
from tests.browser.test_offline import EVERYTHING, arrived, come_in, line, order, tablet

__all__ = ["bare_tablet", "line", "order", "sheet", "tablet"]  # fixtures are asked for by name

FIVE_DAYS_MS = 5 * 24 * 3_600_000
FILL = """() => {
  for (let size = 1 << 20, n = 0; size >= 1; ) {
    try { localStorage.setItem(`other-${n++}`, "x".repeat(size)); } catch { size >>= 1; }
  }
}"""


@pytest.mark.apart
def test_each_entry_outlives_the_server_once(browser: Browser, tmp_path, monkeypatch):
    """The whole server is killed with one entry under way; others are set while it is gone."""
    monkeypatch.setattr(faults, "PROCESSES", 1)
    with faults.place("sqlite", tmp_path) as here:
        studio = crowd_site.seeded(1, 1, **here.env)
        (scheme,) = studio.schemes
        here.start()
        here.wait()
        url = f"http://localhost:{here.port}"
        context = browser.new_context(base_url=url, service_workers="block")
        context.add_cookies([{"name": "sessionid", "value": studio.jurors[0], "url": url}])
        page = context.new_page()
        page.goto(f"/jury/{scheme}/")
        levels = [page.locator(f"#level-{pk} button[value='3']").first for pk in studio.criteria]
        levels[0].click()
        assert here.server
        os.killpg(here.server.pid, signal.SIGKILL)
        here.server.wait()
        for level in levels[1:]:
            level.click()
        page.locator("#impression button[value='4']").first.click()
        expect(page.locator("[data-waiting]")).to_contain_text("Waiting to be sent: ")
        here.start()
        here.wait()
        expect(page.locator("[data-waiting]")).to_be_hidden(timeout=60_000)
        expect(page.locator("#impression [data-kept]")).to_contain_text(KEPT)
        context.close()
        stands = crowd_site.run(crowd_site.DUMP, **here.env)["levels"]
        assert sorted([criterion, level, n] for _, _, criterion, level, n in stands) == sorted(
            [pk, 3, 1] for pk in studio.criteria
        )


@pytest.mark.django_db(transaction=True)
def test_at_its_links_end_a_device_is_emptied_once_what_waits_is_shown_or_sent(tablet, line, order):
    page = tablet()
    page.clock.install()
    come_in(page, order)
    page.route("**/jury/live/**", lambda route: route.abort())  # it would tell the hour
    page.goto(f"/jury/{order.scheme.pk}/")
    line.cut()
    page.locator("#impression button[value='4']").first.click()
    expect(page.locator("[data-waiting]")).to_contain_text("Waiting to be sent: 1.")
    page.clock.fast_forward(FIVE_DAYS_MS)
    told = page.locator("[data-as-of]")
    expect(told).to_contain_text("The link has ended")
    expect(told).to_contain_text("Not sent, to copy for the studio leader: ")
    expect(told).to_contain_text("level: 4")
    said = page.evaluate(EVERYTHING)
    assert "muntin-day" not in said
    assert "muntin.jury" in said
    line.mend()
    expect(page.locator("[data-waiting]")).to_be_hidden()
    assert JurySheet.objects.get().impression == 4
    page.clock.fast_forward("02:00")
    expect(told).not_to_contain_text("Not sent")
    assert f"muntin.jury.{order.seat.pk}" not in page.evaluate(EVERYTHING)


@pytest.mark.django_db(transaction=True)
def test_a_full_device_says_so_and_keeps_what_it_said_it_holds(bare_tablet, sheet):
    page = bare_tablet()
    told = page.locator("[data-waiting]")
    page.route("**/levels/**", lambda route: route.abort())
    page.locator(f"{_line(sheet, 'F1')} button[value='5']").tap()
    expect(told).to_contain_text("Waiting to be sent: 1.")
    expect(told).not_to_contain_text("no room")
    page.context.new_cdp_session(page).send(
        "Storage.overrideQuotaForOrigin",
        {"origin": re.sub(r"(:\d+)/.*", r"\1", page.url), "quotaSize": 1},
    )
    page.evaluate(FILL)
    page.locator(f"{_line(sheet, 'F2')} button[value='4']").tap()
    expect(told).to_contain_text("Waiting to be sent: 2.")
    expect(told).to_contain_text("no room to hold all of it: leave this page open")
    page.reload()  # against what it said
    expect(told).to_contain_text("F1 ")
    page.locator(f"{_line(sheet, 'F2')} button[value='3']").tap()
    page.unroute("**/levels/**")
    expect(told).to_be_hidden()
    arrived(LevelGiven.objects.count, 2)
    page.reload()
    expect(told).to_be_hidden()
    first, second = LevelGiven.objects.order_by("criterion__code")
    assert (first.level, first.version, second.level) == (5, 1, 3)

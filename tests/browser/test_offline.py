"""A crit day without a network: turned to and set, once each; and what a device holds, of whom."""

import re
from time import monotonic, sleep, time

import pytest
from django.urls import reverse
from playwright.sync_api import Browser, Page, expect

from reviews.deeds import package_keeping
from reviews.models import Comment, JurySheet, LevelGiven
from tests import factories
from tests.browser.conftest import sign_in
from tests.browser.test_keeping import ROOM
from tests.conftest import Cast
from tests.cut_line import Line

pytestmark = pytest.mark.django_db(transaction=True)

HELD = """async () => {
  const found = {};
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    found[name] = (await cache.keys()).map((request) => new URL(request.url).pathname);
  }
  return found;
}"""

EVERYTHING = """async () => {
  const said = [JSON.stringify(localStorage)];
  for (const name of await caches.keys()) {
    if (name === "muntin-static") continue;
    const cache = await caches.open(name);
    said.push(name);
    for (const request of await cache.keys()) said.push(await (await cache.match(request)).text());
  }
  for (const { name } of await indexedDB.databases()) {
    const base = await new Promise((ok) => {
      const asked = indexedDB.open(name);
      asked.onsuccess = () => ok(asked.result);
    });
    for (const store of base.objectStoreNames) {
      said.push(JSON.stringify(await new Promise((ok) => {
        const asked = base.transaction(store).objectStore(store).getAll();
        asked.onsuccess = () => ok(asked.result);
      })));
    }
    base.close();
  }
  return said.join(" ");
}"""


WHOLE_DAY_MS = 60_000
"""What a busy machine may take to send some thirty pages, one after the other."""
AN_HOUR_FAST = "{ const true_now = Date.now; Date.now = () => true_now() + 3600e3; }"


@pytest.fixture
def order(cast: Cast) -> Cast:
    """Four schemes in the order, each issued with a sheet, and two criteria."""
    cast.crit.criteria.all().delete()
    for n in (1, 2):
        factories.CriterionFactory(crit=cast.crit, code=f"F{n}", weight=10, position=n)
    schemes = [cast.scheme]
    for n in range(3):
        scheme = factories.SchemeFactory(studio=cast.studio, name=f"Far Hut {n}")
        factories.SlotFactory(crit=cast.crit, scheme=scheme, position=10 + n, room="")
        schemes.append(scheme)
    for scheme in schemes:
        revision = factories.RevisionFactory(scheme=scheme, crit=cast.crit)
        factories.IssuedSheetFactory(revision=revision, number="01")
    return cast


@pytest.fixture
def line(live_server):
    """The line to the server, which can be cut."""
    line = Line(int(live_server.url.rpartition(":")[2]))
    yield line
    line.cut()


@pytest.fixture
def tablet(browser: Browser, line: Line):
    """A device with the worker; no errors of a lost network are looked for there."""
    opened = []

    def open_one() -> Page:
        size = {"width": 820, "height": 1180}
        context = browser.new_context(viewport=size, base_url=f"http://localhost:{line.port}")
        opened.append(context)
        page = context.new_page()
        page.set_default_timeout(60_000)
        return page

    yield open_one
    for context in opened:
        context.close()


def come_in(page: Page, cast: Cast) -> None:
    """Open the link, and wait until the day is on the device."""
    page.goto(f"/j/{cast.seat.code}/")
    told = page.locator("[data-day-said]")
    expect(told).to_contain_text("can be read and set without", timeout=WHOLE_DAY_MS)


def arrived(what, least: int) -> None:
    until = monotonic() + 20
    while what() < least and monotonic() < until:
        sleep(0.1)
    assert what() == least


def test_a_day_is_turned_to_and_set_without_a_network_and_arrives_once(tablet, line, order):
    """On a device an hour fast; a second tab is open when the network is back."""
    page, begun = tablet(), time()
    page.context.add_init_script(AN_HOUR_FAST)  # every tab of a device has its clock
    come_in(page, order)
    line.cut()
    huts = order.studio.schemes.filter(name__startswith="Far Hut")
    schemes = [order.scheme, *huts]
    assert len(schemes) == 4
    for scheme in schemes:
        page.goto(f"/jury/{scheme.pk}/")
        expect(page.locator("[data-as-of]")).to_contain_text("no network")
        expect(page.locator("h1")).to_contain_text(scheme.name)
        for asked in ("impression", *(f"level-{c.pk}" for c in order.crit.criteria.all())):
            page.locator(f"#{asked} button[value='3']").first.click()
        page.locator(".stub .level-choice", has_text="Keep").click()
        page.locator(".zone-panel:visible button[value='01·B3']").click()
        page.locator(".own-comment textarea").fill(f"Keep the stair of {scheme.name}.")
        page.locator(".own-comment textarea").blur()
    assert JurySheet.objects.count() == 0
    page.goto(f"/jury/{schemes[0].pk}/")  # what waits is laid over the page as it was stored
    expect(page.locator("#impression [aria-checked=true]")).to_have_attribute("value", "3")
    expect(page.locator(".own-comment textarea")).to_have_value(
        f"Keep the stair of {schemes[0].name}."
    )
    page.locator("[data-lock] button").click()
    expect(page.locator("[data-waiting]")).to_contain_text("Waiting to be sent: 17.")
    shown = page.evaluate("[...document.images].filter((each) => each.naturalWidth).length")
    assert shown > 0, "the drawing is there"
    page.context.new_page().goto("/jury/")
    line.mend()
    expect(page.locator(".state-box")).to_contain_text("Locked", timeout=WHOLE_DAY_MS)
    arrived(LevelGiven.objects.count, 8)
    arrived(Comment.objects.count, 4)
    assert JurySheet.objects.filter(impression=3).count() == 4
    assert {given.version for given in LevelGiven.objects.all()} == {1}
    assert [sheet.scheme for sheet in JurySheet.objects.locked()] == [schemes[0]]
    expect(page.locator("[data-waiting]")).to_be_hidden()
    moments = [given.set_at for given in LevelGiven.objects.all()]
    moments += [comment.set_at for comment in Comment.objects.all()]
    moments += [sheet.impression_set_at for sheet in JurySheet.objects.all()]
    waited = [moment.timestamp() for moment in moments if moment]
    assert len(moments) == 16
    assert len(waited) > 4, "what waited for more than a moment says when it was set"
    assert all(begun - 2 < moment < time() + 2 for moment in waited), "by the site's clock"


def test_what_a_closed_tab_left_is_sent_by_the_next_one(tablet, line, order):
    page = tablet()
    come_in(page, order)
    page.goto(f"/jury/{order.scheme.pk}/")
    line.cut()
    page.locator("#impression button[value='4']").click()
    expect(page.locator("[data-waiting]")).to_contain_text("Waiting to be sent: 1.")
    page.goto("/nowhere/")  # what isn't held says so, and shows what waits
    expect(page.locator("#held")).to_contain_text("is not held")
    expect(page.locator("[data-entries]")).to_contain_text("level: 4")
    expect(page.locator("[data-none]")).to_be_hidden()
    page.evaluate("localStorage.clear()")  # as after a flat battery: the disk alone has it
    page.close()
    line.mend()
    again = page.context.new_page()
    again.goto("/jury/")
    arrived(JurySheet.objects.filter(impression=4).count, 1)
    expect(again.locator("[data-waiting]")).to_be_hidden()


def test_the_store_is_of_one_juror_and_is_emptied_for_the_next(tablet, order):
    other = factories.SeatFactory(crit=order.crit, name="Odd Visitor")
    page = tablet()
    come_in(page, order)
    page.goto(f"/jury/{order.scheme.pk}/")
    page.locator(".stub .level-choice", has_text="Keep").click()
    page.locator(".zone-panel:visible button[value='01·B3']").click()
    page.locator(".own-comment textarea").fill("Words that are hers alone.")
    page.locator(".own-comment textarea").blur()
    arrived(Comment.objects.filter(words="Words that are hers alone.").count, 1)
    page.reload()
    expect(page.locator(".own-comment")).to_have_count(1)
    assert "hers alone" in page.evaluate(EVERYTHING)
    page.goto(f"/j/{other.code}/")
    told = page.locator("[data-day-said]")
    expect(told).to_contain_text("can be read and set without", timeout=WHOLE_DAY_MS)
    said = page.evaluate(EVERYTHING)
    assert "hers alone" not in said
    assert f"seat-{order.seat.pk}" not in said
    assert f"seat-{other.pk}" in said
    page.goto("/device/")
    page.get_by_role("button", name="Forget this device").click()
    expect(page).to_have_url(re.compile("/sign-in/$"))
    said = page.evaluate(EVERYTHING)
    assert "seat-" not in said
    assert "muntin.jury" not in said


def test_nobody_parts_from_what_was_not_sent_unawares(tablet, order):
    page = tablet()
    come_in(page, order)
    page.goto(f"/jury/{order.scheme.pk}/")
    page.route("**/impression/", lambda route: route.abort())
    page.locator("#impression button[value='4']").click()
    page.goto("/jury/")
    page.get_by_role("button", name="Close the link here").click()
    expect(page).to_have_url(re.compile("/device/$"))
    expect(page.locator("[data-entries]")).to_contain_text("level: 4")
    expect(page.locator("#as-text")).to_have_value(re.compile("R01"))
    page.get_by_role("button", name="Forget this device").click()
    expect(page.locator("[data-let-go]")).to_be_visible()
    page.locator("[name=let_go]").check()
    page.get_by_role("button", name="Forget this device").click()
    expect(page).to_have_url(re.compile("/sign-in/$"))
    assert "muntin.jury" not in page.evaluate(EVERYTHING)


def test_what_a_student_types_without_a_network_stands_in_the_page_again(tablet, line, cast):
    row = package_keeping.add_row(cast.scheme.package, "rooms", ROOM, cast.student)
    page = tablet()
    sign_in(page, cast, cast.student, f"http://localhost:{line.port}")
    address = reverse("show-schedule", args=[cast.scheme.pk, "rooms"])
    page.goto(address)
    arrived(lambda: page.evaluate(f"caches.match('{address}').then((held) => held ? 1 : 0)"), 1)
    line.cut()
    floor = page.locator(f"#row-{row.pk} [name=cell-floor_m2]")
    floor.fill("23")
    floor.blur()
    expect(page.locator("#keeper")).to_contain_text("1 change waits on this device")
    page.reload()
    expect(page.locator("#held")).to_contain_text("no network")
    expect(floor).to_have_value("23")
    line.mend()
    expect(page.locator("#keeper")).to_be_empty()
    row.refresh_from_db()
    assert (row.cells["floor_m2"], row.version) == ("23", 2)
    page.reload()
    page.get_by_role("button", name="Sign out").click()
    expect(page).to_have_url(re.compile("/sign-in/$"))
    assert "Day room" not in page.evaluate(EVERYTHING)

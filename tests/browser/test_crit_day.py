"""One crit, six devices at once: timekeeper, projector, two jurors, scribe and leader."""

from datetime import time

import pytest
from playwright.sync_api import Browser, Page, expect

from reviews import clock
from reviews.models import Comment, Duty, LevelGiven, SpokenNote
from tests import factories
from tests.browser.conftest import broken_rules, sign_in
from tests.conftest import Cast

HOUR_MS = 3_600_000
WRONG_CLOCK = f"""
    const now = Date.now;
    Date.now = () => now() + {HOUR_MS};
"""


@pytest.fixture
def day(cast: Cast) -> Cast:
    """A crit whose day it is, in one room, with a second juror and a timekeeper."""
    cast.crit.day = clock.today()
    cast.crit.save()
    cast.crit.slots.update(room="A", starts_at=time(9, 15))
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    factories.IssuedSheetFactory(revision=revision, number="02")
    Duty.objects.create(crit=cast.crit, person=cast.classmate, kind=Duty.Kind.TIMEKEEPER, room="A")
    factories.SeatFactory(crit=cast.crit, name="Ann Second", code="seconddevice")
    return cast


@pytest.fixture
def device(browser: Browser, live_server, day: Cast):
    """A device of its own: somebody's, or a juror's by their link."""
    opened = []

    def open_one(who: object = None, code: str = "", *, script: str = "") -> Page:
        context = browser.new_context(
            viewport={"width": 820, "height": 1180},
            base_url=live_server.url,
            service_workers="block",
        )
        opened.append(context)
        page = context.new_page()
        page.set_default_timeout(20_000)
        if script:
            page.add_init_script(script)
        if who is not None:
            sign_in(page, day, who, live_server.url)
        if code:
            page.goto(f"/j/{code}/")
        return page

    yield open_one
    for context in opened:
        context.close()


def seconds_of(page: Page, selector: str) -> int:
    """What a clock on a page shows: minutes and seconds."""
    minutes, _, seconds = page.locator(selector).first.inner_text().strip().partition(":")
    return int(minutes) * 60 + int(seconds)


def test_what_one_does_all_see(device, day: Cast) -> None:
    crit, scheme = day.crit, day.scheme
    timekeeper = device(day.classmate)
    timekeeper.goto(f"/crits/{crit.pk}/rooms/A/clock/")
    leader = device(day.leader)
    leader.goto(f"/crits/{crit.pk}/rooms/A/clock/")
    leader.get_by_role("button", name="projector").click()
    projector = device(script=WRONG_CLOCK)
    projector.goto(f"/rooms/{crit.room_links.get().code}/")
    expect(projector.get_by_text("Nobody is on")).to_be_visible()
    leader.goto(f"/crits/{crit.pk}/day/")
    first, second = device(code=day.seat.code), device(code="seconddevice")
    for juror in (first, second):
        juror.goto(f"/jury/{scheme.pk}/")

    slot = crit.slots.get(scheme=scheme)
    timekeeper.locator(f"#press-{slot.pk}-started").first.click()
    for page in (projector, leader, timekeeper):
        expect(page.get_by_text(scheme.name).first).to_be_visible()
        expect(page.locator(".left[data-ends]").first).to_be_visible()
    for juror in (first, second):
        expect(juror.locator(".thumb-bar .left[data-ends]")).to_be_visible()
    shown = [
        seconds_of(page, ".left[data-ends]") for page in (projector, timekeeper, leader, first)
    ]
    assert max(shown) - min(shown) <= 3  # read one after another; each counts within a second

    scribe = device(day.scribe)
    scribe.goto(f"/crits/{crit.pk}/scribe/{scheme.pk}/")
    scribe.locator("#line").fill("JUR 2C2 prove 765kg wet?")
    scribe.keyboard.press("Enter")
    expect(scribe.locator("#lines")).to_contain_text("765kg wet?")
    expect(first.locator("#spoken")).to_contain_text("765kg wet?")
    first.locator("#spoken").get_by_role("button", name="Confirm").click()
    expect(first.locator("#spoken")).to_contain_text("Confirmed")
    expect(second.locator("#spoken")).not_to_contain_text("765kg wet?")
    note = SpokenNote.objects.get()
    assert (note.seat, note.place, note.typed) == (day.seat, "02·C2", "JUR 2C2 prove 765kg wet?")
    assert Comment.objects.get().words == "765kg wet?"

    for juror, level in ((first, "3"), (second, "4")):
        for criterion in crit.criteria.all():
            place = juror.locator(f"#level-{criterion.pk} button[name=level][value='{level}']")
            place.first.click()
            expect(juror.locator(f"#level-{criterion.pk}")).to_contain_text("Kept")
    assert sorted(LevelGiven.objects.values_list("level", flat=True)) == [3, 3, 4, 4]
    expect(leader.get_by_text("Jo Juror").first).to_be_visible()
    first.locator("[data-lock] button").first.click()
    expect(first.locator("#locked")).to_be_visible()
    expect(leader.locator("section[aria-labelledby=unlocked]")).not_to_contain_text("Jo Juror")
    expect(leader.locator("section[aria-labelledby=unlocked]")).to_contain_text("Ann Second")
    for page in (timekeeper, projector, leader, scribe):
        assert broken_rules(page) == []

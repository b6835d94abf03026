"""Every page as somebody who may open it: no rule of WCAG 2.2 broken, nothing off the sheet."""

import os

import pytest
from django.urls import reverse

from reviews.models import Person, Seat
from tests.browser.conftest import broken_rules
from tests.criteria.test_reader_units import METRIC
from tests.test_access import ROWS, _args
from tests.world import World, world

__all__ = ["world"]  # the fixture is asked for by name

NOT_PAGES = {
    # files, plain text, and doors that lead on at once
    "healthz",
    "send-worker",
    "list-jury-day",
    "export-targets",
    "export-climate",
    "export-table",
    "export-audit",
    "export-schedule",
    "sheet-image",
    "issued-sheet-image",
    "sheet-tile",
    "issued-sheet-tile",
    "sheet-original",
    "issued-sheet-original",
    "download-package",
    "send-piece",
    "download-revision",
    "enter-jury",
    "print-schedule-drawing",
    "print-sheet-list",
    "print-issued-sheet-list",
    "print-check-drawing",
    "print-issued-check-drawing",
    "download-paper",
    "show-desk-photo",
    "take-own-calendar",
    "take-jury-calendar",
    "follow-calendar",
    "export-answers",
    "export-register",
    "export-standards",
    "export-marks",
    "export-workbook",
    "take-workbook",
    "take-tables",
    "take-issued-workbook",
    "take-issued-tables",
    "take-brief",
    "take-people",
    "export-weather",
    "export-year",
    "export-issued-year",
    "print-year",
    # told to scripts
    "tell-start",
    "tell-schema",
    "tell-packages",
    "tell-revisions",
    "tell-all-results",
    "tell-package",
    "tell-checks",
    "tell-issued-package",
    "tell-issued-checks",
    "tell-results",
    "print-issued-year",
    "export-cohorts",
    "export-cohort-tables",
    "show-book-picture",
    "take-evidence-book",
    "print-portfolio",
    "download-portfolio",
    "download-results",
    # parts of pages that live
    "room-live",
    "day-live",
    "clock-live",
    "scribe-live",
    "jury-live",
}
AS_TYPED = {"show-issued-schedule"}
"""What was typed stands there as it was, the reader's figure beneath it."""
LEAST_PX = 11
LETTERING_PX = """[...document.querySelectorAll("svg.drawn text")]
    .filter((each) => each.getClientRects().length)
    .map((each) => [each, each.ownerSVGElement.getScreenCTM().a])
    .map(([each, a]) => parseFloat(getComputedStyle(each).fontSize) * a)"""
"""How large each lettering of a drawing is seen."""
PAGES = [
    name for name, row in ROWS.items() if row.ok and row.wrong != "get" and name not in NOT_PAGES
]


IS_LONG = bool(os.environ.get("MUNTIN_LONG"))
"""Each page on the desk and on a telephone; in the build they take turns."""


def _become(page, world: World, who: Person | Seat | None, url: str) -> None:
    page.context.clear_cookies()
    if who is None:
        return
    cookie = world.cast.client(who).cookies["sessionid"]
    page.context.add_cookies([{"name": "sessionid", "value": cookie.value, "url": url}])


def _in_us_units_with_the_lamp_off(world: World) -> None:
    Person.objects.update(units="us", lamp="off", plain_type=True)


@pytest.mark.parametrize(
    ("width", "is_dark"), [(1440, False), (390, True)], ids=["desk", "phone in the dark"]
)
def test_no_page_breaks_a_rule_or_the_border(live_server, page, world, width, is_dark):
    """On the desk every rule; on a telephone, in the dark, what that changes, and US units."""
    page.set_viewport_size({"width": width, "height": 900})
    if is_dark:
        _in_us_units_with_the_lamp_off(world)
    found: dict[str, object] = {}
    for name in PAGES if IS_LONG else PAGES[is_dark::2]:
        who = world.who((ROWS[name].ok).split()[0])
        if isinstance(who, Person):
            who.refresh_from_db()
        _become(page, world, who, live_server.url)
        answer = page.goto(live_server.url + reverse(name, kwargs=_args(name, world)))
        wide = page.evaluate("document.documentElement.scrollWidth") - width
        problems = broken_rules(page, of_looks=is_dark)
        small = [px for px in page.evaluate(LETTERING_PX) if px < LEAST_PX]
        problems = [*problems, *(f"lettering of {px:.1f} px" for px in small[:3])]
        text = page.evaluate("document.querySelector('main')?.innerText ?? ''")
        metric = [line for line in text.split("\n") if METRIC.search(line)]
        if is_dark and metric and name not in AS_TYPED:
            problems = [*problems, *metric]
        if answer is None or answer.status not in (200, 404, 410) or wide > 0 or problems:
            found[name] = (answer and answer.status, f"{wide} px too wide", problems)
    assert found == {}


def test_a_page_in_the_dark_is_never_white(live_server, page, world):
    Person.objects.update(lamp="off")
    _become(page, world, world.cast.student, live_server.url)
    page.goto(live_server.url)
    assert page.locator("html").get_attribute("data-lamp") == "off"
    ground = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    body = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert "rgb(255, 255, 255)" not in (ground, body)
    assert page.locator('meta[name="color-scheme"]').get_attribute("content") == "dark"
    Person.objects.update(lamp="on")  # as it is from the start: the device decides
    for wish, says in (("dark", "Lamp on"), ("light", "Lamp off")):
        page.emulate_media(color_scheme=wish)
        page.goto(live_server.url)
        is_night = page.evaluate("getComputedStyle(document.body).backgroundColor") == body
        assert is_night is (wish == "dark")
        assert page.locator(".person button:visible").all_inner_texts()[0] == says

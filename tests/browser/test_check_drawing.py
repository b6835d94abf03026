"""A check with its drawing, in a real browser: what decided it, the others, and how it prints."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from reviews.models import Brief, Person
from tests.browser.conftest import broken_rules, sign_in
from tests.browser.test_printing import printed, sheets
from tests.factories import RowFactory, TargetLineFactory
from tests.folding_cabin import SCHEDULES, STATES

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def check(page, cast, live_server):
    """The address of a check of the folding cabin, for its student."""
    Brief.objects.filter(pk=cast.studio.brief.pk).update(states=STATES)
    way = {"id": "T70", "check": "way_to_bed", "rule": "at least", "value": "700 mm"}
    TargetLineFactory(brief=cast.studio.brief, cells=way)
    for schedule, rows in SCHEDULES.items():
        for cells in rows:
            RowFactory(package=cast.scheme.package, schedule=schedule, cells=cells)
    sign_in(page, cast, cast.student, live_server.url)
    return live_server.url + reverse("show-check", args=[cast.scheme.pk, "T70"])


NARROWEST = re.compile("^Plan, night: Way to each bed, U1")
LEAST_PX = 11
"""Size of type below which a drawing changes to its narrower layout."""


def shown(page):
    """Width of the drawing that is shown, and its least type, in px."""
    drawing = page.get_by_role("group", name=NARROWEST)
    expect(drawing).to_be_visible()
    return drawing.evaluate(
        """it => {
        const box = it.getBoundingClientRect();
        const sizes = [...it.querySelectorAll("text")].map(e => e.getAttribute("font-size"));
        return [box.width, Math.min(...sizes) * box.width / it.viewBox.baseVal.width];
        }"""
    )


def test_a_check_shows_where_its_figure_lies_and_the_others_are_one_click_away(page, check):
    page.goto(check)
    drawing = page.get_by_role("group", name=NARROWEST)
    expect(drawing).to_contain_text("533")
    assert broken_rules(page) == []
    page.get_by_role("link", name="U4 night").click()
    expect(page.get_by_role("group", name=re.compile("Way to each bed, U4"))).to_be_visible()
    expect(page.get_by_role("link", name="U4 night")).to_have_attribute("aria-current", "true")


def test_it_is_laid_out_anew_for_each_width_and_its_letters_stay_readable(page, check):
    for lamp in ("on", "off"):
        Person.objects.update(lamp=lamp)
        for across in (1440, 820, 390):
            page.set_viewport_size({"width": across, "height": 900})
            page.goto(check)
            width, least = shown(page)
            assert width < across
            assert (width < 400) is (across == 390)
            assert least >= LEAST_PX
            assert page.evaluate("document.documentElement.scrollWidth") <= across
            assert broken_rules(page, of_looks=True) == []


def test_it_prints_on_one_sheet_with_its_notes_at_its_scale(page, check):
    page.goto(check)
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 794, "height": 1123})  # A4 at 96 dots an inch
    width, _ = shown(page)
    assert width == pytest.approx(175 / 25.4 * 96, abs=0.5)
    assert sheets(printed(page)) <= 3


def test_day_and_night_stand_side_by_side_over_their_schedule(page, cast, live_server, check):
    for across, are_beside in ((1440, True), (820, False), (390, False)):
        page.set_viewport_size({"width": across, "height": 900})
        page.goto(live_server.url + reverse("show-schedule", args=[cast.scheme.pk, "furniture"]))
        day, night = (
            page.get_by_role("group", name=f"Plan, {state}") for state in ("day", "night")
        )
        expect(night).to_be_visible()
        first, second = day.bounding_box(), night.bounding_box()
        assert (first["x"] + first["width"] <= second["x"]) is are_beside
        assert broken_rules(page) == []

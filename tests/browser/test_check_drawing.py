"""A check with its drawing, in a real browser: what decided it, the others, and how it prints."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from reviews.models import Brief
from tests.browser.conftest import broken_rules, sign_in
from tests.factories import RowFactory, TargetLineFactory
from tests.folding_cabin import SCHEDULES, STATES

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def checks(page, cast, live_server):
    """The address of a check of the folding cabin, for its student."""
    Brief.objects.filter(pk=cast.studio.brief.pk).update(states=STATES)
    way = {"id": "T70", "check": "way_to_bed", "rule": "at least", "value": "700 mm"}
    TargetLineFactory(brief=cast.studio.brief, cells=way)
    for schedule, rows in SCHEDULES.items():
        for cells in rows:
            RowFactory(package=cast.scheme.package, schedule=schedule, cells=cells)
    sign_in(page, cast, cast.student, live_server.url)
    return lambda key: live_server.url + reverse("show-check", args=[cast.scheme.pk, key])


def test_a_check_shows_where_its_figure_lies(page, checks):
    page.goto(checks("T70"))
    drawing = page.get_by_role("img", name=re.compile("^Plan, night: Way to each bed"))
    expect(drawing).to_be_visible()
    expect(drawing).to_contain_text("533")
    assert broken_rules(page) == []

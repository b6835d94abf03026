"""In which order a check sheet stands on its page."""

import re

import pytest
from django.urls import reverse

from criteria.findings import State
from criteria.units import System
from reviews.pages.check_sheet_page import Order, sheet_page
from reviews.reading.package_checking import draft
from tests.factories import RowFactory, TargetLineFactory

TARGETS = [
    ("T10", "water_days", "2"),  # 100 L: 2.5 days of 40 L a day
    ("T11", "floor_area", "10"),  # 12 m²: over by a fifth
    ("T12", "clear_height", "2.5"),  # 2.0 m: short by a fifth and more
    ("T13", "payload", "1"),  # nothing typed
    ("T14", "room_floor", "12"),  # on the line
]


@pytest.fixture
def sheet(cast):
    brief = cast.studio.brief
    brief.target_lines.all().delete()
    brief.site = {"people": "4", "water_l_pd": "10"}
    brief.save()
    for ref, check, value in TARGETS:
        rule = "at most" if check in ("floor_area", "payload") else "at least"
        cells = {"id": ref, "check": check, "rule": rule, "value": value}
        TargetLineFactory(brief=brief, cells=cells)
    package = cast.scheme.package
    room = {"mark": "R1", "room": "Day", "use": "day", "floor_m2": "12", "clear_height_m": "1.9"}
    tank = {"mark": "T1", "holds": "potable", "litres": "100", "usable_share": "1"}
    RowFactory(package=package, schedule="rooms", cells=room)
    RowFactory(package=package, schedule="tanks", cells=tank)
    return draft(package)


def page_of(checked, order=Order.WORST):
    return sheet_page(checked.told, checked.package, System.METRIC, order=order)


def refs(page):
    return [[line.mark for line in group.lines] for group in page.groups]


def test_the_worst_stands_first_then_what_is_not_known_then_the_line(sheet):
    page = page_of(sheet)
    assert refs(page) == [["T12", "T11", "T13", "T14", "T10"]]
    assert [line.state for line in page.groups[0].lines] == [
        State.SHORT, State.OVER, State.NO_DATA, State.ON_THE_LINE, State.MEETS,
    ]  # fmt: skip


def test_by_topic_each_stands_under_its_own_and_none_is_lost(sheet):
    page = page_of(sheet, Order.TOPIC)
    assert sorted(ref for group in refs(page) for ref in group) == [ref for ref, *_ in TARGETS]
    for group in page.groups:
        assert {line.finding.topic for line in group.lines} == {group.title}


@pytest.mark.parametrize(
    ("order", "first"), [("", "T12"), ("brief", "T10"), ("topic", "T10"), ("<x>", "T12")]
)
def test_the_order_is_that_of_the_address(cast, sheet, order, first):
    address = reverse("show-checks", args=[cast.scheme.pk])
    page = cast.client(cast.student).get(address, {"order": order}).content.decode()
    at = {ref: page.index(f'id="check-{ref}"') for ref, *_ in TARGETS}
    assert min(at, key=at.get) == first


def test_every_check_leads_to_its_working(cast, sheet):
    page = cast.client(cast.student).get(reverse("show-checks", args=[cast.scheme.pk]))
    for ref, *_ in TARGETS:
        assert reverse("show-check", args=[cast.scheme.pk, ref]) in page.content.decode()


def test_what_misses_stands_over_the_rest_each_with_its_figure(cast, sheet):
    """Short or over, never what isn't known."""
    assert [each.line.mark for each in page_of(sheet).worst] == ["T12", "T11"]
    text = cast.client(cast.student).get(reverse("show-checks", args=[cast.scheme.pk]))
    worst = text.content.decode().partition('class="worst"')[2].partition("</section>")[0]
    assert re.findall(r'<strong class="figure">(.*?)</strong>', worst) == ["1.90 m", "12.0 m²"]
    assert worst.count("<figure>") == worst.count('class="worst-bar"') == 2

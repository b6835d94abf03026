"""The plan by day and by night, side by side over the schedules that it is drawn of."""

import re

import pytest
from django.urls import reverse

from reviews.models import Brief, Row
from reviews.pages import schedule_drawing
from tests.factories import RevisionFactory, RowFactory
from tests.folding_cabin import SCHEDULES, STATES
from tests.reviews.jury_steps import read, sheet_url
from tests.reviews.schedule_steps import HTMX, at, saved


@pytest.fixture
def client(cast):
    Brief.objects.filter(pk=cast.studio.brief.pk).update(states=STATES)
    for schedule, rows in SCHEDULES.items():
        for cells in rows:
            RowFactory(package=cast.scheme.package, schedule=schedule, cells=cells)
    return cast.client(cast.student)


@pytest.fixture
def shown(cast, client):
    def text(slug):
        return client.get(reverse("show-schedule", args=[cast.scheme.pk, slug])).content.decode()

    return text


def said(text):
    """Title and first words of each plan that stands beside another."""
    return re.findall(r'-half-title">(.*?)</title><desc [^>]*>(.*?)\.', text)


@pytest.mark.parametrize("slug", ["rooms", "furniture", "furniture_by_state", "rooms_by_state"])
def test_day_and_night_stand_side_by_side(shown, slug):
    text = shown(slug)
    assert said(text) == [
        ("Plan, day", "Beds made: U4"),
        ("Plan, night", "Beds made: U1, U4"),
    ]
    assert text.index('id="plans"') < text.index('id="editor"')
    assert "2 things not given" in text


def test_other_schedules_have_none(shown):
    assert 'id="plans"' not in shown("windows")


def test_without_states_there_is_one_plan(cast, shown):
    Brief.objects.update(states=[])
    Row.objects.filter(schedule="furniture_by_state").delete()
    assert [title for title, _ in said(shown("rooms"))] == ["Plan"]


def test_rooms_that_say_no_place_have_no_plan(cast, shown):
    for row in Row.objects.filter(schedule="rooms"):
        Row.objects.filter(pk=row.pk).update(cells=row.cells | {"at_x": "", "at_y": ""})
    assert 'id="plans"' not in shown("rooms")


def test_rows_that_make_no_plan_say_so(cast, shown):
    for row in Row.objects.filter(schedule="rooms"):
        Row.objects.filter(pk=row.pk).update(cells=row.cells | {"width_m": "", "depth_m": ""})
    assert "Nothing can be drawn yet" in shown("rooms")
    Brief.objects.update(states=[{"state": "day", "kind": "noon"}])
    assert "Nothing can be drawn yet" in shown("rooms")


def test_a_loft_is_a_plan_of_its_own_drawn_once_where_nothing_in_it_changes(cast, shown):
    row = Row.objects.get(schedule="rooms", cells__mark="R3")
    Row.objects.filter(pk=row.pk).update(cells=row.cells | {"level": "1"})
    titles = [title for title, _ in said(shown("rooms"))]
    assert titles == ["Plan, day", "Plan, day and night: level 1", "Plan, night"]


def test_it_follows_the_typing_and_pays_nothing_where_nothing_changed(
    cast, client, shown, monkeypatch
):
    shown("furniture")
    row = Row.objects.get(schedule="furniture", cells__mark="U4")
    address = at("save-row", cast.scheme, row.pk, slug="furniture")
    text = client.post(address, saved(row, night="0"), **HTMX).content.decode()
    assert ("Plan, day", "Beds made: none") in said(text)
    assert "Heights on one floor line" in text

    def never(*args):
        raise AssertionError("drawn again")

    monkeypatch.setattr(schedule_drawing, "plans_in_states", never)
    assert len(said(shown("furniture"))) == 2


def test_a_jury_sheet_begins_with_the_plans_of_the_revision_that_it_shows(cast, client):
    contents = {
        "statement": "",
        "site": dict(cast.studio.brief.site),
        "states": STATES,
        "sheets": [],
        "schedules": SCHEDULES,
        "targets": [],
    }
    RevisionFactory(scheme=cast.scheme, crit=cast.crit, contents=contents)
    Row.objects.filter(schedule="furniture").delete()
    text = read(cast.client(cast.seat), sheet_url(cast))
    plans, levels = text.index("plans-fold"), text.index('id="levels"')
    assert said(text[plans:levels]) == [
        ("Plan, day", "Beds made: U4"),
        ("Plan, night", "Beds made: U1, U4"),
    ]


def test_a_jury_sheet_without_placed_rooms_begins_without_a_plan(cast):
    RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    assert "plans-fold" not in read(cast.client(cast.seat), sheet_url(cast))

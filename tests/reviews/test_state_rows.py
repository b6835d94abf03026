"""Rows by state on their page: beside their base row, what isn't typed shows as it stands there."""

import pytest
from django.urls import reverse

from criteria.schedules import SCHEDULES, beside
from criteria.units import System
from reviews.pages.schedule_page import schedule_page
from tests.factories import RowFactory

BY_SLUG = {schedule.slug: schedule for schedule in SCHEDULES}
BENCH = {"mark": "U1", "item": "Bench", "kind": "seat", "day": "3", "seats_at_night": "1",
         "night": "0", "height_mm": "450", "l": "1830"}  # fmt: skip


@pytest.fixture
def bench(cast):
    package, brief = cast.scheme.package, cast.studio.brief
    brief.states = [{"state": "storm", "kind": "night"}]
    brief.save()
    RowFactory(package=package, schedule="furniture", cells=BENCH)
    for state in ("storm", "day"):
        cells = {"mark": "U1", "state": state, "w": "1400"}
        RowFactory(package=package, schedule="furniture_by_state", cells=cells)
    return package


def placeholders(package, system, at):
    page = schedule_page(package, BY_SLUG["furniture_by_state"], system)
    return {cell.column.head: cell.placeholder for cell in page.lines[at].cells}


def test_a_blank_cell_shows_in_grey_what_the_base_row_has(bench):
    grey = placeholders(bench, System.METRIC, 0)
    assert (grey["l"], grey["h"], grey["seats"], grey["sleeps"]) == ("1830", "450", "1", "0")
    assert placeholders(bench, System.METRIC, 1)["seats"] == "3"  # by day


def test_it_does_so_in_the_readers_units(bench):
    assert placeholders(bench, System.US, 0)["h"] == "450 mm"  # as typed, under inches


def test_a_base_schedule_and_its_rows_by_state_lead_to_each_other(cast, bench):
    client = cast.client(cast.student)
    for here, there in (("furniture", "furniture_by_state"), ("furniture_by_state", "furniture")):
        page = client.get(reverse("show-schedule", args=[cast.scheme.pk, here])).content.decode()
        assert reverse("show-schedule", args=[cast.scheme.pk, there]) in page


@pytest.mark.parametrize(
    ("slug", "others"),
    [
        ("rooms", ["rooms_by_state"]),
        ("doors", ["openings_by_state"]),
        ("openings_by_state", ["windows", "doors"]),
        ("tanks", ["tanks_by_state"]),
        ("loads", []),
    ],
)
def test_what_stands_beside_a_schedule(slug, others):
    assert [schedule.slug for schedule in beside(BY_SLUG[slug])] == others


def test_it_stands_behind_its_base_in_every_list():
    slugs = [schedule.slug for schedule in SCHEDULES]
    for schedule in SCHEDULES:
        for base in getattr(schedule.row, "of", ()):
            assert slugs.index(base) < slugs.index(schedule.slug)


def test_the_checks_that_read_the_base_are_those_of_a_row_by_state(cast, bench):
    base = schedule_page(bench, BY_SLUG["furniture"], System.METRIC)
    own = schedule_page(bench, BY_SLUG["furniture_by_state"], System.METRIC)
    assert {line.key for line in base.checks} <= {line.key for line in own.checks}


def test_a_row_whose_base_is_gone_has_no_grey_and_says_why(cast, bench):
    bench.rows.filter(schedule="furniture").delete()
    assert set(placeholders(bench, System.METRIC, 0).values()) == {""}
    page = cast.client(cast.student).get(
        reverse("show-schedule", args=[cast.scheme.pk, "furniture_by_state"])
    )
    assert "Read “U1”. Expected a mark of the furniture schedule" in page.content.decode()


def line_of(client, scheme, slug="furniture"):
    page = client.get(reverse("show-schedule", args=[scheme.pk, slug]))
    return page, page.context["page"].lines[0].in_states


def test_beneath_a_row_stands_what_differs_of_it_and_which_states_say_nothing(cast, bench):
    cast.studio.brief.states = [
        {"state": "storm", "kind": "night"},
        {"state": "packed", "kind": "road"},
    ]
    cast.studio.brief.save()
    page, said = line_of(cast.client(cast.student), cast.scheme)
    assert [(each.state, each.words) for each in said.differs] == [
        ("storm", "width 1400 mm"),
        ("day", "width 1400 mm"),
    ]
    assert said.others == ("packed",)
    assert "storm<span" in page.content.decode()


def test_a_state_is_begun_from_its_base_row(cast, bench):
    client = cast.client(cast.student)
    there = reverse("show-schedule", args=[cast.scheme.pk, "furniture_by_state"])
    page = client.get(there, {"key": ["U1", "packed"]})
    begun = {cell.column.head: cell.text for cell in page.context["page"].new.cells}
    assert (begun["mark"], begun["state"], begun["w"]) == ("U1", "packed", "")


def test_a_row_of_a_building_that_does_not_change_has_nothing_beneath_it(cast):
    RowFactory(package=cast.scheme.package, schedule="furniture", cells=BENCH)
    assert line_of(cast.client(cast.student), cast.scheme)[1] is None

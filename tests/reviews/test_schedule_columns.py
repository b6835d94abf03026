"""Which columns a schedule shows first: what the brief asks for, and what is filled."""

import pytest
from django.urls import reverse

from criteria.schedules import BY_SLUG, SCHEDULES
from reviews.pages.schedule_columns import beyond, tiers_of
from tests.factories import RowFactory, TargetLineFactory

WINDOWS = BY_SLUG["windows"]


def asked(records=(), checks=("daylight_ratio",), slug="windows"):
    return [column.head for column in tiers_of(BY_SLUG[slug], records, checks).asked]


def test_what_a_check_of_the_brief_reads_is_shown_and_nothing_is_lost():
    tiers = tiers_of(WINDOWS, [], ["daylight_ratio"])
    heads = [column.head for column in tiers.asked]
    assert {"mark", "room", "n", "glass_w", "glass_h"} <= set(heads)
    assert "shutter_r" not in heads
    assert sorted((*tiers.asked, *tiers.more), key=WINDOWS.columns.index) == list(WINDOWS.columns)


def test_a_filled_column_is_never_hidden_though_it_cannot_be_read():
    assert "shutter_r" in asked([{"mark": "W1", "shutter_r": "warm"}])
    assert "shutter_r" not in asked([{"mark": "W1", "shutter_r": "  "}])


def test_columns_stand_in_the_schedules_own_order():
    heads = asked([{"shutter_r": "1"}], ["daylight_ratio", "escape_window"])
    assert heads == sorted(heads, key=WINDOWS.heads.index)


@pytest.mark.parametrize(
    ("slug", "checks"),
    [
        ("windows", ()),  # nothing reads it
        ("windows", ("a check of another library",)),
        ("legs", ("leg_load",)),  # short
        ("furniture_by_state", ("way_to_bed",)),  # by state
        ("transport", ("payload",)),  # one row
    ],
)
def test_all_are_shown_where_there_is_nothing_to_choose(slug, checks):
    assert asked((), checks, slug) == list(BY_SLUG[slug].heads)


def place(cast, name="show-schedule"):
    return reverse(name, args=[cast.scheme.pk, "windows"])


def shown(client, cast):
    return [head.column.head for head in client.get(place(cast)).context["page"].heads]


def test_the_choice_is_remembered_on_the_device_and_taken_back(cast):
    client = cast.client(cast.student)
    few = shown(client, cast)
    assert "shutter_r" not in few
    client.post(place(cast, "choose-columns"), {"columns": "all"})
    assert shown(client, cast) == list(WINDOWS.heads)
    assert client.cookies["columns"].value == "windows"  # others keep to what is asked for
    client.post(place(cast, "choose-columns").replace("windows", "doors"), {"columns": "all"})
    assert client.cookies["columns"].value == "doors.windows"
    client.post(place(cast, "choose-columns"), {"columns": "nonsense"})
    assert client.cookies["columns"].value == "doors"
    assert shown(client, cast) == few


def test_what_is_not_shown_stays_when_its_row_is_kept(cast):
    row = RowFactory(
        package=cast.scheme.package, schedule="windows", cells={"mark": "W1", "n": "1", "kept": "1"}
    )
    client = cast.client(cast.student)
    save = reverse("save-row", args=[cast.scheme.pk, "windows", row.pk])
    client.post(save, {"version": row.version, "cell-n": "2"})
    row.refresh_from_db()
    assert (row.cells["n"], row.cells["kept"]) == ("2", "1")


def test_why_a_cell_cannot_be_read_stands_in_the_width_of_its_row(cast):
    RowFactory(
        package=cast.scheme.package, schedule="windows", cells={"mark": "W1", "glass_w": "wide"}
    )
    page = cast.client(cast.student).get(place(cast)).content.decode()
    beneath = page.split('<tr class="asks"')[1].split("</tr>")[0]
    assert "<strong>Glass w</strong> Read “wide”. Expected a length" in beneath
    assert page.count("Read “wide”") == 1


def test_every_schedule_is_a_link_away_and_those_beside_it_a_step(cast):
    """Where a brief asks for none in particular."""
    cast.studio.brief.target_lines.all().delete()
    page = cast.client(cast.student).get(place(cast)).content.decode()
    for slug in BY_SLUG:
        there = reverse("show-schedule", args=[cast.scheme.pk, slug])
        is_of_package = slug not in ("site", "climate", "states", "cases", "windows")
        assert (f'href="{there}"' in page) is is_of_package, slug
    order = [slug for slug in BY_SLUG if slug not in ("site", "climate", "states", "cases")]
    at = order.index("windows")
    for rel, slug in (("prev", order[at - 1]), ("next", order[at + 1])):
        assert f'rel="{rel}" href="{place(cast).replace("windows", slug)}"' in page


def test_whoever_types_is_led_through_the_schedules_that_the_brief_reads():
    checks = ["way_to_bed", "water_days"]
    way, at = [], BY_SLUG["rooms"]
    while at:
        way.append(at.slug)
        at = beyond(at, checks, 1)
    assert {"rooms", "doors", "furniture", "tanks"} <= set(way)
    assert "precedents" not in way
    assert beyond(BY_SLUG["tanks"], checks, -1).slug == way[way.index("tanks") - 1]
    assert beyond(BY_SLUG["precedents"], checks, -1).slug == way[-1]
    assert beyond(BY_SLUG["rooms"], (), 1) == SCHEDULES[1]
    assert beyond(SCHEDULES[-1], (), 1) is None


def test_a_package_lists_what_a_target_reads_though_nothing_is_typed(cast):
    cells = {"id": "T90", "check": "water_days", "rule": "at least", "value": "7"}
    TargetLineFactory(brief=cast.studio.brief, cells=cells)
    text = cast.client(cast.student).get(reverse("show-package", args=[cast.scheme.pk]))
    listed, _, folded = text.content.decode().partition("that nothing asks for</summary>")
    assert "A target reads it" in listed
    tanks = reverse("show-schedule", args=[cast.scheme.pk, "tanks"])
    assert tanks in listed
    assert tanks not in folded

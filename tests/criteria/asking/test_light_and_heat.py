"""Questions of light and heat that follow the package and the site."""

import pytest

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import check_sheet
from criteria.package import read_package


def asked(**tables):
    lists = {slug: rows if isinstance(rows, list) else [rows] for slug, rows in tables.items()}
    hut = read_package(lists).package
    return [question.text for question in likely_questions(check_sheet(hut, ()), hut)]


SNOW = "Snow lies on the panels at 30°. Who sweeps them, standing on what?"


@pytest.mark.parametrize(
    ("climate", "is_asked"),
    [
        ([], True),
        ([{"month": "Jan", "snow_cm": "20"}, {"month": "Jul", "snow_cm": "0"}], True),
        ([{"month": "Jan", "snow_cm": "0"}, {"month": "Jul", "snow_cm": "0"}], False),
    ],
)
def test_snow_is_asked_about_where_the_climate_has_it(climate, is_asked):
    said = asked(power={"pv_kwp": "2", "tilt": "30"}, climate=climate)
    assert (SNOW in said) is is_asked


def test_the_view_from_bed_is_asked_of_every_room_with_sleepers():
    loft = {"mark": "R1", "room": "Hearth", "use": "day", "floor_m2": "20", "sleepers": "2"}
    windows = [
        {"mark": "W1", "room": "R1", "sill": "900"},
        {"mark": "W2", "room": "R1", "sill": "300", "opens": "roof light"},
    ]
    words = "The lowest sill of the sleeping rooms is 900 mm. Lying down, what can be seen?"
    assert words in asked(rooms=loft, windows=windows)
    assert words not in asked(rooms=loft | {"sleepers": ""}, windows=windows)


# A heat balance that lacks a cell asks nothing of its shares, and no page fails of it.
@pytest.mark.parametrize("cell", ["design_outside_c", "fresh_air_l_s", "air_wh_m3k"])
def test_without_a_heat_balance_nothing_is_asked_of_it(cell):
    from tests.criteria.checks.box import BOX, SITE

    full = asked(**BOX)
    bare = asked(**(BOX | {"site": SITE | {cell: "", "altitude_m": ""}}))
    assert any("of the loss. Would you insulate, or recover?" in text for text in full)
    assert not any("of the loss. Would you insulate, or recover?" in text for text in bare)


@pytest.mark.parametrize(
    ("climate", "wind"),
    [
        ([], "wind"),
        (
            [{"month": "Jan", "wind_ms": "8.9"}, {"month": "Jul", "wind_ms": "4"}],
            "wind of 8.9 m/s in the mean",
        ),
    ],
)
def test_the_windiest_month_stands_in_what_is_carried_by_hand(climate, wind):
    piece = {"mark": "M1", "piece": "Door", "n": "1", "kg_each": "80"}
    said = asked(pieces=piece, climate=climate)
    assert f"Door is 80 kg. Two people, no crane, {wind}: can they hold it?" in said

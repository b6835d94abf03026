"""Questions follow the site and who lives there: no snow in a desert, no strangers at home."""

import pytest

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import check_sheet
from criteria.command.folder import read_folder
from criteria.package import read_package
from tests.criteria.variants import DATA

COLD = {"design_outside_c": "-18"}
HOT = {"design_outside_c": "8"}
DRY = [{"month": "Jan", "mean_min_c": "9", "snow_cm": "0"}, {"month": "Jul", "snow_cm": "0"}]
WHITE = [{"month": "Jan", "snow_cm": "20"}, {"month": "Jul", "snow_cm": "0"}]


def asked(**tables):
    lists = {slug: rows if isinstance(rows, list) else [rows] for slug, rows in tables.items()}
    hut = read_package(lists).package
    return {q.template: q.text for q in likely_questions(check_sheet(hut, ()), hut)}


DOOR = {"mark": "D1", "place": "Porch", "outside": "yes"}
PANELS = {"pv_kwp": "2", "tilt": "30"}


@pytest.mark.parametrize(
    ("site", "climate", "may_snow"),
    [
        (COLD, [], True),
        ({}, [], True),  # nothing says how cold it gets
        (COLD, WHITE, True),
        (COLD, DRY, False),  # cold and dry: the climate knows
        (HOT, [], False),
        (HOT, DRY, False),
        (HOT, WHITE, True),
        (HOT | {"drift_m": "2.2"}, DRY, True),  # the brief says that it drifts
    ],
)
def test_snow_is_asked_about_only_where_it_may_lie(site, climate, may_snow):
    said = asked(site=site, climate=climate, doors=DOOR, power=PANELS)
    assert ("Inwards, or against the snow?" in said[65]) is may_snow
    assert (26 in said) is may_snow


def test_what_is_not_said_of_the_months_is_not_taken_for_no_snow():
    assert 26 in asked(site=COLD, climate=[{"month": "Jan", "snow_cm": ""}], power=PANELS)


@pytest.mark.parametrize(("site", "is_asked"), [(COLD, True), ({}, True), (HOT, False)])
def test_frozen_water_is_asked_about_only_where_it_may_freeze(site, is_asked):
    tank = {"mark": "T1", "holds": "potable", "litres": "500"}
    assert (31 in asked(site=site, tanks=tank)) is is_asked


@pytest.mark.parametrize(
    ("guests", "is_asked"),
    [("12", True), ("0", False), ("", False)],
)
def test_only_guests_are_people_who_have_just_met(guests, is_asked):
    room = {"mark": "R1", "room": "Bunk room", "use": "sleep", "floor_m2": "9", "sleepers": "2"}
    assert (45 in asked(site={"people": "13", "guests": guests}, rooms=room)) is is_asked


def test_others_know_a_precedent_only_where_a_cohort_says_so():
    hut = read_package({"precedents": [{"mark": "P1", "building": "Barn"}]}).package
    sheet = check_sheet(hut, ())
    assert 82 not in [q.template for q in likely_questions(sheet, hut)]
    known = likely_questions(sheet, hut, known_too=["Barn (2)"], cohort=3)
    assert [q.text for q in known if q.template == 82] == [
        "Of the cohort’s 3 schemes several study the same: Barn (2). What did you see that the "
        "others did not?"
    ]


FLUE = "From where, doors shut, and who sweeps its flue?"


@pytest.mark.parametrize(
    ("plant", "said"),
    [
        ({"heater": "wood stove"}, f"Wood stove: nothing says where its air comes from. {FLUE}"),
        (
            {"heater": "gas heater", "fire_air": "nothing said yet"},
            f"Gas heater: nothing says where its air comes from. {FLUE}",
        ),
        (
            {"heater": "wood stove", "burns": "no", "fire_air": "from the room"},
            f"Wood stove: its air comes from the room. {FLUE}",
        ),
        ({"burns": "yes"}, f"What burns indoors: nothing says where its air comes from. {FLUE}"),
        ({"heater": "wood stove", "fire_air": "duct from outside"}, None),
        ({"heater": "wood stove", "fire_air": "sealed appliance"}, None),
        ({"heater": "heat pump"}, None),
        ({}, None),
    ],
)
def test_what_burns_without_air_of_its_own_gets_its_flue_question(plant, said):
    assert asked(plant=plant).get(12) == said


@pytest.mark.parametrize(
    ("scheme", "rev", "is_asked"),
    [("H03", "B", True), ("H07", "A", True), ("H07", "B", False), ("E11", "C", False)],
)
def test_the_stove_of_the_demo_gets_its_flue_question(scheme, rev, is_asked):
    """H07 brings its fire a duct after the first crit; E11 has no stove."""
    reading = read_folder(DATA, scheme=scheme, rev=rev)
    said = likely_questions(check_sheet(reading.package, reading.targets), reading.package)
    (found,) = [q for q in said if q.template == 12] or [None]
    assert (found is not None and found.is_hazard and FLUE in found.text) is is_asked


@pytest.mark.parametrize(("scheme", "rev"), [("H03", "B"), ("E11", "C")])
def test_the_demo_is_asked_about_snow_where_it_snows(scheme, rev):
    reading = read_folder(DATA, scheme=scheme, rev=rev)
    sheet = check_sheet(reading.package, reading.targets)
    words = " ".join(q.text for q in likely_questions(sheet, reading.package)).casefold()
    assert ("snow" in words) is (scheme == "H03")

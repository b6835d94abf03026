"""Water supply, daylight and lamps: by hand and at the limit."""

import pytest

from criteria.checks.catalogue import CATALOGUE
from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


FIXTURES = [
    {"mark": "F1", "use": "Wash", "uses_a_day": "5", "flow": "5.7", "minutes": "0.5",
     "goes_to": "grey"},
    {"mark": "F2", "use": "Drink", "uses_a_day": "1", "l_each": "3", "goes_to": "nowhere"},
]  # fmt: skip


# 5 × 5.7 × 0.5 = 14.25 L and 3 L (by hand).
@pytest.mark.parametrize(
    ("check", "target", "value"),
    [("fixture_use", "17.25", "17.25 L/day"), ("grey_made", "14", "14.25 L/day")],
)
def test_water_use_by_fixture(package, hold, check, target, value):
    assert hold(package(fixtures=FIXTURES), check, target).write_value() == value


def test_a_fixture_without_a_flow_is_no_data_with_its_name(package, hold):
    rows = [{"mark": "F1", "use": "Shower", "uses_a_day": "1", "minutes": "5"}]
    found = hold(package(fixtures=rows), "fixture_use", "40")
    assert found.missing == ("F1, Flow (water uses)",)


# 34 mm on 80 m² keeping 0.8 is 2,176 L; 13 × 12 × 30 = 4,680 L: 0.46 (by hand).
def test_rain_in_the_driest_open_month(package, hold):
    hut = package(
        envelope={"part": "roof", "layer": "Sheet", "gross_area_m2": "80"},
        site={"people": "13", "water_l_pd": "12"},
        climate=[
            {"month": "Oct", "rain_mm": "34", "open": "yes"},
            {"month": "Jul", "rain_mm": "139", "open": "yes"},
            {"month": "Jan", "rain_mm": "0", "open": "no"},
        ],
    )
    found = hold(hut, "rain_catch", "1")
    assert (found.write_value(), found.write_notes()) == ("0.46", ("driest open month: Oct",))


def test_rain_falls_on_the_roof_that_loses_the_heat(package, hold):
    roofs = [{"part": "roof", "layer": "Sheet", "gross_area_m2": each} for each in ("8", "80")]
    found = hold(
        package(
            envelope=roofs,
            site={"people": "13", "water_l_pd": "12"},
            climate=[{"month": "Oct", "rain_mm": "34"}],
        ),
        "rain_catch",
        "0.3",
    )
    one = "roof, one gross area in place of 2 that differ (envelope layers)"
    assert (found.state, found.missing) == (State.NO_DATA, (one,))


TANKS = [
    {
        "mark": "T1",
        "holds": "potable",
        "litres": "600",
        "usable_share": "0.9",
        "stands": "outside or unheated",
    },
    {"mark": "T2", "holds": "solids", "litres": "30", "usable_share": "0.9", "place": "toilet"},
]


@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("tank_mass", "500", "600 kg", OVER),
        ("tank_frost", "yes", "not: T1", SHORT),
        ("carry_mass", "25", "27 kg", OVER),
        ("water_turnover", "5", "9.0 days", OVER),
    ],
)
def test_tanks_by_hand(package, hold, check, target, value, state):
    found = hold(package(tanks=TANKS, site={"people": "4", "water_l_pd": "15"}), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_slugs_and_titles_are_used_once():
    for texts in ([c.slug for c in CATALOGUE], [c.title for c in CATALOGUE]):
        assert len(set(texts)) == len(texts)

"""Each check of the year is drawn by the hours that decided it, or not at all."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.drawing.catalogue import BY_CHECK
from criteria.drawing.drawing import Field
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Measured
from criteria.units import System
from tests.criteria.hourly.year_hut import year_hut

YEARLY = [check.slug for check in CHECKS.values() if check.is_yearly]
TITLES = {
    "cold_hours": "without plant",
    "coldest_night": "coldest night",
    "hours_not_held": "worst week",
    "fuel_year": "months",
    "dark_hours": "battery",
}


def _ready(package, check):
    asked = Asked(title="Asked", measured=Measured(values=(1.0,)))
    return BY_CHECK[check].ready(Seen(package=package, check=check, asked=asked))


@pytest.fixture(scope="module")
def hut():
    return year_hut()


@pytest.mark.parametrize("check", [slug for slug in YEARLY if slug != "rain_days"])
def test_a_check_of_the_year_is_drawn(hut, check):
    drawing = _ready(hut, check).of(Field(width_mm=120, system=System.METRIC))
    assert drawing.marks
    assert TITLES.get(check, "") in drawing.title.lower()


def test_what_a_year_lacks_leaves_nothing_to_draw():
    assert _ready(year_hut(site={"altitude_m": ""}), "cold_hours") is None


def test_without_tanks_that_catch_rain_or_without_power_nothing_is_drawn_of_them(hut):
    assert _ready(hut, "rain_days") is None
    dark = year_hut(power={"pv_kwp": "", "battery_kwh": ""})
    assert _ready(dark, "dark_hours") is None
    tank = {"mark": "T1", "holds": "rain", "litres": "500", "usable_share": "1", "catch_m2": "20"}
    caught = year_hut(tanks=[tank], site={"water_l_pd": "12"})
    assert _ready(caught, "rain_days") is not None

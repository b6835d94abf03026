"""The weather of a package: a file brought to its site, or its twelve months."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.hourly.site_weather import at_altitude, weather_of
from criteria.hourly.weather import Origin, Place, Spell
from criteria.package import Package, read_package
from criteria.schedules.site import MONTHS
from criteria.typed.cells import Lacking
from criteria.typed.tables import RefusedCell
from tests.criteria.hourly.epw_made import denver

SITE = {"place": "Harl Saddle", "latitude": "46.7", "altitude_m": "2640", "design_outside_c": "-18"}
YEAR = tuple(
    {
        "month": month,
        "mean_c": str(mean),
        "mean_min_c": str(mean - 5),
        "sun_hours_60s": "3.5",
        "wind_ms": "4",
        "snow_cm": "0",
    }
    for month, mean in zip(MONTHS, (-8, -8, -5, -1, 4, 8, 11, 11, 7, 3, -3, -7), strict=True)
)


def package(site: dict[str, str] | None = None, climate: object = YEAR) -> Package:
    return read_package({"site": [SITE | (site or {})], "climate": climate}).package  # type: ignore[dict-item]


def lacks(of: Package) -> str:
    with pytest.raises(Lacking) as lacking:
        weather_of(of)
    return str(lacking.value)


def changed(month: int, **cells: str) -> tuple[dict[str, str], ...]:
    return (*YEAR[:month], YEAR[month] | cells, *YEAR[month + 1 :])


def test_twelve_months_make_a_year():
    made = weather_of(package({"longitude": "10.2", "time_zone_h": "1"}))
    assert (made.origin, made.name) == (Origin.MONTHS, "Harl Saddle")
    assert made.place == Place(latitude_deg=46.7, longitude_deg=10.2, zone_h=1.0, altitude_m=2640.0)
    assert made.without == (Spell.HOT,)
    assert made.air_k.min() == pytest.approx(255.15)
    assert made.said == (
        "Months keep their means; their days differ as clear and dark days do.",
        "Three days with nights of -18.0 °C are laid into Jan.",
    )


@pytest.mark.parametrize(
    ("site", "place", "said"),
    [
        ({}, (0.0, 0.0), "Neither longitude nor time zone is given: its clock is the sun's."),
        (
            {"time_zone_h": "-7"},
            (-105.0, -7.0),
            "No longitude is given: -105°, the middle of its time zone, stands.",
        ),
        (
            {"longitude": "10.2"},
            (10.2, 1.0),
            "No time zone is given: the whole hour by its longitude, 1 h, stands.",
        ),
    ],
)
def test_what_is_assumed_of_the_clock_is_said(site, place, said):
    made = weather_of(package(site))
    assert (made.place.longitude_deg, made.place.zone_h) == place
    assert made.said[-1] == said


def test_a_place_without_a_name_and_snow_that_isnt_given():
    made = weather_of(package({"place": ""}, changed(2, snow_cm="")))
    assert made.name == "the site"
    assert made.said[-1] == "Snow isn't given for Mar: none lies then."
    assert weather_of(package(climate=changed(2, snow_cm="40"))).has_snow.sum() == 744


@pytest.mark.parametrize(
    ("site", "climate", "said"),
    [
        ({"latitude": ""}, YEAR, "Latitude (site sheet)"),
        ({"altitude_m": ""}, YEAR, "Altitude (site sheet)"),
        ({"design_outside_c": "cold"}, YEAR, "Design outside (site sheet): read “cold”"),
        ({}, (), "rows of the climate by month"),
        ({}, YEAR[:10], "a row for Nov, Dec (climate by month)"),
        ({}, changed(3, wind_ms=""), "Apr, Wind (climate by month)"),
        ({}, changed(3, snow_cm="deep"), "Apr, Snow lying (climate by month): read “deep”"),
        (
            {},
            changed(11, sun_hours_60s="12"),
            "Dec, Sun-hours (climate by month): read “12.0”; expected at most ",
        ),
        (
            {},
            changed(0, mean_min_c="3"),
            "Jan, Mean minimum (climate by month): read “3.0”; expected at most the month's mean",
        ),
    ],
)
def test_what_lacks_is_named(site, climate, said):
    assert lacks(package(site, climate)).startswith(said)


def test_a_file_stands_in_place_of_the_months():
    there = package({"latitude": "39.7", "altitude_m": "1650"}, ()).but(weather=denver())
    assert weather_of(there) is denver()
    assert there.leniently.weather is denver()


def test_a_file_is_brought_to_the_sites_height():
    """600 m higher: 3.9 K colder, 77,058 Pa in place of 83,011 of the standard atmosphere."""
    there = weather_of(package({"latitude": "39.7", "altitude_m": "2250"}).but(weather=denver()))
    assert there.air_k == pytest.approx(denver().air_k - 3.9)
    assert there.dew_k == pytest.approx(denver().dew_k - 3.9)
    assert (there.pressure_pa / denver().pressure_pa)[0] == pytest.approx(0.9283, abs=1e-4)
    assert (there.long_wave_w_m2 < denver().long_wave_w_m2).all()
    assert there.place.altitude_m == 2250
    assert there.said[-1].startswith("The site stands 600 m higher than the file's station")
    assert "3.9 °C colder" in there.said[-1]
    lower = at_altitude(denver(), 1050.0)
    assert np.allclose(lower.air_k, denver().air_k + 3.9)
    assert "600 m lower" in lower.said[-1]
    assert "3.9 °C warmer" in lower.said[-1]


def test_a_file_of_another_latitude_isnt_used():
    said = lacks(package().but(weather=denver()))
    assert said == (
        "Latitude (site sheet): read “47”; expected a latitude near its weather file's, 39.83°"
    )
    unplaced = replace(denver())
    assert lacks(package({"latitude": ""}).but(weather=unplaced)) == "Latitude (site sheet)"


def test_a_file_that_isnt_as_it_was_kept_is_named():
    """Nothing is made of the months in its stead: it was judged, or is to be, by that file."""
    gone = RefusedCell(0, "", "file", "another", "the year that the brief names")
    said = lacks(package().but(unread={"weather": (gone,)}))
    assert said == ("weather, file: read “another”; expected the year that the brief names")

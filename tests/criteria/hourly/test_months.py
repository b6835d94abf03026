"""A year made of twelve months: means, sun-hours and spells held."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.dates import MONTH_DAYS, MONTH_OF_DAY
from criteria.hourly.months import MonthMeans, MonthRefused, cloud_tenths, weather_of_months
from criteria.hourly.sky import sky_over
from criteria.hourly.sun import positions
from criteria.hourly.weather import Hours, Origin, Spell, Weather
from tests.criteria.hourly.epw_made import DENVER, denver


def by_month(days: Hours) -> Hours:
    return np.bincount(MONTH_OF_DAY, days) / MONTH_DAYS


def sun_h(weather: Weather, tilt_deg: float = 60.0, bearing_deg: float = 180.0) -> Hours:
    plane = sky_over(positions(weather.place), weather).on_plane(tilt_deg, bearing_deg)
    return by_month(plane.total_w_m2.reshape(365, 24).sum(axis=1) / 1000)


def days(hours: Hours) -> Hours:
    return hours.reshape(365, 24)


@cache
def of_denver() -> tuple[MonthMeans, ...]:
    """Denver's own twelve months."""
    year = denver()
    columns = (
        by_month(days(year.air_k).mean(axis=1)),
        by_month(days(year.air_k).min(axis=1)),
        sun_h(year),
        by_month(days(year.wind_m_s).mean(axis=1)),
    )
    names = ("mean_k", "mean_min_k", "sun_h", "wind_m_s")
    return tuple(
        MonthMeans(**dict(zip(names, map(float, row), strict=True)))
        for row in zip(*columns, strict=True)
    )


def with_january(**changed: float) -> tuple[MonthMeans, ...]:
    first, *others = of_denver()
    return (replace(first, **changed), *others)


def test_months_keep_their_means_their_nights_and_their_sun():
    months = of_denver()
    made = weather_of_months(months, DENVER, "Denver")
    assert (made.origin, made.name, made.place) == (Origin.MONTHS, "Denver", DENVER)
    assert by_month(days(made.air_k).mean(axis=1)) == pytest.approx([m.mean_k for m in months])
    lowest = by_month(days(made.air_k).min(axis=1))
    # the lowest hour's mean lies a little above the lowest moment
    assert lowest == pytest.approx([m.mean_min_k for m in months], abs=0.1)
    assert sun_h(made) == pytest.approx([m.sun_h for m in months], rel=2e-3)
    assert by_month(days(made.wind_m_s)[:, 5]) == pytest.approx([m.wind_m_s for m in months])
    assert (made.dew_k <= made.air_k).all()
    assert made.rain_m is None


def test_other_planes_get_the_sun_that_the_file_gives_them():
    """South within 1 %; what an isotropic sky in the search would bring is 9 % too much."""
    made = weather_of_months(of_denver(), DENVER, "Denver")
    for plane, within in (((0, 0), 0.01), ((90, 180), 0.01), ((90, 90), 0.03)):
        asked = sun_h(denver(), *plane).sum()
        assert sun_h(made, *plane).sum() == pytest.approx(asked, rel=within), plane


def test_without_design_figures_it_lacks_its_spells():
    bare = weather_of_months(of_denver(), DENVER, "Denver")
    assert (bare.has_spells, bare.without) == (False, (Spell.COLD, Spell.HOT))
    cold = weather_of_months(of_denver(), DENVER, "Denver", 253.15)
    assert (cold.has_spells, cold.without) == (False, (Spell.HOT,))
    assert bare.air_k.min() > denver().air_k.min() + 8


def test_spells_reach_the_design_figures_and_keep_the_months_sun():
    made = weather_of_months(of_denver(), DENVER, "Denver", 251.15, 311.15)
    assert (made.has_spells, made.without) == (True, ())
    assert made.air_k.min() == pytest.approx(251.15)
    assert made.air_k.max() == pytest.approx(311.15)
    assert days(made.air_k).min(axis=1)[9:12] == pytest.approx([251.15] * 3)
    assert sun_h(made) == pytest.approx([m.sun_h for m in of_denver()], rel=5e-3)
    assert made.said[1:] == (
        "Three days with nights of -22.0 °C are laid into Jan.",
        "Three days with afternoons of 38.0 °C are laid into Jun.",
    )


def test_days_differ_and_clear_ones_swing_more():
    made = weather_of_months(of_denver(), DENVER, "Denver")
    swing = np.ptp(days(made.air_k), axis=1)[:31]
    light = days(made.beam_w_m2 + made.diffuse_w_m2).sum(axis=1)[:31]
    assert np.corrcoef(swing, light)[0, 1] > 0.9
    assert swing.max() > 1.9 * swing.min()


def test_the_southern_half_turns_its_plane_north():
    south = replace(DENVER, latitude_deg=-39.83)
    turned = tuple(of_denver()[(month + 6) % 12] for month in range(12))
    made = weather_of_months(turned, south, "south")
    assert sun_h(made, 60.0, 0.0) == pytest.approx([m.sun_h for m in turned], rel=5e-3)


def test_snow_that_lies_takes_its_part_of_the_sun_hours():
    snow = weather_of_months(with_january(has_snow=True), DENVER, "Denver")
    bare = weather_of_months(of_denver(), DENVER, "Denver")
    assert snow.has_snow[:744].all()
    assert not snow.has_snow[744:].any()
    assert sun_h(snow)[0] == pytest.approx(of_denver()[0].sun_h, rel=2e-3)
    assert snow.diffuse_w_m2[:744].sum() + snow.beam_w_m2[:744].sum() < (
        bare.diffuse_w_m2[:744].sum() + bare.beam_w_m2[:744].sum()
    )


def test_a_month_without_sun_is_dark_and_swings_as_its_means():
    made = weather_of_months(with_january(sun_h=0.0), DENVER, "Denver")
    assert not made.beam_w_m2[:744].any()
    assert not made.diffuse_w_m2[:744].any()
    low = of_denver()[0]
    assert days(made.air_k).min(axis=1)[0] == pytest.approx(low.mean_min_k, abs=0.1)


def test_months_that_cant_be_are_refused():
    with pytest.raises(MonthRefused, match=r"at most 8\.6 h at its latitude") as refused:
        weather_of_months(with_january(sun_h=11.0), DENVER, "Denver")
    assert (refused.value.month, refused.value.what) == (0, "sun_s")
    with pytest.raises(MonthRefused, match="Jan, mean_min_k: expected at most the month's mean"):
        weather_of_months(with_january(mean_min_k=300.0), DENVER, "Denver")
    with pytest.raises(InputError, match="11 months; expected 12"):
        weather_of_months(of_denver()[:11], DENVER, "Denver")


def test_a_polar_site_has_its_night():
    polar = replace(DENVER, latitude_deg=80.0)
    months = tuple(
        replace(month, sun_h=0.0 if index in (0, 1, 9, 10, 11) else 2.0)
        for index, month in enumerate(of_denver())
    )
    made = weather_of_months(months, polar, "polar")
    assert not made.beam_w_m2[:744].any()
    assert sun_h(made)[5] == pytest.approx(2.0, rel=5e-3)
    dark = (replace(months[0], sun_h=0.1), *months[1:])
    with pytest.raises(MonthRefused, match=r"at most 0\.0 h"):
        weather_of_months(dark, polar, "polar")


def test_clouds_by_hand():
    """G/G₀ 0.5: N = 10 (0.5/0.75)^(1/3.4) = 8.88, by hand."""
    assert cloud_tenths(np.array([0.75, 0.8, 0.375, 0.0])) == pytest.approx(
        [0, 0, 8.876, 10], abs=1e-3
    )

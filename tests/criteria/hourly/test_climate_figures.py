"""Figures of a year against slow reckonings, and its light against a published year's."""

import csv
import math
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from statistics import mean, median

import numpy as np
import pytest

from criteria.hourly.climate_figures import climate_figures, diffuse_lx
from criteria.hourly.dates import MONTH_DAYS
from criteria.hourly.months import MonthMeans, weather_of_months
from criteria.hourly.sky import sky_seen
from criteria.hourly.sun import positions
from criteria.hourly.weather import Place, Weather
from tests.criteria.hourly.denver import DENVER, denver
from tests.criteria.hourly.weather_still import still

ENDS = [sum(MONTH_DAYS[:n]) * 24 for n in range(13)]


@cache
def sand_point() -> tuple[Weather, list[float]]:
    """TMY3 703165, Sand Point in Alaska, which pvlib brings along, and its own diffuse light [lx].

    US government data.
    """
    pvlib = pytest.importorskip("pvlib")
    with (Path(pvlib.__file__).parent / "data/703165TY.csv").open() as file:
        next(file)
        rows = list(csv.DictReader(file))

    def of(head: str) -> np.ndarray:
        return np.array([float(row[head]) for row in rows])

    here = Place(latitude_deg=55.317, longitude_deg=-160.517, zone_h=-9, altitude_m=7)
    year = still(
        air_k=of("Dry-bulb (C)") + 273.15,
        dew_k=of("Dew-point (C)") + 273.15,
        beam_w_m2=of("DNI (W/m^2)"),
        diffuse_w_m2=of("DHI (W/m^2)"),
    )
    return replace(year, place=here), of("DH illum (lx)").tolist()


def test_months_are_the_means_of_their_hours_and_of_their_days_lowest():
    year, told = denver(), climate_figures(denver()).months
    for month, (first, end) in zip(told, pairwise(ENDS), strict=True):
        air = year.air_k[first:end].tolist()
        lows = [min(air[at : at + 24]) for at in range(0, len(air), 24)]
        assert month.mean_k == pytest.approx(mean(air))
        assert month.mean_min_k == pytest.approx(mean(lows))
        assert month.wind_m_s == pytest.approx(mean(year.wind_m_s[first:end].tolist()))


def test_design_temperatures_are_the_thirty_sixth_hour_from_either_end():
    """0.4 % of 8,760 hours are 35."""
    told, hours = climate_figures(denver()), sorted(denver().air_k.tolist())
    assert told.heating_k == pytest.approx(hours[35], abs=0.1)
    assert told.cooling_k == pytest.approx(hours[-36], abs=0.1)
    assert told.heating_k < told.months[0].mean_min_k < told.months[6].mean_k < told.cooling_k


@pytest.mark.filterwarnings("ignore:.*dayofyear")
def test_sun_on_the_plane_is_the_second_library_s():
    """pvlib's own sun, sky and plane of Denver's year."""
    pd, pvlib = pytest.importorskip("pandas"), pytest.importorskip("pvlib")
    year = denver()
    middles = pd.date_range("1999-01-01 00:30", periods=8760, freq="h", tz="Etc/GMT+7")
    where = (DENVER.latitude_deg, DENVER.longitude_deg)
    sun = pvlib.solarposition.get_solarposition(middles, *where, altitude=DENVER.altitude_m)
    beam, diffuse = (pd.Series(h, index=middles) for h in (year.beam_w_m2, year.diffuse_w_m2))
    beam = beam.where(sun["zenith"] < 90, 0.0)
    plane = pvlib.irradiance.get_total_irradiance(
        60,
        180,
        sun["zenith"],
        sun["azimuth"],
        dni=beam,
        ghi=beam * np.cos(np.radians(sun["zenith"])) + diffuse,
        dhi=diffuse,
        dni_extra=pvlib.irradiance.get_extra_radiation(middles),
        albedo=0.2,
        model="perez",
    )["poa_global"].fillna(0)
    theirs = plane.groupby(middles.month).sum().to_numpy() / 1000 / np.array(MONTH_DAYS)
    ours = [month.sun_s / 3600 for month in climate_figures(year).months]
    assert ours == pytest.approx(theirs, rel=0.01)


def test_a_year_made_of_months_gives_its_months_again():
    """The way back: what `weather_of_months` was made of comes out of its hours."""
    means = tuple(
        MonthMeans(
            mean_k=275 + 2 * n, mean_min_k=270 + 2 * n, sun_h=2.5 + n % 6 / 4, wind_m_s=3 + n
        )
        for n in range(12)
    )
    told = climate_figures(weather_of_months(means, DENVER, "made"))
    for wanted, month in zip(means, told.months, strict=True):
        assert month.mean_k == pytest.approx(wanted.mean_k, abs=0.05)
        assert month.mean_min_k == pytest.approx(wanted.mean_min_k, abs=0.15)
        assert month.sun_s / 3600 == pytest.approx(wanted.sun_h, rel=0.005)
        assert month.wind_m_s == pytest.approx(wanted.wind_m_s)


def test_the_plane_faces_the_equator():
    south = Place(latitude_deg=-39.83, longitude_deg=-104.65, zone_h=-7, altitude_m=1650)
    even = still(beam_w_m2=500.0, diffuse_w_m2=100.0)
    north_june = climate_figures(replace(even, place=DENVER)).months[5].sun_s
    south_december = climate_figures(replace(even, place=south)).months[11].sun_s
    assert south_december == pytest.approx(north_june, rel=0.06)


def test_light_is_within_five_percent_of_a_published_year_s():
    """TMY3 gives diffuse light with an uncertainty of 31 % of the hour; sums and medians agree."""
    year, theirs = sand_point()
    ours = diffuse_lx(year)
    assert ours.sum() == pytest.approx(sum(theirs), rel=0.05)
    assert np.corrcoef(ours, theirs)[0, 1] > 0.98
    published = median(sorted(theirs)[-4380:])
    assert published == 10_600
    assert climate_figures(year).median_diffuse_lx == pytest.approx(published, rel=0.05)


def test_light_of_an_hour_by_hand():
    """Perez and others 1990, table 4, for the clearest and the dullest hour with sun of Denver."""
    year, sun = denver(), positions(DENVER)
    beam = np.where(sun.up > 0, year.beam_w_m2, 0.0)
    seen = sky_seen(sun, beam, year.diffuse_w_m2)
    for which, (a, b, c, d) in {
        0: (97.24, -0.46, 12.00, -8.91),
        6: (141.88, 1.90, -53.24, -14.03),
    }.items():
        at = int(np.flatnonzero(seen.has_sky & (seen.bin == which))[0])
        water = math.exp(0.07 * (float(year.dew_k[at]) - 273.15) - 0.075)
        dark = math.log(float(seen.brightness[at]))
        efficacy = a + b * water + c * math.cos(float(seen.zenith[at])) + d * dark
        assert diffuse_lx(year)[at] == pytest.approx(year.diffuse_w_m2[at] * efficacy)


def test_a_dark_year_has_no_light_and_warns_of_nothing():
    with np.errstate(all="raise"):
        told = climate_figures(still())
    assert told.median_diffuse_lx == 0
    assert [month.sun_s for month in told.months] == [0] * 12

"""What a year of weather gives of a site sheet and of a climate by month.

Rain and snow lying aren't among it: in files of typical years they are often unknown, or noted in
a few hours alone, and must be asked.
"""

from dataclasses import dataclass

import numpy as np

from criteria.hourly.dates import MONTH_DAYS, MONTH_OF_DAY, MONTH_OF_HOUR
from criteria.hourly.months import FIRST_DAYS, PLANE_DEG, REFLECTANCE
from criteria.hourly.sky import sky_of, sky_seen
from criteria.hourly.sun import positions
from criteria.hourly.weather import CELSIUS_K, Hours, Weather

HEATING_SHARE, COOLING_SHARE = 0.004, 0.996
"""Share of hours that are as cold as the coldest night to design for, or no hotter than the hottest
afternoon [1]: 99.6 % heating and 0.4 % cooling. ASHRAE Handbook, Fundamentals, chapter 14."""
DAYLIGHT_HOURS = 4380
"""Hours of a year that are daylight wherever it is [no.]. EN 17037:2018, clause 5.1.3."""
EFFICACY = np.array(
    (
        (97.24, -0.46, 12.00, -8.91),
        (107.22, 1.15, 0.59, -3.95),
        (104.97, 2.96, -5.53, -8.77),
        (102.39, 5.59, -13.95, -13.90),
        (100.71, 5.94, -22.75, -23.74),
        (106.42, 3.83, -36.15, -28.83),
        (141.88, 1.90, -53.24, -14.03),
        (152.23, 0.35, -45.27, -7.98),
    )
)
"""By bin: a, b, c, d of light in diffuse sun [lm/W].

R. Perez and others, Solar Energy 44 (1990) 271, table 4."""


@dataclass(frozen=True, kw_only=True)
class MonthFigures:
    """One month of a year.

    mean_k, mean_min_k  of the air, and of its days' lowest [K]
    sun_s     full-sun hours a day on a plane of 60° that faces the equator [s]
    wind_m_s  mean, at 10 m [m/s]
    """

    mean_k: float
    mean_min_k: float
    sun_s: float
    wind_m_s: float


@dataclass(frozen=True, kw_only=True)
class ClimateFigures:
    """A year's figures.

    heating_k, cooling_k  temperature of the air that 99.6 % of hours are over, and 0.4 % [K]
    median_diffuse_lx     diffuse, on level ground, reached in half of the daylight hours [lx]
    months                January first
    """

    heating_k: float
    cooling_k: float
    median_diffuse_lx: float
    months: tuple[MonthFigures, ...]


def climate_figures(year: Weather) -> ClimateFigures:
    """Return a year's figures, at the height at which its air is given.

    The sun on the plane is that of an anisotropic sky over bare ground. Source: as each constant
    says, and EN 17037:2018, 5.1.3, for the median of the 4,380 brightest hours.
    """
    lowest = year.air_k.reshape(-1, 24).min(axis=1)
    sun_h = _sun_h(year)
    months = zip(
        _by_month(year.air_k, MONTH_OF_HOUR),
        _by_month(lowest, MONTH_OF_DAY),
        np.add.reduceat(sun_h, FIRST_DAYS) / np.array(MONTH_DAYS) * 3600,
        _by_month(year.wind_m_s, MONTH_OF_HOUR),
        strict=True,
    )
    brightest = np.sort(diffuse_lx(year))[-DAYLIGHT_HOURS:]
    return ClimateFigures(
        heating_k=float(np.quantile(year.air_k, HEATING_SHARE)),
        cooling_k=float(np.quantile(year.air_k, COOLING_SHARE)),
        median_diffuse_lx=float(np.median(brightest)),
        months=tuple(
            MonthFigures(
                mean_k=float(mean), mean_min_k=float(low), sun_s=float(sun), wind_m_s=float(wind)
            )
            for mean, low, sun, wind in months
        ),
    )


def diffuse_lx(year: Weather) -> Hours:
    """Return the diffuse light on level ground by hour [lx].

        E = D · (a + b W + c cos Z + d ln Δ), W = e^(0.07 T_d − 0.075)

    D diffuse sun [W/m²], Z the sun's angle from overhead, Δ the sky's brightness, W water in the
    air [cm] of the dew point T_d [°C]. Source: R. Perez and others, Solar Energy 44 (1990) 271,
    equations 3 and 7.
    """
    sun = positions(year.place)
    seen = sky_seen(sun, np.where(sun.up > 0, year.beam_w_m2, 0.0), year.diffuse_w_m2)
    water_cm = np.exp(0.07 * (year.dew_k - CELSIUS_K) - 0.075)
    a, b, c, d = EFFICACY[seen.bin].T
    efficacy = a + b * water_cm + c * np.cos(seen.zenith) + d * np.log(seen.brightness)
    light: Hours = np.where(seen.has_sky, year.diffuse_w_m2 * np.maximum(efficacy, 0.0), 0.0)
    return light


def _sun_h(year: Weather) -> Hours:
    """Full-sun hours of each day on the plane on which a climate gives them: shape (365,)."""
    sky = sky_of(positions(year.place), year.beam_w_m2, year.diffuse_w_m2, REFLECTANCE)
    plane = sky.on_plane(PLANE_DEG, 180.0 if year.place.latitude_deg >= 0 else 0.0)
    hours: Hours = plane.total_w_m2.reshape(-1, 24).sum(axis=1) / 1000
    return hours


def _by_month(figures: Hours, month: np.ndarray) -> Hours:
    mean: Hours = np.bincount(month, weights=figures) / np.bincount(month)
    return mean

"""Where the sun stands at the half hours of a year."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from criteria.hourly.weather import Flags, Hours, Place

SOLAR_CONSTANT_W_M2 = 1366.1
"""Sun above the air, at its mean distance [W/m²]. ASTM E490; 1361 is the newer figure."""

DAY = np.repeat(np.arange(1, 366), 24).astype(np.float64)
"""Day of the year of each hour, from 1."""
MID_HOUR = np.tile(np.arange(24) + 0.5, 365)
"""Local standard time of each hour's middle [h]."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class SunYear:
    """The sun of a place, hour by hour.

    vector      unit vector to it: east, north, up; shape (8760, 3)
    above_w_m2  sun above the air [W/m²]
    """

    vector: Hours
    above_w_m2: Hours

    @property
    def up(self) -> Hours:
        """Sine of its height [1]; negative by night."""
        return self.vector[:, 2]

    def over(self, skyline_deg: tuple[float, ...]) -> Flags:
        """Tell whether it stands over a skyline: heights by bearing, in equal steps from north.

        Between two bearings the skyline runs evenly from one height to the other.
        """
        bearing = np.degrees(np.arctan2(self.vector[:, 0], self.vector[:, 1])) % 360
        around = np.linspace(0, 360, len(skyline_deg) + 1)
        height = np.interp(bearing, around, (*skyline_deg, skyline_deg[0]))
        seen: Flags = self.up > np.sin(np.radians(height))
        return seen

    def cos_incidence(self, tilt_deg: float, bearing_deg: float) -> Hours:
        """Cosine of the angle to a plane's normal; negative from behind."""
        return self.vector @ normal(tilt_deg, bearing_deg)


def normal(tilt_deg: float, bearing_deg: float) -> Hours:
    """Return the unit vector on which a plane's face looks: east, north, up."""
    tilt, bearing = np.radians((tilt_deg, bearing_deg))
    return np.array((np.sin(tilt) * np.sin(bearing), np.sin(tilt) * np.cos(bearing), np.cos(tilt)))


def day_angle(day: Hours, hour: Hours | float = 12.0) -> Hours:
    """Return the angle of the year in Spencer's series [rad]."""
    return 2 * np.pi * (day - 1 + (hour - 12) / 24) / 365


def declination(b: Hours) -> Hours:
    """Return how far north the sun stands [rad], of the angle of the year.

    J. W. Spencer, "Fourier series representation of the position of the sun", Search 2 (1971) 172.
    """
    return (
        0.006918
        - 0.399912 * np.cos(b)
        + 0.070257 * np.sin(b)
        - 0.006758 * np.cos(2 * b)
        + 0.000907 * np.sin(2 * b)
        - 0.002697 * np.cos(3 * b)
        + 0.00148 * np.sin(3 * b)
    )


def equation_of_time_h(b: Hours) -> Hours:
    """Return how far the sun is ahead of a clock's mean sun [h]. Spencer 1971."""
    minutes = 229.18 * (
        0.000075
        + 0.001868 * np.cos(b)
        - 0.032077 * np.sin(b)
        - 0.014615 * np.cos(2 * b)
        - 0.040849 * np.sin(2 * b)
    )
    return minutes / 60


def above_the_air_w_m2(b: Hours) -> Hours:
    """Return the sun above the air, square on [W/m²]. Spencer 1971."""
    return SOLAR_CONSTANT_W_M2 * (
        1.00011
        + 0.034221 * np.cos(b)
        + 0.00128 * np.sin(b)
        + 0.000719 * np.cos(2 * b)
        + 0.000077 * np.sin(2 * b)
    )


def vector_at(latitude_deg: float, declination_rad: Hours, hour_angle_rad: Hours) -> Hours:
    """Return unit vectors to the sun: east, north, up; shape (…, 3)."""
    latitude = np.radians(latitude_deg)
    along, across = np.cos(declination_rad), np.sin(declination_rad)
    cosine = np.cos(hour_angle_rad)
    return np.stack(
        (
            -along * np.sin(hour_angle_rad),
            np.cos(latitude) * across - np.sin(latitude) * along * cosine,
            np.sin(latitude) * across + np.cos(latitude) * along * cosine,
        ),
        axis=-1,
    )


@lru_cache(maxsize=16)
def positions(place: Place) -> SunYear:
    """Return the sun of a place at each half hour, refraction left out.

    Within 0.4° of height and 0.6° of bearing of the full astronomical algorithm.
    """
    b = day_angle(DAY, MID_HOUR)
    solar_h = MID_HOUR + equation_of_time_h(b) + place.longitude_deg / 15 - place.zone_h
    vector = vector_at(place.latitude_deg, declination(b), np.radians(15 * (solar_h - 12)))
    return SunYear(vector=vector, above_w_m2=above_the_air_w_m2(b))

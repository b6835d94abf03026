"""Where the sun stands, how long it can shine on a face, and what reaches the earth's edge."""

import math

from criteria.errors import InputError

SOLAR_CONSTANT_W_M2 = 1367.0
"""[W/m²]. Duffie and Beckman, Solar Engineering of Thermal Processes (1361 in newer work)."""

BEARINGS_DEG = {"N": 0, "NE": 45, "E": 90, "SE": 135, "S": 180, "SW": 225, "W": 270, "NW": 315}
"""Bearing of a face, clockwise from north [°]."""


def declination_deg(day: int) -> float:
    """Return the sun's declination on a day of the year [°].

        δ = 0.006918 − 0.399912 cos B + 0.070257 sin B − 0.006758 cos 2B + 0.000907 sin 2B
            − 0.002697 cos 3B + 0.00148 sin 3B      [rad]
        B = 2π (n − 1) / 365

    Good to a few hundredths of a degree; years differ by some tenths.
    Source: Spencer (1971), as Duffie and Beckman give it, equation 1.6.1b.

    >>> round(declination_deg(105), 1)
    9.5
    """
    if not 1 <= day <= 366:
        raise InputError(f"day is {day}; expected a day of the year, 1 to 366")
    B = 2 * math.pi * (day - 1) / 365
    cosines = -0.399912 * math.cos(B) - 0.006758 * math.cos(2 * B) - 0.002697 * math.cos(3 * B)
    sines = 0.070257 * math.sin(B) + 0.000907 * math.sin(2 * B) + 0.00148 * math.sin(3 * B)
    return math.degrees(0.006918 + cosines + sines)


def sunset_angle_deg(latitude_deg: float, day: int) -> float:
    """Return the hour angle of sunset [°]: cos ω = −tan φ · tan δ.

    180 where the sun doesn't set, 0 where it doesn't rise.

    >>> round(sunset_angle_deg(43, 105), 1)
    99.0
    """
    if not -90 < latitude_deg < 90:
        raise InputError(f"latitude is {latitude_deg:g}°; expected between −90° and 90°")
    cosine = -math.tan(math.radians(latitude_deg)) * math.tan(math.radians(declination_deg(day)))
    if cosine >= 1:
        return 0.0
    return 180.0 if cosine <= -1 else math.degrees(math.acos(cosine))


def insolation_above_air_j_m2(latitude_deg: float, day: int) -> float:
    """Return the day's sun on a level plane outside the atmosphere [J/m²].

    Source: Duffie and Beckman, equation 1.10.3. Their example 1.10.1, latitude 43° on
    15 April, gives 33.8 MJ/m² (from memory) with a rougher declination:

    >>> abs(insolation_above_air_j_m2(43, 105) / 1e6 - 33.8) < 0.1
    True
    """
    phi, delta = math.radians(latitude_deg), math.radians(declination_deg(day))
    omega = math.radians(sunset_angle_deg(latitude_deg, day))
    nearness = 1 + 0.033 * math.cos(math.radians(360 * day / 365))
    angle = math.cos(phi) * math.cos(delta) * math.sin(omega)
    return (
        86_400 / math.pi * SOLAR_CONSTANT_W_M2 * nearness
        * (angle + omega * math.sin(phi) * math.sin(delta))
    )  # fmt: skip


def position_deg(latitude_deg: float, day: int, hour_angle_deg: float) -> tuple[float, float]:
    """Return the sun's altitude and its bearing clockwise from north [°].

    Source: spherical trigonometry; solar time, no refraction.

    >>> altitude, bearing = position_deg(51.5, 81, 0.0)
    >>> round(altitude, 1), round(bearing)
    (38.8, 180)
    """
    phi, delta = math.radians(latitude_deg), math.radians(declination_deg(day))
    omega = math.radians(hour_angle_deg)
    sine = math.sin(phi) * math.sin(delta) + math.cos(phi) * math.cos(delta) * math.cos(omega)
    altitude = math.asin(max(-1.0, min(1.0, sine)))  # rounding may pass the pole by 1e-16
    east = -math.cos(delta) * math.sin(omega)
    north = math.cos(phi) * math.sin(delta) - math.sin(phi) * math.cos(delta) * math.cos(omega)
    return math.degrees(altitude), math.degrees(math.atan2(east, north)) % 360


def sunny_s(
    latitude_deg: float, day: int, bearing_deg: float, least_altitude_deg: float = 0.0
) -> float:
    """Return how long the sun can stand in front of an upright face on a day [s].

    Counted by degrees of hour angle, four minutes each, in solar time under a clear sky
    with nothing outside. A face sees the sun while the bearing is within 90° of its own.

    At the equinox a face to the south has the sun all twelve hours, one to the north none:

    >>> round(sunny_s(46.7, 81, 180) / 3600, 1), sunny_s(46.7, 81, 0)
    (12.0, 0.0)
    """
    half = sunset_angle_deg(latitude_deg, day)
    degrees = 0
    for degree in range(360):
        omega = degree - 179.5
        if not -half < omega < half:
            continue
        altitude, bearing = position_deg(latitude_deg, day, omega)
        turned = (bearing - bearing_deg + 180) % 360 - 180
        degrees += altitude > least_altitude_deg and -90 < turned < 90
    return degrees * 240.0

"""A year of weather, hour by hour, and where it was taken."""

from dataclasses import dataclass
from enum import StrEnum
from typing import cast

import numpy as np
from numpy.typing import NDArray

HOURS, HOUR_S = 8760, 3600.0
"""Hours of a year, 29 February left out; seconds of one [s]."""
CELSIUS_K = 273.15
"""0 °C [K]."""
Hours = NDArray[np.float64]
"""One figure for each hour of a year: shape (8760,)."""
Flags = NDArray[np.bool_]


def floats(hours: Hours) -> "memoryview[float]":
    """Return the same memory, to be read and written one float at a time."""
    return cast("memoryview[float]", hours.data)


class Origin(StrEnum):
    """What a year of weather comes from."""

    FILE = "file"
    MONTHS = "months"


class Spell(StrEnum):
    """What a year must hold before its worst can be told."""

    COLD = "cold"
    HOT = "hot"


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where weather is taken: bearings north and east are positive, the zone ahead of UTC [h]."""

    latitude_deg: float
    longitude_deg: float
    zone_h: float
    altitude_m: float


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Weather:
    """8,760 hours of it, 29 February left out.

    name        what it is called on the page: the file's place, or the climate rows' site
    air_k       dry bulb [K]
    dew_k       dew point [K]
    pressure_pa of the air [Pa]
    beam_w_m2   direct normal sun [W/m²]
    diffuse_w_m2  diffuse sun on level ground [W/m²]
    long_wave_w_m2  long wave from the whole sky on level ground [W/m²]
    wind_m_s    at 10 m [m/s]
    rain_m      rain of the hour [m]; None where nothing says by hour
    has_snow    whether snow lies
    has_spells  whether the coldest night and the hottest day to design for stand in it: a typical
                year from a file holds its own, one made of months only with the design figures
    without     which of the two doesn't stand in it
    said        sentences on what was corrected, filled or assumed
    source      of a file the line in which it says what it is made of, as it stands there
    """

    place: Place
    origin: Origin
    name: str
    air_k: Hours
    dew_k: Hours
    pressure_pa: Hours
    beam_w_m2: Hours
    diffuse_w_m2: Hours
    long_wave_w_m2: Hours
    wind_m_s: Hours
    rain_m: Hours | None
    has_snow: Flags
    has_spells: bool
    without: tuple[Spell, ...] = ()
    said: tuple[str, ...] = ()
    source: str = ""

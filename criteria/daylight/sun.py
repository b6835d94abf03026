"""Hours of possible sun at a window, from latitude, date, the way it faces and what stands there.

All hours are solar time: noon is when the sun is due south (or north), so no longitude and no
clock is asked for. Possible sun: a clear sky is taken.
"""

import math
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from criteria.daylight.direct import skyline_slopes
from criteria.daylight.moments import Floats
from criteria.daylight.openings import Rooflight, Wall, Window
from criteria.daylight.refusals import ImpossibleInput, require_within
from criteria.daylight.room import Room

STEP_MIN = 1.0
"""Step in which the day is followed [min]."""
POINT_ABOVE_FLOOR_M = 1.2
"""Least height of the reference point above the floor [m]. EN 17037. From memory."""
POINT_ABOVE_SILL_M = 0.3
"""Least height of the reference point above the sill [m]. EN 17037. From memory."""


def declination_deg(on: date) -> float:
    """Declination of the sun at noon [deg].

        δ = 0.006918 − 0.399912 cos Γ + 0.070257 sin Γ − 0.006758 cos 2Γ + 0.000907 sin 2Γ
            − 0.002697 cos 3Γ + 0.00148 sin 3Γ                    [rad]
        Γ = 2π (n − 1)/365,    n day of the year, 1 on 1 January

    Source: Spencer (1971), Search 2(5), 172: within 0.04° of the almanac in its year, 0.3° in
    any year of the leap-year cycle.
    """
    angle = 2 * math.pi * (on.timetuple().tm_yday - 1) / 365
    return math.degrees(
        0.006918
        - 0.399912 * math.cos(angle)
        + 0.070257 * math.sin(angle)
        - 0.006758 * math.cos(2 * angle)
        + 0.000907 * math.sin(2 * angle)
        - 0.002697 * math.cos(3 * angle)
        + 0.00148 * math.sin(3 * angle)
    )


SUNRISE_DEG = -0.833
"""Height of the sun's middle as its rim rises, refraction in it [deg]. Almanacs, from memory."""


def day_length_h(latitude_deg: float, on: date) -> float:
    """Return how long the sun is up [h].

        cos ω = (sin −0.833° − sin φ sin δ) / (cos φ cos δ),    2 ω / 15°

    Source: as of almanacs (from memory). Level horizon.

    >>> round(day_length_h(51.5, date(2001, 12, 21)), 1)
    7.8
    """
    require_within("latitude_deg", latitude_deg, "°", at_least=-90, at_most=90)
    phi, delta = math.radians(latitude_deg), math.radians(declination_deg(on))
    rises = math.sin(math.radians(SUNRISE_DEG)) - math.sin(phi) * math.sin(delta)
    cosine = rises / max(math.cos(phi) * math.cos(delta), 1e-12)
    return 2 * math.degrees(math.acos(min(1.0, max(-1.0, cosine)))) / 15


def sun_position_deg(
    *, latitude_deg: float, declination: float, solar_hour: Floats | float
) -> tuple[Floats, Floats]:
    """Altitude above the horizon and bearing of the sun [deg, deg clockwise from north].

        sin h  = sin φ sin δ + cos φ cos δ cos ω
        tan α  = −cos δ sin ω / (sin δ cos φ − cos δ cos ω sin φ)
        ω      = 15° (solar hour − 12)

    Source: spherical trigonometry (textbook). No refraction: at the horizon the sun is seen 0.6°
    higher.

    >>> altitude, bearing = sun_position_deg(latitude_deg=51.5, declination=0.0, solar_hour=12.0)
    >>> round(float(altitude), 1), round(float(bearing), 1)
    (38.5, 180.0)
    """
    require_within("latitude_deg", latitude_deg, "°", at_least=-90, at_most=90)
    phi, delta = math.radians(latitude_deg), math.radians(declination)
    omega = np.radians(15 * (np.asarray(solar_hour, dtype=float) - 12))
    rise = math.sin(phi) * math.sin(delta) + math.cos(phi) * math.cos(delta) * np.cos(omega)
    east = -math.cos(delta) * np.sin(omega)
    north = math.sin(delta) * math.cos(phi) - math.cos(delta) * np.cos(omega) * math.sin(phi)
    return np.degrees(np.arcsin(np.clip(rise, -1, 1))), np.degrees(np.arctan2(east, north)) % 360


@dataclass(frozen=True, kw_only=True)
class Sunlight:
    """Possible sun at one window on one date.

    hours       in all [h]
    spells      (start, end) of each unbroken spell, solar time [h]
    """

    on: date
    hours: float
    spells: tuple[tuple[float, float], ...]


def reference_height_m(window: Window) -> float:
    """Height above the floor at which a window's sun is judged, on the wall's inner face [m].

    1.2 m above the floor and 0.3 m above the sill, whichever is higher; where that is not below
    the head, the window's middle. EN 17037 (from memory); the last part is ours.
    """
    height = max(POINT_ABOVE_FLOOR_M, window.sill_m + POINT_ABOVE_SILL_M)
    return height if height < window.head_m else (window.sill_m + window.head_m) / 2


def window_sunlight(
    room: Room, window: Window, *, latitude_deg: float, on: date, lowest_sun_deg: float = 0.0
) -> Sunlight:
    """Possible sun at a window's middle on the wall's inner face, on one date.

    The sun counts while it stands in front of the glass, above every skyline and within the
    jambs and head of the reveal, and above `lowest_sun_deg` (EN 17037 gives one for each
    country; 0 counts from the horizon).

    Limits: skylines are even and endless; overhangs are not known to the room.
    """
    if window not in room.windows:
        raise ImpossibleInput(
            field="window", read=window.mark or "a window", expected="a window of this room"
        )
    height = reference_height_m(window)
    day = _Day.on(on, latitude_deg, lowest_sun_deg)
    ahead = np.cos(np.radians(day.bearing - room.facing_deg(window.wall)))
    aside = np.sin(np.radians(day.bearing - room.facing_deg(window.wall)))
    shines = day.is_up & (ahead > 1e-9)
    thickness, forward = room.wall_thickness_m, np.where(shines, ahead, 1.0)
    shines &= thickness * np.abs(aside) / forward < window.width_m / 2
    shines &= thickness * day.slope / forward < window.head_m - height
    return day.sunlight(room, shines, _reference_point(room, window, height))


def rooflight_sunlight(
    room: Room, light: Rooflight, *, latitude_deg: float, on: date, lowest_sun_deg: float = 0.0
) -> Sunlight:
    """Possible sun at a roof light's middle on the ceiling, on one date.

    The sun counts while it stands within the shaft and above every skyline: what `window_sunlight`
    asks of a window, turned to the level.
    """
    day = _Day.on(on, latitude_deg, lowest_sun_deg)
    turned = np.radians(day.bearing - room.facing_deg(Wall.NORTH))
    away = room.roof_thickness_m / day.slope
    shines = day.is_up & (away * np.abs(np.sin(turned)) < light.size_x_m / 2)
    shines &= away * np.abs(np.cos(turned)) < light.size_y_m / 2
    middle = (light.x_m + light.size_x_m / 2, light.y_m + light.size_y_m / 2, room.height_m)
    return day.sunlight(room, shines, middle)


@dataclass(frozen=True)
class _Day:
    """A day followed minute by minute: bearing [deg] and slope of the sun, and when it counts."""

    day: date
    bearing: Floats
    slope: Floats
    is_up: NDArray[np.bool_]

    @classmethod
    def on(cls, on: date, latitude_deg: float, lowest_sun_deg: float) -> "_Day":
        require_within("lowest_sun_deg", lowest_sun_deg, "°", at_least=0, below=90)
        hours = (np.arange(round(24 * 60 / STEP_MIN)) + 0.5) * STEP_MIN / 60
        altitude, bearing = sun_position_deg(
            latitude_deg=latitude_deg, declination=declination_deg(on), solar_hour=hours
        )
        is_up = altitude > max(lowest_sun_deg, 0.0)
        return cls(on, bearing, np.tan(np.radians(np.where(is_up, altitude, 45.0))), is_up)

    def sunlight(
        self, room: Room, shines: NDArray[np.bool_], point: tuple[float, float, float]
    ) -> Sunlight:
        """Return the sun of the minutes in which it shines in and stands over every skyline."""
        clear, place = shines.copy(), np.array([point])
        for wall in Wall:
            towards = np.cos(np.radians(self.bearing - room.facing_deg(wall)))
            skyline = skyline_slopes(room, wall, place)[0] * towards
            clear &= ~((towards > 0) & (self.slope <= skyline))
        edges = np.flatnonzero(np.diff(np.concatenate([[0], clear.astype(int), [0]])))
        spells = tuple(
            (float(start) * STEP_MIN / 60, float(end) * STEP_MIN / 60)
            for start, end in edges.reshape(-1, 2)
        )
        return Sunlight(on=self.day, hours=float(clear.sum()) * STEP_MIN / 60, spells=spells)


def _reference_point(room: Room, window: Window, height_m: float) -> tuple[float, float, float]:
    along = window.offset_m + window.width_m / 2
    return {
        Wall.SOUTH: (along, 0.0, height_m),
        Wall.NORTH: (along, room.width_m, height_m),
        Wall.WEST: (0.0, along, height_m),
        Wall.EAST: (room.length_m, along, height_m),
    }[window.wall]

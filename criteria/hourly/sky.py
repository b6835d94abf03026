"""Sun on planes: beam, and a sky that is brighter about the sun and along the horizon."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from criteria.hourly.sun import SunYear
from criteria.hourly.weather import Flags, Hours, Weather

BINS = (1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2)
"""Clearness at which the sky's coefficients change [1]."""
BRIGHTNESS = np.array(
    (
        (-0.008, 0.588, -0.062, -0.060, 0.072, -0.022),
        (0.130, 0.683, -0.151, -0.019, 0.066, -0.029),
        (0.330, 0.487, -0.221, 0.055, -0.064, -0.026),
        (0.568, 0.187, -0.295, 0.109, -0.152, -0.014),
        (0.873, -0.392, -0.362, 0.226, -0.462, 0.001),
        (1.132, -1.237, -0.412, 0.288, -0.823, 0.056),
        (1.060, -1.600, -0.359, 0.264, -1.127, 0.131),
        (0.678, -0.327, -0.250, 0.156, -1.377, 0.251),
    )
)
"""By bin: f11, f12, f13 about the sun, f21, f22, f23 along the horizon.

R. Perez and others, Solar Energy 44 (1990) 271, all sites."""
LOW_SUN = np.cos(np.radians(85))
SNOW_REFLECTANCE = 0.65
"""Of the ground while snow lies [1]. Handbook range 0.6 to 0.7 for fresh snow, from memory."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Plane:
    """Sun on a plane [W/m²], nothing standing in its way.

    beam_w_m2       straight from the sun
    circumsolar_w_m2  from the sky about it: same angle, same shade
    diffuse_w_m2    from the rest of the sky
    ground_w_m2     thrown back by the ground
    cos_incidence   of the angle to the plane's normal [1], 0 where the sun is behind or down
    """

    beam_w_m2: Hours
    circumsolar_w_m2: Hours
    diffuse_w_m2: Hours
    ground_w_m2: Hours
    cos_incidence: Hours

    @property
    def direct_w_m2(self) -> Hours:
        """What comes from the sun's side, and is shaded with it."""
        return self.beam_w_m2 + self.circumsolar_w_m2

    @property
    def total_w_m2(self) -> Hours:
        """All of it."""
        return self.direct_w_m2 + self.diffuse_w_m2 + self.ground_w_m2


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Sky:
    """How a year's sky is bright, whatever plane it is seen from.

    sun             where it stands
    beam_w_m2       direct normal while the sun is up
    about_w_m2      diffuse that comes from about the sun, on a plane square to it
    even_w_m2       diffuse that is even over the sky, on level ground
    edge_w_m2       diffuse along the horizon, on an upright plane; negative dims
    level_w_m2      all of it, on level ground
    ground_w_m2     what the ground throws back of that
    """

    sun: SunYear
    beam_w_m2: Hours
    about_w_m2: Hours
    even_w_m2: Hours
    edge_w_m2: Hours
    level_w_m2: Hours
    ground_w_m2: Hours

    def on_plane(self, tilt_deg: float, bearing_deg: float) -> Plane:
        """Return the sun on a plane of a tilt above level and a bearing from north."""
        cosine = np.where(
            self.sun.up > 0, np.maximum(self.sun.cos_incidence(tilt_deg, bearing_deg), 0), 0.0
        )
        tilt = np.radians(tilt_deg)
        sees_sky, sees_ground = (1 + np.cos(tilt)) / 2, (1 - np.cos(tilt)) / 2
        diffuse = self.even_w_m2 * sees_sky + self.edge_w_m2 * np.sin(tilt)
        return Plane(
            beam_w_m2=self.beam_w_m2 * cosine,
            circumsolar_w_m2=self.about_w_m2 * cosine,
            diffuse_w_m2=np.maximum(diffuse, 0.0),
            ground_w_m2=self.ground_w_m2 * sees_ground,
            cos_incidence=cosine,
        )


def air_mass(up: Hours) -> Hours:
    """Return how much air the sun shines through, 1 from overhead. Kasten and Young 1989."""
    height_deg = np.degrees(np.arcsin(np.clip(up, 0.0, 1.0)))
    mass: Hours = 1 / (up + 0.50572 * (height_deg + 6.07995) ** -1.6364)
    return mass


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class SkySeen:
    """What skies are told apart by, of each hour. Perez and others 1990, equations 1 and 2.

    has_sky     whether there is any: in other hours the rest stands for a sun overhead
    up          sine of the sun's height [1]
    zenith      angle of the sun from overhead [rad]
    bin         which of eight a sky is of by its clearness, from 0
    brightness  of it [1]
    """

    has_sky: Flags
    up: Hours
    zenith: Hours
    bin: NDArray[np.int64]
    brightness: Hours


def sky_seen(sun: SunYear, beam_w_m2: Hours, diffuse_w_m2: Hours) -> SkySeen:
    """Return how clear and bright skies are, of direct normal and level diffuse sun [W/m²]."""
    has_sky = (sun.up > 0) & (diffuse_w_m2 > 0)
    up = np.where(has_sky, sun.up, 1.0)
    diffuse = np.where(has_sky, diffuse_w_m2, 1.0)
    zenith = np.arccos(np.clip(up, -1.0, 1.0))
    bent = 1.041 * zenith**3
    clearness = ((diffuse + beam_w_m2) / diffuse + bent) / (1 + bent)
    return SkySeen(
        has_sky=has_sky,
        up=up,
        zenith=zenith,
        bin=np.searchsorted(BINS, clearness, side="right"),
        brightness=diffuse * air_mass(up) / sun.above_w_m2,
    )


def sky_of(sun: SunYear, beam_w_m2: Hours, diffuse_w_m2: Hours, reflectance: Hours | float) -> Sky:
    """Return the sky of direct normal and level diffuse sun [W/m²]. Perez and others 1990.

    `reflectance` of the ground is one figure, or one an hour. Figures may be of fewer hours than
    a year, if all are of as many. What is diffuse while the hour's middle is dark is even.
    """
    beam = np.where(sun.up > 0, beam_w_m2, 0.0)
    seen = sky_seen(sun, beam, diffuse_w_m2)
    has_sky, zenith, brightness = seen.has_sky, seen.zenith, seen.brightness
    f = BRIGHTNESS.T.take(seen.bin, axis=1)
    about = np.maximum(f[0] + f[1] * brightness + f[2] * zenith, 0.0)
    edge = f[3] + f[4] * brightness + f[5] * zenith
    about, edge = np.where(has_sky, about, 0.0), np.where(has_sky, edge, 0.0)
    level = beam * np.maximum(sun.up, 0.0) + diffuse_w_m2
    return Sky(
        sun=sun,
        beam_w_m2=beam,
        about_w_m2=diffuse_w_m2 * about / np.maximum(LOW_SUN, sun.up),
        even_w_m2=diffuse_w_m2 * (1 - about),
        edge_w_m2=diffuse_w_m2 * edge,
        level_w_m2=level,
        ground_w_m2=level * reflectance,
    )


def even_sky(
    sun: SunYear, beam_w_m2: Hours, diffuse_w_m2: Hours, reflectance: Hours | float
) -> Sky:
    """Return the sky as if it were even: only to compare with, it gives the south 6 % too little.

    B. Liu and R. Jordan, Solar Energy 7 (1963) 53.
    """
    sky = sky_of(sun, beam_w_m2, diffuse_w_m2, reflectance)
    none = np.zeros_like(beam_w_m2)
    return Sky(
        sun=sun,
        beam_w_m2=sky.beam_w_m2,
        about_w_m2=none,
        even_w_m2=diffuse_w_m2,
        edge_w_m2=none,
        level_w_m2=sky.level_w_m2,
        ground_w_m2=sky.ground_w_m2,
    )


def sky_over(
    sun: SunYear,
    weather: Weather,
    reflectance: float = 0.2,
    skyline_deg: tuple[float, ...] = (),
) -> Sky:
    """Return the sky of a year's weather; the ground is brighter while snow lies.

    Behind the skyline the sun gives no beam, and the sky about it nothing; the rest of the sky is
    taken as free.
    """
    thrown = np.where(weather.has_snow, SNOW_REFLECTANCE, reflectance)
    sky = sky_of(sun, weather.beam_w_m2, weather.diffuse_w_m2, thrown)
    if not any(skyline_deg):
        return sky
    seen = sun.over(skyline_deg)
    return replace(sky, beam_w_m2=sky.beam_w_m2 * seen, about_w_m2=sky.about_w_m2 * seen)

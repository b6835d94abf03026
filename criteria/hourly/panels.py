"""What panels make by the hour: sun on the cells, their warmth, what is lost, and snow on them."""

import numpy as np

from criteria.errors import InputError, require_fraction, require_not_negative
from criteria.hourly.sky import Plane
from criteria.hourly.sun import MID_HOUR
from criteria.hourly.weather import CELSIUS_K, Flags, Hours, Weather

GLASS_INDEX, GLASS_KL = 1.526, 0.008
"""Index of a panel's glass, and its extinction times thickness (4 a metre, 2 mm) [1].

W. De Soto and others, Solar Energy 80 (2006) 78, from memory."""
DIFFUSE_SHARE = 0.95
"""Part of the sun from all round that reaches the cells [1]. Common practice."""
CELL_W_M2K, CELL_PER_WIND = 25.0, 6.84
"""Heat that a panel sheds, in still air and for each m/s at 10 m [W/m²K], [J/m³K].

D. Faiman, Progress in Photovoltaics 16 (2008) 307, from memory."""
PER_K, RATED_K, RATED_W_M2 = 0.004, 298.15, 1000.0
"""What a kelvin takes of the power [1/K], and at what that is rated: 25 °C, 1,000 W/m². IEC 61215
for the rating; −0.4 % is common of crystalline silicon (from memory)."""
LOST = 0.14
"""Soiling, shade, mismatch, wires and the like [1]. A. Dobos, NREL/TP-6A20-62641 (2014)."""
TRACKED, UNTRACKED = 0.95, 0.75
"""What a charger takes of panels off the grid, that follows their best voltage, or holds them at
the battery's [1]. Common practice."""
WARMTH_IN_FACTOR = 0.95
"""What a site's system factor already takes off for warm cells [1]. Common practice."""

LIES_BELOW_DEG, SLIDES_FROM_DEG = 50.0, 60.0
"""Less steep than the one, snow lies until it is swept; from the other it is off by noon [°]."""
SNOW_EACH_DAYS = 4
"""How often it snows while snow lies, where nothing says so by day [days]. Assumed."""


def angle_share(cosine: Hours) -> Hours:
    """Return what a panel's glass lets through at an angle, over what it does square on [1].

        K = τ(θ) ÷ τ(0), τ = e^(−KL ÷ cos θ_r) · (1 − (r_s + r_p) ÷ 2), sin θ = n · sin θ_r
        r_s = ((cos θ − n cos θ_r) ÷ (cos θ + n cos θ_r))², r_p with n at the other cosine

    `cosine` of the angle to the normal; where it is 0 or less, nothing. Both polarisations are lost
    at the outer face alone.
    Source: Fresnel and Bouguer, as W. De Soto and others, Solar Energy 80 (2006) 78.

    >>> [round(float(k), 3) for k in angle_share(np.cos(np.radians([0, 60, 80])))]
    [1.0, 0.946, 0.634]
    """
    outer = np.maximum(cosine, 0.0)
    inner = np.sqrt(1 - (1 - outer**2) / GLASS_INDEX**2)
    across = ((outer - GLASS_INDEX * inner) / (outer + GLASS_INDEX * inner)) ** 2
    along = ((GLASS_INDEX * outer - inner) / (GLASS_INDEX * outer + inner)) ** 2
    through = np.exp(-GLASS_KL / inner) * (1 - (across + along) / 2)
    square_on = np.exp(-GLASS_KL) * (1 - ((GLASS_INDEX - 1) / (GLASS_INDEX + 1)) ** 2)
    share: Hours = through / square_on
    return share


def on_cells_w_m2(plane: Plane, direct_share: Hours | float = 1.0) -> Hours:
    """Return the sun that reaches the cells [W/m²].

        I = s · beam · K(θ) + 0.95 · (s · about the sun + rest of the sky + ground)

    `direct_share`, s, is the part of the sun's side that nothing stands before. What comes from
    about the sun is taken as sky, as pvlib takes it: by K it would be 0.3 % more from the south.
    Source: as angle_share.
    """
    sky = plane.circumsolar_w_m2 * direct_share + plane.diffuse_w_m2 + plane.ground_w_m2
    direct = plane.beam_w_m2 * angle_share(plane.cos_incidence) * direct_share
    cells: Hours = direct + DIFFUSE_SHARE * sky
    return cells


def cell_k(air_k: Hours, on_plane_w_m2: Hours, wind_m_s: Hours) -> Hours:
    """Return how warm the cells are [K]: T_e + I ÷ (25.0 + 6.84 v), I all sun on the plane.

    Of panels in the open, wind at 10 m. Source: D. Faiman, Progress in Photovoltaics 16 (2008) 307.
    """
    cells: Hours = air_k + on_plane_w_m2 / (CELL_W_M2K + CELL_PER_WIND * wind_m_s)
    return cells


def arriving_share(system_factor: float | None = None, *, tracks: bool = True) -> float:
    """Return what of the panels' power reaches the battery, warm cells left out [1].

        (1 − 0.14) · 0.95 with a charger that follows their best voltage, · 0.75 without
        f ÷ 0.95 where the site gives a system factor f in place of both, 1 at most

    A site's factor has warm cells in it, which are reckoned here by the hour: 0.95 takes them out
    again. Source: A. Dobos, NREL/TP-6A20-62641 (2014), for the 14 %; the rest is common practice.

    >>> round(arriving_share(), 3), round(arriving_share(0.72), 4)
    (0.817, 0.7579)
    """
    if system_factor is not None:
        return min(1.0, require_fraction("system factor", system_factor) / WARMTH_IN_FACTOR)
    return (1 - LOST) * (TRACKED if tracks else UNTRACKED)


def made_w(
    peak_w: float,
    plane: Plane,
    weather: Weather,
    *,
    arrives: float = 1.0,
    direct_share: Hours | float = 1.0,
    covered: Flags | None = None,
) -> Hours:
    """Return what panels of a plane make by hour, before anything is spilled [W].

        P = P_0 · I ÷ 1000 · (1 − 0.004 · (T_cell − 25)) · f

        peak_w        P_0, as rated                                  [W]
        arrives       f, what of it reaches the battery              [1]
        direct_share  part of the sun's side that nothing stands before  [1]
        covered       hours in which snow lies on them

    Source: rated power at 1,000 W/m² and 25 °C, corrected for both (IEC 61215's conditions).
    Raises InputError for a power below 0, or a share outside 0 to 1.
    """
    require_not_negative("panels", peak_w, "W")
    require_fraction("share that arrives", arrives)
    warmth = cell_k(weather.air_k, plane.total_w_m2, weather.wind_m_s) - RATED_K
    sun = on_cells_w_m2(plane, direct_share) / RATED_W_M2
    power: Hours = peak_w * arrives * sun * (1 - PER_K * warmth)
    return power if covered is None else np.where(covered, 0.0, power)


def snows(weather: Weather) -> Flags:
    """Tell on which days snow falls: shape (365,).

    Rain of a day whose mean is at or below 0 °C. Where nothing says when it rains, the first day on
    which snow lies, and every fourth after it until there is none: assumed, and said.
    """
    if weather.rain_m is not None:
        is_cold = weather.air_k.reshape(-1, 24).mean(axis=1) <= CELSIUS_K
        falls: Flags = is_cold & (weather.rain_m.reshape(-1, 24).sum(axis=1) > 0)
        return falls
    lies: Flags = np.asarray(weather.has_snow.reshape(-1, 24).any(axis=1))
    days = np.arange(lies.size)
    last_bare = np.maximum.accumulate(np.where(lies, -1, days))
    first_of_four: Flags = lies & ((days - last_bare - 1) % SNOW_EACH_DAYS == 0)
    return first_of_four


def covered_by_snow(weather: Weather, tilt_deg: float, *, is_swept: bool) -> Flags:
    """Tell in which hours snow keeps the sun from panels: shape (8760,).

        60° and steeper   from a day's first hour to noon of each day on which snow falls
        50 to 60°         the same, to an hour that goes straight from midnight down to noon
        less than 50°     while snow lies and each day that it falls; where somebody sweeps them,
                          to noon of such a day

    However much has fallen. Where it lies and slides is common practice; the hours are assumed.

    Raises InputError for a tilt outside 0 to 90°.
    """
    if not 0 <= tilt_deg <= 90:
        raise InputError(f"tilt is {tilt_deg:g}°; expected 0 to 90°")
    lies = tilt_deg < LIES_BELOW_DEG and not is_swept
    slides = LIES_BELOW_DEG <= tilt_deg < SLIDES_FROM_DEG
    steeper = (tilt_deg - LIES_BELOW_DEG) / (SLIDES_FROM_DEG - LIES_BELOW_DEG) if slides else 1.0
    fresh: Flags = np.repeat(snows(weather), 24)
    if lies:
        return fresh | weather.has_snow
    return fresh & (24 - 12 * steeper > MID_HOUR)

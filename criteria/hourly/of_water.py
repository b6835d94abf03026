"""Warm water of a package: what its collector takes of the sun."""

import numpy as np

from criteria.hourly.assumed import Taking
from criteria.hourly.hot_water import WarmTank, WarmWaterYear, warmed
from criteria.hourly.of_use import InUse
from criteria.hourly.sky import Sky
from criteria.hourly.weather import Hours, Weather
from criteria.package import Package

KEPT_M3_M2 = 0.05
"""Warm water kept for each square metre of collector [m³/m²]. Common practice."""
JACKET_W_M2K = 0.4
"""Through a tank's jacket of 100 mm [W/m²K]: 0.04 ÷ 0.1."""
CYLINDER = 5.54
"""Surface of a cylinder as tall as it is wide, over its volume to two thirds [1]: 6π ÷ (2π)^⅔."""


def warm_water(
    package: Package, weather: Weather, use: InUse, sky: Sky, room_k: Hours, taking: Taking
) -> WarmWaterYear | None:
    """Return what the sun warms of the water; None where no collector is scheduled.

    room_k   air of the room, in which the tank stands [K]

    The brief's warm water is drawn by whoever is awake, evenly through their waking hours. Raises
    Lacking.
    """
    plant, site = package.plant, package.site
    if not plant.collector_m2:
        return None
    south = (site.unless_blank("latitude_deg") or 0) < 0
    words = "{}: the collector is taken to face {}, to the sun of noon"
    looks = taking.of(
        plant, "collector_bearing_deg", 0.0 if south else 180.0, words, "common practice"
    )
    words = "{}: {} of warm water are taken to be kept"
    kept = KEPT_M3_M2 * plant.collector_m2
    volume = taking.of(plant, "hot_tank_m3", kept, words, "common practice")
    awake = use.people.awake
    a_day = np.repeat(awake.reshape(-1, 24).sum(axis=1), 24)
    share = np.divide(awake, a_day, out=np.zeros_like(awake), where=a_day > 0)
    return warmed(
        sky.on_plane(plant.collector_tilt_deg, looks),
        weather.air_k,
        room_k,
        share * package.people * site.hot_m3_pd,
        area_m2=plant.collector_m2,
        kind=plant.collector_kind,
        tank=WarmTank(
            volume_m3=volume,
            loss_w_k=JACKET_W_M2K * CYLINDER * volume ** (2 / 3),
            want_k=site.hot_k,
            cold_k=site.cold_k,
        ),
    )

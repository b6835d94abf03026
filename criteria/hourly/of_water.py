"""Warm water of a package: what its collector takes of the sun."""

from dataclasses import dataclass

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
"""Surface of a cylinder as tall as it is wide, over its volume^(2/3) [1]: 6π ÷ (2π)^(2/3)."""


@dataclass(frozen=True, kw_only=True)
class SunWater:
    """What warms water by the sun, and how much is drawn.

    tilt_deg, bearing_deg, area_m2, kind   of the collector
    drawn_m3   by all people in a day [m³]
    """

    tilt_deg: float
    bearing_deg: float
    area_m2: float
    kind: str
    drawn_m3: float
    tank: WarmTank


def sun_water(package: Package, taking: Taking) -> SunWater | None:
    """Return what warms water by the sun; None without a collector. Raises Lacking."""
    plant, site = package.plant, package.site
    if not plant.collector_m2:
        return None
    bearing = 0.0 if (site.unless_blank("latitude_deg") or 0) < 0 else 180.0
    words = "{}: the collector is taken to face {}, to the sun of noon"
    looks = taking.of(plant, "collector_bearing_deg", bearing, words, "common practice")
    words = "{}: {} of warm water are taken to be kept"
    kept = KEPT_M3_M2 * plant.collector_m2
    volume = taking.of(plant, "hot_tank_m3", kept, words, "common practice")
    return SunWater(
        tilt_deg=plant.collector_tilt_deg,
        bearing_deg=looks,
        area_m2=plant.collector_m2,
        kind=plant.collector_kind,
        drawn_m3=package.people * site.hot_m3_pd,
        tank=WarmTank(
            volume_m3=volume,
            loss_w_k=JACKET_W_M2K * CYLINDER * volume ** (2 / 3),
            want_k=site.hot_k,
            cold_k=site.cold_k,
        ),
    )


def warm_water(
    given: SunWater, weather: Weather, use: InUse, sky: Sky, room_k: Hours
) -> WarmWaterYear:
    """Return what the sun warms of the water through a year.

    room_k   air of the room, in which the tank stands [K]

    The warm water is drawn by whoever is awake, evenly through their waking hours.
    """
    awake = use.people.awake
    a_day = np.repeat(awake.reshape(-1, 24).sum(axis=1), 24)
    share = np.divide(awake, a_day, out=np.zeros_like(awake), where=a_day > 0)
    return warmed(
        sky.on_plane(given.tilt_deg, given.bearing_deg),
        weather.air_k,
        room_k,
        share * given.drawn_m3,
        area_m2=given.area_m2,
        kind=given.kind,
        tank=given.tank,
    )

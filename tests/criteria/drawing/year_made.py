"""A year made by hand: no engine, round figures, a known worst night, week and dark hours."""

from dataclasses import replace

import numpy as np

from criteria.hourly.weather import HOURS, Origin, Place, Weather
from criteria.hourly.year import PowerYear, Run, TankYear, Year

HOUR = np.arange(HOURS)
DAY = HOUR // 24
SEASON = -np.cos(2 * np.pi * (DAY - 20) / 365)
"""−1 on 21 January, 1 half a year later."""
LIGHT = np.maximum(0.0, np.sin(2 * np.pi * (HOUR % 24 + 0.5 - 6) / 24))
COLD_DAY, DARK_DAY = 20, 40
"""The night that follows day 20 is the coldest; the battery is empty through day 40's evening."""


def a_weather(**changed):
    air = 278.15 + 12 * SEASON + 5 * (LIGHT - 0.3)
    air[24 * COLD_DAY + 18 : 24 * COLD_DAY + 36] -= 9
    flat = np.full(HOURS, 1.0)
    made = Weather(
        place=Place(latitude_deg=46.5, longitude_deg=9.8, zone_h=1, altitude_m=1800),
        origin=Origin.FILE,
        name="Made Pass",
        air_k=air,
        dew_k=air - 4,
        pressure_pa=81_000 * flat,
        beam_w_m2=600 * LIGHT,
        diffuse_w_m2=90 * LIGHT,
        long_wave_w_m2=260 * flat,
        wind_m_s=3 * flat,
        rain_m=None,
        has_snow=air < 272,
        has_spells=True,
    )
    return replace(made, **changed)


def a_run(air_k, heat_w, cool_w, flows_w):
    nothing = np.zeros(HOURS)
    return Run(
        air_k=air_k,
        operative_k=air_k - 0.2,
        coldest_face_k=air_k - 3,
        heat_w=heat_w,
        cool_w=cool_w,
        open_share=nothing,
        flows_w=flows_w,
        closure=1e-12,
        sun_w=700 * LIGHT,
    )


def a_tank(case="", rains="every fourth day", short_days=0):
    level = 0.6 + 0.3 * np.sin(2 * np.pi * np.arange(365) / 365)
    short = np.zeros(365)
    short[200 : 200 + short_days] = 0.02
    level[200 : 200 + short_days] = 0.0
    wet = np.where(np.arange(365) % 4 == 0, 0.05, 0.0)
    used = np.full(365, 0.0125)
    return TankYear(
        case=case,
        rains=rains,
        caught_m3=wet,
        drawn_m3=used,
        short_m3=short,
        stored_m3=level,
        spilled_m3=np.zeros(365),
        capacity_m3=1.0,
    )


def a_power():
    made = 900 * LIGHT
    essential, rest = np.full(HOURS, 60.0), np.full(HOURS, 40.0)
    stored = 3.6e6 * (4.5 + 2.5 * SEASON + 1.5 * LIGHT)
    out = slice(24 * DARK_DAY + 17, 24 * DARK_DAY + 24)
    stored[out] = 3.6e6
    unserved = np.zeros(HOURS)
    unserved[out] = 60.0
    return PowerYear(
        made_w=made,
        essential_w=essential,
        rest_w=rest,
        plant_w=np.zeros(HOURS),
        unserved_essential_w=unserved,
        unserved_rest_w=np.zeros(HOURS),
        spilled_w=np.where(SEASON > 0.5, made / 2, 0.0),
        stored_j=stored,
        least_j=3.6e6,
        most_j=9 * 3.6e6,
    )


def a_year(*, power=True, tanks=True, weather=None, **changed):
    """A hut that is open from October to June, short of heat in the coldest days."""
    weather = weather or a_weather()
    is_open = (DAY < 181) | (DAY >= 273)
    warm = np.where(is_open, 293.15, np.nan)
    cool = np.where(is_open, 299.15, np.nan)
    bare = weather.air_k + 6 + 4 * LIGHT
    need = np.where(is_open, np.maximum(0.0, 150 * (293.15 - bare)), 0.0)
    spare = np.where(is_open, np.maximum(0.0, 150 * (bare - 299.15)), 0.0)
    give = np.minimum(need, 2000.0)
    drawn = np.where(is_open, np.minimum(bare + give / 150, 299.15), bare)
    gap = drawn - weather.air_k
    flows = {
        "wall N": -30 * gap,
        "wall S": -20 * gap,
        "roof": -25 * gap,
        "floor": -15 * gap,
        "window W1": 700 * LIGHT - 30 * gap,
        "door D1": -5 * gap,
        "things inside": np.where(LIGHT > 0, -100.0, 100.0),
        "air": -25 * gap,
        "open windows": np.zeros(HOURS),
        "people": np.full(HOURS, 300.0),
        "loads": np.full(HOURS, 100.0),
        "plant": give,
    }
    nothing = np.zeros(HOURS)
    made = Year(
        weather=weather,
        is_there=is_open & ((HOUR % 24 >= 17) | (HOUR % 24 < 9)),
        is_asleep=is_open & ((HOUR % 24 >= 22) | (HOUR % 24 < 7)),
        warm_k=warm,
        cool_k=cool,
        bare=a_run(bare, nothing, nothing, flows),
        held=a_run(np.where(is_open, np.clip(bare, 293.15, 299.15), bare), need, spare, flows),
        drawn=a_run(drawn, give, nothing, flows),
        power=a_power() if power else None,
        tanks=(a_tank(short_days=12), a_tank(rains="in the first ten days")) if tanks else (),
    )
    return replace(made, **changed)

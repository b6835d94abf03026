"""A year in which nothing changes but what a test says, on level ground at 0° by 0°."""

import numpy as np

from criteria.hourly.weather import HOURS, Origin, Place, Weather

SEA = Place(latitude_deg=0, longitude_deg=0, zone_h=0, altitude_m=0)


def still(**given) -> Weather:
    """Air at 10 °C, dew at 5 °C, no sun, wind, rain or snow; one figure stands for all hours."""
    arrays = {
        "air_k": 283.15,
        "dew_k": 278.15,
        "pressure_pa": 101_325,
        "beam_w_m2": 0,
        "diffuse_w_m2": 0,
        "long_wave_w_m2": 300,
        "wind_m_s": 0,
        "has_snow": False,
        "rain_m": None,
    } | given
    flat = {
        name: figure if figure is None or isinstance(figure, np.ndarray) else np.full(HOURS, figure)
        for name, figure in arrays.items()
    }
    return Weather(place=SEA, origin=Origin.FILE, name="still", has_spells=True, **flat)

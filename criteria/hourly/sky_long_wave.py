"""Long wave that a sky sends down, where nobody measured it; pressure where nobody did."""

import numpy as np

from criteria.hourly.weather import CELSIUS_K, HOURS, Hours

BOLTZMANN_W_M2K4 = 5.670374e-8
"""Stefan and Boltzmann's constant [W/(m²·K^4)]; CODATA 2018."""
SEA_LEVEL_PA = 101_325.0
MID_HOUR_H = np.tile(np.arange(24) + 0.5, HOURS // 24)


def long_wave_w_m2(air_k: Hours, dew_k: Hours, cloud_tenths: Hours) -> Hours:
    """Return the long wave of the whole sky on level ground [W/m²], by hour.

        ε = 0.711 + 0.56 t/100 + 0.73 (t/100)² + 0.013 cos(2π h/24)
        L = ε (1 + 0.0224 N − 0.0035 N² + 0.00028 N³) σ T^4

        t   dew point [°C]
        h   hour of the day [h]
        N   sky that clouds cover, in tenths
        T   dry bulb [K]

    Source: P. Berdahl and M. Martin, Solar Energy 32 (1984) 663; clouds by G. Walton, Thermal
        Analysis Research Program, NBSIR 83-2655 (1983). Both from memory.
    """
    t = (dew_k - CELSIUS_K) / 100
    clear = 0.711 + 0.56 * t + 0.73 * t**2 + 0.013 * np.cos(2 * np.pi * MID_HOUR_H / 24)
    N = cloud_tenths
    covered = 1 + 0.0224 * N - 0.0035 * N**2 + 0.00028 * N**3
    sent: Hours = np.minimum(clear * covered, 1.0) * BOLTZMANN_W_M2K4 * air_k**4
    return sent


def standard_pressure_pa(altitude_m: float) -> float:
    """Return the pressure of the standard atmosphere at an altitude [Pa].

    Source: ICAO standard atmosphere (Doc 7488, 1993) as ASHRAE Fundamentals, chapter 1,
        equation 3 gives it.

    >>> round(standard_pressure_pa(1650))
    83011
    """
    return float(SEA_LEVEL_PA * (1 - 2.25577e-5 * altitude_m) ** 5.25588)

"""Films of air at faces, inside and out: what passes to the air, and as long wave."""

from typing import Literal

STEFAN_BOLTZMANN = 5.670374e-8
"""[W/(m²·K^4)]. CODATA 2018."""
INSIDE_K = 293.0
"""About which long wave inside is taken as a straight line [K]. ISO 52016-1:2017."""
AIR_INSIDE_W_M2K = {"wall": 1.8, "window": 1.8, "roof": 1.7, "floor": 2.5, "mass": 1.8}
"""To the room's air [W/m²K], by what the face is.

Walls, glass and ceilings as Standard 140-2020 fixes them in its case 450; a floor between a cool
one's 0.8 and a sunlit one's 3.7. Chosen on that standard's open cases: films of ISO 13789 (2.5,
5.0, 0.7, outside 20) give 6 to 16 % more heating. Steady checks keep 0.13, 0.10 and 0.17 m²K/W.
"""
AT_WALLS, UNDER_FLOORS = 2 / 3, 1 / 3
"""Wind at faces, as parts of the wind at 10 m [1]. CIBSE Guide A, from memory; under a floor on
posts assumed."""
VENTED_W_M2K = 1 / 0.13
"""At a layer behind a vented cavity [W/m²K]. ISO 6946:2017, 6.9.4."""

Face = Literal["wall", "roof", "floor", "mass", "window"]


def air_outside_w_m2k(wind_m_s: float, at_faces: float = AT_WALLS) -> float:
    """Return what passes to outside air [W/m²K] at the year's mean wind. ISO 6946:2017, Annex C."""
    return 4 + 4 * at_faces * wind_m_s


def long_wave_w_m2k(emissivity: float, mean_k: float) -> float:
    """Return what passes as long wave for a degree [W/m²K]. ISO 6946:2017, Annex C."""
    return 4 * emissivity * STEFAN_BOLTZMANN * mean_k**3

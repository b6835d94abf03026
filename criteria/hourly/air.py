"""Air through what people open: by wind, by warmth, and across."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from criteria.hourly.building import Opening

GRAVITY_M_S2 = 9.81
DISCHARGE = 0.6
MEAN_K = 293.0
"""About which air between two heights is reckoned [K]."""
WIND_PROFILE = {"B": (0.22, 370.0), "C": (0.14, 270.0), "D": (0.10, 210.0)}
"""Exponent and depth [m] of the wind's layer by terrain: built up, open, shore.

ASHRAE Handbook Fundamentals, chapter on airflow around buildings, table of terrain."""
ACROSS = {"B": 0.3, "C": 0.55, "D": 0.8}
"""Difference of wind pressure between two sides [1]: sheltered 0.3 to open 0.8, the middle between.

CIBSE AM10 and BS 5925, from memory."""


@dataclass(frozen=True, kw_only=True)
class FlowLaw:
    """Flow through all that opens [m³/s], of the difference of temperature and the local wind.

    The larger of what one side lets in and what draws across:
    a √(0.01 + 0.001 v² + k ΔT) and √(s ΔT + w v²).
    """

    a_m2: float
    k: float
    s: float
    w: float

    def passes(self, apart_k: float, squared_m2_s2: float) -> float:
        """Return the flow with all standing open [m³/s], by the square of the wind.

        apart_k   how much warmer it is inside, 0 or more [K]
        """
        one_side = self.a_m2 * sqrt(0.01 + 0.001 * squared_m2_s2 + self.k * apart_k)
        through = sqrt(self.s * apart_k + self.w * squared_m2_s2)
        return one_side if one_side > through else through

    def times(self, each: float) -> "FlowLaw":
        """Return the law of so much of everything: of heat [W/K], where a flow carries it."""
        squared = each * each
        return FlowLaw(a_m2=self.a_m2 * each, k=self.k, s=self.s * squared, w=self.w * squared)


def flow_law(openings: Sequence[Opening], terrain: str) -> FlowLaw:
    """Return how openings let air through together.

    One side: q = ½ A √(0.001 v² + 0.0035 H ΔT + 0.01), W. de Gids and H. Phaff 1982 (the first two
    terms are EN 16798-7:2017's). Across: q = C_d A* √(2 g Δh ΔT ÷ T) by two heights,
    C_d A* v √ΔC_p by two bearings, 1/A*² = 1/A₁² + 1/A₂².
    """
    area = sum(each.area_m2 for each in openings)
    if area <= 0:
        return FlowLaw(a_m2=0.0, k=0.0, s=0.0, w=0.0)
    height = sum(each.area_m2 * each.height_m for each in openings) / area
    low, high, apart_m = _by_height(openings)
    stack = (DISCHARGE * _in_line(low, high)) ** 2 * 2 * GRAVITY_M_S2 * apart_m / MEAN_K
    sides = sorted(_by_bearing(openings).values())
    across = (DISCHARGE * _in_line(sides[-1], sum(sides[:-1]))) ** 2 * ACROSS[terrain]
    return FlowLaw(a_m2=area / 2, k=0.0035 * height, s=stack, w=across)


def _in_line(one_m2: float, other_m2: float) -> float:
    """Return the area of two openings that air passes one after the other."""
    if not one_m2 or not other_m2:
        return 0.0
    return float((one_m2**-2 + other_m2**-2) ** -0.5)


def _by_bearing(openings: Sequence[Opening]) -> dict[float, float]:
    sides: dict[float, float] = {}
    for each in openings:
        sides[each.bearing_deg] = sides.get(each.bearing_deg, 0.0) + each.area_m2
    return sides


def _by_height(openings: Sequence[Opening]) -> tuple[float, float, float]:
    """Return areas under and over the mean height of all, and how far apart their middles are."""
    area = sum(each.area_m2 for each in openings)
    mean = sum(each.area_m2 * each.middle_m for each in openings) / area
    low = [each for each in openings if each.middle_m < mean - 1e-9]
    high = [each for each in openings if each.middle_m > mean + 1e-9]
    if not low or not high:
        return 0.0, 0.0, 0.0
    areas = [sum(each.area_m2 for each in some) for some in (low, high)]
    middles = [
        sum(each.area_m2 * each.middle_m for each in some) / whole
        for some, whole in zip((low, high), areas, strict=True)
    ]
    return areas[0], areas[1], middles[1] - middles[0]


def local_wind(terrain: str, height_m: float = 3.0) -> float:
    """Return the wind at a height on the site, as part of that at 10 m of a weather station [1]."""
    exponent, depth_m = WIND_PROFILE[terrain]
    return float((270 / 10) ** 0.14 * (height_m / depth_m) ** exponent)

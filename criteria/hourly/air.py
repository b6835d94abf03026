"""Air through what people open: by wind, by warmth, and across."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import sqrt

from criteria.hourly.building import Opening
from criteria.hourly.weather import Hours, floats

GRAVITY_M_S2 = 9.81
DISCHARGE = 0.6
MEAN_K = 293.0
"""About which air between two heights is reckoned [K]."""
NEAR_K = 1e-4
"""How near is enough to the temperature at which windows stand wide open [K]."""
WIND_PROFILE = {"B": (0.22, 370.0), "C": (0.14, 270.0), "D": (0.10, 210.0)}
"""Exponent and depth [m] of the wind's layer by terrain: built up, open, shore.

ASHRAE Handbook Fundamentals, chapter on airflow around buildings, table of terrain."""
ACROSS = {"B": 0.3, "C": 0.55, "D": 0.8}
"""Difference of wind pressure between two sides [1]: sheltered 0.3 to open 0.8, the middle between.

CIBSE AM10 and BS 5925, from memory."""


@dataclass(frozen=True, kw_only=True)
class FlowLaw:
    """Flow through all that opens [m³/s], of the difference of temperature and the local wind.

    The larger of what one side lets in and what draws across, told by their squares:
    a² (0.01 + 0.001 v²) + k ΔT and s ΔT + w v².
    """

    a2: float
    k: float
    s: float
    w: float

    def times(self, each: float) -> "FlowLaw":
        """Return the law of so much of everything: of heat [W/K], where a flow carries it."""
        by = each * each
        return FlowLaw(a2=self.a2 * by, k=self.k * by, s=self.s * by, w=self.w * by)


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Wind:
    """What passes with outside air: fixed by hour [W/K], and what windows add by a law of flow.

    air_j_m3k   heat of a cubic metre of air [J/m³K]
    speed_m_s   local wind by hour
    """

    fixed_w_k: Hours
    law: FlowLaw
    air_j_m3k: float
    speed_m_s: Hours


Opener = Callable[[int, float, float, float, float], tuple[float, float, float]]


def opener(wind: Wind) -> Opener:
    """Return how windows are opened in an hour so as to hold a temperature.

    It is asked for an hour by its number, the air with all shut, what is wanted and the air outside
    [K], and what leaves by shut ways [W/K]; and answers the air [K], what windows add [W/K] and how
    far they stand open [1].

    People throttle: the flow that holds what is wanted, else all there is. Flinging open and shut
    by the hour would be ill-posed: one decision moves the hours after it by many kelvin.
    """
    law, squared = wind.law.times(wind.air_j_m3k), wind.speed_m_s**2
    one_side, across = floats(law.a2 * (0.01 + 0.001 * squared)), floats(law.w * squared)
    one_side_by_k, across_by_k = law.k, law.s

    def held(
        k: int, shut_k: float, want_k: float, te: float, whole_w_k: float
    ) -> tuple[float, float, float]:
        # the law is written out twice: asked some 8,000 times a year, a call would cost as much
        windy, windy_across = one_side[k], across[k]
        at = want_k if want_k > te else te
        apart = at - te
        square, other = windy + one_side_by_k * apart, windy_across + across_by_k * apart
        added = sqrt(square if square > other else other)
        # what comes in, less what leaves by shut ways and by windows
        over = whole_w_k * (shut_k - at) - added * apart
        if over <= 0.0:
            needed = whole_w_k * (shut_k - want_k) / apart
            return want_k, needed, needed / added
        # wide open: more flow lowers it, evenly bent, so that the secant finds the one root
        near_w, t = NEAR_K * whole_w_k, at + over / (whole_w_k + 1.5 * added)
        while True:
            apart = t - te
            square, other = windy + one_side_by_k * apart, windy_across + across_by_k * apart
            added = sqrt(square if square > other else other)
            left = whole_w_k * (shut_k - t) - added * apart
            if -near_w <= left <= near_w:
                return (whole_w_k * shut_k + added * te) / (whole_w_k + added), added, 1.0
            at, t, over = t, t - left * (t - at) / (left - over), left

    return held


def flow_law(openings: Sequence[Opening], terrain: str) -> FlowLaw:
    """Return how openings let air through together.

    One side: q = ½ A √(0.001 v² + 0.0035 H ΔT + 0.01), W. de Gids and H. Phaff 1982 (the first two
    terms are EN 16798-7:2017's). Across: q = C_d A* √(2 g Δh ΔT ÷ T) by two heights,
    C_d A* v √ΔC_p by two bearings, 1/A*² = 1/A₁² + 1/A₂².
    """
    area = sum(each.area_m2 for each in openings)
    if area <= 0:
        return FlowLaw(a2=0.0, k=0.0, s=0.0, w=0.0)
    height = sum(each.area_m2 * each.height_m for each in openings) / area
    low, high, apart_m = _by_height(openings)
    stack = (DISCHARGE * _in_line(low, high)) ** 2 * 2 * GRAVITY_M_S2 * apart_m / MEAN_K
    sides = sorted(_by_bearing(openings).values())
    across = (DISCHARGE * _in_line(sides[-1], sum(sides[:-1]))) ** 2 * ACROSS[terrain]
    a2 = (area / 2) ** 2
    return FlowLaw(a2=a2, k=a2 * 0.0035 * height, s=stack, w=across)


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

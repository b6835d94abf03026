"""Ground, legs and wind: first figures. Preliminary: a licensed engineer decides."""

from fractions import Fraction

from criteria.checks.check import Check
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import ground
from criteria.package import Package
from criteria.sources import BEARING, PRACTICE, WIND_PRESSURE
from criteria.typed.cells import lacking
from criteria.units import (
    FORCE,
    MASS,
    MPH,
    PRESSURE,
    PSF,
    RATIO,
    ROOM_LENGTH,
    SHARE_PERCENT,
    WIND,
    Scale,
    Unit,
)

CAUTION = "Preliminary: a licensed engineer decides. Nothing here sizes a foundation."
EMPTY = Step("empty, without anchors")


def _bearing(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row, soil = package.supports, package.site.soil
    if soil not in ground.PRESUMPTIVE_PA:
        raise lacking(f"a ground report: {soil} has no presumptive bearing")
    allowed, mass = ground.PRESUMPTIVE_PA[soil], row.mass_kg + row.full_kg
    pressure = ground.bearing_pressure(mass, row.legs, row.pad_l_m, row.pad_w_m)
    value = pressure / allowed
    under, may = Amount(pressure, PRESSURE), Amount(allowed, PRESSURE)
    pad = (Amount(row.pad_l_m, ROOM_LENGTH), Amount(row.pad_w_m, ROOM_LENGTH))
    steps = (
        Step("{} × g ÷ ({} × {} × {}) = {}", (Amount(mass, MASS), row.legs, *pad, under)),
        Step("{} ÷ {} = {}", (under, may, Amount(value, RATIO))),
    )
    return [Measured(values=(value,), steps=steps, notes=(Step("on {}", (soil,)),))]


def _levelling(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row, slope = package.supports, package.site.slope
    length, width, travel = row.length_m, row.width_m, row.travel_m
    need = ground.leg_travel(length, width, slope)
    if not need:
        return [Measured(values=(1.0,), steps=(Step("level ground: no travel is needed"),))]
    needed = Amount(need, ROOM_LENGTH)
    sides = (Amount(length, ROOM_LENGTH), Amount(width, ROOM_LENGTH))
    has = (Amount(travel, ROOM_LENGTH), needed, Amount(travel / need, RATIO))
    steps = (
        Step("{} × √(({})² + ({})²) = {}", (Amount(slope, SHARE_PERCENT), *sides, needed)),
        Step("{} ÷ {} = {}", has),
    )
    return [Measured(values=(travel / need,), steps=steps)]


BY_SPEED = Scale(
    Unit("kPa/(m/s)²", "pressure by speed", Fraction(1000)),
    Unit("psf/mph²", "pressure by speed", PSF.factor / MPH.factor**2),
    6,
    5,
)
"""Shown in working and never read."""


def wind(package: Package) -> tuple[float, Step]:
    """Return the pressure of the site's gust [Pa] and its working."""
    gust, exposure = package.site.gust_m_s, package.site.exposure
    pressure = ground.wind_pressure(gust, exposure)
    factors = (f"{ground.EXPOSURE_FACTOR[exposure]:g}", f"{ground.DIRECTION_FACTOR:g}")
    figures = (*factors, Amount(gust, WIND), Amount(pressure, PRESSURE))
    half = Amount(ground.HALF_DENSITY_KG_M3, BY_SPEED)
    return pressure, Step("{} × {} × {} × ({})² = {}", (half, *figures))


def _push(package: Package) -> tuple[float, tuple[Step, ...]]:
    """Return the wind's push on the long side [N] and its working."""
    row, (pressure, blown) = package.supports, wind(package)
    length, height = row.length_m, row.height_m
    force = ground.wind_force(pressure, length, height)
    sides = (Amount(length, ROOM_LENGTH), Amount(height, ROOM_LENGTH))
    on_side = (Amount(pressure, PRESSURE), f"{ground.FORCE_FACTOR:g}", *sides, Amount(force, FORCE))
    return force, (blown, Step("{} × {} × {} × {} = {}", on_side))


def _overturning(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    (force, steps), row = _push(package), package.supports
    arm = row.clear_m + row.height_m / 2
    value = ground.overturning_ratio(row.mass_kg, row.base_m, force, arm)
    holds = (Amount(row.mass_kg, MASS), Amount(row.base_m, ROOM_LENGTH))
    turns = (Amount(force, FORCE), Amount(arm, ROOM_LENGTH), Amount(value, RATIO))
    last = Step("({} × g × {} ÷ 2) ÷ ({} × {}) = {}", (*holds, *turns))
    return [Measured(values=(value,), steps=(*steps, last), notes=(EMPTY,))]


def _sliding(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    (force, steps), row = _push(package), package.supports
    value = ground.sliding_ratio(row.mass_kg, row.friction, force)
    figures = (Amount(row.mass_kg, MASS), Amount(force, FORCE), Amount(value, RATIO))
    last = Step("{} × {} × g ÷ {} = {}", (f"{row.friction:g}", *figures))
    return [Measured(values=(value,), steps=(*steps, last), notes=(EMPTY,))]


GROUND_CHECKS = (
    Check(
        slug="bearing_ratio",
        title="Pressure under pads / presumptive bearing",
        topic="Ground",
        scales=(RATIO,),
        measure=_bearing,
        is_monotone=True,
        schedules=("supports", "site"),
        rule=Rule.AT_MOST,
        formula="r = (m · g ÷ (n · l · w)) ÷ q",
        meaning="m empty and full together [kg]; n legs; l, w pad [m]; q presumptive bearing [kPa]",
        citations=(BEARING,),
        limits="Legs alike and evenly loaded, which they never are. Frost, water, slope and snow "
        "are not in it. Peat and fill need a report.",
        question="The pads press {value} of what the ground is presumed to bear, against "
        "{target}. Which leg carries the tank?",
        caution=CAUTION,
    ),
    Check(
        slug="leg_travel",
        title="Leg travel / needed on the slope",
        topic="Ground",
        scales=(RATIO,),
        measure=_levelling,
        schedules=("supports", "site"),
        formula="r = t ÷ (s · √(L² + B²))",
        meaning="t travel of a leg [m]; s slope [1]; L, B length and width of the building [m]",
        citations=(PRACTICE,),
        limits="An even slope, any direction. Settling adds some 25 mm (common practice).",
        question="The legs travel {value} of what the slope needs, against {target}. Which corner "
        "is in the air?",
        caution=CAUTION,
    ),
    Check(
        slug="overturning",
        title="Held down / turned over by wind",
        topic="Ground",
        scales=(RATIO,),
        measure=_overturning,
        is_monotone=True,
        schedules=("supports", "site"),
        formula="r = (m · g · b ÷ 2) ÷ (q · 1.3 · L · H · (c + H ÷ 2)),  q = 0.613 · K_z · K_d · "
        "V²",
        meaning="m empty [kg]; b base between legs [m]; L, H long side [m]; c clear under [m]; V "
        "gust [m/s]",
        citations=(WIND_PRESSURE, PRACTICE),
        limits="Wind on the long side, low building, level ground; uplift on the roof is left "
        "out, which flatters it. Anchors are not counted.",
        question="Empty, it is held down {value} times what turns it over, against {target}. What "
        "holds it in the gust?",
        caution=CAUTION,
    ),
    Check(
        slug="sliding",
        title="Friction / push of wind",
        topic="Ground",
        scales=(RATIO,),
        measure=_sliding,
        is_monotone=True,
        schedules=("supports", "site"),
        formula="r = μ · m · g ÷ (q · 1.3 · L · H)",
        meaning="μ friction on the ground [1]; m empty [kg]; q wind pressure [kPa]; L, H long "
        "side [m]",
        citations=(WIND_PRESSURE, PRACTICE),
        limits="As for turning over; wet or frozen ground is slipperier.",
        question="Empty, friction holds {value} of the push, against {target}. What stops it "
        "sliding?",
        caution=CAUTION,
    ),
)

"""Ground, legs and wind: first figures. Preliminary: a licensed engineer decides."""

from fractions import Fraction

from criteria.checks.check import Check, blank
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import ground
from criteria.package import Package
from criteria.schedules.site import Site
from criteria.schedules.structure import Supports
from criteria.sources import BEARING, PRACTICE, WIND_PRESSURE
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

_CAUTION = "Preliminary: a licensed engineer decides. Nothing here sizes a foundation."
_EMPTY = Step("empty, without anchors")


def _bearing(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row, site = package.supports, package.site
    missing = (
        *blank(Supports.schedule, row, "legs", "pad_l", "pad_w", "empty_kg", "load_kg"),
        *blank(Site.schedule, site, "soil"),
    )
    allowed = ground.PRESUMPTIVE_PA.get(site.soil or "")
    if site.soil and allowed is None:
        missing = (*missing, f"a ground report: {site.soil} has no presumptive bearing")
    if missing or allowed is None:
        return [Measured(missing=missing)]
    mass = (row.mass_kg or 0) + (row.full_kg or 0)
    pressure = ground.bearing_pressure(mass, row.legs or 0, row.pad_l_m or 0, row.pad_w_m or 0)
    value = pressure / allowed
    under, may = Amount(pressure, PRESSURE), Amount(allowed, PRESSURE)
    pad = (Amount(row.pad_l_m or 0, ROOM_LENGTH), Amount(row.pad_w_m or 0, ROOM_LENGTH))
    steps = (
        Step("{} × g ÷ ({} × {} × {}) = {}", (Amount(mass, MASS), row.legs or 0, *pad, under)),
        Step("{} ÷ {} = {}", (under, may, Amount(value, RATIO))),
    )
    return [Measured(values=(value,), steps=steps, notes=(Step("on {}", (site.soil or "",)),))]


def _levelling(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row, site = package.supports, package.site
    missing = (
        *blank(Supports.schedule, row, "travel", "building_l_m", "building_w_m"),
        *blank(Site.schedule, site, "slope"),
    )
    if missing:
        return [Measured(missing=missing)]
    length, width, slope = row.length_m or 0, row.width_m or 0, site.slope or 0
    need = ground.leg_travel(length, width, slope)
    travel = Amount(row.travel_m or 0, ROOM_LENGTH)
    if not need:
        return [Measured(values=(1.0,), steps=(Step("level ground: no travel is needed"),))]
    value = (row.travel_m or 0) / need
    needed = Amount(need, ROOM_LENGTH)
    sides = (Amount(length, ROOM_LENGTH), Amount(width, ROOM_LENGTH))
    steps = (
        Step("{} × √({}² + {}²) = {}", (Amount(slope, SHARE_PERCENT), *sides, needed)),
        Step("{} ÷ {} = {}", (travel, needed, Amount(value, RATIO))),
    )
    return [Measured(values=(value,), steps=steps)]


_WIND_HEADS = ("building_l_m", "building_h_m", "empty_kg")


BY_SPEED = Scale(
    Unit("kPa/(m/s)²", "pressure by speed", Fraction(1000)),
    Unit("psf/mph²", "pressure by speed", PSF.factor / MPH.factor**2),
    6,
    5,
)
"""Shown in working and never read."""


def _push(package: Package, *heads: str) -> tuple[float, tuple[Step, ...], tuple[str, ...]]:
    """Return the wind's push on the long side [N], its working and what is blank."""
    row, site = package.supports, package.site
    missing = (
        *blank(Supports.schedule, row, *_WIND_HEADS, *heads),
        *blank(Site.schedule, site, "gust_ms", "exposure"),
    )
    if missing or not site.gust_m_s:
        return 0.0, (), missing or ("Design gust above 0 (site sheet)",)
    pressure = ground.wind_pressure(site.gust_m_s, site.exposure or "")
    force = ground.wind_force(pressure, row.length_m or 0, row.height_m or 0)
    factors = (
        Amount(ground.HALF_DENSITY_KG_M3, BY_SPEED),
        f"{ground.EXPOSURE_FACTOR[site.exposure or '']:g}", f"{ground.DIRECTION_FACTOR:g}",
        Amount(site.gust_m_s, WIND), Amount(pressure, PRESSURE),
    )  # fmt: skip
    sides = (Amount(row.length_m or 0, ROOM_LENGTH), Amount(row.height_m or 0, ROOM_LENGTH))
    area = (factors[-1], f"{ground.FORCE_FACTOR:g}", *sides, Amount(force, FORCE))
    steps = (
        Step("{} × {} × {} × {}² = {}", factors),
        Step("{} × {} × {} × {} = {}", area),
    )
    return force, steps, ()


def _overturning(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    force, steps, missing = _push(package, "base_m", "clear_under_m")
    if missing:
        return [Measured(missing=missing)]
    row = package.supports
    arm = (row.clear_m or 0) + (row.height_m or 0) / 2
    value = ground.overturning_ratio(row.mass_kg or 0, row.base_m or 0, force, arm)
    figures = (
        Amount(row.mass_kg or 0, MASS), Amount(row.base_m or 0, ROOM_LENGTH),
        Amount(force, FORCE), Amount(arm, ROOM_LENGTH), Amount(value, RATIO),
    )  # fmt: skip
    last = Step("({} × g × {} ÷ 2) ÷ ({} × {}) = {}", figures)
    return [Measured(values=(value,), steps=(*steps, last), notes=(_EMPTY,))]


def _sliding(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    force, steps, missing = _push(package, "ground_friction")
    if missing:
        return [Measured(missing=missing)]
    row = package.supports
    value = ground.sliding_ratio(row.mass_kg or 0, row.friction or 0, force)
    figures = (
        f"{row.friction:g}", Amount(row.mass_kg or 0, MASS), Amount(force, FORCE),
        Amount(value, RATIO),
    )  # fmt: skip
    last = Step("{} × {} × g ÷ {} = {}", figures)
    return [Measured(values=(value,), steps=(*steps, last), notes=(_EMPTY,))]


BEARING_RATIO = Check(
    slug="bearing_ratio",
    title="Pressure under pads / presumptive bearing",
    topic="Ground",
    scales=(RATIO,),
    measure=_bearing,
    schedules=("supports", "site"),
    rule=Rule.AT_MOST,
    formula="r = (m · g ÷ (n · l · w)) ÷ q",
    meaning="m empty and full together [kg]; n legs; l, w pad [m]; q presumptive bearing [kPa]",
    citations=(BEARING,),
    limits="Legs alike and evenly loaded, which they never are. Frost, water, slope and snow are "
    "not in it. Peat and fill need a report.",
    question="The pads press {value} of what the ground is presumed to bear, against {target}. "
    "Which leg carries the tank?",
    caution=_CAUTION,
)

LEVELLING = Check(
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
    question="The legs travel {value} of what the slope needs, against {target}. Which corner is "
    "in the air?",
    caution=_CAUTION,
)

OVERTURNING = Check(
    slug="overturning",
    title="Held down / turned over by wind",
    topic="Ground",
    scales=(RATIO,),
    measure=_overturning,
    schedules=("supports", "site"),
    formula="r = (m · g · b ÷ 2) ÷ (q · 1.3 · L · H · (c + H ÷ 2)),  q = 0.613 · K_z · K_d · V²",
    meaning="m empty [kg]; b base between legs [m]; L, H long side [m]; c clear under [m]; V gust "
    "[m/s]",
    citations=(WIND_PRESSURE, PRACTICE),
    limits="Wind on the long side, low building, level ground; uplift on the roof is left out, "
    "which flatters it. Anchors are not counted.",
    question="Empty, it is held down {value} times what turns it over, against {target}. What "
    "holds it in the gust?",
    caution=_CAUTION,
)

SLIDING = Check(
    slug="sliding",
    title="Friction / push of wind",
    topic="Ground",
    scales=(RATIO,),
    measure=_sliding,
    schedules=("supports", "site"),
    formula="r = μ · m · g ÷ (q · 1.3 · L · H)",
    meaning="μ friction on the ground [1]; m empty [kg]; q wind pressure [kPa]; L, H long side [m]",
    citations=(WIND_PRESSURE, PRACTICE),
    limits="As for turning over; wet or frozen ground is slipperier.",
    question="Empty, friction holds {value} of the push, against {target}. What stops it sliding?",
    caution=_CAUTION,
)

GROUND_CHECKS = (BEARING_RATIO, LEVELLING, OVERTURNING, SLIDING)

"""Snow to the legs and wind under the roof: first figures. A licensed engineer decides."""

from criteria.checks.check import Check
from criteria.checks.ground import CAUTION, EMPTY, wind
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import holding, snow
from criteria.package import Package
from criteria.sources import DEAD_AND_WIND, PRACTICE, SNOW_EU, SNOW_US, WIND_PRESSURE
from criteria.units import ANGLE, FORCE, MASS, PRESSURE, RATIO, ROOM_LENGTH, SNOW_LOAD

NET_UPLIFT = 1.0
"""c_n over the whole roof with the pressure inside [1]. Common practice."""
UNHEATED = 1.2
"""C_t of a roof that nobody heats through the winter [1]. ASCE 7-16, Table 7.3-2, from memory."""
LOW_SLOPE_DEG = 15.0
"""Under it a roof carries the least snow of its standard at the least. ASCE 7-16, 7.3.4."""


def _snow(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row, fallen = package.supports, package.site.ground_snow_pa
    slope, length, width, legs = row.roof_deg, row.length_m, row.width_m, row.legs
    on_ground = Amount(fallen, SNOW_LOAD)
    if package.is_us:
        roof = snow.flat_roof_pa(fallen, thermal=UNHEATED)
        first = Step(
            "{} × {} × {} = {}",
            (f"{snow.FLAT:g}", f"{UNHEATED:g}", on_ground, Amount(roof, SNOW_LOAD)),
        )
        least = snow.least_low_slope_pa(fallen) if slope < LOW_SLOPE_DEG else 0.0
        notes = (Step("as on a flat roof, unheated, by ASCE 7-16"),)
    else:
        roof, shape = snow.european_roof_pa(fallen, slope), snow.european_shape(slope)
        first = Step("{} × {} = {}", (f"{shape:.3f}", on_ground, Amount(roof, SNOW_LOAD)))
        least, notes = 0.0, (Step("by EN 1991-1-3, at {}", (Amount(slope, ANGLE),)),)
    steps = [first]
    if least > roof:
        roof = least
        steps.append(Step("a low roof carries at least {}", (Amount(least, SNOW_LOAD),)))
    value = snow.on_each_leg_kg(roof, length * width, legs)
    sides = (Amount(length, ROOM_LENGTH), Amount(width, ROOM_LENGTH))
    figures = (Amount(roof, SNOW_LOAD), *sides, legs, Amount(value, MASS))
    steps.append(Step("{} × {} × {} ÷ {} ÷ g = {}", figures))
    return [Measured(values=(value,), steps=tuple(steps), notes=notes)]


def _held(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row, (pressure, blown) = package.supports, wind(package)
    lift = holding.uplift_n(pressure, NET_UPLIFT, row.length_m * row.width_m)
    value = holding.held_down_ratio(row.mass_kg, require_positive("uplift", lift, "N"))
    sides = (Amount(row.length_m, ROOM_LENGTH), Amount(row.width_m, ROOM_LENGTH))
    up = Amount(lift, FORCE)
    steps = (
        blown,
        Step("{} × {} × {} × {} = {}", (Amount(pressure, PRESSURE), f"{NET_UPLIFT:g}", *sides, up)),
        Step("{} × g ÷ {} = {}", (Amount(row.mass_kg, MASS), up, Amount(value, RATIO))),
    )
    anchors = Amount(holding.anchors_n(row.mass_kg, lift), FORCE)
    notes = (EMPTY, Step("anchors together hold {}, as working load", (anchors,)))
    return [Measured(values=(value,), steps=steps, notes=notes)]


HOLDING_CHECKS = (
    Check(
        slug="snow_on_legs",
        title="Snow on each leg",
        topic="Ground",
        scales=(MASS,),
        measure=_snow,
        schedules=("supports", "site"),
        rule=Rule.AT_MOST,
        formula="m = s · L · B ÷ (n · g),  s = μ · s_k, in US studios C_t · 0.7 · p_g",
        meaning="s_k, p_g snow on the ground [kPa]; μ shape of the roof, 0.8 to 30°; C_t 1.2 "
        "unheated; L, B building on plan [m]; n legs",
        citations=(SNOW_EU, SNOW_US, PRACTICE),
        limits="Legs alike and evenly loaded; roofs as large as the building. Drift beside a "
        "higher part, gaps that fill, panels and flaps aren't in it. EN 1991-1-3 of a metric "
        "studio, ASCE 7-16 of a US one; never with the ground snow of 7-22, which is larger.",
        question="Snow brings {value} to each leg, against {target}. And the panels and the gap "
        "between the halves?",
        caution=CAUTION,
    ),
    Check(
        slug="held_down",
        title="Weight / lift of wind on the roof",
        topic="Ground",
        scales=(RATIO,),
        measure=_held,
        is_monotone=True,
        schedules=("supports", "site"),
        formula="r = m · g ÷ (q · 1.0 · L · B),  q = 0.613 · K_z · K_d · V²",
        meaning="m empty [kg]; L, B building on plan [m]; V gust [m/s]; 1.0 net over the roof, "
        "pressure inside with it",
        citations=(WIND_PRESSURE, DEAD_AND_WIND, PRACTICE),
        limits="Lift alone: turning over and sliding are checks of their own, and a roof that is "
        "lifted and pushed at once wants both. Eaves and open sides lift more.",
        question="Empty, it weighs {value} times what lifts it, against {target}. What holds it "
        "down?",
        caution=CAUTION,
    ),
)

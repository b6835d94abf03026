"""Heat to take out on a hot afternoon, and whether the plant and the panels can."""

from criteria.checks.check import Check, blank
from criteria.checks.heat import balance
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import heat
from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.plant import Plant
from criteria.schedules.power import PowerPlant
from criteria.schedules.site import Site
from criteria.sources import COOLING, PRACTICE
from criteria.units import POWER, RATIO

DARK_M2K_W = 0.052
"""Sun's heat taken up over what the surface film gives back, dark [m²K/W]. ASHRAE, quoted."""
SKY_K = 3.9
"""What a roof loses to the sky [K]. ASHRAE Fundamentals, chapter 18, quoted."""
ROOF_SUN = 1.8
"""Sun on a level roof beside that on a wall [1]. Common practice."""


def _parts(package: Package) -> tuple[dict[str, float], tuple[str, ...]]:
    """Return the heat that comes in, by part [W], and what is blank."""
    site, b = package.site, balance(package)
    missing = [cell for cell in b.missing if "Design" not in cell]
    missing += blank(Site.schedule, site, "summer_outside_c", "summer_inside_c", "sun_w_m2")
    for window in package.windows:
        missing += blank(Window.schedule, window, "solar_factor", "glass_w", "glass_h", "n")
    if missing:
        return {}, tuple(dict.fromkeys(missing))
    outside, inside = site.summer_outside_k or 0, site.summer_inside_k or 0
    sun = site.sun_w_m2 or 0
    difference = outside - inside
    hot = {
        "wall": heat.sol_air(outside, sun, DARK_M2K_W) - inside,
        "roof": heat.sol_air(outside, sun * ROOF_SUN, DARK_M2K_W, SKY_K) - inside,
    }
    conducted = sum(area * u * hot.get(name, difference) for name, area, u in b.surfaces)
    through = sum(
        heat.solar_gain(
            (w.n or 0) * (w.glass_w_m or 0) * (w.glass_h_m or 0), w.solar_factor or 0, sun
        )
        for w in package.windows
        if w.faces != "N"
    )
    equipment = sum((x.n or 0) * (x.power_w or 0) for x in package.loads if x.run_s)
    return {
        "surfaces": conducted,
        "sun through glass": through,
        "people": (site.people or 0) * heat.PERSON_SENSIBLE_W,
        "equipment": equipment,
        "air": b.air_w_k * difference,
    }, ()


def _cooling_load(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    parts, missing = _parts(package)
    if missing:
        return [Measured(missing=missing)]
    total = sum(parts.values())
    words = " + ".join(f"{name} {{}}" for name in parts) + " = {}"
    step = Step(words, tuple(Amount(x, POWER) for x in (*parts.values(), total)))
    return [Measured(values=(total,), steps=(step,))]


def _cooling_plant(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    (load,) = _cooling_load(package, uses)
    missing = (*load.missing, *blank(Plant.schedule, package.plant, "cooling_w"))
    if missing or load.values[0] <= 0:
        return [Measured(missing=missing or ("a cooling load above 0 W",))]
    given, need = package.plant.cooling_w or 0, load.values[0]
    value = given / need
    figures = (Amount(given, POWER), Amount(need, POWER), Amount(value, RATIO))
    return [Measured(values=(value,), steps=(*load.steps, Step("{} ÷ {} = {}", figures)))]


def _panels(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    (load,) = _cooling_load(package, uses)
    missing = (
        *load.missing,
        *blank(Plant.schedule, package.plant, "cooling_cop"),
        *blank(PowerPlant.schedule, package.power, "pv_kwp"),
        *blank(Site.schedule, package.site, "system_factor"),
    )
    if missing or load.values[0] <= 0:
        return [Measured(missing=missing or ("a cooling load above 0 W",))]
    electric = load.values[0] / (package.plant.cooling_cop or 1)
    made = (package.power.panels_w or 0) * (package.site.system_factor or 0)
    value = made / electric
    need, at_noon = Amount(electric, POWER), Amount(made, POWER)
    steps = (
        *load.steps,
        Step("{} ÷ COP {} = {}", (Amount(load.values[0], POWER), f"{package.plant.cooling_cop:g}",
                                  need)),
        Step("{} ÷ {} = {}", (at_noon, need, Amount(value, RATIO))),
    )  # fmt: skip
    return [Measured(values=(value,), steps=steps)]


def _heat_plant(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    b = balance(package)
    missing = (*b.missing, *blank(Plant.schedule, package.plant, "heat_w"))
    if missing or not b.loss_w():
        return [Measured(missing=missing)]
    given = package.plant.heat_w or 0
    value = given / b.loss_w()
    figures = (Amount(given, POWER), Amount(b.loss_w(), POWER), Amount(value, RATIO))
    return [Measured(values=(value,), steps=(Step("{} ÷ {} = {}", figures),), notes=b.notes)]


_SCHEDULES = ("envelope", "windows", "doors", "rooms", "loads", "plant", "site")
_CAUTION = "Plant is sized, wired and filled by licensed people."

COOLING_LOAD = Check(
    slug="cooling_load",
    title="Heat to take out at the hottest hour",
    topic="Heat",
    scales=(POWER,),
    measure=_cooling_load,
    schedules=_SCHEDULES,
    rule=Rule.AT_MOST,
    formula="Q = Σ(U · A · (T_sol-air − T_in)) + Σ(A_g · g · I) + 75 W · n + Σ W + H_air · ΔT",
    meaning="T_sol-air outside air and sun on walls and roof [°C]; g solar factor [1]; I sun "
    "[W/m²]; n people; W equipment that runs [W]",
    citations=(COOLING, PRACTICE),
    limits="An upper bound: dark surfaces, all sun at once, no shade, no weight to delay it, "
    "sensible heat only. Windows to the north count no sun.",
    question="At its hottest {value} must go out, against {target}. What shades the glass?",
    caution=_CAUTION,
)

COOLING_PLANT = Check(
    slug="cooling_plant",
    title="Cooling given / heat to take out",
    topic="Heat",
    scales=(RATIO,),
    measure=_cooling_plant,
    schedules=_SCHEDULES,
    formula="r = Q_plant ÷ Q",
    meaning="Q_plant output of the cooling [W]; Q heat to take out [W]",
    citations=(COOLING,),
    limits="Of the upper bound above.",
    question="The cooling takes out {value} of the heat, against {target}. How hot does it get?",
    caution=_CAUTION,
)

PANELS_FOR_COOLING = Check(
    slug="panels_for_cooling",
    title="Panels at noon / power that cooling takes",
    topic="Power",
    scales=(RATIO,),
    measure=_panels,
    schedules=(*_SCHEDULES, "power"),
    formula="r = P · f ÷ (Q ÷ COP)",
    meaning="P peak power of panels [W]; f system factor [1]; Q heat to take out [W]; COP of the "
    "cooling [1]",
    citations=(COOLING, PRACTICE),
    limits="One hour of full sun. After sunset the battery carries it.",
    question="The panels give {value} of what the cooling takes, against {target}. What is "
    "switched off?",
    caution="Batteries, panels and wiring can burn and kill: a licensed electrician designs them.",
)

HEAT_PLANT = Check(
    slug="heat_plant",
    title="Heat given / design heat loss",
    topic="Heat",
    scales=(RATIO,),
    measure=_heat_plant,
    schedules=_SCHEDULES,
    formula="r = Q_stove ÷ Q_loss",
    meaning="Q_stove output of stove and heaters [W]; Q_loss design heat loss [W]",
    citations=(PRACTICE,),
    limits="Steady. Warming up from cold takes more, and is a check of its own.",
    question="Stove and heaters give {value} of the loss, against {target}. How long until it is "
    "warm?",
    caution="A stove and its flue are designed and fitted by licensed people.",
)

COOLING_CHECKS = (COOLING_LOAD, COOLING_PLANT, HEAT_PLANT)

"""How long a stove takes to warm a building that has stood cold."""

from criteria.checks.check import Check
from criteria.checks.heat import TEMPERATURE_DIFFERENCE, balance, recovery_notes
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import heat
from criteria.package import Package
from criteria.sources import HEAT_HELD, PRACTICE
from criteria.typed.cells import lacking
from criteria.units import HEAT_LOSS_RATE, HOURS, MASS, POWER, WH, Scale, Unit

HEAT_HELD_SCALE = Scale(
    Unit("Wh/K", "heat capacity", WH.factor),
    Unit("Btu/°F", "heat capacity", HEAT_LOSS_RATE.us.factor * 3600),
)
SPECIFIC_HEAT = Scale(
    Unit("Wh/kgK", "specific heat", WH.factor),
    Unit("Btu/lb·°F", "specific heat", HEAT_LOSS_RATE.us.factor * 3600 / MASS.us.factor),
    2,
    2,
)
"""Both are shown in working and never read."""


def _warm_up(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    plant, b = package.plant, balance(package)
    given, timber, stone = plant.heat_w, plant.timber_kg, plant.stone_kg
    rise = b.inside_k - b.outside_k
    if given <= b.loss_w():
        raise lacking("a heat output above the heat loss (heat and air plant)")
    air_j_k = b.volume_m3 * b.air_heat_j_m3k
    held = air_j_k + timber * heat.TIMBER_J_KGK + stone * heat.STONE_J_KGK
    value = heat.warm_up(held, b.rate_w_k, given, rise)
    capacity, rate = Amount(held, HEAT_HELD_SCALE), Amount(b.rate_w_k, HEAT_LOSS_RATE)
    wood = (Amount(timber, MASS), Amount(heat.TIMBER_J_KGK, SPECIFIC_HEAT))
    rock = (Amount(stone, MASS), Amount(heat.STONE_J_KGK, SPECIFIC_HEAT))
    masses = (Amount(air_j_k, HEAT_HELD_SCALE), *wood, *rock, capacity)
    out, apart = Amount(given, POWER), Amount(rise, TEMPERATURE_DIFFERENCE)
    warmed = (capacity, rate, out, out, rate, apart, Amount(value, HOURS))
    steps = (
        Step("air {} + {} × {} + {} × {} = {}", masses),
        Step("({} ÷ {}) × ln({} ÷ ({} − {} × {})) = {}", warmed),
    )
    note = Step("from as cold as outside to the design inside, {} warmer", (apart,))
    return [Measured(values=(value,), steps=steps, notes=(note, *recovery_notes(package)))]


WARM_UP = Check(
    slug="warm_up",
    title="Time to warm up from cold",
    topic="Heat",
    by_people=True,
    scales=(HOURS,),
    measure=_warm_up,
    schedules=("envelope", "windows", "doors", "rooms", "plant", "site"),
    rule=Rule.AT_MOST,
    formula="t = (C ÷ H) · ln(Q ÷ (Q − H · ΔT))",
    meaning="C heat held by air, timber and stone inside the insulation [Wh/K]; H loss of the "
    "whole [W/K]; Q stove and heaters, steady [W]; ΔT outside to inside at design [K]",
    citations=(HEAT_HELD, PRACTICE),
    limits="A first look: all that is inside warms as one, from as cold as outside, at the full "
    "output from the first minute. Air near the stove is warm sooner; the linings' outer layers "
    "and damp take longer. Timber 1,600 and stone 1,000 J/kgK.",
    question="It takes {value} to warm up, against {target}. Where do wet people wait?",
    caution="A stove and its flue are designed and fitted by licensed people.",
)

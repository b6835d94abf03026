"""Energy beside electricity: hot water a day, and how long the fuel lasts."""

from fractions import Fraction

from criteria.checks.check import Check
from criteria.checks.heat import HEAT_SCHEDULES, TEMPERATURE_DIFFERENCE, balance
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import heat, water
from criteria.package import Package
from criteria.schedules.plant import BURNING
from criteria.sources import HEAT_TRANSFER, PRACTICE
from criteria.typed.cells import Lacking
from criteria.units import (
    BTU_PER_H,
    DAYS,
    ENERGY,
    GALLON,
    LITRES,
    LITRES_A_DAY,
    MASS,
    POUND,
    POWER,
    RANKINE,
    Scale,
    Unit,
)

WATER_HEAT = Scale(
    Unit("Wh/L·K", "heat of water", Fraction(3_600_000)),
    Unit("Btu/gal·°F", "heat of water", BTU_PER_H * 3600 / (GALLON * RANKINE)),
    3,
    2,
)
FUEL_HEAT = Scale(
    Unit("MJ/kg", "heat of fuel", Fraction(1_000_000)),
    Unit("Btu/lb", "heat of fuel", BTU_PER_H * 3600 / POUND),
    1,
    0,
)
"""Shown in working and never read."""


def _hot_water(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    site, people, share = package.site, package.people, package.plant.hot_share
    drawn, hot, cold = site.hot_m3_pd, site.hot_k, site.cold_k
    if hot <= cold:
        raise InputError("warm water is no warmer than cold water")
    litres = people * drawn
    in_water = water.hot_water_j(litres, cold, hot)
    value = in_water / share
    held, rise = Amount(water.WATER_HEAT_J_M3K, WATER_HEAT), hot - cold
    in_a_day, warmed = Amount(litres, LITRES), Amount(in_water, ENERGY)
    steps = (
        Step("{} people × {}: {} a day", (people, Amount(drawn, LITRES_A_DAY), in_a_day)),
        Step("{} × {} × {} = {}", (in_a_day, held, Amount(rise, TEMPERATURE_DIFFERENCE), warmed)),
        Step("{} ÷ {} = {}", (warmed, f"{share:g}", Amount(value, ENERGY))),
    )
    return [Measured(values=(value,), steps=steps)]


def _fuel(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    plant = package.plant
    if plant.heater is None:
        raise Lacking(plant.cell("heater"))
    if plant.heater not in BURNING:
        return []
    kept, share, loss = plant.fuel_kg, plant.fuel_share, balance(package).loss_w()
    holds = heat.FUEL_J_KG[plant.heater]
    value = heat.fuel_lasts_s(kept, holds, share, loss)
    of_fuel, lost = Amount(holds, FUEL_HEAT), Amount(loss, POWER)
    step = Step(
        "{} × {} × {} ÷ {} = {}",
        (Amount(kept, MASS), of_fuel, f"{share:g}", lost, Amount(value, DAYS)),
    )
    each = Amount(loss * 86_400 / (holds * share), MASS)
    notes = (Step("{} a day, in a {}", (each, plant.heater)),)
    return [Measured(values=(value,), steps=(step,), notes=notes)]


HOT_WATER = Check(
    slug="hot_water",
    title="Energy for hot water a day",
    topic="Water and waste",
    by_people=True,
    scales=(ENERGY,),
    measure=_hot_water,
    schedules=("site", "plant"),
    rule=Rule.AT_MOST,
    formula="E = n · V · 1.163 · (θ − θ₀) ÷ η",
    meaning="n people; V warm water of each [L/day]; θ, θ₀ warm and cold [°C]; η heat in the "
    "water for each unit put in [1]",
    citations=(PRACTICE,),
    limits="What is drawn, at the temperature of use; a store and long pipes lose more. It is "
    "in no balance of electricity or fuel before it stands among the loads.",
    question="Hot water takes {value} a day, against {target}. From which store, on the third dark "
    "day?",
    caution="Water kept warm breeds legionella: a store stands at 60 °C or is used up within a "
    "day, and a mixer keeps it from scalding (from memory; local rules decide).",
)

FUEL_DAYS = Check(
    slug="fuel_days",
    title="Days that the fuel lasts in design cold",
    topic="Heat",
    by_people=True,
    scales=(DAYS,),
    measure=_fuel,
    schedules=HEAT_SCHEDULES,
    formula="t = m · H · η ÷ Q",
    meaning="m fuel kept [kg]; H heat in it: 15 MJ/kg dry logs, 17 pellets, 46 gas, 43 oil; η part "
    "that stays in the room, 0.75 where nothing is said; Q heat loss on the coldest night [W]",
    citations=(HEAT_TRANSFER, PRACTICE),
    limits="As cold as the design night all the while, without sun and people, so it errs on the "
    "short side; wet wood holds half. Heats in fuels are from memory.",
    question="The fuel lasts {value}, against {target}. Who brings the next load, and how?",
    caution="What burns indoors needs air of its own, a flue that draws, clearances and a carbon "
    "monoxide alarm: whoever is licensed to fits it.",
)

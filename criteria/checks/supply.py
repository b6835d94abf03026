"""Water beyond days: use by fixture, rain, weight, frost, freshness and what is carried."""

from criteria.checks.check import Check
from criteria.checks.envelope import gross_area
from criteria.checks.reading import all_that_hold, gathered, of_each
from criteria.checks.water import stored_days, used_by_fixtures
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import water
from criteria.package import Package
from criteria.schedules.water import STANDS, Tank
from criteria.sources import HAND_LIFT, PRACTICE, SPHERE_WATER
from criteria.typed.cells import require_some
from criteria.units import AREA, DAYS, LITRES, LITRES_A_DAY, MASS, RAIN, RATIO, SHARE

_HEALTH = "Drinking water: follow local health rules for storage and treatment."


def _fixture_share(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    own, rate = used_by_fixtures(package), package.site.water_m3_pd
    value = own.values[0] / require_positive("the brief's rate", rate, "m³")
    amounts = (Amount(own.values[0], LITRES_A_DAY), Amount(rate, LITRES_A_DAY))
    last = Step("{} by fixture ÷ {} by the brief = {}", (*amounts, Amount(value, RATIO)))
    notes = (Step("{} by fixture, {} by the brief", amounts),)
    return [Measured(values=(value,), steps=(*own.steps, last), notes=notes)]


KEPT = 0.8
"""Part of the rain that a roof keeps [1]. Common practice."""


def _rain(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    site = package.site
    months = [month for month in package.climate if month.is_open]
    require_some(months, "a month in which it is open (climate by month)")
    driest = min(gathered(months, lambda month: (month.rain_m, month.month, month)))[2]
    roof = gross_area(package, "roof")
    caught = water.rain_catch(driest.rain_m, roof, KEPT)
    need = package.people * site.water_m3_pd * 30
    value = caught / require_positive("use", need, "m³")
    figures = (
        driest.month,
        Amount(driest.rain_m, RAIN),
        Amount(roof, AREA),
        f"{KEPT:g}",
        Amount(caught, LITRES),
    )
    steps = (
        Step("{}: {} × {} × {} = {}", figures),
        Step("{} ÷ {} in 30 days = {}", (figures[-1], Amount(need, LITRES), Amount(value, RATIO))),
    )
    notes = (Step("driest open month: {}", (driest.month,)),)
    return [Measured(values=(value,), steps=steps, notes=notes)]


def _full(tank: Tank) -> Measured:
    value = water.water_mass(tank.volume_m3)
    step = Step("{} full = {}", (Amount(tank.volume_m3, LITRES), Amount(value, MASS)))
    return Measured(values=(value,), steps=(step,))


def _frost(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    wet = [tank for tank in package.tanks if tank.holds in ("potable", "grey", "black", "rain")]
    require_some(wet, "a tank that holds water (tank schedule)")
    return [all_that_hold(wet, lambda tank: tank.stands != STANDS[-1])]


def _carry(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    bins = [tank for tank in package.tanks if tank.holds == "solids"]
    require_some(bins, "a solids tank (tank schedule)")
    return of_each(bins, _carried)


def _carried(tank: Tank) -> Measured:
    value = water.water_mass(tank.usable_m3)
    figures = (
        Amount(tank.volume_m3, LITRES),
        Amount(tank.usable_share, SHARE),
        Amount(value, MASS),
    )
    return Measured(values=(value,), steps=(Step("{} × {} as heavy as water = {}", figures),))


SUPPLY_CHECKS = (
    Check(
        slug="fixture_use",
        title="Water use by fixture, each person and day",
        topic="Water and waste",
        scales=(LITRES_A_DAY,),
        measure=lambda package, _: [used_by_fixtures(package)],
        schedules=("fixtures",),
        rule=Rule.AT_MOST,
        formula="q = Σ(u · v) or Σ(u · t · f)",
        meaning="u uses a day; v litres each, or t minutes and f flow [L/min]",
        citations=(PRACTICE,),
        limits="As typed, at the maker's flow; pressure and habit change it.",
        question="Fixture by fixture it is {value} each, against {target}. Which use goes?",
    ),
    Check(
        slug="fixture_share",
        title="Water by fixture / the brief's rate",
        topic="Water and waste",
        scales=(RATIO,),
        measure=_fixture_share,
        schedules=("fixtures", "site"),
        rule=Rule.AT_MOST,
        formula="r = Σ(u · v) ÷ q",
        meaning="u uses a day; v water of each; q the brief's use of each person and day [L/day]",
        citations=(PRACTICE,),
        limits="Days of water are held to the brief's rate; this says whether your own fixtures "
        "keep to it.",
        question="Your own fixtures take {value} of the brief's rate, against {target}. Which is "
        "true?",
    ),
    Check(
        slug="grey_made",
        title="Grey water by fixture, each person and day",
        topic="Water and waste",
        scales=(LITRES_A_DAY,),
        measure=lambda package, _: [used_by_fixtures(package, "grey")],
        schedules=("fixtures",),
        rule=Rule.AT_MOST,
        formula="q = Σ(u · v), of what goes to grey",
        meaning="u uses a day; v each use takes [L]",
        citations=(PRACTICE,),
        limits="What goes down the grey drain; cooking and drinking don't.",
        question="{value} each goes to grey, against {target}. Which tank did you size?",
    ),
    Check(
        slug="rain_catch",
        title="Rain caught / used in the driest open month",
        topic="Water and waste",
        by_people=True,
        scales=(RATIO,),
        measure=_rain,
        schedules=("envelope", "site", "climate"),
        formula="r = h · A · 0.8 ÷ (n · q · 30)",
        meaning="h rain of the driest open month [mm]; A roof [m²]; n people; q use of each "
        "[L/day]",
        citations=(PRACTICE,),
        limits="Roof area as of the envelope, not on plan. First flush and snow are not in it.",
        question="In the driest month the roof catches {value} of what is used, against {target}. "
        "What then?",
        caution=_HEALTH,
    ),
    Check(
        slug="tank_mass",
        title="Heaviest full tank",
        topic="Water and waste",
        scales=(MASS,),
        measure=lambda package, _: of_each(package.tanks, _full),
        schedules=("tanks",),
        rule=Rule.AT_MOST,
        formula="m = V · 1 kg/L",
        meaning="V nominal volume [L]",
        citations=(PRACTICE,),
        limits="Water alone; the tank itself is not in it.",
        question="{name} weighs {value} full, against {target}. Show that load's line to the "
        "ground.",
        caution="A full tank is a structural load: a licensed engineer decides what carries it.",
    ),
    Check(
        slug="tank_frost",
        title="Tanks within the warm or insulated part",
        topic="Water and waste",
        measure=_frost,
        schedules=("tanks",),
        rule=Rule.ALL,
        formula="each wet tank stands heated, or insulated and kept from frost",
        meaning="potable, grey, black and rain tanks, by where their row says that they stand",
        citations=(PRACTICE,),
        limits="What is said of each tank, not of its pipes, which freeze first.",
        question="{value}: outside the warm part. Where is the water when it freezes?",
    ),
    Check(
        slug="water_turnover",
        title="Days that drinking water stands",
        topic="Water and waste",
        by_people=True,
        scales=(DAYS,),
        measure=lambda package, _: [stored_days(package)],
        schedules=("tanks", "site"),
        rule=Rule.AT_MOST,
        formula="t = Σ(V · s) ÷ (n · q)",
        meaning="V · s usable potable water [L]; n people; q use of each [L/day]",
        citations=(SPHERE_WATER, PRACTICE),
        limits="Full house; with two people it stands far longer. Past about five days without "
        "treatment ask how it is kept fit to drink (common practice).",
        question="Drinking water stands {value}, against {target}. What keeps it fresh?",
        caution=_HEALTH,
    ),
    Check(
        slug="carry_mass",
        title="Heaviest bin to carry",
        topic="Water and waste",
        scales=(MASS,),
        measure=_carry,
        schedules=("tanks",),
        rule=Rule.AT_MOST,
        formula="m = V · s · 1 kg/L",
        meaning="V nominal volume of a solids bin [L]; s share that is filled [1]",
        citations=(HAND_LIFT,),
        limits="As heavy as water, by one person, on good ground: 25 kg is the usual reference.",
        question="{name}: {value} to carry, against {target}. How far, in what?",
        caution="Waste is handled as local health rules ask; lift with two, or with a barrow.",
    ),
)

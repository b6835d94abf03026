"""Water beyond days: use by fixture, rain, weight, frost, freshness and what is carried."""

import re

from criteria.checks.check import Check, blank
from criteria.checks.reading import all_but, each, rows_missing
from criteria.checks.water import usable
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import water
from criteria.package import Package
from criteria.schedules.climate import Month
from criteria.schedules.fixtures import Fixture
from criteria.schedules.site import Site
from criteria.schedules.water import Tank
from criteria.sources import HAND_LIFT, PRACTICE, SPHERE_WATER
from criteria.units import AREA, COUNT, DAYS, LITRES, LITRES_A_DAY, MASS, RAIN, RATIO, SHARE

_HEALTH = "Drinking water: follow local health rules for storage and treatment."
_INDOORS = re.compile(r"heated|indoors|inside|plant|insulated|hearth|toilet|store", re.IGNORECASE)
_NO_FIXTURES = rows_missing(Fixture.schedule)


def _fixture_missing(row: Fixture) -> tuple[str, ...]:
    if row.each_m3 is not None:
        return blank(Fixture.schedule, row, "uses_a_day")
    return blank(Fixture.schedule, row, "uses_a_day", "flow", "minutes")


def _used(package: Package, goes_to: str = "") -> list[Measured]:
    rows = [row for row in package.fixtures if goes_to in ("", row.goes_to)]
    if not rows:
        return _NO_FIXTURES
    if missing := tuple(cell for row in rows for cell in _fixture_missing(row)):
        return [Measured(missing=missing)]
    figures = [row.per_person_day_m3 or 0 for row in rows]
    total = sum(figures)
    words = " + ".join(["{} {}"] * len(rows)) + " = {}"
    parts = [
        part
        for row, figure in zip(rows, figures, strict=True)
        for part in (row.use or row.mark, Amount(figure, LITRES_A_DAY))
    ]
    step = Step(words, (*parts, Amount(total, LITRES_A_DAY)))
    return [Measured(values=(total,), steps=(step,))]


def _fixture_use(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _used(package)


def _grey_made(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _used(package, "grey")


KEPT = 0.8
"""Part of the rain that a roof keeps [1]. Common practice."""


def _rain(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    roofs = {row.gross_area_m2 for row in package.envelope if row.part == "roof"} - {None}
    site = package.site
    missing = [*blank(Site.schedule, site, "people", "water_l_pd")]
    missing += [] if roofs else ["roof, Gross area of the part (envelope layers)"]
    open_months = [month for month in package.climate if month.is_open is not False]
    missing += [] if open_months else ["rows of the climate table"]
    missing += [cell for month in open_months for cell in _month_blank(month)]
    if missing:
        return [Measured(missing=tuple(missing))]
    driest = min(open_months, key=lambda month: (month.rain_m or 0, month.month))
    roof = max(area for area in roofs if area is not None)
    caught = water.rain_catch(driest.rain_m or 0, roof, KEPT)
    need = (site.people or 0) * (site.water_m3_pd or 0) * 30
    value = caught / need
    figures = (
        driest.month, Amount(driest.rain_m or 0, RAIN), Amount(roof, AREA), f"{KEPT:g}",
        Amount(caught, LITRES),
    )  # fmt: skip
    steps = (
        Step("{}: {} × {} × {} = {}", figures),
        Step("{} ÷ {} in 30 days = {}", (figures[-1], Amount(need, LITRES), Amount(value, RATIO))),
    )
    return [
        Measured(
            values=(value,), steps=steps, notes=(Step("driest open month: {}", (driest.month,)),)
        )
    ]


def _month_blank(month: Month) -> tuple[str, ...]:
    return () if month.rain_m is not None else (f"{month.month}, Rain (climate by month)",)


def _tank_mass(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.tanks:
        return rows_missing(Tank.schedule)
    found = []
    for tank in package.tanks:
        about = {"subject": tank.mark, "name": tank.place or ""}
        if missing := blank(Tank.schedule, tank, "litres"):
            found.append(Measured(missing=missing, **about))
            continue
        value = water.water_mass(tank.volume_m3 or 0)
        step = Step("{} full = {}", (Amount(tank.volume_m3 or 0, LITRES), Amount(value, MASS)))
        found.append(Measured(values=(value,), steps=(step,), **about))
    return found


def _frost(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    wet = [tank for tank in package.tanks if tank.holds in ("potable", "grey", "black", "rain")]
    if not wet:
        return rows_missing(Tank.schedule)
    missing = [cell for tank in wet for cell in blank(Tank.schedule, tank, "place")]
    outside = [t.mark for t in wet if t.place and not _INDOORS.search(t.place)]
    return [all_but(outside, missing)]


def _turnover(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, steps, missing = usable(package, "potable")
    site = package.site
    missing = (*missing, *blank(Site.schedule, site, "people", "water_l_pd"))
    if missing:
        return [Measured(missing=missing)]
    value = water.water_days(total, site.people or 0, site.water_m3_pd or 0)
    figures = (
        Amount(total, LITRES), site.people or 0, Amount(site.water_m3_pd or 0, LITRES_A_DAY),
        Amount(value, DAYS),
    )  # fmt: skip
    return [Measured(values=(value,), steps=(*steps, Step("{} ÷ ({} × {}) = {}", figures)))]


def _carry(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    bins = [tank for tank in package.tanks if tank.holds == "solids"]
    if not bins:
        return [Measured(missing=("a solids tank (tank schedule)",))]

    def mass(tank: Tank) -> tuple[float, tuple[Step, ...]]:
        value = water.water_mass(tank.usable_m3 or 0)
        figures = (
            Amount(tank.volume_m3 or 0, LITRES), Amount(tank.usable_share or 0, SHARE),
            Amount(value, MASS),
        )  # fmt: skip
        return value, (Step("{} × {} as heavy as water = {}", figures),)

    return each(Tank.schedule, bins, ("litres", "usable_share"), mass)


FIXTURE_USE = Check(
    slug="fixture_use",
    title="Water use by fixture, each person and day",
    topic="Water and waste",
    scales=(LITRES_A_DAY,),
    measure=_fixture_use,
    schedules=("fixtures",),
    rule=Rule.AT_MOST,
    formula="q = Σ(u · v) or Σ(u · t · f)",
    meaning="u uses a day; v litres each, or t minutes and f flow [L/min]",
    citations=(PRACTICE,),
    limits="As typed, at the maker's flow; pressure and habit change it.",
    question="Fixture by fixture it is {value} each, against {target}. Which use goes?",
)

GREY_MADE = Check(
    slug="grey_made",
    title="Grey water by fixture, each person and day",
    topic="Water and waste",
    scales=(LITRES_A_DAY,),
    measure=_grey_made,
    schedules=("fixtures",),
    rule=Rule.AT_MOST,
    formula="q = Σ(u · v), of what goes to grey",
    meaning="u uses a day; v each use takes [L]",
    citations=(PRACTICE,),
    limits="What goes down the grey drain; cooking and drinking don't.",
    question="{value} each goes to grey, against {target}. Which tank did you size?",
)

RAIN_CATCH = Check(
    slug="rain_catch",
    title="Rain caught / used in the driest open month",
    topic="Water and waste",
    scales=(RATIO,),
    measure=_rain,
    schedules=("envelope", "site", "climate"),
    formula="r = h · A · 0.8 ÷ (n · q · 30)",
    meaning="h rain of the driest open month [mm]; A roof [m²]; n people; q use of each [L/day]",
    citations=(PRACTICE,),
    limits="Roof area as of the envelope, not on plan. First flush and snow are not in it.",
    question="In the driest month the roof catches {value} of what is used, against {target}. What "
    "then?",
    caution=_HEALTH,
)

TANK_MASS = Check(
    slug="tank_mass",
    title="Heaviest full tank",
    topic="Water and waste",
    scales=(MASS,),
    measure=_tank_mass,
    schedules=("tanks",),
    rule=Rule.AT_MOST,
    formula="m = V · 1 kg/L",
    meaning="V nominal volume [L]",
    citations=(PRACTICE,),
    limits="Water alone; the tank itself is not in it.",
    question="{name} weighs {value} full, against {target}. Show that load's line to the ground.",
    caution="A full tank is a structural load: a licensed engineer decides what carries it.",
)

TANK_FROST = Check(
    slug="tank_frost",
    title="Tanks within the warm or insulated part",
    topic="Water and waste",
    scales=(COUNT,),
    measure=_frost,
    schedules=("tanks",),
    rule=Rule.ALL,
    is_count=True,
    formula="each wet tank's place says heated, insulated or indoors",
    meaning="potable, grey, black and rain tanks",
    citations=(PRACTICE,),
    limits="Reads the words of the place; pipes freeze before tanks do.",
    question="{value}: outside the warm part. Where is the water in February?",
)

TURNOVER = Check(
    slug="water_turnover",
    title="Days that drinking water stands",
    topic="Water and waste",
    scales=(DAYS,),
    measure=_turnover,
    schedules=("tanks", "site"),
    rule=Rule.AT_MOST,
    formula="t = Σ(V · s) ÷ (n · q)",
    meaning="V · s usable potable water [L]; n people; q use of each [L/day]",
    citations=(SPHERE_WATER, PRACTICE),
    limits="Full house; with two people it stands far longer. Past about five days without "
    "treatment ask how it is kept fit to drink (common practice).",
    question="Drinking water stands {value}, against {target}. What keeps it fresh?",
    caution=_HEALTH,
)

CARRY_MASS = Check(
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
)

SUPPLY_CHECKS = (
    FIXTURE_USE,
    GREY_MADE,
    RAIN_CATCH,
    TANK_MASS,
    TANK_FROST,
    TURNOVER,
    CARRY_MASS,
)

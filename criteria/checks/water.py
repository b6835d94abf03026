"""Stored water: how long it lasts a full house."""

from criteria.checks.check import Check, blank
from criteria.findings import Amount, Measured, Step
from criteria.measures import water
from criteria.package import Package
from criteria.schedules.site import Site
from criteria.schedules.water import Tank
from criteria.sources import PRACTICE, SPHERE_WATER
from criteria.units import DAYS, LITRES, LITRES_A_DAY, SHARE


def usable(package: Package, holds: str) -> tuple[float, tuple[Step, ...], tuple[str, ...]]:
    """Return the usable volume of the tanks of one kind [m³], its working and what is blank."""
    tanks = [tank for tank in package.tanks if tank.holds == holds]
    missing = [
        cell for tank in tanks for cell in blank(Tank.schedule, tank, "litres", "usable_share")
    ]
    if not tanks:
        missing = [f"a {holds} tank (tank schedule)"]
    total, steps = 0.0, []
    for tank in tanks:
        if tank.usable_m3 is None:
            continue
        assert tank.volume_m3 is not None and tank.usable_share is not None
        total += tank.usable_m3
        figures = (Amount(tank.volume_m3, LITRES), Amount(tank.usable_share, SHARE))
        words = "{}: {} × {} usable = {}"
        steps.append(Step(words, (tank.mark, *figures, Amount(tank.usable_m3, LITRES))))
    return total, tuple(steps), tuple(missing)


def _water_days(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, steps, missing = usable(package, "potable")
    site = package.site
    missing = (*missing, *blank(Site.schedule, site, "people", "water_l_pd"))
    if missing:
        return [Measured(steps=steps, missing=missing)]
    people, use = site.people or 0, site.water_m3_pd or 0
    value = water.water_days(total, people, use)
    amounts = (Amount(total, LITRES), people, Amount(use, LITRES_A_DAY), Amount(value, DAYS))
    last = Step("{} ÷ ({} people × {}) = {}", amounts)
    notes = (Step("{} usable", (Amount(total, LITRES),)),)
    return [Measured(values=(value,), steps=(*steps, last), notes=notes)]


def _water_rate(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, steps, missing = usable(package, "potable")
    site = package.site
    missing = (*missing, *blank(Site.schedule, site, "people", "supply_days"))
    if missing:
        return [Measured(steps=steps, missing=missing)]
    people, supply = site.people or 0, site.supply_s or 0
    value = water.water_per_person_day(total, people, supply)
    figures = (Amount(total, LITRES), people, Amount(supply, DAYS), Amount(value, LITRES_A_DAY))
    last = Step("{} ÷ ({} people × {}) = {}", figures)
    return [Measured(values=(value,), steps=(*steps, last))]


WATER_DAYS = Check(
    slug="water_days",
    title="Water days at full house",
    topic="Water and waste",
    scales=(DAYS,),
    measure=_water_days,
    schedules=("tanks", "site"),
    formula="t = Σ(V · s) ÷ (n · q)",
    meaning="V nominal volume of a potable tank [L]; s usable share [1]; n people in the brief; "
    "q use per person and day [L/day]",
    citations=(PRACTICE,),
    limits="Stored water alone: rain, refilling and losses are not in it. Keep stored drinking "
    "water fit to drink as local health rules ask.",
    question="{value} of water, against {target}. Bigger tank, less use, or more catch?",
    caution="Drinking water: follow local health rules for storage and treatment.",
)

WATER_RATE = Check(
    slug="water_per_person_day",
    title="Stored water per person and day",
    topic="Water and waste",
    scales=(LITRES_A_DAY,),
    measure=_water_rate,
    schedules=("tanks", "site"),
    formula="q = Σ(V · s) ÷ (n · t)",
    meaning="V nominal volume of a potable tank [L]; s usable share [1]; n people in the brief; "
    "t days between supply visits",
    citations=(SPHERE_WATER,),
    limits="Between two supply visits, stored water alone.",
    question="Between two visits there is {value} each, against {target}. What do people go "
    "without?",
    caution="Drinking water: follow local health rules for storage and treatment.",
)

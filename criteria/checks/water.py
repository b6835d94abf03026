"""Stored water: how long it lasts a full house."""

from dataclasses import replace

from criteria.checks.check import Check
from criteria.checks.reading import gathered
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Step
from criteria.measures import water
from criteria.package import Package
from criteria.schedules.fixtures import Fixture
from criteria.sources import PRACTICE, SPHERE_WATER
from criteria.typed.cells import Lacking, require_some
from criteria.units import DAYS, LITRES, LITRES_A_DAY, SHARE


def usable(package: Package, holds: str) -> tuple[float, tuple[Step, ...]]:
    """Return the usable volume of the tanks of one kind [m³] and its working."""
    tanks = [tank for tank in package.tanks if tank.holds == holds]
    require_some(tanks, f"a {holds} tank (tank schedule)")
    volumes = gathered(tanks, lambda tank: tank.usable_m3)
    steps = tuple(
        Step(
            "{}: {} × {} usable = {}",
            (t.mark, Amount(t.volume_m3, LITRES), Amount(t.usable_share, SHARE), Amount(v, LITRES)),
        )
        for t, v in zip(tanks, volumes, strict=True)
    )
    return sum(volumes), steps


def used_by_fixtures(package: Package, goes_to: str = "") -> Measured:
    """Measure what each person uses in a day by the fixture schedule, or of it goes to a tank."""
    rows = [row for row in package.fixtures if not goes_to or row.goes_to == goes_to]
    figures = gathered(rows, lambda row: row.per_person_day_m3)
    total = sum(figures)
    words = " + ".join(["{} {}"] * len(rows)) + " = {}"
    parts = [
        part
        for row, figure in zip(rows, figures, strict=True)
        for part in (row.if_given("use") or row.mark, Amount(figure, LITRES_A_DAY))
    ]
    if not rows:
        return Measured(values=(0.0,), steps=(Step("no fixture goes to {}", (goes_to,)),))
    return Measured(values=(total,), steps=(Step(words, (*parts, Amount(total, LITRES_A_DAY))),))


def own_fixtures(package: Package, goes_to: str, total: float, rate: float) -> tuple[Step, ...]:
    """Say how long it lasts by the student's own fixtures, beside the brief's rate."""
    if not package.rows_of(Fixture):
        return ()
    try:
        own = used_by_fixtures(package, goes_to).values[0]
        days = Amount(water.water_days(total, package.people, own), DAYS)
    except (Lacking, InputError):
        return (Step("by the fixture schedule it can't be said: a cell of it has no figure"),)
    words = "by the fixture schedule {} each, against the brief's {}: {}"
    return (Step(words, (Amount(own, LITRES_A_DAY), Amount(rate, LITRES_A_DAY), days)),)


def stored_days(package: Package) -> Measured:
    """Measure how long stored drinking water lasts a full house."""
    total, steps = usable(package, "potable")
    people, use = package.people, package.site.water_m3_pd
    value = water.water_days(total, people, use)
    amounts = (Amount(total, LITRES), people, Amount(use, LITRES_A_DAY), Amount(value, DAYS))
    last = Step("{} ÷ ({} people × {}) = {}", amounts)
    return Measured(values=(value,), steps=(*steps, last))


def _water_days(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    stored, (total, _) = stored_days(package), usable(package, "potable")
    own = own_fixtures(package, "", total, package.site.water_m3_pd)
    notes = (Step("{} usable", (Amount(total, LITRES),)), *own)
    return [replace(stored, notes=notes)]


def _water_rate(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, steps = usable(package, "potable")
    people, supply = package.people, package.site.supply_s
    value = water.water_per_person_day(total, people, supply)
    figures = (Amount(total, LITRES), people, Amount(supply, DAYS), Amount(value, LITRES_A_DAY))
    return [Measured(values=(value,), steps=(*steps, Step("{} ÷ ({} people × {}) = {}", figures)))]


WATER_CHECKS = (
    Check(
        slug="water_days",
        title="Water days at full house",
        topic="Water and waste",
        by_people=True,
        scales=(DAYS,),
        measure=_water_days,
        is_monotone=True,
        schedules=("tanks", "site"),
        formula="t = Σ(V · s) ÷ (n · q)",
        meaning="V nominal volume of a potable tank [L]; s usable share [1]; n people in the "
        "brief; q use per person and day [L/day]",
        citations=(PRACTICE,),
        limits="Stored water alone: rain, refilling and losses are not in it. Keep stored "
        "drinking water fit to drink as local health rules ask.",
        question="{value} of water, against {target}. Bigger tank, less use, or more catch?",
        caution="Drinking water: follow local health rules for storage and treatment.",
    ),
    Check(
        slug="water_per_person_day",
        title="Stored water per person and day",
        topic="Water and waste",
        by_people=True,
        scales=(LITRES_A_DAY,),
        measure=_water_rate,
        is_monotone=True,
        schedules=("tanks", "site"),
        formula="q = Σ(V · s) ÷ (n · t)",
        meaning="V nominal volume of a potable tank [L]; s usable share [1]; n people in the "
        "brief; t days between supply visits",
        citations=(SPHERE_WATER,),
        limits="Between two supply visits, stored water alone.",
        question="Between two visits there is {value} each, against {target}. What do people go "
        "without?",
        caution="Drinking water: follow local health rules for storage and treatment.",
    ),
)

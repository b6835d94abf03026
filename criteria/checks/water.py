"""Stored water: how long it lasts a full house."""

from dataclasses import replace

from criteria.checks.check import Check
from criteria.checks.reading import gathered
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Step
from criteria.measures import water
from criteria.measures.levels import Stays, level_by_day, people_by_day
from criteria.package import Package
from criteria.schedules.fixtures import Fixture
from criteria.schedules.states import PeopleCase
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


def _through_the_interval(package: Package) -> tuple[tuple[int, ...], tuple[Step, ...]]:
    """Return how many are there on each day between two visits, and how that is reckoned."""
    site = package.site
    held = [case for case in package.rows_of(PeopleCase) if case.is_held]
    if len(held) < 2:
        people = held[0].people if held else site.people
        return people_by_day(site.supply_s, people, ()), ()
    usual = max(held, key=lambda case: (case.days, -case.people))
    others = [case for case in held if case is not usual]
    stays = [Stays(each.people, each.days, each.stay or each.days) for each in others]
    words = Step("{}: {} people on most days", (usual.case, usual.people))
    steps = [
        Step("{}: {} people, {} days a year in stays of {}", (c.case, s.people, s.days, s.stay))
        for c, s in zip(others, stays, strict=True)
    ]
    return people_by_day(site.supply_s, usual.people, stays), (words, *steps)


def _worst_day(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, steps = usable(package, "potable")
    people, said = _through_the_interval(package)
    use = package.site.water_m3_pd
    levels = level_by_day(total, use, people)
    day = levels.first_short
    least = levels.left_m3[-1] - sum(levels.short_m3)
    figures = (len(people), sum(people), Amount(use, LITRES_A_DAY), Amount(least, LITRES))
    last = Step("{} days, {} person-days × {}: {} left at the end", figures)
    if day is None:
        notes = (Step("never empty between two visits"),)
    else:
        figure = Amount(levels.short_m3[day - 1], LITRES)
        notes = (Step("empty on day {}, {} short that day", (day, figure)),)
    name = f"Day {day}" if day else "The last day"
    return [Measured(name=name, values=(least,), steps=(*steps, *said, last), notes=notes)]


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
    Check(
        slug="water_worst_day",
        title="Water left before the next visit",
        topic="Water and waste",
        scales=(LITRES,),
        measure=_worst_day,
        near=0.0,
        schedules=("tanks", "site", "cases"),
        formula="v_d = v_{d−1} − n_d · q",
        meaning="v level at the end of day d, full before the first [L]; n people of that day, by "
        "the people cases; q use per person and day [L/day]",
        citations=(PRACTICE,),
        limits="Stored water alone. Stays are as many as their days of a year give, rounded up, "
        "each ending an equal part of the interval: the dates themselves are not known. Below "
        "nought is what was wanted and wasn't there.",
        question="{name}: {value} left before the next visit, against {target}. Who goes without?",
        caution="Drinking water: follow local health rules for storage and treatment.",
    ),
)

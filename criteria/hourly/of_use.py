"""Who is in a package's building, what runs in it and what they want of it, hour by hour."""

from dataclasses import dataclass

import numpy as np

from criteria.checks.power import how_many
from criteria.checks.reading import gathered
from criteria.hourly.assumed import Taking
from criteria.hourly.building import Use
from criteria.hourly.dates import open_days
from criteria.hourly.people_hours import (
    DAY_S,
    SLEEP_S,
    UP_S,
    VISIT_S,
    Group,
    Load,
    LoadsYear,
    PeopleYear,
    Spread,
    loads_of,
    people_of,
)
from criteria.hourly.weather import Flags
from criteria.package import Package
from criteria.schedules.climate import Month
from criteria.schedules.people import Occupant, is_there
from criteria.schedules.power import Load as LoadRow
from criteria.schedules.site import MONTHS

OWN = "ours: a day as most people keep it"


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class InUse:
    """A building in use.

    months    of the twelve, whether it is open
    is_open   the same by hour
    people    by hour
    """

    months: tuple[bool, ...]
    is_open: Flags
    people: PeopleYear


def in_use(package: Package, taking: Taking) -> InUse:
    """Return who is there, hour by hour. Raises Lacking.

    Without an occupant schedule as many as the brief says, all of whom sleep here.
    """
    closed = [row.month for row in package.rows_of(Month) if not row.is_open]
    months = tuple(month not in closed for month in MONTHS)
    case = package.case.case if package.case else ""
    rows = package.rows_of(Occupant)
    there = [row for row in rows if is_there(row, case)]
    groups = gathered(there, lambda row: _group(row, taking))
    if not rows:
        groups = [Group(n=package.people, sleeps_here=True)]
    is_open = np.repeat(open_days(months), 24)
    return InUse(months=months, is_open=is_open, people=people_of(groups, months))


def _group(row: Occupant, taking: Taking) -> Group:
    up = row.unless_blank("up_s")
    wakes = UP_S if up is None else up
    begins, ends = (wakes, (wakes - SLEEP_S) % DAY_S) if row.sleeps_here else VISIT_S
    taken = {"here_from_s": begins, "here_to_s": ends}
    if row.sleeps_here:
        taken = {"up_s": wakes, **taken}
    blank = {name: value for name, value in taken.items() if row.unless_blank(name) is None}
    if blank:
        labels = [row.schedule.by_attribute[name].label.lower() for name in blank]
        words = "{} are taken to be " + ", ".join(f"{label} {{}}" for label in labels)
        taking.take(row, blank, words, OWN)
    return Group(
        n=row.n,
        sleeps_here=row.sleeps_here,
        up_s=wakes,
        here_from_s=row.unless_blank("here_from_s"),
        here_to_s=row.unless_blank("here_to_s"),
    )


def loads(
    package: Package,
    use: InUse,
    spread: Spread = Spread.AWAKE,
    *,
    by_need: bool = True,
) -> LoadsYear:
    """Return what loads take, hour by hour. Raises Lacking.

    spread    when those run that don't say it
    by_need   whether essential loads must be told from others; their heat doesn't ask it
    """

    def load(row: LoadRow) -> Load:
        return Load(
            power_w=how_many(package, row) * row.power_w,
            run_s=row.run_s,
            when=row.when,
            from_s=row.from_s,
            until_s=row.until_s,
            is_essential=row.essential if by_need else False,
            is_outside=row.stands_outside,
        )

    rows = package.loads if by_need else package.rows_of(LoadRow)
    return loads_of(gathered(rows, load), use.people, use.months, spread)


def unsaid(package: Package) -> tuple[str, ...]:
    """Return the marks of loads that don't say when they run."""
    says = ("when", "from_s", "until_s")
    rows = package.rows_of(LoadRow)
    return tuple(row.mark for row in rows if all(row.unless_blank(x) is None for x in says))


def wanted(package: Package, use: InUse, loads_year: LoadsYear) -> Use:
    """Return people, loads and what is wanted: the brief's temperatures in the open months.

    Heated at night to what the plant row says, where it says it. A temperature that the brief
    doesn't give is nan: nothing is held to it. Raises Lacking.
    """
    warm, cool = (
        np.nan if given is None else float(given)
        for given in map(package.site.unless_blank, ("design_inside_k", "summer_inside_k"))
    )
    night = package.plant.unless_blank("night_k")
    in_bed = use.people.is_asleep & ~use.people.is_awake
    by_hour = np.where(in_bed, warm if night is None else np.minimum(night, warm), warm)
    return Use(
        people_w=use.people.sensible_w,
        loads_w=loads_year.inside_w,
        warm_k=np.where(use.is_open, by_hour, np.nan),
        cool_k=np.where(use.is_open, cool, np.nan),
        is_operative=True,
    )

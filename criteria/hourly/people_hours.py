"""People and what they switch on, hour by hour: heat of both, and electricity that is asked for.

A day's hours are laid out in minutes and repeated through the months that are open; in the others
nobody is there and nothing runs.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from criteria.errors import InputError, require_not_negative
from criteria.hourly.dates import open_days
from criteria.hourly.weather import HOUR_S, Flags, Hours

DAY_S, MINUTES = 86_400.0, 1440
AWAKE_W = 75.0
"""Sensible heat of an adult who sits [W]. ASHRAE Fundamentals, chapter 18, Table 1: 70 to 75."""
ASLEEP_W = 50.0
"""The same asleep [W]: 0.8 met of ISO 8996, from memory."""
UP_S = 7 * HOUR_S
"""When who sleeps here gets up, where nothing says it [s]. Assumed."""
SLEEP_S = 8 * HOUR_S
"""How long people sleep [s]. Assumed."""
VISIT_S = (9 * HOUR_S, 17 * HOUR_S)
"""Between when those are here who don't sleep here, where nothing says it [s]. Assumed."""
WAKING_S = (UP_S, 23 * HOUR_S)
"""Hours of loads in a building in which nobody is awake by its schedule [s]. Assumed."""

WHEN_H: Mapping[str, tuple[tuple[float, float], ...]] = {
    "always": ((0, 24),),
    "day": ((7, 18),),
    "evening": ((18, 23),),
    "night": ((23, 7),),
    "cooking": ((7, 8), (18, 20)),
}
"""Hours that a word stands for [h]. Assumed."""


class Spread(StrEnum):
    """Where the hours of loads fall that don't say when they run."""

    AWAKE = "while somebody is awake"
    BY_DAY = "all by day"
    BY_NIGHT = "all by night"


@dataclass(frozen=True, kw_only=True)
class Group:
    """People alike. Times are of the day [s]; a later end than a beginning is of the next day.

    n           how many [no.]
    sleeps_here whether they sleep in the building, the eight hours before they get up
    up_s        when they get up; None is 7
    here_from_s, here_to_s  between when they are in the building; None is from getting up and
                until going to bed, of those who don't sleep here from 9 and until 17
    """

    n: float
    sleeps_here: bool
    up_s: float | None = None
    here_from_s: float | None = None
    here_to_s: float | None = None


@dataclass(frozen=True, kw_only=True)
class Load:
    """Something electric, or several alike.

    power_w     of all of them, while they run [W]
    run_s       how long they run in a day [s]
    when        a word of WHEN_H; None where nothing says it
    from_s, until_s  between when instead; of one alone, as long as they run from or until then [s]
    is_essential  whether it is served first
    is_outside  whether its heat stays outside the room: outdoors, in water, in a drain
    """

    power_w: float
    run_s: float
    when: str | None = None
    from_s: float | None = None
    until_s: float | None = None
    is_essential: bool = False
    is_outside: bool = False


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class PeopleYear:
    """People by hour, as means [no.]: shape (8760,).

    day_awake   minutes of an open day in which somebody is awake here: shape (1440,)
    """

    awake: Hours
    asleep: Hours
    day_awake: Flags

    @property
    def sensible_w(self) -> Hours:
        """Heat that they give to the room [W]."""
        return AWAKE_W * self.awake + ASLEEP_W * self.asleep

    @property
    def is_there(self) -> Flags:
        """Whether anybody is in the building, for a part of the hour at least."""
        return self.awake + self.asleep > 0

    @property
    def is_awake(self) -> Flags:
        """Whether anybody in it is awake, likewise."""
        return self.awake > 0

    @property
    def is_asleep(self) -> Flags:
        """Whether anybody in it is in bed, likewise."""
        return self.asleep > 0


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class LoadsYear:
    """What loads take by hour [W]: shape (8760,).

    inside_w    all that becomes heat in the room
    essential_w, rest_w  asked for, wherever the heat goes
    """

    inside_w: Hours
    essential_w: Hours
    rest_w: Hours


def minutes_between(from_s: float, until_s: float) -> Flags:
    """Tell which minutes of a day lie between two times [s]: shape (1440,).

    An end that isn't later is of the next day; twice the same is all day long. To the minute.
    Raises InputError for what is no time of a day.

    >>> int(minutes_between(23 * 3600, 7 * 3600).sum()) / 60
    8.0
    """
    for time_s in (from_s, until_s):
        if not 0 <= time_s <= DAY_S:
            raise InputError(f"time of day is {time_s / HOUR_S:g} h; expected 0 to 24 h")
    lasts_s = until_s - from_s if until_s > from_s else until_s - from_s + DAY_S
    first, lasts = round(from_s / 60), round(lasts_s / 60)
    return np.roll(np.arange(MINUTES) < max(lasts, 1), first)


def by_hour(minutes: Hours | Flags) -> Hours:
    """Return the hourly means of a day's minutes: shape (24,)."""
    means: Hours = minutes.reshape(24, 60).mean(axis=1)
    return means


def people_of(groups: Sequence[Group], is_open: Sequence[bool]) -> PeopleYear:
    """Return who is awake and who asleep, hour by hour.

    is_open   of the twelve months, whether the building is used

    Who sleeps here is asleep the eight hours before getting up, and else awake in the building but
    while out of it; others are awake here. In closed months nobody is here.
    Source: the occupant schedule; times that it doesn't give are assumed.

    Raises InputError for fewer than no people, what is no time of a day, or other than 12 months.
    """
    awake, asleep = np.zeros(MINUTES), np.zeros(MINUTES)
    for group in groups:
        n = require_not_negative("people", group.n, "no.")
        up_s = UP_S if group.up_s is None else group.up_s
        bed_s = (up_s - SLEEP_S) % DAY_S
        begins, ends = (up_s, bed_s) if group.sleeps_here else VISIT_S
        here = minutes_between(
            begins if group.here_from_s is None else group.here_from_s,
            ends if group.here_to_s is None else group.here_to_s,
        )
        sleeps = minutes_between(bed_s, up_s) & group.sleeps_here
        asleep += n * sleeps
        awake += n * (here & ~sleeps)
    days = open_days(is_open)
    return PeopleYear(
        awake=_through(awake, days), asleep=_through(asleep, days), day_awake=awake > 0
    )


def loads_of(
    loads: Sequence[Load],
    people: PeopleYear,
    is_open: Sequence[bool],
    spread: Spread = Spread.AWAKE,
) -> LoadsYear:
    """Return what loads take, hour by hour; through a day as much as they say.

        P = W · t ÷ t_w within the load's own hours

        W     power                  [W]
        t     running time a day     [s]
        t_w   length of its hours    [s]

    What runs longer than its own hours last runs through all of them, and for the rest evenly
    through the rest of the day. Loads that don't say when run while somebody is awake, or, to see
    whether that matters, all by day or all by night. All electricity ends as heat.
    Source: energy balance; hours of a word are assumed.

    Raises InputError for an unknown word, power below 0, or more than 24 hours a day.
    """
    days = open_days(is_open)
    total = {True: np.zeros(MINUTES), False: np.zeros(MINUTES)}
    inside = np.zeros(MINUTES)
    for load in loads:
        watts = _through_a_day(load, _own_minutes(load, people, spread))
        total[load.is_essential] += watts
        if not load.is_outside:
            inside += watts
    return LoadsYear(
        inside_w=_through(inside, days),
        essential_w=_through(total[True], days),
        rest_w=_through(total[False], days),
    )


def is_unsaid(load: Load) -> bool:
    """Tell whether nothing says when a load runs, so that a verdict may depend on it."""
    return load.when is None and load.from_s is None and load.until_s is None


def _own_minutes(load: Load, people: PeopleYear, spread: Spread) -> Flags:
    if load.from_s is not None and load.until_s is not None:
        return minutes_between(load.from_s, load.until_s)
    if load.from_s is not None:
        return minutes_between(load.from_s, (load.from_s + load.run_s) % DAY_S)
    if load.until_s is not None:
        return minutes_between((load.until_s - load.run_s) % DAY_S, load.until_s)
    if load.when is not None:
        return _of_word(load.when)
    if spread is not Spread.AWAKE:
        return _of_word("day" if spread is Spread.BY_DAY else "night")
    return people.day_awake if people.day_awake.any() else minutes_between(*WAKING_S)


def _of_word(word: str) -> Flags:
    if word not in WHEN_H:
        raise InputError(f"load runs “{word}”; expected {', '.join(WHEN_H)}")
    told = np.zeros(MINUTES, dtype=np.bool_)
    for begins, ends in WHEN_H[word]:
        told |= minutes_between(begins * HOUR_S, ends * HOUR_S)
    return told


def _through_a_day(load: Load, own: Flags) -> Hours:
    power_w = require_not_negative("power", load.power_w, "W")
    if not 0 <= load.run_s <= DAY_S:
        raise InputError(f"load runs {load.run_s / HOUR_S:g} h a day; expected 0 to 24 h")
    lasts_s = 60.0 * np.count_nonzero(own)
    within_s = min(load.run_s, lasts_s)
    rest = (load.run_s - within_s) / (DAY_S - lasts_s) if lasts_s < DAY_S else 0.0
    watts: Hours = power_w * np.where(own, within_s / lasts_s, rest)
    return watts


def _through(minutes: Hours, days: Flags) -> Hours:
    hours: Hours = np.outer(days, by_hour(minutes)).ravel()
    return hours

"""When a year is at its worst: the coldest night, the week that plant holds least, hours missed.

What "worst" means is common practice, and stated: a night is the nine hours from 22:00 to 07:00 (as
CIBSE TM59 has it, from memory); an hour is missed where the operative temperature lies more than
half a kelvin outside of what is wanted while somebody is there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from criteria.hourly.weather import HOURS, Flags, Spell, Weather
from criteria.hourly.year import Run, Year

DAYS = HOURS // 24
NIGHT_BEGINS, NIGHT_H, WEEK_H = 22, 9, 168
MISSED_K = 0.5
"""As far outside of what is wanted is still held [K]."""
DRY_W = 0.5
"""Less than so much unserved is the arithmetic's own [W]."""
_FIRST = datetime(2001, 1, 1)
"""A year without a 29 February, to name hours by; no year of its own."""


@dataclass(frozen=True)
class Span:
    """Hours that follow each other: the first, counted from 0, and how many."""

    first: int
    hours: int

    @property
    def at(self) -> NDArray[np.int64]:
        """Where they stand in arrays of a year; past its end it begins again: shape (hours,)."""
        return np.arange(self.first, self.first + self.hours, dtype=np.int64) % HOURS

    @property
    def words(self) -> str:
        """When it begins and ends: "12 Jan 22:00 to 13 Jan 07:00", standard time."""
        return f"{when(self.first)} to {when(self.first + self.hours)}"


def when(hour: int) -> str:
    """Return the day and time at which an hour begins, counted from 0.

    >>> when(0), when(8759), when(8760)
    ('1 Jan 00:00', '31 Dec 23:00', '1 Jan 00:00')
    """
    then = _FIRST + timedelta(hours=hour % HOURS)
    return f"{then.day} {then:%b %H:%M}"


def below(run: Run, year: Year) -> Flags:
    """Tell in which hours it is colder than is wanted while somebody is there: shape (8760,)."""
    return year.is_there & (run.operative_k < year.warm_k - MISSED_K)


def above(run: Run, year: Year) -> Flags:
    """Tell in which hours it is warmer than is wanted while somebody is there: shape (8760,)."""
    return year.is_there & (run.operative_k > year.cool_k + MISSED_K)


def dark(year: Year) -> Flags:
    """Tell in which hours essential loads go without: shape (8760,).

    Where neither panels nor battery are given nothing is known, and no hour is told.
    """
    if year.power is None:
        return np.zeros(HOURS, dtype=np.bool_)
    return year.power.unserved_essential_w > DRY_W


def longest(flags: Flags) -> Span:
    """Return the longest run of hours that are told, the first of those as long; none has no hours.

    The year follows itself: a run over its turn is one.

    >>> longest(np.array([True, False, True, False, True]))
    Span(first=4, hours=2)
    """
    if flags.all():
        return Span(0, len(flags))
    turn = int(np.argmin(flags))
    told = np.concatenate((np.roll(flags, -turn), [False]))
    edges = np.flatnonzero(np.diff(told.astype(np.int8)))
    if not edges.size:
        return Span(0, 0)
    begins, lasts = (edges[::2] + 1 + turn) % len(flags), edges[1::2] - edges[::2]
    most = np.lexsort((begins, -lasts))[0]
    return Span(int(begins[most]), int(lasts[most]))


def worst_night(year: Year) -> Span:
    """Return the coldest night of the drawn run, of those in which somebody is there longest.

    So neither the night before people come nor one of a closed month is it. Where plant holds what
    is wanted through two nights, the colder one is that in which the room without plant would be
    the colder. Nobody there in any night: of all nights.
    """
    nights = [Span(24 * day + NIGHT_BEGINS, NIGHT_H) for day in range(DAYS)]
    at = np.stack([night.at for night in nights])
    there = year.is_there[at].sum(axis=1)
    held = np.where(np.isnan(year.warm_k), np.inf, year.warm_k - MISSED_K)
    drawn = np.minimum(year.drawn.operative_k, held)[at].mean(axis=1)
    bare = year.bare.operative_k[at].mean(axis=1)
    order = np.lexsort((bare, drawn, -there))
    return nights[int(order[0])]


def worst_week(year: Year) -> Span:
    """Return the seven days in which most of what plant should give or take is missing.

    Where nothing is missing, or as much: those with the least in the battery, then those in which
    most is needed.
    """
    missing = np.maximum(year.held.heat_w - year.drawn.heat_w, 0.0)
    missing += np.maximum(year.held.cool_w - year.drawn.cool_w, 0.0)
    needed = year.held.heat_w + year.held.cool_w
    stored = year.power.stored_j if year.power else np.zeros(HOURS)
    weeks = np.lib.stride_tricks.sliding_window_view
    lacks, least, asks = (
        weeks(missing, WEEK_H)[::24].sum(axis=1).round(),
        weeks(stored, WEEK_H)[::24].min(axis=1).round(),
        weeks(needed, WEEK_H)[::24].sum(axis=1),
    )
    return Span(24 * int(np.lexsort((-asks, least, -lacks))[0]), WEEK_H)


def is_night_settled(weather: Weather) -> bool:
    """Tell whether a year of weather holds a night as cold as is designed for."""
    return weather.has_spells or (bool(weather.without) and Spell.COLD not in weather.without)


PARTS = {"wall": "walls", "window": "glass", "door": "doors", "things": "things"}
"""How elements of a kind are called together, by the first word of their names."""


def flows(run: Run, span: Span) -> Mapping[str, float]:
    """Return the mean heat into the room through a span by what brings it [W]; together nothing.

    Elements of a kind stand together. What they don't settle among them warms the room's own air
    and what follows it, as "room air": it gives where the room cools.
    """
    found: dict[str, float] = {}
    for name, hours in run.flows_w.items():
        part = PARTS.get(name.split()[0], name)
        found[part] = found.get(part, 0.0) + float(hours[span.at].mean())
    return found | {"room air": -sum(found.values())}

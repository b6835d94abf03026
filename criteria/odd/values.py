"""Odd values: figures that are probably a slip of unit or typing. They ask, they don't accuse."""

from collections.abc import Callable, Iterator

from criteria.odd import (
    approach,
    by_state,
    envelope,
    moving,
    on_plan,
    openings,
    setting_up,
    space,
    systems,
)
from criteria.odd.usual import unusual
from criteria.odd.value import OddValue
from criteria.package import Package

__all__ = ["RULES", "OddValue", "asked_by_rule", "name_of", "odd_values"]

Rule = Callable[[Package], Iterator[OddValue]]

RULES: tuple[Rule, ...] = (
    systems.tanks,
    systems.waste,
    systems.dry_toilets,
    systems.uses,
    openings.windows,
    space.rooms,
    space.people,
    space.beds,
    envelope.layers,
    envelope.areas,
    systems.plant,
    systems.power,
    approach.doors,
    approach.second_exit,
    approach.ramp,
    approach.levels,
    moving.pieces,
    moving.masses,
    moving.nested,
    moving.slides,
    setting_up.steps,
    setting_up.lifts,
    setting_up.panels,
    setting_up.order,
    moving.stowage,
    unusual,
    systems.precedents,
    by_state.unchanged,
    by_state.put_away,
    by_state.beds,
    by_state.sleepers,
    on_plan.on_plan,
    on_plan.doors,
)
"""Every rule. How many slips each sees, and in how many honest packages it asks, is printed by
`python -m tests.benchmarks.slips`; one that asks in more than 5 % of the honest ones isn't here.

Tried and left out: gaps in the order of arrival, since one row stands for several pieces; much room
around what is packed in something, as a crate in a shell has. Not there to ask about: knees under a
table, and a tank's length and width, which no column holds; bedrooms, which are counted; steps
under a minute and days beyond a year, which their columns refuse; a bed in two places, since a
state holds one row of each.
"""


def odd_values(package: Package) -> tuple[OddValue, ...]:
    """Return every odd value of a package, of what is known: one question a cell."""
    return tuple(odd for _, odd in asked_by_rule(package))


def asked_by_rule(package: Package) -> Iterator[tuple[str, OddValue]]:
    """Give each odd value with the name of the rule that asks, the first of those that do."""
    known = package.leniently
    found: set[tuple[str, str, int, str]] = set()
    for rule in RULES:
        for odd in rule(known):
            place = (odd.schedule, odd.mark, odd.row, odd.head)
            if place not in found:
                found.add(place)
                yield name_of(rule), odd


def name_of(rule: Rule) -> str:
    """Return a rule's name, with its module's."""
    return f"{rule.__module__.removeprefix('criteria.odd.')}.{rule.__name__}"

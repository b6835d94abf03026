"""Odd values: figures that are probably a slip of unit or typing. They ask, they don't accuse."""

from collections.abc import Callable, Iterator

from criteria.odd import approach, by_state, envelope, moving, openings, space, systems
from criteria.odd.usual import unusual
from criteria.odd.value import OddValue
from criteria.package import Package

__all__ = ["OddValue", "odd_values"]

_RULES: tuple[Callable[[Package], Iterator[OddValue]], ...] = (
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
    moving.lifts,
    moving.stowage,
    unusual,
    systems.precedents,
    by_state.unchanged,
)


def odd_values(package: Package) -> tuple[OddValue, ...]:
    """Return every odd value of a package, of what is known: one question a cell."""
    known = package.leniently
    found: dict[tuple[str, str, int, str], OddValue] = {}
    for rule in _RULES:
        for odd in rule(known):
            found.setdefault((odd.schedule, odd.mark, odd.row, odd.head), odd)
    return tuple(found.values())

"""Odd values: figures that are probably a slip of unit or typing. They ask, they don't accuse."""

from collections.abc import Callable, Iterator

from criteria.odd import building, systems
from criteria.odd.value import OddValue
from criteria.package import Package

__all__ = ["OddValue", "odd_values"]

_RULES: tuple[Callable[[Package], Iterator[OddValue]], ...] = (
    systems.tanks,
    building.windows,
    building.rooms,
    systems.people,
    building.envelope,
    systems.plant,
    systems.power,
    building.doors,
    building.ramp,
    building.levels,
    building.pieces,
    systems.stowage,
    systems.precedents,
)


def odd_values(package: Package) -> tuple[OddValue, ...]:
    """Return every odd value of a package, schedule by schedule."""
    return tuple(odd for rule in _RULES for odd in rule(package))

"""The plan of a building in each state that it is lived in, a storey at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from criteria.checks.decided import Decided
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.picture import Asked
from criteria.drawing.plan_walked import draw_plan
from criteria.findings import Measured
from criteria.package import Package
from criteria.schedules.rooms import Room
from criteria.schedules.states import LIVED_KINDS
from criteria.situations import situations
from criteria.typed.cells import Lacking
from criteria.walking.of_package import AT, storeys_of
from criteria.walking.pictured import Pictured, pictured
from criteria.walking.storeys import Storey

Laid = Callable[[Field], Drawing]
"""A drawing that is laid out for a field."""


def is_placed(room: Room) -> bool:
    """Tell whether a room says where it lies."""
    return all(room.typed(name) is not None for name in AT)


def plans_in_states(package: Package, kinds: tuple[str, ...] = LIVED_KINDS) -> Iterator[Laid]:
    """Give a plan of each storey in each state of some kinds, one of what is alike in several.

    None of what makes no plan.
    """
    try:
        asked = situations(package, kinds)
        there = [(situation, situation.of(package)) for situation in asked]
    except Lacking:
        return
    alike: list[tuple[Pictured, list[str]]] = []
    for situation, rows in there:
        for storey in _storeys(rows):
            shown = pictured(rows, storey)
            states = next((found for one, found in alike if one == shown), None)
            if states is None:
                alike.append((shown, states := []))
            states.append(situation.state.state if situation.state else "")
    for shown, states in alike:
        storey = shown.storey
        level = f"level {storey.level}" if storey.level else ""
        asked_of = Asked(title=level, measured=Measured(), situation=" and ".join(states))
        yield partial(draw_plan, shown, Decided(storey), asked_of)


def _storeys(package: Package) -> tuple[Storey, ...]:
    """The storeys whose rooms say where they lie; none where they can't be made."""
    try:
        storeys = storeys_of(package)
        placed = [room for room in package.rows_of(Room) if is_placed(room)]
        return tuple(dict.fromkeys(storeys.of(room.mark) for room in placed))
    except Lacking:
        return ()

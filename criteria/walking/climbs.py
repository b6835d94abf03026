"""Stairs and ladders as steps of a way: where they join one storey to another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from criteria.checks.reading import gathered
from criteria.measures import climbing
from criteria.schedules.climbs import Climb
from criteria.typed.cells import Cell, Lacking, is_supposed, lacking
from criteria.walking.bodies import Point
from criteria.walking.of_package import Storeys
from criteria.walking.storeys import Storey, plan

ENDS = {
    "foot": ("from_room", "foot_x_m", "foot_y_m"),
    "head": ("room", "head_x_m", "head_y_m"),
}
"""The cells that say where somebody stands before a climb, and above it."""

MOST_CLIMBS = 12
"""So many climbs are tried, each after each other [no.]. Ours."""


@dataclass(frozen=True)
class Joined:
    """A climb from a storey to another.

    here, there   where somebody stands at its end on the storey, and on the other, `beyond`
    """

    mark: str
    width_m: float
    length_m: float
    here: Point
    beyond: Storey
    there: Point


def joined(storeys: Storeys, storey: Storey) -> Iterator[Joined]:
    """Give what joins a storey to others. Raises Lacking with the cells of climbs that may."""
    here = {place.room for place in storey.places}
    cells: list[Cell] = []
    climbs = storeys.package.rows_of(Climb)
    if len(climbs) > MOST_CLIMBS:
        raise lacking(
            f"at most {MOST_CLIMBS} climbs, of {len(climbs)}: ways over more aren't walked"
        )
    for climb in climbs:
        try:
            rooms = {end: climb.unless_blank(names[0]) for end, names in ENDS.items()}
            own = [end for end, room in rooms.items() if room and storeys.whole(room) in here]
            if len(own) == 1 or None in rooms.values():
                yield _joined(storeys, climb, *sorted(ENDS, key=lambda end: end not in own))
        except Lacking as lacks:
            cells += lacks.cells
    if cells:
        raise Lacking(*cells)


def _joined(storeys: Storeys, climb: Climb, near: str, far: str) -> Joined:
    names = ["width_m", *ENDS[near], *ENDS[far]]
    gathered(names, lambda name: _needed(climb, name))
    (_, here), (beyond, there) = (landing(storeys, climb, end) for end in (near, far))
    return Joined(climb.mark, climb.width_m, length_m(climb), here, beyond, there)


def landing(storeys: Storeys, climb: Climb, end: str) -> tuple[Storey, Point]:
    """Return where somebody stands at an end of a climb. Raises Lacking, where nobody can, too."""
    room, x_m, y_m = gathered(ENDS[end], lambda name: _needed(climb, name))
    storey, point = storeys.at(room, (x_m, y_m))
    if is_supposed():
        return storey, point
    if storey.where(point) != storeys.whole(room):
        raise lacking(f"a place for the {end} of {climb.mark}: it lies outside {room}")
    if not plan(storey, frozenset()).clearance_m(np.array([point]))[0]:
        raise lacking(f"a free place at the {end} of {climb.mark}: something stands there")
    return storey, point


def length_m(climb: Climb) -> float:
    """How far it is along its slope [m]."""
    if climb.kind == "ladder":
        return climbing.ladder_m(climb.rise_m)
    return climbing.slope_m(climb.rise_m, climb.risers, climb.tread_m)


def _needed(climb: Climb, name: str) -> Any:
    value = getattr(climb, name)
    if value is None:
        raise Lacking(climb.cell(name))
    return value

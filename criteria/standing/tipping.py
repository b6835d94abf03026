"""Whether a building tips over an edge of what it stands on, and by how much it doesn't.

Statics of a rigid body by hand. These are teaching checks: what lifts, tips or carries is decided
by a licensed engineer and local codes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from criteria.errors import InputError
from criteria.measures import moving
from criteria.walking.bodies import Point, hull

ON_LINE_M = 1e-9


@dataclass(frozen=True)
class Part:
    """Something that has mass: how much [kg], and where its middle is in plan [m]."""

    mass_kg: float
    at: Point
    mark: str = ""


@dataclass(frozen=True)
class Edge:
    """One edge that a building may tip over.

    start, end        of the edge [m]
    margin_m          how far inside it the centre of mass is; below 0 it tips
    restoring_kg_m    what holds it down, about the edge
    overturning_kg_m  what hangs beyond it
    """

    start: Point
    end: Point
    margin_m: float
    restoring_kg_m: float
    overturning_kg_m: float

    @property
    def ratio(self) -> float:
        """What holds down over what turns over; endless where nothing hangs beyond the edge."""
        if self.overturning_kg_m == 0:
            return math.inf
        return self.restoring_kg_m / self.overturning_kg_m


def centre_of_mass(parts: Sequence[Part]) -> Point:
    """Return Σ m·x ÷ Σ m and Σ m·y ÷ Σ m [m]. Raises InputError without any mass."""
    x, y = (moving.centre_of_mass([(part.mass_kg, part.at[k]) for part in parts]) for k in (0, 1))
    return x, y


def edges(parts: Sequence[Part], feet: Sequence[Point]) -> list[Edge]:
    """Return every edge of the hull of the feet that are down, the one nearest to tipping first.

    Raises InputError where the feet stand in one line or there are too few.
    """
    corners = hull(feet)
    if len(corners) < 3:
        raise InputError(f"{len(feet)} feet stand in one line; expected feet around an area")
    centre = centre_of_mass(parts)
    found = []
    for start, end in pairwise([*corners, corners[0]]):
        arms = [part.mass_kg * inside_m(part.at, start, end) for part in parts]
        found.append(
            Edge(
                start,
                end,
                inside_m(centre, start, end),
                sum(arm for arm in arms if arm > 0),
                -sum(arm for arm in arms if arm < 0),
            )
        )
    return sorted(found, key=lambda edge: edge.margin_m)


def leaning(
    parts: Sequence[Part], feet: Sequence[Point], crowd_kg: float, corners: Sequence[Point]
) -> list[tuple[Edge, Point]]:
    """Return every edge with people in the corner that is worst for it, and that corner.

    Raises InputError as `edges` does.
    """
    found = []
    for edge in edges(parts, feet):
        corner = min(corners, key=lambda at: (round(inside_m(at, edge.start, edge.end), 9), at))
        arm = crowd_kg * inside_m(corner, edge.start, edge.end)
        down, over = edge.restoring_kg_m + max(0.0, arm), edge.overturning_kg_m - min(0.0, arm)
        mass = sum(part.mass_kg for part in parts) + crowd_kg
        found.append((Edge(edge.start, edge.end, (down - over) / mass, down, over), corner))
    return found


def most_mass_kg(parts: Sequence[Part], feet: Sequence[Point], at: Point) -> float:
    """Return the mass that may come to a place before the building tips; endless inside the feet.

    0 where it tips without it.
    """
    least = math.inf
    for edge in edges(parts, feet):
        spare = edge.restoring_kg_m - edge.overturning_kg_m
        if (beyond_m := -inside_m(at, edge.start, edge.end)) > ON_LINE_M:
            least = min(least, max(0.0, spare) / beyond_m)
        elif spare < 0:
            least = 0.0
    return least


def inside_m(at: Point, start: Point, end: Point) -> float:
    """Return how far a place is left of an edge [m]."""
    run = end[0] - start[0], end[1] - start[1]
    turn = run[0] * (at[1] - start[1]) - run[1] * (at[0] - start[0])
    return turn / math.hypot(*run)

"""What each leg carries: alike, with legs that give more or less, and at most by statics alone.

A rigid building on springs, of which none pulls: K q = W (1, x, y), N_i = k_i (q_0 + q_1 x_i +
q_2 y_i). Source: by hand, small displacements of a rigid plate on unilateral elastic supports.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import cast

import numpy as np
from scipy.optimize import linprog

from criteria.errors import InputError
from criteria.standing.tipping import Part, centre_of_mass, edges
from criteria.walking.bodies import Floats, Point

SPREAD = 0.3
"""By what share the ground and a leg may give more or less than another: common practice."""

MOST_LEGS = 12
"""Every leg stiff or soft is tried with every other: 4,096 cases."""

ROUNDS = 60
"""Rounds in which legs are taken off and put back: few are needed, none runs without end."""


@dataclass(frozen=True)
class LegLoad:
    """What one leg carries [kg].

    alike_kg     with all legs alike
    low_kg       the least, with legs that give by SPREAD more or less
    high_kg      the most, likewise
    least_kg     by statics alone, whatever gives under the others
    most_kg      likewise: what it must carry if the ground under another goes
    """

    alike_kg: float
    low_kg: float
    high_kg: float
    least_kg: float
    most_kg: float


def leg_loads(
    parts: Sequence[Part], legs: Sequence[Point], spread: float = SPREAD
) -> list[LegLoad]:
    """Return what each leg carries of parts with mass, in the order of the legs.

    Raises InputError where the legs stand in one line, are more than MOST_LEGS, or don't hold the
    centre of mass between them: then it tips, and no leg has a load.
    """
    if len(legs) > MOST_LEGS:
        raise InputError(f"{len(legs)} legs; expected at most {MOST_LEGS}")
    if not 0 <= spread < 1:
        raise InputError(f"a spread of {spread:g}; expected a share from 0 to under 1")
    if edges(parts, legs)[0].margin_m <= 0:
        raise InputError("the centre of mass isn't between the legs: it tips")
    x, y = centre_of_mass(parts)
    mass_kg = sum(part.mass_kg for part in parts)
    arms = np.column_stack([np.ones(len(legs)), np.array(legs, dtype=float)])
    load = mass_kg * np.array([1.0, x, y])
    stiff = np.array(list(product((1 - spread, 1 + spread), repeat=len(legs))))
    alike = _carried(arms, load, np.ones((1, len(legs))))[0]
    ranged = _carried(arms, load, stiff)
    statics = _by_statics(arms, load)
    return [
        LegLoad(*map(float, figures))
        for figures in zip(alike, ranged.min(axis=0), ranged.max(axis=0), *statics, strict=True)
    ]


def _carried(arms: Floats, load: Floats, stiff: Floats) -> Floats:
    """What legs carry in each case of stiffness, cases × legs: those that would pull are off."""
    middle = load[1:] / load[0]
    about = arms - np.array([0.0, *middle])  # about the centre of mass: better conditioned
    size = np.abs(about[:, 1:]).max()
    about[:, 1:] /= size
    force = np.array([load[0], 0.0, 0.0])
    down = np.ones(stiff.shape, dtype=bool)
    for _ in range(ROUNDS):
        springs = stiff * down
        bed = np.einsum("ci,ij,ik->cjk", springs, about, about)
        bed += 1e-12 * stiff.sum(axis=1)[:, None, None] * np.eye(3)
        sunk = np.linalg.solve(bed, np.broadcast_to(force, (len(stiff), 3))[..., None])[..., 0]
        given = sunk @ about.T
        carried: Floats = np.where(down, stiff * given, 0.0)
        if ((now := given > 0) == down).all():
            return carried
        down = now
    raise InputError("the loads of the legs don't settle")


def _by_statics(arms: Floats, load: Floats) -> tuple[Floats, Floats]:
    """The least and the most of each leg that balance alone allows (linear programming)."""
    ends = np.zeros((2, len(arms)))
    for n in range(len(arms)):
        for k, sign in enumerate((1.0, -1.0)):
            cost = np.zeros(len(arms))
            cost[n] = sign
            done = linprog(cost, A_eq=arms.T, b_eq=load, bounds=(0, None), method="highs")
            ends[k, n] = sign * cast(float, done.fun)
    return ends[0], ends[1]

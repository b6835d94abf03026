"""Closed-form moments of a rectangle of sky seen from a point.

The frame of one point and one glass plane: the foot of the perpendicular from the point to the
plane is the origin, D > 0 the distance, a and b coordinates in the plane, n the direction from
the point to the plane. For a rectangle of directions ω seen from the point

    M_r  = ∫ cos(ω, r) dω                   first moment along r          [sr]
    S_ru = ∫ cos(ω, r) cos(ω, u) dω         second moment along r and u   [sr]

so a source of luminance L lights a surface facing r with L M_r, and the overcast sky, whose
luminance is (L_z/3)(1 + 2 cos(ω, up)), with (L_z/3)(M_r + 2 S_r,up).

Each moment over a0…a1, b0…b1 is f(a1, b1) − f(a0, b1) − f(a1, b0) + f(a0, b0); the corner
functions f are below, less the terms in a alone or b alone, which the difference cancels.

Source: Seshadri (1960) for the sky terms, configuration factors of rectangles for the first
moments (textbook); derived again here and tested against quadrature.
"""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Axis = Literal["n", "a", "b"]


def corner_first(axis: Axis, D: Floats, a: Floats, b: Floats) -> Floats:
    """Corner function of the first moment M along n, a or b [sr]."""
    if axis == "b":
        Q = np.sqrt(D * D + b * b)
        return -0.5 * (D / Q) * np.arctan(a / Q)
    if axis == "a":
        P = np.sqrt(D * D + a * a)
        return -0.5 * (D / P) * np.arctan(b / P)
    P, Q = np.sqrt(D * D + a * a), np.sqrt(D * D + b * b)
    return 0.5 * ((a / P) * np.arctan(b / P) + (b / Q) * np.arctan(a / Q))


def corner_second(axis: Axis, up: Axis, D: Floats, a: Floats, b: Floats) -> Floats:
    """Corner function of the second moment S along `axis` and up: b of a wall, n of a roof [sr]."""
    D2, a2, b2 = D * D, a * a, b * b
    R = np.sqrt(D2 + a2 + b2)
    P2, Q2 = D2 + a2, D2 + b2
    pair = {axis, up}
    if pair == {"a", "b"}:
        both: Floats = D / (3 * R)
        return both
    if pair == {"n", "b"}:
        return -D2 * a / (3 * Q2 * R)
    if pair == {"n", "a"}:
        return -D2 * b / (3 * P2 * R)
    solid = np.arctan(a * b / (D * R))
    if pair == {"b"}:
        return (solid - a * b * D / (Q2 * R)) / 3
    return (solid + a * b * D / (Q2 * R) + a * b * D / (P2 * R)) / 3


def over_rectangles(corners: Floats) -> Floats:
    """Turn corner values of a lattice of nodes (…, a, b) into values of its rectangles."""
    along = corners[..., 1:, :] - corners[..., :-1, :]
    return along[..., 1:] - along[..., :-1]

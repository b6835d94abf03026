"""Tone over the plan as hatching: the darker, the denser, readable without colour."""

import math
from collections.abc import Sequence

import numpy as np

from criteria.daylight.contours import Contour, isolines
from criteria.daylight.field import Field
from criteria.daylight.moments import Floats
from criteria.daylight.refusals import require_within

Line = tuple[float, float, float, float]
"""From x, y to x, y [m]."""

SAMPLE_M = 0.04
"""Step in which a hatching line is followed [m]."""


def to_walls(field: Field) -> tuple[Floats, Floats, Floats]:
    """Return a field's x, y and daylight factors, its outermost values carried to the walls [m, %].

    Meant for a field computed without an inset: then half a cell is carried.
    """
    x = np.concatenate([[0.0], field.x_m, [field.room.length_m]])
    y = np.concatenate([[0.0], field.y_m, [field.room.width_m]])
    return x, y, np.pad(field.df_pct, 1, mode="edge")


def lines_to_walls(field: Field, levels_pct: Sequence[float]) -> list[Contour]:
    """Return the lines of equal daylight factor from wall to wall."""
    x, y, values = to_walls(field)
    return [
        Contour(level_pct=level, points=points)
        for level in levels_pct
        for points in isolines(x, y, values, level)
    ]


def hatching(field: Field, levels_pct: Sequence[float], spacing_m: float) -> list[Line]:
    """Return 45° lines that cover the plan below some levels.

    levels_pct      rising; below the first every line is drawn, below each next every second of
                    those before
    spacing_m       between lines, measured along x

    Every line rises with x. Where the field is at or over the last level nothing is drawn.
    """
    require_within("spacing_m", spacing_m, "m", above=0)
    x, y, values = to_walls(field)
    length, width = field.room.length_m, field.room.width_m
    count = math.floor((length + width) / spacing_m)
    found = []
    for number in range(1, count + 1):
        start = number * spacing_m - width  # x at which the line passes y = 0
        low, high = max(start, 0.0), min(start + width, length)
        if high - low < SAMPLE_M:
            continue
        along = np.linspace(low, high, max(2, math.ceil((high - low) / SAMPLE_M)))
        light = _between(x, y, values, along, along - start)
        level = _level_of(number, levels_pct)
        found += [(a, a - start, b, b - start) for a, b in _under(along, light, level)]
    return found


def _level_of(number: int, levels_pct: Sequence[float]) -> float:
    """The highest level below which a line of this number is drawn."""
    halvings = 0
    while halvings < len(levels_pct) - 1 and number % 2 ** (halvings + 1) == 0:
        halvings += 1
    return levels_pct[halvings]


def _between(x: Floats, y: Floats, values: Floats, at_x: Floats, at_y: Floats) -> Floats:
    """Interpolate linearly both ways."""
    column = np.clip(np.searchsorted(x, at_x) - 1, 0, len(x) - 2)
    row = np.clip(np.searchsorted(y, at_y) - 1, 0, len(y) - 2)
    across = (at_x - x[column]) / (x[column + 1] - x[column])
    up = (at_y - y[row]) / (y[row + 1] - y[row])
    below = values[row, column] * (1 - across) + values[row, column + 1] * across
    above = values[row + 1, column] * (1 - across) + values[row + 1, column + 1] * across
    return below * (1 - up) + above * up


def _under(along: Floats, light: Floats, level: float) -> list[tuple[float, float]]:
    """Stretches of a line on which the light is below a level."""
    dark = light < level
    edges = np.flatnonzero(np.diff(np.concatenate([[0], dark.astype(int), [0]])))
    found = []
    for start, end in edges.reshape(-1, 2):
        first, last = float(along[start]), float(along[end - 1])
        if start > 0:
            first = _crossing(along, light, start - 1, level)
        if end < len(along):
            last = _crossing(along, light, end - 1, level)
        found.append((first, last))
    return found


def _crossing(along: Floats, light: Floats, at: int, level: float) -> float:
    share = (level - light[at]) / (light[at + 1] - light[at])
    return float(along[at] + share * (along[at + 1] - along[at]))

"""The two invented grounds that the demo's schemes stand on, and contours through them.

Heights are metres above the level that the building stands at; x is east, y is north, from the
middle of the building. The terrace of the ridge is the brief's: 14 by 9 metres.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise, product
from math import cos, exp, floor, hypot, sin

STEP_M, NUDGE_M = 2.0, 0.0013
"""Distance between the points of the net that contours are drawn on; and how far from a whole
height they are taken, so that none runs through a point of the net [m]."""

Point = tuple[float, float]
Line = tuple[Point, Point]


@dataclass(frozen=True)
class Ground:
    """One site.

    height     height above the building's ground at a place [m]
    interval   between contours [m]
    terrace    half sides of the level ground [m]
    path       the way in, from afar to the door's side
    """

    height: Callable[[float, float], float]
    interval: float
    terrace: tuple[float, float]
    path: tuple[Point, ...]
    rock: tuple[tuple[Point, ...], ...]


def _flattened(x: float, y: float, rise: float, a: float, b: float) -> float:
    """Blend a height to nothing over a level terrace."""
    off = hypot(max(0.0, abs(x) - a), max(0.0, abs(y) - b))
    return rise * (1 - exp(-((off / 5.0) ** 2)))


def ridge_height(x: float, y: float) -> float:
    """Return the height of the ridge site [m]."""
    crest = 5.0 * sin(x / 38.0) - 9.0
    off = y - crest
    rise = 0.7 - 0.0075 * off * off + 0.012 * x + 1.6 * sin(x / 17.0 + y / 29.0)
    rise += 9.0 * exp(-(((x + 4) / 15.0) ** 2 + ((y - 15) / 6.5) ** 2))
    rise += 5.0 * exp(-(((x - 74) / 22.0) ** 2 + ((y + 16) / 17.0) ** 2))
    return _flattened(x, y, rise, 7.0, 4.5)


def island_height(x: float, y: float) -> float:
    """Return the height of the tidal island [m]."""
    dome = 5.0 * exp(-(((x - 34) / 44.0) ** 2 + ((y + 4) / 26.0) ** 2)) - 3.4
    dome += 0.55 * sin(x / 13.0) * cos(y / 11.0) + 1.1 * exp(
        -(((x - 62) / 13) ** 2 + ((y - 8) / 9) ** 2)
    )
    return _flattened(x, y, dome, 7.5, 5.5)


RIDGE = Ground(
    ridge_height,
    1.0,
    (7.0, 4.5),
    ((-49, -25), (-40, -20), (-30, -15), (-20, -9), (-13, -1), (-11, 5.2)),
    (
        ((-16, 12), (-13, 17), (-6, 19.5), (2, 19), (8, 16.5), (11, 12.5), (6, 10.5), (-9, 9.6)),
        ((60, -12), (66, -6), (76, -7), (84, -14), (78, -22), (66, -21)),
    ),
)

ISLAND = Ground(
    island_height,
    0.5,
    (7.5, 5.5),
    ((-53, 17), (-44, 15), (-35, 9), (-26, 1), (-17, -7)),
    (
        ((62, 20), (68, 25), (77, 23), (79, 16), (72, 12), (64, 14)),
        ((30, -34), (38, -30), (47, -33), (44, -39), (34, -40)),
    ),
)


@lru_cache(maxsize=4)
def contours(
    ground: Ground, base: float, west: float, south: float, east: float, north: float
) -> tuple[tuple[float, tuple[Line, ...]], ...]:
    """Return each contour's level above datum and its pieces of line within some bounds [m].

    base    the building's ground above datum: contours are whole intervals above that datum
    """
    levels: dict[float, list[Line]] = {}
    heights = cache(lambda i, j: base + ground.height(west + i * STEP_M, south + j * STEP_M))
    columns, rows = int((east - west) / STEP_M), int((north - south) / STEP_M)
    for j, i in product(range(rows), range(columns)):
        corners = [
            (heights(i + di, j + dj), west + (i + di) * STEP_M, south + (j + dj) * STEP_M)
            for di, dj in ((0, 0), (1, 0), (1, 1), (0, 1))
        ]
        least, most = min(corners)[0], max(corners)[0]
        for k in range(floor(least / ground.interval), floor(most / ground.interval) + 1):
            level = k * ground.interval + NUDGE_M
            levels.setdefault(level, []).extend(_cross(level, corners))
    return tuple((level, tuple(lines)) for level, lines in sorted(levels.items()) if lines)


def _cross(level: float, corners: Sequence[tuple[float, float, float]]) -> Iterator[Line]:
    """Yield where a level crosses a square whose corners are height, east and north."""
    points: list[Point] = []
    for (h0, x0, y0), (h1, x1, y1) in pairwise((*corners, corners[0])):
        if (h0 < level) != (h1 < level):
            t = (level - h0) / (h1 - h0)
            points.append((x0 + (x1 - x0) * t, y0 + (y1 - y0) * t))
    yield from zip(points[::2], points[1::2], strict=False)

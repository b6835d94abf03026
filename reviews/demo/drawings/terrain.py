"""The two invented grounds that the demo's schemes stand on, and contours through them.

Heights are metres above the level that the building stands at; x is east, y is north, from the
middle of the building. The terrace of the ridge is the brief's: 14 by 9 metres.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import cos, exp, hypot, sin

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
    ridge_height, 1.0, (7.0, 4.5),
    ((-49, -25), (-40, -20), (-30, -15), (-20, -9), (-13, -1), (-11, 5.2)),
    (
        ((-16, 12), (-13, 17), (-6, 19.5), (2, 19), (8, 16.5), (11, 12.5),
         (6, 10.5), (-2, 10), (-9, 9.6)),
        ((60, -12), (66, -6), (76, -7), (84, -14), (78, -22), (66, -21)),
    ),
)  # fmt: skip

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
    step = STEP_M
    nx, ny = int((east - west) / step), int((north - south) / step)
    grid = [
        [base + ground.height(west + i * step, south + j * step) for i in range(nx + 1)]
        for j in range(ny + 1)
    ]
    low = min(min(row) for row in grid)
    high = max(max(row) for row in grid)
    count = int((high - low) / ground.interval) + 2
    first = int(low / ground.interval) - 1
    levels: dict[float, list[Line]] = {}
    for j in range(ny):
        below, above = grid[j], grid[j + 1]
        for i in range(nx):
            a, b, c, d = below[i], below[i + 1], above[i + 1], above[i]
            least, most = min(a, b, c, d), max(a, b, c, d)
            k = int((least - first * ground.interval) / ground.interval)
            while (level := (first + k) * ground.interval + NUDGE_M) <= most and k <= count:
                if level >= least:
                    x, y = west + i * step, south + j * step
                    levels.setdefault(level, []).extend(_cross(level, x, y, step, a, b, c, d))
                k += 1
    return tuple((level, tuple(lines)) for level, lines in sorted(levels.items()))


def _cross(
    level: float, x: float, y: float, s: float, a: float, b: float, c: float, d: float
) -> Iterator[Line]:
    """Yield where a level crosses one square whose corners have heights a, b, c, d."""
    points: list[Point] = []
    corners = ((a, x, y), (b, x + s, y), (c, x + s, y + s), (d, x, y + s))
    for (h0, x0, y0), (h1, x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if (h0 < level) != (h1 < level):
            t = (level - h0) / (h1 - h0)
            points.append((x0 + (x1 - x0) * t, y0 + (y1 - y0) * t))
    yield from zip(points[::2], points[1::2], strict=False)

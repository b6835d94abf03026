"""What stands between the sky and glass: overhangs, fins, reveals, hills, neighbours."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from criteria.hourly.building import Point, Rectangle
from criteria.hourly.sun import SunYear
from criteria.hourly.weather import Hours

POINTS = 10
"""Points of a pane along each of its edges."""
DIRECTIONS = 60
"""Directions of even light, about the normal and away from it."""
THROWN_BACK = 0.2
"""Part of the sun on level ground that what stands outside throws back [1]. Common practice."""

Vectors = NDArray[np.float64]


def points_of(pane: Rectangle) -> Vectors:
    """Return the middles of a pane's parts: shape (100, 3) [m]."""
    steps = (np.arange(POINTS) + 0.5) / POINTS
    along, up = np.meshgrid(steps, steps)
    corner, edge, edge2 = map(np.array, (pane.corner_m, pane.edge_m, pane.edge2_m))
    points: Vectors = corner + along.reshape(-1, 1) * edge + up.reshape(-1, 1) * edge2
    return points


def clear_share(pane: Rectangle, shades: tuple[Rectangle, ...], towards: Vectors) -> Hours:
    """Return which part of a pane sees past thin shades in each direction.

    `towards` are unit vectors, shape (n, 3). A ray in the plane of a shade passes it.
    """
    points = points_of(pane)
    hidden = np.zeros((len(towards), len(points)), dtype=np.bool_)
    for shade in shades:
        corner, edge, edge2 = map(np.array, (shade.corner_m, shade.edge_m, shade.edge2_m))
        across = np.cross(edge, edge2)
        slope = towards @ across
        with np.errstate(divide="ignore", invalid="ignore"):
            far = ((corner - points) @ across) / slope[:, np.newaxis]
            along, up = (_share_along(points, towards, corner, side, far) for side in (edge, edge2))
        hidden |= (far > 1e-9) & (along >= 0) & (along <= 1) & (up >= 0) & (up <= 1)
    clear: Hours = 1 - hidden.mean(axis=1)
    return clear


def _share_along(
    points: Vectors, towards: Vectors, corner: Vectors, side: Vectors, far: Vectors
) -> Vectors:
    """Return where rays meet a shade's plane along one of its sides: 0 at its corner, 1 at its end.

    Sides are at right angles to each other.
    """
    length = side @ side
    start = (points - corner) @ side / length
    shares: Vectors = start + far * (towards @ side / length)[:, np.newaxis]
    return shares


def beam_share(
    sun: SunYear, cos_incidence: Hours, pane: Rectangle, shades: tuple[Rectangle, ...]
) -> Hours:
    """Return which part of a pane the sun reaches past shades; 1 where it's behind."""
    share = np.ones(len(sun.up))
    facing = cos_incidence > 0
    share[facing] = clear_share(pane, shades, sun.vector[facing])
    return share


@lru_cache(maxsize=256)
def even_shares(
    pane: Rectangle, shades: tuple[Rectangle, ...], looks: Point
) -> tuple[float, float]:
    """Return which part of even light from the sky, and from the ground, gets past shades.

    `looks` is the unit vector on which the pane looks out. Directions are weighted by the cosine.
    """
    normal = np.array(looks)
    aside = np.cross(normal, (0.0, 0.0, 1.0) if abs(normal[2]) < 0.9 else (1.0, 0.0, 0.0))
    aside /= np.linalg.norm(aside)
    third = np.cross(normal, aside)
    sine = np.sqrt((np.arange(DIRECTIONS) + 0.5) / DIRECTIONS)  # equal parts of ∫ cos dω
    turn = 2 * np.pi * (np.arange(DIRECTIONS) + 0.5) / DIRECTIONS
    sine, turn = (each.ravel() for each in np.meshgrid(sine, turn))
    towards = (
        np.sqrt(1 - sine**2)[:, np.newaxis] * normal
        + (sine * np.cos(turn))[:, np.newaxis] * aside
        + (sine * np.sin(turn))[:, np.newaxis] * third
    )
    clear = clear_share(pane, shades, towards)
    skyward = towards[:, 2] > 0
    sky = float(clear[skyward].mean()) if skyward.any() else 1.0
    ground = float(clear[~skyward].mean()) if (~skyward).any() else 1.0
    return sky, ground


def past_neighbours(sun: SunYear, tilt_deg: float, bearing_deg: float, sky_deg: float) -> Hours:
    """Return whether the sun stands over what the sky angle of an upright window says is outside.

    What stands there reaches 90° less the sky angle above level, seen square on, and runs on to
    both sides. Of windows that aren't upright, and of a free sky, all hours are clear.
    """
    if tilt_deg != 90.0 or sky_deg >= 90.0:
        return np.ones(len(sun.up))
    bearing = np.radians(bearing_deg)
    square_on = sun.vector[:, 0] * np.sin(bearing) + sun.vector[:, 1] * np.cos(bearing)
    least = np.tan(np.radians(90.0 - sky_deg))
    clear: Hours = np.where(sun.up < least * square_on, 0.0, 1.0)
    return clear


def sky_left(tilt_deg: float, sky_deg: float) -> float:
    """Return the part of an even sky that a window keeps of what it would see, by its sky angle."""
    if tilt_deg != 90.0:
        return min(sky_deg / 180.0, 1.0)
    return 1 - float(np.sin(np.radians(90.0 - min(sky_deg, 90.0))))

"""Light that reaches a surface straight from sky, ground and obstruction, exactly.

Every opening is clipped to what the point sees: by the inner edge of the wall, by the surface's
own horizon, and by the lines that part sky, obstruction and ground. Each clip leaves a
rectangle, so the closed forms of criteria.daylight.moments stay exact. Only a skyline outside
another wall cuts a window aslant; it is followed in strips.

Limits: nothing stands inside the room; ground and obstruction are unshaded and endless.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from criteria.daylight.moments import Axis, Floats, corner_first, corner_second, over_rectangles
from criteria.daylight.openings import Rooflight, Wall, Window
from criteria.daylight.room import Room
from criteria.daylight.sky import ZENITH, ground_luminance, transmittance_ratio

NEAREST_M = 1e-6
"""Nearest that a point is taken to a glass plane [m]."""
STRIPS = 8
"""Strips in which a skyline outside another wall is followed across a window."""
ANGULAR_PARTS = 8
"""Parts along each side in which angle-dependent glass is weighed."""


Edges = tuple[Floats, Floats]
Band = tuple[Literal["sky", "obstruction", "ground"], Edges, Edges]
"""A rectangle that looks out on one thing only: what, its a edges, its b edges."""


@dataclass(frozen=True, kw_only=True)
class Aperture:
    """An opening in the frame of its glass plane.

    axis, a_axis, b_axis    room axes (0, 1, 2 = x, y, z) of the normal and the two sides
    inward                  +1 or −1: direction into the room along `axis`
    face_m                  coordinate of the inner face along `axis` [m]
    depth_m                 inner face to glass [m]
    a_m, b_m                the edges, low and high, in room coordinates [m]
    """

    wall: Wall | None
    axis: int
    a_axis: int
    b_axis: int
    inward: int
    face_m: float
    depth_m: float
    a_m: tuple[float, float]
    b_m: tuple[float, float]
    transmittance: float
    normal_transmittance: float

    @property
    def up(self) -> Axis:
        """Which axis of the frame points to the zenith."""
        return "n" if self.wall is None else "b"


def apertures(room: Room) -> tuple[Aperture, ...]:
    """Return the room's openings, windows first, in the frames of their glass planes."""
    return tuple(
        _window(room, opening) if isinstance(opening, Window) else _rooflight(room, opening)
        for opening in room.openings
    )


def _window(room: Room, window: Window) -> Aperture:
    axis, inward, face = {
        Wall.SOUTH: (1, 1, 0.0),
        Wall.NORTH: (1, -1, room.width_m),
        Wall.WEST: (0, 1, 0.0),
        Wall.EAST: (0, -1, room.length_m),
    }[window.wall]
    return Aperture(
        wall=window.wall,
        axis=axis,
        a_axis=1 - axis,
        b_axis=2,
        inward=inward,
        face_m=face,
        depth_m=room.wall_thickness_m,
        a_m=(window.offset_m, window.offset_m + window.width_m),
        b_m=(window.sill_m, window.head_m),
        transmittance=window.effective_transmittance,
        normal_transmittance=window.transmittance,
    )


def _rooflight(room: Room, rooflight: Rooflight) -> Aperture:
    return Aperture(
        wall=None,
        axis=2,
        a_axis=0,
        b_axis=1,
        inward=-1,
        face_m=room.height_m,
        depth_m=room.roof_thickness_m,
        a_m=(rooflight.x_m, rooflight.x_m + rooflight.size_x_m),
        b_m=(rooflight.y_m, rooflight.y_m + rooflight.size_y_m),
        transmittance=rooflight.effective_transmittance,
        normal_transmittance=rooflight.transmittance,
    )


@dataclass(frozen=True, kw_only=True)
class Seen:
    """What points see of one aperture: distances to the glass and the clipped rectangle.

    All arrays have one value for each point [m]; the rectangle is empty where a1 ≤ a0 or b1 ≤ b0.
    """

    D: Floats
    a0: Floats
    a1: Floats
    b0: Floats
    b1: Floats


def seen(aperture: Aperture, points: Floats, *, in_reveal: bool = False) -> Seen:
    """Clip an aperture to what points of the room see of it through the inner edge of its wall.

    points  (n, 3) room coordinates [m]; with `in_reveal` they lie between the faces, where the
            inner edge hides nothing.
    """
    inside = aperture.inward * (points[:, aperture.axis] - aperture.face_m)
    D = np.maximum(inside + aperture.depth_m, NEAREST_M)
    a0, a1 = (edge - points[:, aperture.a_axis] for edge in aperture.a_m)
    b0, b1 = (edge - points[:, aperture.b_axis] for edge in aperture.b_m)
    if not in_reveal and aperture.depth_m:
        s = D / np.maximum(inside, NEAREST_M)
        a0, a1 = np.maximum(a0, a0 * s), np.minimum(a1, a1 * s)
        b0, b1 = np.maximum(b0, b0 * s), np.minimum(b1, b1 * s)
    return Seen(D=D, a0=a0, a1=a1, b0=b0, b1=b1)


def skyline_slopes(room: Room, wall: Wall, points: Floats) -> Floats:
    """Tangent of the skyline outside a wall, from each point [1].

    tan γ, or (z_t − z)/(distance to the obstruction) where its distance is known.
    """
    obstruction = room.obstruction(wall)
    if obstruction is None:
        return np.zeros(len(points))
    if obstruction.angle_deg is not None:
        return np.full(len(points), math.tan(math.radians(obstruction.angle_deg)))
    axis = 1 if wall in (Wall.SOUTH, Wall.NORTH) else 0
    along = points[:, axis]
    if wall in (Wall.NORTH, Wall.EAST):
        along = room.depth_from_m(wall) - along
    assert obstruction.top_m is not None
    assert obstruction.distance_m is not None
    away = along + room.wall_thickness_m + obstruction.distance_m
    return np.maximum(obstruction.top_m - points[:, 2], 0.0) / away


def _nodes(low: Floats, high: Floats, parts: int) -> Floats:
    """Return parts + 1 evenly spaced nodes from low to high, on a new first axis."""
    steps = np.linspace(0.0, 1.0, parts + 1).reshape((-1,) + (1,) * np.ndim(low))
    return low + (high - low) * steps


def _beside(room: Room, aperture: Aperture, points: Floats) -> Edges | None:
    """Return the slopes of skylines outside the walls at the low-a and high-a side, or None."""
    sides = (Wall.WEST, Wall.EAST) if aperture.a_axis == 0 else (Wall.SOUTH, Wall.NORTH)
    low, high = (skyline_slopes(room, side, points) for side in sides)
    return (low, high) if low.any() or high.any() else None


def light_through(
    room: Room,
    aperture: Aperture,
    points: Floats,
    axis: int,
    sign: int,
    *,
    in_reveal: bool = False,
    angular: bool = False,
) -> Floats:
    """Light on surface elements straight through one aperture, over horizontal illuminance [1].

    points      (n, 3) room coordinates [m]
    axis, sign  the way the elements face: room axis 0, 1, 2 and +1 or −1
    angular     weigh each part of the glass with its transmittance at that angle

    Clean, frameless glass of transmittance 1: multiply with the aperture's own.
    """
    if axis == aperture.axis and sign == aperture.inward:
        return np.zeros(len(points))  # faces away from the opening
    view = seen(aperture, points, in_reveal=in_reveal)
    a0, a1, b0, b1 = view.a0, view.a1, view.b0, view.b1
    facing: Axis = "n"
    flip = 1
    if axis == aperture.a_axis:
        facing, flip = "a", sign
        a0, a1 = (np.maximum(a0, 0), a1) if sign > 0 else (a0, np.minimum(a1, 0))
    elif axis == aperture.b_axis:
        facing, flip = "b", sign
        b0, b1 = (np.maximum(b0, 0), b1) if sign > 0 else (b0, np.minimum(b1, 0))
    a1, b1 = np.maximum(a0, a1), np.maximum(b0, b1)
    if aperture.wall is None:
        bands = _roof_bands(room, points, view.D, a0, a1, b0, b1)
    else:
        bands = _wall_bands(room, aperture, aperture.wall, points, view.D, a0, a1, b0, b1)
    total = np.zeros(len(points))
    for band in bands:
        total += _band(room, aperture, facing, band, view.D, angular)
    return flip * total


def _wall_bands(
    room: Room,
    aperture: Aperture,
    wall: Wall,
    points: Floats,
    D: Floats,
    a0: Floats,
    a1: Floats,
    b0: Floats,
    b1: Floats,
) -> Iterator[Band]:
    """Part a window's rectangle into (sort, a edges, b edges), one entry a strip and band."""
    own = D * skyline_slopes(room, wall, points)
    beside = _beside(room, aperture, points)
    horizon = np.clip(0.0, b0, b1)
    if beside is None:
        strips = [(a0, a1, own)]
    else:
        # a strip that straddled the foot of the perpendicular would look to both sides at once
        centre = np.clip(0.0, a0, a1)
        strips = []
        for low, high, slope in ((a0, centre, beside[0]), (centre, a1, beside[1])):
            edges = _nodes(low, high, STRIPS)
            for left, right in pairwise(edges):
                aslant = np.abs(left + right) / 2 * slope
                strips.append((left, right, np.maximum(own, aslant)))
    for left, right, skyline in strips:
        top = np.clip(skyline, horizon, b1)
        yield "sky", (left, right), (top, b1)
        if np.any(top > horizon):
            yield "obstruction", (left, right), (horizon, top)
        if np.any(horizon > b0):
            yield "ground", (left, right), (b0, horizon)


def _roof_bands(
    room: Room, points: Floats, D: Floats, a0: Floats, a1: Floats, b0: Floats, b1: Floats
) -> Iterator[Band]:
    """Part a rooflight's rectangle: a skyline cuts it parallel to an edge."""
    edges = []
    for wall, side in ((Wall.WEST, -1), (Wall.EAST, 1), (Wall.SOUTH, -1), (Wall.NORTH, 1)):
        slope = skyline_slopes(room, wall, points)
        edges.append(side * np.where(slope > 0, D / np.where(slope > 0, slope, 1), np.inf))
    left, right = np.clip(edges[0], a0, a1), np.clip(edges[1], a0, a1)
    low, high = np.clip(edges[2], b0, b1), np.clip(edges[3], b0, b1)
    yield "sky", (left, right), (low, high)
    for a_edges, b_edges in (
        ((a0, left), (b0, b1)),
        ((right, a1), (b0, b1)),
        ((left, right), (b0, low)),
        ((left, right), (high, b1)),
    ):
        if np.any(a_edges[1] > a_edges[0]) and np.any(b_edges[1] > b_edges[0]):
            yield "obstruction", a_edges, b_edges


def _band(
    room: Room, aperture: Aperture, facing: Axis, band: Band, D: Floats, angular: bool
) -> Floats:
    """Light from one rectangle that holds only sky, only obstruction or only ground."""
    sort, a_edges, b_edges = band
    parts = ANGULAR_PARTS if angular else 1
    a = _nodes(*a_edges, parts)[:, None, :]
    b = _nodes(*b_edges, parts)[None, :, :]
    first = _rectangles(corner_first(facing, D, a, b))
    if sort == "sky":
        second = _rectangles(corner_second(facing, aperture.up, D, a, b))
        light = ZENITH / 3 * (first + 2 * second)
    elif sort == "obstruction":
        light = room.obstruction_luminance_factor / math.pi * first
    else:
        light = ground_luminance(room.ground_reflectance) * first
    if angular:
        middle_a, middle_b = (a[1:] + a[:-1]) / 2, (b[:, 1:] + b[:, :-1]) / 2
        cosine = D / np.sqrt(D**2 + middle_a**2 + middle_b**2)
        light = light * transmittance_ratio(aperture.normal_transmittance, cosine)
    total: Floats = light.sum(axis=(0, 1))
    return total


def _rectangles(corners: Floats) -> Floats:
    """Differences over the first two axes (a nodes, b nodes, points)."""
    return np.moveaxis(over_rectangles(np.moveaxis(corners, 2, 0)), 0, 2)

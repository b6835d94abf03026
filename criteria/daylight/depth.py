"""How deep daylight reaches: the limiting depth and the no-sky line."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from criteria.daylight.direct import Aperture, apertures, seen, skyline_slopes
from criteria.daylight.hand import mean_reflectance
from criteria.daylight.moments import Floats
from criteria.daylight.openings import Wall
from criteria.daylight.refusals import require_within
from criteria.daylight.room import Room
from criteria.findings import Rule, compare

NO_SKY_CELL_M = 0.02
"""Cell in which the no-sky area is counted over the whole plan [m]."""


def limiting_depth_m(*, width_m: float, head_m: float, rear_reflectance: float) -> float:
    """Depth beyond which a room lit from one wall looks gloomy at the back [m].

        L/W + L/H ≤ 2/(1 − R_b)     so     L_max = [2/(1 − R_b)] / (1/W + 1/H)

        L    depth of the room from the window wall                 [m]
        W    width of the room along the window wall                [m]
        H    head of the windows above the floor                    [m]
        R_b  mean reflectance of the rear half of the room          [1]

    Source: Lynes (1979); BS 8206-2:2008 (superseded). From memory.

    >>> round(limiting_depth_m(width_m=3.0, head_m=2.1, rear_reflectance=0.5), 3)
    4.941
    """
    require_within("width_m", width_m, "m", above=0)
    require_within("head_m", head_m, "m", above=0)
    require_within("rear_reflectance", rear_reflectance, "", at_least=0, below=1)
    return 2 / (1 - rear_reflectance) / (1 / width_m + 1 / head_m)


def rear_reflectance(room: Room, wall: Wall) -> float:
    """Mean reflectance of the half of a room that lies away from a wall, openings left out [1]."""
    across, depth = room.wall_length_m(wall), room.depth_from_m(wall)
    half_floor = room.floor_m2 / 2
    return mean_reflectance(
        [
            (half_floor, room.floor_reflectance),
            (half_floor, room.ceiling_reflectance),
            (across * room.height_m + depth * room.height_m, room.wall_reflectance),
        ]
    )


@dataclass(frozen=True, kw_only=True)
class DepthLimit:
    """The limiting depth of a room from one window wall.

    depth_m, width_m    of the room from and along the wall [m]
    head_m              highest window head of the wall [m]
    rear_reflectance    of the half away from it [1]
    """

    wall: Wall
    depth_m: float
    width_m: float
    head_m: float
    rear_reflectance: float

    @property
    def sum(self) -> float:
        """L/W + L/H [1]."""
        return self.depth_m / self.width_m + self.depth_m / self.head_m

    @property
    def limit(self) -> float:
        """2/(1 − R_b) [1]."""
        return 2 / (1 - self.rear_reflectance)

    @property
    def deepest_m(self) -> float:
        """Deepest room that the rule allows [m]."""
        return limiting_depth_m(
            width_m=self.width_m, head_m=self.head_m, rear_reflectance=self.rear_reflectance
        )

    @property
    def is_within(self) -> bool:
        """Whether the room is no deeper than that."""
        return compare(self.sum, self.limit, Rule.AT_MOST, is_count=True).is_met


def depth_limits(room: Room) -> tuple[DepthLimit, ...]:
    """Return the limiting depth from every wall that has a window.

    The rule is for rooms lit from one wall. Of a room lit from several, each wall is asked by
    itself, and one that reaches the back is enough: see `is_within_depth`.
    """
    found = []
    for wall in Wall:
        heads = [window.head_m for window in room.windows if window.wall == wall]
        if heads:
            found.append(
                DepthLimit(
                    wall=wall,
                    depth_m=room.depth_from_m(wall),
                    width_m=room.wall_length_m(wall),
                    head_m=max(heads),
                    rear_reflectance=rear_reflectance(room, wall),
                )
            )
    return tuple(found)


def is_within_depth(room: Room) -> bool | None:
    """Whether some window wall reaches the back of the room; None without a window.

    One more window never turns a yes into a no.
    """
    limits = depth_limits(room)
    return any(limit.is_within for limit in limits) if limits else None


def sky_margins(room: Room, opening: Aperture, points: Floats) -> Floats:
    """How much sky shows through one opening at each point: positive where some does [m].

    The smaller side of the largest rectangle of sky on the glass plane, negative by how far it
    is from showing. Zero along the no-sky line.
    """
    view = seen(opening, points)
    D, a0, a1, b0, b1 = view.D, view.a0, view.a1, view.b0, view.b1
    beyond = {wall: skyline_slopes(room, wall, points) for wall in Wall}
    if opening.wall is None:
        reach = {
            wall: np.where(slope > 0, D / np.where(slope > 0, slope, 1.0), np.inf)
            for wall, slope in beyond.items()
        }
        left, right = np.maximum(a0, -reach[Wall.WEST]), np.minimum(a1, reach[Wall.EAST])
        low, high = np.maximum(b0, -reach[Wall.SOUTH]), np.minimum(b1, reach[Wall.NORTH])
        over: Floats = np.minimum(right - left, high - low)
        return over
    sides = (Wall.WEST, Wall.EAST) if opening.a_axis == 0 else (Wall.SOUTH, Wall.NORTH)
    # a skyline beside is lowest where the opening comes nearest to the foot of the perpendicular
    nearest = np.clip(0.0, a0, np.maximum(a0, a1))
    beside = np.abs(nearest) * np.where(nearest < 0, beyond[sides[0]], beyond[sides[1]])
    skyline = np.maximum(D * beyond[opening.wall], beside)
    margin: Floats = np.minimum(a1 - a0, b1 - np.maximum(b0, skyline))
    return margin


def _fine_plane(room: Room, plane_height_m: float) -> tuple[Floats, Floats, Floats]:
    axes = []
    for side in (room.length_m, room.width_m):
        count = max(2, math.ceil(side / max(NO_SKY_CELL_M, side / 300) - 1e-9))
        axes.append((np.arange(count) + 0.5) * side / count)
    grid_x, grid_y = np.meshgrid(*axes)
    height = np.full(grid_x.size, float(plane_height_m))
    return axes[0], axes[1], np.column_stack([grid_x.ravel(), grid_y.ravel(), height])


def sky_margin_plane(room: Room, plane_height_m: float) -> tuple[Floats, Floats, Floats]:
    """Return x (nx,), y (ny,) and the largest sky margin of any opening (ny, nx), all [m].

    The plane goes from wall to wall.
    """
    require_within("plane_height_m", plane_height_m, "m", at_least=0, below=room.height_m)
    x, y, points = _fine_plane(room, plane_height_m)
    margin = np.full(len(points), -np.inf)
    for opening in apertures(room):
        margin = np.maximum(margin, sky_margins(room, opening, points))
    return x, y, margin.reshape(len(y), len(x))


def no_sky_share(room: Room, *, plane_height_m: float) -> float:
    """Share of the plane, wall to wall, from which no sky is seen [1].

    Counted in cells of 0.02 m, or of 1/300 of a side in rooms over 6 m.
    """
    _, _, margin = sky_margin_plane(room, plane_height_m)
    hidden: NDArray[np.bool_] = margin <= 0
    return float(hidden.mean())

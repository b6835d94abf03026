"""View out: how wide, how far, and what of sky, landscape and ground, from a seat or everywhere.

EN 17037 describes the three layers in words and pictures. Restated so that it can be computed:

    sky         some line of sight through a window passes above the skyline
    landscape   some line passes between the horizon and the skyline, or along the open horizon
    ground      some line passes below the horizon

What that misses: trees and the make of what is seen, and how clear the glass is.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from criteria.daylight.depth import sky_margins
from criteria.daylight.direct import apertures, seen, skyline_slopes
from criteria.daylight.field import CELL_M, INSET_M, plane_points
from criteria.daylight.moments import Floats
from criteria.daylight.openings import Wall
from criteria.daylight.refusals import require_within
from criteria.daylight.room import Room
from criteria.daylight.rules import VIEW_LAYERS, VIEW_SHARE, Level, at_least, view_level
from criteria.findings import SAME

SEATED_EYE_M = 1.2
"""Height of the eye of a person who sits [m]. EN 17037. From memory."""

Flags = NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True)
class Seat:
    """A place to look out from.

    x_m, y_m            on the plan [m]
    eye_height_m        eye above the floor: 1.2 sitting, 1.7 standing, lower in a bunk [m]
    """

    mark: str = ""
    x_m: float
    y_m: float
    eye_height_m: float = SEATED_EYE_M


@dataclass(frozen=True, kw_only=True)
class View:
    """What is seen through the windows from one place.

    sight_angle_deg     horizontal angle that the windows fill, together [deg]
    distance_m          of the farthest thing seen outside, from the window's inner face [m]:
                        inf for an open horizon, None where no distance was given
    """

    mark: str
    x_m: float
    y_m: float
    eye_height_m: float
    sight_angle_deg: float
    distance_m: float | None
    sky: bool
    landscape: bool
    ground: bool

    @property
    def layers(self) -> int:
        """How many of sky, landscape and ground are seen."""
        return self.sky + self.landscape + self.ground

    @property
    def level(self) -> Level | None:
        """Level by EN 17037, or None where the distance is not known."""
        return view_level(
            sight_angle_deg=self.sight_angle_deg,
            distance_m=self.distance_m,
            layers=self.layers,
            sees_landscape=self.landscape,
        )


@dataclass(frozen=True, kw_only=True, eq=False)
class ViewField:
    """The view over the plan, arrays (ny, nx) with rows along y; as View, point by point.

    distance_m is nan where nothing is seen or no distance was given.
    """

    x_m: Floats
    y_m: Floats
    eye_height_m: float
    sight_angle_deg: Floats
    distance_m: Floats
    sky: Flags
    landscape: Flags
    ground: Flags

    @property
    def layers(self) -> NDArray[np.int_]:
        """Layers seen at each point (ny, nx)."""
        return self.sky.astype(int) + self.landscape + self.ground

    def share_with_layers(self, count: int) -> float:
        """Share of the points that see the landscape and at least so many layers [1]."""
        require_within("count", count, "", at_least=1, at_most=3)
        return float((self.landscape & (self.layers >= count)).mean())

    def share_with_angle(self, angle_deg: float) -> float:
        """Share of the points whose sight angle is at least this [1]."""
        return float((self.sight_angle_deg >= angle_deg * (1 - SAME)).mean())

    @property
    def level_of_layers(self) -> Level:
        """Level that the layers reach over 75 % of the area by EN 17037."""
        reached = Level.NONE
        for level, count in VIEW_LAYERS.items():
            if at_least(self.share_with_layers(int(count)), VIEW_SHARE):
                reached = level
        return reached


def _union_of_angles(low: Floats, high: Floats) -> Floats:
    """Return the total length of intervals (k, n) that may overlap, for each of n points."""
    order = np.argsort(low, axis=0)
    low, high = np.take_along_axis(low, order, 0), np.take_along_axis(high, order, 0)
    reach = np.full(low.shape[1], -np.inf)
    total = np.zeros(low.shape[1])
    for start, end in zip(low, high, strict=True):
        total += np.maximum(end - np.maximum(start, reach), 0.0)
        reach = np.maximum(reach, end)
    return total


def _look(room: Room, points: Floats) -> dict[str, NDArray[Any]]:
    """Look out of every window from points (n, 3)."""
    count = len(points)
    angle = np.zeros(count)
    distance = np.full(count, np.nan)
    layers = {name: np.zeros(count, dtype=bool) for name in ("sky", "landscape", "ground")}
    windows = [opening for opening in apertures(room) if opening.wall is not None]
    for wall in Wall:
        through = [opening for opening in windows if opening.wall == wall]
        if not through:
            continue
        lows, highs = [], []
        for opening in through:
            view = seen(opening, points)
            is_seen = (view.a1 > view.a0) & (view.b1 > view.b0)
            lows.append(np.where(is_seen, np.arctan(view.a0 / view.D), 0.0))
            highs.append(np.where(is_seen, np.arctan(view.a1 / view.D), 0.0))
            skyline = view.D * skyline_slopes(room, wall, points)
            layers["sky"] |= is_seen & (sky_margins(room, opening, points) > 0)
            layers["landscape"] |= is_seen & (view.b0 <= skyline) & (view.b1 >= 0)
            layers["ground"] |= is_seen & (view.b0 < 0)
            distance = np.fmax(distance, np.where(is_seen, _distance(room, wall), np.nan))
        angle += np.degrees(_union_of_angles(np.array(lows), np.array(highs)))
    return {"angle": angle, "distance": distance, **layers}


def _distance(room: Room, wall: Wall) -> float:
    obstruction = room.obstruction(wall)
    if obstruction is None or obstruction.angle_deg == 0:
        return math.inf
    if obstruction.distance_m is None:
        return math.nan
    return obstruction.distance_m + room.wall_thickness_m


def view_from(room: Room, seat: Seat) -> View:
    """Look out from one seat.

    Raises ImpossibleInput where the seat is not in the room.
    """
    where = f"seat {seat.mark}".strip()
    for field, side in (
        ("x_m", room.length_m),
        ("y_m", room.width_m),
        ("eye_height_m", room.height_m),
    ):
        require_within(
            field,
            getattr(seat, field),
            "m",
            at_least=0,
            at_most=side,
            why="in the room",
            where=where,
        )
    found = _look(room, np.array([[seat.x_m, seat.y_m, seat.eye_height_m]]))
    distance = float(found["distance"][0])
    return View(
        mark=seat.mark,
        x_m=seat.x_m,
        y_m=seat.y_m,
        eye_height_m=seat.eye_height_m,
        sight_angle_deg=float(found["angle"][0]),
        distance_m=None if math.isnan(distance) else distance,
        sky=bool(found["sky"][0]),
        landscape=bool(found["landscape"][0]),
        ground=bool(found["ground"][0]),
    )


def views_from(room: Room, seats: Iterable[Seat]) -> tuple[View, ...]:
    """Look out from every seat, in the order given."""
    return tuple(view_from(room, seat) for seat in seats)


def view_field(
    room: Room,
    *,
    eye_height_m: float = SEATED_EYE_M,
    inset_m: float = INSET_M,
    cell_m: float = CELL_M,
) -> ViewField:
    """Look out from every point of a plane at eye height, gridded as daylight_field grids."""
    x, y, points = plane_points(room, height_m=eye_height_m, inset_m=inset_m, cell_m=cell_m)
    found = {name: values.reshape(len(y), len(x)) for name, values in _look(room, points).items()}
    return ViewField(
        x_m=x,
        y_m=y,
        eye_height_m=eye_height_m,
        sight_angle_deg=found["angle"],
        distance_m=found["distance"],
        sky=found["sky"],
        landscape=found["landscape"],
        ground=found["ground"],
    )

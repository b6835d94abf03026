"""A rectangular room as daylight sees it: surfaces, windows, rooflights, and what stands outside.

Plan coordinates: x runs from the west wall (0) to the east wall (length_m), y from the south
wall (0) to the north wall (width_m), z up from the floor. All are internal faces. The names of
the walls are the plan's; `north_bearing_deg` says how the plan lies on the compass.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import combinations

from criteria.daylight.openings import Obstruction, Opening, Rooflight, Wall, Window, named
from criteria.daylight.refusals import ImpossibleInput, keep_within, number

LONGEST_SIDE_M = 30.0
"""Longest side of a room that is taken [m]: a longer one is millimetres typed as metres."""
TALLEST_M = 12.0
"""Tallest room that is taken [m]."""
TOUCH_M = 1e-9
"""Edges closer than this are one edge [m]: 0.9 + 2.7 is not quite 3.6 in binary."""


@dataclass(frozen=True, kw_only=True)
class Room:
    """A rectangular room, empty, with plain diffuse surfaces.

    length_m, width_m, height_m     internal, along x, y and z [m]
    floor_, wall_, ceiling_reflectance      diffuse [1]; reveals take the wall's
    wall_thickness_m    inner face to glass of a window [m]: the glass is taken at the outer face
    roof_thickness_m    ceiling to glass of a rooflight [m]
    ground_reflectance  of the ground outside, unshaded [1]
    obstructions        at most one for each wall
    obstruction_luminance_factor    its luminance × π over the horizontal illuminance [1]
    north_bearing_deg   compass bearing that the plan's north wall faces [deg]

    Limits: no furniture, partitions, overhangs or L-shapes; a wall of one thickness.
    """

    length_m: float
    width_m: float
    height_m: float
    floor_reflectance: float = 0.2
    wall_reflectance: float = 0.5
    ceiling_reflectance: float = 0.7
    wall_thickness_m: float = 0.0
    roof_thickness_m: float = 0.0
    ground_reflectance: float = 0.2
    obstructions: tuple[Obstruction, ...] = ()
    obstruction_luminance_factor: float = 0.1
    windows: tuple[Window, ...] = ()
    rooflights: tuple[Rooflight, ...] = ()
    north_bearing_deg: float = 0.0

    def __post_init__(self) -> None:
        for field in ("obstructions", "windows", "rooflights"):
            object.__setattr__(self, field, tuple(getattr(self, field)))
        for field in ("length_m", "width_m"):
            keep_within(self, field, "m", above=0, at_most=LONGEST_SIDE_M)
        keep_within(self, "height_m", "m", above=0, at_most=TALLEST_M)
        for field in ("floor_reflectance", "wall_reflectance", "ceiling_reflectance"):
            keep_within(self, field, "", above=0, below=1)
        for field in ("wall_thickness_m", "roof_thickness_m"):
            keep_within(self, field, "m", at_least=0, at_most=3)
        for field in ("ground_reflectance", "obstruction_luminance_factor"):
            keep_within(self, field, "", at_least=0, at_most=1)
        keep_within(self, "north_bearing_deg", "°", at_least=0, below=360)
        for index in range(len(self.windows)):
            self._check_window(index)
        for index in range(len(self.rooflights)):
            self._check_rooflight(index)
        self._check_overlaps()
        walls = [obstruction.wall for obstruction in self.obstructions]
        for wall in walls:
            if walls.count(wall) > 1:
                raise ImpossibleInput(
                    field="obstructions",
                    read=f"{walls.count(wall)} obstructions outside the {wall} wall",
                    expected="at most 1 for each wall",
                )

    @property
    def floor_m2(self) -> float:
        """Floor area [m²]."""
        return self.length_m * self.width_m

    @property
    def surface_m2(self) -> float:
        """Floor, ceiling and all walls, openings included [m²]."""
        return 2 * (self.floor_m2 + (self.length_m + self.width_m) * self.height_m)

    @property
    def openings(self) -> tuple[Opening, ...]:
        """Windows, then rooflights: the order of every result given by opening."""
        return self.windows + self.rooflights

    @property
    def glass_m2(self) -> float:
        """Clear glass of all openings [m²]."""
        return math.fsum(opening.glass_m2 for opening in self.openings)

    @property
    def glass_to_floor(self) -> float:
        """Clear glass over floor area [1]."""
        return self.glass_m2 / self.floor_m2

    def wall_length_m(self, wall: Wall) -> float:
        """Internal length of a wall [m]."""
        return self.length_m if wall in (Wall.SOUTH, Wall.NORTH) else self.width_m

    def depth_from_m(self, wall: Wall) -> float:
        """Depth of the room behind a wall, face to face [m]."""
        return self.width_m if wall in (Wall.SOUTH, Wall.NORTH) else self.length_m

    def facing_deg(self, wall: Wall) -> float:
        """Compass bearing that a wall faces [deg clockwise from north]."""
        return (wall.bearing_deg + self.north_bearing_deg) % 360

    def obstruction(self, wall: Wall) -> Obstruction | None:
        """Return what stands outside a wall, or None."""
        return next((item for item in self.obstructions if item.wall == wall), None)

    def skyline_deg(self, wall: Wall, height_m: float, behind_m: float = 0.0) -> float:
        """Angle of the skyline outside a wall, 0 where nothing stands there [deg]."""
        found = self.obstruction(wall)
        return found.angle_at_deg(height_m, behind_m) if found else 0.0

    def with_openings(
        self,
        *,
        windows: Iterable[Window] | None = None,
        rooflights: Iterable[Rooflight] | None = None,
    ) -> "Room":
        """Return the same room with other openings: what a trial needs."""
        return replace(
            self,
            windows=self.windows if windows is None else tuple(windows),
            rooflights=self.rooflights if rooflights is None else tuple(rooflights),
        )

    def _check_window(self, index: int) -> None:
        window = self.windows[index]
        wall_m, end = self.wall_length_m(window.wall), window.offset_m + window.width_m
        if end > wall_m + TOUCH_M:
            field = "offset_m" if window.width_m <= wall_m else "width_m"
            read = f"offset {_m(window.offset_m)} + width {_m(window.width_m)} = {_m(end)}"
            expected = f"at most {_m(wall_m)}, the length of the {window.wall} wall"
            raise _impossible(window, index, field, read, expected)
        if window.sill_m >= self.height_m:
            expected = f"less than {_m(self.height_m)}, the height of the room"
            raise _impossible(window, index, "sill_m", _m(window.sill_m), expected)
        if window.head_m > self.height_m + TOUCH_M:
            sizes = f"sill {_m(window.sill_m)} + height {_m(window.height_m)}"
            read = f"{sizes} = head {_m(window.head_m)}"
            expected = f"at most {_m(self.height_m)}, the height of the room"
            raise _impossible(window, index, "height_m", read, expected)

    def _check_rooflight(self, index: int) -> None:
        rooflight = self.rooflights[index]
        for start, size, side, name in (
            ("x_m", "size_x_m", self.length_m, "length"),
            ("y_m", "size_y_m", self.width_m, "width"),
        ):
            low, extent = getattr(rooflight, start), getattr(rooflight, size)
            if low + extent > side + TOUCH_M:
                field = start if extent <= side else size
                read = f"{_m(low)} + {_m(extent)} = {_m(low + extent)}"
                expected = f"at most {_m(side)}, the {name} of the room"
                raise _impossible(rooflight, index, field, read, expected)

    def _check_overlaps(self) -> None:
        for (i, first), (j, second) in combinations(enumerate(self.windows), 2):
            if first.wall != second.wall:
                continue
            across = _overlap(first.offset_m, first.width_m, second.offset_m, second.width_m)
            up = _overlap(first.sill_m, first.height_m, second.sill_m, second.height_m)
            if across and up:
                read = f"{_run(second.offset_m, second.width_m)} along the {second.wall} wall"
                taken = _run(first.offset_m, first.width_m)
                expected = f"clear of {named(first, i)}, which takes {taken}"
                raise _impossible(second, j, "offset_m", read, expected)
        for (i, one), (j, other) in combinations(enumerate(self.rooflights), 2):
            if _overlap(one.x_m, one.size_x_m, other.x_m, other.size_x_m) and _overlap(
                one.y_m, one.size_y_m, other.y_m, other.size_y_m
            ):
                taken = _run(one.x_m, one.size_x_m)
                expected = f"clear of {named(one, i)}, which takes {taken}"
                raise _impossible(other, j, "x_m", _run(other.x_m, other.size_x_m), expected)


def _impossible(
    opening: Opening, index: int, field: str, read: str, expected: str
) -> ImpossibleInput:
    kind = "windows" if isinstance(opening, Window) else "rooflights"
    where, item = named(opening, index), (kind, index)
    return ImpossibleInput(field=field, read=read, expected=expected, where=where, item=item)


def _m(length_m: float) -> str:
    return number(length_m, "m")


def _run(start_m: float, size_m: float) -> str:
    return f"{_m(start_m)} to {_m(start_m + size_m)}"


def _overlap(start_a: float, size_a: float, start_b: float, size_b: float) -> bool:
    return start_a + size_a > start_b + TOUCH_M and start_b + size_b > start_a + TOUCH_M

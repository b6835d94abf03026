"""A room as a rectangle with its openings where they stand."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from criteria.daylight import Rooflight, Seat, Wall, Window
from criteria.daylight import Room as LitRoom
from criteria.errors import InputError
from criteria.schedules.openings import BEARINGS_DEG, CLEAR_DOUBLE, KEPT
from criteria.typed.cells import Cell


class NoPlan(InputError):
    """Rows that are too bare to draw a room from; `missing` names the cells."""

    def __init__(self, missing: tuple[str, ...]) -> None:
        super().__init__(f"no plan yet; still needs {', '.join(missing)}")
        self.missing = missing


def face_letters(bearing_deg: float) -> str:
    """Compass letters of a bearing that is a multiple of 45°."""
    return next(f for f, b in BEARINGS_DEG.items() if math.isclose(b, bearing_deg % 360))


@dataclass(frozen=True, kw_only=True)
class Placed:
    """One window or roof light where it stands.

    mark            its own: W1, and W1b, W1c for others of the same row
    row             mark of the schedule row it comes from; "" for one that a trial adds
    face            compass letters of its wall, or "up" for a roof light
    left_m          left end of the wall, seen from inside, to the glass; of a roof light, from
                    the plan's left [m]
    sill_m          floor to glass; of a roof light, from the plan's lower wall [m]
    width_m, height_m       of the glass [m]
    frame_m         how much wider and higher the frame is than the glass [m, m]
    shutter_m2k_w   resistance that its closed shutter adds; 0 where it has none [m²K/W]
    sun_share       part of the sun that its shade lets past [1]
    """

    mark: str
    row: str
    face: str
    left_m: float
    sill_m: float
    width_m: float
    height_m: float
    frame_m: tuple[float, float] | None = None
    u_w_m2k: float | None = None
    shutter_m2k_w: float = 0.0
    sun_share: float = 1.0
    transmittance: float = CLEAR_DOUBLE
    kept_share: float = KEPT
    solar_factor: float | None = None
    is_assumed: bool = False

    @property
    def is_rooflight(self) -> bool:
        """Whether it lies in the ceiling."""
        return self.face == "up"

    @property
    def glass_m2(self) -> float:
        """Clear glass [m²]."""
        return self.width_m * self.height_m

    @property
    def frame_m2(self) -> float | None:
        """Whole window, frame included [m²]; None where the frame is blank."""
        if self.frame_m is None:
            return None
        return (self.width_m + self.frame_m[0]) * (self.height_m + self.frame_m[1])


@dataclass(frozen=True, kw_only=True)
class DoorPlace:
    """A door where it stands, drawn only: it lets no light in.

    left_m      left end of its wall, seen from inside, to the leaf [m]
    swing       in, out, slides or hatch; in where nothing is said
    hinge       the end at which it hangs, seen from inside; "" where nobody says
    """

    mark: str
    face: str
    left_m: float
    width_m: float
    swing: str
    hinge: str = ""


@dataclass(frozen=True, kw_only=True)
class RoomPlan:
    """A room as a rectangle with its openings placed; hashable, so that its light can be kept.

    shell       the room without openings
    turned_deg  bearing that the plan's upper wall faces: 0, or 45 for walls that face NE, SE …
    floor_m2    as the schedule gives it [m²]
    assumed     what was taken, a sentence each
    proposed    the blank cells in whose stead something was taken
    """

    mark: str
    name: str
    use: str
    floor_m2: float
    shell: LitRoom
    openings: tuple[Placed, ...]
    seats: tuple[Seat, ...] = ()
    doors: tuple[DoorPlace, ...] = ()
    assumed: tuple[str, ...] = ()
    proposed: tuple[Cell, ...] = field(default=(), compare=False)

    @cached_property
    def room(self) -> LitRoom:
        """The room with its openings; raises ImpossibleInput where they can't stand so."""
        windows = tuple(self._window(each) for each in self.upright)
        lights = tuple(
            Rooflight(
                mark=each.mark,
                x_m=each.left_m,
                y_m=each.sill_m,
                size_x_m=each.width_m,
                size_y_m=each.height_m,
                transmittance=each.transmittance,
                maintenance=each.kept_share,
            )
            for each in self.openings
            if each.is_rooflight
        )
        return self.shell.with_openings(windows=windows, rooflights=lights)

    @property
    def upright(self) -> tuple[Placed, ...]:
        """The windows in walls: the order of `room.windows`."""
        return tuple(each for each in self.openings if not each.is_rooflight)

    @property
    def in_order(self) -> tuple[Placed, ...]:
        """The openings in the order of `room.openings`: windows first."""
        return (*self.upright, *(each for each in self.openings if each.is_rooflight))

    @property
    def faces(self) -> tuple[str, ...]:
        """The way that each wall faces, clockwise from the upper one."""
        return tuple(self.face_of(wall) for wall in (Wall.NORTH, Wall.EAST, Wall.SOUTH, Wall.WEST))

    def face_of(self, wall: Wall) -> str:
        """Compass letters of a wall."""
        return face_letters(self.shell.facing_deg(wall))

    def wall_of(self, face: str) -> Wall:
        """The wall that faces a way."""
        return next(wall for wall in Wall if self.face_of(wall) == face)

    def with_openings(self, openings: Sequence[Placed]) -> "RoomPlan":
        """The same room with other openings: what a trial needs."""
        return replace(self, openings=tuple(openings))

    def offset_m(self, placed: Placed | DoorPlace) -> float:
        """From the plan's own end of its wall to the glass or the leaf [m]."""
        wall = self.wall_of(placed.face)
        if wall in (Wall.NORTH, Wall.WEST):
            return placed.left_m
        # seen from inside, the left of these walls is the far end of the plan's axis
        return self.shell.wall_length_m(wall) - placed.left_m - placed.width_m

    def _window(self, placed: Placed) -> Window:
        return Window(
            mark=placed.mark,
            wall=self.wall_of(placed.face),
            offset_m=self.offset_m(placed),
            sill_m=placed.sill_m,
            width_m=placed.width_m,
            height_m=placed.height_m,
            transmittance=placed.transmittance,
            maintenance=placed.kept_share,
        )

"""Windows, rooflights and what stands outside a wall: the parts that a room is given."""

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from criteria.daylight.refusals import ImpossibleInput, keep_within, number


class Wall(StrEnum):
    """The four walls, named as the plan's sides."""

    SOUTH = "south"
    NORTH = "north"
    WEST = "west"
    EAST = "east"

    @property
    def bearing_deg(self) -> float:
        """Outward bearing with the plan's north to the north [deg clockwise from north]."""
        return {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}[self.value]

    @property
    def opposite(self) -> "Wall":
        """The wall across the room."""
        return {"north": Wall.SOUTH, "south": Wall.NORTH, "east": Wall.WEST, "west": Wall.EAST}[
            self.value
        ]


@dataclass(frozen=True, kw_only=True)
class Glazing(ABC):
    """What an opening lets through.

    transmittance   visible transmittance of the clean glass [1]
    frame_share     share of the opening taken by frame and bars [1]
    maintenance     share that dirt leaves of the light [1]

    With ``glass="angular"`` the transmittance is the normal-incidence figure of a data sheet;
    with ``glass="constant"`` it is taken for every direction.
    """

    mark: str = ""
    transmittance: float = 0.7
    frame_share: float = 0.0
    maintenance: float = 1.0

    def _check_glazing(self) -> None:
        keep_within(self, "transmittance", "", above=0, at_most=1)
        keep_within(self, "frame_share", "", at_least=0, below=1)
        keep_within(self, "maintenance", "", above=0, at_most=1)

    @property
    @abstractmethod
    def opening_m2(self) -> float:
        """Area of the opening [m²]."""

    @property
    def glass_m2(self) -> float:
        """Area of clear glass: the opening less frame and bars [m²]."""
        return self.opening_m2 * (1 - self.frame_share)

    @property
    def effective_transmittance(self) -> float:
        """Light let in over light on the opening: glass, frame and dirt together [1]."""
        return self.transmittance * (1 - self.frame_share) * self.maintenance


@dataclass(frozen=True, kw_only=True)
class Window(Glazing):
    """A window in a wall, as an opening measured on the wall's inner face.

    offset_m    from the wall's x = 0 end (south, north) or y = 0 end (west, east) to the
                nearer jamb [m]
    sill_m      floor to sill [m]
    width_m, height_m   of the opening [m]
    """

    wall: Wall
    offset_m: float
    sill_m: float
    width_m: float
    height_m: float

    def __post_init__(self) -> None:
        if self.wall not in set(Wall):
            raise ImpossibleInput(
                field="wall", read=f"{self.wall!r}", expected="south, north, west or east"
            )
        object.__setattr__(self, "wall", Wall(self.wall))
        keep_within(self, "width_m", "m", above=0)
        keep_within(self, "height_m", "m", above=0, why="sill below head")
        keep_within(self, "offset_m", "m", at_least=0, why="within the wall")
        keep_within(self, "sill_m", "m", at_least=0, why="above the floor")
        self._check_glazing()

    @classmethod
    def between(cls, *, sill_m: float, head_m: float, **given: Any) -> "Window":
        """Return a window given by sill and head above the floor, and the rest as usual.

        Raises ImpossibleInput with both where the sill is not below the head.
        """
        if not sill_m < head_m:
            raise ImpossibleInput(
                field="sill_m",
                read=f"sill {number(sill_m, 'm')}",
                expected=f"less than {number(head_m, 'm')}, the head",
            )
        return cls(sill_m=sill_m, height_m=head_m - sill_m, **given)

    @property
    def head_m(self) -> float:
        """Floor to head [m]."""
        return self.sill_m + self.height_m

    @property
    def opening_m2(self) -> float:
        """Area of the opening [m²]."""
        return self.width_m * self.height_m


@dataclass(frozen=True, kw_only=True)
class Rooflight(Glazing):
    """A horizontal rooflight, as an opening measured on the ceiling.

    x_m, y_m            nearest corner to the plan's origin [m]
    size_x_m, size_y_m  of the opening [m]
    """

    x_m: float
    y_m: float
    size_x_m: float
    size_y_m: float

    def __post_init__(self) -> None:
        for field in ("x_m", "y_m"):
            keep_within(self, field, "m", at_least=0, why="within the ceiling")
        for field in ("size_x_m", "size_y_m"):
            keep_within(self, field, "m", above=0)
        self._check_glazing()

    @property
    def opening_m2(self) -> float:
        """Area of the opening [m²]."""
        return self.size_x_m * self.size_y_m


Opening = Window | Rooflight


@dataclass(frozen=True, kw_only=True)
class Obstruction:
    """What stands outside one wall, taken as an even skyline of endless length.

    Give either `angle_deg`, the angle of its top above the horizon at the same height from
    every point of the room (endlessly far), or `top_m` with `distance_m`.

    angle_deg       profile angle of the skyline [deg]
    top_m           floor of the room to the top of the obstruction [m]
    distance_m      outer face of the wall to the obstruction [m]
    """

    wall: Wall
    angle_deg: float | None = None
    top_m: float | None = None
    distance_m: float | None = None

    def __post_init__(self) -> None:
        if self.wall not in set(Wall):
            raise ImpossibleInput(
                field="wall", read=f"{self.wall!r}", expected="south, north, west or east"
            )
        object.__setattr__(self, "wall", Wall(self.wall))
        if self.angle_deg is not None:
            if self.top_m is not None or self.distance_m is not None:
                raise ImpossibleInput(
                    field="angle_deg",
                    read=f"an angle of {self.angle_deg:g}° beside a height or distance",
                    expected="the angle alone, or the height with the distance",
                )
            keep_within(self, "angle_deg", "°", at_least=0, below=90)
            return
        for field in ("top_m", "distance_m"):
            if getattr(self, field) is None:
                raise ImpossibleInput(
                    field=field, read="nothing", expected="the height with the distance, in m"
                )
        keep_within(self, "top_m", "m", at_least=-1000, at_most=10_000)
        keep_within(self, "distance_m", "m", above=0)

    def angle_at_deg(self, height_m: float, behind_m: float = 0.0) -> float:
        """Angle of the skyline from a height, a distance behind the outer wall face [deg].

        γ = atan((z_t − z) / (d + behind))      0 where the top is no higher than the eye
        """
        if self.angle_deg is not None:
            return self.angle_deg
        assert self.top_m is not None
        assert self.distance_m is not None
        rise = max(self.top_m - height_m, 0.0)
        return math.degrees(math.atan2(rise, self.distance_m + behind_m))


def named(opening: Opening, index: int) -> str:
    """Name an opening for a message: by its mark, else by its place in the schedule from 1."""
    kind = "window" if isinstance(opening, Window) else "rooflight"
    return f"{kind} {opening.mark or index + 1}"

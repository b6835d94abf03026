"""What the hourly year is reckoned of: elements, glass, air, people, plant. The engine's own input.

Schedules are made into it by `of_package`, a case in the explicit form by `case_file`.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

import numpy as np

from criteria.hourly.weather import HOURS, Flags, Hours

Point = tuple[float, float, float]
"""East, north and up [m]."""


@dataclass(frozen=True, kw_only=True)
class Layer:
    """One layer; one without mass says its resistance [m²K/W] and nothing else."""

    name: str = ""
    thickness_m: float = 0.0
    lambda_w_mk: float = 0.0
    density_kg_m3: float = 0.0
    heat_j_kgk: float = 0.0
    without_mass_m2k_w: float | None = None

    @property
    def resistance_m2k_w(self) -> float:
        """What it resists [m²K/W]."""
        if self.without_mass_m2k_w is not None:
            return self.without_mass_m2k_w
        return self.thickness_m / self.lambda_w_mk


class Outside(StrEnum):
    """What stands on the outer side of an element."""

    AIR = "air"
    VENTED = "vented cavity"
    UNDER = "air under the floor"
    HELD = "held"
    ROOM = "room"


@dataclass(frozen=True, kw_only=True, eq=False)
class Element:
    """An opaque part. Two of one name are reckoned apart and shown together (studs and between).

    area_m2     without its openings [m²]
    tilt_deg    0 faces the sky, 90 stands upright, 180 faces the ground [°]
    bearing_deg of the way it faces, clockwise from north [°]
    layers      outside to inside, those behind a vented cavity left out
    held_k      of the outer face where `outside` is HELD: one figure or one an hour [K]
    absorptance of the outer face for sun; emissivities for long wave [1]
    sun_share   part of the sun that trees, a second roof or eaves let reach it [1]
    sky_share   part of its sky that is free [1]
    outer_w_m2k, inner_w_m2k  fixed films that take convection and long wave together, in place of
                the method's [W/m²K]; for cases that fix them
    """

    name: str
    kind: Literal["wall", "roof", "floor", "mass"]
    area_m2: float
    layers: tuple[Layer, ...]
    tilt_deg: float = 90.0
    bearing_deg: float = 0.0
    outside: Outside = Outside.AIR
    held_k: float | Hours | None = None
    absorptance: float = 0.6
    emissivity_outside: float = 0.9
    emissivity_inside: float = 0.9
    sun_share: float = 1.0
    sky_share: float = 1.0
    outer_w_m2k: float | None = None
    inner_w_m2k: float | None = None


@dataclass(frozen=True, kw_only=True)
class Rectangle:
    """A thin rectangle by a corner and two edges [m]: a pane, or what throws shade."""

    corner_m: Point
    edge_m: Point
    edge2_m: Point


@dataclass(frozen=True, kw_only=True)
class Glass:
    """What a window is glazed with.

    between_m2k_w  from the outer face to the inner, films left out [m²K/W]
    solar_factor   at normal incidence; None is that of its plain panes [1]
    refractive_index, absorbed_kl  of one pane: index, and extinction times thickness [1]
    emissivity     of both faces [1]
    pane_j_m2k     heat that one pane holds [J/m²K]
    """

    panes: int
    between_m2k_w: float
    solar_factor: float | None
    refractive_index: float = 1.52
    absorbed_kl: float = 0.096
    emissivity: float = 0.84
    pane_j_m2k: float = 5700.0


@dataclass(frozen=True, kw_only=True, eq=False)
class Window:
    """Windows that face one way, of one row of the schedule.

    area_m2     whole, frame included, that loses heat [m²]
    glass_m2    clear glass, that the sun comes in by [m²]
    pane        one pane in space, where shades are to be followed; None where there are none
    shades      overhangs, fins and reveals, black and thin
    sky_deg     sky seen from its centre, square on: 90 is free, of one in a roof 180 [°]
    sun_share   part of the sun that else lets reach it [1]
    shutter_m2k_w  what a closed shutter adds at night; 0 is none [m²K/W]
    blind_share part of the sun's heat that comes past a blind drawn on hot sunny hours, 0.4 outside
                and 0.7 inside; 1 is none [1]
    blind_is_inside  whether all of that warms the room's air and none of its faces
    outer_w_m2k, inner_w_m2k  fixed films, as of an element [W/m²K]
    """

    name: str
    area_m2: float
    glass_m2: float
    glass: Glass
    tilt_deg: float = 90.0
    bearing_deg: float = 180.0
    pane: Rectangle | None = None
    shades: tuple[Rectangle, ...] = ()
    sky_deg: float = 90.0
    sun_share: float = 1.0
    shutter_m2k_w: float = 0.0
    blind_share: float = 1.0
    blind_is_inside: bool = False
    outer_w_m2k: float | None = None
    inner_w_m2k: float | None = None


@dataclass(frozen=True, kw_only=True)
class Opening:
    """What can be opened to the air: clear area and height [m²], [m], middle above ground [m]."""

    area_m2: float
    height_m: float
    middle_m: float = 1.5
    bearing_deg: float = 0.0


def _never() -> Flags:
    return np.zeros(HOURS, dtype=np.bool_)


def _nothing() -> Hours:
    return np.zeros(HOURS)


def _off() -> Hours:
    return np.full(HOURS, np.nan)


@dataclass(frozen=True, kw_only=True, eq=False)
class Air:
    """Air that comes and goes.

    fixed_m3_s  leaks, vents and fans by hour, less the part whose heat is recovered [m³/s]
    openings    windows that people open; two at different heights or bearings draw through
    open_above_k  what they are opened to hold [K]
    may_open    whether somebody can
    open_margin_k  by how much it must be cooler outside: more at night [K]
    terrain     exposure of the site, as the site sheet words it: B, C or D
    """

    fixed_m3_s: Hours = field(default_factory=_nothing)
    openings: tuple[Opening, ...] = ()
    open_above_k: Hours = field(default_factory=_off)
    may_open: Flags = field(default_factory=_never)
    open_margin_k: Hours = field(default_factory=_nothing)
    terrain: str = "C"


@dataclass(frozen=True, kw_only=True, eq=False)
class Use:
    """People and things that warm the room, and what they want of it.

    people_w, loads_w  sensible heat by hour [W], their radiant shares [1]
    warm_k, cool_k  heated up to, cooled down to [K]; nan is off
    is_operative  whether the thermostat feels walls as well as air
    """

    people_w: Hours = field(default_factory=_nothing)
    loads_w: Hours = field(default_factory=_nothing)
    people_radiant: float = 0.6
    loads_radiant: float = 0.5
    warm_k: Hours = field(default_factory=_off)
    cool_k: Hours = field(default_factory=_off)
    is_operative: bool = False


@dataclass(frozen=True, kw_only=True, eq=False)
class Building:
    """One zone, well mixed.

    volume_m3   of air [m³]; floor_m2 [m²]
    contents_j_k  furniture and the like, that follows the air [J/K]
    sun_inside  part of the sun through glass that falls on each element by name, what isn't said
                leaves again; None spreads it by the method: 65 % on floors, the rest by area
    skyline_deg  height of hills by bearing, in equal steps from north clockwise; () is level [°]
    density_ratio  of the air to that of 101,325 Pa; None follows the weather's pressure
    """

    elements: tuple[Element, ...]
    windows: tuple[Window, ...]
    floor_m2: float
    volume_m3: float
    air: Air
    use: Use
    contents_j_k: float = 0.0
    ground_reflectance: float = 0.2
    skyline_deg: tuple[float, ...] = ()
    sun_inside: dict[str, float] | None = None
    density_ratio: float | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class PlantLimits:
    """What plant can do.

    heat_w, cool_w  at most [W]; inf is without limit, 0 none
    heat_runs   hours in which the heater can burn or run
    heat_cop, cool_cop  heat for each unit of electricity by hour [1]; None where it needs none
    draws_m3_j  air that a fire draws out of the room for each joule that it gives [m³/J]
    """

    heat_w: float = np.inf
    cool_w: float = np.inf
    heat_runs: Flags | None = None
    heat_cop: Hours | None = None
    cool_cop: Hours | None = None
    draws_m3_j: float = 0.0


NO_PLANT = PlantLimits(heat_w=0.0, cool_w=0.0)
ANY_PLANT = PlantLimits()


@dataclass(frozen=True, kw_only=True, eq=False)
class PowerSupply:
    """Panels, wind and a battery, by hour, on the side of the loads.

    made_w      [W]; essential_w and rest_w what loads ask for [W]
    most_j, least_j  between which the battery is used [J], by hour where the cold takes of it
    charge_share, discharge_share  what of a unit is kept, and given back [1]
    charge_w, discharge_w  at most, at the loads' side [W]
    may_charge  hours in which it isn't too cold to
    kept_for_essential_j  above the least: plant may not draw it [J]
    loses_share of what is stored, an hour [1]
    """

    made_w: Hours
    essential_w: Hours
    rest_w: Hours
    most_j: float
    least_j: float
    charge_share: float
    discharge_share: float
    charge_w: float
    discharge_w: float
    may_charge: Flags
    kept_for_essential_j: float = 0.0
    loses_share: float = 0.0

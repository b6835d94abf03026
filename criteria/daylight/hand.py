"""Hand methods: the average daylight factor and split flux, kept beside the point method."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from criteria.daylight.openings import Opening, Window
from criteria.daylight.refusals import ImpossibleInput, keep_within, require_within
from criteria.daylight.room import Room

GLASS_REFLECTANCE = 0.1
"""Of glass, in a mean over the room's surfaces [1]. BS 8206-2:2008, as commonly taken."""

SPLIT_FLUX_C = (39.0, 35.0, 31.0, 25.0, 20.0, 14.0, 10.0, 7.0, 5.0)
"""C of the split-flux formula for skylines of 0, 10 … 80° [%].

Hopkinson, Petherbridge and Longmore, Daylighting (1966). From memory.
"""


def mean_reflectance(surfaces: Sequence[tuple[float, float]]) -> float:
    """Mean of reflectances weighed by area [1].

        R = Σ A_k ρ_k / Σ A_k

    surfaces    pairs of area [m²] and reflectance [1]

    >>> round(mean_reflectance([(12, 0.2), (12, 0.8), (31.8, 0.6), (1.8, 0.1)]), 4)
    0.5427
    """
    total = math.fsum(area for area, _ in surfaces)
    if not total > 0:
        raise ImpossibleInput(field="area", read=f"{total:g} m² in all", expected="more than 0 m²")
    return math.fsum(area * reflectance for area, reflectance in surfaces) / total


def room_reflectance(room: Room) -> float:
    """Mean reflectance of floor, ceiling and walls, glass counted at 0.1 [1]."""
    walls_m2 = 2 * (room.length_m + room.width_m) * room.height_m
    in_walls = math.fsum(window.glass_m2 for window in room.windows)
    in_ceiling = math.fsum(rooflight.glass_m2 for rooflight in room.rooflights)
    return mean_reflectance(
        [
            (room.floor_m2, room.floor_reflectance),
            (room.floor_m2 - in_ceiling, room.ceiling_reflectance),
            (walls_m2 - in_walls, room.wall_reflectance),
            (in_walls + in_ceiling, GLASS_REFLECTANCE),
        ]
    )


@dataclass(frozen=True, kw_only=True)
class Pane:
    """One opening in the average daylight factor's formula.

    glass_m2        net glass [m²]
    transmittance   for light from all sides [1]
    sky_angle_deg   angle of visible sky [deg]
    maintenance     share that dirt leaves [1]
    """

    glass_m2: float
    transmittance: float
    sky_angle_deg: float
    maintenance: float = 1.0

    def __post_init__(self) -> None:
        keep_within(self, "glass_m2", "m²", at_least=0)
        keep_within(self, "transmittance", "", above=0, at_most=1)
        keep_within(self, "sky_angle_deg", "°", at_least=0, at_most=180)
        keep_within(self, "maintenance", "", above=0, at_most=1)


def average_daylight_factor_pct(
    panes: Sequence[Pane], *, surface_m2: float, reflectance: float
) -> float:
    """Average daylight factor by the closed formula [%].

        D = Σ T A_w θ M / (A (1 − R²))

        T    transmittance for light from all sides                [1]
        A_w  net glass area                                        [m²]
        θ    angle of visible sky: 90 if nothing stands outside    [deg]
        M    maintenance factor                                    [1]
        A    floor, ceiling and walls, windows included            [m²]
        R    mean reflectance of those surfaces                    [1]

    θ in degrees makes the result a percentage as it stands. It is a mean over the plane: hold it
    to the superseded method's own figures, not to the shares of EN 17037.

    Source: BS 8206-2:2008 (superseded by BS EN 17037); Crisp and Littlefair (1984).
    Lynes's form of 1979, over 2A(1 − R), is another mean: that of all the room's surfaces.

    >>> pane = Pane(glass_m2=1.44, transmittance=0.70, sky_angle_deg=65, maintenance=0.9)
    >>> round(average_daylight_factor_pct([pane], surface_m2=57.6, reflectance=0.5), 3)
    1.365
    """
    require_within("surface_m2", surface_m2, "m²", above=0)
    require_within("reflectance", reflectance, "", at_least=0, below=1)
    light = math.fsum(
        pane.transmittance * pane.glass_m2 * pane.sky_angle_deg * pane.maintenance for pane in panes
    )
    return light / (surface_m2 * (1 - reflectance**2))


def pane_of(room: Room, opening: Opening) -> Pane:
    """Return an opening as the closed formula takes it.

    θ is 90° less the skyline seen from the window's middle on the inner face; 180° for a
    rooflight. Glass below the working plane counts like any other: the share that it adds is
    not in the formula.
    """
    if isinstance(opening, Window):
        middle = (opening.sill_m + opening.head_m) / 2
        skyline = room.skyline_deg(opening.wall, middle, room.wall_thickness_m)
        angle = 90.0 - skyline
    else:
        angle = 180.0
    return Pane(
        glass_m2=opening.glass_m2,
        transmittance=opening.transmittance,
        sky_angle_deg=angle,
        maintenance=opening.maintenance,
    )


def room_average_daylight_factor_pct(room: Room) -> float:
    """Average daylight factor of a room by the closed formula [%]."""
    return average_daylight_factor_pct(
        [pane_of(room, opening) for opening in room.openings],
        surface_m2=room.surface_m2,
        reflectance=room_reflectance(room),
    )


def split_flux_pct(room: Room) -> float:
    """Mean internally reflected component by split flux [%].

        IRC = Σ T W (C R_fw + 5 R_cw) / (A (1 − R))         windows
        IRC = Σ T W 100 R_fw / (A (1 − R))                  rooflights

        T W   light let in: transmittance, frame and dirt in it × opening area      [m²]
        C     of the skyline's angle, SPLIT_FLUX_C, between its steps in proportion [%]
        R_fw  mean reflectance of floor and walls below the window's middle         [1]
        R_cw  mean reflectance of ceiling and walls above it                        [1]
              both without the window's own wall; all walls for a rooflight
        A, R  all surfaces and their mean reflectance                               [m², 1]

    One figure for the whole room: at the back of a deep room the light is a third or less of it.
    Source: Hopkinson, Petherbridge and Longmore, Daylighting (1966), split flux. From memory.
    """
    share = 1 / (room.surface_m2 * (1 - room_reflectance(room)))
    return math.fsum(
        opening.opening_m2
        * opening.effective_transmittance
        * share
        * _split_flux_weight(room, opening)
        for opening in room.openings
    )


def _split_flux_weight(room: Room, opening: Opening) -> float:
    around = 2 * (room.length_m + room.width_m)
    floor = (room.floor_m2, room.floor_reflectance)
    if not isinstance(opening, Window):
        return 100 * mean_reflectance([floor, (around * room.height_m, room.wall_reflectance)])
    middle = (opening.sill_m + opening.head_m) / 2
    length = around - room.wall_length_m(opening.wall)
    lower = mean_reflectance([floor, (length * middle, room.wall_reflectance)])
    upper = mean_reflectance(
        [
            (room.floor_m2, room.ceiling_reflectance),
            (length * (room.height_m - middle), room.wall_reflectance),
        ]
    )
    skyline = room.skyline_deg(opening.wall, middle, room.wall_thickness_m)
    steps = np.arange(len(SPLIT_FLUX_C)) * 10.0
    if skyline > steps[-1]:
        raise ImpossibleInput(
            field="angle_deg",
            read=f"a skyline of {skyline:.4g}°",
            expected=f"at most {steps[-1]:g}°, where the split-flux table ends",
        )
    return float(np.interp(skyline, steps, SPLIT_FLUX_C)) * lower + 5 * upper

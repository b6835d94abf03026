"""Daylight, view and sun in one rectangular room: the field over the plan and its criteria.

    room = Room(length_m=3.6, width_m=3.0, height_m=2.4, windows=[Window(wall="south", …)])
    field = daylight_field(room)            # the daylight factor, point by point
    contours(field, [1, 2, 5])              # isolines in plan coordinates
    daylight_provision(field, median_diffuse_lx=14_100).level

Everything raises ImpossibleInput, which carries field, read and expected, for input that no
room could have. Method, accuracy and limits: criteria.daylight.field.
"""

from criteria.daylight.contours import Contour, contours, no_sky_lines
from criteria.daylight.depth import (
    DepthLimit,
    depth_limits,
    is_within_depth,
    limiting_depth_m,
    no_sky_share,
)
from criteria.daylight.field import Field, daylight_field
from criteria.daylight.hand import (
    Pane,
    average_daylight_factor_pct,
    mean_reflectance,
    pane_of,
    room_average_daylight_factor_pct,
    room_reflectance,
    split_flux_pct,
)
from criteria.daylight.openings import Obstruction, Rooflight, Wall, Window
from criteria.daylight.refusals import ImpossibleInput
from criteria.daylight.room import Room
from criteria.daylight.room_file import (
    RoomFile,
    read_room,
    room_from_spec,
)
from criteria.daylight.rules import (
    DaylightProvision,
    Level,
    daylight_factor_for_pct,
    daylight_provision,
    least_average_pct,
    sunlight_level,
    view_level,
)
from criteria.daylight.sun import (
    Sunlight,
    day_length_h,
    window_sunlight,
)
from criteria.daylight.view import (
    Seat,
    View,
    ViewField,
    view_field,
    view_from,
    views_from,
)

__all__ = [
    "Contour", "DaylightProvision", "DepthLimit", "Field", "ImpossibleInput", "Level",
    "Obstruction", "Pane", "Rooflight", "Room", "RoomFile", "Seat", "Sunlight",
    "View", "ViewField", "Wall", "Window", "average_daylight_factor_pct", "contours",
    "day_length_h", "daylight_factor_for_pct", "daylight_field", "daylight_provision",
    "depth_limits", "is_within_depth", "least_average_pct", "limiting_depth_m", "mean_reflectance",
    "no_sky_lines", "no_sky_share", "pane_of", "read_room", "room_average_daylight_factor_pct",
    "room_from_spec", "room_reflectance", "split_flux_pct", "sunlight_level", "view_field",
    "view_from", "view_level", "views_from", "window_sunlight",
]  # fmt: skip

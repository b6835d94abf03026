"""What closed formulas make of a room as it is drawn: one figure a room, on every page."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from criteria.daylight import DepthLimit, Pane, Sunlight, depth_limits, room_reflectance
from criteria.daylight.hand import average_daylight_factor_pct, pane_of
from criteria.daylight.sun import rooflight_sunlight, window_sunlight
from criteria.plans.plan import RoomPlan
from criteria.typed.cells import Lacking


@dataclass(frozen=True)
class AverageDaylight:
    """Average daylight factor of a room [1] and what it is made of.

    panes   each opening by its mark
    """

    value: float
    panes: tuple[tuple[str, Pane], ...]
    surface_m2: float
    reflectance: float


def average_daylight(plan: RoomPlan) -> AverageDaylight:
    """Return the average daylight factor of a room and its parts."""
    room = plan.room
    panes = tuple((each.mark, pane_of(room, each)) for each in room.openings)
    surface, reflectance = room.surface_m2, room_reflectance(room)
    value = average_daylight_factor_pct(
        [pane for _, pane in panes], surface_m2=surface, reflectance=reflectance
    )
    return AverageDaylight(value / 100, panes, surface, reflectance)


def best_depth(plan: RoomPlan) -> DepthLimit | None:
    """Return the limit of depth from the window wall that reaches deepest; None without one."""
    limits = depth_limits(plan.room)
    return min(limits, key=lambda limit: limit.depth_m / limit.deepest_m, default=None)


def sun_date(latitude_deg: float) -> date:
    """Return the last day that EN 17037 offers, of which only the month and day count.

    South of the equator the same season is taken: our reading, for the standard is of Europe.
    """
    return date(2025, 3, 21) if latitude_deg >= 0 else date(2025, 9, 21)


def possible_sun(
    plan: RoomPlan, latitude_deg: float, least_sun_deg: float
) -> tuple[tuple[str, Sunlight], ...]:
    """Return the possible sun of each opening by its mark, the longest first.

    Reveals, shafts and what stands outside are in it, and the least height of the sun that the
    standard asks.
    """
    room, on = plan.room, sun_date(latitude_deg)
    windows = [
        (
            each.mark,
            window_sunlight(
                room, each, latitude_deg=latitude_deg, on=on, lowest_sun_deg=least_sun_deg
            ),
        )
        for each in room.windows
    ]
    lights = [
        (
            each.mark,
            rooflight_sunlight(
                room, each, latitude_deg=latitude_deg, on=on, lowest_sun_deg=least_sun_deg
            ),
        )
        for each in room.rooflights
    ]
    return tuple(sorted((*windows, *lights), key=lambda one: -one[1].hours))


def ask_what_was_proposed(plan: RoomPlan, heads: Sequence[str]) -> None:
    """Raise Lacking where the plan proposes something in the stead of blank cells so headed."""
    cells = [cell for cell in plan.proposed if cell.head in heads]
    if cells:
        raise Lacking(*cells)

"""A room's daylight plan on a page: laid out for a sheet and for a telephone, and its key."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString

from criteria.drawing.daylight import draw_daylight, swatches
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.plans.figures import RoomLight
from criteria.plans.plan import RoomPlan
from criteria.units import System
from reviews.drawn.svg import as_svg


@dataclass(frozen=True)
class DrawnRoom:
    """A room by daylight: its drawing for a sheet and for a telephone, the scale of the first."""

    wide: SafeString
    narrow: SafeString
    scale: str


def draw_plan(
    light: RoomLight,
    system: System,
    *,
    own: RoomPlan | None = None,
    key: str = "plan",
    is_moved: bool = False,
    ratio: int = 0,
) -> DrawnRoom:
    """Draw a room.

    own        the schedule's plan, whose windows are shown where a trial's stand elsewhere
    key        begins the ids, so that a page may hold several
    is_moved   whether its windows can be moved: then each says where it stands
    ratio      the scale of the others beside which it stands
    """
    wide, narrow = (
        draw_daylight(light, field, own=own, is_moved=is_moved)
        for field in (field_of(system, ratio), Field(width_mm=NARROW_MM, system=system, ratio=0))
    )
    return DrawnRoom(as_svg(wide, key), as_svg(narrow, f"{key}-narrow"), wide.scale)


def field_of(system: System, ratio: int = 0) -> Field:
    """Return what a plan on a sheet may use."""
    return Field(width_mm=MIDDLE_MM, system=system, ratio=ratio)


def tone_key() -> list[tuple[SafeString, str]]:
    """The hatching's key: a swatch and what it stands for."""
    return [(as_svg(each, f"tone-{n}"), words) for n, (each, words) in enumerate(swatches())]

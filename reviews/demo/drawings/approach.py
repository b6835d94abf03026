"""The way up to the door: the ramp as it is drawn, and what stands outside."""

from dataclasses import dataclass

from criteria.package import Package
from reviews.demo.drawings.layout import Plan, Rect
from reviews.demo.drawings.openings import Openings, PlacedDoor

RAMP_WIDTH_WHERE_BLANK_M = 1.0
LANDING_M = 1.525
"""Length of a landing: 60 in., 2010 ADA Standards for Accessible Design, 405.7.3."""


@dataclass(frozen=True)
class PlacedRamp:
    """A ramp beside the building.

    run        whole length as drawn, landings and all
    landings   its level places
    foot_left  whether one starts up it at the left or upper end
    """

    run: Rect
    landings: tuple[Rect, ...]
    side: str
    foot_first: bool
    door: PlacedDoor

    @property
    def is_level(self) -> bool:
        """Whether it runs along the sheet."""
        return self.side in ("top", "bottom")


def main_door(openings: Openings) -> PlacedDoor | None:
    """Return the main way in, or the first outside door."""
    outside = [door for door in openings.doors if door.is_outside]
    mains = [d for d in outside if d.door and d.door.role == "main exit"]
    return (mains or outside or [None])[0]


def place_ramp(plan: Plan, openings: Openings, package: Package) -> PlacedRamp | None:
    """Lay the ramp along the wall of the main door, its head at the door."""
    ramp, door = package.ramp, main_door(openings)
    if not ramp.drawn_m or door is None:
        return None
    long, wide = ramp.drawn_m, ramp.clear_w_m or RAMP_WIDTH_WHERE_BLANK_M
    outer = plan.outer
    level = door.side in ("top", "bottom")
    low, high = (outer.x0, outer.x1) if level else (outer.y0, outer.y1)
    near, far = door.start_m - 0.15, door.start_m + door.wide_m + 0.15
    foot_first = (far - low) + 0.25 * (high - low) >= (high - near) or far - long > low - 4
    if foot_first and far - long < low - 4.5 and high - near > far - low:
        foot_first = False
    start = far - long if foot_first else near
    offset = {
        "top": outer.y0 - wide,
        "bottom": outer.y1,
        "left": outer.x0 - wide,
        "right": outer.x1,
    }
    across = offset[door.side]

    def part(a: float, b: float) -> Rect:
        return Rect(a, across, b, across + wide) if level else Rect(across, a, across + wide, b)

    n = ramp.landings or 0
    flat = min(LANDING_M, long / (2 * n) if n else 0.0)
    landings = []
    for i in range(n):
        at = (long - flat) * (1.0 if n == 1 else i / (n - 1))
        a = start + at if foot_first else start + long - flat - at
        landings.append(part(a, a + flat))
    return PlacedRamp(part(start, start + long), tuple(landings), door.side, foot_first, door)

"""The way up to the door: the ramp as it is drawn, and the deck where doors share its side."""

from dataclasses import dataclass

from criteria.package import Package
from reviews.demo.drawings.geometry import Plan, Rect
from reviews.demo.drawings.openings import Openings, PlacedDoor

RAMP_WIDTH_WHERE_BLANK_M = 1.0
DECK_M = 1.05
PAST_WINDOW_M = 2.5
"""How much further out a ramp may reach rather than pass a window."""
SPARE_M = 0.15
LANDING_M = 1.525
"""Length of a landing: 60 in., 2010 ADA Standards for Accessible Design, 405.7.3."""


@dataclass(frozen=True)
class PlacedRamp:
    """A ramp beside the building.

    run         whole length as drawn, landings and all
    landings    its level places
    deck        boards between wall and ramp, where another door stands on that side
    foot_first  whether its foot is at the left or upper end
    """

    run: Rect
    landings: tuple[Rect, ...]
    deck: Rect | None
    side: str
    foot_first: bool
    door: PlacedDoor

    @property
    def is_level(self) -> bool:
        """Whether it runs along the sheet."""
        return self.side in ("top", "bottom")

    @property
    def extent(self) -> Rect:
        """Ramp and deck together."""
        if self.deck is None:
            return self.run
        a, b = self.run, self.deck
        return Rect(min(a.x0, b.x0), min(a.y0, b.y0), max(a.x1, b.x1), max(a.y1, b.y1))


def main_door(openings: Openings) -> PlacedDoor | None:
    """Return the main way in, or the first outside door."""
    outside = [door for door in openings.doors if door.is_outside and not door.room.is_upper]
    mains = [d for d in outside if d.door and d.door.role == "main exit"]
    return next(iter(mains or outside), None)


def place_ramp(plan: Plan, openings: Openings, package: Package) -> PlacedRamp | None:
    """Lay the ramp along the wall of the main door, its head at the door."""
    ramp, door = package.ramp, main_door(openings)
    if not ramp.drawn_m or door is None:
        return None
    long, wide = ramp.drawn_m, ramp.clear_w_m or RAMP_WIDTH_WHERE_BLANK_M
    outer = plan.outer
    level = door.side in ("top", "bottom")
    low, high = (outer.x0, outer.x1) if level else (outer.y0, outer.y1)
    near, far = door.start_m - SPARE_M, door.start_m + door.wide_m + SPARE_M
    beyond_low, beyond_high = max(0.0, low - (far - long)), max(0.0, near + long - high)
    lit = [w.start_m for w in openings.windows if w.side == door.side and not w.is_roof_light]
    foot_first = beyond_low + PAST_WINDOW_M * sum(
        far - long < at < far for at in lit
    ) <= beyond_high + PAST_WINDOW_M * sum(near < at < near + long for at in lit)
    start = far - long if foot_first else near
    others = [
        d
        for d in openings.doors
        if d.is_outside and d is not door and d.side == door.side and not d.room.is_upper
    ]
    deep = DECK_M if others else 0.0
    edge, outward = {
        "top": (outer.y0, -1),
        "bottom": (outer.y1, 1),
        "left": (outer.x0, -1),
        "right": (outer.x1, 1),
    }[door.side]

    def strip(a: float, b: float, off: float, across: float) -> Rect:
        c, d = sorted((edge + outward * off, edge + outward * (off + across)))
        return Rect(a, c, b, d) if level else Rect(c, a, d, b)

    n = ramp.landings or 0
    flat = min(LANDING_M, long / (2 * n)) if n else 0.0
    landings = []
    for i in range(n):
        at = (long - flat) * (1.0 if n == 1 else i / (n - 1))
        a = start + at if foot_first else start + long - flat - at
        landings.append(strip(a, a + flat, deep, wide))
    deck = None
    if others:
        ends = [v for d in (*others, door) for v in (d.start_m, d.start_m + d.wide_m)]
        deck = strip(min(ends) - SPARE_M, max(ends) + SPARE_M, 0.0, deep)
    run = strip(start, start + long, deep, wide)
    return PlacedRamp(run, tuple(landings), deck, door.side, foot_first, door)

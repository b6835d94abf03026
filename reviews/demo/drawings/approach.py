"""The way up to the door: the ramp as it is drawn, and the deck where doors share its side."""

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.package import Package
from reviews.demo.drawings.geometry import Plan, Rect, bounds, is_level
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
        return is_level(self.side)

    @property
    def extent(self) -> Rect:
        """Ramp and deck together."""
        return bounds(self.run, self.deck or self.run)


def place_ramp(
    plan: Plan, openings: Openings, package: Package, terrace: Sequence[Rect] = ()
) -> PlacedRamp | None:
    """Lay the ramp along the wall of the main door, or its terrace, its head at the door."""
    ramp = package.ramp
    ways_in = [door for door in openings.doors if door.is_outside and not door.room.is_upper]
    mains = [d for d in ways_in if d.door and d.door.role == "main exit"]
    if not ramp.drawn_m or not ways_in:
        return None
    door = (mains or ways_in)[0]
    side, long = door.side, ramp.drawn_m
    low, high = plan.outer.span(is_level(side))
    near, far = door.start_m - SPARE_M, door.end_m + SPARE_M
    lit = [w.start_m for w in openings.windows if w.side == side and not w.is_roof_light]
    lit = [] if terrace else lit

    def cost(start: float) -> float:
        passed = sum(start < at < start + long for at in lit)
        return max(0.0, low - start, start + long - high) + PAST_WINDOW_M * passed

    foot_first = cost(far - long) <= cost(near)
    start = far - long if foot_first else near
    deck, wall = None, plan.outer
    beside = [d for d in ways_in if d.side == side]
    if len(beside) > 1:
        first, last = min(d.start_m for d in beside), max(d.end_m for d in beside)
        deck = wall.beside(side, DECK_M, first - SPARE_M, last + SPARE_M)
        wall = wall.beside(side, DECK_M)
    if terrace:
        reach = bounds(wall, *terrace)
        wall = wall.beside(side, abs(reach.edge(side) - wall.edge(side)))
    wide = ramp.clear_w_m or RAMP_WIDTH_WHERE_BLANK_M
    n = ramp.landings or 0
    flat = min(LANDING_M, long / (2 * n)) if n else 0.0
    shares = [1.0 if n == 1 else i / (n - 1) for i in range(n)]
    foots = [(long - flat) * (share if foot_first else 1 - share) + start for share in shares]
    landings = tuple(wall.beside(side, wide, at, at + flat) for at in foots)
    run = wall.beside(side, wide, start, start + long)
    return PlacedRamp(run, landings, deck, side, foot_first, door)

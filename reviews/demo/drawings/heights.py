"""Heights of a building for sections and views: floors, ceilings, roof and ground."""

from dataclasses import dataclass

from criteria.schedules.rooms import HEADROOM_COUNTED_M, Room
from reviews.demo.drawings.building import Building
from reviews.demo.drawings.geometry import PlannedRoom
from reviews.demo.drawings.layout import thickness_m

HEIGHT_WHERE_BLANK_M = 2.4
UPPER_FLOOR_M = 0.22
FALL = 0.07
"""Fall of a single-pitch roof [1]; no schedule gives it."""


@dataclass(frozen=True)
class Heights:
    """Heights above the finished entrance floor [m].

    ground       ground outside, below the floor
    upper_floor  finished floor of the upper rooms; None where there are none
    eaves_low, eaves_high   inside of the roof at the lower and at the upper wall of the sheet
    ridge        inside of the ridge; None for a single pitch
    """

    ground: float
    floor_m: float
    roof_m: float
    upper_floor: float | None
    eaves_low: float
    eaves_high: float
    ridge: float | None

    @property
    def top(self) -> float:
        """Highest point of the roof [m]."""
        return max(self.ridge or 0.0, self.eaves_low, self.eaves_high) + self.roof_m

    def roof_at(self, share: float) -> float:
        """Return the inside of the roof at a share of the way from upper to lower wall [m]."""
        if self.ridge is None:
            return self.eaves_high + (self.eaves_low - self.eaves_high) * share
        edge = self.eaves_high + (self.eaves_low - self.eaves_high) * share
        return edge + (self.ridge - edge) * (1 - abs(2 * share - 1))


def clear_height_m(room: Room) -> float:
    """Return a room's clear height, or a usual one where it is blank [m]."""
    return room.clear_height_m or HEIGHT_WHERE_BLANK_M


def under_slope(room: Room) -> tuple[float, float]:
    """Return the heights at the wall and under the ridge of a room in a gable roof [m].

    They give its mean height and its floor under 1.5 m headroom as scheduled.
    """
    mean = clear_height_m(room)
    share = (room.low_headroom_m2 or 0.0) / room.floor_m2 if room.floor_m2 else 0.0
    share = min(share, 0.45)
    if share <= 0:
        knee = max(HEADROOM_COUNTED_M, mean - 0.6)
        return knee, 2 * mean - knee
    knee = (HEADROOM_COUNTED_M - 2 * mean * share) / (1 - 2 * share)
    return knee, 2 * mean - knee


def heights_of(building: Building) -> Heights:
    """Return the heights of a building from room, envelope and ramp schedules."""
    package, plan = building.package, building.plan
    rise = package.ramp.rise_m or 0.0
    floor, roof = thickness_m(package, "floor"), thickness_m(package, "roof")
    highest = max(clear_height_m(r.room) for r in plan.ground)
    if not plan.upper:
        rise_of_roof = plan.inner.height * FALL
        return Heights(-rise, floor, roof, None, highest + rise_of_roof, highest + 0.02, None)
    below = max((clear_height_m(r.room) for r in under(building)), default=HEIGHT_WHERE_BLANK_M)
    level = below + UPPER_FLOOR_M
    knee, ridge = under_slope(plan.upper[0].room)
    return Heights(-rise, floor, roof, level, level + knee, level + knee, level + ridge)


def under(building: Building) -> list[PlannedRoom]:
    """Return the entrance-level rooms that upper rooms lie over."""
    plan = building.plan
    return [low for low in plan.ground if any(up.main.meets(low.main) for up in plan.upper)]


def metres(value: float) -> str:
    """Write a level with its sign.

    >>> metres(0.0), metres(2.5), metres(-0.46)
    ('±0.00', '+2.50', '−0.46')
    """
    if abs(value) < 0.005:
        return "±0.00"
    return f"{'+' if value > 0 else '−'}{abs(value):.2f}"

"""Every check there is, in the order of the check sheet."""

from criteria.checks.check import Check
from criteria.checks.light import DAYLIGHT_RATIO, OPENABLE_RATIO
from criteria.checks.precedents import PRECEDENTS
from criteria.checks.space import (
    AIR_VOLUME,
    CLEAR_HEIGHT,
    FLOOR_AREA,
    FLOOR_PER_PERSON,
    FLOOR_PER_SLEEPER,
    LIVING_PER_PERSON,
    ROOM_FLOOR,
)
from criteria.checks.water import WATER_DAYS, WATER_RATE

CATALOGUE: tuple[Check, ...] = (
    DAYLIGHT_RATIO,
    OPENABLE_RATIO,
    FLOOR_AREA,
    FLOOR_PER_PERSON,
    LIVING_PER_PERSON,
    FLOOR_PER_SLEEPER,
    AIR_VOLUME,
    ROOM_FLOOR,
    CLEAR_HEIGHT,
    WATER_DAYS,
    WATER_RATE,
    PRECEDENTS,
)

CHECKS: dict[str, Check] = {check.slug: check for check in CATALOGUE}

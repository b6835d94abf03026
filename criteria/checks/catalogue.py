"""Every check there is, in the order of the check sheet."""

from criteria.checks.access import FLOOR_ABOVE_DATUM, RAMP_LENGTH, RAMP_SLOPE, STEP_FREE_DOORS
from criteria.checks.air import (
    COMBUSTION_AIR,
    DWELLING_AIR,
    NIGHT_AIR,
    NIGHT_CO2,
    SINGLE_SIDED_DEPTH,
    WET_EXTRACT,
)
from criteria.checks.axles import AXLE_GROUP
from criteria.checks.check import Check
from criteria.checks.cooling import COOLING_CHECKS, PANELS_FOR_COOLING
from criteria.checks.daylight import DAYLIGHT_CHECKS
from criteria.checks.envelope import CLAIMED_RESISTANCE, U_VALUES
from criteria.checks.escape import ACCESS_CHECKS, ESCAPE_CHECKS
from criteria.checks.finishes import FINISH_CHECKS
from criteria.checks.ground import GROUND_CHECKS
from criteria.checks.heat import BALANCE_TEMPERATURE, HEAT_LOSS
from criteria.checks.light import DAYLIGHT_RATIO, OPENABLE_RATIO
from criteria.checks.moving import HAND_CARRY, LIFTS, PIECE_ENVELOPE, PIECE_MASS
from criteria.checks.package import MARKS
from criteria.checks.power import BATTERY_DAYS, LARGEST_LOAD, POWER_CHECKS, POWER_RATIO
from criteria.checks.precedents import PRECEDENTS
from criteria.checks.reach import REACH
from criteria.checks.rooms import HEIGHTS, ROOM_CHECKS, TURNING
from criteria.checks.space import (
    AIR_VOLUME,
    CLEAR_HEIGHT,
    FLOOR_AREA,
    FLOOR_PER_PERSON,
    FLOOR_PER_SLEEPER,
    LIVING_PER_PERSON,
    ROOM_FLOOR,
)
from criteria.checks.stowage import CHANGE_LIFT, CHANGE_PEOPLE, CHANGE_TIME, STOWAGE_PER_GUEST
from criteria.checks.supply import SUPPLY_CHECKS
from criteria.checks.transport import TRANSPORT_CHECKS
from criteria.checks.view import VIEW_CHECKS
from criteria.checks.warming import WARM_UP
from criteria.checks.waste import BLACK_DAYS, GREY_DAYS, SOLIDS_DAYS, URINE_DAYS
from criteria.checks.water import WATER_DAYS, WATER_RATE
from criteria.checks.ways_out import FURTHEST_BUNK, SECOND_THRESHOLD, WAYS_OUT

CATALOGUE: tuple[Check, ...] = (
    DAYLIGHT_RATIO,
    *DAYLIGHT_CHECKS,
    *VIEW_CHECKS,
    OPENABLE_RATIO,
    NIGHT_AIR,
    DWELLING_AIR,
    NIGHT_CO2,
    WET_EXTRACT,
    COMBUSTION_AIR,
    SINGLE_SIDED_DEPTH,
    FLOOR_AREA,
    FLOOR_PER_PERSON,
    LIVING_PER_PERSON,
    FLOOR_PER_SLEEPER,
    AIR_VOLUME,
    ROOM_FLOOR,
    CLEAR_HEIGHT,
    *ROOM_CHECKS,
    *U_VALUES,
    CLAIMED_RESISTANCE,
    HEAT_LOSS,
    BALANCE_TEMPERATURE,
    *COOLING_CHECKS,
    WARM_UP,
    WATER_DAYS,
    WATER_RATE,
    GREY_DAYS,
    URINE_DAYS,
    SOLIDS_DAYS,
    BLACK_DAYS,
    *SUPPLY_CHECKS,
    POWER_RATIO,
    BATTERY_DAYS,
    LARGEST_LOAD,
    *POWER_CHECKS,
    PANELS_FOR_COOLING,
    RAMP_LENGTH,
    RAMP_SLOPE,
    STEP_FREE_DOORS,
    FLOOR_ABOVE_DATUM,
    *ACCESS_CHECKS,
    TURNING,
    REACH,
    WAYS_OUT,
    FURTHEST_BUNK,
    SECOND_THRESHOLD,
    *ESCAPE_CHECKS,
    PIECE_ENVELOPE,
    PIECE_MASS,
    LIFTS,
    HAND_CARRY,
    *TRANSPORT_CHECKS,
    AXLE_GROUP,
    *GROUND_CHECKS,
    STOWAGE_PER_GUEST,
    CHANGE_TIME,
    CHANGE_PEOPLE,
    CHANGE_LIFT,
    HEIGHTS,
    *FINISH_CHECKS,
    PRECEDENTS,
    MARKS,
)

CHECKS: dict[str, Check] = {check.slug: check for check in CATALOGUE}

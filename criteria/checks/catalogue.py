"""Every check there is, in the order of the check sheet."""

from criteria.checks.access import STEP_FREE_CHECKS
from criteria.checks.air import AIR_CHECKS
from criteria.checks.axles import ROAD_LOAD_CHECKS
from criteria.checks.before import BEFORE_CHECKS
from criteria.checks.check import Check
from criteria.checks.climbs import LOFT_STAIR_CHECK
from criteria.checks.cooling import COOLING_CHECKS, PANELS_FOR_COOLING
from criteria.checks.damp import DAMP_CHECKS
from criteria.checks.daylight import DAYLIGHT_CHECKS
from criteria.checks.energy_use import FUEL_DAYS, HOT_WATER
from criteria.checks.envelope import ENVELOPE_CHECKS
from criteria.checks.escape import ACCESS_CHECKS, ESCAPE_CHECKS
from criteria.checks.exits_apart import EXITS_APART_CHECK
from criteria.checks.finishes import FINISH_CHECKS
from criteria.checks.folding import ORDER_POSSIBLE
from criteria.checks.ground import GROUND_CHECKS
from criteria.checks.heat import HEAT_CHECKS
from criteria.checks.holding import HOLDING_CHECKS
from criteria.checks.inverter import INVERTER_CHECKS
from criteria.checks.light import DAYLIGHT_RATIO, OPENABLE_RATIO
from criteria.checks.moving import PIECE_CHECKS
from criteria.checks.package import MARKS
from criteria.checks.power import POWER_CHECKS
from criteria.checks.precedents import PRECEDENTS
from criteria.checks.reach import REACH
from criteria.checks.rooms import HEIGHTS, ROOM_CHECKS, TURNING
from criteria.checks.setting_up import SETTING_UP_CHECKS
from criteria.checks.sight import BEDS_OUT_OF_SIGHT
from criteria.checks.slings import SLING_CHECKS
from criteria.checks.space import SPACE_CHECKS
from criteria.checks.standing import STANDING_CHECKS
from criteria.checks.step_free_way import WAY_STEP_FREE
from criteria.checks.steps_stand import STEPS_STAND
from criteria.checks.stove import STOVE_CLEAR_CHECK
from criteria.checks.stowage import STOWAGE_CHECKS
from criteria.checks.supply import SUPPLY_CHECKS
from criteria.checks.transport import TRANSPORT_CHECKS
from criteria.checks.view import VIEW_CHECKS
from criteria.checks.walked import WALKED_CHECKS
from criteria.checks.warming import WARM_UP
from criteria.checks.waste import WASTE_CHECKS
from criteria.checks.water import WATER_CHECKS
from criteria.checks.way_to_use import WAY_TO_USE
from criteria.checks.ways import WAY_CHECKS
from criteria.checks.ways_out import WAYS_OUT_CHECKS
from criteria.checks.year_plant import YEAR_PLANT_CHECKS
from criteria.checks.year_room import YEAR_ROOM_CHECKS
from criteria.checks.year_stores import YEAR_STORE_CHECKS

CATALOGUE: tuple[Check, ...] = (
    DAYLIGHT_RATIO,
    *DAYLIGHT_CHECKS,
    *VIEW_CHECKS,
    OPENABLE_RATIO,
    *AIR_CHECKS,
    *SPACE_CHECKS,
    *ROOM_CHECKS,
    *ENVELOPE_CHECKS,
    *DAMP_CHECKS,
    *HEAT_CHECKS,
    *COOLING_CHECKS,
    WARM_UP,
    STOVE_CLEAR_CHECK,
    FUEL_DAYS,
    *WATER_CHECKS,
    *WASTE_CHECKS,
    *SUPPLY_CHECKS,
    HOT_WATER,
    *POWER_CHECKS,
    *INVERTER_CHECKS,
    PANELS_FOR_COOLING,
    *YEAR_ROOM_CHECKS,
    *YEAR_PLANT_CHECKS,
    *YEAR_STORE_CHECKS,
    *STEP_FREE_CHECKS,
    *ACCESS_CHECKS,
    TURNING,
    REACH,
    LOFT_STAIR_CHECK,
    *WAYS_OUT_CHECKS,
    *ESCAPE_CHECKS,
    *WAY_CHECKS,
    *WALKED_CHECKS,
    WAY_STEP_FREE,
    WAY_TO_USE,
    BEDS_OUT_OF_SIGHT,
    EXITS_APART_CHECK,
    *BEFORE_CHECKS,
    *PIECE_CHECKS,
    *TRANSPORT_CHECKS,
    *SLING_CHECKS,
    *ROAD_LOAD_CHECKS,
    *SETTING_UP_CHECKS,
    ORDER_POSSIBLE,
    STEPS_STAND,
    *GROUND_CHECKS,
    *STANDING_CHECKS,
    *HOLDING_CHECKS,
    *STOWAGE_CHECKS,
    HEIGHTS,
    *FINISH_CHECKS,
    PRECEDENTS,
    MARKS,
)

CHECKS: dict[str, Check] = {check.slug: check for check in CATALOGUE}

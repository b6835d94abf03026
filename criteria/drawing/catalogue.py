"""All kinds of drawing, by the check that each shows and by the schedule that each stands over."""

from collections.abc import Mapping

from criteria.drawing.build_up import BUILD_UP
from criteria.drawing.claims import CLAIMS
from criteria.drawing.climate_months import CLIMATE
from criteria.drawing.climbs import CLIMBS
from criteria.drawing.container_door import CONTAINER
from criteria.drawing.cooling import COOLING
from criteria.drawing.door_leaves import DOORS
from criteria.drawing.feet import FEET
from criteria.drawing.finishes import FINISHES
from criteria.drawing.fire_air import FIRE_AIR
from criteria.drawing.floor_shares import SHARES
from criteria.drawing.furniture_heights import FURNITURE_HEIGHTS
from criteria.drawing.heat_balance import HEAT
from criteria.drawing.hot_water import HOT_WATER
from criteria.drawing.lamp_light import LAMPS
from criteria.drawing.moves import MOVES
from criteria.drawing.nested import NESTED
from criteria.drawing.night_air import NIGHT_AIR
from criteria.drawing.order_line import ORDER
from criteria.drawing.picture import Picture
from criteria.drawing.pieces import PIECES
from criteria.drawing.plan_marks import PLAN_MARKS
from criteria.drawing.plan_walked import PLAN
from criteria.drawing.power_day import POWER_DAY
from criteria.drawing.precedents import PRECEDENTS
from criteria.drawing.put_away import PUT_AWAY
from criteria.drawing.ramp_profile import RAMP
from criteria.drawing.set_up_bars import BARS
from criteria.drawing.site_sheet import SITE
from criteria.drawing.slung import SLUNG
from criteria.drawing.stowage_shelf import STOWAGE
from criteria.drawing.supports import SUPPORTS
from criteria.drawing.tanks import TANKS
from criteria.drawing.trailer import TRAILER
from criteria.drawing.transport import TRANSPORT
from criteria.drawing.use_of_building import CASES, STATES
from criteria.drawing.water_columns import WATER_COLUMNS
from criteria.drawing.water_tree import WATER_TREE
from criteria.drawing.ways_out import WAYS_OUT
from criteria.drawing.windows import WINDOWS
from criteria.drawing.year_pictures import YEAR_PICTURES

PICTURES = (
    PLAN,
    BARS,
    CLIMATE,
    HEAT,
    COOLING,
    FIRE_AIR,
    HOT_WATER,
    SHARES,
    NIGHT_AIR,
    PIECES,
    POWER_DAY,
    WINDOWS,
    TANKS,
    WATER_TREE,
    BUILD_UP,
    RAMP,
    CLIMBS,
    DOORS,
    TRANSPORT,
    TRAILER,
    SLUNG,
    CONTAINER,
    NESTED,
    PUT_AWAY,
    ORDER,
    SUPPORTS,
    FEET,
    WATER_COLUMNS,
    STOWAGE,
    MOVES,
    WAYS_OUT,
    LAMPS,
    FINISHES,
    PRECEDENTS,
    PLAN_MARKS,
    CLAIMS,
    FURNITURE_HEIGHTS,
    SITE,
    STATES,
    CASES,
    *YEAR_PICTURES,
)
BY_CHECK: Mapping[str, Picture] = {check: each for each in PICTURES for check in each.checks}
BY_SCHEDULE: Mapping[str, Picture] = {slug: each for each in PICTURES for slug in each.schedules}

"""What heats and cools a package's building, and what feeds it: panels, wind and a battery."""

import numpy as np

from criteria.hourly import panels, wind_turbine
from criteria.hourly.assumed import Taking
from criteria.hourly.battery import supply_of
from criteria.hourly.building import NO_PLANT, PlantLimits, PowerSupply
from criteria.hourly.fuel import fire_air_m3_j, stove_runs
from criteria.hourly.heat_pump import cooling_cop, heating_cop
from criteria.hourly.of_use import InUse, loads
from criteria.hourly.people_hours import Spread, by_hour, minutes_between
from criteria.hourly.sky import Sky
from criteria.hourly.weather import HOURS, Flags, Hours, Weather
from criteria.package import Package
from criteria.schedules.plant import BURNING, FED_FROM_OUTSIDE, FROM_THE_ROOM, Plant
from criteria.schedules.power import BATTERY_PLACES, LEAD, LITHIUM_IRON, PowerPlant
from criteria.typed.cells import Lacking, lacking

STOVE, ELECTRIC, PUMP = "wood stove", "electric heater", "heat pump"
HEATING_COP = 4.0
"""Most that a heat pump gives for each unit of electricity [1]. Common practice."""
OF_LEAD = 0.6
"""A battery of which less may be drawn is taken for lead [1]. Common practice."""
FROST_FREE_K = 278.15
"""A battery whose coldest is this or more is taken to stand in the warm [K]. Ours."""
KEPT_DAYS = 1.0
"""Days of essential loads that plant may not draw [days]. Ours."""


def plant_limits(package: Package, use: InUse, weather: Weather, taking: Taking) -> PlantLimits:
    """Return what heats and cools, and when it can. Raises Lacking.

    A stove burns while somebody is awake, and two hours after; what is lit by itself, electricity
    and pumps at any hour, within those that the plant row gives. Nothing that isn't scheduled
    cools.
    """
    plant = package.plant
    heater = _heater(plant)
    words = "{}: nothing is taken to cool it"
    cooling = taking.of(plant, "cooling_w", 0.0, words, "what isn't scheduled isn't there")
    heats = heater != "none"
    return PlantLimits(
        heat_w=plant.heat_w if heats else NO_PLANT.heat_w,
        cool_w=cooling,
        heat_runs=_runs(plant, heater, use, taking) if heats else None,
        heat_cop=_heat_cop(plant, heater, weather, taking),
        cool_cop=cooling_cop(weather.air_k, plant.cooling_cop) if cooling else None,
        draws_m3_j=_draws_m3_j(plant, heater, taking),
    )


def _draws_m3_j(plant: Plant, heater: str, taking: Taking) -> float:
    """Return the air that what burns takes out of the room; one that doesn't say takes it there."""
    if heater not in BURNING:
        return 0.0
    words = "{}: the fire is taken to draw its air {}"
    fed = taking.of(plant, "fire_air", FROM_THE_ROOM, words, "the careful side")
    return 0.0 if fed in FED_FROM_OUTSIDE else fire_air_m3_j(plant.fuel_share)


def _heater(plant: Plant) -> str:
    """Return what heats; an unnamed thing that burns is a stove, which somebody must feed."""
    if plant.heater is not None:
        return plant.heater
    if plant.burns:
        return STOVE
    raise Lacking(plant.cell("heater"))


def _runs(plant: Plant, heater: str, use: InUse, taking: Taking) -> Flags | None:
    begins, ends = plant.unless_blank("heats_from_s"), plant.unless_blank("heats_until_s")
    runs = np.ones(HOURS, dtype=np.bool_)
    if begins is not None or ends is not None:
        window = minutes_between(begins or 0.0, ends or 0.0)
        runs = np.tile(by_hour(window) >= 0.5, HOURS // 24)
    elif heater != STOVE:
        return None
    if heater == STOVE:
        runs &= stove_runs(use.people.is_awake)
    return runs


def _heat_cop(plant: Plant, heater: str, weather: Weather, taking: Taking) -> Hours | None:
    if heater == ELECTRIC:
        return np.ones(HOURS)
    if heater != PUMP:
        return None
    words = "{}: the heat pump is taken to give {} at most for each unit of electricity"
    most = taking.of(plant, "heating_cop", HEATING_COP, words, "common practice")
    return heating_cop(weather.air_k, most)


def burns_fuel(package: Package) -> bool:
    """Tell whether what heats burns fuel: the year's heat is then so many kilograms of it."""
    return _heater(package.plant) in BURNING


def supply(
    package: Package,
    use: InUse,
    weather: Weather,
    sky: Sky,
    room_k: Hours,
    taking: Taking,
    spread: Spread = Spread.AWAKE,
) -> PowerSupply | None:
    """Return panels, wind and battery; None where neither panels nor a battery are scheduled.

    sky      of that weather
    room_k   air of the room without plant, in which a battery may stand   [K]
    spread   when loads run that don't say it

    Raises Lacking with the cells of power plant and loads that it can't do without.
    """
    row = package.power
    if row.unless_blank("panels_w") is None and row.unless_blank("battery_j") is None:
        return None
    asked = loads(package, use, spread)
    return supply_of(
        made_w=_made_w(package, weather, sky, taking),
        essential_w=asked.essential_w,
        rest_w=asked.rest_w,
        label_j=row.battery_j,
        usable_share=row.usable_share,
        kind=_kind(row, taking),
        charge_w=row.unless_blank("charge_w"),
        discharge_w=row.unless_blank("discharge_w"),
        stands_k=_stands_k(package, weather, room_k, taking),
        kept_days=KEPT_DAYS,
    )


def _made_w(package: Package, weather: Weather, sky: Sky, taking: Taking) -> Hours:
    row, factor = package.power, package.site.unless_blank("system_factor")
    tracks = True
    if factor is None:
        words = "{}: its charger is taken to follow the panels' best voltage"
        tracks = taking.of(row, "tracks", True, words, "common practice")
    arrives = panels.arriving_share(factor, tracks=tracks)
    south = (package.site.unless_blank("latitude_deg") or 0) < 0
    words = "{}: the panels are taken to face {}, to the sun of noon"
    bearing = taking.of(row, "bearing_deg", 0.0 if south else 180.0, words, "common practice")
    if row.second_w > row.panels_w:
        raise lacking("a second array of no more than all panels together (power plant)")
    planes = [(row.panels_w - row.second_w, row.tilt_deg, bearing)]
    if row.second_w:
        planes.append((row.second_w, row.second_tilt_deg, row.second_bearing_deg))
    made = wind_turbine.made_w(row.wind_j_day)
    for peak, tilt, looks in planes:
        covered = panels.covered_by_snow(weather, tilt, is_swept=bool(row.swept_from))
        plane = sky.on_plane(tilt, looks)
        made = made + panels.made_w(peak, plane, weather, arrives=arrives, covered=covered)
    return made


def _kind(row: PowerPlant, taking: Taking) -> str:
    by_share = LEAD if row.usable_share < OF_LEAD else LITHIUM_IRON
    words = "{}: a battery of such a usable share is taken to be {}"
    kind: str = taking.of(row, "battery_kind", by_share, words, "common practice")
    return kind


def _stands_k(package: Package, weather: Weather, room_k: Hours, taking: Taking) -> Hours:
    """Return the air about the battery [K].

    In the heated part it is the room's. Else as far between outside and the room as its coldest
    day lies between the two that are designed for, where all three are given; else outside.
    """
    row, site = package.power, package.site
    coldest = row.unless_blank("battery_k")
    is_warm = coldest is not None and coldest >= FROST_FREE_K
    words = "{}: the battery is taken to stand {}"
    value = BATTERY_PLACES[0 if is_warm else 1]
    if taking.of(row, "battery_stands", value, words, "the careful side") == BATTERY_PLACES[0]:
        return room_k
    design = [site.unless_blank(name) for name in ("design_outside_k", "design_inside_k")]
    if coldest is None or None in design or design[1] <= design[0]:
        return weather.air_k
    share = min(1.0, max(0.0, (coldest - design[0]) / (design[1] - design[0])))
    stands: Hours = weather.air_k + share * (room_k - weather.air_k)
    return stands

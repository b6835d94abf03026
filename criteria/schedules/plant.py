"""Heat, cooling and ventilation plant: one row for the whole building."""

from __future__ import annotations

from criteria.schedules.openings import BEARINGS_DEG
from criteria.schedules.people import DAY_S
from criteria.typed.columns import ASKED, Blank, quantity, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import (
    AIR_CHANGES,
    ANGLE,
    AREA,
    HOURS,
    LITRES,
    MASS,
    POWER,
    RATIO,
    SHARE,
    TEMPERATURE,
)

BURNING = ("wood stove", "pellet stove", "gas heater", "oil heater")
HEATERS = (*BURNING, "electric heater", "heat pump", "none")
"""What heats. The first few burn, whatever else is said."""

COLLECTORS = ("flat", "tubes")
"""Kinds of collector that the sun warms water in."""

FED_FROM_OUTSIDE = ("duct from outside", "sealed appliance")
FROM_THE_ROOM = "from the room"
FIRE_AIR = (*FED_FROM_OUTSIDE, FROM_THE_ROOM, "nothing said yet")
"""Where what burns indoors takes its air from."""


def _burns_by_kind(plant: Plant) -> bool | Blank:
    """A wood stove burns, whether or not a cell says so."""
    kind = plant.heater
    return ASKED if kind is None else kind in BURNING


@schedule(
    "plant",
    "Heat and air plant",
    purpose="One row: the heat recovery, stove and cooling of the whole building. Heat loss and "
    "warm-up are counted from it.",
    is_single=True,
)
class Plant(Row):
    """Plant for heat, cooling and air."""

    recovery: float = quantity(
        "hrv_as_typed", SHARE, "Heat recovery", within=(0, 1), eg="0.75"
    ).says(
        "Part of the heat of outgoing air that comes back, 0.75 or 75 %; blank is none.", blank=0.0
    )
    heat_w: float = quantity("heat_w", POWER, "Heat output", within=(0, 100_000), eg="5000").says(
        "Stove and heaters together."
    )
    timber_kg: float = quantity(
        "timber_kg", MASS, "Timber warmed", within=(0, 200_000), eg="900"
    ).says(
        "Linings, floors, furniture and bedding inside the insulation, that warm up with the room."
    )
    stone_kg: float = quantity(
        "stone_kg", MASS, "Stone warmed", within=(0, 200_000), eg="250"
    ).says("Hearth, plaster, boards and stoves inside the insulation; 0 where there is none.")
    heater: str | None = word("heater", HEATERS, "Heated by", eg="wood stove").says(
        "What kind of appliance it is; blank leaves it to the next.", blank=None
    )
    burns: bool = yes_no("burns", "Burns fuel", eg="yes").says(
        "Whether anything burns wood, gas or oil indoors; a blank follows the kind of heater.",
        blank=_burns_by_kind,
    )
    fire_air: str = word("fire_air", FIRE_AIR, "Air for the fire", eg="duct from outside").says(
        "Where what burns takes its air from; from the room is never enough in a tight one."
    )
    combustion_air: str | None = text(
        "combustion_air", "of which", eg="100 mm, under the floor"
    ).says("The size and way of that duct; words settle nothing.")
    cooling_w: float = quantity("cooling_w", POWER, "Cooling output", within=(0, 100_000)).says(
        "Heat that it takes out."
    )
    cooling_cop: float = quantity(
        "cooling_cop", RATIO, "Cooling COP", within=(0.5, 20), eg="3"
    ).says(
        "Heat taken out for each unit of electricity, at the design temperature: 3 to 4.5 is usual."
    )
    fuel_kg: float = quantity("fuel_kg", MASS, "Fuel kept", within=(0, 100_000), eg="120").says(
        "Wood, pellets, gas or oil that is there between visits."
    )
    fuel_share: float = quantity(
        "fuel_share", SHARE, "Heat given off", within=(0.1, 1), eg="0.75"
    ).says(
        "Part of the fuel's heat that stays in the room, as the appliance was tested; blank is "
        "0.75.",
        blank=0.75,
    )
    hot_share: float = quantity(
        "hot_share", RATIO, "Hot water kept", within=(0.1, 6), eg="0.9"
    ).says(
        "Heat in the water for each unit of energy put in: 0.8 to 0.9 with a store, 2 to 4 of a "
        "heat pump."
    )
    heating_cop: float | None = quantity(
        "heating_cop", RATIO, "Heating COP", within=(1, 10), eg="3"
    ).says(
        "Most heat that a heat pump gives for each unit of electricity; outside cold takes of it. "
        "Blank is 4.",
        blank=None,
    )
    night_k: float | None = quantity(
        "night_c", TEMPERATURE, "Heated to at night", within=(263.15, 313.15), eg="14"
    ).says("While people sleep; blank is as by day.", blank=None)
    heats_from_s: float | None = quantity("heats_from", HOURS, "Heats from", within=DAY_S).says(
        "Hour of the day from which it is heated; blank is whenever it can be. A stove burns only "
        "while somebody is awake, and two hours after.",
        blank=None,
    )
    heats_until_s: float | None = quantity("heats_to", HOURS, "Heats until", within=DAY_S).says(
        "Hour until which it is, of the next day if it is the smaller.", blank=None
    )
    leaks_50_s: float | None = quantity(
        "n50", AIR_CHANGES, "Leaks at 50 Pa", within=(0, 30 / 3600), eg="1.5"
    ).says(
        "Air changes of the whole at a pressure of 50 Pa, as tested; a twentieth of it leaks on "
        "an ordinary day. Blank is 0.3 on such a day.",
        blank=None,
    )
    collector_m2: float = quantity("collector_m2", AREA, "Sun collector", within=(0, 500)).says(
        "Clear area of what the sun warms water in; blank is none.", blank=0.0
    )
    collector_kind: str = word("collector_kind", COLLECTORS, eg="flat").says(
        "Flat plate or tubes without air; blank is flat.", blank="flat"
    )
    collector_tilt_deg: float = quantity("collector_tilt", ANGLE, within=(0, 90), eg="60").says(
        "Angle above the horizontal."
    )
    collector_bearing_deg: float | None = quantity(
        "collector_bearing",
        ANGLE,
        within=(0, 360),
        named=tuple(BEARINGS_DEG.items()),
        eg="180",
    ).says(
        "The way it faces, clockwise from north; blank is south, south of the equator north.",
        blank=None,
    )
    hot_tank_m3: float | None = quantity(
        "hot_tank", LITRES, "Warm water kept", within=(0.005, 20), eg="200"
    ).says(
        "Volume of the tank that the sun warms; blank is 50 litres for each square metre of "
        "collector.",
        blank=None,
    )

"""Electricity: what uses it, what makes it and what keeps it."""

from criteria.schedules.openings import BEARINGS_DEG
from criteria.schedules.people import DAY_S
from criteria.typed.columns import count, mark, quantity, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import (
    ANGLE,
    ELECTRIC_POWER,
    ENERGY,
    HOURS,
    PEAK_POWER,
    SHARE,
    STORED_ENERGY,
    TEMPERATURE,
)

START_FACTORS = {"compressor": 5.0, "pump": 3.0, "steady": 1.0}
"""How many times its power a load draws as it starts [1]. Common practice."""

WHEN = ("always", "day", "evening", "night", "cooking")
"""When a load runs: day 7 to 18, evening 18 to 23, night 23 to 7, cooking 7 to 8 and 18 to 20."""

BATTERY_PLACES = ("heated", "unheated")
"""Where a battery stands, as cold finds it."""

LEAD, LITHIUM_IRON = BATTERY_KINDS = ("lead", "lithium iron")


@schedule(
    "loads",
    "Load schedule",
    mark_prefix="L",
    purpose="Everything that uses electricity, with hours in the design month. The power balance "
    "and battery days are counted from it.",
)
class Load(Row):
    """A load, or several alike."""

    mark: str = mark()
    item: str | None = text("item", required=True, eg="LED lighting").says("What it is.")
    n: int = count("n", "No.", within=(1, 500), eg="10").says("How many alike.")
    power_w: float = quantity("w_each", ELECTRIC_POWER, within=(0, 50_000), eg="7").says(
        "Power of one while it runs."
    )
    run_s: float = quantity("h_day", HOURS, "h a day", within=(0, 24 * 3600), eg="6").says(
        "Hours that it runs a day in the design month."
    )
    essential: bool = yes_no("essential", eg="yes").says(
        "Whether it must run on the third dark day: yes or no."
    )
    stands_outside: bool = yes_no("stands_outside", eg="no").says(
        "Whether its heat stays outside: yes or no; blank is no.", blank=False
    )
    is_for_each: bool = yes_no("for_each", "For each person", eg="no").says(
        "Whether every person has so many, as of reading lamps; blank is that all share them.",
        blank=False,
    )
    is_together: bool = yes_no("together", "Runs with others", eg="yes").says(
        "Whether it may run while all others do; blank is yes. No where something keeps it apart.",
        blank=True,
    )
    starts: str = word("starts", tuple(START_FACTORS), "Starts as", eg="steady").says(
        "What it draws for a moment as it starts: a compressor five times its power, a pump three. "
        "Asked of an inverter alone."
    )
    when: str | None = word("when", WHEN, "Runs by", eg="evening").says(
        "When in the day its hours fall: day 7 to 18, evening 18 to 23, night 23 to 7, cooking 7 "
        "to 8 and 18 to 20; blank spreads them over the hours in which somebody is awake.",
        blank=None,
    )
    from_s: float | None = quantity("from_h", HOURS, "Runs from", within=DAY_S).says(
        "Hour of the day from which its hours fall, in place of that word.", blank=None
    )
    until_s: float | None = quantity("to_h", HOURS, "Runs until", within=DAY_S).says(
        "Hour until which they do, of the next day if it is the smaller.", blank=None
    )


@schedule(
    "power",
    "Power plant",
    purpose="One row: panels, wind and battery. The power balance and battery days are counted "
    "from it.",
    is_single=True,
)
class PowerPlant(Row):
    """What makes and keeps electricity."""

    panels_w: float = quantity("pv_kwp", PEAK_POWER, "Panels", within=(0, 200_000), eg="1.8").says(
        "Peak power of all panels."
    )
    tilt_deg: float = quantity("tilt", ANGLE, within=(0, 90), eg="70").says(
        "Angle above the horizontal."
    )
    battery_j: float = quantity(
        "battery_kwh", STORED_ENERGY, "Battery", within=(0, 3.6e9), eg="9.6"
    ).says("Nominal energy, as on the label.")
    usable_share: float = quantity("usable_share", SHARE, within=(0, 1), eg="0.85").says(
        "Part of the label that may be drawn: 0.5 for lead-acid, 0.8 to 0.9 for lithium iron."
    )
    sun_s: float = quantity(
        "sun_hours_on_sheet", HOURS, "Sun-hours on your sheet", within=(0, 24 * 3600), eg="3.6"
    ).says("What your drawing says; the check uses the site sheet's.")
    wind_j_day: float = quantity("wind_wh", ENERGY, "Wind a day", within=(0, 3.6e9), eg="0").says(
        "Energy of a wind turbine a day in the design month; blank is none.", blank=0.0
    )
    swept_from: str | None = text("swept_from", eg="from the terrace, long brush").says(
        "Who clears the panels, standing on what."
    )
    inverter_w: float = quantity(
        "inverter_w", ELECTRIC_POWER, "Inverter", within=(0, 200_000), eg="3000"
    ).says("What it gives all day long.")
    surge_w: float = quantity(
        "surge_w", ELECTRIC_POWER, "Inverter surge", within=(0, 400_000), eg="6000"
    ).says("What it gives for the seconds in which a motor starts.")
    battery_kind: str = word("battery_kind", BATTERY_KINDS, eg="lead").says(
        "Asked of a battery in the cold alone."
    )
    battery_k: float = quantity(
        "battery_c", TEMPERATURE, "Battery at its coldest", within=(233.15, 333.15), eg="4"
    ).says("Where it stands, in the design cold.")
    bearing_deg: float | None = quantity(
        "panel_bearing",
        ANGLE,
        "Panels face",
        within=(0, 360),
        named=tuple(BEARINGS_DEG.items()),
        eg="180",
    ).says("Clockwise from north; blank is south, south of the equator north.", blank=None)
    second_w: float = quantity(
        "second_kwp", PEAK_POWER, "of which elsewhere", within=(0, 200_000)
    ).says("Part of the panels that lies on a second plane; blank is none.", blank=0.0)
    second_tilt_deg: float = quantity("second_tilt", ANGLE, within=(0, 90)).says(
        "Angle of those above the horizontal."
    )
    second_bearing_deg: float = quantity(
        "second_bearing",
        ANGLE,
        "They face",
        within=(0, 360),
        named=tuple(BEARINGS_DEG.items()),
    ).says("Of those, clockwise from north.")
    tracks: bool | None = yes_no("tracker", "Power tracker", eg="yes").says(
        "Whether the charger follows the panels' best voltage; blank is yes.", blank=None
    )
    charge_w: float | None = quantity(
        "charge_w", ELECTRIC_POWER, "Charged at most", within=(0, 1e6)
    ).says("Blank is the label in two hours.", blank=None)
    discharge_w: float | None = quantity(
        "discharge_w", ELECTRIC_POWER, "Drawn at most", within=(0, 1e6)
    ).says("Blank is the label in an hour.", blank=None)
    battery_stands: str | None = word("battery_stands", BATTERY_PLACES, eg="heated").says(
        "Whether the battery stands in the heated part; blank is unheated, unless its coldest is "
        "given above 5 °C.",
        blank=None,
    )

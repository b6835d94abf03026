"""Electricity: what uses it, what makes it and what keeps it."""

from criteria.typed.columns import count, mark, quantity, text, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import (
    ANGLE,
    ELECTRIC_POWER,
    ENERGY,
    HOURS,
    PEAK_POWER,
    SHARE,
    STORED_ENERGY,
)


@schedule(
    "loads",
    "Load schedule",
    mark_prefix="L",
    purpose="Everything that uses electricity, with hours in the design month. The power balance "
    "and battery days are counted from it.",
)
class Load(Row):
    """A load, or several alike.

    n           how many alike [no.]
    power_w     electric power of each while it runs [W]
    run_s       running time a day [s]
    stands_outside  whether its heat stays outside
    """

    mark: str = mark()
    item: str | None = text("item", "Item", "What it is.", required=True, example="LED lighting")
    n: int = count("n", "No.", "How many alike.", least=1, most=500, example="10")
    power_w: float = quantity(
        "w_each", "W each", ELECTRIC_POWER, "Power of one while it runs.", least=0, most=50_000,
        example="7",
    )  # fmt: skip
    run_s: float = quantity(
        "h_day", "h a day", HOURS, "Hours that it runs a day in the design month.",
        least=0, most=24 * 3600, example="6",
    )  # fmt: skip
    essential: bool = yes_no(
        "essential", "Essential", "Whether it must run on the third dark day: yes or no.",
        example="yes",
    )  # fmt: skip
    stands_outside: bool = yes_no(
        "stands_outside", "Stands outside", "Whether its heat stays outside: yes or no; blank is "
        "no.", blank=False, example="no",
    )  # fmt: skip


@schedule(
    "power",
    "Power plant",
    purpose="One row: panels, wind and battery. The power balance and battery days are counted "
    "from it.",
    is_single=True,
)
class PowerPlant(Row):
    """What makes and keeps electricity.

    panels_w        peak power of the panels [W]
    tilt_deg        tilt above the horizontal [°]
    battery_j       nominal battery energy [J]
    usable_share    part of it that may be drawn [1]
    sun_s           sun-hours a day that the student's own sheet uses [s]
    wind_j_day      energy that a wind turbine gives a day in the design month [J]
    """

    panels_w: float = quantity(
        "pv_kwp", "Panels", PEAK_POWER, "Peak power of all panels.", least=0, most=200_000,
        example="1.8",
    )  # fmt: skip
    tilt_deg: float = quantity(
        "tilt", "Tilt", ANGLE, "Angle above the horizontal.", least=0, most=90, example="70"
    )
    battery_j: float = quantity(
        "battery_kwh", "Battery", STORED_ENERGY, "Nominal energy, as on the label.",
        least=0, most=3.6e9, example="9.6",
    )  # fmt: skip
    usable_share: float = quantity(
        "usable_share", "Usable share", SHARE,
        "Part of the label that may be drawn: 0.5 for lead-acid, 0.8 to 0.9 for lithium iron.",
        least=0, most=1, example="0.85",
    )  # fmt: skip
    sun_s: float = quantity(
        "sun_hours_on_sheet", "Sun-hours on your sheet", HOURS,
        "What your drawing says; the check uses the site sheet's.", least=0, most=24 * 3600,
        example="3.6",
    )  # fmt: skip
    wind_j_day: float = quantity(
        "wind_wh", "Wind a day", ENERGY, "Energy of a wind turbine a day in the design month; "
        "blank is none.", least=0, most=3.6e9, blank=0.0, example="0",
    )  # fmt: skip
    swept_from: str | None = text(
        "swept_from", "Swept from", "Who clears the panels, standing on what.",
        example="from the terrace, long brush",
    )  # fmt: skip

"""The site sheet: place, people, climate and the design figures that every scheme shares."""

from criteria.schedules.structure import EXPOSURES, SOILS
from criteria.typed.columns import count, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import (
    AIR_FLOW,
    AIR_HEAT,
    ANGLE,
    DAYS,
    HOURS,
    ILLUMINANCE,
    LITRES_A_DAY,
    RATIO,
    ROOM_LENGTH,
    SHARE_PERCENT,
    SUN,
    TEMPERATURE,
    WIND,
)  # fmt: skip

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@schedule(
    "site",
    "Site sheet",
    purpose="One row, written by the studio leader with the brief: the figures that all "
    "schemes of a studio are held to.",
    is_single=True,
)
class Site(Row):
    """The shared figures of one brief.

    people, guests        people the brief asks for in all; of whom guests [no.]
    water_m3_pd …         litres per person and day, kept as m³ [m³/day]
    fresh_air_m3_s        design fresh air per person awake or asleep [m³/s]
    air_heat_j_m3k        heat that air holds; None is worked out from the altitude [J/m³K]
    piece_l_m …           the largest piece that can be brought, in order [m]
    design_outside_k …    design temperatures [K]
    sun_hours_s           full-sun hours a day on the panels in the design month [s]
    """

    place: str | None = text("place", "Place", "Name of the site.", example="Harl Saddle")
    latitude_deg: float = quantity(
        "latitude", "Latitude", ANGLE, "North is positive.", least=-90, most=90, example="46.7"
    )
    least_sun_deg: float = quantity(
        "least_sun", "Least height of the sun", ANGLE, "Under it sun counts for nothing: EN 17037 "
        "gives one for each country, 13 in Czechia.", least=0, most=45, example="13",
    )  # fmt: skip
    altitude_m: float = quantity(
        "altitude_m", "Altitude", ROOM_LENGTH, "Above sea level.", least=-450, most=6000,
        example="2640",
    )  # fmt: skip
    people: int = count(
        "people", "People in the brief", "Everyone who lives here at full house, staff too.",
        least=1, most=500, example="13",
    )  # fmt: skip
    guests: int = count(
        "guests", "of whom guests", "Those who need stowage of their own.", most=500, example="12"
    )
    water_m3_pd: float = quantity(
        "water_l_pd", "Water per person-day", LITRES_A_DAY, "Drinking, cooking and washing.",
        least=0.001, most=1, example="12",
    )  # fmt: skip
    grey_m3_pd: float = quantity(
        "grey_l_pd", "Grey water per person-day", LITRES_A_DAY, least=0, most=1, example="7"
    )
    urine_m3_pd: float = quantity(
        "urine_l_pd", "Urine per person-day", LITRES_A_DAY, least=0, most=0.02, example="1.2"
    )
    solids_m3_pd: float = quantity(
        "solids_l_pd", "Solids per person-day", LITRES_A_DAY, least=0, most=0.02, example="0.25"
    )
    supply_s: float = quantity(
        "supply_days", "Days between supply visits", DAYS, least=3600, most=365 * 86400,
        example="14",
    )  # fmt: skip
    design_outside_k: float = quantity(
        "design_outside_c", "Design outside", TEMPERATURE, "Coldest night to design for.",
        least=193.15, most=333.15, example="-18",
    )  # fmt: skip
    design_inside_k: float = quantity(
        "design_inside_c", "Design inside", TEMPERATURE, least=263.15, most=313.15, example="16"
    )
    fresh_air_m3_s: float = quantity(
        "fresh_air_l_s", "Design fresh air per person", AIR_FLOW, "Used for the heat loss.",
        least=0, most=0.06, example="4",
    )  # fmt: skip
    air_heat_j_m3k: float | None = quantity(
        "air_wh_m3k", "Heat that air holds", AIR_HEAT,
        "0.33 at sea level and 20 °C; blank is worked out from altitude and temperature.",
        least=360, most=1800, blank=None, example="0.25",
    )  # fmt: skip
    design_month: str = word(
        "design_month", "Design month", MONTHS, "Worst month of the open season, for power.",
        example="Oct",
    )  # fmt: skip
    sun_hours_s: float = quantity(
        "sun_hours", "Sun-hours in the design month", HOURS,
        "Full-sun hours a day on the panels' plane.", least=0, most=24 * 3600, example="3.6",
    )  # fmt: skip
    system_factor: float = quantity(
        "system_factor", "System factor", RATIO, "Part of the panel's power that arrives.",
        least=0.1, most=1, example="0.72",
    )  # fmt: skip
    drift_m: float = quantity(
        "drift_m", "Drift depth", ROOM_LENGTH, "Snow on the lee side.", least=0, most=20,
        example="2.2",
    )  # fmt: skip
    drift_side: str = word(
        "drift_side", "Drift on side", ("N", "E", "S", "W"), "The side on which it lies."
    )
    piece_l_m: float = quantity(
        "piece_l_m", "Longest piece", ROOM_LENGTH, "The first side of what can be brought.",
        least=0.1, most=40, example="6.0",
    )  # fmt: skip
    piece_w_m: float = quantity(
        "piece_w_m", "Widest piece", ROOM_LENGTH, "The second side.", least=0.1, most=40,
        example="2.3",
    )  # fmt: skip
    piece_h_m: float = quantity(
        "piece_h_m", "Highest piece", ROOM_LENGTH, "The third side.", least=0.1, most=40,
        example="2.2",
    )  # fmt: skip
    ground_m: float = quantity("ground_m", "Ground above datum", ROOM_LENGTH, least=-450, most=9000)
    flood_m: float = quantity(
        "flood_m", "Flood or storm tide above datum", ROOM_LENGTH, least=-450, most=9000
    )
    summer_outside_k: float = quantity(
        "summer_outside_c", "Design summer outside", TEMPERATURE, least=253.15, most=333.15
    )
    summer_inside_k: float = quantity(
        "summer_inside_c", "Design summer inside", TEMPERATURE, least=273.15, most=313.15
    )
    sun_w_m2: float = quantity(
        "sun_w_m2", "Design sun on walls and glass", SUN, least=0, most=1400, example="500"
    )
    median_diffuse_lx: float = quantity(
        "median_diffuse_lx", "Median daylight outdoors", ILLUMINANCE, "Diffuse, on level ground, "
        "reached half of the daylight hours: EN 17037 lists it by capital, 14,100 in London.",
        least=1000, most=60_000, example="14100",
    )  # fmt: skip
    soil: str = word("soil", "Soil", SOILS, "As the site report says.")
    slope: float = quantity(
        "slope", "Slope of the ground", SHARE_PERCENT, "Rise over run.", least=0, most=2
    )
    gust_m_s: float = quantity(
        "gust_ms", "Design gust", WIND, "Three seconds, at 10 m, strength level.", least=0, most=120
    )
    exposure: str = word("exposure", "Exposure", EXPOSURES, "B built up, C open, D shore.")
    climate_site: str | None = text(
        "climate_site", "Climate rows", "Which site's rows of the climate table.", longest=40
    )
    units: str = word(
        "units", "Units of the studio", ("metric", "US"),
        "Which figure holds where a standard prints two; blank is metric.", blank="metric",
        example="metric",
    )  # fmt: skip
    jurisdiction: str | None = text(
        "jurisdiction", "Jurisdiction", "Whose codes apply, and which editions."
    )
    note: str | None = text("note", "Note", "Anything else every scheme must know.", longest=2000)

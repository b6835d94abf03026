"""The site sheet: place, people, climate and the design figures that every scheme shares."""

from criteria.schedules.structure import EXPOSURES, SOILS
from criteria.typed.columns import count, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import (
    AIR_FLOW,
    AIR_HEAT,
    ALTITUDE,
    ANGLE,
    DAYS,
    HOURS,
    ILLUMINANCE,
    LITRES_A_DAY,
    RATIO,
    ROOM_LENGTH,
    SHARE_PERCENT,
    SNOW_LOAD,
    SUN,
    TEMPERATURE,
    WIND,
)

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

    place: str | None = text("place", eg="Harl Saddle").says("Name of the site.")
    latitude_deg: float = quantity("latitude", ANGLE, within=(-90, 90), eg="46.7").says(
        "North is positive."
    )
    least_sun_deg: float = quantity(
        "least_sun", ANGLE, "Least height of the sun", within=(0, 45), eg="13"
    ).says("Under it sun counts for nothing: EN 17037 gives one for each country, 13 in Czechia.")
    altitude_m: float = quantity(
        "altitude_m", ALTITUDE, "Altitude", within=(-450, 6000), eg="2640"
    ).says("Above sea level.")
    people: int = count("people", "People in the brief", within=(1, 500), eg="13").says(
        "Everyone who lives here at full house, staff too."
    )
    guests: int = count("guests", "of whom guests", within=(0, 500), eg="12").says(
        "Those who need stowage of their own."
    )
    water_m3_pd: float = quantity(
        "water_l_pd", LITRES_A_DAY, "Water per person-day", within=(0.001, 1), eg="12"
    ).says("Drinking, cooking and washing.")
    grey_m3_pd: float = quantity(
        "grey_l_pd", LITRES_A_DAY, "Grey water per person-day", within=(0, 1), eg="7"
    )
    urine_m3_pd: float = quantity(
        "urine_l_pd", LITRES_A_DAY, "Urine per person-day", within=(0, 0.02), eg="1.2"
    )
    solids_m3_pd: float = quantity(
        "solids_l_pd", LITRES_A_DAY, "Solids per person-day", within=(0, 0.02), eg="0.25"
    )
    supply_s: float = quantity(
        "supply_days", DAYS, "Days between supply visits", within=(3600, 365 * 86400), eg="14"
    )
    design_outside_k: float = quantity(
        "design_outside_c", TEMPERATURE, "Design outside", within=(193.15, 333.15), eg="-18"
    ).says("Coldest night to design for.")
    design_inside_k: float = quantity(
        "design_inside_c", TEMPERATURE, "Design inside", within=(263.15, 313.15), eg="16"
    )
    fresh_air_m3_s: float = quantity(
        "fresh_air_l_s", AIR_FLOW, "Design fresh air per person", within=(0, 0.06), eg="4"
    ).says("Used for the heat loss.")
    air_heat_j_m3k: float | None = quantity(
        "air_wh_m3k", AIR_HEAT, "Heat that air holds", within=(360, 1800), eg="0.25"
    ).says(
        "0.33 at sea level and 20 °C; blank is worked out from altitude and temperature.",
        blank=None,
    )
    design_month: str = word("design_month", MONTHS, eg="Oct").says(
        "Worst month of the open season, for power."
    )
    sun_hours_s: float = quantity(
        "sun_hours", HOURS, "Sun-hours in the design month", within=(0, 24 * 3600), eg="3.6"
    ).says("Full-sun hours a day on the panels' plane.")
    system_factor: float = quantity("system_factor", RATIO, within=(0.1, 1), eg="0.72").says(
        "Part of the panel's power that arrives."
    )
    drift_m: float = quantity("drift_m", ROOM_LENGTH, "Drift depth", within=(0, 20), eg="2.2").says(
        "Snow on the lee side."
    )
    drift_side: str = word("drift_side", ("N", "E", "S", "W"), "Drift on side").says(
        "The side on which it lies."
    )
    piece_l_m: float = quantity(
        "piece_l_m", ROOM_LENGTH, "Longest piece", within=(0.1, 40), eg="6.0"
    ).says("The first side of what can be brought.")
    piece_w_m: float = quantity(
        "piece_w_m", ROOM_LENGTH, "Widest piece", within=(0.1, 40), eg="2.3"
    ).says("The second side.")
    piece_h_m: float = quantity(
        "piece_h_m", ROOM_LENGTH, "Highest piece", within=(0.1, 40), eg="2.2"
    ).says("The third side.")
    ground_m: float = quantity("ground_m", ROOM_LENGTH, "Ground above datum", within=(-450, 9000))
    flood_m: float = quantity(
        "flood_m", ROOM_LENGTH, "Flood or storm tide above datum", within=(-450, 9000)
    )
    summer_outside_k: float = quantity(
        "summer_outside_c", TEMPERATURE, "Design summer outside", within=(253.15, 333.15)
    )
    summer_inside_k: float = quantity(
        "summer_inside_c", TEMPERATURE, "Design summer inside", within=(273.15, 313.15)
    )
    sun_w_m2: float = quantity(
        "sun_w_m2", SUN, "Design sun on walls and glass", within=(0, 1400), eg="500"
    )
    median_diffuse_lx: float = quantity(
        "median_diffuse_lx",
        ILLUMINANCE,
        "Median daylight outdoors",
        within=(1000, 60_000),
        eg="14100",
    ).says(
        "Diffuse, on level ground, reached half of the daylight hours: EN 17037 lists it by "
        "capital, 14,100 in London."
    )
    soil: str = word("soil", SOILS).says("As the site report says.")
    slope: float = quantity("slope", SHARE_PERCENT, "Slope of the ground", within=(0, 2)).says(
        "Rise over run."
    )
    gust_m_s: float = quantity("gust_ms", WIND, "Design gust", within=(0, 120)).says(
        "Three seconds, at 10 m, strength level."
    )
    exposure: str = word("exposure", EXPOSURES).says("B built up, C open, D shore.")
    climate_site: str | None = text("climate_site", "Climate rows", longest=40).says(
        "Which site's rows of the climate table."
    )
    units: str = word("units", ("metric", "US"), "Units of the studio", eg="metric").says(
        "Which figure holds where a standard prints two; blank is metric.", blank="metric"
    )
    jurisdiction: str | None = text("jurisdiction").says("Whose codes apply, and which editions.")
    note: str | None = text("note", longest=2000).says("Anything else every scheme must know.")
    crew: int | None = count("crew", "People who set up", within=(1, 500), eg="4").says(
        "Blank is as many as the steps of a scheme need.", blank=None
    )
    ground_snow_pa: float = quantity(
        "ground_snow", SNOW_LOAD, "Snow on the ground", within=(0, 50_000), eg="1.5"
    ).says("Characteristic, as the local code maps it; ASCE 7-16's where it is by that standard.")
    hot_m3_pd: float = quantity(
        "hot_l_pd", LITRES_A_DAY, "Hot water per person-day", within=(0, 1), eg="15"
    ).says("Of the water of each person and day, what is drawn warm.")
    hot_k: float = quantity(
        "hot_c", TEMPERATURE, "Warm water", within=(283.15, 373.15), eg="40"
    ).says("As it is drawn.")
    cold_k: float = quantity(
        "cold_c", TEMPERATURE, "Cold water", within=(273.15, 313.15), eg="8"
    ).says("As it comes from the ground or the tank, in the design month.")
    longitude_deg: float | None = quantity("longitude", ANGLE, within=(-180, 180), eg="13.4").says(
        "East is positive; blank is the middle of the time zone. The year by the hour asks for it.",
        blank=None,
    )
    time_zone_s: float | None = quantity(
        "time_zone_h", HOURS, "Time zone", within=(-12 * 3600, 14 * 3600), eg="1"
    ).says("Hours ahead of UTC in winter; blank is the whole hour by the longitude.", blank=None)
    skyline_north_deg: float = quantity("skyline_n", ANGLE, "Skyline N", within=(0, 89)).says(
        "How high hills and trees stand over level ground to the north, seen from here; the sun "
        "comes over them later and goes earlier. Blank is level.",
        blank=0.0,
    )
    skyline_north_east_deg: float = quantity(
        "skyline_ne", ANGLE, "Skyline NE", within=(0, 89)
    ).says(
        "The same to the north-east.",
        blank=0.0,
    )
    skyline_east_deg: float = quantity("skyline_e", ANGLE, "Skyline E", within=(0, 89)).says(
        "The same to the east.",
        blank=0.0,
    )
    skyline_south_east_deg: float = quantity(
        "skyline_se", ANGLE, "Skyline SE", within=(0, 89)
    ).says(
        "The same to the south-east.",
        blank=0.0,
    )
    skyline_south_deg: float = quantity("skyline_s", ANGLE, "Skyline S", within=(0, 89)).says(
        "The same to the south.",
        blank=0.0,
    )
    skyline_south_west_deg: float = quantity(
        "skyline_sw", ANGLE, "Skyline SW", within=(0, 89)
    ).says(
        "The same to the south-west.",
        blank=0.0,
    )
    skyline_west_deg: float = quantity("skyline_w", ANGLE, "Skyline W", within=(0, 89)).says(
        "The same to the west.",
        blank=0.0,
    )
    skyline_north_west_deg: float = quantity(
        "skyline_nw", ANGLE, "Skyline NW", within=(0, 89)
    ).says(
        "The same to the north-west.",
        blank=0.0,
    )

    @property
    def skyline_deg(self) -> tuple[float, ...]:
        """How high the skyline stands, by bearing from north clockwise, each 45° [°]."""
        return (
            self.skyline_north_deg,
            self.skyline_north_east_deg,
            self.skyline_east_deg,
            self.skyline_south_east_deg,
            self.skyline_south_deg,
            self.skyline_south_west_deg,
            self.skyline_west_deg,
            self.skyline_north_west_deg,
        )

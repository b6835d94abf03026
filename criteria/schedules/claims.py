"""Claims: what a sheet says, to be held against what the schedules give."""

from criteria.typed.columns import text, word
from criteria.typed.rows import Row, schedule

_CHECKS = """
    daylight_ratio average_daylight_factor limiting_depth lowest_sill possible_sun
    lamp_light seated_view lying_view openable_ratio night_air dwelling_air
    night_co2 wet_extract combustion_air single_sided_depth floor_area
    floor_per_person living_floor_per_person floor_per_sleeper
    air_volume_per_sleeper room_floor clear_height floor_by_day sleeping_places
    day_seats night_seats wet_hooks passage_width place_alone sit_up wall_u roof_u
    floor_u apparent_conductivity surface_mould inside_wetting heat_loss
    balance_temperature cooling_load cooling_plant heat_plant warm_up stove_clear
    fuel_days water_days water_per_person_day water_worst_day grey_days urine_days
    solids_days black_days fixture_use fixture_share grey_made rain_catch tank_mass
    tank_frost water_turnover carry_mass hot_water power_ratio battery_days
    largest_load essential_days panel_tilt inverter_start battery_in_cold
    panels_for_cooling cold_hours hot_hours coldest_night hottest_hour
    hot_run_asleep hours_not_held hot_not_held fuel_year fuel_week dark_hours
    longest_dark spilled_share days_without_sun rain_days sun_in_water damp_hours
    ramp_length ramp_slope
    step_free_doors floor_above_datum ramp_width step_free_thresholds ramp_handrails
    step_free_beds turning_circle reach loft_stair ways_out exits_by_count
    furthest_bunk second_exit_threshold escape_window smoke_alarms co_alarm
    guard_height door_swings way_to_bed way_to_toilet second_way_out walked_out
    circle_reached way_step_free way_to_use beds_out_of_sight exits_apart
    doors_open_fully room_before escape_at_night piece_envelope piece_mass lifts
    hand_carry road_height road_width payload hitch_share container_fit
    nesting_clearance furniture_packs order_numbers sling_tension lifting_eyes
    axle_group gross_on_plate static_stability setup_time pack_time least_crew
    person_hours heaviest_set_up_lift open_to_rain order_possible steps_stand
    bearing_ratio leg_travel overturning sliding centre_in_feet leg_load
    floor_under_water snow_on_legs held_down stowage_per_guest change_of_use
    change_people change_lift furniture_heights floor_finishes cleanable
    wet_friction flame_spread wet_room_fall precedents plan_marks
"""

COMPARED = tuple(_CHECKS.split())
"""Checks that a claim can be held to: all of the catalogue, in its order."""


@schedule(
    "claims",
    "Claims on sheets",
    purpose="Every number that a drawing asserts, word for word. Each is held against what the "
    "schedules give.",
)
class Claim(Row):
    """One claim."""

    about: str | None = text("about", required=True, longest=80, eg="Water").says(
        "What it is about: Water, Wall, Battery, Kitchen glass."
    )
    wording: str | None = text("text", "Claim", required=True, eg="10 days").says(
        "As it stands on the sheet."
    )
    check: str | None = word("check", COMPARED, "Held to").says(
        "The check that it is held to; left blank, one is proposed from its words.", blank=None
    )
    subject: str | None = text("subject", "Of", longest=80, eg="R3").says(
        "Mark or name of the room, door or piece that it speaks of; left blank, names in its "
        "words are taken, else the worst."
    )
    sheet: str | None = text("sheet", longest=12, eg="00").says("Number of the sheet that says it.")

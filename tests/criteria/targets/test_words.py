import pytest

from criteria.checks.catalogue import CHECKS
from criteria.schedules import SITE
from criteria.schedules.rooms import LIVED_IN, USES
from criteria.targets.words import CHECK_WORDS, FIGURE_WORDS, ROOM_WORDS, figures_in, meaning_of


# Lines as a brief writes them, and what a reader of the trade takes each to mean.
@pytest.mark.parametrize(
    ("words", "check", "uses"),
    [
        ("Day room daylight ratio (clear glass / floor)", "daylight_ratio", ("day",)),
        ("Common room daylight ratio", "daylight_ratio", ("day",)),
        ("Bunk room daylight ratio", "daylight_ratio", ("sleep",)),
        ("Cabin daylight ratio", "daylight_ratio", ("sleep",)),
        ("Wet lab daylight ratio", "daylight_ratio", ("lab",)),
        ("Openable ratio, day room and kitchen", "openable_ratio", ("day", "kitchen")),
        ("OPENABLE RATIO, ALL LIVED-IN ROOMS", "openable_ratio", LIVED_IN),
        ("Floor area indoors, whole hut", "floor_area", ()),
        ("No mould: temperature factor of inside surfaces", "surface_mould", ()),
        ("Wetting between layers, a cold month", "inside_wetting", ()),
        ("Snow on each leg", "snow_on_legs", ()),
        ("Held down against uplift", "held_down", ()),
        ("Loft stair and ladders", "loft_stair", ()),
        ("Inverter against what starts", "inverter_start", ()),
        ("Battery days in the cold", "battery_in_cold", ()),
        ("Battery days, usable energy", "battery_days", ()),
        ("Hot water a day", "hot_water", ()),
        ("Days of fuel in design cold", "fuel_days", ()),
        ("Exits by count of people", "exits_by_count", ()),
        ("Way to each bed, all beds made", "way_to_bed", ()),
        ("Way from each bed to the toilet", "way_to_toilet", ()),
        ("Step-free way to a bed and a toilet", "way_step_free", ()),
        ("Way to each seat and worktop", "way_to_use", ()),
        ("Two exits half the diagonal apart", "exits_apart", ()),
        ("Pairs of beds out of each other's sight", "beds_out_of_sight", ()),
        ("Stove clear of what burns", "stove_clear", ()),
        ("Second way out from each bed", "second_way_out", ()),
        ("Ways out of the sleeping area", "ways_out", ()),
        ("Walked from bed and seat to outside", "walked_out", ()),
        ("Turning circle that is reached, day room", "circle_reached", ("day",)),
        ("Every door opens fully", "doors_open_fully", ()),
        ("Room before what is used", "room_before", ()),
        ("Escape windows free when beds are made", "escape_at_night", ()),
        ("Floor area per person (13 people)", "floor_per_person", ()),
        ("Living floor per person", "living_floor_per_person", ()),
        ("Bunk-room floor per sleeper (over 1.5 m headroom)", "floor_per_sleeper", ("sleep",)),
        ("Air volume per sleeper", "air_volume_per_sleeper", ()),
        ("Water days, full house, 12 L per person-day", "water_days", ()),
        ("Precedents, of which failed", "precedents", ()),
        ("A view of the lake", "", ()),
        ("", "", ()),
        ("Available light", "", ()),
    ],
)
def test_words_mean_a_check_and_rooms(words, check, uses):
    meaning = meaning_of(words)
    assert (meaning.check, meaning.uses) == (check, uses)


@pytest.mark.parametrize(
    ("note", "bound"),
    [
        ("not over 22 %", "22 %"),
        ("not over 22%", "22 %"),
        ("not over 22", "22"),
        ("not over 22.5 %, glare", "22.5 %"),
        ("not over 22, for the glare", "22"),
        ("not over 22 because of glare", "22"),
        ("not over 1\u202f200 mm.", "1\u202f200 mm"),
        ("not over 22,5 %.", "22,5 %"),
        ("(not over 22 %)", "22 %"),
        ("not overly bright", ""),
        ("over 22 %", ""),
        ("", ""),
    ],
)
def test_an_upper_bound_is_read_from_a_note(note, bound):
    assert meaning_of("Daylight ratio", note).not_over == bound


@pytest.mark.parametrize(
    ("words", "figures"),
    [
        ("Floor area per person (13 people)", {"people": "13"}),
        ("Water days, full house, 12 L per person-day", {"water_l_pd": "12"}),
        ("Grey tank days, 7 L per person-day", {"grey_l_pd": "7"}),
        ("Urine tank days, 1.2 L per person-day", {"urine_l_pd": "1.2"}),
        ("Solids days, 0.25 L per person-day", {"solids_l_pd": "0.25"}),
        (
            "Design heat loss at -18 C out, 16 C in",
            {"design_outside_c": "-18", "design_inside_c": "16"},
        ),
        ("Air volume per sleeper", {}),
        ("Water days, full house, 12,5 L per person-day", {"water_l_pd": "12,5"}),
        ("Design heat loss at -18,5 C out", {"design_outside_c": "-18,5"}),
        ("Storm tide +2,4 m", {"flood_m": "2,4"}),
        (
            "Every piece within 2,4 x 1.2 x 0,9 m",
            {"piece_l_m": "2,4", "piece_w_m": "1.2", "piece_h_m": "0,9"},
        ),
    ],
)
def test_figures_of_the_site_are_read_from_words(words, figures):
    assert figures_in(words) == figures
    for head, text in figures.items():
        assert SITE.column(head).read(text) is not None


def test_the_tables_name_only_what_there_is():
    assert {slug for _, slug in CHECK_WORDS} <= set(CHECKS)
    assert {use for _, uses in ROOM_WORDS for use in uses} <= set(USES)
    assert {head for _, head in FIGURE_WORDS} <= set(SITE.heads)

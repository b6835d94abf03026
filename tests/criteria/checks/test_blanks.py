"""What each check does where it has nothing, or nonsense, to go by."""

from dataclasses import replace

import pytest

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import judge
from criteria.checks.catalogue import CATALOGUE, CHECKS
from criteria.checks.reading import of_each, scheduled
from criteria.findings import Rule, State
from criteria.package import Package
from criteria.targets.reading import Target
from criteria.units import LENGTH

NO_DATA, NOT_ASKED = State.NO_DATA, State.NOT_ASKED
BUNKS = {"mark": "R1", "room": "Bunks", "use": "sleep"}
DAY = {"mark": "R1", "room": "Day", "use": "day", "floor_m2": "20", "depth_m": "4",
       "width_m": "5", "clear_height_m": "2.5"}  # fmt: skip
LAYER = {"part": "wall", "layer": "Batt"}


@pytest.mark.parametrize("check", CATALOGUE, ids=lambda check: check.slug)
def test_an_empty_package_gives_no_figure_and_says_what_is_missing(check):
    for measured in check.of(Package()):
        assert measured.values in ((), (0,)) or check.rule is Rule.ALL
        assert measured.values or measured.missing


@pytest.mark.parametrize(("is_monotone", "ways"), [(True, 2), (False, 0)])
def test_the_ends_of_a_blank_cell_are_tried_of_monotone_checks_alone(package, is_monotone, ways):
    tried = []

    def figure(room):
        tried.append(room.mark)
        return scheduled(room, "passage_mm", LENGTH)

    check = replace(
        CHECKS["passage_width"],
        measure=lambda package, uses: of_each(package.rooms, figure),
        is_monotone=is_monotone,
    )
    target = Target(ref="T01", words="", check=check, rule=check.rule, values=(0.9,))
    assert judge(package(rooms=DAY), target).state is State.NO_DATA
    # once as typed, once with a value standing in, to learn what else lacks
    assert len(tried) == 2 + ways


CASES = (
    ("wet_extract", {"rooms": DAY, "vents": {"mark": "V1", "room": "R1"}}, NOT_ASKED, ""),
    ("apparent_conductivity", {"envelope": LAYER | {"claimed_r": "2"}}, NO_DATA, "Thickness"),
    ("step_free_beds", {"rooms": BUNKS, "occupants": {"mark": "O1", "who": "One",
                                                      "step_free": "1"}}, NO_DATA, "Sleepers"),
    ("leg_travel", {"supports": {"travel": "0", "building_l_m": "6", "building_w_m": "2"},
                    "site": {"slope": "0"}}, State.ON_THE_LINE, ""),
    ("heat_loss", {"site": {"design_inside_c": "10", "design_outside_c": "20"}}, NO_DATA,
     "warmer than outside"),
    ("stowage_per_guest", {"stowage": {"mark": "S1", "what": "Box", "for": "guest"}}, NO_DATA,
     "guests"),
    ("stowage_per_guest", {"stowage": {"mark": "S1", "what": "Box", "for": "guest", "n": "1"},
                           "site": {"guests": "2"}}, NO_DATA, "Volume each"),
    ("nesting_clearance", {"pieces": {"mark": "M1", "piece": "Box", "packs_into": "M1"}}, NO_DATA,
     "Length"),
    ("lowest_sill", {"rooms": DAY, "windows": {"mark": "W1", "room": "R1"}}, NO_DATA, "Sill"),
    ("average_daylight_factor", {"rooms": DAY}, NO_DATA, "window schedule"),
    ("limiting_depth", {"rooms": [DAY, BUNKS | {"mark": "R2"}], "windows": {
        "mark": "W1", "room": "R1", "sill": "900"}}, NO_DATA, "Glass h"),
    ("wet_room_fall", {"rooms": DAY, "finishes": {"mark": "N1", "room": "R1", "surface": "floor",
                                                  "finish": "Tile", "wet": "yes"}}, NO_DATA,
     "Fall: rise"),
    ("flame_spread", {"rooms": DAY, "finishes": {"mark": "N1", "room": "R1", "surface": "floor",
                                                 "finish": "Tile"}}, NO_DATA, "walls and ceil"),
    ("day_seats", {"furniture": {"mark": "U1", "item": "Bench", "kind": "seat"},
                   "site": {"people": "2"}}, NO_DATA, "Seats by day"),
    ("day_seats", {"furniture": {"mark": "U1", "item": "Bench", "kind": "seat", "day": "2"},
                   "site": {"people": "2"}}, NO_DATA, "No."),
    ("night_seats", {"furniture": {"mark": "U1", "item": "Bench", "kind": "seat"}}, NO_DATA,
     "Seats at night"),
    ("furniture_heights", {"furniture": {"mark": "U1", "item": "Bench", "kind": "seat"}}, NO_DATA,
     "Height"),
    ("floor_by_day", {"rooms": BUNKS, "site": {"people": "2"}}, NO_DATA, "Floor"),
    ("water_turnover", {"tanks": {"mark": "T1", "holds": "potable", "litres": "100"}}, NO_DATA,
     "Usable share"),
    ("step_free_thresholds", {"doors": {"mark": "D1", "place": "Store"}}, NO_DATA,
     "step-free way"),
    ("step_free_doors", {"doors": {"mark": "D1", "place": "Store"}}, NO_DATA, "step-free way"),
    ("container_fit", {"pieces": {"mark": "M1", "piece": "Box"}}, NO_DATA, "Container"),
    ("payload", {"pieces": {"mark": "M1", "piece": "Box"}}, NO_DATA, "Payload"),
    ("road_height", {"pieces": {"mark": "M1", "piece": "Box", "h_m": "0.5"}}, NO_DATA, "Deck"),
    ("cooling_plant", {}, NO_DATA, "Cooling output"),
    ("essential_days", {"loads": {"mark": "L1", "item": "Light"}}, NO_DATA, "Essential"),
)  # fmt: skip


@pytest.mark.parametrize(("check", "tables", "state", "names"), CASES, ids=lambda x: str(x)[:24])
def test_a_gap_is_named(package, hold, check, tables, state, names):
    from criteria.checks.catalogue import CHECKS

    target = "yes" if CHECKS[check].rule is Rule.ALL else "1"
    found = hold(package(**tables), check, target)
    assert found.state is state
    assert any(names in cell for cell in found.missing) or not names


def test_nothing_to_make_of_solids_is_not_asked(package, hold):
    hut = package(
        tanks={"mark": "T1", "holds": "solids", "litres": "90", "usable_share": "0.9"},
        site={"people": "4", "solids_l_pd": "0"},
    )
    assert hold(hut, "solids_days", "60").state is NOT_ASKED


def test_a_piece_of_eighty_kilograms_is_asked_about_by_hand(package):
    from criteria.check_sheet.sheet import check_sheet

    hut = package(pieces={"mark": "M1", "piece": "Door", "n": "1", "kg_each": "80"})
    said = [q.text for q in likely_questions(check_sheet(hut, ()), hut)]
    assert "Door is 80 kg. Two people, no crane, wind: can they hold it?" in said

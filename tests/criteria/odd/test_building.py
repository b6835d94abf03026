"""Odd values of what is drawn: each rule fires, offers what it can, and leaves good rows alone."""

from pathlib import Path

import pytest

from criteria.command.folder import read_folder
from criteria.odd import building
from criteria.odd.values import odd_values
from criteria.package import Package, read_package
from criteria.schedules import BY_SLUG
from criteria.schedules.access import Door, Ramp, WaysOut
from criteria.schedules.envelope import Layer
from criteria.schedules.moving import Piece
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.schedules.site import Site
from criteria.typed.rows import Schedule

DATA = Path(__file__).parents[3] / "reviews" / "demo" / "data"


def heads(found) -> list[tuple[str, str, str]]:
    return [(odd.schedule, odd.mark, odd.head) for odd in found]


def test_the_good_package_of_the_demo_has_none():
    assert odd_values(read_folder(DATA, scheme="H07", rev="B").package) == ()


def test_every_slip_built_into_the_demo_is_asked_about():
    found = heads(odd_values(read_folder(DATA, scheme="H07", rev="A").package))
    assert {
        ("tanks", "T1", "litres"),
        ("windows", "W1", "open_share"),
        ("occupants", "", "n"),
        ("envelope", "", "lambda"),
        ("plant", "", "hrv_as_typed"),
        ("power", "", "sun_hours_on_sheet"),
        ("power", "", "usable_share"),
        ("loads", "L3", "h_day"),
        ("doors", "D1", "clear_w"),
        ("stowage", "S1", "also_used_as"),
        ("precedents", "", "outcome"),
    } == set(found)


@pytest.mark.parametrize("scheme", [("H07", "A"), ("H03", "B"), ("E11", "C")])
def test_a_suggestion_is_text_that_its_column_reads(scheme):
    package = read_folder(DATA, scheme=scheme[0], rev=scheme[1]).package
    offered = [odd for odd in odd_values(package) if odd.suggestion]
    for odd in offered:
        schedule: Schedule = BY_SLUG[odd.schedule]
        assert schedule.column(odd.head).read(odd.suggestion) is not None
    assert offered or scheme != ("H07", "A")


def test_taking_a_suggestion_ends_the_question():
    tables = {"plant": [{"hrv_as_typed": "75"}]}
    (odd,) = odd_values(read_package(tables).package)
    tables["plant"][0][odd.head] = odd.suggestion
    assert odd_values(read_package(tables).package) == ()


@pytest.mark.parametrize(
    ("name", "typed", "mended"),
    [
        ("Sheep wool", 0.4, "0.04 W/mK"),
        ("Rigid foam", 0.0034, "0.034 W/mK"),
        ("Solid timber panel", 1.3, "0.13 W/mK"),
        ("Larch floor", 0.013, "0.13 W/mK"),
        ("Sheep wool", 9.0, ""),
    ],
)
def test_a_conductivity_ten_times_out(name, typed, mended):
    layer = Layer(part="wall", layer=name, thickness_m=0.1, lambda_w_mk=typed)
    (odd,) = building.envelope(Package(envelope=(layer,)))
    assert (odd.head, odd.suggestion, odd.row) == ("lambda", mended, 1)


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("Sheep wool", 0.015),
        ("Wood-fibre board", 0.08),
        ("Birch ply", 0.25),
        ("Aerogel blanket", 0.013),
        ("Steel sheet", 50.0),
    ],
)
def test_conductivities_at_their_bounds_and_other_materials_are_left_alone(name, typed):
    layer = Layer(part="wall", layer=name, thickness_m=0.1, lambda_w_mk=typed)
    assert list(building.envelope(Package(envelope=(layer,)))) == []


def test_a_coating_with_a_large_r_is_asked_for_its_test():
    """0.25 mm said to be R-30 (5.28 m²K/W), as in the US regulator's cases of July 2020."""
    layer = Layer(part="wall", layer="Coating", thickness_m=0.00025, claimed_m2k_w=5.283)
    (odd,) = building.envelope(Package(envelope=(layer,)))
    assert "Which test says so" in odd.write_question()
    assert odd.suggestion == ""


def test_r_in_us_units_typed_as_metric_is_offered_in_metric():
    """100 mm of mineral wool is R-15 in US units, 2.64 m²K/W."""
    layer = Layer(part="wall", layer="Mineral wool", thickness_m=0.1, claimed_m2k_w=15.0)
    (odd,) = building.envelope(Package(envelope=(layer,)))
    assert odd.suggestion == "2.64 m²K/W"


def test_a_claim_that_takes_in_an_air_space_is_not_held_to_thickness():
    """Hollow-backed siding, 0.6 mm and 0.11 m²K/W, is in the ASHRAE tables and is real."""
    layer = Layer(
        part="wall", layer="Siding, hollow-backed", thickness_m=0.0006, claimed_m2k_w=0.11,
        claim_covers="air space included",
    )  # fmt: skip
    assert list(building.envelope(Package(envelope=(layer,)))) == []


@pytest.mark.parametrize(("clear", "asked"), [(0.861, True), (0.860, False), (0.820, False)])
def test_a_clear_width_that_is_the_leaf(clear, asked):
    door = Door(mark="D1", place="Store", leaf_w_m=0.9, clear_w_m=clear, role="internal")
    assert bool(list(building.doors(Package(doors=(door,))))) is asked


def test_a_blank_clear_width_is_asked_for_on_the_step_free_way_only():
    main = Door(mark="D1", place="Porch", leaf_w_m=0.9, role="main exit")
    store = Door(mark="D2", place="Store", leaf_w_m=0.7, role="internal")
    assert [odd.mark for odd in building.doors(Package(doors=(main, store)))] == ["D1"]


def test_two_thresholds_of_one_exit_are_a_mismatch():
    door = Door(mark="D2", place="Loft", role="second exit", threshold_m=2.3, clear_w_m=0.8)
    package = Package(doors=(door,), ways_out=WaysOut(second_threshold_m=1.9))
    (odd,) = building.doors(package)
    assert odd.is_mismatch
    assert "1,900 mm here and 2,300 mm" in odd.write_question()


@pytest.mark.parametrize(
    ("drawn", "landings", "asked"),
    [(5.76, 0, True), (5.87, 0, True), (5.88, 0, False), (5.76, 2, False)],
)
def test_a_ramp_of_twelve_times_the_rise_has_no_landings(drawn, landings, asked):
    package = Package(ramp=Ramp(rise_m=0.48, drawn_m=drawn, landings=landings))
    assert bool(list(building.ramp(package))) is asked


@pytest.mark.parametrize(
    ("length", "asked"), [(5.879, False), (5.88, True), (6.0, True), (6.01, False)]
)
def test_a_side_within_two_per_cent_of_its_limit(length, asked):
    site = Site(piece_l_m=6.0, piece_w_m=2.3, piece_h_m=2.2)
    piece = Piece(mark="M1", length_m=length, width_m=1.0, height_m=1.0)
    assert bool(list(building.pieces(Package(site=site, pieces=(piece,))))) is asked


@pytest.mark.parametrize(
    ("room", "head"),
    [
        (Room(mark="R1", name="Day", use="day", floor_m2=2240), "floor_m2"),
        (Room(mark="R1", name="Day", use="day", clear_height_m=8), "clear_height_m"),
        (Room(mark="R1", name="Day", use="day", floor_m2=5, low_headroom_m2=6), "low_headroom_m2"),
        (Room(mark="R1", name="Sleeping loft", use="sleep", floor_m2=12), "low_headroom_m2"),
    ],
)
def test_rooms_that_cannot_be_as_typed(room, head):
    assert heads(building.rooms(Package(rooms=(room,)))) == [("rooms", "R1", head)]


def test_glass_as_large_as_its_frame():
    window = Window(
        mark="W1", room="R1", frame_w_m=1.0, frame_h_m=1.0, glass_w_m=0.95, glass_h_m=0.95
    )
    assert heads(building.windows(Package(windows=(window,)))) == [("windows", "W1", "glass_w")]


def test_openings_larger_than_most_of_the_wall():
    wall = Layer(part="wall", layer="Board", thickness_m=0.1, lambda_w_mk=0.3, gross_area_m2=10)
    window = Window(mark="W1", room="R1", n=1, frame_w_m=3.1, frame_h_m=2.0, u_w_m2k=1.0)
    found = building.envelope(Package(envelope=(wall,), windows=(window,)))
    assert heads(found) == [("envelope", "", "gross_area_m2")]

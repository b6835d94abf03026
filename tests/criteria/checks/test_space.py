import pytest

from criteria.findings import State


# Sphere Handbook 2018, shelter and settlement standard 3. By hand: 18.0 m² of living floor for
# five people are 3.60 m² each; 22.0 m² with kitchen and bath for four are 5.50 m².
def test_living_floor_leaves_cooking_and_washing_out(package, hold, room):
    hut = package(
        rooms=[room("R1", "10"), room("R2", "8", "sleep"), room("R3", "4", "kitchen"),
               room("R4", "3", "wc"), room("R5", "2", "store"), room("R6", "2", "plant"),
               room("R7", "5", "circulation")],
        site={"people": "5"},
    )  # fmt: skip
    finding = hold(hut, "living_floor_per_person", "3.5")
    assert (finding.state, finding.write_value()) == (State.MEETS, "3.60 m²")
    assert hold(hut, "living_floor_per_person", "4.5").state is State.SHORT
    assert [step.write() for step in finding.steps] == [
        "10.0 m² + 8.0 m² = 18.0 m²",
        "18.0 m² ÷ 5 people = 3.60 m²",
    ]


@pytest.mark.parametrize(
    ("target", "state"), [("4.5", State.MEETS), ("5.5", State.ON_THE_LINE), ("5.6", State.SHORT)]
)
def test_floor_per_person_counts_every_room(package, hold, room, target, state):
    hut = package(
        rooms=[room("R1", "16"), room("R2", "4", "kitchen"), room("R3", "2", "wc")],
        site={"people": "4"},
    )
    finding = hold(hut, "floor_per_person", target)
    assert (finding.state, finding.write_value()) == (state, "5.50 m²")


def test_floor_per_person_may_be_asked_of_some_rooms(package, hold, room):
    hut = package(rooms=[room("R1", "16"), room("R2", "4", "kitchen")], site={"people": "4"})
    assert hold(hut, "floor_per_person", "1", rooms="day").write_value() == "4.00 m²"


@pytest.mark.parametrize("check", ["floor_per_person", "living_floor_per_person"])
def test_floor_per_person_needs_floors_and_people(package, hold, room, check):
    finding = hold(package(rooms=[room("R1", ""), room("R2")]), check, "3")
    assert finding.state is State.NO_DATA
    assert finding.missing == ("R1, Floor (room schedule)", "People in the brief (site sheet)")
    assert hold(package(site={"people": "4"}), check, "3").missing == ("rows of the room schedule",)


def test_people_are_the_briefs_and_not_the_schedules(package, hold, room):
    hut = package(
        rooms=room(floor="12"),
        site={"people": "4"},
        occupants={"mark": "O1", "who": "Walkers", "n": "2"},
    )
    assert hold(hut, "floor_per_person", "1").write_value() == "3.00 m²"


@pytest.mark.parametrize(
    ("value", "state"), [("30", State.ON_THE_LINE), ("29", State.OVER), ("31", State.MEETS)]
)
def test_the_floor_indoors_is_every_room_and_may_not_pass_its_bound(
    package, hold, room, value, state
):
    hut = package(rooms=[room("R1", "20"), room("R2", "10", "wc")])
    finding = hold(hut, "floor_area", value)
    assert (finding.state, finding.write_value()) == (state, "30.0 m²")
    assert finding.steps[0].write() == "20.0 m² + 10.0 m² = 30.0 m²"


def test_the_floor_of_some_rooms_may_be_asked(package, hold, room):
    hut = package(rooms=[room("R1", "20"), room("R2", "10", "wc")])
    assert hold(hut, "floor_area", "30", rooms="wc").write_value() == "10.0 m²"


def test_the_floor_indoors_needs_every_floor(package, hold, room):
    blank = hold(package(rooms=[room(), room("R2", "")]), "floor_area", "30")
    assert (blank.state, blank.value) == (State.NO_DATA, None)
    assert blank.missing == ("R2, Floor (room schedule)",)
    assert hold(package(), "floor_area", "30").missing == ("rows of the room schedule",)


# International Property Maintenance Code 404.4.1: 50 ft² for each of two or more. By hand:
# two in 95 ft² are short, in 100 ft² not.
@pytest.mark.parametrize(
    ("floor", "state"),
    [("95 sq ft", State.SHORT), ("100 sq ft", State.ON_THE_LINE), ("101 sq ft", State.MEETS)],
)
def test_fifty_square_feet_for_each_of_two(package, hold, room, floor, state):
    hut = package(rooms=room(floor=floor, use="sleep", sleepers="2"))
    assert hold(hut, "floor_per_sleeper", "50 sq ft").state is state


# Nationally described space standard 2015, 10(f). By hand: (15.2 − 3.1) / 6 = 2.02 m².
def test_floor_per_sleeper_leaves_low_floor_out(package, hold, room):
    hut = package(rooms=room("R4", "15.2", "sleep", sleepers="6", low_headroom_m2="3.1"))
    finding = hold(hut, "floor_per_sleeper", "2")
    assert (finding.state, finding.write_value()) == (State.MEETS, "2.02 m²")
    assert finding.steps[0].write() == "(15.2 m² − 3.1 m²) ÷ 6 sleepers = 2.02 m²"


def test_one_who_sleeps_alone_shares_with_nobody(package, hold, room):
    hut = package(
        rooms=[
            room("R1", "4", "sleep", sleepers="1"),
            room("R2", "6", "sleep", sleepers="2"),
            room("R3", "1", "sleep", sleepers="0"),
        ]
    )
    assert [m.subject for m in hold(hut, "floor_per_sleeper", "2").worst_first] == ["R2"]
    assert [m.subject for m in hold(hut, "air_volume_per_sleeper", "5").worst_first] == ["R2", "R1"]


def test_a_sleeping_room_of_unsaid_sleepers_has_no_data(package, hold, room):
    hut = package(rooms=room(use="sleep"))
    for check in ("floor_per_sleeper", "air_volume_per_sleeper"):
        finding = hold(hut, check, "2")
        assert (finding.state, finding.value) == (State.NO_DATA, None)
        assert finding.missing == ("R1, Sleepers (room schedule)",)


def test_more_low_floor_than_floor_is_no_figure(package, hold, room):
    hut = package(rooms=room(floor="5", use="sleep", sleepers="2", low_headroom_m2="5.1"))
    finding = hold(hut, "floor_per_sleeper", "2")
    assert (finding.state, finding.value) == (State.NO_DATA, None)
    assert finding.question.endswith(
        "can't be computed without a figure that can be: floor under 1.5 m is 5.1 m²; expected "
        "at most the floor, 5 m². What will stand there?"
    )


def test_a_floor_that_is_low_all_over_is_no_floor_to_share(package, hold, room):
    hut = package(rooms=room(floor="5", use="sleep", sleepers="2", low_headroom_m2="5"))
    assert hold(hut, "floor_per_sleeper", "2").value == 0


@pytest.mark.parametrize("check", ["floor_per_sleeper", "air_volume_per_sleeper"])
def test_a_package_where_nobody_sleeps_is_not_asked(package, hold, room, check):
    finding = hold(package(rooms=room()), check, "2")
    assert finding.state is State.NOT_ASKED
    assert finding.write_notes() == ("nothing in the schedules that it is asked of",)


# By hand: 16.0 m² × 2.6 m ÷ 8 = 5.20 m³.
@pytest.mark.parametrize(
    ("target", "state"), [("5.0", State.MEETS), ("5.2", State.ON_THE_LINE), ("5.3", State.SHORT)]
)
def test_air_is_floor_times_height_over_sleepers(package, hold, room, target, state):
    hut = package(rooms=room("R4", "16", "sleep", sleepers="8", clear_height_m="2.6"))
    finding = hold(hut, "air_volume_per_sleeper", target)
    assert finding.state is state
    assert finding.steps[0].write() == "16.0 m² × 2.60 m ÷ 8 sleepers = 5.20 m³"


# IRC 2021 R304.1: 70 ft² or, as the same clause prints it, 6.5 m²; kitchens excepted.
def test_the_least_room_floor_excepts_kitchens(package, hold, room):
    hut = package(rooms=[room("R1", "6.5"), room("R2", "3", "kitchen"), room("R3", "1", "wc")])
    finding = hold(hut, "room_floor", "6.5 m²")
    assert (finding.state, finding.subject) == (State.ON_THE_LINE, "R1")
    assert finding.steps[0].write() == "Floor as scheduled: 6.5 m²"
    assert hold(hut, "room_floor", "70 sq ft").state is State.ON_THE_LINE
    assert hold(hut, "room_floor", "7").state is State.SHORT


# IRC 2021 R305.1: 7 ft, printed 2134 mm.
@pytest.mark.parametrize(
    ("height", "state"),
    [
        ("7'", State.ON_THE_LINE),
        ("2134 mm", State.ON_THE_LINE),
        ("6'-11\"", State.SHORT),
        ("7'-1\"", State.MEETS),
    ],
)
def test_seven_feet_is_high_enough(package, hold, room, height, state):
    hut = package(rooms=[room(clear_height_m=height), room("R2", use="wc", clear_height_m="1.9")])
    finding = hold(hut, "clear_height", "2134 mm")
    assert (finding.state, finding.subject) == (state, "R1")


@pytest.mark.parametrize(
    ("check", "cells", "label"),
    [
        ("room_floor", {"floor": ""}, "Floor"),
        ("clear_height", {"clear_height_m": ""}, "Clear height"),
    ],
)
def test_a_blank_size_is_named(package, hold, room, check, cells, label):
    finding = hold(package(rooms=room(**cells)), check, "2")
    assert (finding.state, finding.missing) == (State.NO_DATA, (f"R1, {label} (room schedule)",))


@pytest.mark.parametrize(
    "check",
    ["daylight_ratio", "room_floor", "clear_height", "floor_per_sleeper", "air_volume_per_sleeper"],
)
def test_a_package_without_rooms_has_no_data(package, hold, check):
    finding = hold(package(), check, "2")
    assert finding.state is State.NO_DATA
    assert finding.missing == ("rows of the room schedule",)

"""Where a figure lies: found again by the figure itself, or nothing is picked out."""

import math
from dataclasses import replace

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.checks.decided import DRAWN, Decided, decided
from criteria.findings import Measured
from criteria.package import read_package
from criteria.situations import Situation, states_of
from criteria.walking.of_package import storeys_of
from tests.folding_cabin import DOORS, FURNITURE, ROOMS, TABLES


def at_night(**changed):
    package = read_package({**TABLES, **changed}).package
    return Situation(next(s for s in states_of(package) if s.state == "night")).of(package)


def figures(package, check):
    found = CHECKS[check].measure(package, CHECKS[check].uses)
    return {each.subject: each for each in found}


def test_the_drawn_checks_are_in_the_catalogue():
    assert {*DRAWN} <= {*CHECKS}


@pytest.mark.parametrize(
    "check", ["way_to_bed", "way_to_toilet", "second_way_out", "way_step_free", "way_to_use"]
)
def test_a_way_is_found_again_by_its_width(check):
    package = at_night()
    for subject, measured in figures(package, check).items():
        found = decided(package, check, measured)
        assert found.way_m == pytest.approx(measured.values[0], abs=1e-9), subject
        assert len(found.way) > 1 or subject in storeys_of(package).rooms
        if found.across:
            assert math.dist(*found.across) == pytest.approx(measured.values[0], abs=1e-6)


def test_a_figure_that_no_way_comes_to_picks_nothing_out():
    package = at_night()
    for check in ("way_to_bed", "walked_out", "circle_reached"):
        measured = next(iter(figures(package, check).values()))
        other = replace(measured, values=(0.123,))
        found = decided(package, check, other)
        assert found == Decided(found.storey)


def test_a_door_that_is_narrower_than_the_way_to_it_is_the_narrowest_place():
    """The hatch is 650 mm clear, and nothing before it is as narrow by day."""
    measured = figures(at_night(), "way_to_use")["R3"]
    found = decided(at_night(), "way_to_use", measured)
    hatch = next(gate for gate in found.storey.gates if gate.mark == "D4")
    for width, across in ((measured.values[0], found.across), (hatch.width_m, hatch.gap)):
        assert math.dist(*across) == pytest.approx(width, abs=1e-6)


def test_a_table_is_got_to_by_the_seats_that_stand_at_it():
    package = at_night()
    measured = figures(package, "way_to_use")["R1"]
    (table,) = [step for step in measured.steps if step.amounts[0] == "U2"]
    found = decided(package, "way_to_use", replace(measured, steps=(table,)))
    assert found.way_m == pytest.approx(measured.values[0])


def test_a_room_that_is_reached_is_found_by_its_circle():
    (measured,) = [m for s, m in figures(at_night(), "way_step_free").items() if s == "R2"]
    assert decided(at_night(), "way_step_free", measured).way[-1][0] > 4.9


def test_no_data_is_a_plan_with_nothing_picked_out():
    package = at_night()
    assert decided(package, "way_to_bed", Measured(subject="U1")).way == ()


def test_without_a_plan_there_is_none():
    bare = [{**room, "width_m": "", "depth_m": ""} for room in ROOMS]
    package = at_night(rooms=bare)
    assert decided(package, "way_to_bed", Measured(subject="U1", values=(1.0,))) is None
    assert decided(at_night(), "way_to_bed", Measured(subject="U77")) is None
    over = decided(at_night(), "exits_apart", Measured(subject="D1", values=(1.0,)))
    assert over is not None
    assert (over.way, over.across, over.circle) == ((), None, None)


def test_what_lacks_meanwhile_leaves_the_plan_bare():
    package = at_night(furniture=[{**FURNITURE[3], "front": "sideways"}], furniture_by_state=[])
    found = decided(package, "way_to_bed", Measured(subject="U4", values=(1.0,)))
    assert found == Decided(storeys_of(package).of("R3"))


def test_without_a_main_exit_the_widest_door_is_the_first_and_not_the_second():
    doors = [{**door, "role": ""} if door["mark"] == "D1" else door for door in DOORS]
    package = at_night(doors=doors)
    measured = figures(package, "second_way_out")["U4"]
    assert decided(package, "second_way_out", measured).way_m == measured.values[0]


def test_how_far_it_is_out_over_a_climb_is_no_way_on_this_plan():
    upper = {**ROOMS[2], "mark": "R9", "level": "1"}
    loft = {**FURNITURE[3], "mark": "U9", "room": "R9"}
    climb = {
        "mark": "S1",
        "kind": "ladder",
        "room": "R9",
        "from_room": "R1",
        "rise": "2400",
        "width": "500",
        "foot_x": "1500",
        "foot_y": "2500",
        "head_x": "2500",
        "head_y": "600",
    }
    package = at_night(rooms=[*ROOMS, upper], furniture=[*FURNITURE, loft], climbs=[climb])
    far = figures(package, "walked_out")["U9"]
    assert decided(package, "walked_out", far) == Decided(storeys_of(package).of("R9"))
    wide = figures(package, "way_to_bed")["U9"]
    found = decided(package, "way_to_bed", wide)
    assert found.storey.level == 1
    assert found.way_m in (0.0, pytest.approx(wide.values[0]))
    assert decided(package, "second_way_out", replace(wide, values=(0.123,))).way == ()
    assert decided(package, "way_to_toilet", replace(wide, values=(0.123,))).way == ()


def test_what_isnt_on_the_plan_has_no_floor_before_it():
    rooms = [{**room, "at_x": "", "at_y": ""} for room in ROOMS]
    package = at_night(rooms=rooms)
    (measured,) = figures(package, "room_before").values()
    found = decided(package, "room_before", measured)
    assert {strip.mark for strip in found.strips} == {"U1", "U2", "U3", "U6"}
    (doors,) = figures(package, "doors_open_fully").values()
    assert [leaf.mark for leaf in decided(package, "doors_open_fully", doors).leaves] == ["D1"]

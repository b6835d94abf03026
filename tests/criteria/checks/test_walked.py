"""How far it is walked to outside, and which turning circle is reached; by hand and by oracle."""

import math

import pytest

from criteria.findings import State
from tests.criteria.checks.test_ways import BED, DOOR, ON_ONE_PLAN, ROOM, bed, cabin, piece

__all__ = ["cabin"]

# the nearest place beside the bed, a tenth along its side and 600 mm off: (4.2, 1.5); the middle
# of the door: (1.45, 0). Nothing stands within 200 mm of the line between them.
STRAIGHT_M = math.hypot(4.2 - 1.45, 1.5)


def test_from_a_bed_to_outside_is_as_far_as_it_is_walked(cabin, hold):
    finding = hold(cabin(BED), "walked_out", "9")
    assert finding.value == pytest.approx(STRAIGHT_M, rel=1e-9)
    assert finding.steps[0].write() == "U1 to outside by D1: 3.1 m"


def test_what_stands_in_the_line_is_walked_round(cabin, hold):
    """A screen at x = 3 to y = 1.4: never shorter than its end with 200 mm kept, and 1 % at most
    longer than the two straights about that corner."""
    finding = hold(cabin(BED, piece("U2", 3, 3.05, 0, 1.4)), "walked_out", "9")
    assert finding.value > math.dist((4.2, 1.5), (3, 1.6)) + math.dist((3, 1.6), (1.45, 0)) - 0.1
    assert finding.value < 1.03 * (math.dist((4.2, 1.5), (3, 1.6)) + math.dist((3, 1.6), (1.45, 0)))


def test_the_nearer_door_is_walked_to(cabin, hold):
    near = DOOR | {"mark": "D2", "role": "other exit", "left": "2800"}
    finding = hold(cabin(BED, doors=[DOOR, near]), "walked_out", "9")
    # its middle lies 6 − 2.8 − 0.45 = 2.75 m from the left
    assert finding.value == pytest.approx(math.hypot(4.2 - 2.75, 1.5), rel=1e-9)
    assert "by D2" in finding.steps[0].write()


def test_where_no_walker_gets_through_it_is_no_distance(cabin, hold):
    finding = hold(cabin(BED, piece("U2", 3, 3.1, 0, 2.1)), "walked_out", "9")
    assert finding.state is State.NO_DATA
    assert finding.missing == ("a way out as wide as a walker, 400 mm, from U1",)


@pytest.mark.parametrize(("said", "differs"), [("3.2", False), ("3.3", True), ("", False)])
def test_a_way_that_was_typed_is_held_to_what_is_walked(cabin, hold, said, differs):
    finding = hold(cabin(BED, ways_out={"furthest_m": said}), "walked_out", "9")
    words = "the schedule of ways out says 3.3 m, walked it is 3.1 m"
    assert (words in [note.write() for note in finding.notes]) is differs


def test_seats_are_walked_from_by_day_and_beds_at_night(cabin, hold):
    bench = piece("U2", 2.2, 3.2, 2, 2.4, kind="seat", day="2", night="0")
    finding = hold(cabin(bed("U1", 4, 6, 0, 0.9), bench), "walked_out", "9")
    assert {m.subject for m in finding.worst_first} == {"U1", "U2"}


DAY = ROOM | {"use": "day"}


@pytest.mark.parametrize(("screen_m", "circle_m"), [(1.65, 2.0), (1.55, 2.4)])
def test_the_circle_behind_a_way_too_narrow_is_not_reached(cabin, hold, screen_m, circle_m):
    """As oracle states-walk “behind a narrow place”: 0.75 m beside the screen is less than 32 in,
    which leaves the 2.0 m circle of the front room; 0.85 m reaches the 2.4 m one behind."""
    door = DOOR | {"leaf_w": "1000", "clear_w": "1000", "left": "4700"}
    screen = piece("U2", 2, 2.1, 0, screen_m)
    finding = hold(cabin(screen, rooms=DAY, doors=door), "circle_reached", "1525")
    assert finding.value == pytest.approx(circle_m, abs=0.001)


def test_a_door_too_narrow_for_a_chair_leaves_no_circle(cabin, hold):
    there = cabin(piece("U2", 3, 3.1, 0, 0.1), rooms=DAY, doors=DOOR | {"clear_w": "800"})
    finding = hold(there, "circle_reached", "1525")
    assert (finding.state, finding.value) == (State.SHORT, 0)
    assert finding.notes[0].write() == "R1: no circle wider than 813 mm by a way of that width"


def test_a_circle_that_was_typed_is_held_to_what_is_reached(cabin, hold):
    rooms = DAY | ON_ONE_PLAN | {"turning_mm": "1500"}
    finding = hold(cabin(piece("U2", 5.9, 6, 0, 0.1), rooms=rooms), "circle_reached", "1525")
    words = "R1 says a turning circle of 1\u202f500 mm, reached is 2\u202f399 mm"
    assert finding.notes[0].write() == words


def test_an_empty_plan_turns_nobody(cabin, hold):
    bare = piece("U2", 2, 3, 0, 1) | {"plan_x": "", "l": ""}
    finding = hold(cabin(bare, rooms=DAY), "circle_reached", "1525")
    assert finding.state is State.NO_DATA
    assert "U2, Length (furniture schedule)" in finding.missing

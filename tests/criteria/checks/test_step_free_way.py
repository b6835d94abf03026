"""The step-free way in the hut of the ways' tests: hall, bunk room and toilet on one plan."""

from criteria.findings import State
from tests.criteria.checks.test_ways import BUNKS, HALL, WC, bed, hut

__all__ = ["hut"]

ONE = {"mark": "O1", "who": "One who can't climb", "n": "1", "step_free": "1"}
TWO = ONE | {"n": "4", "step_free": "2"}


def marks(finding) -> list[tuple[str, int]]:
    return [(m.subject, round(1000 * m.values[0])) for m in finding.worst_first if m.values]


def test_a_bed_and_a_toilet_are_reached_by_their_doors(hut, hold):
    """The bunk by D2 of 700 mm, the toilet by D3 of 650: the narrower decides."""
    finding = hold(hut(occupants=ONE), "way_step_free", "815")
    assert marks(finding) == [("R3", 650), ("U1", 700)]
    assert finding.state is State.SHORT
    assert finding.notes[0].write() == "R3 is reached by 650 mm, in D3"


def test_as_many_of_the_widest_reached_beds_count_as_are_needed(hut, hold):
    """A second bed stands 0.5 m off the end of the first, and is used from that side alone."""
    beside = bed("U2", 2.5, 3, 2, 3, room="R2")
    one = hold(hut(beside, occupants=ONE), "way_step_free", "600")
    two = hold(hut(beside, occupants=TWO), "way_step_free", "600")
    assert (one.state, marks(one)) == (State.MEETS, [("R3", 650), ("U1", 700)])
    assert (two.state, marks(two)) == (State.SHORT, [("U2", 500), ("R3", 650), ("U1", 700)])


def test_a_bed_up_a_ladder_is_none(hut, hold):
    there = hut(occupants=ONE)
    up = there.but(furniture=tuple(row.but(reached_by="ladder") for row in there.furniture))
    finding = hold(up, "way_step_free", "600")
    assert finding.missing == ("a bed that is got into from the floor (furniture schedule)",)


def test_without_a_toilet_there_is_no_verdict(hut, hold):
    finding = hold(hut(rooms=(HALL, BUNKS), occupants=ONE), "way_step_free", "600")
    assert finding.missing == ("a toilet, a room of use wc (room schedule)",)


def test_a_toilet_smaller_than_its_door_is_narrow_in_itself(hut, hold):
    small = WC | {"width_m": "0.6", "depth_m": "0.6", "at_x": "4.5", "floor_m2": "0.36"}
    finding = hold(hut(rooms=(HALL, BUNKS, small), occupants=ONE), "way_step_free", "700")
    assert marks(finding) == [("R3", 600), ("U1", 700)]
    assert finding.notes[0].write() == "R3 is reached by 600 mm, in R3 itself"

import numpy as np
import pytest
from scipy import stats

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.rooms import gap_of_rooms
from criteria.scoring.severity import analyse
from tests.criteria.scoring.tables import table_of

ROOM_A, ROOM_B = (
    {"Hesper Quill", "Bea Lantry", "Odell Brannick"},
    {
        "Marek Ostrey",
        "Cass Ferro",
        "Pia Norrow",
    },
)


# By hand: the means of two jurors on the first two rows; 12 levels less 4 schemes and 3 jurors.
def test_the_gap_is_of_means_on_what_both_saw_and_its_error_of_the_whole_table():
    rows = [[3, 4, 5, 6], [2, 5, 4, 4], [1, 2, None, None], [None, None, 5, 3]]
    severity = analyse(table_of(rows, jurors="ABCD"))
    found = gap_of_rooms(severity, "AB", "CD")
    assert found.value == pytest.approx((3.5 - 5.5 + 3.5 - 4) / 2)
    square = severity.components.residual_square * 2 * (1 / 2 + 1 / 2) / 4
    half = float(stats.t.ppf(0.975, 12 - 4 - 3)) * np.sqrt(square)
    assert found.interval == pytest.approx((found.value - half, found.value + half))
    assert found.method == "t on 5"


def test_a_room_is_the_other_way_round_with_the_other_sign(both_rooms):
    severity = analyse(both_rooms.totals)
    found, other = (
        gap_of_rooms(severity, *rooms) for rooms in ((ROOM_A, ROOM_B), (ROOM_B, ROOM_A))
    )
    assert found.value == pytest.approx(-other.value)
    assert found.interval == pytest.approx(tuple(-end for end in reversed(other.interval)))


# Printed: "Room A marked the same two schemes -0.53 level on average against Room B."
def test_the_opening_pair_of_the_demo_tells_the_rooms_apart_by_no_more_than_chance(both_rooms):
    found = gap_of_rooms(analyse(both_rooms.totals), ROOM_A, ROOM_B)
    assert found.value == pytest.approx(-0.533, abs=5e-4)
    assert found.holds(0)


def test_rooms_that_saw_nothing_in_common_are_not_compared():
    severity = analyse(table_of([[1, 2, None, None], [None, None, 3, 5]], jurors="ABCD"))
    assert gap_of_rooms(severity, "AB", "CD") == NotAvailable("no scheme was seen by both rooms")
    assert gap_of_rooms(severity, "AB", "X") == NotAvailable("no scheme was seen by both rooms")


def test_without_anything_left_over_there_is_a_gap_and_no_interval():
    found = gap_of_rooms(analyse(table_of([[1, 3]], jurors="AB")), "A", "B")
    assert found.value == -2
    assert found.interval == NotAvailable(
        "too few levels: severity and scatter can't be told apart"
    )

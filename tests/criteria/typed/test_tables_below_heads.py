"""What may stand below the heads of a table: what columns are called, and their units."""

import pytest

from criteria.schedules import BY_SLUG
from criteria.typed.tables import read_grid

WINDOWS = BY_SLUG["windows"]

BELOW = ("Mark *", "Room", "Sill", "Glass w", "As it was called last year")
"""What stands below the heads of a sheet that is copied out of a workbook whole."""


@pytest.mark.parametrize(
    ("below", "sill", "glass_w"),
    [
        ([], "27", "1240"),
        ([BELOW], "27", "1240"),
        ([("", "", "in", "mm", "")], "27 in", "1240"),
        ([BELOW, ("", "", "in", "kg", "")], "27 in", "1240 kg"),
        ([BELOW, ("", "", "in")], "27 in", "1240"),
    ],
)
def test_labels_and_units_below_the_heads_are_no_rows(below, sill, glass_w):
    heads = ["mark", "room", "sill", "glass_w", "glass_h"]
    reading = read_grid(WINDOWS, [heads, *below, ["W1", "R1", "27", "1240", "900 mm"]])
    (record,) = reading.records
    assert (record["mark"], record["sill"], record["glass_w"]) == ("W1", sill, glass_w)


def test_a_unit_in_the_head_stands_before_the_one_below_it():
    reading = read_grid(WINDOWS, [["mark", "sill [ft]"], ["", "in"], ["W1", "2"]])
    assert reading.records[0]["sill"] == "2 ft"


@pytest.mark.parametrize(
    "line", [["W2", "in"], ["", "27"], ["", "27 in"], ["Mark", "27"], ["", "high"]]
)
def test_a_row_is_not_taken_for_labels_or_units(line):
    reading = read_grid(WINDOWS, [["mark", "sill"], line, ["W1", "700"]])
    assert [record["sill"] for record in reading.records] == [line[1], "700"]


def test_a_first_line_of_heads_alone_may_have_labels_and_units_and_no_row():
    assert read_grid(WINDOWS, [["mark", "sill"], ["Mark", "Sill"], ["", "mm"]]).records == ()
    beside = read_grid(WINDOWS, [["mark", "colour", "sill"], ["", "red", "mm"], ["W1", "", "7"]])
    assert beside.records[0]["sill"] == "7"

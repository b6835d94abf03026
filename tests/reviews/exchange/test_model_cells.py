"""Cells that models propose: each as its column takes it, and told where it doesn't."""

from __future__ import annotations

import math

import pytest

from reviews.exchange.model_cells import RowMade, named, told, use_of
from reviews.exchange.proposed import How


def test_a_figure_is_in_the_columns_metric_unit():
    row = RowMade("windows")
    row.figure("frame_w", 1.2004, How.MEASURED)
    row.figure("u", 0.85004, How.WRITTEN)
    assert {head: cell.text for head, cell in row.cells.items()} == {"frame_w": "1200", "u": "0.85"}
    layer = RowMade("envelope")
    layer.figure("mm", 0.0125, How.WRITTEN)
    assert layer.cells["mm"].text == "12.5"


@pytest.mark.parametrize("figure", [None, math.inf, math.nan])
def test_what_is_no_figure_is_no_cell(figure: float | None):
    row = RowMade("windows")
    row.figure("frame_w", figure, How.MEASURED)
    assert not row.cells
    assert not told([row])


def test_what_a_column_refuses_is_told_with_the_rows_mark():
    row = RowMade("windows")
    row.words("mark", "W7")
    row.figure("frame_w", 90.0, How.MEASURED)
    row.words("opens", "by prayer")
    assert list(row.cells) == ["mark"]
    assert told([row]) == [
        "W7: left out as beyond what the schedule takes: Frame w 90000, Opens by prayer."
    ]


def test_words_are_on_one_line_and_no_longer_than_their_column():
    row = RowMade("rooms")
    row.words("room", "  Day\n room " + "x" * 400)
    assert row.cells["room"].text.startswith("Day room x")
    assert len(row.cells["room"].text) == 200
    row.words("room", "   ")
    assert row.cells["room"].text.startswith("Day room x")


def test_many_marks_are_counted():
    assert named(["W1"]) == "W1"
    assert named([f"W{n}" for n in range(1, 9)]).endswith("W7 and W8")
    assert named([f"W{n}" for n in range(1, 13)]) == "W1, W2, W3 and 9 more"


@pytest.mark.parametrize(
    ("name", "use"),
    [
        ("Bad", "wc"),
        ("Badminton hall", "circulation"),
        ("Bedroom 2", "sleep"),
        ("KÜCHE", "kitchen"),
        ("Wohnzimmer", "day"),
        ("HWR", "plant"),
        ("Labour ward", ""),
        ("Room 10", ""),
        ("", ""),
    ],
)
def test_a_use_is_guessed_of_whole_words_alone(name: str, use: str):
    assert use_of(name) == use

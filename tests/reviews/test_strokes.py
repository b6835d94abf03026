"""Points and strokes are bounded and checked before anything is kept."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import Refused
from reviews.places import COLUMNS, ROWS, Point, middle_of
from reviews.strokes import (
    MOST_IN_ALL,
    MOST_POINTS,
    MOST_STROKES,
    read_point,
    read_strokes,
    strokes_kept,
    write_strokes,
)

PARTS = st.integers(0, 10_000).map(lambda n: n / 10_000)
STROKES = st.lists(st.lists(st.tuples(PARTS, PARTS), min_size=2, max_size=9), max_size=5)


@given(STROKES)
def test_what_is_written_is_read_again(drawn):
    strokes = strokes_kept(drawn)
    assert read_strokes(write_strokes(strokes)) == strokes


@pytest.mark.parametrize(
    ("sent", "read", "expected"),
    [
        (" ".join(["0.5"] * 40_000), "a stroke of 20000 points", f"at most {MOST_POINTS}"),
        (";".join(["0 0 1 1"] * 61), "61 strokes", f"at most {MOST_STROKES}"),
        (";".join([" ".join(["0.5"] * 700)] * 6), "strokes of 2100", f"at most {MOST_IN_ALL}"),
        ("nan 0 1 1", "nan", "a part of the sheet from 0 to 1"),
        ("0 0 1e999 1", "1e999", "from 0 to 1"),
        ("0 0 1.0001 1", "1.0001", "from 0 to 1"),
        ("-0.1 0 1 1", "-0.1", "from 0 to 1"),
        ("0 0 1 1 0.5", "5 numbers", "each point is two"),
        ("0.5 0.5", "0.5 0.5", "at least two points"),
        ("[[0,0],[1,1]] x", "[[0", "at least two points"),
        ("١ 0 1 1", "١", "from 0 to 1"),
    ],
)
def test_what_is_endless_or_leaves_the_sheet_is_refused_in_words(sent, read, expected):
    with pytest.raises(Refused) as refused:
        read_strokes(sent)
    assert read in str(refused.value.read)
    assert expected in refused.value.expected


@pytest.mark.parametrize("sent", ["0.5", "0.5 0.5 0.5 0.5", "NaN 0.2", "0.2 2"])
def test_what_is_no_point_is_refused(sent):
    with pytest.raises(Refused, match=r"from 0 to 1|each point is two"):
        read_point(sent)


def test_every_square_holds_its_upper_left_edge_and_the_sheet_its_last():
    for row, letter in enumerate(ROWS):
        for column, figure in enumerate(COLUMNS):
            zone = letter + figure
            assert Point(column / 6, row / 4).zone == zone
            assert Point((column + 0.9999) / 6, (row + 0.9999) / 4).zone == zone
            assert middle_of(zone).zone == zone
    assert [Point(1, 0).zone, Point(0, 1).zone, Point(1, 1).zone] == ["A6", "D1", "D6"]

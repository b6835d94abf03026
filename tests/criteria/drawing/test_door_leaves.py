"""Doors drawn: leaf, clear width and swing on paper are those of the rows."""

import pytest

from criteria.drawing.door_leaves import DOORS
from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Measured
from criteria.package import read_package
from tests.criteria.drawing.seen import (
    boxes,
    drawn,
    in_each_field,
    seen_of,
    touched,
    touches,
    words,
)


def door(mark, leaf, clear, **cells):
    row = {"mark": mark, "place": "Porch", "leaf_w": leaf, "clear_w": clear, "height": "2100"}
    return row | {"swing": "in", "hinge": "left", "step_free": "yes", "threshold_mm": "20"} | cells


ROWS = [
    door("D1", "1000", "905", outside="yes"),
    door("D2", "800", "750", swing="out", hinge="right", threshold_mm="0"),
    door("D3", "900", "820", swing="slides", hinge="", step_free="no"),
]
WIDE = ("step_free_doors", "at least", "815")


def tables(*rows):
    return {"doors": [*(rows or ROWS)]}


def leaves(drawing, row):
    return boxes(touched(drawing, row), fill=Fill.PAPER)[0]


@pytest.mark.parametrize(
    "asks",
    [WIDE, ("step_free_thresholds", "at most", "13"), ("door_swings", "all", "yes")],
    ids=lambda asks: asks[0],
)
def test_letters_keep_their_height_and_their_distance(asks):
    assert len(in_each_field(tables(), asks[0], asks)) == 4


def test_leaves_and_what_is_clear_of_them_are_to_scale():
    drawing = drawn(tables(), "step_free_doors", WIDE)
    assert drawing.scale == "1:50"
    left, top, right, foot = leaves(drawing, "D1")
    assert (right - left, foot - top) == pytest.approx((20, 42))
    (clear,) = [
        m.points
        for m in touched(drawing, "D1")
        if isinstance(m, Path)
        and len(m.points) == 2
        and m.points[0][0] == right
        and m.pen is Pen.SEEN
    ]
    assert clear[0][0] - clear[1][0] == pytest.approx(905 / 50)  # from the latch, at the right
    assert {"905", "750", "820", "opens in", "opens out", "slides", "threshold 20"} <= words(
        drawing
    )


def test_what_a_door_is_short_of_is_drawn_beside_what_is_clear():
    drawing = drawn(tables(), "step_free_doors", WIDE)
    (short,) = boxes(touched(drawing, "D2"), tone=Tone.SHORT)
    assert short[2] - short[0] == pytest.approx(65 / 50)
    assert short[0] - leaves(drawing, "D2")[0] == pytest.approx(750 / 50)
    assert [m.tone for m in drawing.letters if m.words == "750"] == [Tone.SHORT]
    assert not boxes(touched(drawing, "D1"), tone=Tone.SHORT)
    assert not boxes(touched(drawing, "D3"), tone=Tone.SHORT)  # not on the step-free way


def test_a_leaf_turns_on_its_hinge_the_way_it_swings():
    drawing = drawn(tables(), "door_swings")

    def turned(row):
        arcs = [
            m.points for m in touched(drawing, row) if isinstance(m, Path) and len(m.points) > 4
        ]
        return [(one[-1][0] - one[0][0], one[-1][1] - one[0][1]) for one in arcs]

    assert turned("D1") == [pytest.approx((-20, 20))]  # to the hinge at the left, into the room
    assert turned("D2") == [pytest.approx((16, -16))]
    assert turned("D3") == []
    hung = [m for m in touched(drawing, "D1") if isinstance(m, Strokes) and m.pen is Pen.HATCH]
    ends = {segment[1] for segment in hung[0].segments}
    left, top, _, foot = leaves(drawing, "D1")
    assert ends == {(left, (top + foot) / 2)}


def test_each_lettered_figure_is_the_rows_or_the_findings():
    seen = seen_of(tables(), "step_free_doors", WIDE)
    drawing = DOORS.ready(seen).of(Field())
    values = {m.values[0] for m in seen.findings["step_free_doors"].worst_first}
    assert {f.amount.si for f in drawing.figures} == values | {0.82, 0.815}


def test_what_isnt_given_is_dashed_and_named():
    rows = [
        door("D1", "", "750", height="", hinge=""),
        door("D2", "900", "", swing=""),
        door("D3", "", ""),
    ]
    drawing = drawn(tables(*rows), "door_swings")
    assert [gap.says for gap in drawing.gaps] == [
        "D1: leaf not given",
        "D1: height not given",
        "D1: hinge not given",
        "D2: clear not given",
        "D2: swing not given",
        "D3: leaf and clear width not given",
    ]
    assert set(touches(drawing)) == {"D1", "D2"}
    assert drawing.says.endswith("D3: leaf and clear width not given.")


def test_two_hundred_doors_and_a_huge_one_stay_on_a_sheet():
    many = [door(f"D{n}", "900", "820") for n in range(200)]
    for drawing in in_each_field(tables(*many), "step_free_doors", WIDE):
        assert drawing.key[0].endswith(", D199")
    in_each_field(tables(door("D1", "6000", "6000", height="6000")), "step_free_doors", WIDE)
    in_each_field(
        tables(door("D1", "300", "100")), "step_free_doors", ("step_free_doors", "at least", "60 m")
    )


def test_where_no_door_can_be_drawn_nothing_is():
    for rows in ([door("D1", "", "")], [ROWS[0], ROWS[0]]):
        package = read_package({"doors": rows}).package
        asked = Asked(title="", measured=Measured())
        assert DOORS.ready(Seen(package=package, check="door_swings", asked=asked)) is None


def test_a_threshold_that_cant_be_read_is_named():
    drawing = drawn({"doors": [door("D1", "905", "820", threshold_mm="a step")]}, "door_swings")
    assert [gap.says for gap in drawing.gaps] == ["D1: threshold can't be read"]
    assert any(each.startswith("threshold can't") for each in words(drawing))

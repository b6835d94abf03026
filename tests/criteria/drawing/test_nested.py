"""Pieces in pieces, drawn: the inside and what goes in to one scale, and what is too large."""

import pytest

from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.checks.test_transport import OUTER
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, strokes, touched, words

CLEAR = ("nesting_clearance", "at least", "15 mm")


def inner(mark, *sizes, **cells):
    names = dict(zip(("l_m", "w_m", "h_m"), sizes, strict=True))
    return {"mark": mark, "piece": "Drawer", "n": "1", "packs_into": "M1", **names, **cells}


TABLES = {"pieces": [OUTER, inner("M2", "1.9", "0.96", "0.98"), inner("M3", "2.1", "1.2", "0.9")]}


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, CLEAR[0], CLEAR):
        assert {"M2 in M1", "M3 in M1"} <= words(drawing)


# 1.0 less 0.98 is 10 mm each side; across the next side it is 1.0 less 0.96.
def test_inside_and_piece_are_as_large_by_their_tightest_sides():
    drawing = drawn(TABLES, CLEAR[0], CLEAR)
    assert drawing.scale == "1:50"
    marks = touched(drawing, "M2")
    ((left, top, right, foot),) = boxes(marks, pen=Pen.CUT)
    assert (right - left, foot - top) == pytest.approx((20.0, 20.0))
    ((in_left, in_top, in_right, _),) = boxes(marks, fill=Fill.TRACE)
    assert (in_right - in_left, foot - in_top) == pytest.approx((19.6, 19.2))
    assert in_left - left == pytest.approx(0.2)
    assert any(each.words.startswith("10 mm, 5 short") for each in drawing.letters)


def test_what_is_larger_than_the_inside_is_hatched_where_it_sticks_out():
    marks = touched(drawn(TABLES, CLEAR[0], CLEAR), "M3")
    assert len(strokes(marks, tone=Tone.SHORT)) == 2
    assert not strokes(touched(drawn(TABLES, CLEAR[0], CLEAR), "M2"), tone=Tone.SHORT)


def test_what_isnt_given_is_named_and_what_nests_in_another_state_left_out():
    bare = inner("M4", "1", "", "1")
    drawing = drawn({"pieces": [*TABLES["pieces"], bare]}, CLEAR[0])
    assert [gap.says for gap in drawing.gaps] == ["M4: width not given"]
    states = [{"state": "packed", "kind": "road"}, {"state": "hung", "kind": "lift"}]
    free = inner("M5", "1", "0.5", "0.5") | {"packs_into": ""}
    moved = [{"mark": "M5", "state": "packed", "inside": "M1"}]
    rows = {"pieces": [*TABLES["pieces"], free], "states": states, "pieces_by_state": moved}
    assert "M5 in M1" not in words(drawn(rows, CLEAR[0]))
    assert drawn({"pieces": [free]}, CLEAR[0]) is None

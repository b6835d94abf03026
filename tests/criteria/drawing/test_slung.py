"""Slings, drawn: the middle of the piece, the least slope, and what one leg carries."""

import math

import pytest

from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Pen, Tone
from tests.criteria.checks.test_slings import PANEL
from tests.criteria.drawing.seen import drawn, in_each_field, words

LOW = PANEL | {"mark": "M2", "h_m": "1.4", "sling": "30", "eye_h_m": "0.1"}
TABLES = {"pieces": [PANEL, LOW]}
LEG = ("sling_tension", "at most", "500 kg")


def heavy(drawing):
    return [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]


def middle_line(drawing):
    return [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.DATUM]


@pytest.mark.parametrize("check", ["sling_tension", "lifting_eyes"])
def test_it_is_drawn_by_the_rules_in_each_width_and_system(check):
    for drawing in in_each_field(TABLES, check, LEG):
        assert any(each.words.startswith("4 × M2") for each in drawing.letters)


def test_what_one_leg_carries_stands_beside_what_it_may():
    drawing = drawn(TABLES, "sling_tension", LEG)
    assert "610 kg, at most 500, 110 over" in words(drawing)
    (centre,) = [m for m in drawing.marks if isinstance(m, Disc) and m.pen is Pen.FINE]
    assert not heavy(drawing)[1:]
    assert centre.radius_mm == pytest.approx(1.7)


def test_a_flat_sling_is_drawn_under_the_slope_it_needs_and_low_eyes_under_the_middle():
    drawing = drawn(TABLES, "lifting_eyes")
    (least,) = heavy(drawing)
    (x, y), (to_x, to_y) = least.points
    assert math.degrees(math.atan2(y - to_y, to_x - x)) == pytest.approx(45.0)
    assert least.tone is Tone.SHORT
    (level,) = middle_line(drawing)
    assert level.tone is Tone.SHORT
    assert y - level.points[0][1] == pytest.approx((1.4 / 2 - 0.1) * 10)  # 1:100
    fine = drawn({"pieces": [PANEL]}, "lifting_eyes")
    assert {m.tone for m in (*heavy(fine), *middle_line(fine))} == {Tone.INK, Tone.GRAPHITE}


def test_what_isnt_given_is_named_and_what_isnt_slung_left_out():
    carried = PANEL | {"mark": "M3", "eyes": "0"}
    inside = PANEL | {"mark": "M4", "packs_into": "M1"}
    bare = PANEL | {"mark": "M5", "sling": "", "n": ""}
    drawing = drawn({"pieces": [PANEL, carried, inside, bare]}, "sling_tension")
    assert [gap.says for gap in drawing.gaps] == ["M5: slope of its sling not given"]
    assert drawn({"pieces": [carried]}, "sling_tension") is None

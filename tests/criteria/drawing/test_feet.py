"""What a building stands on, drawn: where pieces and feet stand, margins and loads."""

import pytest

from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.checks.test_standing import FEET, box, legs
from tests.criteria.drawing.seen import drawn, in_each_field, touched, touches, words

TABLES = {"pieces": [box()], "legs": legs(), "site": [{"people": "4"}]}
TARGETS = [("centre_in_feet", "at least", "500 mm"), ("leg_load", "at most", "400 kg")]
CHECKS = [target[0] for target in TARGETS]


def changed(**tables):
    return {**TABLES, **tables}


def loads(drawing, mark):
    return [m for m in touched(drawing, mark) if isinstance(m, Disc) and m.radius_mm > 2]


@pytest.mark.parametrize("check", CHECKS)
def test_it_is_drawn_by_the_rules_in_each_width_and_system(check):
    for drawing in in_each_field(TABLES, check, *TARGETS):
        assert drawing.gaps == ()
        assert {"M1", "centre of mass"} <= words(drawing) | set(drawing.key)


def test_pieces_and_feet_stand_where_their_rows_say():
    drawing = drawn(TABLES, "centre_in_feet")
    assert drawing.scale == "1:50"
    (piece,) = touched(drawing, "M1")
    (left, foot), (right, _), (_, top), _ = piece.points
    assert (right - left, foot - top) == pytest.approx((80.0, 40.0))
    feet = [touched(drawing, f"G{n}")[-1].middle for n in (1, 2, 3, 4)]
    assert feet == [pytest.approx((left + 20 * x, foot - 20 * y)) for x, y in FEET]


# 1,000 kg at (2, 1) and 300 kg in a corner: the centre stands 0.7692 m inside the long edge.
def test_the_centre_comes_as_near_to_its_edge_as_the_check_says():
    drawing = drawn(TABLES, "centre_in_feet", TARGETS[0])
    empty = drawn(changed(site=[{"people": "1"}]), "centre_in_feet", TARGETS[0])
    (edge,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    centres = [m.middle for m in drawing.marks if isinstance(m, Disc) and m.fill is Fill.PAPER]
    away = min(abs(edge.points[0][1] - y) for _, y in centres)
    assert away == pytest.approx((1 - 300 / 1300) * 20)
    assert {"769 mm", "769 mm inside", "4 people, 300 kg"} <= words(drawing)
    assert "1 people, 75 kg" in words(empty)


def test_without_people_the_centre_stays_where_it_is():
    states = [{"state": kind, "kind": kind, "people": "0"} for kind in ("day", "night")]
    drawing = drawn(changed(states=states), "centre_in_feet")
    centres = [m for m in drawing.marks if isinstance(m, Disc) and m.fill is Fill.PAPER]
    assert len(centres) == 1
    assert "1\u202f000 mm inside" in words(drawing)


# 1,000 kg at 2 m, 3,000 kg at 5.5 m, 300 kg at 7 m: their centre at 4.791 m, the last feet at 4 m.
def test_what_tips_is_said_to_lie_beyond_the_feet():
    heavy = [box(), box("M2", x="4", length="3", kg="3000")]
    drawing = drawn(changed(pieces=heavy), "centre_in_feet", TARGETS[0])
    (said,) = [each for each in drawing.letters if "beyond the feet" in each.words]
    assert said.tone is Tone.SHORT
    assert said.words == "791 mm beyond the feet"
    near = [box(), box("M2", x="4", length="3", kg="668")]
    drawing = drawn(changed(pieces=near), "centre_in_feet")
    assert "50 mm inside" in words(drawing)  # too near to its edge for an arrow
    assert not [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.INK][4:]


def test_loads_are_circles_as_large_as_they_are_within_one_of_what_may_be():
    drawing = drawn(TABLES, "leg_load", TARGETS[1])
    found = {each.what: each.amount.si for each in drawing.figures}
    load, limit = loads(drawing, "G1")
    ratio = (load.radius_mm / limit.radius_mm) ** 2
    assert ratio == pytest.approx(found["G1 carries"] / 400)
    assert load.tone is Tone.SHORT
    (bare,) = loads(drawn(TABLES, "leg_load"), "G1")
    assert bare.pen is Pen.CUT or bare.pen is Pen.SEEN
    assert not loads(drawn(TABLES, "centre_in_feet"), "G1")


def test_what_has_no_place_or_weight_is_named_and_the_rest_drawn():
    pieces = [box(kg=""), box("M2", x="")]
    feet = [*legs()[:3], {"mark": "G4", "x_m": "1"}]
    drawing = drawn(changed(pieces=pieces, legs=feet), "leg_load")
    said = {gap.says for gap in drawing.gaps}
    assert said == {"M1: weight not given", "M2: x_m not given", "G4: y_m not given"}
    assert "not known" in words(drawing)
    line = drawn(changed(legs=legs(FEET[:2])), "centre_in_feet")
    assert not [m for m in line.marks if isinstance(m, Path) and m.pen is Pen.DATUM]
    assert drawn({"pieces": [box()]}, "centre_in_feet") is not None
    for tables in ({}, {"pieces": [{"mark": "", "piece": "?"}], "legs": legs()}):
        assert drawn(tables, "centre_in_feet") is None


def test_what_packs_into_another_isnt_drawn_on_its_own():
    inside = box("M2", x="", packs_into="M1")
    drawing = drawn(changed(pieces=[box(), inside]), "centre_in_feet")
    assert {*touches(drawing)} == {"M1", "G1", "G2", "G3", "G4"}
    assert "2\u202f000 kg" not in words(drawing)


def test_many_feet_that_stand_close_leave_words_to_the_key():
    close = [(0.05 * n, 0.05 * (n % 3)) for n in range(60)]
    drawing = drawn(changed(legs=legs(close)), "centre_in_feet")
    assert drawing.key

"""Climbs, drawn: risers and treads as typed, headroom over the nosings, faults named."""

import pytest

from criteria.drawing.marks import Path
from criteria.drawing.pens import Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, touched, touches, words

STAIR = {"mark": "K1", "place": "To the loft", "kind": "loft stair", "rise": "2100", "risers": "8",
         "tread": "160", "width": "560", "headroom": "1900", "rail": "yes"}  # fmt: skip
STEEP = STAIR | {"mark": "K2", "kind": "stair", "headroom": "1800", "rail": "no"}
LADDER = {"mark": "K3", "kind": "ladder", "rise": "1500", "risers": "5", "width": "400"}
TABLES = {"climbs": [STAIR, STEEP, LADDER]}
ALL = ("loft_stair", "all", "yes")


def lines(drawing, mark, pen):
    return [m for m in touched(drawing, mark) if isinstance(m, Path) and m.pen is pen]


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, ALL[0], ALL):
        assert {*touches(drawing), *drawing.key} == {"K1", "K2", "K3"}
        assert next(iter(touches(drawing))) == "K2"


def test_steps_are_as_high_and_deep_as_their_row():
    drawing = drawn({"climbs": [STAIR]}, ALL[0])
    assert drawing.scale == "1:100"
    (steps,) = lines(drawing, "K1", Pen.SEEN)
    (x, y), *_, (to_x, to_y) = steps.points
    assert (to_x - x, y - to_y) == pytest.approx((7 * 1.6, 21.0))
    assert len(steps.points) == 16
    (over,) = lines(drawing, "K1", Pen.DATUM)
    assert to_y - over.points[1][1] == pytest.approx(19.0)
    assert "2\u202f100" in words(drawing)


def test_what_is_wrong_is_red_and_said_in_words():
    drawing = drawn(TABLES, ALL[0], ALL)
    assert {m.tone for m in lines(drawing, "K2", Pen.DATUM)} == {Tone.SHORT}
    said = " ".join(m.words for m in drawing.letters if m.tone is Tone.SHORT)
    assert "riser, tread, width, headroom" in said
    assert {m.tone for m in lines(drawing, "K1", Pen.DATUM)} == {Tone.GRAPHITE}
    assert lines(drawing, "K3", Pen.DATUM) == []


def test_what_isnt_given_is_named_and_without_rise_nothing_is_drawn():
    bare = STAIR | {"headroom": "", "rail": "", "mark": "K4", "kind": ""}
    unsaid = STAIR | {"tread": "", "mark": "K5"}
    flat = STAIR | {"rise": "", "mark": "K6"}
    drawing = drawn({"climbs": [bare, unsaid, flat, LADDER | {"width": ""}]}, ALL[0])
    assert [gap.says for gap in drawing.gaps] == [
        "K4: headroom not given",
        "K4: handrail not given",
        "K5: tread not given",
        "K6: rise not given",
        "K3: width not given",
    ]
    assert {*touches(drawing)} == {"K4", "K3"}
    assert drawn({"climbs": [flat]}, ALL[0]) is None


def test_of_many_climbs_the_rest_are_named():
    many = [STAIR | {"mark": f"K{n}", "risers": "60", "tread": "900"} for n in range(1, 12)]
    assert len(drawn({"climbs": many}, ALL[0]).key) == 5

"""Hot water, drawn: litres wide, kelvins high, and what is put in beside what is in it."""

import pytest

from criteria.drawing.pens import Fill
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, strokes, words

SITE = {"people": "4", "hot_l_pd": "15", "hot_c": "40", "cold_c": "8"}
TABLES = {"site": [SITE], "plant": [{"hot_share": "0.9"}]}
MOST = ("hot_water", "at most", "2000 Wh")


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, MOST[0], MOST):
        assert "Over" in words(drawing)


# 60 L warmed by 32 K: 60 × 32 × 1.163 = 2,233 Wh; ÷ 0.9 = 2,481 Wh.
def test_the_block_is_as_wide_as_its_litres_and_as_high_as_it_is_warmed():
    drawing = drawn(TABLES, MOST[0])
    assert drawing.scale == "1 mm wide = 0.8 L, 1 mm high = 1.5 K"
    ((left, top, right, foot),) = boxes(drawing.marks, fill=Fill.GLASS)
    assert ((right - left) * 0.8, (foot - top) * 1.5) == pytest.approx((60.0, 32.0))
    assert {"warm 40.0 °C", "cold 8.0 °C", "2\u202f233 Wh", "2\u202f481 Wh"} <= words(drawing)
    assert len(strokes(drawing.marks)[0].segments) == 3


def test_a_crowd_isnt_parted_and_without_water_nothing_is_drawn():
    crowd = {**TABLES, "site": [{**SITE, "people": "400"}]}
    assert not strokes(drawn(crowd, MOST[0]).marks)
    none = {**TABLES, "site": [{**SITE, "hot_l_pd": "0"}]}
    assert drawn(none, MOST[0]) is None
    assert drawn({}, MOST[0]) is None

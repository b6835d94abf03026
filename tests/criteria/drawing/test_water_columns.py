"""Water on its floor, drawn: as high as it stands, and its pressure beside the limit."""

import pytest

from criteria.drawing.pens import Fill, Tone
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, touched, touches, words

TANKS = [
    {"mark": "T1", "holds": "potable", "litres": "1200", "h_m": "1.2"},
    {"mark": "T2", "holds": "grey", "litres": "300", "h_m": "0.6", "full": "50 %"},
    {"mark": "T3", "holds": "rain", "litres": "300"},
    {"mark": "T4", "holds": "solids", "litres": "20", "h_m": "0.3"},
    {"mark": "T5", "holds": "rain", "litres": "20", "h_m": "0.3", "full": "?"},
    {"mark": "T6", "holds": "rain", "litres": "20", "h_m": "0.3", "full": "0"},
]
TABLES = {"tanks": TANKS}
FLOOR = ("floor_under_water", "at most", "5 kPa")


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, FLOOR[0], FLOOR):
        assert {"T1", "T2"} <= set(touches(drawing))
        assert "T4" not in touches(drawing)
        said = [gap.says for gap in drawing.gaps]
        assert said[1:] == ["T3: height not given", "T5: how full it is not given"]


def test_water_stands_as_high_as_its_tank_is_full():
    drawing = drawn(TABLES, FLOOR[0], FLOOR)
    assert drawing.scale == "1:50"
    highs = []
    for mark in ("T1", "T2"):
        ((_, top, _, foot), *_) = boxes(touched(drawing, mark), fill=Fill.GLASS)
        highs.append(foot - top)
    assert highs == pytest.approx([1.2 * 20, 0.3 * 20])
    assert {"0.60 m, 0.50 full", "1.20 m", "11.8 kPa, at most 5.0, 6.8 over"} <= words(drawing)


def test_what_is_over_the_floor_presses_in_red():
    tones = {mark.tone for mark in touched(drawn(TABLES, FLOOR[0], FLOOR), "T1")}
    assert Tone.SHORT in tones
    assert Tone.SHORT not in {m.tone for m in touched(drawn(TABLES, FLOOR[0]), "T1")}


def test_without_any_height_nothing_is_drawn_and_of_many_the_least_are_named():
    assert drawn({"tanks": TANKS[2:3]}, FLOOR[0]) is None
    many = [{**TANKS[0], "mark": f"T{n}", "h_m": f"{1 + n / 10}"} for n in range(1, 20)]
    drawing = drawn({"tanks": many}, FLOOR[0])
    assert {"T1", "T2"} <= set(drawing.key)
    assert "T19" in touches(drawing)

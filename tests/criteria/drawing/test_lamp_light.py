"""Electric light drawn: bars as long as the light, discs as large as a lamp's."""

import math

import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.lamp_light import LAMPS
from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, seen_of, touched, words

ROOMS = [
    {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "20", "clear_height_m": "2.4"},
    {"mark": "R2", "room": "Bunks", "use": "sleep", "floor_m2": "10", "clear_height_m": "2.4"},
]


def lamp(mark, room, n, lumens, wanted, **cells):
    row = {"mark": mark, "room": room, "n": n, "lumens": lumens, "wanted_lx": wanted}
    return row | {"used_share": "0.5", "kept_share": "0.8"} | cells


# by hand: E1 4 × 800 × 0.4 ÷ 20 = 64 lx, E2 2 × 1,000 × 0.4 ÷ 20 = 40, E3 100 × 0.4 ÷ 0.5 = 80
LIGHTS = [
    lamp("E1", "R1", "4", "800", "200"),
    lamp("E2", "R1", "2", "1000", "100"),
    lamp("E3", "R2", "1", "100", "50", task="reading", lit_m2="0.5"),
]
ASKED = ("lamp_light", "at least", "1")


def tables(*lights):
    return {"rooms": ROOMS, "lights": [*(lights or LIGHTS)]}


def test_letters_keep_their_height_and_their_distance():
    assert len(in_each_field(tables(), "lamp_light", ASKED)) == 4


def test_bars_are_as_long_as_the_light_and_what_is_wanted_is_a_tick():
    drawing = drawn(tables(), "lamp_light", ASKED)
    # 200 lx on half of 175 mm: 5 lx a millimetre
    first, second, third = (
        box[2] - box[0]
        for box in boxes(drawing.marks, pen=Pen.FINE)
        if box[3] - box[1] == pytest.approx(2.6) and box[2] - box[0] != pytest.approx(19.2)
    )
    assert (first, second, third) == pytest.approx((64 / 5, 40 / 5, 80 / 5))
    ticks = [m.points[0][0] for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert ticks[0] - 2.0 == pytest.approx(200 / 5)
    (short,) = boxes(drawing.marks, tone=Tone.SHORT)
    assert short[2] - short[0] == pytest.approx((200 - 104) / 5)
    assert {"104 lx of 200 lx", "80 lx of 50 lx", "R1 Day room"} <= words(drawing)


def test_lamps_are_as_large_as_their_light():
    drawing = drawn(tables(), "lamp_light", ASKED)
    areas = {}
    for mark in ("E1", "E2", "E3"):
        (disc,) = [m for m in touched(drawing, mark) if isinstance(m, Disc)]
        areas[mark] = math.pi * disc.radius_mm**2
    assert areas["E1"] / areas["E2"] == pytest.approx(0.8)
    assert areas["E3"] / areas["E2"] == pytest.approx(0.1)
    assert {"E1 4 × 800 lm", "1 mm = 5.0 lx, 1 mm² = 50 lm"} <= words(drawing)


def test_each_lettered_figure_is_the_findings():
    seen = seen_of(tables(), "lamp_light", ASKED)
    drawing = LAMPS.ready(seen).of(Field())
    known = {1.0, seen.asked.amount.si}
    for measured in seen.findings["lamp_light"].worst_first:
        known |= {a.si for step in measured.steps for a in step.amounts if hasattr(a, "si")}
    assert {figure.amount.si for figure in drawing.figures} <= known


def test_nothing_is_short_where_nothing_is_asked_or_enough_is_given():
    assert not boxes(drawn(tables(), "lamp_light").marks, tone=Tone.SHORT)
    bright = drawn(tables(lamp("E1", "R1", "9", "8000", "200")), "lamp_light", ASKED)
    assert not boxes(bright.marks, tone=Tone.SHORT)
    assert boxes(bright.marks, fill=Fill.GLASS)


def test_what_isnt_known_is_left_out_and_named():
    drawing = drawn(tables(*LIGHTS, lamp("E4", "R2", "1", "", "100")), "lamp_light", ASKED)
    assert [gap.says for gap in drawing.gaps] == ["R2: E4, Light each (lighting schedule)"]
    assert drawing.says.endswith("Not given: R2: E4, Light each (lighting schedule).")
    assert drawn(tables(lamp("E4", "R2", "1", "", "100")), "lamp_light") is None
    assert drawn({"lights": []}, "lamp_light") is None


def test_two_hundred_lamps_stay_on_a_sheet():
    many = [lamp(f"E{n}", "R1", "200", "99999", "1") for n in range(200)]
    in_each_field(tables(*many), "lamp_light", ASKED)
    pages = [lamp(f"E{n}", "R1", "1", "9", "5000", task="reading", lit_m2="50") for n in range(200)]
    for drawing in in_each_field(tables(*pages), "lamp_light", ASKED):
        assert drawing.key[0].endswith(", E99")

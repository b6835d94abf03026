"""Air for what burns, drawn: by a duct, out of the room, or not given; nothing where none burns."""

import pytest

from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, touched, words

AIR = ("combustion_air", "all", "yes")
STOVE = {"heater": "wood stove"}


def plant(**cells):
    return {"plant": [STOVE | cells]}


def duct(drawing):
    return boxes(drawing.marks, fill=Fill.GLASS)


@pytest.mark.parametrize(
    "cells",
    [{"fire_air": "duct from outside", "combustion_air": "100 mm, under the floor"},
     {"fire_air": "from the room"}, {}, {"heater": "heat pump"}],
    ids=["duct", "room", "unsaid", "none"],
)  # fmt: skip
def test_it_is_drawn_by_the_rules_in_each_width_and_system(cells):
    for drawing in in_each_field(plant(**cells), AIR[0], AIR):
        assert "not to scale" in words(drawing)


def test_a_duct_comes_from_outside_the_wall_to_the_fire():
    drawing = drawn(plant(fire_air="duct from outside"), AIR[0], AIR)
    ((left, _, right, _),) = duct(drawing)
    room = boxes(drawing.marks, pen=Pen.CUT)[0]
    fire = boxes(touched(drawing, ""), pen=Pen.SEEN)[1]
    assert left < room[0] < fire[0] < right < fire[2]
    assert "wood stove; air: duct from outside" in words(drawing)


def test_air_of_the_room_is_red_and_unsaid_air_is_dashed():
    red = drawn(plant(fire_air="from the room"), AIR[0], AIR)
    assert Tone.SHORT in {m.tone for m in red.marks if isinstance(m, Path)}
    assert not duct(red)
    unsaid = drawn(plant(), AIR[0], AIR)
    assert [gap.says for gap in unsaid.gaps] == ["air for the fire: not given"]
    assert "not given" in words(unsaid)


def test_where_nothing_burns_there_is_no_fire_and_where_nobody_says_no_drawing():
    drawing = drawn(plant(heater="heat pump"), AIR[0], AIR)
    assert touched(drawing, "") == []
    assert "nothing burns indoors" in words(drawing)
    burning = drawn({"plant": [{"burns": "yes"}]}, AIR[0], AIR)
    assert any(each.startswith("what burns") for each in words(burning))
    assert drawn({}, AIR[0]) is None

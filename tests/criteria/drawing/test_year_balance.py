"""The balance of a night: arrows as wide as what they carry, as much into the room as out of it."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path, around
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.year_balance import HEAD_MM, draw_balance
from criteria.hourly.weather import HOURS
from criteria.hourly.worst import worst_night
from criteria.units import POWER, System
from tests.criteria.drawing.seen import FIELDS, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules
from tests.criteria.drawing.year_made import a_year

YEAR = a_year()
NIGHT = worst_night(YEAR)


def balance(year=YEAR, field=None):
    drawing = draw_balance(year, NIGHT, field or Field())
    keeps_the_rules(drawing)
    assert drawing.height_mm <= 180
    return drawing


def with_flows(**watts):
    flows = {name.replace("_", " "): np.full(HOURS, w) for name, w in watts.items()}
    return replace(YEAR, drawn=replace(YEAR.drawn, flows_w=flows))


def arrows(drawing, fill):
    """Arrows across the paper: from left to right, how wide their shafts are, which way they go."""
    found = []
    for mark in drawing.marks:
        if isinstance(mark, Path) and mark.pen is Pen.FINE and mark.fill is fill:
            xs = [x for x, _ in mark.points]
            left, top, right, foot = around(mark.points)
            wide = min(right - left, foot - top)
            found.append((round(wide - 2 * HEAD_MM, 6), mark.points[0], mark.points[3], xs))
    return found


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_it_keeps_the_rules_in_each_width_and_system(field):
    drawing = balance(field=field)
    flows = {f.what: f.amount.si for f in drawing.figures}
    assert flows["All together"] == 0
    assert f"{POWER.write(2000, field.system)}" in " ".join(words(drawing))


def test_each_part_says_its_watts_and_they_come_to_nothing():
    drawing = balance(with_flows(wall_N=-300.0, wall_S=-100.0, roof=-200.0, people=150.0))
    assert {"walls", "400 W", "roof 200 W", "people 150 W", "room air 450 W"} <= words(drawing)
    table = {f.what: f.amount.si for f in drawing.figures}
    assert table["Walls, into the room"] == -400
    assert table["Room air, into the room"] == 450
    assert table["All together"] == 0
    assert "600 W into the room" in " ".join(words(drawing))


def test_arrows_are_as_wide_as_what_they_carry():
    drawing = balance(with_flows(wall_N=-300.0, window_W1=-150.0, people=450.0))
    assert drawing.scale == "1 mm = 50 W"
    (walls, glass), (people,) = arrows(drawing, Fill.GLASS), arrows(drawing, Fill.TRACE)
    assert (walls[0], glass[0], people[0]) == (6.0, 3.0, 9.0)


def test_arrows_point_where_heat_goes():
    out, into = balance(with_flows(wall_N=-300.0, plant=300.0)), balance(with_flows(wall_N=300.0))
    ((_, start, tip, _),) = arrows(out, Fill.GLASS)
    assert tip[0] < start[0]
    ((_, start, tip, _),) = [a for a in arrows(into, Fill.TRACE) if a[1][0] < 40]
    assert tip[0] > start[0]
    up = balance(with_flows(roof=-300.0, floor=300.0))
    ((_, start, tip, _),) = arrows(up, Fill.GLASS)
    assert tip[1] < start[1]
    ((_, start, tip, _),) = arrows(up, Fill.TRACE)
    assert tip[1] < start[1]


def test_what_takes_heat_inside_points_back():
    drawing = balance(with_flows(things_inside=-200.0, people=200.0))
    ((_, start, tip, _),) = arrows(drawing, Fill.GLASS)
    assert tip[0] < start[0]


def test_what_carries_next_to_nothing_is_in_the_table_alone():
    drawing = balance(with_flows(wall_N=-300.0, plant=299.8))
    assert not [each for each in words(drawing) if "room air" in each]
    assert next(f for f in drawing.figures if f.what == "Room air, into the room").lettered == ""


def test_nothing_at_all_is_a_house_without_arrows():
    drawing = balance(with_flows())
    assert not arrows(drawing, Fill.GLASS)
    assert not arrows(drawing, Fill.TRACE)


def test_a_part_by_an_unknown_name_is_drawn_too():
    assert "chimney" in words(balance(with_flows(chimney=-50.0, plant=50.0)))


def test_a_night_that_plant_holds_is_no_miss():
    assert balance().letters[0].tone is Tone.SHORT
    warm = replace(YEAR, drawn=replace(YEAR.drawn, operative_k=np.full(HOURS, 292.7)))
    assert balance(warm).letters[0].tone is Tone.INK


def test_us_readers_read_it_in_their_units():
    assert "Btu/h" in balance(field=Field(system=System.US)).scale

"""Figures outside what their columns usually hold, and the unit that would mend them."""

import pytest

from criteria.odd.usual import USUAL
from criteria.schedules import BY_SLUG
from criteria.typed.columns import Kind
from criteria.units import System

ROOM = {"mark": "R1", "room": "Day room", "use": "day"}


def test_every_line_of_the_table_is_of_a_column_with_a_unit_or_a_count():
    for usual in USUAL:
        column = BY_SLUG[usual.schedule].column(usual.head)
        assert column.kind in (Kind.QUANTITY, Kind.COUNT)
        assert (usual.least or usual.most) is not None
        assert usual.least is None or usual.most is None or usual.least < usual.most


def test_a_figure_at_either_limit_is_usual():
    for usual in USUAL:
        for limit, inward in ((usual.least, 1.01), (usual.most, 0.99)):
            if limit is not None:
                assert usual.holds(limit)
                assert usual.holds(limit * inward)
                assert not usual.holds(limit / inward**2)


@pytest.mark.parametrize(
    ("schedule", "head", "cells", "mended"),
    [
        ("loads", "w_each", {"mark": "L1", "item": "Fridge", "w_each": "0.06"}, "0.06 kW"),
        ("loads", "w_each", {"mark": "L1", "item": "Water pump", "w_each": "600"}, ""),
        ("loads", "w_each", {"mark": "L1", "item": "LED lamps", "w_each": "70"}, ""),
        ("loads", "h_day", {"mark": "L1", "item": "Water pump", "h_day": "7"}, "7 min"),
        ("loads", "n", {"mark": "L1", "item": "Radio", "n": "10"}, ""),
        (
            "vents",
            "l_s_each",
            {"mark": "V1", "room": "R1", "type": "slot", "l_s_each": "43.2"},
            "43.2 m³/h",
        ),
        ("vents", "l_s_each", {"mark": "V1", "room": "R1", "type": "slot", "l_s_each": "0.4"}, ""),
        ("power", "battery_kwh", {"battery_kwh": "96"}, ""),
        ("moves", "s", {"mark": "X1", "item": "Table", "s": "2"}, "2 min"),
        ("moves", "people", {"mark": "X1", "item": "Table", "people": "10"}, ""),
        ("moves", "height_mm", {"mark": "X1", "item": "Table", "height_mm": "72"}, "72 cm"),
        ("moves", "height_mm", {"mark": "X1", "item": "Table", "height_mm": "29"}, "29 in"),
        (
            "stowage",
            "l_each",
            {"mark": "S1", "what": "Box", "l_each": "0.12", "for": "guest"},
            "0.12 m³",
        ),
        ("fixtures", "minutes", {"mark": "F1", "use": "Wash", "minutes": "30"}, ""),
        (
            "furniture",
            "height_mm",
            {"mark": "U1", "item": "Bench", "kind": "seat", "height_mm": "45"},
            "45 cm",
        ),
        (
            "furniture",
            "height_mm",
            {"mark": "U1", "item": "Bed", "kind": "bed", "height_mm": "46"},
            "46 cm",
        ),
        ("envelope", "mm", {"part": "wall", "layer": "Sheep wool", "mm": "16"}, "16 cm"),
        ("envelope", "mm", {"part": "wall", "layer": "Board", "mm": "800"}, ""),
    ],
)
def test_a_figure_outside_is_asked_about_with_the_unit_that_mends_it(
    asks, schedule, head, cells, mended
):
    (odd,) = asks(head, **{"rooms": ROOM, schedule: cells})
    assert (odd.schedule, odd.mark, odd.suggestion) == (schedule, cells.get("mark", ""), mended)
    assert odd.write_question().endswith("?")
    if mended:
        assert asks(head, **{"rooms": ROOM, schedule: {**cells, head: mended}}) == []


@pytest.mark.parametrize(
    ("schedule", "cells"),
    [
        ("loads", {"mark": "L1", "item": "Sensor", "n": "12", "w_each": "0.5", "h_day": "24"}),
        ("loads", {"mark": "L1", "item": "Heater", "n": "1", "w_each": "2000", "h_day": "8"}),
        ("loads", {"mark": "L1", "item": "Standby", "n": "1", "w_each": "0", "h_day": "24"}),
        ("vents", {"mark": "V1", "room": "R1", "type": "supply fan", "l_s_each": "40"}),
        ("stowage", {"mark": "S1", "what": "Hooks", "l_each": "0", "for": "guest"}),
        ("stowage", {"mark": "S1", "what": "Food store", "l_each": "900", "for": "warden"}),
        ("furniture", {"mark": "U1", "item": "Bunk", "kind": "bed", "height_mm": "1600"}),
        ("moves", {"mark": "X1", "item": "Curtain", "s": "0"}),
    ],
)
def test_figures_that_are_meant_are_left_alone(asks, schedule, cells):
    assert [odd for odd in asks(rooms=ROOM, **{schedule: cells}) if odd.schedule == schedule] == []


def test_a_reader_in_us_units_is_asked_in_them(asks):
    cells = {"mark": "U1", "item": "Bench", "kind": "seat", "height_mm": "45"}
    (odd,) = asks("height_mm", furniture=cells)
    assert odd.write_question(System.US) == (
        'U1 (Bench): height reads 1 3/4"; 1\'-1 3/4" to 2\'-7 1/2" is usual. Is it 45 cm?'
    )


def test_a_layer_is_found_by_its_row(asks):
    layers = [
        {"part": "wall", "layer": "Board", "mm": "12"},
        {"part": "wall", "layer": "Sheep wool", "mm": "16"},
    ]
    (odd,) = asks("mm", envelope=layers)
    assert odd.row == 2

"""Heat on the coldest night, drawn: blocks of area and U, what each loses, and who warms it."""

import itertools
from dataclasses import replace

import pytest

from criteria.checks.heat import balance
from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.package import read_package
from tests.criteria.drawing.seen import (
    FIELDS,
    boxes,
    drawn,
    in_each_field,
    in_fields,
    seen_of,
    touched,
    touches,
    words,
)
from tests.criteria.drawing.test_plan_walked import per_mm_of

NARROW = FIELDS[2]
# R by hand: 0.17 + 0.2 / 0.04 = 5.17, 0.14 + 7.5 and 0.21 + 5; 60 m² of wall
LAYERS = [
    {"part": part, "layer": "Wool", "mm": mm, "lambda": "0.04", "gross_area_m2": area}
    for part, mm, area in (("wall", "200", "60"), ("roof", "300", "40"), ("floor", "200", "30"))
]
WINDOWS = [
    {"mark": "W1", "room": "R1", "n": "2", "frame_w": "1000", "frame_h": "1000", "u": "1"},
    {"mark": "W2", "room": "R1", "n": "1", "frame_w": "500", "frame_h": "1000", "u": "1.4"},
]
DOORS = [
    {
        "mark": "D1",
        "place": "Porch",
        "leaf_w": "900",
        "height": "2000",
        "outside": "yes",
        "u": "1.2",
    },
]
DOORS[0]["u"] = "1.2"
ROOMS = [
    {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "30", "clear_height_m": "2.4"}
]
SITE = {
    "people": "4",
    "design_outside_c": "-18",
    "design_inside_c": "16",
    "fresh_air_l_s": "4",
    "air_wh_m3k": "0.33",
}
ASKED = (("heat_loss", "at most", "1000 W"), ("balance_temperature", "at most", "3 °C"))
CASES = [
    {"case": "four", "people": "4", "days": "60"},
    {"case": "two", "people": "2", "days": "60"},
]


def tables(windows=WINDOWS, doors=DOORS, cases=(), plant=None, **site):
    return {
        "envelope": LAYERS,
        "windows": windows,
        "doors": doors,
        "rooms": ROOMS,
        "plant": [plant or {"heat_w": "5000"}],
        "site": [{**SITE, **site}],
        "cases": list(cases),
    }


def heat(check="heat_loss", *asked, field=None, nth=0, **rows):
    return drawn(tables(**rows), check, *(asked or ASKED), field=field, nth=nth)


def scale(drawing):
    """Square metres or feet a millimetre wide, and U a millimetre high."""
    return per_mm_of(drawing.scale)


def parts(drawing):
    """The blocks of wall, roof and floor."""
    return list(boxes(drawing.marks, pen=Pen.SEEN, fill=Fill.PAPER))[:3]


@pytest.mark.parametrize("check", ["heat_loss", "balance_temperature", "heat_plant", "fuel_days"])
def test_letters_keep_their_height_and_their_distance(check):
    in_each_field(tables(cases=CASES), check, *ASKED)
    in_each_field(tables(), check)


@pytest.mark.parametrize("u", ["0.1", "9"])
def test_two_hundred_windows_stay_on_a_sheet(u):
    many = [{**WINDOWS[0], "mark": f"W{n}", "n": "1", "frame_w": "100", "u": u} for n in range(200)]
    for drawing in in_each_field(tables(windows=many), "heat_loss", *ASKED):
        assert len([mark for mark in touches(drawing) if mark.startswith("W")]) == 200


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_a_block_is_as_wide_as_its_area_and_as_high_as_its_u(field):
    drawing = heat(field=field)
    per_area, per_u = scale(drawing)
    is_us = "ft²" in drawing.scale
    area, u = (0.09290304, 5.678263) if is_us else (1, 1)
    # by hand: 60 m² of wall less 2.5 of windows and 1.8 of door
    expected = [(60 - 4.3, 1 / 5.17), (40, 1 / 7.64), (30, 1 / 5.21)]
    found = [
        ((right - left) * per_area * area, (foot - top) * per_u * u)
        for left, top, right, foot in parts(drawing)
    ]
    wanted = {round(each[0], 3): each[1] for each in expected}
    assert {round(wide, 3) for wide, _ in found} == set(wanted)
    for wide, high in found:
        assert high == pytest.approx(wanted[round(wide, 3)], rel=1e-3)
    (window,) = boxes(touched(drawing, "W1")[:1], fill=Fill.GLASS)
    assert (window[2] - window[0]) * per_area * area == pytest.approx(2)
    assert (window[3] - window[1]) * per_u * u == pytest.approx(1, rel=1e-6)


def test_blocks_stand_beside_each_other_on_the_ground():
    drawing = heat()
    found = parts(drawing)
    for one, other in itertools.pairwise(found):
        assert other[0] == pytest.approx(one[2])
    assert len({box[3] for box in found}) == 1
    (first,) = boxes(touched(drawing, "W1")[:1])
    assert first[0] == pytest.approx(found[-1][2])
    said = words(drawing) | {*drawing.key}
    assert {"wall", "roof", "floor", "windows", "doors"} <= said


def test_what_each_loses_stands_in_order_as_its_check_reckons_it():
    drawing = heat()
    known = balance(read_package(tables()).package)
    rates = {each.name: each.rate_w_k for each in known.surfaces} | {"air": known.air_w_k}
    shown = [f for f in drawing.figures if f.what in rates]
    assert [f.what for f in shown] == sorted(rates, key=rates.get, reverse=True)
    assert all(f.amount.si == pytest.approx(rates[f.what]) for f in shown)
    longest, second = boxes(drawing.marks, pen=Pen.SEEN, fill=Fill.TRACE)[:2]
    share = (second[2] - second[0]) / (longest[2] - longest[0])
    assert share == pytest.approx(shown[1].amount.si / shown[0].amount.si)
    assert len([f for f in heat(field=NARROW).figures if f.what in rates]) == 5


def test_the_whole_is_held_beside_what_stove_and_heaters_give():
    drawing = heat(cases=CASES)
    said = words(drawing)
    assert any(each.endswith(" over") and "at most 1\u202f000" in each for each in said)
    assert {"all of it, four", "all of it, two", "stove and heaters give", "5\u202f000 W"} <= said
    assert boxes(drawing.marks, pen=Pen.FINE, tone=Tone.SHORT)
    without = heat(plant={"hrv_as_typed": "0"})
    assert "stove and heaters give" not in words(without)
    assert "all of it" in words(without)


def test_the_temperature_that_people_hold_lies_between_outside_and_inside():
    drawing = heat("balance_temperature")
    held = seen_of(tables(), "balance_temperature", *ASKED).asked.amount.si
    ticks = [
        m
        for m in drawing.marks
        if isinstance(m, Path) and m.points[0][0] == m.points[-1][0] and len(m.points) == 2
    ]
    value = next(m for m in ticks if m.pen is Pen.SEEN)
    limit = max((m for m in ticks if m.pen is Pen.CUT), key=lambda m: m.points[0][1])
    at = [(m.points[0][0] - 2) / 171 * 34 - 18 + 273.15 for m in (value, limit)]
    assert at == pytest.approx([held, 276.15])
    assert {"outside -18.0 °C", "inside 16.0 °C"} <= words(drawing)
    unasked = drawn(tables(), "heat_loss")
    assert any(each.startswith("people alone hold it at") for each in words(unasked))


def test_people_of_the_case_that_is_drawn_are_reckoned_with():
    four, two = (heat("balance_temperature", cases=CASES, nth=nth) for nth in (0, 1))
    alone = [next(w for w in words(d) if w.startswith("people alone")) for d in (four, two)]
    assert len(set(alone)) == 2
    for drawing, said in zip((four, two), alone, strict=True):
        assert drawing.letters[0].words in said


def test_what_isnt_known_isnt_drawn():
    seen = seen_of(tables(), "heat_loss", *ASKED)
    known = seen.findings["balance_temperature"]
    findings = {**seen.findings, known.check: replace(known, worst_first=())}
    (drawing,) = in_fields(FIELDS[:1], replace(seen, findings=findings))
    assert not any("people alone" in each for each in words(drawing))
    assert heat(design_inside_c="-20") is None
    assert heat(windows=[{**WINDOWS[0], "u": ""}]) is None


def test_it_says_the_answer_first():
    drawing = heat()
    assert drawing.says.startswith("Over. Most goes by wall: 10.77 W/K.")
    assert touches(drawing)["D1"][0].says == "D1, 2.16 W/K"

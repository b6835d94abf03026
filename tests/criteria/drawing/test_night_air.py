"""The night, drawn: sleepers one by one, arrows as wide as their air, and how much that is each."""

import pytest

from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import (
    FIELDS,
    boxes,
    drawn,
    in_each_field,
    seen_of,
    touched,
    touches,
    words,
)
from tests.criteria.drawing.test_plan_walked import per_mm_of

NARROW = FIELDS[2]
ROOMS = [
    {"mark": "R3", "room": "Shelf", "use": "sleep", "floor_m2": "9", "sleepers": "6"},
    {"mark": "R4", "room": "Loft", "use": "sleep", "floor_m2": "9", "sleepers": "8"},
    {"mark": "R7", "room": "Alcove", "use": "sleep", "floor_m2": "4", "sleepers": "1"},
    {"mark": "R5", "room": "Dry toilet", "use": "wc", "floor_m2": "2"},
    {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "20"},
]
VENTS = [
    {"mark": "V1", "room": "R3", "type": "slot vent", "n": "2", "l_s_each": "12"},
    {"mark": "V2", "room": "R4", "type": "ridge vent", "n": "1", "l_s_each": "8"},
    {"mark": "V3", "room": "R4", "type": "slot vent", "n": "2", "l_s_each": "10"},
]
AIR = ("night_air", "at least", "4")
CO2 = ("night_co2", "at most", "1400")


def tables(rooms=ROOMS, vents=VENTS):
    return {"rooms": rooms, "vents": vents}


def night(check="night_air", *targets, rooms=ROOMS, vents=VENTS, field=None):
    return drawn(tables(rooms, vents), check, *(targets or (AIR, CO2)), field=field)


def arrow(drawing, vent):
    (path,) = touched(drawing, vent)
    return path


def thickness(path):
    ys = [y for _, y in path.points]
    return max(ys) - min(ys)


@pytest.mark.parametrize("check", ["night_air", "night_co2", "dwelling_air", "wet_extract"])
def test_letters_keep_their_height_and_their_distance(check):
    in_each_field(tables(), check, AIR, CO2)
    in_each_field(tables(vents=[]), check, AIR)


@pytest.mark.parametrize("flow", ["1000", "0", "0.1"])
def test_two_hundred_rooms_stay_on_a_sheet_and_the_rest_are_named(flow):
    rooms = [
        {"mark": f"R{n}", "room": "A room of a long name", "use": "sleep", "sleepers": "200"}
        for n in range(200)
    ]
    vents = [{"mark": "V0", "room": "R0", "n": "200", "l_s_each": flow}] * 2
    for drawing in in_each_field(tables(rooms, vents[:1]), "night_air", AIR):
        assert drawing.key[0].count("R") == 200 - (4 if drawing.width_mm < 100 else 7)


def test_each_sleeper_is_one_mark_as_far_as_there_is_paper():
    drawing = night()
    for row in ROOMS[:3]:
        heads = [m for m in touched(drawing, row["mark"]) if isinstance(m, Disc)]
        assert len(heads) == int(row["sleepers"])
        assert len({head.middle for head in heads}) == len(heads)
    crowd = [{**ROOMS[0], "sleepers": "100"}]
    assert len([m for m in touched(night(rooms=crowd), "R3") if isinstance(m, Disc)]) == 15
    assert "100 asleep" in words(night(rooms=crowd))


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_arrows_are_as_thick_as_the_air_of_their_vents(field):
    drawing = night(field=field)
    per = per_mm_of(drawing.scale)[0]
    in_l_s = 0.471947443 if drawing.scale.endswith("cfm") else 1
    for row in VENTS:
        flow = int(row["n"]) * float(row["l_s_each"])
        assert thickness(arrow(drawing, row["mark"])) * per * in_l_s == pytest.approx(flow)
    two, three = arrow(drawing, "V2").points, arrow(drawing, "V3").points
    assert max(y for _, y in two) == pytest.approx(min(y for _, y in three))
    assert f"arrows as wide as the air that comes, {drawing.scale}" in " ".join(
        each.words for each in drawing.letters
    )


def test_the_wall_stands_open_as_wide_as_its_arrows():
    drawing = night()
    walls = [
        m.points
        for m in drawing.marks
        if isinstance(m, Path) and m.pen is Pen.CUT and m.points[0][0] == m.points[1][0]
    ]
    per = per_mm_of(drawing.scale)[0]
    over, under = [each for each in walls if each[0][1] < 100][:2]
    assert (under[0][1] - over[1][1]) * per in (pytest.approx(24), pytest.approx(28), 0)
    assert sum(v["room"] == "R3" for v in VENTS) == 1


def test_rooms_stand_worst_first_with_their_air_as_bars():
    """0 of one; 28 ÷ 8 = 3.5 L/s; 24 ÷ 6 = 4 L/s, by hand."""
    drawing = night()
    rows = [mark for mark in touches(drawing) if mark.startswith("R")]
    assert rows == ["R7", "R4", "R3"]
    said = words(drawing)
    assert {"0.0 L/s, at least 4.0, 4.0 short", "3.5 L/s, at least 4.0, 0.5 short"} <= said
    assert {"no vent", "V1 2 × 12.0 L/s", "1 asleep"} <= said
    assert {"V2 1 × 8.0 L/s", "V3 2 × 10.0 L/s"} <= said
    third = [*VENTS, {**VENTS[1], "mark": "V4"}]
    assert {"V2 1 × 8.0 L/s", "and 2 more"} <= words(night(vents=third))
    bars = boxes(touched(drawing, "R4"), pen=Pen.SEEN)
    lacking = boxes(touched(drawing, "R4"), pen=Pen.FINE, tone=Tone.SHORT)
    zero, value = bars[0][0], bars[0][2]
    assert (value - zero) / (lacking[0][2] - zero) == pytest.approx(3.5 / 4)
    # 420 + 0.0039 ÷ 3.5 L/s = 1,534 ppm, by hand
    assert "1\u202f534 ppm, at most 1\u202f400, 134 over" in said
    assert boxes(touched(drawing, "R3"), fill=Fill.INK, tone=Tone.NEAR)


def test_a_narrow_drawing_has_the_bars_of_what_is_asked_alone():
    assert "fresh air each" in words(night(field=NARROW))
    assert "carbon dioxide by morning" not in words(night(field=NARROW))
    assert "3.5 L/s, 0.5 short" in words(night(field=NARROW))
    of_co2 = words(night("night_co2", field=NARROW))
    assert "carbon dioxide by morning" in of_co2
    assert "fresh air each" not in of_co2
    assert "fresh air each" in words(night("dwelling_air", field=NARROW))


def test_of_extract_the_wet_rooms_are_drawn():
    drawing = night("wet_extract")
    assert list(touches(drawing)) == ["R5"]
    assert "no vent" in words(drawing)
    assert not any("asleep" in each for each in words(drawing))
    served = [*VENTS, {"mark": "V5", "room": "R5", "n": "1", "l_s_each": "9"}]
    assert "V5" in touches(night("wet_extract", vents=served))


def test_what_isnt_given_is_left_out_and_named():
    vents = [{**VENTS[0], "l_s_each": ""}, {**VENTS[1], "n": ""}]
    drawing = night(vents=vents)
    assert [gap.says for gap in drawing.gaps] == [
        "V1: what it gives isn't given",
        "V2: what it gives isn't given",
    ]
    assert "V1" not in touches(drawing)
    assert not any("R3" in figure.what for figure in drawing.figures)
    assert night(rooms=ROOMS[3:]) is None


def test_each_lettered_figure_is_the_findings_or_a_vents():
    seen = seen_of(tables(), "night_air", AIR, CO2)
    known = {m.values[0] for f in seen.findings.values() for m in f.worst_first if m.values}
    known |= {0.024, 0.008, 0.02}
    drawing = night()
    assert all(any(abs(f.amount.si - k) < 1e-12 for k in known) for f in drawing.figures)


def test_it_says_the_answer_first():
    assert night().says == "Short. Without a vent: R7 Alcove."
    vents = [*VENTS, {"mark": "V4", "room": "R7", "n": "1", "l_s_each": "9"}]
    assert night(vents=vents).says == "Short."
    assert touches(night())["V1"][0].says == "V1, 24.0 L/s"


@pytest.mark.parametrize("typed", ["", "x"])
def test_a_room_whose_sleepers_nobody_knows_is_named_and_not_empty(typed):
    rooms = [row | {"sleepers": typed} if row["mark"] == "R4" else row for row in ROOMS]
    drawing = night(rooms=rooms)
    (gap,) = [gap for gap in drawing.gaps if gap.column == "sleepers"]
    assert (gap.schedule, gap.says) == ("rooms", "R4: sleepers not given")

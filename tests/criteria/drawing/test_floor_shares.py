"""Rooms and people, drawn: blocks as wide as floors and as high as rooms, everyone one by one."""

from dataclasses import replace
from itertools import pairwise

import pytest

from criteria.check_sheet.sheet import unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import (
    FIELDS,
    boxes,
    drawn,
    in_each_field,
    in_fields,
    seen_of,
    strokes,
    touched,
    touches,
    words,
)
from tests.criteria.drawing.test_plan_walked import per_mm_of

NARROW = FIELDS[2]


def room(mark, name, use, floor, height, **cells):
    return {
        "mark": mark,
        "room": name,
        "use": use,
        "floor_m2": floor,
        "clear_height_m": height,
        **cells,
    }


ROOMS = [
    room("R1", "Entry", "circulation", "4", "2.4"),
    room("R2", "Day room", "day", "24", "2.8"),
    room("R3", "Shelf", "sleep", "12", "2.4", sleepers="6"),
    room("R4", "Loft", "sleep", "12", "2", sleepers="3", low_headroom_m2="3"),
]
PEOPLE = [
    {"mark": "O1", "who": "Walkers", "n": "8", "sleeps_here": "yes", "step_free": "1"},
    {"mark": "O2", "who": "Day visitors", "n": "4", "sleeps_here": "no"},
    {"mark": "O3", "who": "Warden", "n": "1", "sleeps_here": "yes"},
]
SITE = {"people": "9"}
ASKED = (
    ("floor_per_person", "at least", "6"),
    ("clear_height", "at least", "2.2"),
    ("air_volume_per_sleeper", "at least", "5"),
)


def tables(rooms=ROOMS, people=PEOPLE, cases=()):
    return {"rooms": rooms, "occupants": people, "site": [SITE], "cases": list(cases)}


def shares(check="sleeping_places", rooms=ROOMS, people=PEOPLE, field=None, cases=()):
    return drawn(tables(rooms, people, cases), check, *ASKED, field=field)


def block(drawing, mark):
    return boxes(touched(drawing, mark), fill=Fill.PAPER)[0]


@pytest.mark.parametrize("check", ["sleeping_places", "clear_height", "floor_by_day"])
def test_letters_keep_their_height_and_their_distance(check):
    in_each_field(tables(), check, *ASKED)


@pytest.mark.parametrize("floor", ["900", "0.1"])
def test_two_hundred_rooms_and_groups_stay_on_a_sheet(floor):
    rooms = [room(f"R{n}", "Room", "day", floor, "12", sleepers="200") for n in range(200)]
    people = [{**PEOPLE[0], "mark": f"O{n}", "n": "500"} for n in range(200)]
    for drawing in in_each_field(tables(rooms, people), "clear_height", *ASKED):
        assert len([mark for mark in touches(drawing) if mark.startswith("R")]) == 30
        assert drawing.key[0].count("R") == 170


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_a_room_is_as_wide_as_its_floor_and_as_high_as_it_is_clear(field):
    drawing = shares(field=field)
    per_floor, per_m = per_mm_of(drawing.scale)
    floor, m = (0.09290304, 0.3048) if "ft" in drawing.scale else (1, 1)
    for row in ROOMS:
        left, top, right, foot = block(drawing, row["mark"])
        assert (right - left) * per_floor * floor == pytest.approx(float(row["floor_m2"]))
        assert (foot - top) * per_m * m == pytest.approx(float(row["clear_height_m"]))
    found = [block(drawing, row["mark"]) for row in ROOMS]
    for one, other in pairwise(found):
        assert other[0] == pytest.approx(one[2])
        assert other[3] == one[3]


def test_what_is_too_low_to_stand_in_is_hatched_as_wide_as_it_is():
    drawing = shares()
    assert not strokes(touched(drawing, "R3"), pen=Pen.HATCH)
    (low,) = strokes(touched(drawing, "R4"), pen=Pen.HATCH)
    left, _, right, _ = block(drawing, "R4")
    xs = [x for segment in low.segments for x, _ in segment]
    assert min(xs) == pytest.approx(right - (right - left) * 3 / 12, abs=1.0)
    assert max(xs) <= right + 1e-6


def test_whoever_sleeps_in_a_room_lies_in_it():
    drawing = shares()
    for mark, count in (("R3", 6), ("R4", 3), ("R2", 0)):
        heads = [m for m in touched(drawing, mark) if isinstance(m, Disc)]
        assert len(heads) == count
        left, top, right, foot = block(drawing, mark)
        assert all(left < h.middle[0] < right and top < h.middle[1] < foot for h in heads)


def test_in_a_room_narrow_on_paper_they_lie_above_each_other():
    rooms = [room("R1", "Barn", "day", "60", "2.4"), room("R2", "Cell", "sleep", "4", "2.4")]
    rooms[1]["sleepers"] = "2"
    drawing = shares(rooms=rooms, field=NARROW)
    left, _, right, _ = block(drawing, "R2")
    bodies = [m.points for m in touched(drawing, "R2") if isinstance(m, Path) and not m.is_closed]
    assert len(bodies) == 2
    assert all(left < x < right for points in bodies for x, _ in points)
    rooms[0]["floor_m2"] = "900"
    bare = touched(shares(rooms=rooms, field=NARROW), "R2")
    assert not [m for m in bare if isinstance(m, Disc)]


def test_everyone_stands_one_by_one_and_whoever_leaves_at_night_has_an_open_head():
    drawing = shares()
    for row, fill in zip(PEOPLE, (Fill.INK, Fill.NONE, Fill.INK), strict=True):
        heads = [m for m in touched(drawing, row["mark"]) if isinstance(m, Disc)]
        assert len(heads) == int(row["n"])
        assert {head.fill for head in heads} == {fill}
    assert {"8 of them, 1 step-free", "4 of them, not at night", "one"} <= words(drawing)
    crowd = shares(people=[{**PEOPLE[0], "n": "500"}], field=NARROW)
    assert len([m for m in touched(crowd, "O1") if isinstance(m, Disc)]) == 16
    assert list(touches(shares(people=[{**PEOPLE[0], "n": "0"}]))) == ["R1", "R2", "R3", "R4"]


def test_figures_that_are_asked_stand_as_bars_each_to_its_own_scale():
    """52 m² for nine people is 5.78 m² each, by hand."""
    drawing = shares("floor_per_person")
    said = words(drawing)
    assert {"5.78 m², at least 6.00, 0.22 short", "Clear height"} <= said
    assert "each bar is to its own scale; heavy tick: asked" in said
    lacking = boxes(drawing.marks, pen=Pen.FINE, tone=Tone.SHORT)[0]
    bar = boxes(drawing.marks, pen=Pen.SEEN, tone=Tone.SHORT)[0]
    share = (bar[2] - bar[0]) / (lacking[2] - bar[0])
    assert share == pytest.approx(52 / 9 / 6)
    ticks = {
        round(m.points[0][0], 3)
        for m in drawing.marks
        if isinstance(m, Path) and m.pen is Pen.CUT and m.points[0][0] == m.points[-1][0]
    }
    assert len(ticks) == 1  # 6 m², 2.2 m and 5 m³ stand at one place, each on its own axis
    of = seen_of(tables(), "floor_per_person", *ASKED)
    beside = unasked(of.package, CHECKS["room_floor"])
    (shown,) = in_fields(FIELDS[:1], replace(of, findings={**of.findings, "room_floor": beside}))
    assert "Least room floor" not in words(shown)
    assert "Clear height" in words(shown)
    bare = drawn(tables(), "sleeping_places")
    assert not any("own scale" in each for each in words(bare))


def test_of_people_cases_that_of_the_figure_is_held():
    cases = [
        {"case": "four", "people": "4", "days": "60"},
        {"case": "nine", "people": "9", "days": "60"},
    ]
    drawing = shares("floor_per_person", cases=cases)
    assert "5.78 m², at least 6.00, 0.22 short" in words(drawing)
    assert "Clear height" in words(drawing)


def test_the_height_that_is_asked_is_drawn_across_the_rooms():
    drawing = shares("clear_height")
    per_m = per_mm_of(drawing.scale)[1]
    (level,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.DATUM]
    foot = block(drawing, "R4")[3]
    assert (foot - level.points[0][1]) * per_m == pytest.approx(2.2)
    assert boxes(touched(drawing, "R4"), pen=Pen.CUT)
    assert not any(getattr(m, "pen", None) is Pen.DATUM for m in shares().marks)


def test_what_isnt_given_is_left_out_and_named():
    rooms = [*ROOMS, room("R5", "Store", "store", "", ""), room("R6", "Bath", "wc", "3", "")]
    drawing = shares(rooms=rooms)
    assert [gap.says for gap in drawing.gaps] == [
        "R5: floor not given",
        "R6: clear height not given",
    ]
    assert [gap.column for gap in drawing.gaps] == ["floor_m2", "clear_height_m"]
    assert "R5" not in touches(drawing)
    assert shares(rooms=[]) is None


def test_each_lettered_figure_is_the_findings_or_a_floor():
    seen = seen_of(tables(), "floor_per_person", *ASKED)
    known = {m.values[0] for f in seen.findings.values() for m in f.worst_first if m.values}
    known |= {float(row["floor_m2"]) for row in ROOMS}
    figures = shares("floor_per_person").figures
    assert all(any(abs(f.amount.si - k) < 1e-9 for k in known) for f in figures)


def test_it_says_the_answer_first():
    assert shares("floor_per_person").says == "Short. Asleep: R3 6, R4 3."
    assert shares(rooms=ROOMS[:2]).says.endswith("Asleep: nobody.")
    assert touches(shares())["R3"][0].says == "R3 Shelf, 12.0 m²"


@pytest.mark.parametrize("typed", ["", "x"])
def test_a_room_whose_sleepers_nobody_knows_is_named_and_not_empty(typed):
    rooms = [row | {"sleepers": typed} if row["mark"] == "R4" else row for row in ROOMS]
    drawing = shares(rooms=rooms)
    (gap,) = [gap for gap in drawing.gaps if gap.column == "sleepers"]
    assert (gap.schedule, gap.says) == ("rooms", "R4: sleepers not given")
    assert "R4: sleepers not given" in drawing.says
    assert "nobody" not in drawing.says


def test_a_group_that_nobody_counted_is_named():
    drawing = shares(people=[PEOPLE[0] | {"n": "x"}, *PEOPLE[1:]])
    assert "O1: how many not given" in [gap.says for gap in drawing.gaps]
    assert "O1" not in touches(drawing)

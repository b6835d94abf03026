"""The plan walked, drawn: what lies where is measured on paper, and held to rows and findings."""

import math
import re
from dataclasses import replace

import pytest

from criteria.check_sheet.sheet import judge
from criteria.checks.decided import DRAWN, OVER_ROOMS, decided
from criteria.drawing.drawing import HALF_MM, MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.marks import Disc, Path, Ribbon, Strokes, Touch, meet
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked
from criteria.drawing.plan_walked import draw_plan
from criteria.findings import Amount, Measured, Rule, State
from criteria.package import read_package
from criteria.situations import Situation, states_of
from criteria.targets.reading import read_targets
from criteria.units import System
from criteria.walking.of_package import storeys_of
from criteria.walking.pictured import pictured
from tests.folding_cabin import FURNITURE, TABLES

ASKED = {
    "way_to_bed": ("at least", "700 mm"),
    "way_to_toilet": ("at least", "815 mm"),
    "second_way_out": ("at least", "500 mm"),
    "way_step_free": ("at least", "815 mm"),
    "way_to_use": ("at least", "700 mm"),
    "walked_out": ("at most", "2 m"),
    "circle_reached": ("at least", "1.5 m"),
    "doors_open_fully": ("all", "yes"),
    "room_before": ("all", "yes"),
    "escape_at_night": ("all", "yes"),
}


def package_of(**changed):
    return read_package({**TABLES, **changed}).package


def held(package, check):
    rule, value = ASKED[check]
    read = read_targets([{"id": "T01", "check": check, "rule": rule, "value": value}])
    return judge(package, read.targets[0])


def asked_of(package, check, nth=0):
    """The package in the state of a figure, the figure, and what is asked of its drawing."""
    finding = held(package, check)
    measured = finding.worst_first[nth]
    state = measured.in_state.split(", ")[0]
    there = Situation(next(s for s in states_of(package) if s.state == state)).of(package)
    is_number = finding.rule is not Rule.ALL and bool(measured.values)
    asked = Asked(
        title=f"{finding.title}, {measured.subject}",
        measured=measured,
        amount=Amount(measured.values[0], finding.scale) if is_number else None,
        limit=Amount(finding.target, finding.scale) if is_number else None,
        state=finding.state,
        situation=state,
    )
    return there, measured, asked


def drawn(package, check, field=None, nth=0):
    """The finding of a check and its drawing, as a page has them."""
    there, measured, asked = asked_of(package, check, nth)
    found = decided(there, check, measured)
    drawing = draw_plan(pictured(there, found.storey), found, asked, field or Field())
    return held(package, check), drawing


FIELDS = [Field(width_mm=w, system=s) for w in (MIDDLE_MM, NARROW_MM) for s in System]
EVERY = [*FIELDS, *(Field(width_mm=HALF_MM, system=s) for s in System)]


def per_mm_of(scale):
    """The figures that a legend gives 1 mm; a sixteenth of an inch is 25.4 ÷ 16 mm."""
    step = 25.4 / 16 if scale.startswith('1/16"') else 1
    return [float(each) / step for each in re.findall(r"= ([\d.]+)", scale)]


def keeps_the_rules(drawing):
    """What holds of every drawing: letters, their boxes, the paper, and gaps that are named."""
    boxes = [each.box for each in drawing.letters]
    assert all(each.cap_mm >= 2.5 for each in drawing.letters)
    assert [(a, b) for n, a in enumerate(boxes) for b in boxes[:n] if meet(a, b)] == []
    for left, top, right, bottom in boxes:
        assert left >= 0
        assert right <= drawing.width_mm
        assert top >= 0
        assert bottom <= drawing.height_mm
    dashed = [mark for mark in drawing.flat if isinstance(mark, Path) and mark.pen is Pen.ASSUMED]
    assert all(mark.gap in drawing.gaps for mark in dashed)
    said = {each.gap for each in drawing.letters if each.gap}
    assert all(mark.gap in said or "not given" in " ".join(drawing.key) for mark in dashed)
    for mark in drawing.flat:
        for x, y in getattr(mark, "points", ()):
            assert -1e-6 <= x <= drawing.width_mm + 1e-6
            assert -1e-6 <= y <= drawing.height_mm + 1e-6


@pytest.mark.parametrize("field", EVERY, ids=lambda f: f"{f.width_mm:g} {f.system}")
@pytest.mark.parametrize("check", ASKED)
def test_no_letters_are_small_or_meet_and_every_dashed_mark_says_what_it_lacks(check, field):
    _, drawing = drawn(package_of(), check, field)
    keeps_the_rules(drawing)
    assert [gap.says for gap in drawing.gaps][-1] == "U8: it has no size"
    assert any(gap.says == "W2: place not given" for gap in drawing.gaps)


def test_every_check_whose_figure_has_a_place_is_drawn_here():
    assert {*ASKED} == {*DRAWN} - {*OVER_ROOMS}


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
@pytest.mark.parametrize("check", ASKED)
def test_each_lettered_figure_is_the_findings(check, field):
    finding, drawing = drawn(package_of(), check, field)
    measured = finding.worst_first[0]
    known = [abs(part.margin) for part in finding.parts if part.margin is not None]
    known += [*measured.values]
    known += [a.si for step in measured.steps for a in step.amounts if isinstance(a, Amount)]
    on_paper = {each.words for each in drawing.letters} | {*drawing.key}
    for figure in drawing.figures:
        assert any(math.isclose(figure.amount.si, each, abs_tol=1e-9) for each in known)
        assert not figure.lettered or figure.lettered in on_paper


def test_the_narrowest_place_is_ruled_at_its_length_and_the_missing_beside_it():
    """At night the table's corner lies 525 and 475 mm from the middle of the stool, of 175."""
    finding, drawing = drawn(package_of(), "way_to_bed")
    assert finding.value == pytest.approx(math.hypot(0.525, 0.475) - 0.175, abs=1e-6)
    ruled = [
        mark
        for mark in drawing.flat
        if isinstance(mark, Path) and mark.tone is Tone.SHORT and len(mark.points) == 2
    ]
    lengths = [math.dist(*mark.points) for mark in ruled]
    assert max(lengths) == pytest.approx(finding.value * 1000 / 50, abs=0.01)
    (block,) = [
        m
        for m in drawing.flat
        if isinstance(m, Path) and m.tone is Tone.SHORT and m.fill is Fill.PAPER
    ]
    assert math.dist(*block.points[:2]) == pytest.approx(-finding.parts[0].margin * 20, abs=0.01)
    assert any(isinstance(mark, Strokes) for mark in drawing.flat)
    assert {"533", "167 short"} <= {each.words for each in drawing.letters}


def test_the_way_is_as_wide_on_paper_as_it_is():
    finding, drawing = drawn(package_of(), "way_to_bed")
    (ribbon,) = [mark for mark in drawing.flat if isinstance(mark, Ribbon)]
    assert ribbon.width_mm == pytest.approx(finding.value * 1000 / 50)


def test_rooms_and_furniture_are_as_large_on_paper_as_in_their_rows():
    _, drawing = drawn(package_of(), "way_to_bed")
    sizes = {
        (
            round(abs(mark.points[1][0] - mark.points[0][0]), 2),
            round(abs(mark.points[2][1] - mark.points[1][1]), 2),
        )
        for mark in drawing.flat
        if isinstance(mark, Path) and mark.is_closed and mark.fill is Fill.PAPER
    }
    assert {(96.0, 60.0), (64.0, 38.0), (32.0, 35.0)} <= sizes  # rooms at 1:50
    assert {(37.0, 28.0), (28.0, 14.0), (40.0, 14.0)} <= sizes  # the bench as a bed, table, bunk
    discs = [mark.radius_mm for mark in drawing.flat if isinstance(mark, Disc)]
    assert 3.5 in discs  # the stool


def test_walls_are_cut_as_thick_as_they_are_said():
    _, drawing = drawn(package_of(), "way_to_bed")
    cut = [m.points for m in drawing.flat if isinstance(m, Path) and m.fill is Fill.CUT]
    assert abs(cut[0][1][0] - cut[0][0][0]) == pytest.approx((4.8 + 2 * 0.18) * 20)


def test_walls_that_give_no_thickness_are_lines_and_say_so():
    rooms = [{**room, "wall_mm": ""} for room in TABLES["rooms"]]
    _, drawing = drawn(package_of(rooms=rooms), "way_to_bed")
    keeps_the_rules(drawing)
    assert "walls: thickness not given, drawn as lines" in [gap.says for gap in drawing.gaps]


def test_a_made_bed_has_its_pillow_and_by_day_it_is_a_bench():
    def fine_shapes(check):
        _, drawing = drawn(package_of(), check)
        return sum(
            isinstance(m, Path) and m.pen is Pen.FINE and m.is_closed and m.fill is Fill.NONE
            for m in drawing.flat
        )

    assert fine_shapes("way_to_bed") == fine_shapes("walked_out") + 1


def test_a_door_that_meets_something_stands_as_far_as_it_opens():
    finding, drawing = drawn(package_of(), "doors_open_fully")
    assert finding.state is State.SHORT
    assert "81°" in {each.words for each in drawing.letters}
    red = [m for m in drawing.flat if isinstance(m, Path) and m.tone is Tone.SHORT]
    assert len(red) == 3  # its leaf, its arc, and the kitchen that it meets
    (arc,) = [m for m in red if len(m.points) > 4]
    assert math.dist(arc.points[0], arc.points[-1]) < math.hypot(18, 18)


def test_floor_that_is_missing_before_a_piece_is_hatched_and_the_rest_is_not_lettered():
    """The table stands 350 mm from the wall under the window, of 760 mm before a chair."""
    used = {"plan_y": "700", "front": "all"}
    near = [{**row, **used} if row["mark"] == "U2" else row for row in FURNITURE]
    finding, drawing = drawn(package_of(furniture=near), "room_before")
    keeps_the_rules(drawing)
    assert finding.state is State.SHORT
    assert [f.lettered for f in drawing.figures if f.lettered] == ["350"]
    assert len(drawing.figures) > 3
    assert sum(isinstance(mark, Strokes) for mark in drawing.flat) == 1


def test_what_stands_before_a_way_of_escape_is_picked_out():
    _, drawing = drawn(package_of(), "escape_at_night")
    assert any(e.words == "U4 Bunk" and e.tone is Tone.SHORT for e in drawing.letters)


def test_how_far_it_is_walked_stands_beside_the_way():
    finding, drawing = drawn(package_of(), "walked_out")
    assert finding.write_value() in {each.words for each in drawing.letters}
    assert finding.state is State.OVER


def test_the_circle_to_turn_is_drawn_about_its_middle():
    roomy = [row for row in FURNITURE if row["mark"] in ("U1", "U4")]
    package = package_of(furniture=roomy, furniture_by_state=[])
    finding = held(package, "circle_reached")
    nth = [measured.subject for measured in finding.worst_first].index("R1")
    _, drawing = drawn(package, "circle_reached", nth=nth)
    discs = [mark.radius_mm for mark in drawing.flat if isinstance(mark, Disc)]
    assert finding.worst_first[nth].values[0] * 10 in [pytest.approx(radius) for radius in discs]


def test_the_room_to_stand_is_drawn_where_it_is_narrower_than_the_way():
    """The table stays where it is by day: beside the bed there is a corner to stand in."""
    night = [{"mark": "U1", "state": "night", "w": "1400", "made": "yes", "sleeps": "2"}]
    finding, drawing = drawn(package_of(furniture_by_state=night), "way_to_bed")
    keeps_the_rules(drawing)
    radius = pytest.approx(finding.value * 10)
    assert radius in [mark.radius_mm for mark in drawing.flat if isinstance(mark, Disc)]


def test_the_missing_lies_where_furniture_stands_whichever_end_that_is():
    """A locker leaves 300 mm to the wall: what is missing is drawn into the locker."""
    for up in ("350", "2650"):
        locker = {**FURNITURE[4], "room": "R1", "l": "200", "plan_x": "1900", "plan_y": up}
        bar = {**FURNITURE[4], "mark": "U9", "room": "R1", "l": "200", "w": "1700"}
        bar |= {"plan_x": "1900", "plan_y": "1850" if up == "350" else "1150"}
        package = package_of(furniture=[*FURNITURE[:5], locker | {"mark": "U6"}, bar])
        _, drawing = drawn(package, "way_to_bed")
        keeps_the_rules(drawing)


def test_what_meets_has_no_colour_but_its_word():
    there, measured, asked = asked_of(package_of(), "second_way_out")
    found = decided(there, "second_way_out", measured)
    meets = replace(asked, state=State.MEETS)
    drawing = draw_plan(pictured(there, found.storey), found, meets, Field())
    assert not any(getattr(mark, "tone", Tone.INK) is Tone.SHORT for mark in drawing.flat)
    assert [each.words for each in drawing.letters if each.tone is Tone.MEETS] == ["Meets"]
    short = draw_plan(
        pictured(there, found.storey), found, replace(asked, state=State.SHORT), Field()
    )
    assert "Short" in [each.words for each in short.letters if each.tone is Tone.SHORT]


def test_what_is_on_the_line_has_its_own():
    asked = Asked(
        title="", measured=held(package_of(), "way_to_bed").worst_first[0], state=State.ON_THE_LINE
    )
    assert asked.tone is Tone.NEAR


def test_the_answer_comes_first_for_who_cant_see_it_then_the_state_then_what_isnt_given():
    _, drawing = drawn(package_of(), "way_to_bed")
    assert drawing.title == "Plan, night: Way to each bed, U1"
    assert drawing.says == (
        "U1 is reached by 533 mm, between U2 and U6. Short. "
        "Not given: U8: it has no size; W2: place not given"
    )
    assert drawing.scale == "1:50"
    _, narrow = drawn(package_of(), "way_to_bed", FIELDS[-1])
    assert narrow.scale == '1/8" = 1\'-0"'


def many_stools():
    stool = {**FURNITURE[5], "l": "40"}
    return [
        *FURNITURE,
        *(
            {
                **stool,
                "mark": f"U{10 + n}",
                "plan_x": f"{700 + 70 * x}",
                "plan_y": f"{900 + 70 * y}",
            }
            for n, (x, y) in enumerate((x, y) for x in range(20) for y in range(9))
        ),
    ]


@pytest.mark.parametrize("check", ["doors_open_fully", "way_to_bed"])
def test_two_hundred_pieces_are_drawn_and_what_finds_no_place_is_named(check):
    _, drawing = drawn(package_of(furniture=many_stools()), check, FIELDS[3])
    keeps_the_rules(drawing)
    assert len(drawing.key) > 20


def test_a_figure_without_a_place_on_the_paper_is_named_beside_it():
    _, drawing = drawn(package_of(), "way_to_bed", Field(width_mm=12))
    assert "533" in drawing.key
    assert "533" not in {each.words for each in drawing.letters}


def test_a_figure_that_stands_far_from_its_place_is_led_to_it():
    """All about the table's corner stands furniture: the figure finds its place outside."""
    _, drawing = drawn(package_of(furniture=many_stools()), "way_to_bed", FIELDS[1])
    keeps_the_rules(drawing)
    red = [m for m in drawing.flat if isinstance(m, Path) and m.tone is Tone.SHORT]
    assert any(mark.pen is Pen.FINE and len(mark.points) == 2 for mark in red)


def test_a_room_of_two_rectangles_is_one_floor():
    nook = {**TABLES["rooms"][0], "mark": "R4", "part_of": "R1", "at_x": "-1.5", "at_y": "0"}
    nook |= {"width_m": "1.5", "depth_m": "2", "floor_m2": "3"}
    _, drawing = drawn(package_of(rooms=[*TABLES["rooms"], nook]), "way_to_bed")
    keeps_the_rules(drawing)
    assert sum(each.words.startswith("R1") for each in drawing.letters) == 1
    assert not any(each.words.startswith("R4") for each in drawing.letters)
    floors = [m for m in drawing.flat if isinstance(m, Path) and m.fill is Fill.PAPER and not m.pen]
    assert any(math.dist(*mark.points[1:3]) == pytest.approx(10 * (2 + 0.04)) for mark in floors)


def test_a_bed_too_small_for_a_pillow_has_none():
    cot = {**FURNITURE[3], "l": "500", "w": "150", "plan_y": "1800"}
    pieces = [cot if row["mark"] == "U4" else row for row in FURNITURE]
    keeps_the_rules(drawn(package_of(furniture=pieces), "way_to_bed")[1])


def test_a_room_of_its_own_is_drawn_alone():
    rooms = [{**room, "at_x": "", "at_y": ""} for room in TABLES["rooms"]]
    _, drawing = drawn(package_of(rooms=rooms), "way_to_bed")
    keeps_the_rules(drawing)
    names = {each.words for each in drawing.letters}
    assert names & {"R1 Day room", "R3 Bunk room"} == {"R3 Bunk room"}


def test_a_building_of_a_hundred_metres_is_drawn_small():
    rooms = [{**room, "at_x": "89"} if room["mark"] == "R3" else room for room in TABLES["rooms"]]
    _, drawing = drawn(package_of(rooms=rooms), "doors_open_fully", FIELDS[3])
    keeps_the_rules(drawing)


def test_a_bare_room_is_drawn_with_all_that_it_lacks():
    package = package_of(doors=[], windows=[], furniture=[], furniture_by_state=[])
    storey = storeys_of(package).of("R1")
    nothing = Measured()
    found = decided(package, "way_to_bed", nothing)
    assert found.storey == storey
    asked = Asked(title="Way", measured=nothing)
    drawing = draw_plan(pictured(package, storey), found, asked, Field())
    keeps_the_rules(drawing)
    assert "N" not in {each.words for each in drawing.letters}  # nothing says which way it lies
    assert drawing.title == "Plan: Way"
    assert drawing.says == "Beds made: none"
    alone = replace(asked, title="", situation="day")
    assert draw_plan(pictured(package, storey), found, alone, Field()).title == "Plan, day"


def test_windows_doors_and_furniture_lead_to_their_rows():
    _, drawing = drawn(package_of(), "way_to_bed")
    led = {(mark.schedule, mark.mark): mark for mark in drawing.marks if isinstance(mark, Touch)}
    assert {schedule for schedule, _ in led} == {"windows", "doors", "furniture"}
    assert led["doors", "D1"].says == "D1, door"
    assert led["furniture", "U1"].says.startswith("U1, ")
    assert all(mark.marks for mark in led.values())


def test_furniture_is_lettered_where_its_marks_can_be_read_and_what_is_met_always():
    room, *others = TABLES["rooms"]
    large = package_of(rooms=[room | {"width_m": "14", "floor_m2": "42"}, *others])
    there, measured, asked = asked_of(large, "way_to_bed")
    found = decided(there, "way_to_bed", measured)
    met = replace(found, met=("U4",))
    shown = pictured(there, found.storey)
    drawing = draw_plan(shown, met, asked, Field(width_mm=NARROW_MM))
    assert drawing.scale == "1:200"
    assert [each.words for each in drawing.letters if each.words[0] == "U"] == ["U4"]

"""A room by daylight, drawn: to scale, windows where they stand, lines with their level."""

import dataclasses

import pytest

from criteria.drawing.daylight import OUT, draw_daylight, place_words, scale_of, swatches
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.marks import Disc, Path, Slide, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.package import read_package
from criteria.plans.figures import room_light
from criteria.plans.of_package import room_plan
from criteria.units import System
from tests.criteria.drawing.seen import boxes, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

ROOM = {"mark": "R1", "room": "Day <room>", "floor_m2": "12", "clear_height_m": "2.5", "use": "day",
        "wall_mm": "300"}  # fmt: skip
WINDOW = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1000", "glass_h": "1000", "sill": "800",
          "faces": "S", "left": "500"}  # fmt: skip
SITE = read_package({}).package.site
FIELDS = [
    Field(width_mm=wide, system=system, ratio=0)
    for wide in (MIDDLE_MM, NARROW_MM)
    for system in System
]


def light_of(*windows, room=ROOM, **tables):
    package = read_package({"rooms": [room], "windows": list(windows), **tables}).package
    return room_light(room_plan(package, "R1"), package.site)


def drawn(light, **more):
    for field in FIELDS:
        keeps_the_rules(draw_daylight(light, field, **more))
    return draw_daylight(light, FIELDS[0], **more)


def room_of(drawing):
    """The floor on paper: left, top, right, foot."""
    (floor,) = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.LIT]
    xs, ys = zip(*floor.points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


# By hand: 4 m and 2 × 0.3 m of walls at 1:50 are 92 mm, and 16.8 mm beside them on either side.
def test_it_is_drawn_to_scale_on_paper():
    drawing = drawn(light_of(WINDOW))
    assert (drawing.scale, drawing.width_mm) == ("1:50", 125.6)
    left, top, right, foot = room_of(drawing)
    assert (right - left, foot - top) == pytest.approx((80.0, 60.0))


@pytest.mark.parametrize(("floor", "ratio"), [("3", 20), ("22", 50), ("120", 100)])
def test_the_scale_is_the_largest_that_fits(floor, ratio):
    light = light_of(WINDOW, room=ROOM | {"floor_m2": floor, "width_m": "", "depth_m": ""})
    assert scale_of(light.plan, FIELDS[0]).ratio == ratio
    assert scale_of(light.plan, Field(ratio=200)).ratio == 200


def test_a_window_is_as_long_as_its_glass_and_where_it_stands():
    drawing = drawn(light_of(WINDOW))
    (glass,) = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.GLASS]
    left, _, _, foot = room_of(drawing)
    xs = [x for x, _ in glass.points]
    # its left, seen from inside, is the plan's right: 4 − 0.5 − 1 m from the left of the plan
    assert (min(xs) - left, max(xs) - left) == pytest.approx((2.5 * 20, 3.5 * 20))
    assert min(y for _, y in glass.points) == pytest.approx(foot)


@pytest.mark.parametrize("face", ["N", "E", "S", "W"])
def test_every_wall_has_its_windows_and_doors_in_it(face):
    door = {"mark": "D1", "place": "Porch", "leaf_w": "600", "room": "R1", "faces": face,
            "left": "1700", "swing": "out", "hinge": "left"}  # fmt: skip
    square = ROOM | {"floor_m2": "9", "width_m": "3", "depth_m": "3"}
    light = light_of(WINDOW | {"faces": face}, room=square, doors=[door])
    drawing = drawn(light)
    left, top, right, foot = room_of(drawing)
    (glass,) = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.GLASS]
    x = sum(x for x, _ in glass.points) / 4
    y = sum(y for _, y in glass.points) / 4
    beyond = {"N": y < top, "E": x > right, "S": y > foot, "W": x < left}
    assert [each for each, is_there in beyond.items() if is_there] == [face]
    assert {"W1", "D1"} <= words(drawing)


def test_a_place_that_is_assumed_is_dashed_and_says_so():
    drawing = drawn(light_of(WINDOW | {"left": ""}))
    assert [gap.says for gap in drawing.gaps] == ["W1: place not given"]
    close = [WINDOW | {"mark": f"W{n}", "left": "", "glass_w": "300"} for n in range(1, 9)]
    keeps_the_rules(drawn(light_of(*close)))


def test_the_plan_is_said_in_words():
    drawing = drawn(light_of(WINDOW))
    assert drawing.title == "Daylight plan of R1 Day <room>"
    assert "4.00 m by 3.00 m" in drawing.says
    assert "W1 in the S wall, 500 mm from its left, 100 % of the light" in drawing.says


def test_lines_carry_their_level_and_what_is_dark_is_hatched():
    drawing = drawn(light_of(WINDOW | {"glass_w": "2000"}))
    assert words(drawing) & {"1", "2", "5"}
    lines = [m for m in drawing.marks if isinstance(m, Path) and m.tone is Tone.ON_LIT]
    assert {Pen.SEEN, Pen.FINE} <= {m.pen for m in lines}
    hatch = next(m for m in drawing.marks if isinstance(m, Strokes) and m.tone is Tone.SHADE)
    left, top, right, foot = room_of(drawing)
    ends = [point for segment in hatch.segments for point in segment]
    assert all(left - 1e-6 <= x <= right + 1e-6 for x, _ in ends)
    assert all(top - 1e-6 <= y <= foot + 1e-6 for _, y in ends)


def test_a_room_without_light_is_hatched_all_over_and_has_no_line():
    drawing = drawn(light_of())
    assert [m for m in drawing.marks if isinstance(m, Path) and m.tone is Tone.ON_LIT] == []
    assert "No window." in drawing.says


@pytest.mark.parametrize(("face", "way"), [("N", "x"), ("S", "-x"), ("W", "y"), ("E", "-y")])
def test_windows_that_can_be_moved_say_where_they_are(face, way):
    light = light_of(WINDOW | {"faces": face})
    (slide,) = [m for m in drawn(light, is_moved=True).marks if isinstance(m, Slide)]
    run = light.plan.shell.wall_length_m(light.plan.wall_of(face))
    assert (slide.at_m, slide.most_m) == pytest.approx((0.5, run - 1.0))
    assert (slide.way, slide.ratio, slide.mark) == (way, 50, "W1")
    assert not [m for m in drawn(light).marks if isinstance(m, Slide)]


def test_a_trial_shows_where_the_schedules_own_stood():
    own = light_of(WINDOW)
    moved = own.plan.with_openings([dataclasses.replace(own.plan.openings[0], left_m=2.0)])

    def former(drawing):
        lines = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.DATUM]
        return [m for m in lines if m.is_closed and m.tone is Tone.INK]

    assert len(former(drawn(room_light(moved, SITE), own=own.plan))) == 1
    assert former(drawn(own, own=own.plan)) == []


def test_roof_lights_lie_above_the_cut_and_seats_are_shown():
    seat = {"mark": "U1", "item": "Bench", "kind": "seat", "room": "R1", "plan_x": "900",
            "plan_y": "900"}  # fmt: skip
    light = light_of(WINDOW | {"opens": "roof light"}, furniture=[seat])
    drawing = drawn(light)
    assert boxes(drawing.marks, pen=Pen.DATUM)
    assert {"U1", "W1"} <= words(drawing)
    assert len([m for m in drawing.marks if isinstance(m, Disc) and m.tone is Tone.ON_LIT]) == 2
    (slide,) = [m for m in drawn(light, is_moved=True).marks if isinstance(m, Slide)]
    assert slide.way == "x"
    (placed,) = light.plan.openings
    assert place_words(placed, System.METRIC).startswith("in the ceiling, ")


@pytest.mark.parametrize(
    ("face", "swing", "sign"), [("S", "in", -1), ("S", "out", 1), ("N", "in", 1), ("N", "out", -1)]
)
def test_a_door_opens_the_way_it_says(face, swing, sign):
    door = {"mark": "D1", "place": "Porch", "leaf_w": "900", "room": "R1", "faces": face,
            "left": "300", "swing": swing, "hinge": "left"}  # fmt: skip
    drawing = drawn(light_of(WINDOW | {"left": "2500"}, doors=[door]))
    leaves = [m for m in drawing.marks if isinstance(m, Path) and len(m.points) == 2]
    ((_, start), (_, tip)) = next(
        m.points
        for m in leaves
        if m.pen is Pen.SEEN and abs(m.points[1][1] - m.points[0][1]) == pytest.approx(18.0)
    )
    # a leaf of 0.9 m at 1:50 is 18 mm long; down the page is a larger figure
    assert tip - start == pytest.approx(sign * 18)


def test_sizes_follow_the_readers_units():
    drawing = draw_daylight(light_of(WINDOW), FIELDS[1])
    assert "13'-1 1/2\"" in words(drawing)
    assert any(" ft, " in each for each in words(drawing))


def test_the_key_explains_every_step_of_the_hatching():
    assert [said for _, said in swatches()] == [
        *("under 1 %", "1 to 2 %", "2 to 5 %", "5 % and over"),
    ]
    lines = [sum(len(m.segments) for m in each.marks if isinstance(m, Strokes)) for each, _ in
             swatches()]  # fmt: skip
    assert lines == sorted(lines, reverse=True)
    assert lines[-1] == 0
    assert len(OUT) == 4

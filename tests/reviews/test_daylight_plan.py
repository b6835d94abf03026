"""The drawing of a room: to scale, in classes only, said in words too."""

import dataclasses
import re
from xml.etree import ElementTree

import pytest

from criteria.package import read_package
from criteria.plans.figures import room_light
from criteria.plans.of_package import room_plan
from criteria.units import System
from reviews.pages.daylight_paper import paper_for
from reviews.pages.daylight_plan import draw_plan, tone_key

ROOM = {"mark": "R1", "room": "Day <room>", "floor_m2": "12", "clear_height_m": "2.5", "use": "day",
        "wall_mm": "300"}  # fmt: skip
WINDOW = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1000", "glass_h": "1000", "sill": "800",
          "faces": "S", "left": "500"}  # fmt: skip
SITE = read_package({}).package.site
SVG = "{http://www.w3.org/2000/svg}"


def light_of(*windows, room=ROOM, **tables):
    package = read_package({"rooms": [room], "windows": list(windows), **tables}).package
    return room_light(room_plan(package, "R1"), package.site)


def drawn(light, system=System.METRIC, **more):
    text = str(draw_plan(light, system, **more))
    return ElementTree.fromstring(text.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" '))


def by_class(svg, name):
    return [each for each in svg.iter() if name in (each.get("class") or "").split()]


# By hand: 4 m and 2 × 0.3 m of walls at 1:50 are 92 mm, and 2 × 84 units of 0.2 mm beside them
# 33.6 mm; at 1:25 it would be 217.6 mm, wider than a page.
def test_it_is_drawn_to_scale_on_paper():
    light = light_of(WINDOW)
    assert paper_for(light.plan).scale == 50
    assert drawn(light).get("width") == "125.6mm"
    assert paper_for(light.plan).per_m * 0.2 == pytest.approx(1000 / 50)


@pytest.mark.parametrize(("floor", "scale"), [("3", 20), ("22", 50), ("120", 100)])
def test_the_scale_is_the_largest_that_fits(floor, scale):
    light = light_of(WINDOW, room=ROOM | {"floor_m2": floor, "width_m": "", "depth_m": ""})
    paper = paper_for(light.plan)
    assert paper.scale in (20, 25, 50, 100, 200)
    assert paper.wide <= 880
    assert paper.scale == scale


def test_a_window_is_as_long_as_its_glass_and_where_it_stands():
    light = light_of(WINDOW)
    paper = paper_for(light.plan)
    (hole,) = by_class(drawn(light), "hole")
    assert float(hole.get("width")) == pytest.approx(1.0 * paper.per_m, abs=0.1)
    # its left, seen from inside, is the plan's right: 4 − 0.5 − 1 m from the left of the plan
    assert float(hole.get("x")) == pytest.approx(paper.x(2.5), abs=0.1)
    assert float(hole.get("y")) == pytest.approx(paper.y(0), abs=0.1)


def test_the_plan_is_said_in_words():
    svg = drawn(light_of(WINDOW))
    assert svg.find(f"{SVG}title").text == "Daylight plan of R1 Day <room>"
    words = svg.find(f"{SVG}desc").text
    assert "4.00 m by 3.00 m" in words
    assert "W1 in the S wall, 500 mm from its left, 100 % of the light" in words
    assert (svg.get("role"), svg.get("aria-labelledby")) == ("img", "plan-title")


def test_it_has_classes_and_no_style():
    text = str(draw_plan(light_of(WINDOW), System.METRIC))
    assert not re.search(r"\sstyle=|<style|\son\w+=|fill=\"#", text)


def test_lines_carry_their_level():
    svg = drawn(light_of(WINDOW | {"glass_w": "2000"}))
    assert {text.text for text in by_class(svg, "isoline-label")} & {"1", "2", "5"}
    assert by_class(svg, "isoline-main")
    assert by_class(svg, "tone")[0].get("d")


def test_a_room_without_light_is_hatched_all_over_and_has_no_line():
    svg = drawn(light_of())
    assert by_class(svg, "isoline") == []
    assert "No window." in svg.find(f"{SVG}desc").text


def test_windows_that_can_be_moved_say_where_they_are():
    (window,) = by_class(drawn(light_of(WINDOW), is_moved=True), "window")
    assert (window.get("data-left"), window.get("data-most")) == ("500", "3000")
    assert window.get("data-way") == "-x"
    (fixed,) = by_class(drawn(light_of(WINDOW)), "window")
    assert fixed.get("data-left") is None


def test_a_trial_shows_where_the_schedules_own_stood():
    own = light_of(WINDOW)
    moved = own.plan.with_openings([dataclasses.replace(own.plan.openings[0], left_m=2.0)])
    assert len(by_class(drawn(room_light(moved, SITE), own=own.plan), "was")) == 1
    assert by_class(drawn(own, own=own.plan), "was") == []


def test_roof_lights_lie_above_the_cut_and_seats_are_shown():
    seat = {"mark": "U1", "item": "Bench", "kind": "seat", "room": "R1", "plan_x": "900",
            "plan_y": "900"}  # fmt: skip
    svg = drawn(light_of(WINDOW | {"opens": "roof light"}, furniture=[seat]))
    assert len(by_class(svg, "overhead")) == 2
    assert by_class(svg, "seat")
    assert by_class(svg, "hole") == []


@pytest.mark.parametrize(
    ("face", "swing", "sign"), [("S", "in", -1), ("S", "out", 1), ("N", "in", 1), ("N", "out", -1)]
)
def test_a_door_opens_the_way_it_says(face, swing, sign):
    door = {"mark": "D1", "place": "Porch", "leaf_w": "900", "room": "R1", "faces": face,
            "left": "300", "swing": swing}  # fmt: skip
    (leaf,) = by_class(drawn(light_of(WINDOW | {"left": "2500"}, doors=[door])), "leaf")
    start, tip = re.match(r"M[\d.]+ (-?[\d.]+)V(-?[\d.]+)A", leaf.get("d")).groups()
    # a leaf of 0.9 m at 1:50 is 90 units long; down the page is a larger figure
    assert float(tip) - float(start) == pytest.approx(sign * 90, abs=0.2)


def test_sizes_follow_the_readers_units():
    words = [text.text for text in by_class(drawn(light_of(WINDOW), System.US), "size-words")]
    assert "13'-1 1/2\"" in words
    assert any(text.endswith("on paper") and " ft," in text for text in words)


def test_the_key_explains_every_step_of_the_hatching():
    assert [words for _, words in tone_key()] == [
        "under 1 %",
        "1 to 2 %",
        "2 to 5 %",
        "5 % and over",
    ]

"""Plans of a building in its states: stairs between storeys, and what makes no plan."""

import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Touch
from criteria.drawing.plan_in_states import plans_in_states
from criteria.package import Package, read_package

ROOMS = [
    {"mark": "R1", "room": "Hall", "use": "day", "floor_m2": "16", "depth_m": "4", "width_m": "4"},
    {"mark": "R2", "room": "Loft", "use": "sleep", "floor_m2": "16", "depth_m": "4"},
]
PLACES = [{"at_x": "0", "at_y": "0"}, {"at_x": "0", "at_y": "0", "level": "1", "width_m": "4"}]
STAIR = {
    "mark": "K1", "place": "Up", "kind": "loft stair", "room": "R2", "rise": "2600",
    "risers": "11", "tread": "200", "width": "600", "from_room": "R1",
    "foot_x": "800", "foot_y": "1000", "head_x": "2800", "head_y": "1000",
}  # fmt: skip
BED = {"room": "R2", "kind": "bed", "height_mm": "450", "l": "2000", "w": "800", "plan_x": "1000"}


def plans(stair: dict[str, str], furniture: tuple[dict[str, str], ...] = (), wide: float = 150):
    rooms = [{**room, **place} for room, place in zip(ROOMS, PLACES, strict=True)]
    package = read_package({"rooms": rooms, "climbs": [stair], "furniture": list(furniture)})
    return [laid(Field(width_mm=wide)) for laid in plans_in_states(package.package)]


def stairs(drawing) -> list[Touch]:
    marks = [mark for mark in drawing.marks if isinstance(mark, Touch)]
    return [mark for mark in marks if mark.schedule == "climbs"]


def test_a_stair_is_drawn_on_both_storeys_from_its_foot_to_its_head():
    lower, upper = plans(STAIR)
    (drawn,) = stairs(lower)
    outline, steps = drawn.marks[:2]
    assert len(steps.segments) == 11
    xs = [x for x, _ in outline.points]
    assert max(xs) - min(xs) == pytest.approx(2000 / 50)
    assert {letter.words for letter in lower.letters} >= {"K1 up", "R1 Hall"}
    assert len(stairs(upper)) == 1
    assert "K1 down" in {letter.words for letter in upper.letters}


def test_its_arrow_points_off_the_storey():
    up, down = (stairs(drawing)[0].marks[2] for drawing in plans(STAIR))
    assert up.points == down.points[::-1]


@pytest.mark.parametrize(
    "change",
    [
        {"foot_x": ""},
        {"from_room": ""},
        {"room": ""},
        {"head_x": "800"},
        {"risers": ""},
    ],
)
def test_a_stair_without_its_ends_is_left_out(change):
    assert not any(stairs(drawing) for drawing in plans({**STAIR, **change}))


def test_beds_over_each_other_are_lettered_together():
    lower = {**BED, "mark": "U1", "item": "Lower bunk", "plan_y": "3000"}
    upper = {**lower, "mark": "U2", "item": "Upper bunk", "under_mm": "1300"}
    _, drawing = plans(STAIR, (lower, upper))
    assert "U1 U2" in {letter.words for letter in drawing.letters}


def test_a_sheet_that_is_low_takes_a_smaller_scale():
    rooms = [{**room, **place} for room, place in zip(ROOMS, PLACES, strict=True)]
    package = read_package({"rooms": rooms}).package
    laid = next(plans_in_states(package))
    assert laid(Field(width_mm=150)).scale == "1:50"
    assert laid(Field(width_mm=150, tallest_mm=80)).scale == "1:100"


def in_states(*kinds: str) -> list[str]:
    rooms = [{**room, **place} for room, place in zip(ROOMS, PLACES, strict=True)]
    states = [{"state": f"s{n}", "kind": kind} for n, kind in enumerate(kinds)]
    package = read_package({"rooms": rooms, "states": states}).package
    return [laid(Field()).title for laid in plans_in_states(package)]


def test_storeys_that_are_alike_in_several_states_are_drawn_once():
    assert in_states("day", "night") == ["Plan, s0 and s1", "Plan, s0 and s1: level 1"]


def test_a_state_whose_kind_is_not_given_makes_no_plan():
    assert in_states("day", "") == []


def test_without_rooms_there_is_no_plan():
    assert list(plans_in_states(Package())) == []

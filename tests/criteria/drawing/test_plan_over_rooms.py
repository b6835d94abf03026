"""Figures of rooms and pieces on a plan: lettered where they are counted, seen or measured."""

import pytest

from criteria.checks.decided import ONE_PLACE, OVER_ROOMS, decided
from criteria.drawing.marks import Path
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.plan_counts import COUNTED
from criteria.package import read_package
from tests.criteria.drawing.seen import drawn, in_each_field, seen_of, words
from tests.folding_cabin import DOORS, FURNITURE, ROOMS, TABLES

SAID = {
    "R1": {"passage_mm": "700", "turning_mm": "1500", "private": "no"},
    "R2": {"turning_mm": "900", "private": "yes"},
    "R3": {"private": "yes", "reached_by": "floor"},
}
STOVE = {
    **{"mark": "U9", "item": "Stove", "kind": "stove", "n": "1", "room": "R1", "l": "400"},
    **{"w": "400", "plan_x": "2500", "plan_y": "2700", "hearth_mm": "500", "flue_mm": "150"},
}
PIECES = [
    *(row | {"day": "3", "seats_at_night": "2"} if row["mark"] == "U1" else row
      for row in FURNITURE if row["mark"] != "U4"), STOVE,
]  # fmt: skip
ROWS = {
    **TABLES,
    "rooms": [row | SAID[row["mark"]] for row in ROOMS],
    "furniture": PIECES,
    "plant": [{"burns": "yes"}],
    "site": [{"people": "2"}],
    "occupants": [{"mark": "P1", "who": "Guests", "n": "2", "step_free": "1"}],
    "stowage": [{"mark": "S1", "what": "Hook", "n": "3", "l_each": "0", "for": "wet gear"}],
}


def middle(drawing, said):
    """Where a figure is lettered: the middle of its letters."""
    (letter,) = [each for each in drawing.letters if each.words == said and each.is_strong]
    left, top, right, foot = letter.box
    return (left + right) / 2, (top + foot) / 2


@pytest.mark.parametrize("check", OVER_ROOMS)
def test_each_is_drawn_by_the_rules_in_each_width_and_system(check):
    for drawing in in_each_field(ROWS, check):
        assert drawing.title.startswith("Plan")


@pytest.mark.parametrize(
    ("check", "said"),
    [("passage_width", "700"), ("turning_circle", "900"), ("single_sided_depth", "1.30")],
)
def test_the_figure_of_one_room_stands_in_it(check, said):
    seen = seen_of(ROWS, check)
    found = decided(seen.package, check, seen.asked.measured)
    drawing = drawn(ROWS, check)
    assert said in words(drawing)
    assert said not in drawing.title
    place = next(p for p in found.storey.places if p.room == seen.asked.measured.subject)
    assert place.holds(found.at)


def test_the_figure_of_a_stove_stands_at_it():
    seen = seen_of(ROWS, "stove_clear")
    assert decided(seen.package, "stove_clear", seen.asked.measured).at == pytest.approx((2.5, 2.7))


@pytest.mark.parametrize(
    ("check", "said"),
    [("day_seats", ["3"]), ("night_seats", ["2"]), ("step_free_beds", ["2"]),
     ("place_alone", ["1", "1"])],
)  # fmt: skip
def test_what_is_counted_is_lettered_where_it_stands(check, said):
    strong = [each.words for each in drawn(ROWS, check).letters if each.is_strong]
    assert [each for each in strong if each.isdigit()] == said


# D1 and D4 are the outside doors of the cabin; D4 is wide enough here to be an exit.
def test_seats_of_pieces_that_nobody_counted_are_none():
    uncounted = [row | {"n": ""} for row in PIECES]
    strong = [each.words for each in drawn({**ROWS, "furniture": uncounted}, "day_seats").letters]
    assert not [each for each in strong if each.isdigit()]


def test_two_exits_are_joined_by_a_line_from_middle_to_middle():
    doors = [row | {"clear_w": "800", "leaf_w": "820"} for row in DOORS]
    rows = {**ROWS, "doors": doors, "furniture": [], "furniture_by_state": []}
    seen = seen_of(rows, "exits_apart")
    found = decided(seen.package, "exits_apart", seen.asked.measured)
    gates = {gate.middle for gate in found.storey.gates}
    assert len({*found.across} & gates) == 2
    drawing = drawn(rows, "exits_apart", ("exits_apart", "at least", "0.99"))
    assert not any("short" in each for each in words(drawing))
    assert decided(*_alone()).across is None


def _alone():
    seen = seen_of(ROWS, "exits_apart")
    return seen.package, "exits_apart", seen.asked.measured


def test_beds_that_see_each_other_are_joined_in_red():
    beds = [
        {"mark": f"U{n}", "item": "Bed", "kind": "bed", "n": "1", "room": "R3", "l": "800",
         "w": "1800", "plan_x": x, "plan_y": "950", "height_mm": "400"}
        for n, x in ((21, "450"), (22, "2700"))
    ]  # fmt: skip
    drawing = drawn({**TABLES, "furniture": beds, "furniture_by_state": []}, "beds_out_of_sight")
    lines = [m for m in drawing.marks if isinstance(m, Path) and m.tone is Tone.SHORT]
    assert [m.pen for m in lines] == [Pen.DATUM]


def test_every_check_over_rooms_but_hooks_has_its_place():
    """Nobody types in which room hooks for wet gear are."""
    placed = {*COUNTED, *ONE_PLACE, "exits_apart", "beds_out_of_sight"}
    assert {*OVER_ROOMS} - placed == {"wet_hooks"}
    assert read_package(ROWS).package.rooms

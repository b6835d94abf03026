"""Rooms on other levels, walked over stairs and ladders: by hand, and what nobody can tell."""

import math

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.checks.ways import TOPIC
from criteria.findings import State
from criteria.package import read_package
from tests.criteria.checks.test_climbs import CLIMB
from tests.criteria.checks.test_ways import DOOR, ON_ONE_PLAN, ROOM, bed, cabin, piece

__all__ = ["cabin"]

BELOW = ROOM | ON_ONE_PLAN | {"use": "day"}
LOFT = ROOM | ON_ONE_PLAN | {"mark": "R2", "room": "Loft", "width_m": "3", "level": "1"}
BUNK = bed("U1", 1, 2.9, 1.5, 2.4, room="R2")
"""Its free long side looks down the plan, with 1.5 m before it."""
LADDER = CLIMB | {
    "kind": "ladder",
    "room": "R2",
    "from_room": "R1",
    "width": "400",
    "foot_x": "500",
    "foot_y": "1200",
    "head_x": "590",
    "head_y": "900",
}


@pytest.fixture
def lofted(cabin):
    def made(*furniture, rooms=(BELOW, LOFT), climbs=LADDER, **more):
        return cabin(*(furniture or (BUNK,)), rooms=list(rooms), climbs=climbs, **more)

    return made


# below: door 0.9, foot 0.5 m from a wall; above: head 0.59 m from a wall, then 1.5 m beside the bed
@pytest.mark.parametrize(
    ("cells", "mm", "between"),
    [
        ({}, 400, "on K1"),
        ({"width": "1200"}, 900, "in D1"),
        ({"width": "1200", "foot_x": "250"}, 500, "at an end of K1"),
    ],
)
def test_a_loft_is_reached_by_the_narrowest_of_way_climb_and_way(lofted, hold, cells, mm, between):
    finding = hold(lofted(climbs=LADDER | cells), "way_to_bed", "600")
    assert finding.value == pytest.approx(mm / 1000, abs=1e-9)
    assert finding.notes[0].write() == f"U1 is reached by {mm} mm, {between}"


def test_what_stands_in_the_loft_narrows_the_way_there(lofted, hold):
    """A chest 1.2 m deep from the wall leaves 2.4 − 1.5 = 0.9, less 0.6: 300 mm to the bed."""
    chest = piece("U2", 0.8, 1, 0.3, 2.4, room="R2")
    finding = hold(lofted(BUNK, chest), "way_to_bed", "600")
    assert finding.value == pytest.approx(0.3, abs=1e-9)
    assert finding.notes[0].write() == "U1 is reached by 300 mm, between a wall of R2 and U2"


def test_of_two_climbs_the_wider_way_counts(lofted, hold):
    stair = LADDER | {"mark": "K2", "kind": "loft stair", "width": "560", "foot_x": "3000"}
    finding = hold(lofted(climbs=[LADDER, stair]), "way_to_bed", "600")
    assert finding.notes[0].write() == "U1 is reached by 560 mm, on K2"


def test_a_loft_above_a_loft_is_climbed_to_twice(lofted, hold):
    higher = LOFT | {"mark": "R3", "room": "Crow's nest", "level": "2"}
    second = LADDER | {"mark": "K2", "room": "R3", "from_room": "R2", "width": "350"}
    there = lofted(
        BUNK | {"room": "R3"},
        rooms=(BELOW, LOFT, higher),
        climbs=[LADDER, second | {"foot_x": "1500"}],
    )
    assert hold(there, "way_to_bed", "600").notes[0].write() == "U1 is reached by 350 mm, on K2"


def test_a_bed_below_has_its_second_way_up_a_climb_and_out_above(lofted, hold):
    """Not “no door out but the first”: the hatch of 600 mm is reached by the ladder of 400."""
    hatch = DOOR | {"mark": "D2", "role": "second exit", "room": "R2", "faces": "W", "left": "300"}
    hatch |= {"clear_w": "600", "leaf_w": "600"}
    below = bed("U2", 4, 6, 1.5, 2.4, room="R1")
    finding = hold(lofted(below, doors=[DOOR, hatch]), "second_way_out", "500")
    assert (finding.state, finding.value) == (State.SHORT, pytest.approx(0.4))
    assert finding.notes[0].write() == "U2 is reached by 400 mm, on K1"
    alone = hold(lofted(below), "second_way_out", "500")
    assert alone.notes[0].write() == "U2 is reached by 0 mm, no door out but the first"


def test_a_room_that_no_climb_leads_to_is_not_reached_and_that_is_a_hazard(lofted, hold):
    for climbs in ([], LADDER | {"room": "R1", "from_room": "R1"}):
        finding = hold(lofted(climbs=climbs), "way_to_bed", "600")
        assert (finding.state, finding.value) == (State.SHORT, 0)
        assert "no climb leads to level 1, a hazard to whoever sleeps there" in (
            finding.notes[0].write()
        )
        out = hold(lofted(climbs=climbs), "walked_out", "9")
        assert out.missing == ("a climb to level 1 (climbs)",)


@pytest.mark.parametrize(
    ("head", "label"),
    [
        ("width", "Width"),
        ("from_room", "Leads from"),
        ("room", "Leads to"),
        ("foot_x", "Foot, across"),
        ("head_y", "Head, up"),
    ],
)
@pytest.mark.parametrize("check", ["way_to_bed", "second_way_out", "way_to_toilet", "walked_out"])
def test_a_climb_that_lacks_a_cell_is_no_data_and_names_it(lofted, hold, check, head, label):
    toilet = ROOM | {"mark": "R3", "room": "Wc", "use": "wc", "at_x": "6.1", "at_y": "0"}
    there = lofted(rooms=(BELOW, LOFT, toilet), climbs=LADDER | {head: ""})
    finding = hold(there, check, "9")
    assert finding.state is State.NO_DATA
    assert f"K1, {label} (climbs)" in finding.missing


@pytest.mark.parametrize(("end", "x"), [("foot", "3000"), ("head", "2000")])
def test_an_end_that_something_stands_on_is_no_data(lofted, hold, end, x):
    table = piece("U2", 2.5, 3.5, 0.5, 1.5)
    there = lofted(BUNK, table, climbs=LADDER | {f"{end}_x": x, "head_y": "2000", "foot_y": "1000"})
    finding = hold(there, "way_to_bed", "600")
    assert finding.missing == (f"a free place at the {end} of K1: something stands there",)


# 0.6 m along the loft from beside the bed, 2.1 ÷ sin 70°, and √(0.95² + 1.2²) from foot to door
LADDER_M = 2.1 / math.sin(math.radians(70))
TO_DOOR_M = math.hypot(0.95, 1.2)


def test_the_way_out_runs_along_the_slope_of_its_climb(lofted, hold):
    finding = hold(lofted(), "walked_out", "9")
    assert finding.value == pytest.approx(0.6 + LADDER_M + TO_DOOR_M, abs=1e-6)
    assert finding.steps[0].write() == "U1 to outside by D1 over K1: 4.4 m"
    # a stair of 8 risers with treads of 160: √(2.1² + (7 · 0.16)²) = 2.38
    stair = hold(lofted(climbs=LADDER | {"kind": "loft stair"}), "walked_out", "9")
    assert stair.value == pytest.approx(0.6 + 2.38 + TO_DOOR_M, abs=1e-6)


def test_the_nearer_of_two_climbs_is_walked(lofted, hold):
    far = LADDER | {"mark": "K2", "foot_x": "5500"}
    finding = hold(lofted(climbs=[far, LADDER]), "walked_out", "9")
    assert finding.value == pytest.approx(0.6 + LADDER_M + TO_DOOR_M, abs=1e-6)


@pytest.mark.parametrize(("x", "value"), [("300", "all"), ("295", "not: K1 (R1 at its foot)")])
def test_the_foot_of_a_climb_is_kept_clear(lofted, hold, x, value):
    """600 mm: twice 300 mm from the wall at x = 0."""
    finding = hold(lofted(climbs=LADDER | {"foot_x": x}), "room_before", "yes")
    assert finding.write_value() == value
    step = f"K1: {2 * int(x)} mm at its foot beside a wall of R1, of 600 mm"
    assert step in [step.write() for step in finding.steps]


def test_a_toilet_upstairs_is_gone_to_over_the_climb_and_a_toilet_down_too(lofted, hold):
    """A toilet of 3 × 2.4 m, its circle 2.4 m: what is narrow is the ladder, up or down."""
    toilet = LOFT | {"mark": "R3", "room": "Toilet", "use": "wc", "level": "1", "at_x": "6"}
    door = DOOR | {"mark": "D2", "role": "internal", "outside": "no", "room": "R3", "faces": "W"}
    up = lofted(
        bed("U1", 4, 6, 0, 0.9),
        rooms=(BELOW, toilet),
        climbs=LADDER | {"room": "R3"},
    )
    assert hold(up, "way_to_toilet", "600").notes[0].write() == "U1 is reached by 400 mm, on K1"
    down = lofted(
        rooms=(BELOW, LOFT, toilet | {"level": "0", "at_x": "6.1"}),
        doors=[DOOR, door | {"left": "500"}],
    )
    assert hold(down, "way_to_toilet", "600").notes[0].write() == "U1 is reached by 400 mm, on K1"
    none = lofted(rooms=(BELOW, LOFT, toilet | {"level": "2"}), climbs=[])
    assert "no climb leads to level 2" in hold(none, "way_to_toilet", "600").notes[0].write()


def test_the_second_way_out_of_a_loft_is_its_own_hatch_or_leads_down(lofted, hold):
    back = DOOR | {"mark": "D2", "role": "second exit", "faces": "N", "left": "500"}
    down = hold(lofted(doors=[DOOR, back]), "second_way_out", "550")
    assert down.notes[0].write() == "U1 is reached by 400 mm, on K1"
    hatch = back | {"room": "R2", "clear_w": "600", "leaf_w": "600", "faces": "S"}
    own = hold(lofted(doors=[DOOR, hatch]), "second_way_out", "550")
    assert own.notes[0].write() == "U1 is reached by 600 mm, in D2"
    only = hold(lofted(), "second_way_out", "550")
    assert only.notes[0].write() == "U1 is reached by 0 mm, no door out but the first"


def test_no_wheelchair_climbs(lofted, hold):
    day = LOFT | {"use": "day"}
    turning = hold(lofted(rooms=(BELOW | {"use": "sleep"}, day)), "circle_reached", "1525")
    assert turning.value == 0
    assert turning.notes[1].write() == "R2 is on level 1, over a climb"
    toilet = ROOM | {"mark": "R3", "room": "Wc", "use": "wc", "at_x": "6.1", "at_y": "0"}
    free = lofted(BUNK | {"reached_by": "floor"}, rooms=(BELOW, LOFT, toilet))
    finding = hold(free, "way_step_free", "815")
    assert finding.value == 0


def test_lofts_with_plans_of_their_own_are_climbed_to_and_two_of_a_level_want_one_plan(
    lofted, hold
):
    own = LOFT | {"at_x": "", "at_y": ""}
    finding = hold(lofted(rooms=(BELOW, own)), "way_to_bed", "600")
    assert finding.notes[0].write() == "U1 is reached by 400 mm, on K1"
    beside = own | {"mark": "R3", "room": "Other loft"}
    unknown = hold(lofted(BUNK | {"room": "R3"}, rooms=(BELOW, own, beside)), "way_to_bed", "600")
    assert unknown.missing == (
        "R3, On the plan, across (room schedule)",
        "R3, On the plan, up (room schedule)",
    )


def test_more_climbs_than_are_tried_give_no_verdict(lofted, hold):
    climbs = [LADDER | {"mark": f"K{n}"} for n in range(1, 14)]
    finding = hold(lofted(climbs=climbs), "way_to_bed", "100")
    assert finding.missing == ("at most 12 climbs, of 13: ways over more aren't walked",)


WIDE = {"width": "900"}
"""A ladder that narrows nothing: with what can't be read of it a way of 700 mm would be a pass."""


@pytest.mark.parametrize("text", ["~?", ""])
@pytest.mark.parametrize(
    "head", ["width", "from_room", "room", "foot_x", "foot_y", "head_x", "head_y", "kind", "rise"]
)
def test_a_cell_of_a_climb_that_cannot_be_read_gives_no_pass(hold, head, text):
    tables = {
        "rooms": [BELOW, LOFT],
        "doors": [dict(DOOR)],
        "furniture": [dict(BUNK)],
        "climbs": [LADDER | WIDE | {head: text}],
    }
    package = read_package(tables).package
    for check, value in (("way_to_bed", "700"), ("walked_out", "9")):
        finding = hold(package, check, value)
        if check == "walked_out" or head not in ("kind", "rise"):
            assert not finding.state.is_met
        assert finding.state is not State.NO_DATA or finding.missing


@pytest.mark.parametrize(("end", "room"), [("foot", "R1"), ("head", "R2")])
def test_an_end_outside_its_room_is_no_way_in(lofted, hold, end, room):
    finding = hold(lofted(climbs=LADDER | {f"{end}_x": "9000"}), "way_to_bed", "300")
    assert finding.missing == (f"a place for the {end} of K1: it lies outside {room}",)


@pytest.mark.parametrize(
    "cells",
    [
        {"foot_x": "30000"},
        {"head_x": "3000", "head_y": "2400"},
        {"head_x": "29000"},
        {"risers": "1", "tread": "10", "kind": "stair"},
        {"rise": "10000", "risers": "60", "tread": "1000", "kind": "loft stair"},
        {"room": "R1", "from_room": "R2"},
        {"room": "R2", "from_room": "R2"},
        {"width": "100"},
    ],
)
def test_no_climb_however_odd_breaks_a_check_or_passes_in_silence(lofted, cells):
    package = lofted(BUNK, piece("U2", 4, 5, 0, 1, kind="seat"), climbs=LADDER | cells)
    for check in CHECKS.values():
        if check.topic == TOPIC:
            for measured in check.of(package):
                assert measured.values or measured.missing
                assert all(math.isfinite(value) for value in measured.values)

"""A trial of windows: refused with both numbers, or written into the rows as typed."""

import dataclasses

import pytest

from criteria.package import read_package
from criteria.plans.of_package import room_plan
from criteria.plans.trial import adopted_records, misplaced
from criteria.units import System
from tests.criteria.plans.test_of_package import ROOM, WINDOW, plan_of

OTHER = WINDOW | {"mark": "W9", "room": "R2"}


def moved(plan, index=0, **given):
    openings = list(plan.openings)
    openings[index] = dataclasses.replace(openings[index], **given)
    return plan.with_openings(openings)


def said(trial, system=System.METRIC):
    return [(each.index, each.field, each.read, each.expected) for each in misplaced(trial, system)]


def test_a_plan_that_can_stand_is_not_refused():
    assert said(plan_of(WINDOW)) == []


# The wall is 4 m: 3.0 + 1.0 m is just in, 3.001 m just over.
def test_a_window_may_end_where_its_wall_does():
    plan = plan_of(WINDOW)
    assert said(moved(plan, left_m=3.0)) == []
    assert said(moved(plan, left_m=3.001)) == [
        (
            0,
            "left",
            "3\u202f001 mm + 1\u202f000 mm = 4\u202f001 mm",
            "at most 4\u202f000 mm, the length of the S wall",
        )
    ]


def test_a_window_wider_than_its_wall_is_refused_by_its_width():
    assert said(moved(plan_of(WINDOW), width_m=4.5, left_m=0.0))[0][1] == "width"


# The ceiling is 4 m by 3 m.
def test_a_roof_light_past_the_ceilings_edge_is_refused_by_the_rooms_sides():
    plan = plan_of(WINDOW | {"opens": "roof light"})
    assert said(moved(plan, left_m=3.0, sill_m=2.0)) == []
    assert [each[3] for each in said(moved(plan, left_m=3.001, sill_m=2.001))] == [
        "at most 4\u202f000 mm, the length of the room",
        "at most 3\u202f000 mm, the width of the room",
    ]


def test_a_head_over_the_ceiling_is_refused():
    assert said(moved(plan_of(WINDOW), sill_m=1.6)) == [
        (
            0,
            "sill",
            "1\u202f600 mm + 1\u202f000 mm = 2\u202f600 mm",
            "at most 2\u202f500 mm, the height of the room",
        )
    ]


def test_windows_that_overlap_are_refused_and_touching_ones_are_not():
    plan = plan_of(WINDOW, WINDOW | {"mark": "W2"})
    assert said(moved(moved(plan, 0, left_m=0.5), 1, left_m=1.5)) == []
    assert said(moved(moved(plan, 0, left_m=0.5), 1, left_m=1.4)) == [
        (
            1,
            "left",
            "1\u202f400 mm to 2\u202f400 mm in the S wall",
            "clear of W1, which takes 500 mm to 1\u202f500 mm",
        )
    ]


def test_windows_above_each_other_may_stand():
    plan = plan_of(WINDOW | {"glass_h": "500"}, WINDOW | {"mark": "W2", "glass_h": "500"})
    stacked = moved(moved(plan, 0, left_m=1, sill_m=0.5), 1, left_m=1, sill_m=1.0)
    assert said(stacked) == []


def test_refusals_are_in_the_readers_units():
    read = said(moved(plan_of(WINDOW), left_m=3.5), System.US)[0][2]
    assert read == "11'-5 13/16\" + 3'-3 3/8\" = 14'-9 3/16\""


# What is adopted


def test_every_window_gets_a_row_and_a_place_of_its_own():
    row = WINDOW | {"n": "2", "gap": "300", "opens": "side-hung"}
    plan = plan_of(row)
    made = adopted_records([OTHER, row], plan, plan)
    assert made[0] == OTHER
    assert [(each["mark"], each["n"], each["left"]) for each in made[1:]] == [
        ("W1", "1", "640"),
        ("W1b", "1", "2360"),
    ]
    assert all("gap" not in each and each["opens"] == "side-hung" for each in made[1:])


def test_cells_that_say_the_same_stay_as_typed():
    row = WINDOW | {"glass_w": "1 m", "sill": "80 cm"}
    plan = plan_of(row)
    (made,) = adopted_records([row], plan, moved(plan, left_m=1.0))
    assert (made["glass_w"], made["sill"], made["left"]) == ("1 m", "80 cm", "1000")


def test_a_cell_that_somebody_spoiled_since_is_written_anew():
    plan = plan_of(WINDOW)
    (made,) = adopted_records([WINDOW | {"sill": "low"}], plan, plan)
    assert made["sill"] == "800"


def test_a_frame_keeps_its_margin():
    plan = plan_of(WINDOW)
    (made,) = adopted_records([WINDOW], plan, moved(plan, width_m=1.2))
    assert (made["glass_w"], made["frame_w"], made["frame_h"]) == ("1200", "1360", "1160")


def test_another_wall_is_another_face():
    plan = plan_of(WINDOW)
    (made,) = adopted_records([WINDOW], plan, moved(plan, face="E", left_m=0.4))
    assert made["faces"] == "E"


def test_a_dropped_window_has_no_row_and_an_added_one_follows_the_first():
    plan = plan_of(WINDOW, WINDOW | {"mark": "W2", "faces": "E"})
    added = dataclasses.replace(plan.openings[0], mark="W7", row="", left_m=0.2, width_m=0.5)
    made = adopted_records(
        [WINDOW, WINDOW | {"mark": "W2", "faces": "E"}],
        plan,
        plan.with_openings([plan.openings[0], added]),
    )
    assert [each["mark"] for each in made] == ["W1", "W7"]
    assert (made[1]["room"], made[1]["u"], made[1]["faces"], made[1]["n"]) == (
        "R1",
        "1.0",
        "S",
        "1",
    )


def test_a_mark_that_another_row_has_is_not_given_twice():
    rows = [WINDOW | {"n": "2"}, OTHER | {"mark": "W1b"}]
    package = read_package({"rooms": [ROOM], "windows": [rows[0]]}).package
    plan = room_plan(package, "R1")
    assert [each["mark"] for each in adopted_records(rows, plan, plan)] == ["W1", "W1c", "W1b"]


@pytest.mark.parametrize("n", ["1", "2", "3"])
def test_what_is_adopted_is_the_trial_when_it_is_read_again(n):
    row = WINDOW | {"n": n, "glass_w": "700", "frame_w": "860"}
    plan = plan_of(row)
    trial = moved(plan, left_m=0.123, sill_m=0.65)
    again = plan_of(*adopted_records([row], plan, trial))
    assert [
        (o.mark, o.face, o.left_m, o.sill_m, o.width_m, o.height_m) for o in again.openings
    ] == [(o.mark, o.face, o.left_m, o.sill_m, o.width_m, o.height_m) for o in trial.openings]
    assert not any(o.is_assumed for o in again.openings)
    assert again.room == trial.room


def test_a_roof_light_is_written_from_left_and_lower_wall():
    row = WINDOW | {"opens": "roof light", "glass_w": "500"}
    plan = plan_of(row)
    (made,) = adopted_records([row], plan, moved(plan, left_m=0.9, sill_m=0.4))
    assert (made["left"], made["from_wall"], made["sill"]) == ("900", "400", "800")
    assert plan_of(made).room == moved(plan, left_m=0.9, sill_m=0.4).room

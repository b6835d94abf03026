"""Beds that see each other: what is as high as a screen, walls, doors, bunks and levels."""

import pytest

from criteria.findings import State
from tests.criteria.checks.test_ways import (
    BUNK,
    DOOR,
    ON_ONE_PLAN,
    ROOM,
    TO_BUNKS,
    TO_WC,
    bed,
    cabin,
    hut,
    piece,
)

__all__ = ["cabin", "hut"]

LEFT, RIGHT = bed("U1", 0, 2, 1.5, 2.4), bed("U2", 4, 6, 1.5, 2.4)
CUPBOARD = piece("U3", 2.8, 3.2, 1.4, 2.4)


def said(finding):
    return [step.write() for step in finding.steps]


@pytest.mark.parametrize(
    ("cells", "n"),
    [
        ({"height_mm": "1200"}, 1),
        ({"height_mm": "1190"}, 0),
        ({"height_mm": "2000", "under_mm": "600"}, 0),
        ({"height_mm": "2000", "under_mm": "400"}, 1),
    ],
)
def test_a_cupboard_screens_from_its_height_on(cabin, hold, cells, n):
    finding = hold(cabin(LEFT, RIGHT, CUPBOARD | cells), "beds_out_of_sight", "1")
    assert finding.value == n
    assert said(finding) == ["U1 and U2 are screened" if n else "U1 and U2 see each other"]


def test_what_stands_beside_the_line_screens_nothing(cabin, hold):
    aside = piece("U3", 2.8, 3.2, 0, 1, height_mm="2000")
    assert hold(cabin(LEFT, RIGHT, aside), "beds_out_of_sight", "1").value == 0


def test_a_height_nobody_gave_is_asked_for_only_where_it_decides(cabin, hold):
    unknown = hold(cabin(LEFT, RIGHT, CUPBOARD), "beds_out_of_sight", "1")
    assert unknown.missing == ("U3, Height (furniture schedule)",)
    wardrobe = piece("U4", 2.2, 2.6, 1.4, 2.4, height_mm="1900")
    known = hold(cabin(LEFT, RIGHT, CUPBOARD, wardrobe), "beds_out_of_sight", "1")
    assert known.state is State.MEETS


def test_a_wall_and_a_shut_door_screen(hut, hold):
    """One bed in the bunk room, one in the hall, the door between them on the line."""
    other = bed("U2", 2.9, 3.8, 0, 1.9)
    finding = hold(hut(other, doors=(DOOR, TO_BUNKS, TO_WC)), "beds_out_of_sight", "1")
    assert finding.value == 1
    assert said(finding) == [f"{BUNK['mark']} and U2 are screened"]


def test_a_bunk_over_another_is_out_of_its_sight(cabin, hold):
    upper = LEFT | {"mark": "U2", "under_mm": "1000", "height_mm": "1600"}
    finding = hold(cabin(LEFT, upper), "beds_out_of_sight", "1")
    assert said(finding) == ["U1 and U2 lie one over the other"]
    assert finding.value == 1


def test_rooms_with_plans_of_their_own_part_beds_and_levels_do_not(cabin, hold):
    other = ROOM | {"mark": "R2", "room": "Other"}
    beds = (LEFT, RIGHT | {"room": "R2"})
    apart = hold(cabin(*beds, rooms=[ROOM, other]), "beds_out_of_sight", "1")
    assert (apart.value, said(apart)) == (1, ["U1 and U2 lie in two rooms"])
    loft = other | ON_ONE_PLAN | {"level": "1"}
    above = hold(cabin(*beds, rooms=[ROOM | ON_ONE_PLAN, loft]), "beds_out_of_sight", "1")
    assert above.value == 0
    assert said(above) == ["U1 and U2 lie on two levels: taken to see each other"]


def test_all_pairs_are_counted_in_the_state_that_is_worst(cabin, hold):
    """Three beds, one screen: of three pairs two cross it, and none where it is put away."""
    third = bed("U5", 4, 6, 0, 0.9)
    screen = piece("U3", 2.8, 3.2, 0, 2.4, height_mm="1800")
    finding = hold(cabin(LEFT, RIGHT, third, screen), "beds_out_of_sight", "2")
    assert (finding.state, finding.value) == (State.MEETS, 2)
    away = {"mark": "U3", "state": "night", "inside": "M1"}
    none = hold(
        cabin(LEFT, RIGHT, third, screen, furniture_by_state=away), "beds_out_of_sight", "2"
    )
    assert none.value == 0


def test_one_bed_has_no_pair_and_a_bed_without_a_place_no_sight(cabin, hold):
    alone = hold(cabin(LEFT), "beds_out_of_sight", "1")
    assert alone.missing == ("a second bed (furniture schedule)",)
    lost = hold(cabin(LEFT, RIGHT | {"plan_x": ""}), "beds_out_of_sight", "1")
    assert lost.missing == ("U2, On the plan, across (furniture schedule)",)

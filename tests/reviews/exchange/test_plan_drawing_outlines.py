"""Closed outlines of lines, in whatever unit they are drawn."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviews.exchange.plan_drawing_outlines import Outline, outlines_of, tidied, without_wholes
from tests.criteria.variants import IS_LONG


def _box(left, low, right, high):
    return ((left, low), (right, low), (right, high), (left, high))


def _loose(*lines):
    return [(line, False) for line in lines]


def _areas(lines):
    return sorted(round(outline.area, 6) for outline in outlines_of(lines))


sizes = st.floats(0.8, 20).map(lambda n: round(n, 3))


@settings(max_examples=500 if IS_LONG else 40, deadline=None)
@given(
    sizes, sizes, st.floats(0, 360), st.sampled_from((1000.0, 100.0, 1.0, 39.3701)),
    st.floats(-500, 500), st.sampled_from(("closed", "repeated", "overshoot", "loose")),
)  # fmt: skip
def test_a_room_is_as_large_however_it_is_drawn(width, depth, turn, per_m, moved, habit):
    """A rectangle [m], turned, moved, in a unit, by a habit: its floor within 1 %."""
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def at(x, y):
        return ((x * cos - y * sin + moved) * per_m, (x * sin + y * cos - moved) * per_m)

    corners = [at(0, 0), at(width, 0), at(width, depth), at(0, depth)]
    lines = {
        "closed": [(tuple(corners), True)],
        "repeated": [((*corners, corners[0]), False)],
        "overshoot": [((*corners, at(0, -0.003)), True)],
        "loose": _loose(*zip(corners, (*corners[1:], corners[0]), strict=True)),
    }[habit]
    (outline,) = outlines_of(lines)
    assert outline.area / per_m**2 == pytest.approx(width * depth, rel=0.01)
    assert outline.holds(at(width / 2, depth / 2))
    assert not outline.holds(at(width * 1.2, depth / 2))


def test_rooms_that_share_loose_walls_are_each_their_own():
    """A house of 8 × 4 with a partition that meets its walls between their ends."""
    house = [*zip(_box(0, 0, 8, 4), (*_box(0, 0, 8, 4)[1:], (0, 0)), strict=True)]
    assert _areas(_loose(*house, ((5, 0.003), (5, 3.998)))) == pytest.approx([12, 20], rel=0.01)


def test_lines_that_lead_nowhere_close_nothing():
    house = [*zip(_box(0, 0, 8, 4), (*_box(0, 0, 8, 4)[1:], (0, 0)), strict=True)]
    stub = ((5, 0), (5, 2))
    assert _areas(_loose(*house, stub, ((20, 20), (30, 20)))) == pytest.approx([32])
    assert _areas(_loose(*house[:3])) == []
    assert _areas(_loose(((1, 1), (1, 1)))) == []


def test_the_same_outline_twice_is_once():
    assert _areas([(_box(0, 0, 5, 4), True), (_box(0, 0, 5, 4)[::-1], True)]) == [20]


def test_what_repeats_lies_between_or_turns_back_is_no_corner():
    spiked = [(0, 0), (2, 0), (2, 0), (5, 0), (7, 0), (5, 0), (5, 4), (0, 4), (0, 0)]
    assert tidied(spiked) == _box(0, 0, 5, 4)
    assert len(tidied([(0, 0), (1, 1), (2, 2)])) < 3


def test_sides_that_cross_are_told():
    assert not Outline(((0, 0), (4, 4), (4, 0), (0, 4))).is_simple
    assert Outline(_box(0, 0, 4, 4)).is_simple
    assert not Outline(((0, 0), (4, 0), (4, 4), (2, 4), (2, 2), (0, 2))).is_rectangle


def test_an_outline_that_others_fill_is_of_the_whole():
    whole, day, bunk = (
        Outline(_box(*b)) for b in ((0, 0, 9, 5), (0.3, 0.3, 5, 4.7), (5.2, 0.3, 8.7, 4.7))
    )
    niche = Outline(_box(0.5, 0.5, 1.5, 1.5))
    rooms, wholes = without_wholes([whole, day, bunk, niche])
    assert (rooms, wholes) == ([day, bunk, niche], [whole])


def test_a_point_beside_a_wall_is_as_far_as_the_wall():
    far, side = Outline(_box(0, 0, 5, 4)).distance((2, -0.3))
    assert (round(far, 6), side) == (0.3, ((0, 0), (5, 0)))

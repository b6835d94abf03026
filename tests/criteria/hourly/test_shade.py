"""Shade by closed forms: an overhang over a pane, the sky past a neighbour."""

import numpy as np
import pytest

from criteria.hourly.building import Rectangle
from criteria.hourly.shade import (
    beam_share,
    clear_share,
    even_shares,
    past_neighbours,
    points_of,
    sky_left,
)
from criteria.hourly.sun import positions
from tests.criteria.hourly.denver import DENVER

PANE = Rectangle(corner_m=(0, 0, 0), edge_m=(2, 0, 0), edge2_m=(0, 0, 2))
SOUTH = (0.0, -1.0, 0.0)
WIDE = 1e4


def _overhang(depth: float) -> Rectangle:
    """Endless to both sides, at the head of the pane."""
    return Rectangle(corner_m=(-WIDE, 0, 2), edge_m=(2 * WIDE, 0, 0), edge2_m=(0, -depth, 0))


def _towards(height_deg: float) -> np.ndarray:
    """The sun square on from the south."""
    height = np.radians(height_deg)
    return np.array([[0, -np.cos(height), np.sin(height)]])


@pytest.mark.parametrize("height", [10, 30, 45, 60, 80])
def test_an_overhang_shades_as_deep_as_the_sun_stands(height):
    deep = min(2.0, 1.0 * np.tan(np.radians(height)))
    clear = clear_share(PANE, (_overhang(1.0),), _towards(height))
    assert clear[0] == pytest.approx(1 - deep / 2, abs=0.05)


def test_a_shade_behind_the_glass_or_beside_it_shades_nothing():
    behind = Rectangle(corner_m=(-WIDE, 0.1, 2), edge_m=(2 * WIDE, 0, 0), edge2_m=(0, 1, 0))
    beside = Rectangle(corner_m=(5, 0, 0), edge_m=(0, 0, 4), edge2_m=(0, -1, 0))
    assert clear_share(PANE, (behind, beside), _towards(45))[0] == 1


def test_two_shades_together_shade_no_more_than_both():
    fin = Rectangle(corner_m=(2, 0, 0), edge_m=(0, 0, 2), edge2_m=(0, -1, 0))
    slant = np.array([[1.0, -1.0, 0.7]]) / np.sqrt(2.49)
    one, other, both = (
        clear_share(PANE, shades, slant)[0]
        for shades in ((_overhang(1.0),), (fin,), (_overhang(1.0), fin))
    )
    assert max(1 - one, 1 - other) <= 1 - both <= 2 - one - other
    assert both < min(one, other)


def test_a_pane_is_divided_into_a_hundred_middles():
    points = points_of(PANE)
    assert points.shape == (100, 3)
    assert points.mean(axis=0) == pytest.approx((1, 0, 1))
    assert points.min() == 0 or points[:, 0].min() == pytest.approx(0.1)


def test_the_sun_is_shaded_only_where_it_shines_on_the_pane():
    sun = positions(DENVER)
    cosine = sun.cos_incidence(90, 180)
    share = beam_share(sun, np.where(sun.up > 0, cosine, 0), PANE, (_overhang(1.0),))
    assert (share[(cosine <= 0) | (sun.up <= 0)] == 1).all()
    noon_june = 24 * 171 + 12
    assert share[noon_june] < 0.3
    noon_december = 24 * 354 + 12
    assert share[noon_december] > 0.7


def test_even_light_past_an_overhang_is_its_view_factor():
    """An overhang over a wall as long as it is deep sees 1 − sin of half of a right angle.

    Point by point: a point h under an endless overhang of depth d loses (1 − cos φ)/2 of all that
    it sees, φ = atan(d/h) measured from straight up, all of it sky.
    """
    sky, ground = even_shares(PANE, (_overhang(1.0),), SOUTH)
    under = 2 - points_of(PANE)[:, 2]
    lost = (1 - under / np.hypot(under, 1.0)) / 2
    assert sky == pytest.approx(1 - lost.mean() / 0.5, abs=0.01)
    assert ground == 1


def test_even_light_of_a_pane_in_a_roof_has_no_ground():
    flat = Rectangle(corner_m=(0, 0, 0), edge_m=(1, 0, 0), edge2_m=(0, 1, 0))
    beside = Rectangle(corner_m=(0, 1, 0), edge_m=(1, 0, 0), edge2_m=(0, 0, 1))
    sky, ground = even_shares(flat, (beside,), (0.0, 0.0, 1.0))
    assert 0.6 < sky < 1
    assert ground == 1


def test_what_stands_outside_hides_the_low_sun_square_on_and_to_the_sides():
    sun = positions(DENVER)
    clear = past_neighbours(sun, 90, 180, 60)
    height = np.degrees(np.arcsin(sun.up))
    south = np.abs(np.degrees(np.arctan2(sun.vector[:, 0], -sun.vector[:, 1]))) < 5
    assert not clear[south & (height > 0) & (height < 29)].any()
    assert clear[south & (height > 31)].all()
    assert past_neighbours(sun, 90, 180, 90).all()
    assert past_neighbours(sun, 30, 180, 60).all()


@pytest.mark.parametrize(
    ("tilt", "angle", "left"),
    [(90, 90, 1), (90, 60, 0.5), (90, 100, 1), (0, 180, 1), (0, 90, 0.5), (0, 200, 1)],
)
def test_part_of_the_sky_is_left_by_its_angle(tilt, angle, left):
    assert sky_left(tilt, angle) == pytest.approx(left)

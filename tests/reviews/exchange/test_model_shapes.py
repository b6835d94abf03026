"""What is measured of shapes, held to closed forms and to every way that a building may be turned.

An attic of knee k, slope 45° and width w has 2(1.5 − k) of its width under 1.5 m where the ridge
is higher, all of it where it isn't.
"""

from __future__ import annotations

import math
import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

pytest.importorskip("shapely")

import numpy as np

from reviews.exchange.model_shapes import Body, floor_of, panes_of

EXAMPLES = settings(max_examples=400 if os.environ.get("MUNTIN_LONG") else 25, deadline=None)
lengths = st.floats(0.5, 12)


def prism(section: list[tuple[float, float]], length: float, turned: float = 0.0) -> Body:
    """A convex section of y and z drawn out along x, turned about the upright [rad]."""
    n = len(section)
    corners = [(x, y, z) for x in (0.0, length) for y, z in section]
    faces = [(0, k + 1, k) for k in range(1, n - 1)]
    faces += [(n, n + k, n + k + 1) for k in range(1, n - 1)]
    for k in range(n):
        j = (k + 1) % n
        faces += [(k, j, n + j), (k, n + j, n + k)]
    c, s = math.cos(turned), math.sin(turned)
    placed = np.array(corners) @ np.array([[c, s, 0], [-s, c, 0], [0, 0, 1]])
    dull = np.zeros(len(faces), bool)
    return Body(placed, np.array(faces, np.int64), dull, dull, np.eye(3))


@EXAMPLES
@given(lengths, st.floats(1, 9), st.floats(0.05, 1.45), st.floats(-3.2, 3.2), st.floats(-50, 50))
def test_low_floor_of_an_attic(length: float, wide: float, knee: float, turned: float, at: float):
    section = [(0, 0), (wide, 0), (wide, knee), (wide / 2, knee + wide / 2), (0, knee)]
    body = prism([(y, z + at) for y, z in section], length, turned)
    floor = floor_of(body)
    assert floor is not None
    low = min(wide, 2 * (1.5 - knee))
    assert floor.area_m2 == pytest.approx(length * wide)
    assert floor.low_m2 == pytest.approx(length * low, rel=1e-6)
    assert floor.height_m == pytest.approx(knee + wide / 4)
    assert floor.least_m == pytest.approx(knee)
    assert floor.level_m == pytest.approx(at)
    assert body.volume_m3 == pytest.approx(floor.area_m2 * floor.height_m)
    assert floor.polygon.area == pytest.approx(floor.area_m2, rel=2e-3)
    assert len(floor.outline) == 4


@EXAMPLES
@given(lengths, lengths, st.floats(1.6, 6), st.floats(-3.2, 3.2))
def test_a_plain_room_has_nothing_low(length: float, wide: float, high: float, turned: float):
    floor = floor_of(prism([(0, 0), (wide, 0), (wide, high), (0, high)], length, turned))
    assert floor is not None
    assert (floor.low_m2, floor.higher_m2) == (0, 0)
    assert floor.height_m == pytest.approx(high)


def test_a_low_crawl_space_is_low_all_over():
    floor = floor_of(prism([(0, 0), (3, 0), (3, 1.2), (0, 1.2)], 4))
    assert floor is not None
    assert floor.low_m2 == pytest.approx(12)


def test_what_has_no_end_is_no_body():
    dull = np.zeros(1, bool)
    for far in (math.inf, math.nan, 1e9):
        with pytest.raises(ValueError, match=r"no shape|out of the world"):
            Body(
                np.array([[0, 0, 0], [1, 0, 0], [0, far, 0]]),
                np.array([[0, 1, 2]]),
                dull,
                dull,
                np.eye(3),
            )
    with pytest.raises(ValueError, match="no shape"):
        Body(np.zeros((0, 3)), np.zeros((0, 3), np.int64), dull[:0], dull[:0], np.eye(3))


@EXAMPLES
@given(st.floats(0.1, 3), st.floats(0.1, 3), st.floats(-3.2, 3.2))
def test_a_pane_is_as_large_as_its_front_however_it_is_turned(
    wide: float, high: float, turned: float
):
    plain = prism([(0, 0.8), (0.02, 0.8), (0.02, 0.8 + high), (0, 0.8 + high)], wide, turned)
    clear = np.ones(len(plain.faces), bool)
    body = Body(plain.corners, plain.faces, clear, ~clear, plain.axes)
    out = np.array([math.sin(turned), -math.cos(turned), 0])
    panes = panes_of(body, np.array([out[1], -out[0], 0]), np.array([0, 0, 1.0]), out)
    assert panes is not None
    assert (panes.width_m, panes.height_m) == pytest.approx((wide, high), abs=5e-4)
    assert (panes.n, panes.is_exact) == (1, True)
    assert panes.low[1] == pytest.approx(0.8, abs=1e-3)
    assert abs(float(body.facing() @ out)) == pytest.approx(1) or min(wide, high) < 0.05


def test_faces_that_rounding_parts_are_one_floor():
    """A corner so near to halfway between two places of the grid that faces part there."""
    plan = [
        *[(-5.325618, 1.792049), (-6.716019, -0.383667), (-9.376927, -0.1024)],
        *[
            (-4.463174, 2.466376),
            (-6.884176, 4.991413),
            (-5.726945, 5.282536),
            (-9.409224, 4.016086),
        ],
    ]
    faces = np.array([(0, 1, 2), (3, 0, 4), (5, 3, 4), (0, 2, 6), (4, 0, 6)])
    corners, dull = np.array([(x, y, 0.0) for x, y in plan]), np.zeros(5, bool)
    floor = floor_of(Body(corners, faces, dull, dull, np.eye(3)))
    assert floor is not None
    assert floor.polygon.area == pytest.approx(floor.area_m2, rel=1e-3)


@pytest.mark.parametrize(("larger", "face_m"), [(1 + 1e-9, 0.3), (1.02, 0.28)])
def test_the_front_of_a_pane_is_its_glass_unless_more_is_seen_of_its_back(
    larger: float, face_m: float
):
    pane = prism([(-0.3, 0), (-0.28, 0), (-0.28, 1), (-0.3, 1)], 1)
    corners = pane.corners.copy()
    corners[corners[:, 1] > -0.29, 0] *= larger
    clear = np.ones(len(pane.faces), bool)
    body = Body(corners, pane.faces, clear, ~clear, pane.axes)
    panes = panes_of(body, np.array([-1.0, 0, 0]), np.array([0, 0, 1.0]), np.array([0, -1.0, 0]))
    assert panes is not None
    assert panes.out_m == pytest.approx(face_m)

"""Hatching: lines lie where it is darker than a level, and nowhere else."""

import math

import numpy as np
import pytest

from criteria.daylight import ImpossibleInput, Room, Window, daylight_field
from criteria.daylight.hatching import hatching, lines_to_walls, to_walls

ROOM = Room(
    length_m=4.0,
    width_m=3.0,
    height_m=2.5,
    wall_thickness_m=0.25,
    windows=[Window(wall="south", offset_m=1.5, sill_m=0.8, width_m=1.0, height_m=1.2)],
)
FIELD = daylight_field(ROOM, inset_m=0)


def total_m(lines):
    return sum(math.hypot(c - a, d - b) for a, b, c, d in lines)


def test_the_field_is_carried_to_the_walls():
    x, y, values = to_walls(FIELD)
    assert (x[0], x[-1], y[0], y[-1]) == (0.0, 4.0, 0.0, 3.0)
    assert values.shape == (len(y), len(x))
    assert values[0, 1] == FIELD.df_pct[0, 0]


def test_lines_end_at_the_walls():
    lines = lines_to_walls(FIELD, [2.0])
    open_ends = [
        p for line in lines if not line.is_closed for p in (line.points[0], line.points[-1])
    ]
    assert open_ends
    for x, y in open_ends:
        assert min(x, 4 - x, y, 3 - y) == pytest.approx(0.0, abs=1e-9)


def test_every_line_rises_at_45_degrees_within_the_room():
    for a, b, c, d in hatching(FIELD, [1, 2, 5], 0.1):
        assert c - a == pytest.approx(d - b)
        assert -1e-9 <= a <= c <= 4 + 1e-9
        assert -1e-9 <= b <= d <= 3 + 1e-9


def test_nothing_is_drawn_where_all_is_bright():
    assert hatching(FIELD, [float(FIELD.df_pct.min()) / 2], 0.1) == []


# By hand: lines every 0.1 m along x over 12 m² of floor are 12 ÷ (0.1 ÷ √2) = 169.7 m long.
def test_a_dark_room_is_covered_evenly():
    assert total_m(hatching(FIELD, [1000.0], 0.1)) == pytest.approx(
        12 * math.sqrt(2) / 0.1, rel=0.02
    )


def test_each_step_halves_the_lines():
    dark = total_m(hatching(FIELD, [1000.0, 2000.0, 3000.0], 0.02))
    lighter = total_m(hatching(FIELD, [1e-9, 2000.0, 3000.0], 0.02))
    lightest = total_m(hatching(FIELD, [1e-9, 2e-9, 3000.0], 0.02))
    assert lighter / dark == pytest.approx(1 / 2, rel=0.02)
    assert lightest / dark == pytest.approx(1 / 4, rel=0.02)


def test_lines_stop_at_the_level():
    level = 2.0
    x, y, values = to_walls(FIELD)
    for a, b, c, d in hatching(FIELD, [level], 0.15):
        middle_x, middle_y = (a + c) / 2, (b + d) / 2
        column, row = np.abs(x - middle_x).argmin(), np.abs(y - middle_y).argmin()
        assert values[row, column] < 2 * level


def test_lines_need_a_spacing():
    with pytest.raises(ImpossibleInput, match="spacing_m: read 0 m; expected more than 0 m"):
        hatching(FIELD, [1], 0.0)

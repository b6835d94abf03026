"""Where openings stand: bearings turn with north, and left is left as seen from inside."""

from __future__ import annotations

import math
import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

pytest.importorskip("ifcopenshell")

import numpy as np

from reviews.exchange import model
from reviews.exchange.model_places import North
from reviews.exchange.proposed import Question
from tests.reviews.exchange.written_models import Model, window

EXAMPLES = settings(max_examples=400 if os.environ.get("MUNTIN_LONG") else 25, deadline=None)


@EXAMPLES
@given(st.floats(-180, 180), st.floats(-180, 180))
def test_a_bearing_is_clockwise_from_north(looks: float, turned: float):
    """Of a way that lies so far clockwise of the plan's y axis, which itself looks so."""
    out = np.array([math.sin(math.radians(looks)), math.cos(math.radians(looks)), 0.0])
    bearing = North(turned, "").bearing_of(out)
    assert bearing is not None
    assert 0 <= bearing < 360
    off = (bearing - looks - turned + 180) % 360 - 180
    assert abs(off) < 0.06


def test_nothing_upright_has_a_bearing_and_nothing_without_north():
    assert North(0.0, "").bearing_of(np.array([0.0, 0.0, 1.0])) is None
    assert North(None, "").bearing_of(np.array([0.0, 1.0, 0.0])) is None


WALLS = {
    "S": ((1, -0.2, 0.8), (1.0, 0.0, 0.0), 5 - 1 - 1.14),
    "N": ((1, 4.2, 0.8), (1.0, 0.0, 0.0), 1 + 0.06),
    "E": ((5.2, 1, 0.8), (0.0, 1.0, 0.0), 4 - 1 - 1.14),
    "W": ((-0.1, 1, 0.8), (0.0, 1.0, 0.0), 1 + 0.06),
}
"""Corner and direction of a window in each wall of 5 × 4 m, and its glass from the left [m]."""


@pytest.mark.parametrize("faces", WALLS)
def test_left_is_left_as_seen_from_inside(faces: str, tmp_path: Path):
    """Looking south the left end is the east one, looking north the west one."""
    at, x, left = WALLS[faces]
    made = Model(north=(0.0, 1.0))
    made.room("Day room", (5, 4, 2.5))
    window(made, at, x, panes=[1.08])
    proposal = model.read(made.save(tmp_path / "made.ifc"), {})
    cells = next(row for row in proposal.rows if row.schedule == "windows").cells
    assert (cells["faces"].text, cells["left"].text) == (faces, f"{left * 1000:.0f}")


def test_north_can_be_of_the_map_alone(tmp_path: Path):
    """IfcMapConversion: eastings lie along (0, −1) of the model, so its y looks west."""
    made = Model()
    made.room("Day room", (5, 4, 2.5))
    window(made, (1, -0.2, 0.8))
    crs = made.make("IfcProjectedCRS", "EPSG:27700")
    made.make("IfcMapConversion", made.context, crs, 0.0, 0.0, 0.0, 0.0, 1.0)
    proposal = model.read(made.save(tmp_path / "made.ifc"), {})
    cells = next(row for row in proposal.rows if row.schedule == "windows").cells
    assert not [q for q in proposal.questions if isinstance(q, Question) and q.name == "north"]
    assert (cells["faces"].text, cells["bearing"].text) == ("E", "90")

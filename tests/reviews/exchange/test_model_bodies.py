"""Bodies held to closed forms [m³], by whichever way they are made.

The quick way leaves out what it can't make, and says nothing of it: each case here has a part of
that kind, or an edge that is open.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

pytest.importorskip("ifcopenshell")

from reviews.exchange.model_bodies import Bodies
from tests.reviews.exchange.written_models import Model


def volume(model: Model, thing: Any, *, whole: bool = True) -> float:
    body = Bodies(model.file).of(thing, whole=whole)
    assert body is not None
    return body.volume_m3


def cut_box(model: Model, at: float) -> Any:
    """4 × 4 × 3 m less a cubic metre, from a place along x on."""
    parts = model.box((4, 4, 3), (at, 0, 0)), model.box((1, 1, 1), (at, 0, 0))
    return model.make("IfcBooleanResult", "DIFFERENCE", *parts)


def outline(model: Model, *corners: tuple[float, float]) -> Any:
    return model.make("IfcPolyline", [model.point(*at) for at in (*corners, corners[0])])


def extruded(model: Model, profile: Any) -> Any:
    return model._extruded(profile, model.placement(), 2.0)


def test_a_body_cut_out_of_another_is_counted_once_beside_a_plain_one():
    model = Model()
    room = model.thing("IfcSpace", "Room", [model.box((1, 1, 1)), cut_box(model, 10)])
    assert volume(model, room) == pytest.approx(1 + 47)


def test_a_hole_is_cut_out_of_a_wall_unless_the_whole_is_asked_for():
    model = Model()
    wall = model.thing("IfcWall", "Wall", [model.box((4, 0.3, 3))])
    hole = model.thing("IfcOpeningElement", "Hole", [model.box((1, 0.5, 1), (1, -0.1, 0.5))])
    model.relate("IfcRelVoidsElement", RelatingBuildingElement=wall, RelatedOpeningElement=hole)
    assert volume(model, wall) == pytest.approx(3.6)
    assert volume(model, wall, whole=False) == pytest.approx(3.3)


def test_a_court_is_no_part_of_what_goes_round_it():
    model = Model()
    outer = outline(model, (0, 0), (5, 0), (5, 4), (0, 4))
    inner = [outline(model, (1, 1), (2, 1), (2, 3), (1, 3))]
    profile = model.make("IfcArbitraryProfileDefWithVoids", "AREA", None, outer, inner)
    assert volume(model, model.thing("IfcSpace", "Ring", [extruded(model, profile)])) == (
        pytest.approx(2 * (20 - 2))
    )


def test_a_round_room_keeps_its_floor_within_a_thousandth():
    model = Model()
    middle = model.make("IfcAxis2Placement2D", model.point(0, 0))
    profile = model.make("IfcCircleProfileDef", "AREA", None, middle, 2 * model.metre)
    room = model.thing("IfcSpace", "Round", [extruded(model, profile)])
    assert volume(model, room) == pytest.approx(np.pi * 4 * 2, rel=1e-3)


def brep(model: Model, faces: list[list[tuple[float, ...]]]) -> Any:
    made = []
    for face in faces:
        loop = model.make("IfcPolyLoop", [model.point(*at) for at in face])
        made.append(model.make("IfcFace", [model.make("IfcFaceOuterBound", loop, True)]))
    return model.make("IfcFacetedBrep", model.make("IfcClosedShell", made))


CUBE = [
    [(0, 0, 0), (0, 1, 0), (1, 1, 0), (1, 0, 0)],
    [(0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)],
    [(0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)],
    [(0, 1, 0), (0, 1, 1), (1, 1, 1), (1, 1, 0)],
    [(0, 0, 0), (0, 0, 1), (0, 1, 1), (0, 1, 0)],
    [(1, 0, 0), (1, 1, 0), (1, 1, 1), (1, 0, 1)],
]


def test_a_body_of_faces_is_measured_even_inside_out():
    model = Model()
    for faces in (CUBE, [face[::-1] for face in CUBE]):
        assert volume(model, model.thing("IfcSpace", "Cube", [brep(model, faces)])) == (
            pytest.approx(1)
        )


def test_what_breaks_its_schema_has_no_body_and_stops_nothing():
    model = Model()
    solids = [model.box((1, 1, 1)) for _ in range(2)]
    solids[1].SweptArea = None
    room = model.thing("IfcSpace", "Room", solids)
    assert volume(model, room) == pytest.approx(1)
    room.Representation.Representations[0].Items = None
    assert Bodies(model.file).of(room, whole=True) is None
    room.Representation.Representations = None
    assert Bodies(model.file).of(room, whole=True) is None


def test_only_what_came_whole_and_closed_is_taken_of_the_quick_way(
    monkeypatch: pytest.MonkeyPatch,
):
    """Of the exact way this tells nothing: it is asked, and may have an answer or none."""
    model = Model()
    cube, box = brep(model, CUBE), model.box((1, 1, 1))
    cases = {
        "plain": (model.thing("IfcSpace", "plain", [cube, box]), True),
        "open": (model.thing("IfcSpace", "open", [brep(model, CUBE[1:])]), False),
        "cut": (model.thing("IfcSpace", "cut", [model.box((1, 1, 1)), cut_box(model, 3)]), False),
    }
    for name, (thing, is_quick) in cases.items():
        bodies = Bodies(model.file)
        asked: list[str] = []

        class Exact:
            def create_shape(self, part: Any, asked: list[str] = asked) -> Any:
                asked.append(part.Name)
                raise RuntimeError

        monkeypatch.setattr(bodies, "_whole", Exact())
        body = bodies.of(thing, whole=True)
        assert (body is not None) is is_quick, name
        assert asked == ([] if is_quick else [name])

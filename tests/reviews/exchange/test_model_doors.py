"""Doors of a model: a frame is never a leaf, and where a door leads is never made up."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("ifcopenshell")

from reviews.exchange import model
from reviews.exchange.proposed import How, ProposedRow
from tests.reviews.exchange.written_models import Model, cabin


def door(made: Model, tmp_path: Path, **answers: str) -> tuple[ProposedRow, tuple[str, ...]]:
    proposal = model.read(made.save(tmp_path / "made.ifc"), answers)
    (row,) = [row for row in proposal.rows if row.schedule == "doors"]
    return row, proposal.said


def _lining(made: Model, thickness: float) -> None:
    lining = made.rooted("IfcDoorLiningProperties", Name="Lining")
    lining.LiningThickness = thickness
    made.relate(
        "IfcRelDefinesByProperties",
        RelatedObjects=[made.parts["door"]],
        RelatingPropertyDefinition=lining,
    )


def test_a_leaf_is_the_frame_less_its_lining_on_both_sides(tmp_path: Path):
    made = cabin()
    _lining(made, 50.0)
    row, _ = door(made, tmp_path)
    assert (row.cells["leaf_w"].text, row.cells["height"].text) == ("800", "2050")
    assert row.cells["leaf_w"].how is How.RECKONED
    assert row.cells["leaf_w"].beside == "the frame is 900 mm wide"
    assert (row.cells["left"].text, row.cells["left"].how) == ("2150", How.RECKONED)
    assert "clear_w" not in row.cells


@pytest.mark.parametrize("thickness", [None, 0.0])
def test_without_a_lining_the_leaf_is_blank_and_its_height_guessed(
    thickness: float | None, tmp_path: Path
):
    made = cabin()
    if thickness is not None:
        _lining(made, thickness)
    row, said = door(made, tmp_path)
    assert not {"leaf_w", "clear_w"} & row.cells.keys()
    assert (row.cells["height"].text, row.cells["height"].how) == ("2100", How.GUESSED)
    assert any("Of D1 the model gives the frame alone" in each for each in said)


def test_a_door_of_two_leaves_has_no_width_of_one(tmp_path: Path):
    made = cabin()
    _lining(made, 50.0)
    made.parts["door"].OperationType = "DOUBLE_DOOR_SINGLE_SWING"
    assert "leaf_w" not in door(made, tmp_path)[0].cells


def test_a_sliding_door_slides_and_a_shape_without_a_leaf_says_no_swing(tmp_path: Path):
    made = cabin()
    made.parts["door"].OperationType = "SLIDING_TO_LEFT"
    assert door(made, tmp_path)[0].cells["swing"].text == "slides"
    made.parts["door"].OperationType = "SINGLE_SWING_LEFT"
    row, said = door(made, tmp_path)
    assert not {"swing", "hinge"} & row.cells.keys()
    assert any("It isn't sure which way these doors open: D1." in each for each in said)


def hung(x: tuple[float, float, float], leaf_at: float, way: str, width: float = 0.9) -> Model:
    """A cabin whose door's x looks along x, its leaf so far into the depth of its frame [m]."""
    made = cabin()
    made.parts["door"].Representation.Representations[0].Items = [
        made.box((0.05, 0.1, 2.1)),
        made.box((0.05, 0.1, 2.1), (width - 0.05, 0, 0)),
        made.box((width - 0.1, 0.04, 2.05), (0.05, leaf_at, 0)),
    ]
    at = (5.15, 1.0, 0.0) if x[1] > 0 else (5.05, 1.0 + width, 0.0)
    made.parts["door"].ObjectPlacement.RelativePlacement = made.placement(at, x)
    made.parts["door"].OperationType = way
    made.parts["door"].OverallWidth = width * made.metre
    return made


NORTHWARDS, SOUTHWARDS = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)


@pytest.mark.parametrize(
    ("x", "leaf_at", "way", "width", "swing"),
    [
        (NORTHWARDS, 0.06, "SINGLE_SWING_LEFT", 0.9, "in"),  # its y looks west, into the room
        (SOUTHWARDS, 0.06, "SINGLE_SWING_RIGHT", 0.9, "out"),
        (NORTHWARDS, 0.0, "SINGLE_SWING_LEFT", 0.9, None),  # the leaf lies to the other side
        (NORTHWARDS, 0.03, "SINGLE_SWING_LEFT", 0.9, None),  # and here in the middle
        (NORTHWARDS, 0.06, "DOUBLE_DOOR_SINGLE_SWING_OPPOSITE_LEFT", 0.9, None),
        (NORTHWARDS, 0.06, "DOUBLE_SWING_LEFT", 0.9, None),
        (NORTHWARDS, 0.06, "NOTDEFINED", 0.9, None),
        (NORTHWARDS, 0.06, "SINGLE_SWING_LEFT", 2.0, None),  # too wide for one leaf: it slides
    ],
)
def test_a_leaf_swings_where_the_file_and_its_shape_agree(
    x: tuple[float, float, float],
    leaf_at: float,
    way: str,
    width: float,
    swing: str | None,
    tmp_path: Path,
):
    """ISO 16739-1: a leaf opens the way that the door's own y looks."""
    row, _ = door(hung(x, leaf_at, way, width), tmp_path)
    assert row.cells["faces"].text == "E"
    assert (row.cells["swing"].text if "swing" in row.cells else None) == swing
    assert swing is None or row.cells["swing"].how is How.MEASURED


def test_whether_it_leads_outside_is_written_then_bounded_then_named_then_open(tmp_path: Path):
    """Four ways to know it, each only where the one before says nothing."""
    made = cabin()
    row, said = door(made, tmp_path)
    assert "outside" not in row.cells
    assert any("whether these doors lead outside: D1" in each for each in said)

    made.parts["door"].Name = "Outside door"
    row, _ = door(made, tmp_path)
    assert (row.cells["outside"].text, row.cells["outside"].how) == ("yes", How.GUESSED)

    made.boundary(made.parts["room"], made.parts["door"], "INTERNAL")
    row, _ = door(made, tmp_path)
    assert (row.cells["outside"].text, row.cells["outside"].how) == ("no", How.WRITTEN)
    assert row.cells["role"].text == "internal"

    made.properties(made.parts["door"], "Pset_DoorCommon", IsExternal=True)
    row, _ = door(made, tmp_path)
    assert (row.cells["outside"].text, row.cells["outside"].how) == ("yes", How.WRITTEN)
    assert row.cells["place"].text == "Day room to outside"
    assert "role" not in row.cells


def test_a_door_without_a_word_is_as_outside_as_its_wall(tmp_path: Path):
    made = cabin()
    made.properties(made.parts["east"], "Pset_WallCommon", IsExternal=True)
    row, _ = door(made, tmp_path)
    assert (row.cells["outside"].text, row.cells["outside"].how) == ("yes", How.RECKONED)


def test_an_inside_door_in_an_outside_wall_is_left_open(tmp_path: Path):
    made = cabin()
    made.properties(made.parts["east"], "Pset_WallCommon", IsExternal=True)
    made.properties(made.parts["door"], "Pset_DoorCommon", IsExternal=False)
    row, said = door(made, tmp_path)
    assert "outside" not in row.cells
    assert any("D1: written as inside doors, but in outside walls" in each for each in said)


def test_u_is_of_outside_doors_and_the_step_free_way_as_written(tmp_path: Path):
    made = cabin()
    told = {"ThermalTransmittance": ("IfcThermalTransmittanceMeasure", 1.2)}
    made.properties(made.parts["door"], "Pset_DoorCommon", HandicapAccessible=True, **told)
    made.properties(made.parts["door"], "Pset_Own", IsExternal=False)
    row, _ = door(made, tmp_path)
    assert row.cells["step_free"].text == "yes"
    assert "u" not in row.cells
    outside = cabin()
    outside.properties(outside.parts["door"], "Pset_DoorCommon", IsExternal=True, **told)
    assert door(outside, tmp_path)[0].cells["u"].text == "1.2"


def test_a_door_between_rooms_is_drawn_in_the_first(tmp_path: Path):
    made = cabin()
    made.room("Bunk room", (3, 4, 2.5), (5.3, 0, 0))
    row, _ = door(made, tmp_path)
    assert row.cells["place"].text == "Day room to Bunk room"
    assert (row.cells["room"].text, row.cells["faces"].text) == ("R1", "E")
    assert row.cells["left"].text == "2100"

"""Read a building model: IFC 4 and IFC 2x3 (ISO 16739-1), by ifcopenshell.

Geometry goes before what is written: floors, heights and glass are measured of shapes, and written
figures stand beside them. What the model doesn't say is left blank, and told.
"""

from __future__ import annotations

from collections.abc import Mapping

from criteria.errors import Refused
from reviews.exchange.model_cells import RowMade, named, told
from reviews.exchange.model_doors import doors_of
from reviews.exchange.model_envelope import Envelope
from reviews.exchange.model_file import ModelFile
from reviews.exchange.model_furniture import furniture_of
from reviews.exchange.model_layers import layers_of
from reviews.exchange.model_places import north_of
from reviews.exchange.model_plan import plan_of
from reviews.exchange.model_rooms import rooms_of
from reviews.exchange.model_sides import sides, wall_thicknesses
from reviews.exchange.model_windows import windows_of
from reviews.exchange.proposed import Proposal, Question


def read(path: str, answers: Mapping[str, str]) -> Proposal:
    """Return what a model proposes.

    Raises criteria.errors.Refused for what is no model that is read here, or breaks its schema.
    """
    model = ModelFile(path)
    try:
        return _proposal(model, answers)
    except Refused:
        raise
    except (AttributeError, TypeError, ValueError) as broken:
        # an entity stands where its schema has none, or a word where it has a figure
        expected = "a model as a program exports it: open it there and export it again"
        raise Refused("a model whose entries don't fit its own schema", expected) from broken


def _proposal(model: ModelFile, answers: Mapping[str, str]) -> Proposal:
    said: list[str] = []
    if model.complaints:
        said.append(
            f"Of the file {len(model.complaints)} entries can't be read, and what they held is "
            f"missing here: {named(model.complaints)}."
        )
    if not model.names_length:
        said.append("The model names no unit of length: metres are taken. Hold a room to its size.")
    questions: list[Question] = []
    rooms = rooms_of(model, said)
    envelope = Envelope(model, rooms, answers)
    north = north_of(model, answers, questions)
    windows = windows_of(envelope, rooms, north, answers, said, questions)
    doors = doors_of(envelope, rooms, north, said)
    layers = layers_of(envelope, said, questions)
    wall_thicknesses(envelope, windows)
    sides(windows, said)
    pieces = furniture_of(model, rooms, plan_of(rooms, windows, doors, said), said)
    made: list[RowMade] = [
        *(room.row for room in rooms),
        *(window.row for window in windows),
        *layers,
        *(door.row for door in doors),
        *pieces,
    ]
    if not made:
        said.append("Nothing in the model can stand in a schedule.")
    return Proposal(
        kind="model",
        made_by=model.made_by,
        rows=tuple(row.proposed() for row in made),
        questions=tuple(questions),
        said=(*said, *told(made)),
    )

"""Furniture of a building model: what it is, in which room, where it stands and how large."""

from __future__ import annotations

import numpy as np

from reviews.exchange.model_bodies import Thing
from reviews.exchange.model_cells import RowMade, marked, named
from reviews.exchange.model_file import ModelFile
from reviews.exchange.model_plan import Plan
from reviews.exchange.model_rooms import RoomRead, Rooms
from reviews.exchange.model_shapes import Body
from reviews.exchange.proposed import How

_KINDS = {
    "CHAIR": "seat",
    "SOFA": "seat",
    "TABLE": "table",
    "DESK": "desk",
    "BED": "bed",
    "FILECABINET": "other",
    "SHELF": "other",
    "TECHNICALCABINET": "other",
    "TOILETPAN": "toilet",
    "WCSEAT": "toilet",
    "WASHHANDBASIN": "basin",
    "SINK": "basin",
    "SHOWER": "shower",
}
"""What the standard's own words for furniture and fixtures are here."""
_WORDS = {
    "seat": "chair seat bench sofa stool couch armchair stuhl sessel hocker chaise banc",
    "bed": "bed bunk mattress bett liege",
    "table": "table tisch",
    "desk": "desk schreibtisch",
    "worktop": "worktop counter arbeitsplatte",
    "stove": "stove cooker ofen herd",
    "toilet": "toilet wc klosett",
    "basin": "basin sink lavabo waschbecken waschtisch",
    "shower": "shower dusche",
    "hook": "hook coat haken garderobe",
}
"""What pieces are called. From memory."""
_TOPS = ("table", "desk", "worktop")
"""Kinds whose highest point is their top; a chair's is its back."""


def furniture_of(
    model: ModelFile, rooms: Rooms, plan: Plan | None, said: list[str]
) -> list[RowMade]:
    """Read furniture and sanitary fixtures, room by room."""
    read = [_piece(model, rooms, plan, thing) for thing in _things(model)]
    order = {room.mark: place for place, room in enumerate(rooms)}
    read.sort(
        key=lambda row: (order.get(_text(row, "room"), len(rooms)), _text(row, "item"), row.source)
    )
    marked(read, "U")
    if unknown := [row.mark for row in read if "kind" not in row.cells]:
        said.append(f"What {named(unknown)} mainly are isn't in the model: choose their kind.")
    if read:
        said.append("Seats, places to sleep and put-away sizes aren't in a model: type them.")
    return read


def _text(row: RowMade, head: str) -> str:
    return row.cells[head].text if head in row.cells else ""


def _things(model: ModelFile) -> list[Thing]:
    """Furniture, and fixtures that are furniture here."""
    found = model.of("IfcFurnishingElement")
    for fixture in model.of("IfcSanitaryTerminal") + model.of("IfcFlowTerminal"):
        kind = model.type_of(fixture)
        is_fixture = fixture.is_a("IfcSanitaryTerminal") or (
            kind is not None and kind.is_a("IfcSanitaryTerminalType")
        )
        if is_fixture and fixture not in found:
            found.append(fixture)
    return found


def _kind(model: ModelFile, thing: Thing) -> tuple[str, How, str]:
    kind = model.type_of(thing)
    for owner in (thing, kind):
        written = str(getattr(owner, "PredefinedType", None) or "")
        if written in _KINDS:
            return _KINDS[written], How.WRITTEN, f"{thing.is_a()}, PredefinedType"
    names = (thing.Name, thing.ObjectType, kind and kind.Name)
    words = " ".join(str(name) for name in names if name).casefold()
    for ours, known in reversed(_WORDS.items()):
        if any(word in words for word in known.split()):
            return ours, How.GUESSED, f"of the name “{thing.Name or words}”"
    return "", How.GUESSED, ""


def _piece(model: ModelFile, rooms: Rooms, plan: Plan | None, thing: Thing) -> RowMade:
    row = RowMade("furniture", source=str(thing.GlobalId), floor=model.storey_of(thing)[0])
    row.words(
        "item", str(thing.Name or thing.ObjectType or ""), How.WRITTEN, f"{thing.is_a()}, Name"
    )
    kind, how, place = _kind(model, thing)
    row.words("kind", kind, how, place)
    row.words("n", "1", How.WRITTEN, thing.is_a())
    body = model.body(thing)
    room = _room(rooms, thing, body)
    if room is not None:
        row.words("room", room.mark, How.MEASURED, "the room that it stands in")
    if body is not None:
        _sizes(body, room, kind, plan, row)
    return row


def _room(rooms: Rooms, thing: Thing, body: Body | None) -> RoomRead | None:
    listed = {
        relation.RelatingStructure.id()
        for relation in getattr(thing, "ContainedInStructure", None) or ()
    }
    holding = rooms.holding(body.middle) if body is not None else []
    return min((*rooms.of(listed), *holding), key=rooms.index, default=None)


def _sizes(body: Body, room: RoomRead | None, kind: str, plan: Plan | None, row: RowMade) -> None:
    """Length and width along its own axes, where it stands and how it is turned, and its top."""
    own = np.array([body.axes[0, 0], body.axes[1, 0], 0.0])
    size = float(np.linalg.norm(own))
    if size < 0.99:
        return
    own = own / size
    beside = np.array([-own[1], own[0], 0.0])
    (left, right), (low, high) = body.along(own), body.along(beside)
    place = "its box on the plan, along its own axes"
    row.figure("l", right - left, How.MEASURED, place)
    row.figure("w", high - low, How.MEASURED, place)
    if kind in _TOPS and room is not None and room.floor is not None:
        height = body.top_m - room.floor.level_m
        row.figure("height_mm", height, How.MEASURED, "floor of its room to its highest point")
    if plan is not None and room is not None and room in plan.rooms:
        middle = own * (left + right) / 2 + beside * (low + high) / 2
        for head, figure in plan.stand(middle, own, body.foot_m, room).items():
            row.figure(head, figure, How.MEASURED, "its box in the rectangle of its room")

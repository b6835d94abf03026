"""Doors of a building model: their leaf only where the lining is known, never the frame for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from reviews.exchange.model_bodies import Thing
from reviews.exchange.model_cells import RowMade, letters_of, marked, named
from reviews.exchange.model_envelope import Envelope
from reviews.exchange.model_file import ModelFile
from reviews.exchange.model_places import North, Place, how_of, place_of, wall_of
from reviews.exchange.model_rooms import RoomRead, Rooms
from reviews.exchange.proposed import How

ONE_SWINGS = ("SINGLE_SWING_LEFT", "SINGLE_SWING_RIGHT")
"""Ways of a door whose one leaf swings to one side."""
ALONG = 0.98
"""Of two directions that look alike, one along the other [1]. Ours."""
WIDEST_LEAF_M = 1.5
"""No wider frame holds one leaf that swings. Ours."""
OFF_MIDDLE = 0.15
"""A leaf lies to one side where its faces do by so much of the door's depth [1]. Ours."""
SEVERAL_LEAVES = ("DOUBLE", "FOLDING", "REVOLVING", "ROLLINGUP")
"""Ways of a door that has more than one leaf, or none."""


@dataclass(frozen=True, eq=False)
class DoorRead:
    """A door: its entity, where it stands, its row, and what isn't known of it, in words.

    overall_m   width and height of its frame as written [m]; None where unset
    """

    thing: Thing
    place: Place | None
    row: RowMade
    overall_m: tuple[float | None, float | None]
    contradicts: bool = False

    @property
    def rooms(self) -> tuple[RoomRead, ...]:
        """Rooms on both sides of it."""
        return self.place.rooms if self.place else ()


def doors_of(envelope: Envelope, rooms: Rooms, north: North, said: list[str]) -> list[DoorRead]:
    """Read every door in reading order: storey by storey, room by room."""
    read = [_door(envelope, rooms, north, thing) for thing in envelope.model.of("IfcDoor")]
    read.sort(key=lambda door: _reading_order(door, rooms))
    marked((door.row for door in read), "D")
    _tell(read, said)
    return read


def _reading_order(door: DoorRead, rooms: Rooms) -> tuple[float, float, float, float, str]:
    first = rooms.index(door.rooms[0]) if door.rooms else len(rooms)
    if door.place is None:
        return first, 0.0, 0.0, 0.0, str(door.thing.GlobalId)
    x, y, _ = (float(part) for part in door.place.body.middle)
    foot = round(door.place.body.foot_m) if not door.rooms else 0
    return first, foot, -round(y * 2) / 2, round(x, 2), str(door.thing.GlobalId)


def _door(envelope: Envelope, rooms: Rooms, north: North, thing: Thing) -> DoorRead:
    model = envelope.model
    row = RowMade("doors", source=str(thing.GlobalId), floor=model.storey_of(thing)[0])
    place = place_of(envelope, rooms, thing, is_door=True)
    contradicts = _outside(envelope, thing, place, row)
    is_outside = row.cells["outside"].text if "outside" in row.cells else ""
    _named(thing, place, is_outside, row)
    lining = _lining_m(model, thing)
    overall = tuple(
        model.metres(getattr(thing, name, None)) for name in ("OverallWidth", "OverallHeight")
    )
    _leaf(thing, model, overall[0], overall[1], lining, row)
    if is_outside != "no" and (found := model.figure(thing, "ThermalTransmittance")):
        row.figure("u", found.value, How.WRITTEN, found.place)
    if is_outside == "no":
        row.words("role", "internal", row.cells["outside"].how, "it doesn't lead out of doors")
    if (flag := model.flag(thing, "HandicapAccessible")) and flag.value:
        row.words("step_free", "yes", How.WRITTEN, flag.place)
    if "SLIDING" in _way(model, thing):
        row.words("swing", "slides", How.WRITTEN, "OperationType")
    elif place is not None and place.rooms and _way(model, thing) in ONE_SWINGS:
        _swing(place, overall[0], row)
    if place is not None and place.rooms:
        _in_room(place, north, lining, row)
    return DoorRead(thing, place, row, (overall[0], overall[1]), contradicts)


def _outside(envelope: Envelope, thing: Thing, place: Place | None, row: RowMade) -> bool:
    """Say whether it leads out of doors; True where the file says both, and it stays blank."""
    known, wall = envelope.known(thing), wall_of(thing)
    host = envelope.wall_known(wall) if wall is not None else None
    is_edge = host is not None and host.is_outside and (place is None or len(place.rooms) < 2)
    if known is not None and not known.is_outside and is_edge:
        return True
    if known is None and host is not None:
        row.words(
            "outside",
            "yes" if host.is_outside else "no",
            How.GUESSED if host.how is How.GUESSED else How.RECKONED,
            f"of its wall: {host.place}",
        )
    elif known is not None:
        row.words("outside", "yes" if known.is_outside else "no", known.how, known.place)
    return False


def _named(thing: Thing, place: Place | None, is_outside: str, row: RowMade) -> None:
    names = [room.name for room in place.rooms] if place else []
    if len(names) == 1 and is_outside == "yes":
        names.append("outside")
    if len(names) > 1:
        row.words("place", f"{names[0]} to {names[1]}", How.RECKONED, "the rooms on both sides")
    elif names:
        row.words("place", names[0], How.RECKONED, "the room on one side")
    else:
        row.words("place", str(thing.Name or ""), How.WRITTEN, "IfcDoor, Name")


def _lining_m(model: ModelFile, thing: Thing) -> float | None:
    """Thickness of the lining, seen from the front [m]; None where it is unset."""
    for lining in model.parts_said(thing, "IfcDoorLiningProperties"):
        if (thickness := model.metres(lining.LiningThickness)) is not None:
            return thickness
    return None


def _way(model: ModelFile, thing: Thing) -> str:
    own = getattr(thing, "OperationType", None)
    kind = model.type_of(thing)
    return str(own or (kind and getattr(kind, "OperationType", "")) or "")


def _leaf(
    thing: Thing,
    model: ModelFile,
    width: float | None,
    height: float | None,
    lining: float | None,
    row: RowMade,
) -> None:
    is_single = not any(word in _way(model, thing) for word in SEVERAL_LEAVES)
    if lining is not None:
        if width is not None and is_single:
            place = "IfcDoor, OverallWidth less twice LiningThickness"
            beside = f"the frame is {width * 1000:.0f} mm wide"
            row.figure("leaf_w", width - 2 * lining, How.RECKONED, place, beside)
        if height is not None:
            place = "IfcDoor, OverallHeight less LiningThickness"
            row.figure("height", height - lining, How.RECKONED, place)
    else:
        place = "IfcDoor, OverallHeight: of the frame, and the leaf may be lower"
        row.figure("height", height, How.GUESSED, place)


def _swing(place: Place, width: float | None, row: RowMade) -> None:
    """Say which way the leaf opens, where the file and the leaf's own place agree on it.

    A leaf opens the way that the door's own y looks (ISO 16739-1, IfcDoorPanelOperationEnum), and
    lies to that side in its lining. Some programs write a swing of doors that slide.
    """
    way, body = place.body.axes[:, 1], place.body
    outwards = float(way @ place.out)
    if abs(outwards) < ALONG or width is None or width > WIDEST_LEAF_M:
        return
    faces = np.abs(body.normals @ way) > ALONG
    areas = body.areas * faces
    begins, ends = body.along(way)
    if not areas.any():
        return
    middle = float(areas @ (body.triangles.mean(axis=1) @ way)) / float(areas.sum())
    if middle - (begins + ends) / 2 > OFF_MIDDLE * (ends - begins):
        words = "OperationType, and its leaf lies to that side of its frame"
        row.words("swing", "out" if outwards > 0 else "in", How.MEASURED, words)


def _in_room(place: Place, north: North, lining: float | None, row: RowMade) -> None:
    room = place.rooms[0]
    row.words("room", room.mark, How.MEASURED, "the room on its inner side")
    if (bearing := north.bearing_of(place.out)) is not None:
        row.words("faces", letters_of(bearing), how_of(place), f"by its wall and {north.place}")
    wall = room.wall_along(place.body.middle, place.out)
    if wall is None:
        return
    left = place.body.along(place.across)[0] - wall[0]
    if lining is not None:
        row.figure("left", left + lining, How.RECKONED, "left end of the wall to the lining's edge")
    else:
        row.figure("left", left, How.GUESSED, "left end of the wall to the frame, not to the leaf")


def _tell(read: Sequence[DoorRead], said: list[str]) -> None:
    if not read:
        return
    said.append(
        "No model says what is left clear of a door that stands open: type clear widths. At which "
        "end a door hangs isn't taken either."
    )
    if unswung := [door.row.mark for door in read if "swing" not in door.row.cells]:
        said.append(
            f"It isn't sure which way these doors open: {named(unswung)}. The model doesn't say "
            "it, or its shape doesn't agree."
        )
    bare = [door.row.mark for door in read if "leaf_w" not in door.row.cells]
    if bare:
        said.append(
            f"Of {named(bare)} the model gives the frame alone: the leaf's width is left blank, "
            "for a frame is wider."
        )
    if unsaid := [
        door.row.mark for door in read if "outside" not in door.row.cells and not door.contradicts
    ]:
        said.append(f"The model doesn't say whether these doors lead outside: {named(unsaid)}.")
    if both := [door.row.mark for door in read if door.contradicts]:
        said.append(
            f"{named(both)}: written as inside doors, but in outside walls; whether they lead "
            "outside is left blank."
        )

"""Read an energy model: gbXML, by its openly published schema (version 6.01).

It brings what no building model had, the glass's solar factor and transmittance; but it knows
holes, not frames, and some programs write it to the middle of walls.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from reviews.exchange.gbxml_file import LENGTH_UNIT, EnergyFile, child, number_of, opened, words
from reviews.exchange.gbxml_layers import layers_of, thickness_of
from reviews.exchange.gbxml_openings import OpeningRead, openings_of, sides, tell, turn_of
from reviews.exchange.gbxml_rooms import spaces_of
from reviews.exchange.gbxml_surfaces import OUTSIDE, surfaces_of
from reviews.exchange.model_cells import told
from reviews.exchange.proposed import How, Proposal, Question


def read(path: str, answers: Mapping[str, str]) -> Proposal:
    """Return what an energy model proposes.

    Raises criteria.errors.Refused for what is no gbXML, and for a DTD or entities.
    """
    file = opened(path, answers.get(LENGTH_UNIT, ""))
    said: list[str] = []
    questions: list[Question] = []
    surfaces = surfaces_of(file)
    rooms = spaces_of(file, surfaces, answers, said, questions)
    campus = next(iter(file.of("Campus")), None)
    written = number_of(child(campus, "Location", "CADModelAzimuth")) or 0.0
    turn = turn_of(written, answers, questions)
    windows, doors = openings_of(file, surfaces, rooms, turn)
    layers = layers_of(file, surfaces, said)
    sides(windows)
    _walls(file, windows)
    tell(windows, doors, said)
    made = [
        *(room.row for room in rooms.values()),
        *(read.row for read in windows),
        *layers,
        *(read.row for read in doors),
    ]
    if file.unknown:
        said.append(f"Figures in units that aren't known are left out: {', '.join(file.unknown)}.")
    if not made:
        said.append("Nothing in the file can stand in a schedule.")
    program = next(iter(file.of("ProgramInfo")), None)
    return Proposal(
        kind="gbxml",
        made_by=words(child(program, "ProductName")),
        rows=tuple(row.proposed() for row in made),
        questions=tuple(questions),
        said=(*said, *told(made)),
        about=_place(file),
    )


def _walls(file: EnergyFile, windows: Sequence[OpeningRead]) -> None:
    """Say how thick each room's outside walls are, where its windows stand in one thickness."""
    found: dict[str, set[float | None]] = {}
    rooms = {read.rooms[0].id: read.rooms[0] for read in windows if read.rooms}
    for read in windows:
        if read.rooms and read.surface.kind in OUTSIDE:
            thickness = thickness_of(file, read.surface)
            found.setdefault(read.rooms[0].id, set()).add(thickness and round(thickness, 4))
    for id_, thicknesses in found.items():
        if len(thicknesses) == 1:
            place = "layers of the walls its windows are in"
            rooms[id_].row.figure("wall_mm", thicknesses.pop(), How.RECKONED, place)


def _place(file: EnergyFile) -> dict[str, Any]:
    location = next(iter(file.of("Location")), None)
    found = {
        "place": words(child(location, "Name")) or None,
        "latitude_deg": number_of(child(location, "Latitude")),
        "longitude_deg": number_of(child(location, "Longitude")),
    }
    return {key: value for key, value in found.items() if value is not None}

"""Rooms of an energy model: floor as written, height reckoned, what is low measured of the roof."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

import numpy as np

from reviews.exchange.gbxml_file import LENGTH_UNIT, LENGTHS, EnergyFile, child
from reviews.exchange.gbxml_surfaces import TOPS, Face, Figures, Surface, name_or_id, source_of
from reviews.exchange.model_cells import RowMade, marked, named, use_of
from reviews.exchange.proposed import How, Question

FLOOR_TO = "floor-to"
"""Name of the question to where the file's floors go."""
HEADROOM_M = 1.5
"""Floor under less is “of which low” in the room schedule."""
FLOORS = ("InteriorFloor", "ExposedFloor", "RaisedFloor", "SlabOnGrade", "UndergroundSlab")
"""What a room may stand on; an inner floor may be the ceiling of the one below, so the lowest."""
RECTANGLE = 0.99
"""A room is a rectangle where it fills so much of its box [1]. Ours."""


@dataclass(frozen=True)
class SpaceRead:
    """A room: its id, its outline, its row, and to where floors go as answered: inner or middle."""

    id: str
    outline: Face | None
    row: RowMade
    floor_to: str

    @property
    def mark(self) -> str:
        """Its mark."""
        return self.row.mark

    @property
    def name(self) -> str:
        """Its name, else its mark."""
        return self.row.name


def spaces_of(
    file: EnergyFile,
    surfaces: Sequence[Surface],
    answers: Mapping[str, str],
    said: list[str],
    questions: list[Question],
) -> dict[str, SpaceRead]:
    """Read every room by its id, in reading order: storey by storey, from the top left."""
    found = file.of("Space")
    _ask(file, bool(found), answers, questions)
    read = [_space(file, element, surfaces, answers.get(FLOOR_TO, "")) for element in found]
    read.sort(key=_reading_order)
    marked((room.row for room in read), "R")
    if not read:
        said.append("The file holds no rooms (Space): export it with its rooms.")
    if bare := [room.mark for room in read if "floor_m2" not in room.row.cells]:
        said.append(f"The floor of {named(bare)} is left blank.")
    if open_above := [room.mark for room in read if "low_headroom_m2" not in room.row.cells]:
        said.append(
            f"How much of {named(open_above)} is under 1.5 m isn't known; left blank it counts as "
            "none."
        )
    if read and answers.get(FLOOR_TO) != "inner":
        said.append(
            "Some programs write floors to the middle of walls: until you say that these go to "
            "the inner faces, floor, depth and width are guessed, or left blank."
        )
    return {room.id: room for room in read}


def _ask(
    file: EnergyFile, has_rooms: bool, answers: Mapping[str, str], questions: list[Question]
) -> None:
    if not file.root.get("lengthUnit"):
        questions.append(
            Question(
                name=LENGTH_UNIT,
                asked="The file doesn't say in which unit its lengths are. Which is it?",
                choices=tuple((name, name.casefold()) for name in LENGTHS),
                chosen=file.answered,
            )
        )
    if has_rooms:
        chosen = answers.get(FLOOR_TO, "")
        questions.append(
            Question(
                name=FLOOR_TO,
                asked="To where do the floors of this file go?",
                choices=(
                    ("inner", "to the inner faces of walls: taken as written"),
                    ("middle", "to the middle of walls: left blank, for they are too large"),
                ),
                chosen=chosen if chosen in ("inner", "middle") else "",
            )
        )


def _reading_order(room: SpaceRead) -> tuple[float, float, float, str]:
    if room.outline is None:
        return 1e9, 0.0, 0.0, room.id
    low, high = room.outline.corners.min(axis=0), room.outline.corners.max(axis=0)
    return round(float(low[2]), 1), -round(high[1] * 2) / 2, round(float(low[0]), 2), room.id


def _space(
    file: EnergyFile, element: Element, surfaces: Sequence[Surface], floor_to: str
) -> SpaceRead:
    id_ = element.get("id", "")
    outline = _outline(file, element, id_, surfaces)
    storey = file.referred("BuildingStorey", element.get("buildingStoreyIdRef"))
    row = RowMade(
        "rooms",
        source=source_of(element),
        floor=name_or_id(storey) if storey is not None else "",
        shape=_shape(outline),
    )
    name = name_or_id(element)
    row.words("room", name, How.WRITTEN, "Space, Name")
    kind = element.get("spaceType", "")
    use, of = use_of(name), f"of the name “{name}”"
    if not use:
        use, of = use_of(_parted(kind)), f"of spaceType “{kind}”"
    row.words("use", use, How.GUESSED, of)
    people = file.figure(child(element, "PeopleNumber"), bare="NumberOfPeople")
    if use == "sleep" and people is not None and people == int(people):
        row.figure("sleepers", people, How.WRITTEN, "Space, PeopleNumber")
    level = float(outline.corners[:, 2].min()) if outline is not None else 0.0
    tops = [
        s.face
        for s in surfaces
        if id_ in s.spaces
        and s.kind in TOPS
        and s.face is not None
        and s.face.middle[2] > level + 0.1
    ]
    _floor(file, element, outline, tops, floor_to, row)
    return SpaceRead(id_, outline, row, floor_to)


def _parted(joined: str) -> str:
    """Words that are written together, apart: LivingQuarters."""
    return "".join(f" {sign}" if sign.isupper() else sign for sign in joined)


def _outline(
    file: EnergyFile, element: Element, id_: str, surfaces: Sequence[Surface]
) -> Face | None:
    corners = file.points(child(element, "PlanarGeometry"))
    if corners and Face(np.array(corners)).area_m2 > 0:
        return Face(np.array(corners))
    floors = [
        s.face for s in surfaces if id_ in s.spaces and s.face is not None and s.kind in FLOORS
    ]
    return min(floors, key=lambda face: float(face.middle[2]), default=None)


def _shape(outline: Face | None) -> tuple[tuple[float, float], ...]:
    if outline is None:
        return ()
    corners = [(round(float(x), 4), round(float(y), 4)) for x, y, _ in outline.corners]
    if float(outline.crossed[2]) < 0:
        corners.reverse()
    first = corners.index(min(corners))
    return tuple(corners[first:] + corners[:first])


def _floor(
    file: EnergyFile,
    element: Element,
    outline: Face | None,
    tops: Sequence[Face],
    floor_to: str,
    row: RowMade,
) -> None:
    written = file.figure(child(element, "Area"), "areaUnit")
    measured = outline.area_m2 if outline is not None else None
    how = How.WRITTEN if floor_to == "inner" else How.GUESSED
    if floor_to != "middle":
        beside = f"its outline measures {measured:.2f} m²" if measured else ""
        if written is not None:
            row.figure("floor_m2", written, how, "Space, Area", beside)
        elif measured is not None:
            how = How.MEASURED if floor_to == "inner" else How.GUESSED
            row.figure("floor_m2", measured, how, "outline of the room")
    volume = file.figure(child(element, "Volume"), "volumeUnit")
    if written and volume:
        row.figure("clear_height_m", volume / written, How.RECKONED, "Space, Volume over Area")
    if outline is not None and tops and floor_to != "middle":
        level = float(outline.corners[:, 2].min())
        low = sum(low_of(top, level) for top in tops)
        place = "where roof or ceiling is under 1.5 m over the floor"
        how = How.MEASURED if floor_to == "inner" else How.GUESSED
        row.figure("low_headroom_m2", min(low, written or measured or low), how, place)


def low_of(face: Face, level_m: float) -> float:
    """The area on the plan of that part of a polygon that is under HEADROOM_M over a level [m²].

    Of a polygon whose parts hang together only by lines of no width the area is right all the same.
    """
    kept: list[Figures] = []
    corners = face.corners - np.array([0.0, 0.0, level_m])
    for here, there in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        if here[2] < HEADROOM_M:
            kept.append(here)
        if (here[2] < HEADROOM_M) != (there[2] < HEADROOM_M):
            kept.append(here + (there - here) * (HEADROOM_M - here[2]) / (there[2] - here[2]))
    return abs(float(Face(np.array(kept)).crossed[2])) if len(kept) > 2 else 0.0


def sides_along(room: SpaceRead, out: Figures) -> tuple[float, float] | None:
    """Depth and width of a rectangular room whose window wall looks a way out [m]."""
    if room.outline is None or room.floor_to == "middle" or abs(float(out[2])) > 0.2:
        return None
    deep = room.outline.along(out)
    wide = room.outline.along(np.array([out[1], -out[0], 0.0]))
    depth, width = deep[1] - deep[0], wide[1] - wide[0]
    return (depth, width) if room.outline.area_m2 > RECTANGLE * depth * width else None

"""Windows and doors of an energy model: its openings are holes, so their glass is left blank."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from reviews.exchange.gbxml_file import EnergyFile, child, children
from reviews.exchange.gbxml_rooms import SpaceRead, sides_along
from reviews.exchange.gbxml_surfaces import (
    OUTSIDE,
    Figures,
    Surface,
    name_or_id,
    out_of,
    place_in,
    source_of,
    surface_of,
)
from reviews.exchange.model_cells import RowMade, letters_of, marked, named
from reviews.exchange.proposed import How, Question

TURNED = "turned"
"""Name of the question which way the file turns its model."""
WINDOWS = ("FixedWindow", "OperableWindow", "FixedSkylight", "OperableSkylight")
DOORS = ("SlidingDoor", "NonSlidingDoor")
AS_LARGE = 0.97
"""An opening that fills so much of its wall is as large as it: no window is [1]. Ours."""


@dataclass(frozen=True)
class OpeningRead:
    """A window or door: what it lies in, its rooms, the way it looks out, its row."""

    opening: Surface
    surface: Surface
    rooms: tuple[SpaceRead, ...]
    out: Figures | None
    row: RowMade
    fills: bool


@dataclass(frozen=True)
class Turn:
    """How the model is turned: bearing of its y axis [°], and whether that was guessed."""

    bearing_deg: float
    how: How
    place: str

    def bearing_of(self, out: Figures) -> float:
        """Bearing of a direction, clockwise from north [°]."""
        return round(math.degrees(math.atan2(out[0], out[1])) + self.bearing_deg, 1) % 360


def turn_of(written: float, answers: Mapping[str, str], questions: list[Question]) -> Turn:
    """How the model is turned by CADModelAzimuth [°], whose sense programs don't agree on."""
    if abs(written) < 0.05:
        return Turn(0.0, How.MEASURED, "its wall and CADModelAzimuth, 0°")
    chosen = answers.get(TURNED, "")
    ways = {"clockwise": written % 360, "anticlockwise": -written % 360}
    questions.append(
        Question(
            name=TURNED,
            asked=f"The model is turned by {written:g}°. Which way does “up” on its plan look?",
            choices=tuple(
                (way, f"{letters_of(up)} ({up:g}°): turned {way}") for way, up in ways.items()
            ),
            chosen=chosen if chosen in ways else "",
        )
    )
    how = How.MEASURED if chosen in ways else How.GUESSED
    place = f"its wall and CADModelAzimuth, {written:g}°"
    return Turn(ways.get(chosen, ways["clockwise"]), how, place)


def openings_of(
    file: EnergyFile, surfaces: Sequence[Surface], rooms: Mapping[str, SpaceRead], turn: Turn
) -> tuple[list[OpeningRead], list[OpeningRead]]:
    """Read windows and doors in reading order: room by room, then from the left."""
    windows: list[OpeningRead] = []
    doors: list[OpeningRead] = []
    file.of("Opening")  # counts them
    for surface in surfaces:
        known = tuple(rooms[id_] for id_ in surface.spaces if id_ in rooms)
        known = tuple(sorted(known, key=lambda room: list(rooms).index(room.id)))
        inside = known[0].outline.middle if known and known[0].outline else None
        for element in children(surface.element, "Opening"):
            opening = surface_of(file, element)
            if opening.kind not in (*WINDOWS, *DOORS):
                continue
            is_window = opening.kind in WINDOWS
            row = RowMade("windows" if is_window else "doors", source=source_of(element))
            row.floor = known[0].row.floor if known else ""
            area, whole = opening.area_m2, surface.area_m2
            fills = bool(area and whole and area > AS_LARGE * whole)
            read = OpeningRead(opening, surface, known, out_of(surface, inside), row, fills)
            (_window if is_window else _door)(file, read, turn)
            (windows if is_window else doors).append(read)
    for found, prefix in ((windows, "W"), (doors, "D")):
        found.sort(key=lambda read: _reading_order(read, list(rooms)))
        marked((read.row for read in found), prefix)
        _tell_sources_apart(found)
    return windows, doors


def _reading_order(read: OpeningRead, rooms: Sequence[str]) -> tuple[float, float, float, str]:
    first = rooms.index(read.rooms[0].id) if read.rooms else len(rooms)
    turned = 0.0
    if read.out is not None:
        turned = round(math.degrees(math.atan2(read.out[0], read.out[1])) / 15) % 24
    left = float(read.row.cells["left"].text) if "left" in read.row.cells else 0.0
    return first, turned, left, read.opening.element.get("id", "")


def _tell_sources_apart(found: Sequence[OpeningRead]) -> None:
    """Write the id behind a source that several have: a program may part what it drew as one."""
    sources = [read.row.source for read in found]
    for read in found:
        if sources.count(read.row.source) > 1:
            read.row.source += f" {read.opening.element.get('id', '')}"


def _size(opening: Surface, out: Figures | None) -> tuple[float | None, float | None, How, str]:
    """Width and height [m], as written, else of the polygon."""
    width, height = opening.size_m
    if width and height:
        return width, height, How.WRITTEN, "Opening, RectangularGeometry"
    if opening.face is None or out is None or abs(float(out[2])) > 0.98:
        return None, None, How.MEASURED, ""
    right = np.array([out[1], -out[0], 0.0]) / math.hypot(out[0], out[1])
    up = np.cross(right, out)
    (left, end), (low, high) = opening.face.along(right), opening.face.along(up)
    return end - left, high - low, How.MEASURED, "Opening, PlanarGeometry"


def _place(read: OpeningRead, turn: Turn, *, is_window: bool) -> None:
    row, out = read.row, read.out
    if read.rooms:
        row.words("room", read.rooms[0].mark, How.WRITTEN, "Surface, AdjacentSpaceId")
    if out is None:
        return
    tilt = math.degrees(math.acos(min(1.0, abs(float(out[2])))))
    if tilt > 10:
        bearing = turn.bearing_of(out)
        row.words("faces", letters_of(bearing), turn.how, turn.place)
        if is_window:
            row.figure("bearing", bearing, turn.how, turn.place)
    elif is_window:
        row.words("faces", "up", How.MEASURED, "its roof is nearly level")
    if is_window and tilt < 80:
        row.figure("tilt", tilt, How.MEASURED, "slope of its surface")
    found = place_in(read.surface, read.opening, out) if tilt >= 80 else None
    if found is None:
        return
    row.figure("left", found[0], How.GUESSED, "left end of the wall to the opening")
    if is_window:
        place = "foot of the wall to that of the opening; glass begins higher by its frame"
        row.figure("sill", found[1], How.GUESSED, place)


def _window(file: EnergyFile, read: OpeningRead, turn: Turn) -> None:
    row, opening = read.row, read.opening
    row.words("n", "1", How.WRITTEN, "Opening")
    _place(read, turn, is_window=True)
    width, height, how, place = _size(opening, read.out)
    how = How.GUESSED if read.fills else how
    row.figure("frame_w", width, how, place)
    row.figure("frame_h", height, how, place)
    if opening.kind.startswith("Fixed"):
        row.words("open_share", "0", How.RECKONED, "it is fixed")
    if opening.kind == "FixedWindow":
        row.words("opens", "fixed", How.WRITTEN, "Opening, openingType")
    elif opening.kind.endswith("Skylight"):
        row.words("opens", "roof light", How.WRITTEN, "Opening, openingType")
    glazed = file.referred("WindowType", opening.element.get("windowTypeIdRef"))
    if glazed is None:
        return
    row.figure("u", file.figure(child(glazed, "U-value")), How.WRITTEN, "WindowType, U-value")
    for each in children(glazed, "SolarHeatGainCoeff"):
        if (each.get("solarIncidentAngle") or "0").strip("0.") == "":
            solar = file.figure(each, bare="Fraction")
            row.figure("solar_factor", solar, How.WRITTEN, "WindowType, SolarHeatGainCoeff")
            break
    for each in children(glazed, "Transmittance"):
        if each.get("type") == "Visible":
            light = file.figure(each, bare="Fraction")
            row.figure("transmittance", light, How.WRITTEN, "WindowType, Transmittance, Visible")
            break


def _door(file: EnergyFile, read: OpeningRead, turn: Turn) -> None:
    row, opening = read.row, read.opening
    is_outside = read.surface.kind in OUTSIDE
    names = [room.name for room in read.rooms]
    if len(names) == 1 and is_outside:
        names.append("outside")
    place = " to ".join(names[:2]) or name_or_id(opening.element)
    row.words("place", place, How.RECKONED, "the rooms on both sides")
    row.words(
        "outside", "yes" if is_outside else "no", How.WRITTEN, f"surfaceType {read.surface.kind}"
    )
    if not is_outside:
        row.words("role", "internal", How.RECKONED, "it doesn't lead out of doors")
    if opening.kind == "SlidingDoor":
        row.words("swing", "slides", How.WRITTEN, "Opening, openingType")
    _place(read, turn, is_window=False)
    height = _size(opening, read.out)[1]
    row.figure("height", height, How.GUESSED, "of the opening, and the leaf may be lower")
    made = file.referred("Construction", opening.element.get("constructionIdRef"))
    glazed = file.referred("WindowType", opening.element.get("windowTypeIdRef"))
    for kind in (made, glazed):
        u = file.figure(child(kind, "U-value"))
        if is_outside and u is not None:
            row.figure("u", u, How.WRITTEN, "U-value of its construction")
            break


def sides(windows: Sequence[OpeningRead]) -> None:
    """Say depth and width of each rectangular room, by the wall with most opening."""
    areas: dict[tuple[str, str], float] = {}
    by_wall: dict[tuple[str, str], OpeningRead] = {}
    for read in windows:
        if read.rooms and read.out is not None and abs(float(read.out[2])) < 0.2:
            key = (read.rooms[0].id, f"{read.out[0]:.2f} {read.out[1]:.2f}")
            areas[key] = areas.get(key, 0.0) + (read.opening.area_m2 or 0.0)
            by_wall.setdefault(key, read)
    for room_id, wall in sorted(areas, key=lambda key: (round(areas[key], 4), key)):
        read = by_wall[room_id, wall]  # the largest comes last, and stays
        assert read.out is not None
        room = read.rooms[0]
        if (found := sides_along(room, read.out)) is not None:
            how = How.MEASURED if room.floor_to == "inner" else How.GUESSED
            place = "sides of its outline, by the wall with most window"
            room.row.figure("depth_m", found[0], how, place)
            room.row.figure("width_m", found[1], how, place)


def tell(windows: Sequence[OpeningRead], doors: Sequence[OpeningRead], said: list[str]) -> None:
    """Say what openings leave blank."""
    if windows:
        said.append(
            "An energy model doesn't tell glass from frame: the glass of every window is left "
            "blank, and its sill is that of the opening."
        )
    if alone := [read.row.mark for read in (*windows, *doors) if not read.rooms]:
        said.append(f"No room in the file has {named(alone)}.")
    if filled := [read.row.mark for read in (*windows, *doors) if read.fills]:
        said.append(
            f"As large as their wall are {named(filled)}, as in a sketch: their sizes are no "
            "window's, and have to be ticked one by one."
        )
    if doors:
        said.append("The file gives openings, not leaves: leaf and clear widths are left blank.")

"""Windows of a building model: frame as written, glass and sill measured of what is clear."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from reviews.exchange.model_bodies import Thing
from reviews.exchange.model_cells import RowMade, letters_of, marked, named
from reviews.exchange.model_envelope import STRAIGHT_M, Envelope
from reviews.exchange.model_file import ModelFile
from reviews.exchange.model_places import North, Place, how_of, place_of, wall_of
from reviews.exchange.model_rooms import RoomRead, Rooms
from reviews.exchange.model_shapes import Panes, panes_of
from reviews.exchange.proposed import How, Question

GROUP = "group-windows"
"""Name of the question whether alike windows of one wall are one row."""
ALIKE_M = 0.002
"""Sizes that differ by less are alike. Ours."""
FRAME_WITHIN = 0.05
"""Where the written frame differs by more from the shape's, that is told [1]. Ours."""

_OPENS = {
    "FIXEDCASEMENT": "fixed",
    "SIDEHUNGRIGHTHAND": "side-hung",
    "SIDEHUNGLEFTHAND": "side-hung",
    "TILTANDTURNRIGHTHAND": "tilt-and-turn",
    "TILTANDTURNLEFTHAND": "tilt-and-turn",
    "TOPHUNG": "top-hung",
    "BOTTOMHUNG": "bottom-hung",
    "PIVOTHORIZONTAL": "pivot",
    "PIVOTVERTICAL": "pivot",
    "SLIDINGHORIZONTAL": "sliding",
    "SLIDINGVERTICAL": "sliding",
}


@dataclass(frozen=True, eq=False)
class WindowRead:
    """A window: its entity, where it stands, its glass, where its glass begins along its wall [m].

    frame_foot_m   floor of its room to the lowest point of its body [m]; None without a room
    """

    thing: Thing
    place: Place | None
    panes: Panes | None
    left_m: float | None
    frame_foot_m: float | None
    row: RowMade

    @property
    def room(self) -> RoomRead | None:
        """The room that it lights."""
        return self.place.rooms[0] if self.place and self.place.rooms else None


def windows_of(
    envelope: Envelope,
    rooms: Rooms,
    north: North,
    answers: Mapping[str, str],
    said: list[str],
    questions: list[Question],
) -> list[WindowRead]:
    """Read every window in reading order: room by room, then round it, from the left."""
    read = [_window(envelope, rooms, north, thing) for thing in envelope.model.of("IfcWindow")]
    read.sort(key=lambda window: _reading_order(window, rooms))
    read = _grouped(read, answers, questions)
    marked((window.row for window in read), "W")
    _tell(envelope.model, read, said)
    return read


def _reading_order(window: WindowRead, rooms: Rooms) -> tuple[float, float, float, float, str]:
    room, place = window.room, window.place
    first = rooms.index(room) if room in rooms else len(rooms)
    if place is None:
        return first, 0.0, 0.0, 0.0, str(window.thing.GlobalId)
    level = round(place.body.foot_m) if room is None else 0
    turned = round(float(np.degrees(np.arctan2(place.out[0], place.out[1]))) / 15) % 24
    along = round(place.body.along(place.across)[0], 2)
    return first, level, turned, along, str(window.thing.GlobalId)


def _window(envelope: Envelope, rooms: Rooms, north: North, thing: Thing) -> WindowRead:
    model = envelope.model
    row = RowMade("windows", source=str(thing.GlobalId), floor=model.storey_of(thing)[0])
    row.words("n", "1", How.WRITTEN, "IfcWindow")
    place = place_of(envelope, rooms, thing, is_door=False)
    panes = panes_of(place.body, place.across, place.up, place.out) if place else None
    _frame(model, thing, place, row)
    _opens(model, thing, row)
    for head, names in (
        ("u", ("ThermalTransmittance",)),
        ("transmittance", ("VisibleLightTransmittance", "Visual Light Transmittance")),
        ("solar_factor", ("SolarHeatGainTransmittance", "Solar Heat Gain Coefficient")),
    ):
        if found := model.figure(thing, *names):
            row.figure(head, found.value, How.WRITTEN, found.place)
    left = foot = None
    if place is not None:
        _faces(place, north, row)
        _glass(panes, row)
        left, foot = _within_room(place, panes, row)
        _reveal(envelope, place, panes, row)
    return WindowRead(thing, place, panes, left, foot, row)


def _frame(model: ModelFile, thing: Thing, place: Place | None, row: RowMade) -> None:
    sizes = place.size_m if place else (None, None)
    for head, name, measured in zip(
        ("frame_w", "frame_h"), ("OverallWidth", "OverallHeight"), sizes, strict=True
    ):
        written = model.metres(getattr(thing, name, None))
        if written is None:
            row.figure(head, measured, How.MEASURED, "box about the window")
            continue
        differs = measured and abs(written / measured - 1) > FRAME_WITHIN
        beside = f"its shape measures {measured * 1000:.0f} mm" if measured and differs else ""
        row.figure(head, written, How.WRITTEN, f"IfcWindow, {name}", beside)


def _opens(model: ModelFile, thing: Thing, row: RowMade) -> None:
    panels = model.parts_said(thing, "IfcWindowPanelProperties")
    ways = {_OPENS.get(str(panel.OperationType), "") for panel in panels}
    place = "IfcWindowPanelProperties, OperationType"
    if len(ways) == 1 and (way := ways.pop()):
        row.words("opens", way, How.WRITTEN, place)
    elif ways == {"fixed", "side-hung"} and len(panels) == 2:
        row.words("opens", "half side-hung", How.WRITTEN, place)
    elif not panels:
        kind = model.type_of(thing)
        name = " ".join(str(part) for part in (thing.Name, kind and kind.Name) if part)
        if any(word in name.casefold() for word in ("fixed", "festverglas")):
            row.words("opens", "fixed", How.GUESSED, f"of the name “{thing.Name or name}”")
    if "opens" in row.cells and row.cells["opens"].text == "fixed":
        how = How.GUESSED if row.cells["opens"].how is How.GUESSED else How.RECKONED
        row.words("open_share", "0", how, "it is fixed")


def _faces(place: Place, north: North, row: RowMade) -> None:
    how = how_of(place)
    if place.tilt_deg < 5:
        row.words("faces", "up", how, "its glass lies level")
    elif (bearing := north.bearing_of(place.out)) is not None:
        row.words("faces", letters_of(bearing), how, f"by the way out and {north.place}")
        row.figure("bearing", bearing, how, f"by the way out and {north.place}")
    if place.tilt_deg < 80:
        row.figure("tilt", place.tilt_deg, How.MEASURED, "slope of its plane")


def _glass(panes: Panes | None, row: RowMade) -> None:
    if panes is None:
        return
    how = How.MEASURED if panes.n == 1 else How.RECKONED
    place = "faces of clear material"
    if panes.is_named:
        how, place = How.GUESSED, "faces of a material named as glass"
    if panes.n > 1:
        place += f", {panes.n} panes as one"
    beside = f"{panes.area_m2:.3f} m² of glass"
    if not panes.is_exact:
        beside += "; not rows and columns of rectangles: a rectangle of the same area"
    row.figure("glass_w", panes.width_m, how, place, beside)
    row.figure("glass_h", panes.height_m, how, place, beside)


def _within_room(
    place: Place, panes: Panes | None, row: RowMade
) -> tuple[float | None, float | None]:
    """Say room, sill and place along the wall; where glass begins and the frame's foot [m]."""
    room = place.rooms[0] if place.rooms else None
    if room is None:
        return None, None
    beside = f"also on {place.rooms[1].mark}" if len(place.rooms) > 1 else ""
    row.words("room", room.mark, How.MEASURED, "the room on its inner side", beside)
    if room.floor is None:
        return None, None
    foot = place.body.foot_m - room.floor.level_m
    if panes is None or place.tilt_deg < 80:
        return None, foot
    how = How.GUESSED if panes.is_named else How.MEASURED
    row.figure(
        "sill",
        panes.low[1] - room.floor.level_m,
        how,
        "floor of its room to the foot of the glass",
        f"the foot of the frame is {foot * 1000:.0f} mm over that floor",
    )
    wall = room.wall_along(place.body.middle, place.out)
    if wall is None:
        return None, foot
    left = panes.low[0] - wall[0]
    row.figure("left", left, how, "left end of the room's wall to the glass")
    return left, foot


def _reveal(envelope: Envelope, place: Place, panes: Panes | None, row: RowMade) -> None:
    wall = envelope.model.body(place.wall, whole=True) if place.wall is not None else None
    if wall is None or panes is None or place.is_guessed or place.tilt_deg < 80:
        return
    low, high = wall.along(place.out)
    if high - low < STRAIGHT_M and panes.out_m <= high:
        how = How.GUESSED if panes.is_named else How.MEASURED
        row.figure("reveal", high - panes.out_m, how, "outer face of the wall to the glass")


def _alike(window: WindowRead) -> tuple[object, ...] | None:
    """What windows of one row have in common; None of one that can't be in a row with others."""
    room, place = window.room, window.place
    if room is None or place is None or window.left_m is None:
        return None
    wall = room.wall_along(place.body.middle, place.out)
    cells = {k: c.text for k, c in window.row.cells.items() if k not in ("n", "left", "mark")}
    return (room.mark, wall, tuple(sorted(cells.items())))


def _grouped(
    read: list[WindowRead], answers: Mapping[str, str], questions: list[Question]
) -> list[WindowRead]:
    groups: dict[tuple[object, ...], list[WindowRead]] = {}
    for window in read:
        if (key := _alike(window)) is not None:
            groups.setdefault(key, []).append(window)
    several = [group for group in groups.values() if len(group) > 1]
    if not several:
        return read
    chosen = "yes" if answers.get(GROUP) == "yes" else "no"
    rows = len(read) - sum(len(group) - 1 for group in several)
    questions.append(
        Question(
            name=GROUP,
            asked="Are alike windows of one wall one row?",
            choices=(("no", f"a row each: {len(read)} rows"), ("yes", f"one row: {rows} rows")),
            chosen=chosen,
        )
    )
    if chosen == "no":
        return read
    for group in several:
        _count(group)
    gone = {window.row.source for group in several for window in group[1:]}
    return [window for window in read if window.row.source not in gone]


def _count(group: list[WindowRead]) -> None:
    """Make of a group's first row that of all, with their number and the gap between them."""
    group.sort(key=lambda window: window.left_m or 0.0)
    row, width = group[0].row, group[0].panes.width_m if group[0].panes else 0.0
    row.words("n", str(len(group)), How.RECKONED, "alike windows of one wall")
    lefts = [window.left_m or 0.0 for window in group]
    gaps = [there - here - width for here, there in pairwise(lefts)]
    if max(gaps) - min(gaps) < ALIKE_M and min(gaps) >= 0:
        row.figure("gap", gaps[0], How.RECKONED, "from the glass of one to that of the next")


def _tell(model: ModelFile, read: Sequence[WindowRead], said: list[str]) -> None:
    bare = [window.row.mark for window in read if window.place is None]
    alone = [window.row.mark for window in read if window.room is None]
    blind = [w.row.mark for w in read if w.place is not None and w.panes is None]
    inner = [w.row.mark for w in read if w.place is not None and len(w.place.rooms) > 1]
    if bare:
        said.append(f"No shape can be measured of {named(bare)}.")
    if alone:
        have = "1 window has" if len(alone) == 1 else f"{len(alone)} windows have"
        said.append(f"{have} no room in the model: {named(alone)}.")
    if blind:
        said.append(
            f"The model doesn't tell glass from frame in {named(blind)}: glass, sill and place "
            "along the wall are left blank, for they are those of the glass."
        )
    if inner:
        said.append(f"Between two rooms stand {named(inner)}; the first of the two is named.")
    if curtains := len(model.of("IfcCurtainWall")):
        said.append(f"Curtain walls aren't read: {curtains} are left out, with their glass.")
    guessed = [w.row.mark for w in read if w.place is not None and w.place.is_guessed]
    if guessed:
        said.append(
            f"No room says which side of {named(guessed)} is outside: the way out is guessed."
        )
    if hostless := [w.row.mark for w in read if w.place is not None and wall_of(w.thing) is None]:
        said.append(f"No wall in the model holds {named(hostless)}.")

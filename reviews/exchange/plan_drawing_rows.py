"""Rows of a plan: a room of each outline, with the words inside it; openings in the nearest one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from reviews.exchange.model_cells import RowMade, named, use_of
from reviews.exchange.plan_drawing_openings import MARK, PREFIX, Opening
from reviews.exchange.plan_drawing_outlines import Outline, Point
from reviews.exchange.proposed import How

MM = 0.001
IN_WALL_M = 0.8
"""An opening farther from every room's outline stands in none."""
BETWEEN_M = 0.1
"""An opening that is as near to two rooms, within this, may be of either."""
ROW_M = 1.0
"""Rooms whose upper sides differ by less stand in one row of the plan, as it is read."""
_AREA = re.compile(r"[\d.,]+ ?(m²|m2|sq\.? ?m|sq\.? ?ft|sf|ft²|ft2)", re.IGNORECASE)
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")


@dataclass(frozen=True)
class Scale:
    """What a unit of the drawing is [m]."""

    unit_m: float

    def m(self, length: float) -> float:
        """A length of the drawing [m]."""
        return length * self.unit_m

    def m2(self, area: float) -> float:
        """An area of the drawing [m²]."""
        return area * self.unit_m**2


@dataclass(frozen=True)
class Words:
    """A line of text: where it stands, how high its letters are, which line of its block it is."""

    text: str
    at: Point
    height: float
    line: int


@dataclass
class RoomDrawn:
    """A room with its outline and its row."""

    outline: Outline
    row: RowMade

    @property
    def called(self) -> str:
        """Its name, else its mark."""
        return self.row.cells["room"].text if "room" in self.row.cells else self.row.mark


def room_rows(
    outlines: Sequence[Outline], words: Sequence[Words], scale: Scale, said: list[str]
) -> list[RoomDrawn]:
    """Return rooms in reading order; marks that the plan doesn't give are those next free."""
    if not outlines:
        return []
    corner = (min(o.box[0] for o in outlines), min(o.box[1] for o in outlines))
    rooms = [
        _room(outline, [w for w in words if outline.holds(w.at)], corner, scale)
        for outline in sorted(outlines, key=lambda o: _reading_order(o, scale))
    ]
    _mark([room.row for room in rooms], "R")
    if unnamed := [room.row.mark for room in rooms if "room" not in room.row.cells]:
        said.append(f"No name stands inside {named(unnamed)}: type it.")
    said.append("A plan tells no heights: type the clear height of each room.")
    return rooms


def _reading_order(outline: Outline, scale: Scale) -> tuple[int, float]:
    left, _, _, high = outline.box
    return -round(scale.m(high) / ROW_M), left


def _room(outline: Outline, inside: Sequence[Words], corner: Point, scale: Scale) -> RoomDrawn:
    shape = tuple((round(scale.m(x), 3), round(scale.m(y), 3)) for x, y in outline.corners)
    row = RowMade("rooms", shape=shape)
    marks = [w for w in inside if (m := MARK.fullmatch(w.text)) and m[1] == "R"]
    areas = [w.text for w in inside if _AREA.fullmatch(w.text)]
    # the largest letters name a room; of equal ones those that stand highest
    names = sorted(
        (
            w
            for w in inside
            if not MARK.fullmatch(w.text)
            and not _AREA.fullmatch(w.text)
            and sum(sign.isalpha() for sign in w.text) >= 2
        ),
        key=lambda w: (-w.height, -w.at[1], w.line),
    )
    if len({w.text for w in marks}) == 1:
        row.words("mark", marks[0].text, place="the text inside its outline")
    if names:
        row.words("room", names[0].text, place="the text inside its outline")
        row.words("use", use_of(names[0].text), How.GUESSED, f"of the name “{names[0].text}”")
    beside = f"the plan writes {areas[0]}" if areas else ""
    row.figure("floor_m2", scale.m2(outline.area), How.MEASURED, "inside its outline", beside)
    if outline.is_rectangle:
        left, low, _, _ = outline.box
        for head, length in (("at_x", left - corner[0]), ("at_y", low - corner[1])):
            row.figure(head, scale.m(length), How.MEASURED, "its lower left corner")
    return RoomDrawn(outline, row)


def _mark(rows: Sequence[RowMade], prefix: str) -> None:
    """Keep each mark that stands once; give the others the next that are free."""
    taken: set[str] = set()
    for row in rows:
        if row.mark and row.mark in taken:
            del row.cells["mark"]
        taken.add(row.mark)
    free = (mark for n in range(1, 9999) if (mark := f"{prefix}{n}") not in taken)
    for row in rows:
        if not row.mark:
            row.words("mark", next(free), How.RECKONED, "in reading order")


def opening_rows(
    rooms: Sequence[RoomDrawn], openings: Sequence[Opening], scale: Scale, said: list[str]
) -> list[RowMade]:
    """Return windows and doors, each in the room it is nearest to; rooms get depth and width."""
    if not rooms:
        return []
    corner = (min(r.outline.box[0] for r in rooms), min(r.outline.box[1] for r in rooms))
    made: dict[str, list[RowMade]] = {kind: [] for kind in PREFIX}
    without: dict[str, list[RowMade]] = {kind: [] for kind in PREFIX}
    sides: dict[int, set[str]] = {}
    for opening in openings:
        row = _opening(opening, corner, scale)
        made[opening.kind].append(row)
        room = _nearest(rooms, opening, scale)
        if room is None:
            without[opening.kind].append(row)
            continue
        if opening.kind == "windows":
            (a, b) = room.outline.distance(opening.middle)[1]
            side = "across" if abs(a[0] - b[0]) > abs(a[1] - b[1]) else "up"
            sides.setdefault(id(room), set()).add(side)
        else:
            row.words("place", room.called, How.RECKONED, "the room it stands in")
        row.words("room", room.row.mark, How.MEASURED, "the nearest outline")
    for kind, prefix in PREFIX.items():
        if all(row.mark for row in made[kind]):
            # marks of the plan's own tell its openings apart, wherever they stand
            for row in made[kind]:
                row.source = ""
        _mark(made[kind], prefix)
        if lost := [row.mark for row in without[kind]]:
            said.append(f"{named(lost)} stand in no one room’s wall: type the room.")
    for room in rooms:
        _depth(room, sides.get(id(room), set()), scale)
    if made["windows"]:
        said.append(
            "A plan tells neither glass nor the way that windows face: type both. Frames are as "
            "wide as their blocks are drawn."
        )
    return [*made["windows"], *made["doors"]]


def _opening(opening: Opening, corner: Point, scale: Scale) -> RowMade:
    """A window or a door by its block; a width that may hold the frame of a door is guessed."""
    kind, told = opening.kind, opening.told
    row = RowMade(kind, source=_source(opening, corner, scale))
    if (is_mark := MARK.fullmatch(told.get("mark", ""))) and is_mark[1] == PREFIX[kind]:
        row.words("mark", told["mark"], place=f"block {opening.block}, its mark")
    beside = f"the block writes {told['width']}" if "width" in told else ""
    place = f"block {opening.block} by its scale"
    if kind == "windows":
        row.words("n", "1", How.RECKONED, "each block is one")
        widest = max(opening.width, opening.height)
        row.figure("frame_w", scale.m(widest), How.MEASURED, place, beside)
        _told(row, "sill", told.get("sill", ""), opening, scale)
        _told(row, "frame_h", told.get("height", ""), opening, scale)
    else:
        row.figure("leaf_w", scale.m(opening.width), How.GUESSED, place, beside or "frame or leaf?")
        _told(row, "height", told.get("height", ""), opening, scale)
    return row


def _told(row: RowMade, head: str, text: str, opening: Opening, scale: Scale) -> None:
    """What an attribute says: a bare figure in the drawing's unit, any other as it stands."""
    place = f"block {opening.block}, its attribute"
    if _NUMBER.fullmatch(text):
        beside = "" if scale.unit_m == MM else f"the block writes {text}"
        row.figure(head, scale.m(float(text.replace(",", "."))), How.WRITTEN, place, beside)
    else:
        row.words(head, text, How.WRITTEN, place)


def _source(opening: Opening, corner: Point, scale: Scale) -> str:
    """By what an opening without a mark is known again: its block and where it stands [dm]."""
    x, y = (scale.m(a - b) for a, b in zip(opening.middle, corner, strict=True))
    return f"{opening.block} {x:.1f} {y:.1f}"


def _nearest(rooms: Sequence[RoomDrawn], opening: Opening, scale: Scale) -> RoomDrawn | None:
    """The room in whose wall an opening stands; None of one between two, or of none."""
    near = sorted(
        ((scale.m(room.outline.distance(opening.middle)[0]), n) for n, room in enumerate(rooms))
    )
    if near[0][0] > IN_WALL_M:
        return None
    if len(near) > 1 and near[1][0] - near[0][0] < BETWEEN_M:
        return None
    return rooms[near[0][1]]


def _depth(room: RoomDrawn, sides: set[str], scale: Scale) -> None:
    """Width along the window wall and depth from it, where all windows stand in such walls."""
    if len(sides) != 1 or not room.outline.is_rectangle:
        return
    across, up = room.outline.size
    width, depth = (across, up) if sides == {"across"} else (up, across)
    room.row.figure("width_m", scale.m(width), How.MEASURED, "along its window wall")
    room.row.figure("depth_m", scale.m(depth), How.MEASURED, "from its window wall")

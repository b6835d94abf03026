"""Rooms of a building model: floor, headroom and height measured, their use guessed of a name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from reviews.exchange.model_bodies import Thing
from reviews.exchange.model_cells import RowMade, marked, named, use_of
from reviews.exchange.model_file import ModelFile
from reviews.exchange.model_shapes import Body, Figures, Floor, floor_of
from reviews.exchange.proposed import How

DIFFERS = 0.001
"""Written and measured figures that differ by less agree [1]. Ours."""
OTHER_UNIT = 0.05
"""A volume that differs by more is in another unit, or of another thing [1]. Ours."""
RECTANGLE = 0.99
"""A room is a rectangle where it fills so much of the one about it [1]. Ours."""
ROUND_M = 0.05
"""What lies no further outside of a room's box is held to its outline. Ours."""


@dataclass(frozen=True, eq=False)
class RoomRead:
    """A room of the model: its entity, its body and floor where they can be measured, its row."""

    thing: Thing
    body: Body | None
    floor: Floor | None
    row: RowMade

    @property
    def mark(self) -> str:
        """Its mark."""
        return self.row.mark

    @property
    def name(self) -> str:
        """Its name, or its mark where it has none."""
        return self.row.name

    @cached_property
    def box(self) -> Figures:
        """Where it begins and ends along x, y and z, 2 × 3 [m]; nowhere without a floor."""
        if self.body is None or self.floor is None:
            return np.full((2, 3), np.nan)
        return np.array([self.body.corners.min(axis=0), self.body.corners.max(axis=0)])

    def holds(self, points: Figures) -> NDArray[np.bool_]:
        """Whether each of n × 3 points [m] lies in it."""
        if self.floor is None:
            return np.zeros(len(points), bool)
        low, high = self.box
        near = ((low - ROUND_M <= points) & (points <= high + ROUND_M)).all(axis=1)
        return np.asarray(near & shapely.intersects_xy(self.floor.polygon, points[:, :2]))

    def wall_along(self, point: Figures, out: Figures) -> tuple[float, float] | None:
        """Where the wall nearest to a point begins and ends, from its left as seen from inside [m].

        point   of the window or door [m]
        out     the way it looks out [1]
        Both ends are measured along the wall, to the right as seen from inside. None without one.
        """
        if self.floor is None:
            return None
        right = np.array([out[1], -out[0]])
        at, here = point[:2] @ right, point[:2] @ out[:2]
        begins = np.array(self.floor.outline)
        ends = np.concatenate((begins[1:], begins[:1]))
        sides = ends - begins
        spans = np.sort(np.stack((begins @ right, ends @ right), axis=1), axis=1)
        is_along = np.abs(sides @ out[:2]) <= 0.02 * np.linalg.norm(sides, axis=1)
        is_beside = (spans[:, 0] - 0.01 <= at) & (at <= spans[:, 1] + 0.01)
        off = np.abs((begins + ends) @ out[:2] / 2 - here)
        chosen = is_along & is_beside
        walls = zip(off[chosen].tolist(), map(tuple, spans[chosen].tolist()), strict=True)
        return min(walls, default=(0.0, None))[1]

    def sides_along(self, out: Figures) -> tuple[float, float] | None:
        """Depth and width of a rectangular room whose window wall looks a way out [m]."""
        if self.floor is None or not is_rectangle(self.floor):
            return None
        corners = np.array(self.floor.outline)
        deep, wide = corners @ out[:2], corners @ np.array([out[1], -out[0]])
        depth, width = float(np.ptp(deep)), float(np.ptp(wide))
        return (depth, width) if depth * width < self.floor.area_m2 * 1.02 else None


class Rooms(tuple[RoomRead, ...]):
    """All rooms, in reading order."""

    @cached_property
    def _boxes(self) -> Figures:
        return np.array([room.box for room in self]).reshape(-1, 2, 3)

    @cached_property
    def _order(self) -> dict[int, int]:
        return {room.thing.id(): place for place, room in enumerate(self)}

    def of(self, spaces: Iterable[int]) -> list[RoomRead]:
        """Rooms of some spaces by their keys in the file, in reading order."""
        return [self[place] for place in sorted(self._order[k] for k in spaces if k in self._order)]

    def near(self, point: Figures, reach_m: float) -> list[RoomRead]:
        """Rooms the boxes about which are no further than a reach from a point [m]."""
        lows, highs = self._boxes[:, 0] - reach_m, self._boxes[:, 1] + reach_m
        is_near = ((lows <= point) & (point <= highs)).all(axis=1)
        return [self[place] for place in np.flatnonzero(is_near)]

    def holding(self, point: Figures) -> list[RoomRead]:
        """Rooms that a point [m] lies in."""
        return [room for room in self.near(point, ROUND_M) if room.holds(point[None])[0]]


def is_rectangle(floor: Floor) -> bool:
    """Whether a floor fills the least rectangle about it."""
    about = shapely.oriented_envelope(floor.polygon)
    return bool(floor.area_m2 > RECTANGLE * about.area)


def rooms_of(model: ModelFile, said: list[str]) -> Rooms:
    """Read every room, in reading order: storey by storey, from the top left of the plan."""
    things = list(_rooms_in(model, said))
    read = Rooms(sorted((_room(model, thing) for thing in things), key=_reading_order))
    marked((room.row for room in read), "R")
    _tell_apart(read)
    _tell(model, read, said)
    return read


def _tell_apart(rooms: Sequence[RoomRead]) -> None:
    """Write the number behind the name of rooms that are called alike."""
    called = Counter(room.name for room in rooms)
    for room in rooms:
        number = str(room.thing.Name or "")
        if called[room.name] > 1 and room.thing.LongName and number:
            room.row.words("room", f"{room.name} {number}", How.WRITTEN, "IfcSpace, LongName, Name")


def _rooms_in(model: ModelFile, said: list[str]) -> Iterable[Thing]:
    wholes, outside = 0, 0
    for space in model.of("IfcSpace"):
        parts = [
            part
            for relation in space.IsDecomposedBy or ()
            for part in relation.RelatedObjects
            if part.is_a("IfcSpace") and part != space
        ]
        kind = getattr(space, "PredefinedType", None) or getattr(
            space, "InteriorOrExteriorSpace", None
        )
        if parts and all(part.Representation is not None for part in parts):
            wholes += 1
        elif kind in ("EXTERNAL", "GFA", "PARKING"):
            outside += 1
        else:
            yield space
    if wholes:
        said.append(f"Spaces that are made of others are left out, their parts taken: {wholes}.")
    if outside:
        said.append(f"Spaces out of doors, or of gross area, are no rooms: {outside} left out.")


def _reading_order(room: RoomRead) -> tuple[float, float, float, str]:
    """Storey by storey; on one, by rows of half a metre from the top, then from the left."""
    if room.floor is None:
        return (room.body.foot_m if room.body else 1e9, 0.0, 0.0, str(room.thing.GlobalId))
    box = room.floor.polygon.bounds
    level = round(room.floor.level_m, 1)
    return (level, -round(box[3] * 2) / 2, round(box[0], 2), str(room.thing.GlobalId))


def _room(model: ModelFile, space: Thing) -> RoomRead:
    body = model.body(space)
    floor = floor_of(body) if body else None
    row = RowMade(
        "rooms",
        source=str(space.GlobalId),
        floor=model.storey_of(space)[0],
        shape=floor.outline if floor else (),
    )
    name = str(space.LongName or space.Name or "")
    place = "IfcSpace, LongName" if space.LongName else "IfcSpace, Name"
    row.words("room", name, How.WRITTEN, place)
    occupied = model.said_of(space).get("OccupancyType")
    use, of_name = use_of(name), f"of the name “{name}”"
    if not use and occupied is not None and isinstance(occupied.value, str):
        use, of_name = use_of(occupied.value), f"of the occupancy “{occupied.value}”"
    row.words("use", use, How.GUESSED, of_name)
    people = model.figure(space, "OccupancyNumber")
    if use == "sleep" and people and people.value == int(people.value):
        row.figure("sleepers", people.value, How.WRITTEN, people.place)
    if body and floor:
        _measured(model, space, body, floor, row)
    return RoomRead(space, body, floor, row)


def _measured(model: ModelFile, space: Thing, body: Body, floor: Floor, row: RowMade) -> None:
    areas = [
        f"the file writes {figure.value:.2f} m² ({figure.place})"
        for name in ("NetFloorArea", "GrossFloorArea", "Area")
        if (figure := model.figure(space, name))
    ]
    row.figure(
        "floor_m2",
        floor.area_m2,
        How.MEASURED,
        "down-facing faces of the room at their lowest level",
        areas[0] if areas else "the file writes none",
    )
    row.figure("low_headroom_m2", floor.low_m2, How.MEASURED, "where the ceiling is under 1.5 m")
    beside = [f"{body.volume_m3:.2f} m³ in all"]
    if written := model.figure(space, "NetVolume", "GrossVolume"):
        beside.append(f"the file writes {written.value:,.2f} m³ ({written.place})")
    if floor.height_m - floor.least_m > 0.01:
        beside.append(f"lowest {floor.least_m:.2f} m")
    row.figure(
        "clear_height_m",
        floor.height_m,
        How.MEASURED,
        "floor to ceiling, the mean by area",
        "; ".join(beside),
    )


def _tell(model: ModelFile, rooms: Sequence[RoomRead], said: list[str]) -> None:
    if not rooms:
        said.append(
            "The model holds no rooms (IfcSpace): export it with its rooms, or type them first."
        )
        return
    bare = [room.mark for room in rooms if room.body is None]
    if bare:
        said.append(f"No shape can be measured of {named(bare)}: floor and height are left blank.")
    tilted = [room.mark for room in rooms if room.body is not None and room.floor is None]
    if tilted:
        said.append(f"No level floor is found in {named(tilted)}: floor and height are left blank.")
    for room in rooms:
        if room.floor and room.floor.higher_m2 > DIFFERS * room.floor.area_m2:
            said.append(
                f"{room.mark} has {room.floor.higher_m2:.2f} m² of floor above its lowest level, "
                "which isn't counted: give it a row of its own where people stand on it."
            )
    volumes = [
        (room.mark, written.value / room.body.volume_m3)
        for room in rooms
        if room.body
        and room.body.volume_m3
        and (written := model.figure(room.thing, "NetVolume", "GrossVolume"))
    ]
    off = {mark: ratio for mark, ratio in volumes if abs(ratio - 1) > OTHER_UNIT}
    litres = [mark for mark, ratio in off.items() if abs(ratio / 1000 - 1) < OTHER_UNIT]
    if litres:
        said.append(
            f"The file writes the volume of {named(litres)} a thousand times too large, as if in "
            "litres under a head that says m³; what is proposed was measured."
        )
    if other := [mark for mark in off if mark not in litres]:
        said.append(
            f"The volume that the file writes of {named(other)} differs by more than 5 % from "
            "its shape; what is proposed was measured."
        )
    _tell_of_areas(model, rooms, said)


def _tell_of_areas(model: ModelFile, rooms: Sequence[RoomRead], said: list[str]) -> None:
    less: list[str] = []
    without_low: list[str] = []
    for room in rooms:
        written = model.figure(room.thing, "NetFloorArea", "GrossFloorArea", "Area")
        if written is None or room.floor is None:
            continue
        if abs(written.value / room.floor.area_m2 - 1) <= DIFFERS:
            continue
        high = room.floor.area_m2 - room.floor.low_m2
        near = room.floor.low_m2 and high > 0 and abs(written.value / high - 1) <= DIFFERS
        (without_low if near else less).append(room.mark)
    if without_low:
        said.append(
            f"The floor that the file writes of {named(without_low)} leaves out what is under "
            "1.5 m; the measured one holds it, and it is told apart as low."
        )
    if less:
        said.append(
            f"The floor that the file writes of {named(less)} isn't that of its shape; what is "
            "proposed was measured, and the written figure stands beside it."
        )

"""A room as JSON, read with every fault named.

Keys carry their units. `glazing.visible_transmittance` holds for every opening that has none of
its own. What a key means is said in criteria.daylight.room and criteria.daylight.openings.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from criteria.daylight.openings import Obstruction, Rooflight, Wall, Window
from criteria.daylight.refusals import ImpossibleInput
from criteria.daylight.room import Room
from criteria.typed.json_file import JsonFile, read_json, shown

Made = TypeVar("Made")

_SIZES = ("length_m", "width_m", "height_m")
_SURFACES = ("floor", "wall", "ceiling")
_NUMBERS = (
    "wall_thickness_m",
    "roof_thickness_m",
    "ground_reflectance",
    "obstruction_luminance_factor",
    "north_bearing_deg",
)
_WINDOW = ("offset_m", "sill_m", "width_m", "height_m")
_ROOFLIGHT = ("x_m", "y_m", "size_x_m", "size_y_m")
_GLAZING = {
    "visible_transmittance": "transmittance",
    "frame_share": "frame_share",
    "maintenance": "maintenance",
}


@dataclass(frozen=True, kw_only=True)
class RoomFile:
    """A room that was read, and the keys of the file that mean nothing here."""

    room: Room
    unread: tuple[str, ...]


class _Reader(JsonFile):
    """Reads walls by their names too."""

    def wall(self, value: object, key: str) -> Wall:
        if value not in {wall.value for wall in Wall}:
            raise self.refuse(key, shown(value), "south, north, west or east")
        return Wall(value)

    def wall_of(self, item: Mapping[str, Any], path: str) -> Wall:
        return self.wall(self.needed(item, "wall", f"{path}.wall"), f"{path}.wall")


def read_room(path: Path) -> RoomFile:
    """Read a room from a JSON file.

    Raises UnreadableFile, naming file, key, what was read and what was expected.
    """
    return room_from_spec(read_json(path), file=str(path))


def room_from_spec(spec: object, *, file: str = "room") -> RoomFile:
    """Build a room from the object that a room file holds.

    Raises UnreadableFile where a key is missing, is no number or describes no possible room.
    """
    reader = _Reader(file)
    top = reader.mapping(spec, "")
    sizes = reader.mapping(reader.needed(top, "room", "room"), "room")
    given = reader.numbers(sizes, _SIZES, "room")
    surfaces = reader.mapping(top.get("reflectance", {}), "reflectance")
    for key in _SURFACES:
        if key in surfaces:
            given[f"{key}_reflectance"] = reader.number(surfaces[key], f"reflectance.{key}")
    for key in _NUMBERS:
        if key in top:
            given[key] = reader.number(top[key], key)
    glazing = reader.mapping(top.get("glazing", {}), "glazing")
    shared = _glazing(reader, glazing, "glazing")
    reader.note(
        top, {"room", "reflectance", "glazing", "obstruction_angle_deg", "obstructions",
              "windows", "rooflights", *_NUMBERS},
    )  # fmt: skip
    reader.note(sizes, set(_SIZES), "room")
    reader.note(surfaces, set(_SURFACES), "reflectance")
    reader.note(glazing, set(_GLAZING), "glazing")
    given["obstructions"] = _obstructions(reader, top)
    given["windows"] = tuple(
        _window(reader, item, path, shared) for path, item in reader.items(top, "windows")
    )
    given["rooflights"] = tuple(
        _rooflight(reader, item, path, shared) for path, item in reader.items(top, "rooflights")
    )
    room = _possible(reader, "", lambda: Room(**given))
    return RoomFile(room=room, unread=tuple(reader.unread))


def _possible(reader: _Reader, path: str, build: Callable[[], Made]) -> Made:
    try:
        return build()
    except ImpossibleInput as error:
        if error.item:
            path = "{}[{}]".format(*error.item)
        where = f"{path}.{error.field}" if path else error.field
        raise reader.refuse(where, error.read, error.expected) from error


def _glazing(reader: _Reader, item: Mapping[str, Any], path: str) -> dict[str, float]:
    return {
        name: reader.number(item[key], f"{path}.{key}")
        for key, name in _GLAZING.items()
        if key in item
    }


def _obstructions(reader: _Reader, top: Mapping[str, Any]) -> tuple[Obstruction, ...]:
    found = []
    angles = reader.mapping(top.get("obstruction_angle_deg", {}), "obstruction_angle_deg")
    for name, value in angles.items():
        path = f"obstruction_angle_deg.{name}"
        wall, angle = reader.wall(name, path), reader.number(value, path)
        found.append(_possible(reader, path, partial(Obstruction, wall=wall, angle_deg=angle)))
    for path, item in reader.items(top, "obstructions"):
        wall = reader.wall_of(item, path)
        sizes = reader.numbers(item, ("top_m", "distance_m"), path)
        found.append(_possible(reader, path, partial(Obstruction, wall=wall, **sizes)))
        reader.note(item, {"wall", "top_m", "distance_m"}, path)
    return tuple(found)


def _window(
    reader: _Reader, item: Mapping[str, Any], path: str, shared: Mapping[str, float]
) -> Window:
    wall = reader.wall_of(item, path)
    sizes = _opening(reader, item, path, _WINDOW, shared)
    reader.note(item, {"wall", "mark", *_WINDOW, *_GLAZING}, path)
    return _possible(reader, path, lambda: Window(wall=wall, **sizes))


def _rooflight(
    reader: _Reader, item: Mapping[str, Any], path: str, shared: Mapping[str, float]
) -> Rooflight:
    sizes = _opening(reader, item, path, _ROOFLIGHT, shared)
    reader.note(item, {"mark", *_ROOFLIGHT, *_GLAZING}, path)
    return _possible(reader, path, lambda: Rooflight(**sizes))


def _opening(
    reader: _Reader,
    item: Mapping[str, Any],
    path: str,
    keys: tuple[str, ...],
    shared: Mapping[str, float],
) -> dict[str, Any]:
    sizes = reader.numbers(item, keys, path)
    mark = item.get("mark", "")
    if not isinstance(mark, str):
        raise reader.refuse(f"{path}.mark", shown(mark), "text")
    return {**shared, **_glazing(reader, item, path), **sizes, "mark": mark}

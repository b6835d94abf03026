"""One room's plan as JSON: walls without thickness, a door in the lower one, what stands there.

`room_m` [across, up], `door_m` [from, to] along the lower wall, `things` as ["rect", x0, x1, y0,
y1] with degrees of turn behind it or ["disc", x, y, radius], `to_m` places [x, y]. Metres; x along
the lower wall, y up. The start lies 1 m outside the middle of the door.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from criteria.typed.json_file import JsonFile, read_json, shown
from criteria.walking.bodies import Body, Plan, Point, disc, rectangle, wall

MOST_THINGS, MOST_TARGETS = 200, 500
MOST_M = 1000.0
BEFORE_M = 1.0
"""How far outside the door the start lies [m]."""

EXPECTED = '["rect", x0, x1, y0, y1], with degrees of turn behind it or not, or ["disc", x, y, r]'
_KEYS = {"room_m", "door_m", "things", "to_m"}


@dataclass(frozen=True)
class PlanFile:
    """A plan that was read.

    plan      with its door open
    shut      the same with its door shut
    start     where a walker starts, outside
    targets   where they go
    size_m    of the room, across and up
    unread    keys that mean nothing here
    """

    plan: Plan
    shut: Plan
    start: Point
    size_m: Point
    targets: tuple[Point, ...]
    unread: tuple[str, ...]


def read_plan(path: Path) -> PlanFile:
    """Read a plan from a JSON file.

    Raises UnreadableFile, naming file, key, what was read and what was expected.
    """
    return plan_from_spec(read_json(path), file=str(path))


def plan_from_spec(spec: object, *, file: str = "plan") -> PlanFile:
    """Build a plan from the object that a file holds. Raises UnreadableFile."""
    reader = JsonFile(file)
    top = reader.mapping(spec, "")
    across, up = _pair(reader, reader.needed(top, "room_m", "room_m"), "room_m")
    if not (0 < across <= MOST_M and 0 < up <= MOST_M):
        raise reader.refuse("room_m", shown([across, up]), f"two sides up to {MOST_M:g} m")
    left, right = _pair(reader, reader.needed(top, "door_m", "door_m"), "door_m")
    if not 0 <= left < right <= across:
        raise reader.refuse("door_m", shown([left, right]), f"from, to, within 0 to {across:g}")
    things = reader.listed(top.get("things", []), "things")
    targets = reader.listed(reader.needed(top, "to_m", "to_m"), "to_m")
    for key, found, most in (("things", things, MOST_THINGS), ("to_m", targets, MOST_TARGETS)):
        if len(found) > most:
            raise reader.refuse(key, f"{len(found)} of them", f"at most {most}")
    bodies = [_thing(reader, each, f"things[{n}]") for n, each in enumerate(things)]
    places = [_place(reader, each, f"to_m[{n}]", across, up) for n, each in enumerate(targets)]
    reader.note(top, _KEYS)
    walls = [
        wall((0.0, 0.0), (left, 0.0), "lower wall"),
        wall((right, 0.0), (across, 0.0), "lower wall"),
        wall((0.0, 0.0), (0.0, up), "left wall"),
        wall((across, 0.0), (across, up), "right wall"),
        wall((0.0, up), (across, up), "upper wall"),
    ]
    start = ((left + right) / 2, -BEFORE_M)
    bodies = [*walls, *bodies]
    shut = Plan([*bodies, wall((left, 0.0), (right, 0.0), "door")])
    unread = tuple(reader.unread)
    return PlanFile(Plan(bodies), shut, start, (across, up), tuple(places), unread)


def _numbers(reader: JsonFile, value: Sequence[object], path: str) -> list[float]:
    found = [reader.number(each, f"{path}[{n}]") for n, each in enumerate(value)]
    if odd := next((each for each in found if abs(each) > MOST_M), None):
        raise reader.refuse(path, f"{odd:g}", f"numbers up to {MOST_M:g}")
    return found


def _pair(reader: JsonFile, value: object, path: str) -> Point:
    found = _numbers(reader, reader.listed(value, path), path)
    if len(found) != 2:
        raise reader.refuse(path, shown(value), "two numbers")
    return found[0], found[1]


def _place(reader: JsonFile, value: object, path: str, across: float, up: float) -> Point:
    x, y = _pair(reader, value, path)
    if not (0 < x < across and 0 < y < up):
        raise reader.refuse(path, shown(value), f"a place in the room, {across:g} by {up:g} m")
    return x, y


def _thing(reader: JsonFile, value: object, path: str) -> Body:
    kind, *rest = reader.listed(value, path) or [None]
    figures = _numbers(reader, rest, path)
    if kind == "disc" and len(figures) == 3 and figures[2] > 0:
        return disc(figures[0], figures[1], figures[2], path)
    if kind == "rect" and len(figures) in (4, 5):
        x0, x1, y0, y1, turn = [*figures, 0.0][:5]
        if x0 != x1 and y0 != y1:
            return rectangle((x0, x1), (y0, y1), turn, path)
    raise reader.refuse(path, shown(value), EXPECTED)

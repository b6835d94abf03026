"""Where a drafted scheme's rooms, doors and windows lie: strips of rooms side by side.

A strip runs from west to east; the first lies to the north. All rooms of a strip are as deep, so
each has just the floor of its row; what a strip writes as R8/R7 stand behind each other.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from reviews.demo.tables import Rows, read_csv

PARTITION_M = 0.1
SPARE_M = 0.06
"""Kept between a leaf and the end of its wall [m]."""
SLOT_MM = 1800
"""Glass that is wider stands frame to frame [mm]."""
GOING_M, RISE_M, STAIR_M = 0.165, 0.2, 0.6
"""Going, most rise and width of a stair to an upper level [m]."""
UPPER_FLOOR_M = 0.3


@dataclass(frozen=True)
class Lying:
    """A room's rectangle, from west and from south [m]."""

    mark: str
    level: int
    x: float
    y: float
    across: float
    up: float

    def wall_m(self, faces: str) -> float:
        """How long a wall is [m]."""
        return self.across if faces in "NS" else self.up


def arrange(number: str, rooms: Rows) -> dict[str, Lying]:
    """Return where each room of a scheme lies, by its mark."""
    floors = {room["mark"]: float(room["floor_m2"]) for room in rooms}
    return {lying.mark: lying for row in _lines(number) for lying in _strips(row, floors)}


def second_way_out(number: str) -> tuple[str, str]:
    """Return the room of a scheme's second way out, and the wall that it is in."""
    room, faces = next(row["second_out"] for row in _lines(number) if row["second_out"]).split()
    return room, faces


def _lines(number: str) -> Rows:
    rows = read_csv("arranged")
    own = [row for row in rows if row["scheme"] == number]
    return own or [row for row in rows if row["scheme"] == number[0]]


def _strips(row: dict[str, str], floors: dict[str, float]) -> Iterator[Lying]:
    long, y = float(row["long_m"]), float(row["y_m"])
    for strip in reversed(row["strips"].split("|")):
        stacks = [stack.split("/") for stack in strip.split()]
        free = long - PARTITION_M * (len(stacks) - 1)
        deep = _deep(stacks, floors, free)
        x = float(row["x_m"])
        for stack in stacks:
            within = deep - PARTITION_M * (len(stack) - 1)
            wide = sum(floors[mark] for mark in stack) / within
            up = y
            for mark in reversed(stack):
                high = floors[mark] / wide
                yield Lying(mark, int(row["level"]), x, up, wide, high)
                up += high + PARTITION_M
            x += wide + PARTITION_M
        y += deep + PARTITION_M


def _deep(stacks: list[list[str]], floors: dict[str, float], free_m: float) -> float:
    """Return how deep a strip is so that all its rooms fill its length [m]."""
    deep = sum(floors[mark] for stack in stacks for mark in stack) / free_m
    for _ in range(60):
        wide = sum(
            sum(floors[mark] for mark in stack) / (deep - PARTITION_M * (len(stack) - 1))
            for stack in stacks
        )
        deep *= wide / free_m
    return deep


def placed(rooms: Rows, lying: dict[str, Lying], windows: Rows) -> Rows:
    """Return rooms with their sides, place and level; width lies along the wall with most glass."""
    lit: dict[str, Counter[str]] = defaultdict(Counter)
    for each in windows:
        lit[each["room"]][each["faces"]] += each["n"] * each["glass_w"] * each["glass_h"]
    found = []
    for room in rooms:
        at = lying[room["mark"]]
        sides = (at.up, at.across)
        main = max(lit[at.mark], key=lit[at.mark].__getitem__, default="S")
        deep, wide = sides if main in "NS" else sides[::-1]
        place = (f"{deep:.3f}", f"{wide:.3f}", f"{at.x:.3f}", f"{at.y:.3f}", at.level or "")
        heads = ("depth_m", "width_m", "at_x", "at_y", "level")
        found.append({**room, **dict(zip(heads, place, strict=True))})
    return found


def glazed(windows: Rows, lying: dict[str, Lying], doors: Rows) -> Rows:
    """Return windows with their places: evenly spread along what doors leave of their wall."""
    found = []
    for window in windows:
        wall, faces = lying[window["room"]], window["faces"]
        taken = [
            (float(door["left"]), float(door["left"]) + door["leaf_w"])
            for door in doors
            if (door["room"], door["faces"]) == (wall.mark, faces)
        ]
        low, high = _widest_mm(1000 * wall.wall_m(faces), taken)
        count, wide = window["n"], window["glass_w"]
        spare, mullion = high - low - count * wide, window["frame_w"] - wide
        is_slot = wide > SLOT_MM
        gap = int(mullion if is_slot else spare / (count + 1))
        left = int(low + (spare - gap * (count - 1)) / 2)
        found.append({**window, "left": left, "gap": gap if count > 1 else ""})
    return found


def _widest_mm(wall_mm: float, taken: Iterable[tuple[float, float]]) -> tuple[float, float]:
    """Return the widest stretch of a wall that is free."""
    ends = [0.0, *(end for pair in sorted(taken) for end in pair), wall_mm]
    return max(zip(ends[::2], ends[1::2], strict=True), key=lambda pair: pair[1] - pair[0])


def hung(number: str, doors: Rows, rooms: Rows, lying: dict[str, Lying]) -> Rows:
    """Return doors in their walls, and one more for each room that they leave without."""
    return list(_Hanging(number, rooms, lying).all(doors))


class _Hanging:
    """Rooms while their doors are hung: which can be entered so far."""

    def __init__(self, number: str, rooms: Rows, lying: dict[str, Lying]) -> None:
        self.number, self.rooms, self.lying = number, rooms, lying
        self.names = {room["room"]: room["mark"] for room in rooms}
        self.entry, self.day = (
            next(room["mark"] for room in rooms if room["use"] == use)
            for use in ("circulation", "day")
        )
        self.entered = {self.entry, *(climb["room"] for climb in climbs(rooms, lying))}
        self.count = 0

    def all(self, doors: Rows) -> Iterator[dict[str, Any]]:
        """Yield doors as they are told, then those of rooms that none of them enters."""
        for door in doors:
            yield (
                self._out(door)
                if door["role"] != "internal"
                else self._inside(door, self.names.get(door["place"], self.day))
            )
        for room in self.rooms:
            if room["mark"] not in self.entered:
                more = {"place": room["room"], "leaf_w": 900, "clear_w": 830}
                yield self._inside({**doors[-1], **more}, room["mark"])

    def _out(self, door: dict[str, Any]) -> dict[str, Any]:
        """Hang a door to the outside: in the middle of its wall, or one at each end of it."""
        leaf = door["leaf_w"] / 1000
        if door["role"] == "second exit":
            mark, faces = second_way_out(self.number)
        else:
            mark = self.names.get(door["place"], self.entry)
            faces = self._free_wall(self.lying[mark])
        wall = self.lying[mark].wall_m(faces)
        left = (wall - leaf) / 2
        if door["role"] == "other exit":
            left = SPARE_M if self.count % 2 else wall - leaf - SPARE_M
        return self._marked(door, mark, faces, left)

    def _inside(self, door: dict[str, Any], mark: str) -> dict[str, Any]:
        """Hang a door to the entry, else to the day room, else to any room beside it."""
        room, leaf = self.lying[mark], door["leaf_w"] / 1000
        first = [each for each in (self.entry, self.day) if each != mark]
        others = [*first, *(each for each in self.lying if each not in (mark, *first))]
        for other in others:
            for faces in "SNWE":
                low, high = _shared(room, self.lying[other], faces)
                if high - low >= leaf + 2 * SPARE_M:
                    self.entered |= {mark, other}
                    start = (low + high - leaf) / 2
                    left = start if faces in "NW" else room.wall_m(faces) - leaf - start
                    return self._marked(door, mark, faces, left)
        raise ValueError(f"{self.number}: {mark} shares no wall of {leaf} m with another room")

    def _free_wall(self, room: Lying) -> str:
        """Return the first of a room's walls that looks out of doors."""
        on = [each for each in self.lying.values() if each.level == room.level]
        shut = {faces for each in on for faces in "SNWE" if _length(_shared(room, each, faces))}
        return next(faces for faces in "SNWE" if faces not in shut)

    def _marked(self, door: dict[str, Any], mark: str, faces: str, left: float) -> dict[str, Any]:
        self.count += 1
        place = {"room": mark, "faces": faces, "left": int(1000 * left)}
        return {**door, "mark": f"D{self.count}", "swing": "in", "hinge": "left", **place}


def _length(span: tuple[float, float]) -> float:
    return max(0.0, span[1] - span[0])


def _shared(room: Lying, other: Lying, faces: str) -> tuple[float, float]:
    """Return from where to where a room's wall is another's too, from its west or south end [m].

    Where it isn't, the end lies before the start.
    """
    edge = {"N": room.y + room.up, "S": -room.y, "E": room.x + room.across, "W": -room.x}[faces]
    back = {"N": other.y, "S": -other.y - other.up, "E": other.x, "W": -other.x - other.across}
    if room.level != other.level or abs(back[faces] - edge - PARTITION_M) > 0.01:
        return 0.0, 0.0
    if faces in "NS":
        low, high = max(room.x, other.x), min(room.x + room.across, other.x + other.across)
        return low - room.x, high - room.x
    low, high = max(room.y, other.y), min(room.y + room.up, other.y + other.up)
    return low - room.y, high - room.y


def climbs(rooms: Rows, lying: dict[str, Lying]) -> Rows:
    """Return a stair to each upper level, where a room of it lies over one of the level below."""
    heights = {room["mark"]: float(room["clear_height_m"]) for room in rooms}
    levels = sorted({each.level for each in lying.values()} - {0})
    found = []
    for n, level in enumerate(levels, start=1):
        below, above, box = _over(lying, level, rooms)
        rise = heights[below.mark] + UPPER_FLOOR_M
        risers = round(rise / RISE_M)
        run = (risers - 1) * GOING_M
        is_level = box[2] - box[0] >= run + 0.2
        foot = box[0] + 0.1, box[3] - STAIR_M / 2
        head = (foot[0] + run, foot[1])
        if not is_level:
            foot = box[0] + STAIR_M / 2, box[1] + 0.1
            head = (foot[0], foot[1] + run)
        own = (foot[0] - below.x, foot[1] - below.y, head[0] - above.x, head[1] - above.y)
        heads = ("foot_x", "foot_y", "head_x", "head_y")
        found.append(
            {
                "mark": f"K{n}",
                "place": f"Up to level {level}",
                "kind": "loft stair",
                "room": above.mark,
                "rise": round(1000 * rise),
                "risers": risers,
                "tread": round(1000 * GOING_M),
                "width": round(1000 * STAIR_M),
                "headroom": 1950,
                "rail": "yes",
                "from_room": below.mark,
                **{each: round(1000 * at) for each, at in zip(heads, own, strict=True)},
            }
        )
    return found


def _over(
    lying: dict[str, Lying], level: int, rooms: Rows
) -> tuple[Lying, Lying, tuple[float, float, float, float]]:
    """Return a room that people pass through, one over it, and what they share on plan: most."""
    passed = {room["mark"] for room in rooms if room["use"] in ("circulation", "day")}
    pairs = []
    for below in lying.values():
        for above in lying.values():
            if (below.level, above.level) == (level - 1, level):
                box = (
                    max(below.x, above.x),
                    max(below.y, above.y),
                    min(below.x + below.across, above.x + above.across),
                    min(below.y + below.up, above.y + above.up),
                )
                short, long = sorted((box[2] - box[0], box[3] - box[1]))
                pairs.append((min(short, STAIR_M), below.mark in passed, long, below, above, box))
    *_, below, above, box = max(pairs, key=lambda pair: pair[:3])
    return below, above, box

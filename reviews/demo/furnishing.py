"""Furniture of the drafted schemes whose plans show what their names promise, and its places.

Each piece is tried along the walls of its room, in steps, until it stands clear of what stands
there, of doors and of stairs; where it finds no place it is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from reviews.demo.arranging import Lying
from reviews.demo.tables import Rows

Box = tuple[float, float, float, float]
FURNISHED = ("H06", "H08", "H12", "H13", "E07", "E10")
STEP_M, LEAF_M = 0.05, 0.9
"""Steps along a wall; floor kept before a door [m]."""


def furnish(number: str, rooms: Rows, lying: dict[str, Lying], doors: Rows, climbs: Rows) -> Rows:
    """Return the furniture of a scheme; none of those that say nothing of it."""
    if number not in FURNISHED:
        return []
    found: Rows = []
    for room in rooms:
        floor = _Floor(lying[room["mark"]], lying, doors, climbs)
        found += [{"room": room["mark"], **each} for each in floor.furnished(number, room)]
    return [{"mark": f"U{n}", **piece} for n, piece in enumerate(found, start=1)]


class _Floor:
    """The floor of a room while it is furnished; lengths from its west and south walls [m]."""

    def __init__(self, room: Lying, lying: dict[str, Lying], doors: Rows, climbs: Rows) -> None:
        self.room = room
        self.taken = [box for door in doors for box in _before(door, lying[door["room"]], room)] + [
            box for climb in climbs for box in _stair(climb, lying, room)
        ]

    def furnished(self, number: str, room: dict[str, Any]) -> Iterator[dict[str, Any]]:
        """Yield what stands in a room of some use."""
        use, sleepers = room["use"], room["sleepers"]
        if use == "sleep" and sleepers > 2:
            yield from self.bunks(sleepers, 3 if room["clear_height_m"] > 2.9 else 2)
        elif use == "sleep":
            for _ in range(sleepers):
                yield from self.piece("Bed", "bed", (2.0, 0.8), height_mm=450, **_SLEEPS)
        elif use == "day":
            yield from self.day(number)
        elif use == "kitchen":
            long = round(min(2.4, self.room.up), 2)
            yield from self.piece("Kitchen counter", "worktop", (long, 0.6), height_mm=900)
        elif use == "lab":
            for _ in range(2):
                yield from self.piece("Lab bench", "worktop", (2.2, 0.7), height_mm=900)
        elif use == "wc" and "toilet" in room["room"].lower():
            yield from self.piece("Toilet", "other", (0.42, 0.62), height_mm=450)
            yield from self.piece("Basin", "other", (0.42, 0.32), height_mm=850)
        elif use == "wc":
            yield from self.piece("Shower tray", "other", (0.85, 0.85), height_mm=2000)
        elif use == "plant":
            yield from self.piece("Water tank", "other", (1.0, 0.6), height_mm=1150)
        else:
            yield from self.piece("Boot bench", "other", (1.2, 0.35), height_mm=450)

    def bunks(self, sleepers: int, tiers: int) -> Iterator[dict[str, Any]]:
        """Yield beds over each other, as many as sleep there."""
        for first in range(0, sleepers, tiers):
            for lower in self.piece("Lower bunk", "bed", (2.0, 0.75), height_mm=450, **_SLEEPS):
                yield lower
                for n in range(1, min(tiers, sleepers - first)):
                    high = {"height_mm": 450 + 950 * n, "under_mm": 350 + 950 * n}
                    yield {**lower, "item": "Upper bunk", "reached_by": "ladder", **high}

    def day(self, number: str) -> Iterator[dict[str, Any]]:
        """Yield what people gather at."""
        if number == "H08":
            yield from self.tables("Half of the long table", 4.5, 2)
            return
        if number == "H12":
            for n in (1, 2):
                yield from self.piece(
                    f"Warm bench, water tank T{n}", "seat", (2.4, 0.6), "S", **_sits(5)
                )
        if number == "E10":
            yield from self.piece("Counting bench at the slot", "seat", (4.0, 0.4), "S", **_sits(6))
        if number == "H13":
            yield from self.piece(
                "Fog bell, hung", "other", (0.5, 0.5), height_mm=2400, under_mm=1950
            )
        yield from self.piece("Stove", "stove", (0.6, 0.5), "EW", height_mm=900)
        yield from self.tables("Table", 1.7, 1 if number in ("H13", "E10", "E07") else 2)

    def tables(self, item: str, long: float, count: int) -> Iterator[dict[str, Any]]:
        """Yield tables with a bench at each side, end to end in the middle of the room."""
        deep, bench, apart = 0.66, 0.26, 0.01
        tall = deep + 2 * (bench + apart)
        gap = 0.02 if long > 3 else 0.5
        size = (count * long + (count - 1) * gap, tall)
        box = next(self.free(size), None)
        if box is None:
            return
        self.taken.append(box)
        middle = (box[1] + box[3]) / 2
        for n in range(count):
            x = box[0] + n * (long + gap) + long / 2
            yield _row(item, "table", (long, deep), (x, middle), 0, height_mm=740)
            for side in (-1, 1):
                at = (x, middle + side * (deep / 2 + apart + bench / 2))
                yield _row("Bench", "seat", (long, bench), at, 0, **_sits(int(long / 0.6)))

    def free(self, size: tuple[float, float]) -> Iterator[Box]:
        """Yield places in the open floor, nearest to the middle first."""
        (across, up), (long, deep) = (self.room.across, self.room.up), size
        spots = [
            (x * STEP_M, y * STEP_M)
            for x in range(int((across - long) / STEP_M) + 1)
            for y in range(int((up - deep) / STEP_M) + 1)
        ]
        off = (across - long) / 2, (up - deep) / 2
        for x, y in sorted(spots, key=lambda at: abs(at[0] - off[0]) + abs(at[1] - off[1])):
            box = (x, y, x + long, y + deep)
            if self._is_free(box):
                yield box

    def piece(
        self,
        item: str,
        kind: str,
        size: tuple[float, float],
        walls: str = "NWES",
        **more: Any,
    ) -> Iterator[dict[str, Any]]:
        """Yield a piece along the first wall with room for it; nothing where there is none."""
        for wall in walls:
            for box in self._along(wall, size):
                if self._is_free(box):
                    self.taken.append(box)
                    middle = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
                    turn = 0 if wall in "NS" else 90
                    yield _row(item, kind, size, middle, turn, **more)
                    return

    def _along(self, wall: str, size: tuple[float, float]) -> Iterator[Box]:
        """Yield places along a wall: from both ends to its middle."""
        long, deep = size
        total = self.room.wall_m(wall)
        if total < long:
            return
        steps = [n * STEP_M for n in range(int((total - long) / STEP_M) + 1)]
        for at in sorted([*steps, total - long], key=lambda at: -abs(at - (total - long) / 2)):
            yield {
                "N": (at, self.room.up - deep, at + long, self.room.up),
                "S": (at, 0.0, at + long, deep),
                "W": (0.0, at, deep, at + long),
                "E": (self.room.across - deep, at, self.room.across, at + long),
            }[wall]

    def _is_free(self, box: Box) -> bool:
        within = box[2] <= self.room.across + 1e-9 and box[3] <= self.room.up + 1e-9
        return within and not any(
            box[0] < other[2] - 1e-9
            and other[0] < box[2] - 1e-9
            and box[1] < other[3] - 1e-9
            and other[1] < box[3] - 1e-9
            for other in self.taken
        )


_SLEEPS: dict[str, Any] = {"day": 0, "night": 1, "reached_by": "floor", "above_mm": 900}


def _sits(count: int) -> dict[str, Any]:
    return {"height_mm": 450, "day": count, "seats_at_night": count}


def _row(
    item: str,
    kind: str,
    size: tuple[float, float],
    middle: tuple[float, float],
    turn: int,
    **more: Any,
) -> dict[str, Any]:
    sizes = {"l": round(1000 * size[0]), "w": round(1000 * size[1])}
    place = {"turn": turn or "", "plan_x": int(1000 * middle[0]), "plan_y": int(1000 * middle[1])}
    front = "none" if kind in ("other", "stove") else "one long side"
    heads = ("day", "night", "reached_by", "seats_at_night", "height_mm", "above_mm")
    told = {head: more.get(head, 0 if head in ("day", "night") else "") for head in heads}
    under = {"under_mm": more.get("under_mm", "")}
    return {"item": item, "kind": kind, "n": 1, **told, **sizes, "front": front, **place, **under}


def _before(door: dict[str, Any], own: Lying, room: Lying) -> Iterator[Box]:
    """Yield the floor of a room that is kept before a door of its own or of a room beside it."""
    leaf, left = door["leaf_w"] / 1000, door["left"] / 1000
    if door["faces"] in "NS":
        x = own.x + (left if door["faces"] == "N" else own.across - left - leaf)
        y = own.y + (own.up if door["faces"] == "N" else 0.0)
        box = (x, y - LEAF_M, x + leaf, y + LEAF_M)
    else:
        y = own.y + (left if door["faces"] == "W" else own.up - left - leaf)
        x = own.x + (own.across if door["faces"] == "E" else 0.0)
        box = (x - LEAF_M, y, x + LEAF_M, y + leaf)
    if own.level == room.level:
        yield box[0] - room.x, box[1] - room.y, box[2] - room.x, box[3] - room.y


def _stair(climb: dict[str, Any], lying: dict[str, Lying], room: Lying) -> Iterator[Box]:
    """Yield the floor that a stair takes of the rooms at its foot and head, and of none else."""
    if room.mark not in (climb["from_room"], climb["room"]):
        return
    half, stand = climb["width"] / 2000 + 0.05, 0.3
    ends = [
        (
            lying[climb[at]].x + climb[f"{end}_x"] / 1000,
            lying[climb[at]].y + climb[f"{end}_y"] / 1000,
        )
        for end, at in (("foot", "from_room"), ("head", "room"))
    ]
    xs, ys = zip(*ends, strict=True)
    grown = (stand, half) if xs[1] - xs[0] > ys[1] - ys[0] else (half, stand)
    yield (
        min(xs) - grown[0] - room.x,
        min(ys) - grown[1] - room.y,
        max(xs) + grown[0] - room.x,
        max(ys) + grown[1] - room.y,
    )

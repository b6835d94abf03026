"""A cabin that changes between day and night, typed as rows: what its plan shows is known by hand.

A day room of 4.8 × 3.0 m with a bunk room behind it and a wash room beside it. At night the bench
is a made bed and the table stands under the window, 533 mm from a stool: √(525² + 475²) − 175.
"""

from typing import Any

Rows = list[dict[str, str]]


def piece(
    mark: str,
    item: str,
    kind: str,
    room: str,
    across: tuple[float, float],
    up: tuple[float, float],
    **cells: str,
) -> dict[str, str]:
    """A piece between two x and two y of its room in metres, as it is typed."""
    return {
        "mark": mark,
        "item": item,
        "kind": kind,
        "n": "1",
        "room": room,
        "l": f"{1000 * (across[1] - across[0]):g}",
        "w": f"{1000 * (up[1] - up[0]):g}",
        "plan_x": f"{500 * sum(across):g}",
        "plan_y": f"{500 * sum(up):g}",
        **cells,
    }


def _room(mark: str, name: str, use: str, size: tuple[str, str], at: tuple[str, str], **cells: str):
    across, up = size
    floor = f"{float(across) * float(up):.2f}"
    return {
        "mark": mark,
        "room": name,
        "use": use,
        "width_m": across,
        "depth_m": up,
        "floor_m2": floor,
        "clear_height_m": "2.3",
        "at_x": at[0],
        "at_y": at[1],
        "sleepers": "0",
        **cells,
    }


ROOMS: Rows = [
    _room("R1", "Day room", "day", ("4.8", "3.0"), ("0", "0"), wall_mm="180"),
    # its window looks east: width along that wall
    _room("R2", "Wash room", "wc", ("1.75", "1.6"), ("4.9", "0")),
    _room("R3", "Bunk room", "sleep", ("3.2", "1.9"), ("0", "3.1"), sleepers="2"),
]


def _door(mark: str, place: str, wide: str, room: str, faces: str, left: str, **cells: str):
    clear = f"{int(wide) - 50}"
    where = {"room": room, "faces": faces, "left": left, "height": "2050", "outside": "no"}
    return {"mark": mark, "place": place, "leaf_w": wide, "clear_w": clear, **where, **cells}


DOORS: Rows = [
    _door(
        *("D1", "Front", "950", "R1", "S", "3400"),
        **{"outside": "yes", "role": "main exit", "swing": "in", "hinge": "right"},
    ),
    _door("D2", "Wash", "750", "R1", "E", "1700", swing="out", hinge="left"),
    _door("D3", "Bunks", "800", "R1", "N", "1900", swing="slides"),
    _door(
        *("D4", "Hatch", "700", "R3", "W", "600"),
        **{"outside": "yes", "role": "second exit", "swing": "out", "hinge": "left"},
    ),
]


def _window(mark: str, room: str, size: tuple[str, str], faces: str, **cells: str):
    wide, high = size
    glass = {"glass_w": wide, "glass_h": high, "sill": "900", "opens": "side-hung"}
    return {"mark": mark, "room": room, "n": "1", "faces": faces, **glass, **cells}


WINDOWS: Rows = [
    _window("W1", "R1", ("1600", "1100"), "S", left="300"),
    _window("W2", "R3", ("900", "700"), "N", escape_w="700", escape_h="600"),
    _window("W3", "R2", ("400", "400"), "E", left="600"),
]

FURNITURE: Rows = [
    piece("U1", "Bench", "seat", "R1", (2.9, 4.75), (2.15, 2.95), height_mm="450", night="0"),
    piece("U2", "Table", "table", "R1", (3.0, 4.4), (0.9, 1.6), height_mm="740"),
    piece("U3", "Kitchen", "worktop", "R1", (0, 0.6), (0.9, 3.0), height_mm="900"),
    piece("U4", "Bunk", "bed", "R3", (0, 2.0), (1.2, 1.9), height_mm="450", night="2"),
    piece("U5", "Locker", "other", "R3", (2.7, 3.2), (0, 0.5), height_mm="1800"),
    piece("U6", "Stool", "seat", "R1", (2.2, 2.55), (1.1, 1.45), height_mm="450", round="yes"),
    piece("U7", "Basin", "other", "R2", (0.9, 1.5), (1.3, 1.75), height_mm="850"),
    {"mark": "U8", "item": "Trunk", "kind": "other", "n": "1", "room": "R1", "height_mm": "400"},
]

STATES: Rows = [
    {"state": "packed", "kind": "road"},
    {"state": "day", "kind": "day"},
    {"state": "night", "kind": "night"},
]

BY_STATE: Rows = [
    {"mark": "U1", "state": "night", "w": "1400", "y": "2250", "made": "yes", "sleeps": "2"},
    {"mark": "U2", "state": "night", "x": "3600", "y": "450"},
]

SCHEDULES: dict[str, Rows] = {
    "rooms": ROOMS,
    "doors": DOORS,
    "windows": WINDOWS,
    "furniture": FURNITURE,
    "furniture_by_state": BY_STATE,
}
"""What a student types; states are the brief's."""

TABLES: dict[str, Any] = {**SCHEDULES, "states": STATES}

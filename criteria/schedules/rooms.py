"""Rooms: what each is for, how large and how high."""

from __future__ import annotations

from criteria.typed.columns import ASKED, Blank, count, mark, quantity, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import FLOOR, LENGTH, ROOM_LENGTH, SHARE

USES = (
    "day", "kitchen", "sleep", "lab", "wc", "circulation", "plant", "store", "work", "other"
)  # fmt: skip
"""What a room is mainly for."""

LIVED_IN = ("day", "kitchen", "sleep", "lab", "work")
"""Uses that people spend time in: what codes call habitable rooms."""

HEADROOM_COUNTED_M = 1.5
"""Floor under less headroom than this isn't counted as floor for sleepers.

Technical housing standards, nationally described space standard (England, March 2015), 10(f).
"""


REACHED_BY = ("floor", "stair", "steep stair", "ladder")
"""How a room or a bed is got to from the floor by the door; all but the first are a climb."""


def _sleepers_unsaid(room: Row) -> int | Blank:
    """Nobody sleeps where nobody is said to, but in a room that is for sleeping it is a gap."""
    return ASKED if room.use == "sleep" else 0


@schedule(
    "rooms",
    "Room schedule",
    mark_prefix="R",
    purpose="Every room with its use, floor and height. Light, air and space are counted from it.",
)
class Room(Row):
    """One room.

    floor_m2          whole floor, low parts included [m²]
    low_headroom_m2   part of it with less than 1.5 m headroom; blank is none [m²]
    clear_height_m    floor to ceiling, or the mean under a slope [m]
    sleepers          people who sleep here [no.]
    depth_m, width_m  from the window wall, and along it [m]
    passage_m         narrowest place of the main way through [m]
    turning_m         largest circle that is clear [m]
    wall_m            thickness of the outside walls: the depth of the windows' reveals [m]
    floor_light …     part of the light that floor, walls and ceiling give back [1]
    """

    mark: str = mark()
    name: str = text("room", "Room", "Its name, as on the plan.", required=True, example="Day room")
    floor_m2: float = quantity(
        "floor_m2", "Floor", FLOOR, "Inside the walls, low parts included.",
        least=0.1, most=900, example="22.4",
    )  # fmt: skip
    clear_height_m: float = quantity(
        "clear_height_m", "Clear height", ROOM_LENGTH,
        "Finished floor to ceiling; under a slope, the mean.", least=0.5, most=12, example="2.5",
    )  # fmt: skip
    use: str = word(
        "use", "Use", USES, "What it is mainly for; decides which targets it is held to.",
        required=True, example="day",
    )  # fmt: skip
    sleepers: int = count(
        "sleepers",
        "Sleepers",
        "People who sleep here; blank where nobody does.",
        most=200,
        blank=_sleepers_unsaid,
    )
    reached_by: str = word(
        "reached_by",
        "Reached by",
        REACHED_BY,
        "How it is got to from the door: a loft by its stair or ladder. Asked where people sleep.",
        example="floor",
    )
    low_headroom_m2: float = quantity(
        "low_headroom_m2", "of which under 1.5 m", FLOOR,
        "Part of the floor with less than 1.5 m headroom; blank is none.", least=0, most=900,
        blank=0.0,
    )  # fmt: skip
    depth_m: float = quantity(
        "depth_m", "Depth", ROOM_LENGTH, "From the window wall to the back.", least=0.3, most=30
    )
    width_m: float = quantity(
        "width_m", "Width", ROOM_LENGTH, "Along the window wall.", least=0.3, most=30
    )
    passage_m: float = quantity(
        "passage_mm", "Narrowest passage", LENGTH, "On the main way through the room.",
        least=0.1, most=6,
    )  # fmt: skip
    turning_m: float = quantity(
        "turning_mm", "Turning circle", LENGTH, "Largest circle clear of everything.", least=0.1,
        most=10,
    )  # fmt: skip
    is_private: bool = yes_no(
        "private", "Can be closed", "Whether one person can close it: to be alone, to change."
    )
    wall_m: float | None = quantity(
        "wall_mm", "Wall thickness", LENGTH,
        "Of the outside walls; blank is that of the envelope's wall layers.", least=0, most=3,
        blank=None, example="320",
    )  # fmt: skip
    floor_light: float | None = quantity(
        "floor_light", "Floor gives back", SHARE,
        "Part of the light that falls on it: 0.2 dark boards, 0.4 pale ones.",
        least=0.01, most=0.95, blank=None, example="0.2",
    )  # fmt: skip
    wall_light: float | None = quantity(
        "wall_light", "Walls give back", SHARE, "The same: 0.5 bare timber, 0.8 white.",
        least=0.01, most=0.95, blank=None, example="0.5",
    )  # fmt: skip
    ceiling_light: float | None = quantity(
        "ceiling_light", "Ceiling gives back", SHARE, "The same: 0.7 pale, 0.85 white.",
        least=0.01, most=0.95, blank=None, example="0.7",
    )  # fmt: skip

"""Rooms: what each is for, how large and how high."""

from __future__ import annotations

from criteria.typed.columns import (
    ASKED,
    Blank,
    count,
    mark,
    quantity,
    reference,
    text,
    word,
    yes_no,
)
from criteria.typed.rows import Row, schedule
from criteria.units import FLOOR, LENGTH, ROOM_LENGTH, SHARE

USES = ("day", "kitchen", "sleep", "lab", "wc", "circulation", "plant", "store", "work", "other")
"""What a room is mainly for."""

LIVED_IN = ("day", "kitchen", "sleep", "lab", "work")
"""Uses that people spend time in: what codes call habitable rooms."""
HABITABLE = tuple(use for use in LIVED_IN if use != "kitchen")
"""The same, kitchens excepted."""
SAT_IN = ("day", "kitchen", "lab", "work")
"""Uses that people sit in, and look out of."""

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
    """One room."""

    mark: str = mark()
    name: str = text("room", required=True, eg="Day room").says("Its name, as on the plan.")
    floor_m2: float = quantity("floor_m2", FLOOR, "Floor", within=(0.1, 900), eg="22.4").says(
        "Inside the walls, low parts included."
    )
    clear_height_m: float = quantity(
        "clear_height_m", ROOM_LENGTH, "Clear height", within=(0.5, 12), eg="2.5"
    ).says("Finished floor to ceiling; under a slope, the mean.")
    use: str = word("use", USES, required=True, eg="day").says(
        "What it is mainly for; decides which targets it is held to."
    )
    sleepers: int = count("sleepers", within=(0, 200)).says(
        "People who sleep here; blank where nobody does.", blank=_sleepers_unsaid
    )
    reached_by: str = word("reached_by", REACHED_BY, eg="floor").says(
        "How it is got to from the door: a loft by its stair or ladder. Asked where people sleep."
    )
    low_headroom_m2: float = quantity(
        "low_headroom_m2", FLOOR, "of which low", within=(0, 900)
    ).says("Part of the floor with less than 1.5 m headroom; blank is none.", blank=0.0)
    depth_m: float = quantity("depth_m", ROOM_LENGTH, "Depth", within=(0.3, 30)).says(
        "From the window wall to the back."
    )
    width_m: float = quantity("width_m", ROOM_LENGTH, "Width", within=(0.3, 30)).says(
        "Along the window wall."
    )
    passage_m: float = quantity("passage_mm", LENGTH, "Narrowest passage", within=(0.1, 6)).says(
        "On the main way through the room."
    )
    turning_m: float = quantity("turning_mm", LENGTH, "Turning circle", within=(0.1, 10)).says(
        "Largest circle clear of everything."
    )
    is_private: bool = yes_no("private", "Can be closed").says(
        "Whether one person can close it: to be alone, to change."
    )
    wall_m: float | None = quantity(
        "wall_mm", LENGTH, "Wall thickness", within=(0, 3), eg="320"
    ).says("Of the outside walls; blank is that of the envelope's wall layers.", blank=None)
    floor_light: float | None = quantity(
        "floor_light", SHARE, "Floor gives back", within=(0.01, 0.95), eg="0.2"
    ).says("Part of the light that falls on it: 0.2 dark boards, 0.4 pale ones.", blank=None)
    wall_light: float | None = quantity(
        "wall_light", SHARE, "Walls give back", within=(0.01, 0.95), eg="0.5"
    ).says("The same: 0.5 bare timber, 0.8 white.", blank=None)
    ceiling_light: float | None = quantity(
        "ceiling_light", SHARE, "Ceiling gives back", within=(0.01, 0.95), eg="0.7"
    ).says("The same: 0.7 pale, 0.85 white.", blank=None)
    at_x_m: float = quantity("at_x", ROOM_LENGTH, "On the plan, across", within=(-90, 90)).says(
        "From the plan's own corner to the room's lower left inner corner; rooms with a place lie "
        "on one plan, and ways lead from one to the other."
    )
    at_y_m: float = quantity("at_y", ROOM_LENGTH, "On the plan, up", within=(-90, 90)).says(
        "The same, up the plan."
    )
    level: int = count("level", within=(0, 3), eg="1").says(
        "0 the floor by the door, 1 a loft; blank is 0.", blank=0
    )
    part_of: str | None = reference("part_of", "rooms", "Part of").says(
        "Mark of the room that this rectangle is the other leg of; blank is a room of its own.",
        blank=None,
    )

"""Doors, the ramp and the ways out."""

from criteria.schedules.openings import BEARINGS_DEG
from criteria.typed.columns import count, mark, quantity, reference, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import DISTANCE, LENGTH, RATIO, ROOM_LENGTH, U_VALUE

ROLES = ("main exit", "second exit", "other exit", "internal")

SWINGS = ("in", "out", "slides", "hatch")

HINGES = ("left", "right")


@schedule(
    "doors",
    "Door schedule",
    mark_prefix="D",
    purpose="Every door and hatch, leaf and clear width apart. Step-free ways, ways out and heat "
    "loss are counted from it.",
)
class Door(Row):
    """A door or hatch."""

    mark: str = mark()
    place: str | None = text("place", required=True, eg="Porch, main").says(
        "Where it is, and what it leads to."
    )
    leaf_w_m: float = quantity("leaf_w", LENGTH, within=(0.3, 6), eg="1000").says(
        "Width of the leaf."
    )
    clear_w_m: float = quantity("clear_w", LENGTH, within=(0.1, 6), eg="905").says(
        "What is left between the stop and the leaf open at 90°."
    )
    height_m: float = quantity("height", LENGTH, within=(0.3, 6), eg="2100").says(
        "Height of the leaf."
    )
    u_w_m2k: float = quantity("u", U_VALUE, within=(0.2, 7), eg="1.2").says(
        "Of outside doors only."
    )
    is_outside: bool = yes_no("outside", "Outside door", eg="yes").says(
        "Whether it leads out of doors."
    )
    threshold_m: float = quantity(
        "threshold_mm", LENGTH, "Threshold", within=(-5, 20), eg="20"
    ).says("Above the level outside.")
    role: str | None = word("role", ROLES, eg="main exit").says(
        "What it is for if there's a fire; blank is for nothing.", blank=None
    )
    step_free: bool | None = yes_no("step_free", "On the step-free way").says(
        "Whether someone who can't climb goes through it; blank lets the check choose.", blank=None
    )
    swing: str = word("swing", SWINGS, eg="in").says("The way it opens.")
    hinge: str = word("hinge", HINGES, "Hinged at", eg="left").says(
        "At which end the leaf hangs, seen from inside."
    )
    room: str | None = reference("room", "rooms", "Drawn in").says(
        "Mark of the room that it leads out of, in whose plan it is drawn; blank is none.",
        blank=None,
    )
    faces: str = word("faces", BEARINGS_DEG, "Wall").says("The way its wall looks out.")
    left_m: float = quantity("left", LENGTH, "From the left", within=(0, 30)).says(
        "Left end of the wall, seen from inside, to the leaf."
    )


@schedule(
    "ramp",
    "Ramp",
    purpose="One row: the rise to the door and the ramp as it is drawn. Its length with landings "
    "is counted from it.",
    is_single=True,
)
class Ramp(Row):
    """The way up to the door."""

    rise_m: float = quantity("rise_mm", LENGTH, "Rise", within=(0, 10), eg="480").says(
        "From the ground where you arrive to the finished floor."
    )
    floor_m: float = quantity(
        "floor_m", ROOM_LENGTH, "Finished floor above datum", within=(-450, 9000)
    ).says("As the section says, if it does.")
    slope_run: float = quantity(
        "slope_drawn", RATIO, "Slope drawn, 1 in", within=(1, 100), eg="12"
    ).says("Run for one of rise: 12 for 1:12.")
    drawn_m: float = quantity(
        "ramp_drawn_mm", LENGTH, "Length drawn", within=(0, 200), eg="8900"
    ).says("On plan, with every landing drawn.")
    landings: int = count("landings_drawn", within=(0, 50), eg="2").says(
        "Level places at foot, head and between."
    )
    clear_w_m: float = quantity(
        "ramp_clear_w", LENGTH, "Clear width", within=(0.3, 6), eg="915"
    ).says("Between handrails.")
    handrails: int = count("handrails", within=(0, 2), eg="2").says("On how many sides.")


@schedule(
    "ways_out",
    "Ways out",
    purpose="One row: the ways out of the sleeping area and how far the furthest bunk is. Read by "
    "the checks on ways out.",
    is_single=True,
)
class WaysOut(Row):
    """Ways out of the sleeping area."""

    furthest_m: float = quantity(
        "furthest_m", DISTANCE, "Furthest bunk to outside", within=(0, 200), eg="12.1"
    ).says("As a person walks it.")
    ways: int = count("ways_out", within=(0, 20), eg="2").says(
        "Independent: one fire can't close both."
    )
    second_threshold_m: float = quantity(
        "second_exit_threshold_mm", LENGTH, "Second exit threshold", within=(-5, 20), eg="2300"
    ).says("Above the level outside.")
    smoke_alarms: int = count("smoke_alarms", within=(0, 50)).says(
        "One in each sleeping room and outside each."
    )
    co_alarms: int = count("co_alarms", "Carbon monoxide alarms", within=(0, 50)).says(
        "Where anything burns."
    )
    drop_m: float = quantity(
        "drop_mm", LENGTH, "Largest drop at an edge", within=(0, 50), eg="600"
    ).says("Terrace, stair or loft.")
    guard_m: float = quantity(
        "guard_mm", LENGTH, "Guard at that drop", within=(0, 3), eg="1100"
    ).says("Height of the guard; 0 where there is none.")

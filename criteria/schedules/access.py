"""Doors, the ramp and the ways out."""

from criteria.schedules.openings import BEARINGS_DEG
from criteria.typed.columns import count, mark, quantity, reference, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import DISTANCE, LENGTH, RATIO, ROOM_LENGTH, U_VALUE

ROLES = ("main exit", "second exit", "other exit", "internal")

SWINGS = ("in", "out", "slides", "hatch")


@schedule(
    "doors",
    "Door schedule",
    mark_prefix="D",
    purpose="Every door and hatch, leaf and clear width apart. Step-free ways, ways out and heat "
    "loss are counted from it.",
)
class Door(Row):
    """A door or hatch.

    leaf_w_m        width of the leaf [m]
    clear_w_m       clear width between stop and open leaf [m]
    height_m        height of the leaf [m]
    u_w_m2k         U-value; outside doors only [W/m²K]
    threshold_m     threshold above the level outside [m]
    left_m          from the left end of its wall, seen from inside, to the leaf [m]
    """

    mark: str = mark()
    place: str | None = text("place", "Place", "Where it is, and what it leads to.", required=True,
                             example="Porch, main")  # fmt: skip
    leaf_w_m: float = quantity(
        "leaf_w", "Leaf w", LENGTH, "Width of the leaf.", least=0.3, most=6, example="1000"
    )
    clear_w_m: float = quantity(
        "clear_w", "Clear w", LENGTH, "What is left between the stop and the leaf open at 90°.",
        least=0.1, most=6, example="905",
    )  # fmt: skip
    height_m: float = quantity(
        "height", "Height", LENGTH, "Height of the leaf.", least=0.3, most=6, example="2100"
    )
    u_w_m2k: float = quantity(
        "u", "U", U_VALUE, "Of outside doors only.", least=0.2, most=7, example="1.2"
    )
    is_outside: bool = yes_no(
        "outside", "Outside door", "Whether it leads out of doors.", example="yes"
    )
    threshold_m: float = quantity(
        "threshold_mm", "Threshold", LENGTH, "Above the level outside.", least=-5, most=20,
        example="20",
    )  # fmt: skip
    role: str | None = word(
        "role", "Role", ROLES, "What it is for if there's a fire; blank is for nothing.",
        blank=None, example="main exit",
    )  # fmt: skip
    step_free: bool | None = yes_no(
        "step_free", "On the step-free way",
        "Whether someone who can't climb goes through it; blank lets the check choose.",
        blank=None,
    )  # fmt: skip
    swing: str = word("swing", "Swing", SWINGS, "The way it opens.", example="in")
    room: str | None = reference(
        "room", "Drawn in", "rooms", "Mark of the room that it leads out of, in whose plan it is "
        "drawn; blank is none.", blank=None,
    )  # fmt: skip
    faces: str = word("faces", "Wall", tuple(BEARINGS_DEG), "The way its wall looks out.")
    left_m: float = quantity(
        "left", "From the left", LENGTH, "Left end of the wall, seen from inside, to the leaf.",
        least=0, most=30,
    )  # fmt: skip


@schedule(
    "ramp",
    "Ramp",
    purpose="One row: the rise to the door and the ramp as it is drawn. Its length with landings "
    "is counted from it.",
    is_single=True,
)
class Ramp(Row):
    """The way up to the door.

    rise_m          ground to finished floor [m]
    floor_m         finished floor above datum, as the section says [m]
    slope_run       run for one of rise: 12 is 1:12 [1]
    drawn_m         length on plan as drawn, landings and all [m]
    landings        landings drawn [no.]
    clear_w_m       clear width between handrails [m]
    """

    rise_m: float = quantity(
        "rise_mm", "Rise", LENGTH, "From the ground where you arrive to the finished floor.",
        least=0, most=10, example="480",
    )  # fmt: skip
    floor_m: float = quantity(
        "floor_m", "Finished floor above datum", ROOM_LENGTH, "As the section says, if it does.",
        least=-450, most=9000,
    )  # fmt: skip
    slope_run: float = quantity(
        "slope_drawn", "Slope drawn, 1 in", RATIO, "Run for one of rise: 12 for 1:12.",
        least=1, most=100, example="12",
    )  # fmt: skip
    drawn_m: float = quantity(
        "ramp_drawn_mm", "Length drawn", LENGTH, "On plan, with every landing drawn.",
        least=0, most=200, example="8900",
    )  # fmt: skip
    landings: int = count(
        "landings_drawn", "Landings drawn", "Level places at foot, head and between.", most=50,
        example="2",
    )  # fmt: skip
    clear_w_m: float = quantity(
        "ramp_clear_w", "Clear width", LENGTH, "Between handrails.", least=0.3, most=6,
        example="915",
    )  # fmt: skip
    handrails: int = count("handrails", "Handrails", "On how many sides.", most=2, example="2")


@schedule(
    "ways_out",
    "Ways out",
    purpose="One row: the ways out of the sleeping area and how far the furthest bunk is. Read by "
    "the checks on ways out.",
    is_single=True,
)
class WaysOut(Row):
    """Ways out of the sleeping area.

    furthest_m          furthest bunk to outside, walked [m]
    ways                independent ways out [no.]
    second_threshold_m  threshold of the second exit above the level outside [m]
    """

    furthest_m: float = quantity(
        "furthest_m", "Furthest bunk to outside", DISTANCE, "As a person walks it.",
        least=0, most=200, example="12.1",
    )  # fmt: skip
    ways: int = count(
        "ways_out", "Ways out", "Independent: one fire can't close both.", most=20, example="2"
    )
    second_threshold_m: float = quantity(
        "second_exit_threshold_mm", "Second exit threshold", LENGTH, "Above the level outside.",
        least=-5, most=20, example="2300",
    )  # fmt: skip
    smoke_alarms: int = count(
        "smoke_alarms", "Smoke alarms", "One in each sleeping room and outside each.", most=50
    )
    co_alarms: int = count("co_alarms", "Carbon monoxide alarms", "Where anything burns.", most=50)
    drop_m: float = quantity(
        "drop_mm", "Largest drop at an edge", LENGTH, "Terrace, stair or loft.", least=0, most=50,
        example="600",
    )  # fmt: skip
    guard_m: float = quantity(
        "guard_mm", "Guard at that drop", LENGTH, "Height of the guard; 0 where there is none.",
        least=0, most=3, example="1100",
    )  # fmt: skip

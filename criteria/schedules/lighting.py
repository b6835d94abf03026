"""Lamps: what light each room has after dark."""

from criteria.typed.columns import count, mark, quantity, reference, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import AREA, ILLUMINANCE, LUMENS, SHARE

TASKS = ("passage", "living", "kitchen worktop", "washing", "reading", "lab bench")


@schedule(
    "lights",
    "Lighting schedule",
    mark_prefix="E",
    purpose="Lamps by room. The light on the task is counted from it by the lumen method.",
)
class Lamp(Row):
    """A lamp, or several alike.

    n               how many alike [no.]
    lumens          light of each [lm]
    used_share      part of the light that reaches the working plane [1]
    kept_share      part that dirt and age leave [1]
    wanted_lx       level that the task needs [lx]
    lit_m2          what a reading lamp lights, such as a page or a pillow [m²]
    """

    mark: str = mark()
    room: str = reference(
        "room", "Room", "rooms", "Mark of the room it lights.", required=True, example="R2"
    )
    task: str | None = word(
        "task", "Task", TASKS, "What it is for; blank is the whole room.", blank=None,
        example="living",
    )  # fmt: skip
    n: int = count("n", "No.", "How many alike.", least=1, most=200, example="4")
    lumens: float = quantity(
        "lumens", "Light each", LUMENS, "From the maker's sheet.", least=1, most=100_000,
        example="800",
    )  # fmt: skip
    used_share: float = quantity(
        "used_share", "Utilisation", SHARE, "Part that reaches the working plane: 0.4 to 0.7.",
        least=0.05, most=1, example="0.5",
    )  # fmt: skip
    kept_share: float = quantity(
        "kept_share", "Maintenance", SHARE, "Part that dirt and age leave: 0.8 is usual.",
        least=0.1, most=1, example="0.8",
    )  # fmt: skip
    lit_m2: float = quantity(
        "lit_m2", "Lights", AREA, "Of a reading lamp: the area about the page that it lights.",
        least=0.01, most=50, example="0.5",
    )  # fmt: skip
    note: str | None = text("note", "Note", "Switching, colour, who reaches it.")
    wanted_lx: float = quantity(
        "wanted_lx", "Level wanted", ILLUMINANCE, "On the task.", least=1, most=5000, example="200"
    )

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
    """A lamp, or several alike."""

    mark: str = mark()
    room: str = reference("room", "rooms", required=True, eg="R2").says(
        "Mark of the room it lights."
    )
    task: str | None = word("task", TASKS, eg="living").says(
        "What it is for; blank is the whole room.", blank=None
    )
    n: int = count("n", "No.", within=(1, 200), eg="4").says("How many alike.")
    lumens: float = quantity("lumens", LUMENS, "Light each", within=(1, 100_000), eg="800").says(
        "From the maker's sheet."
    )
    used_share: float = quantity(
        "used_share", SHARE, "Utilisation", within=(0.05, 1), eg="0.5"
    ).says("Part that reaches the working plane: 0.4 to 0.7.")
    kept_share: float = quantity(
        "kept_share", SHARE, "Maintenance", within=(0.1, 1), eg="0.8"
    ).says("Part that dirt and age leave: 0.8 is usual.")
    lit_m2: float = quantity("lit_m2", AREA, "Lights", within=(0.01, 50), eg="0.5").says(
        "Of a reading lamp: the area about the page that it lights."
    )
    note: str | None = text("note").says("Switching, colour, who reaches it.")
    wanted_lx: float = quantity(
        "wanted_lx", ILLUMINANCE, "Level wanted", within=(1, 5000), eg="200"
    ).says("On the task.")

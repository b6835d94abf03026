"""Stowage, and furniture that changes use."""

from criteria.typed.columns import count, mark, quantity, text
from criteria.typed.rows import Row, schedule
from criteria.units import LENGTH, LITRES, MASS, SECONDS


@schedule(
    "stowage",
    "Stowage schedule",
    mark_prefix="S",
    purpose="Every place where things are put away, and for whom. Stowage per guest is counted "
    "from it.",
)
class Stowage(Row):
    """A place to stow, or several alike."""

    mark: str = mark()
    what: str | None = text("what", required=True, eg="Drawers under sleeping shelf").says(
        "Drawer, locker, shelf, hook."
    )
    n: int = count("n", "No.", within=(1, 500), eg="8").says("How many alike.")
    volume_m3: float = quantity("l_each", LITRES, "Volume each", within=(0, 50), eg="80").says(
        "What one holds; 0 for hooks."
    )
    used_by: str | None = text("for", longest=40, eg="guest").says(
        "guest, or what it is for: wet gear, boots, warden, kit."
    )
    also_used_as: str | None = text("also_used_as").says(
        "Anything else that takes the same volume; blank is none."
    )

    @property
    def is_for_guests(self) -> bool:
        """Whether it counts as stowage of a guest."""
        return (self.used_by or "").strip().casefold() in ("guest", "guests", "resident")


@schedule(
    "moves",
    "Change of use",
    mark_prefix="X",
    purpose="Everything that is moved between day and night. Seconds, hands and the heaviest lift "
    "are counted from it.",
)
class Move(Row):
    """One thing that is moved to change the room's use."""

    mark: str = mark()
    item: str | None = text("item", required=True, eg="Hearth table").says("What is moved.")
    from_state: str | None = text("from", longest=80).says("How it stands by day.")
    to_state: str | None = text("to", longest=80).says("How it stands by night.")
    people: int = count("people", within=(1, 20), eg="1").says("Needed at once.")
    mass_kg: float = quantity("kg", MASS, "Weight", within=(0, 500), eg="8").says(
        "What is lifted; 0 where nothing is."
    )
    time_s: float = quantity("s", SECONDS, "s", within=(0, 3600), eg="45").says(
        "Time with practice, tired."
    )
    over_heat: str | None = text("over_heat", "Lifted over heat", longest=80).says(
        "The stove or flame it passes over; blank is none."
    )
    height_m: float = quantity("height_mm", LENGTH, "Height in use", within=(0, 3)).says(
        "Of the seat or table top."
    )

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
    """A place to stow, or several alike.

    n           how many alike [no.]
    volume_m3   what each holds [m³]
    """

    mark: str = mark()
    what: str | None = text("what", "What", "Drawer, locker, shelf, hook.", required=True,
                            example="Drawers under sleeping shelf")  # fmt: skip
    n: int = count("n", "No.", "How many alike.", least=1, most=500, example="8")
    volume_m3: float = quantity(
        "l_each", "L each", LITRES, "What one holds; 0 for hooks.", least=0, most=50,
        example="80",
    )  # fmt: skip
    used_by: str | None = text(
        "for", "For", "guest, or what it is for: wet gear, boots, warden, kit.", longest=40,
        example="guest",
    )  # fmt: skip
    also_used_as: str | None = text(
        "also_used_as", "Also used as", "Anything else that takes the same volume; blank is none."
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
    """One thing that is moved to change the room's use.

    people      hands needed at once [no.]
    mass_kg     what is lifted [kg]
    time_s      how long it takes [s]
    """

    mark: str = mark()
    item: str | None = text("item", "Item", "What is moved.", required=True,
                            example="Hearth table")  # fmt: skip
    from_state: str | None = text("from", "From", "How it stands by day.", longest=80)
    to_state: str | None = text("to", "To", "How it stands by night.", longest=80)
    people: int = count("people", "People", "Needed at once.", least=1, most=20, example="1")
    mass_kg: float = quantity(
        "kg", "kg", MASS, "What is lifted; 0 where nothing is.", least=0, most=500, example="8"
    )
    time_s: float = quantity(
        "s", "s", SECONDS, "Time with practice, tired.", least=0, most=3600, example="45"
    )
    over_heat: str | None = text(
        "over_heat", "Lifted over heat", "The stove or flame it passes over; blank is none.",
        longest=80,
    )  # fmt: skip
    height_m: float = quantity(
        "height_mm", "Height in use", LENGTH, "Of the seat or table top.", least=0, most=3
    )

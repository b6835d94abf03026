"""Vents and fans: what brings air into each room at night."""

from criteria.typed.columns import count, mark, quantity, reference, text
from criteria.typed.rows import Row, schedule
from criteria.units import AIR_FLOW


@schedule(
    "vents",
    "Vent and fan schedule",
    mark_prefix="V",
    purpose="Everything that gives air with the windows shut. Night air per sleeper is counted "
    "from it.",
)
class Vent(Row):
    """A vent or fan, or several alike.

    n               how many alike [no.]
    flow_m3_s       fresh air that each gives as it is left at night [m³/s]
    """

    mark: str = mark()
    room: str = reference(
        "room", "Room", "rooms", "Mark of the room it serves.", required=True, example="R4"
    )
    type: str | None = text("type", "Type", "What it is; say extract, trickle, slot, supply fan.",
                            longest=80, example="slot vent")  # fmt: skip
    n: int = count("n", "No.", "How many alike.", least=1, most=200, example="2")
    flow_m3_s: float = quantity(
        "l_s_each", "L/s each", AIR_FLOW,
        "Fresh air of each one as it is left in a storm, from the maker's sheet.",
        least=0, most=1, example="8",
    )  # fmt: skip

    @property
    def is_extract(self) -> bool:
        """Whether its type says that it takes air out."""
        return any(word in (self.type or "").casefold() for word in ("extract", "fan", "stack"))

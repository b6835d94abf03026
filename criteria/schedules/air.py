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
    """A vent or fan, or several alike."""

    mark: str = mark()
    room: str = reference("room", "rooms", required=True, eg="R4").says(
        "Mark of the room it serves."
    )
    type: str | None = text("type", longest=80, eg="slot vent").says(
        "What it is; say extract, trickle, slot, supply fan."
    )
    n: int = count("n", "No.", within=(1, 200), eg="2").says("How many alike.")
    flow_m3_s: float = quantity("l_s_each", AIR_FLOW, "Air each", within=(0, 1), eg="8").says(
        "Fresh air of each one as it is left in a storm, from the maker's sheet."
    )

"""Legs: where each foot stands on the plan of what is set up."""

from criteria.typed.columns import mark, quantity, reference, text
from criteria.typed.rows import Row, schedule
from criteria.units import ROOM_LENGTH


@schedule(
    "legs",
    "Legs",
    mark_prefix="G",
    purpose="Every foot that the building stands on, by its place. Tipping and what each leg "
    "carries are worked out from it; a licensed engineer decides.",
)
class Leg(Row):
    """One foot on the ground."""

    mark: str = mark()
    at_x_m: float = quantity("x_m", ROOM_LENGTH, "Across", within=(-90, 90), eg="0.4").says(
        "From the plan's own corner to the middle of its pad."
    )
    at_y_m: float = quantity("y_m", ROOM_LENGTH, "Up", within=(-90, 90), eg="0.4").says(
        "The same, up the plan."
    )
    note: str | None = text("note").says("What it stands on.")
    under: str | None = reference("under", "pieces", "Fixed to").says(
        "Mark of the piece with which it moves, a wheel or a leg hinged to it; its place is then "
        "that as set up. Blank is fixed to nothing that moves.",
        blank=None,
    )

"""Finishes: what each room is lined with, and how it stands water, fire and cleaning."""

from criteria.typed.columns import mark, quantity, reference, text, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import COUNT, LENGTH, RATIO

SURFACES = ("floor", "wall", "ceiling", "worktop")


@schedule(
    "finishes",
    "Finish schedule",
    mark_prefix="N",
    purpose="What floor, walls and ceiling of each room are finished with. Cleaning, slip, fire "
    "and falls are checked from it.",
)
class Finish(Row):
    """A finish in a room."""

    mark: str = mark()
    room: str = reference("room", "rooms", required=True, eg="R7").says("Mark of the room.")
    surface: str = word("surface", SURFACES, required=True, eg="floor")
    finish: str | None = text("finish", required=True, eg="Linoleum").says("What it is.")
    is_cleanable: bool = yes_no("cleanable", "Can be washed", eg="yes").says(
        "Whether it can be wiped down with water."
    )
    is_wet: bool = yes_no("wet", "Gets wet", eg="yes").says("Whether it is walked on wet.")
    friction: float = quantity("friction", RATIO, "Friction, wet", within=(0, 2), eg="0.45").says(
        "Dynamic coefficient of friction, wet, from the maker."
    )
    flame_spread: float = quantity("flame_spread", COUNT, within=(0, 1000), eg="75").says(
        "Index of the maker's fire test."
    )
    smoke: float = quantity("smoke", COUNT, within=(0, 2000), eg="450").says(
        "Smoke developed index of the same test."
    )
    emissions: str | None = text("emissions", longest=80).says(
        "The label or test for what it gives off."
    )
    fall_rise_m: float = quantity(
        "fall_rise", LENGTH, "Fall: rise", within=(0, 1), eg="18.75"
    ).says("How much a wet floor falls to its drain.")
    fall_run_m: float = quantity("fall_run", LENGTH, "Fall: run", within=(0.01, 20), eg="900").says(
        "Over which length."
    )

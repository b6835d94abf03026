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
    """A finish in a room.

    friction        dynamic coefficient of friction, wet [1]
    flame_spread    flame spread index [1]
    smoke           smoke developed index [1]
    fall_rise_m, fall_run_m   the fall of a wet floor as rise and run [m]
    """

    mark: str = mark()
    room: str = reference("room", "Room", "rooms", "Mark of the room.", required=True,
                                 example="R7")  # fmt: skip
    surface: str = word("surface", "Surface", SURFACES, required=True, example="floor")
    finish: str | None = text("finish", "Finish", "What it is.", required=True,
                              example="Linoleum")  # fmt: skip
    is_cleanable: bool = yes_no(
        "cleanable", "Can be washed", "Whether it can be wiped down with water.", example="yes"
    )
    is_wet: bool = yes_no("wet", "Gets wet", "Whether it is walked on wet.", example="yes")
    friction: float = quantity(
        "friction", "Friction, wet", RATIO, "Dynamic coefficient of friction, wet, from the maker.",
        least=0, most=2, example="0.45",
    )  # fmt: skip
    flame_spread: float = quantity(
        "flame_spread", "Flame spread", COUNT, "Index of the maker's fire test.", least=0,
        most=1000, example="75",
    )  # fmt: skip
    smoke: float = quantity(
        "smoke", "Smoke", COUNT, "Smoke developed index of the same test.", least=0, most=2000,
        example="450",
    )  # fmt: skip
    emissions: str | None = text("emissions", "Emissions", "The label or test for what it gives "
                                 "off.", longest=80)  # fmt: skip
    fall_rise_m: float = quantity(
        "fall_rise", "Fall: rise", LENGTH, "How much a wet floor falls to its drain.", least=0,
        most=1, example="18.75",
    )  # fmt: skip
    fall_run_m: float = quantity(
        "fall_run", "Fall: run", LENGTH, "Over which length.", least=0.01, most=20, example="900"
    )

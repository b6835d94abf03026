"""Furniture: where people sit, eat and sleep, and how it is put away."""

from __future__ import annotations

from criteria.schedules.rooms import REACHED_BY
from criteria.typed.columns import ASKED, Blank, count, mark, quantity, reference, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import LENGTH

KINDS = ("seat", "bed", "table", "worktop", "desk", "hook", "other")


def _reached_by_unsaid(row: Furniture) -> str | Blank:
    """A bench stands on the floor; a bunk may be an upper one."""
    return ASKED if row.kind == "bed" else "floor"


@schedule(
    "furniture",
    "Furniture schedule",
    mark_prefix="U",
    purpose="Seats, beds and tables by day and night, with sizes out and put away. Seats, beds "
    "and heights are counted from it.",
)
class Furniture(Row):
    """A piece of furniture, or several alike.

    n                   how many alike [no.]
    day, night          people who sit or sleep on each by day and by night [no.]
    height_m            of seat, table top or mattress [m]
    reach_m             of its handle, hook or switch above the floor [m]
    over_m              depth of what is reached over to get at it [m]
    above_m             clear height above it [m]
    length_m …          outside sizes put away [m]
    plan_x_m, plan_y_m  its middle on the plan of its room, from the lower left corner [m]
    """

    mark: str = mark()
    item: str | None = text("item", "Item", "What it is.", required=True, example="Bench")
    room: str = reference("room", "Room", "rooms", "Mark of its room.", example="R2")
    kind: str = word("kind", "Kind", KINDS, "What it is mainly.", required=True,
                            example="seat")  # fmt: skip
    n: int = count("n", "No.", "How many alike.", least=1, most=200, example="2")
    day: int = count("day", "Seats by day", "People who sit on one by day.", example="3")
    night: int = count("night", "Places by night", "People who sleep on one at night.", example="0")
    reached_by: str = word(
        "reached_by",
        "Reached by",
        REACHED_BY,
        "How a bed is got into from the floor of its room: an upper bunk by its ladder.",
        blank=_reached_by_unsaid,
        example="floor",
    )
    seats_at_night: int = count(
        "seats_at_night", "Seats at night", "Seats of one that are left when beds are made.",
        example="1",
    )  # fmt: skip
    height_m: float = quantity(
        "height_mm", "Height", LENGTH, "Of the seat, table top or mattress.", least=0, most=3,
        example="450",
    )  # fmt: skip
    above_m: float = quantity(
        "above_mm", "Clear above", LENGTH, "Mattress or seat to what is over it.", least=0, most=6,
        example="950",
    )  # fmt: skip
    reach_m: float | None = quantity(
        "reach_mm", "Hand height", LENGTH, "Floor to the handle, hook or switch that is reached; "
        "blank is nothing to reach.", least=0, most=3, blank=None, example="1100",
    )  # fmt: skip
    over_m: float = quantity(
        "reach_over_mm", "Reached over", LENGTH,
        "Depth of what stands in front of it, such as a worktop; blank is nothing.",
        least=0, most=2, blank=0.0, example="500",
    )  # fmt: skip
    stowed_in: str | None = text("stowed_in", "Stowed in", "Mark of where it is put away.",
                                 longest=12)  # fmt: skip
    length_m: float = quantity(
        "stowed_l", "Stowed length", LENGTH, "Put away.", least=0.005, most=6
    )
    width_m: float = quantity("stowed_w", "Stowed width", LENGTH, least=0.005, most=6)
    depth_m: float = quantity("stowed_h", "Stowed height", LENGTH, least=0.005, most=6)

    plan_x_m: float = quantity(
        "plan_x", "On the plan, across", LENGTH, "From the left wall of its room's daylight plan "
        "to its middle: the view from it is worked out.", least=0, most=30, example="1800",
    )  # fmt: skip
    plan_y_m: float = quantity(
        "plan_y", "On the plan, up", LENGTH, "From the lower wall of that plan.", least=0, most=30,
        example="900",
    )  # fmt: skip

    @property
    def stowed_sizes_m(self) -> tuple[float, float, float]:
        """Length, width and height put away [m]."""
        return self.length_m, self.width_m, self.depth_m

"""Furniture: where people sit, eat and sleep, stoves too, and how it is put away."""

from __future__ import annotations

from criteria.schedules.rooms import REACHED_BY
from criteria.typed.columns import (
    ASKED,
    Blank,
    count,
    mark,
    quantity,
    reference,
    text,
    word,
    yes_no,
)
from criteria.typed.rows import Row, schedule
from criteria.units import ANGLE, LENGTH

FRONTS = ("one long side", "long", "short", "all", "none")
"""From which sides a piece of furniture is used."""

_FRONT_OF = {"bed": "long", "table": "all", "toilet": "short", "hook": "none", "other": "none"}

KINDS = (
    "seat",
    "bed",
    "table",
    "worktop",
    "desk",
    "hook",
    "stove",
    "toilet",
    "basin",
    "shower",
    "other",
)


def _reached_by_unsaid(row: Furniture) -> str | Blank:
    """A bench stands on the floor; a bunk may be an upper one."""
    return ASKED if row.kind == "bed" else "floor"


def _front_unsaid(row: Furniture) -> str | Blank:
    """From where a piece is used follows from its kind."""
    return _FRONT_OF.get(row.kind, FRONTS[0])


@schedule(
    "furniture",
    "Furniture schedule",
    mark_prefix="U",
    purpose="Seats, beds and tables by day and night, with sizes out and put away. Seats, beds "
    "and heights are counted from it.",
)
class Furniture(Row):
    """A piece of furniture, or several alike."""

    mark: str = mark()
    item: str | None = text("item", required=True, eg="Bench").says("What it is.")
    room: str = reference("room", "rooms", eg="R2").says("Mark of its room.")
    kind: str = word("kind", KINDS, required=True, eg="seat").says("What it is mainly.")
    n: int = count("n", "No.", within=(1, 200), eg="2").says("How many alike.")
    day: int = count("day", "Seats by day", eg="3").says("People who sit on one by day.")
    night: int = count("night", "Places by night", eg="0").says("People who sleep on one at night.")
    reached_by: str = word("reached_by", REACHED_BY, eg="floor").says(
        "How a bed is got into from the floor of its room: an upper bunk by its ladder.",
        blank=_reached_by_unsaid,
    )
    seats_at_night: int = count("seats_at_night", eg="1").says(
        "Seats of one that are left when beds are made."
    )
    height_m: float = quantity("height_mm", LENGTH, "Height", within=(0, 3), eg="450").says(
        "Of the seat, table top or mattress."
    )
    above_m: float = quantity("above_mm", LENGTH, "Clear above", within=(0, 6), eg="950").says(
        "Mattress or seat to what is over it."
    )
    reach_m: float | None = quantity(
        "reach_mm", LENGTH, "Hand height", within=(0, 3), eg="1100"
    ).says(
        "Floor to the handle, hook or switch that is reached; blank is nothing to reach.",
        blank=None,
    )
    over_m: float = quantity("reach_over_mm", LENGTH, "Reached over", within=(0, 2), eg="500").says(
        "Depth of what stands in front of it, such as a worktop; blank is nothing.", blank=0.0
    )
    stowed_in: str | None = text("stowed_in", longest=12).says("Mark of where it is put away.")
    length_m: float = quantity("stowed_l", LENGTH, "Stowed length", within=(0.005, 6)).says(
        "Put away."
    )
    width_m: float = quantity("stowed_w", LENGTH, "Stowed width", within=(0.005, 6))
    depth_m: float = quantity("stowed_h", LENGTH, "Stowed height", within=(0.005, 6))

    plan_x_m: float = quantity(
        "plan_x", LENGTH, "On the plan, across", within=(0, 30), eg="1800"
    ).says(
        "From the left wall of its room's daylight plan to its middle: the view from it is worked "
        "out."
    )
    plan_y_m: float = quantity("plan_y", LENGTH, "On the plan, up", within=(0, 30), eg="900").says(
        "From the lower wall of that plan."
    )

    used_l_m: float = quantity("l", LENGTH, "Length", within=(0.005, 6), eg="1900").says(
        "Out, as it is used: across the plan, unless it is turned. With width and place the way "
        "past it is worked out."
    )
    used_w_m: float = quantity("w", LENGTH, "Width", within=(0.005, 6), eg="800").says(
        "Out, as it is used: up the plan, unless it is turned."
    )
    turn_deg: float = quantity("turn", ANGLE, "Turned", within=(-360, 360), eg="90").says(
        "Anticlockwise on the plan, about its middle; blank is not turned.", blank=0.0
    )
    is_round: bool = yes_no("round").says(
        "Whether it is a disc as wide as its length; blank is that it has four corners.",
        blank=False,
    )
    under_m: float = quantity("under_mm", LENGTH, "Clear under", within=(0, 6), eg="2100").says(
        "Floor to the underside of what hangs or stands high, such as a loft bed; blank is that it "
        "stands on the floor.",
        blank=0.0,
    )
    front: str = word("front", FRONTS, "Used from", eg="long").says(
        "The sides it is used from; blank is as its kind usually is: a bed from its long sides, a "
        "table from all, a toilet from its end, a bench from one.",
        blank=_front_unsaid,
    )

    burns: bool = yes_no("burns", eg="no").says(
        "Whether fire takes it, where a stove stands near; blank is that it does.", blank=True
    )
    plate_m: float | None = quantity(
        "plate_mm", LENGTH, "On a stove's plate", within=(0, 3), eg="400"
    ).says(
        "Of a stove: the distance to what burns that its tested plate says; blank is no plate.",
        blank=None,
    )
    is_shielded: bool = yes_no("shielded", "Walls shielded").says(
        "Of a stove: whether the walls by it stand behind sheet steel on 25 mm of air; blank is "
        "that they don't.",
        blank=False,
    )
    flue_m: float = quantity("flue_mm", LENGTH, "Flue pipe", within=(0, 0.5), eg="150").says(
        "Of a stove: how wide its pipe of a single wall is; 0 where it is an insulated one."
    )
    hearth_m: float = quantity("hearth_mm", LENGTH, "Hearth", within=(0, 3), eg="450").says(
        "Of a stove: how far the floor before its door doesn't burn."
    )

    @property
    def stowed_sizes_m(self) -> tuple[float, float, float]:
        """Length, width and height put away [m]."""
        return self.length_m, self.width_m, self.depth_m

"""Tanks: what each holds and how much of it can be drawn."""

from criteria.typed.columns import mark, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import AREA, LITRES, ROOM_LENGTH, SHARE

HOLDS = ("potable", "grey", "black", "urine", "solids", "rain")

STANDS = ("heated", "insulated, kept from frost", "outside or unheated")
"""Where a tank stands, as frost finds it."""

CATCHES = ("roof", "metal", "green")
"""What rain is caught on: any roof, and two that yield more or less of it."""


@schedule(
    "tanks",
    "Tank schedule",
    mark_prefix="T",
    purpose="Every tank and bin. Days of water and days until something is full are counted "
    "from the usable part.",
)
class Tank(Row):
    """One tank."""

    mark: str = mark()
    holds: str = word("holds", HOLDS, required=True, eg="potable").says("What it holds.")
    volume_m3: float = quantity("litres", LITRES, "Volume", within=(0.0001, 200), eg="1200").says(
        "Nominal, as the maker gives it."
    )
    usable_share: float = quantity("usable_share", SHARE, within=(0, 1), eg="0.92").says(
        "What can be drawn above the outlet, or filled below the overflow; 0.90 to 0.95 is usual."
    )
    stands: str = word("stands", STANDS, eg="heated").says(
        "Where frost finds it: within the heated part, insulated and kept from frost, or outside."
    )
    place: str | None = text("place", eg="plant room").says("Where it stands.")
    at_x_m: float = quantity("x_m", ROOM_LENGTH, "Across", within=(-90, 90)).says(
        "From the plan's own corner to its middle: it is weighed there."
    )
    at_y_m: float = quantity("y_m", ROOM_LENGTH, "Up", within=(-90, 90)).says(
        "The same, up the plan."
    )
    height_m: float = quantity("h_m", ROOM_LENGTH, "Height", within=(0.01, 12), eg="1.2").says(
        "Of what it holds, when it is full."
    )
    full_share: float = quantity("full", SHARE, "Full", within=(0, 1), eg="1").says(
        "Part of it that is full where it is weighed; blank is all of it.", blank=1.0
    )
    catch_m2: float | None = quantity("catch_m2", AREA, "Rain caught on", within=(0, 2000)).says(
        "On plan, of what drains into it; blank is the roof where it holds rain, else nothing.",
        blank=None,
    )
    catches_on: str = word("catch_surface", CATCHES, "Caught on", eg="metal").says(
        "What the rain falls on: 0.9 of it comes off metal, 0.5 off a green roof, 0.85 off any "
        "other; blank is any other.",
        blank="roof",
    )

    @property
    def usable_m3(self) -> float:
        """What can be drawn, or filled [m³]."""
        return self.volume_m3 * self.usable_share

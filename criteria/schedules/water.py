"""Tanks: what each holds and how much of it can be drawn."""

from criteria.typed.columns import mark, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import LITRES, SHARE

HOLDS = ("potable", "grey", "black", "urine", "solids", "rain")

STANDS = ("heated", "insulated, kept from frost", "outside or unheated")
"""Where a tank stands, as frost finds it."""


@schedule(
    "tanks",
    "Tank schedule",
    mark_prefix="T",
    purpose="Every tank and bin. Days of water and days until something is full are counted "
    "from the usable part.",
)
class Tank(Row):
    """One tank.

    volume_m3      nominal volume [m³]
    usable_share   part of it that can be drawn, or filled [1]
    """

    mark: str = mark()
    holds: str = word("holds", "Holds", HOLDS, "What it holds.", required=True,
                             example="potable")  # fmt: skip
    volume_m3: float = quantity(
        "litres", "Volume", LITRES, "Nominal, as the maker gives it.",
        least=0.0001, most=200, example="1200",
    )  # fmt: skip
    usable_share: float = quantity(
        "usable_share", "Usable share", SHARE,
        "What can be drawn above the outlet, or filled below the overflow; 0.90 to 0.95 is usual.",
        least=0, most=1, example="0.92",
    )  # fmt: skip
    stands: str = word(
        "stands",
        "Stands",
        STANDS,
        "Where frost finds it: within the heated part, insulated and kept from frost, or outside.",
        example="heated",
    )
    place: str | None = text("place", "Place", "Where it stands.",
                             example="plant room")  # fmt: skip

    @property
    def usable_m3(self) -> float:
        """What can be drawn, or filled [m³]."""
        return self.volume_m3 * self.usable_share

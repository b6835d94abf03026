"""Tanks: what each holds and how much of it can be drawn."""

from criteria.typed.columns import Row, mark, quantity, schedule, text, word
from criteria.units import LITRES, SHARE

HOLDS = ("potable", "grey", "black", "urine", "solids", "rain")


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
    place: str | None = text("place", "Place", "Where it stands; say if it is heated.",
                             example="heated plant room")  # fmt: skip

    @property
    def usable_m3(self) -> float | None:
        """What can be drawn [m³]; None where volume or share is blank."""
        if self.volume_m3 is None or self.usable_share is None:
            return None
        return self.volume_m3 * self.usable_share

"""Stairs and ladders held to what their kind allows."""

from dataclasses import dataclass

from criteria.checks.check import Check
from criteria.checks.reading import all_without
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.measures import climbing
from criteria.package import Package
from criteria.schedules.climbs import Climb
from criteria.sources import IRC_STAIR, LOFT_LADDER, LOFT_STAIR, SHIP_LADDER
from criteria.units import IN, LENGTH

INCH_M = float(IN.factor)


@dataclass(frozen=True)
class Limits:
    """What a kind of climb allows [m]; None asks nothing.

    tread   least; of a loft stair it follows from the riser
    """

    riser: tuple[float, float]
    width: float
    tread: float | None = None
    headroom: float | None = None
    wants_rail: bool = True


LIMITS = {
    "stair": Limits((0.0, 7.75 * INCH_M), 36 * INCH_M, 10 * INCH_M, 80 * INCH_M),
    "loft stair": Limits(climbing.RISER_M, 20 * INCH_M, None, 74 * INCH_M),
    "ship's ladder": Limits((0.0, 9.5 * INCH_M), 20 * INCH_M, 5 * INCH_M, 80 * INCH_M),
    "ladder": Limits((10 * INCH_M, 14 * INCH_M), 12 * INCH_M, wants_rail=False),
}
"""IRC 2021, R311.7.5 and R311.7.1, Appendix AQ, R311.7.12, and Appendix AQ again.

Of the loft stair quoted; of the ship's ladder and the ladder from memory.
"""


def _climbs(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    steps: list[Step] = []

    def fault(row: Climb) -> str | None:
        limits, riser = LIMITS[row.kind], row.rise_m / row.risers
        figures = (row.mark, Amount(row.rise_m, LENGTH), row.risers, Amount(riser, LENGTH))
        steps.append(Step("{}: {} ÷ {} = {}", figures))
        low, high = limits.riser
        faults = [] if _within(riser, low, high) else ["riser"]
        tread = limits.tread
        if row.kind == "loft stair" and not faults:
            tread = climbing.loft_stair(row.rise_m, row.risers).tread_m
        if tread is not None:
            words = "{}: a tread of {} or more, it has {}"
            steps.append(Step(words, (row.mark, *_lengths(tread, row.tread_m))))
            faults += [] if _within(row.tread_m, tread) else ["tread"]
        faults += [] if _within(row.width_m, limits.width) else ["width"]
        if limits.headroom is not None:
            faults += [] if _within(row.headroom_m, limits.headroom) else ["headroom"]
        if limits.wants_rail and not row.has_rail:
            faults.append("no handrail")
        return ", ".join(faults) or None

    return [all_without(package.climbs, fault, steps)]


def _lengths(*metres: float) -> tuple[Amount, ...]:
    return tuple(Amount(each, LENGTH) for each in metres)


def _within(length_m: float, least: float, most: float | None = None) -> bool:
    """Whether a length keeps to its limits; what equals one does."""
    return length_m >= least * (1 - SAME) and (most is None or length_m <= most * (1 + SAME))


LOFT_STAIR_CHECK = Check(
    slug="loft_stair",
    title="Stairs and ladders within what their kind allows",
    topic="Access",
    measure=_climbs,
    schedules=("climbs",),
    rule=Rule.ALL,
    formula="h = H ÷ n and tread, width, headroom and rail within the limits of each kind",
    meaning="H rise; n risers. Stair: h ≤ 196 mm, tread ≥ 254 mm, width ≥ 914 mm, headroom ≥ "
    "2,032 mm. Loft stair: h 178 to 305 mm, tread ≥ 508 mm − 4/3 · h, width ≥ 508 mm, headroom ≥ "
    "1,880 mm. Ship's ladder: h ≤ 241 mm, tread ≥ 127 mm, width ≥ 508 mm, headroom ≥ 2,032 mm. "
    "Ladder: rungs 254 to 356 mm apart, ≥ 305 mm wide",
    citations=(IRC_STAIR, LOFT_STAIR, LOFT_LADDER, SHIP_LADDER),
    limits="US dwellings; the inches are held. A loft stair is of houses of up to 37 m² (400 ft²). "
    "A ladder stands at 70° to 80° and wants 600 mm clear at its foot (common practice).",
    question="{value}. At night, half asleep, carrying a child?",
    caution="Falls from lofts kill: local codes decide whether a loft may be slept in, and how it "
    "is reached.",
)

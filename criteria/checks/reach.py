"""Handles, hooks and switches within reach of someone who sits in a wheelchair."""

from criteria.checks.check import Check
from criteria.checks.reading import all_without, gathered
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.sources import ADA_REACH
from criteria.typed.cells import lacking
from criteria.units import LENGTH

LOWEST_M, HIGHEST_M = 0.380, 1.220
"""Least and most height of what is reached, from the side or the front [m]. ADA 2010, 308, as
printed in metric: 15 and 48 in, which are a hair within."""
FREE_OVER_M, HIGHEST_OVER_M, FURTHEST_M = 0.510, 1.120, 0.635
"""Over something deeper than the first the most height is the second; deeper than the third is
out of reach [m]. ADA 2010, 308.2.2."""


def highest_m(over_m: float) -> float | None:
    """Return how high may be reached, forward over a depth [m]; None where it is too deep.

    Source: 2010 ADA Standards, 308.2.1 and 308.2.2, from memory.

    >>> [highest_m(inches * 0.0254) for inches in (0, 20, 21, 25, 26)]
    [1.22, 1.22, 1.12, 1.12, None]
    """
    if over_m <= FREE_OVER_M * (1 + SAME):
        return HIGHEST_M
    return HIGHEST_OVER_M if over_m <= FURTHEST_M * (1 + SAME) else None


def _reach(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = gathered(package.furniture, lambda row: None if row.reach_m is None else row)
    steps: list[Step] = []

    def fault(row: Furniture) -> str | None:
        height, over = row.reach_m or 0.0, row.over_m
        most = highest_m(over)
        said = (row.mark, Amount(height, LENGTH), Amount(over, LENGTH))
        if most is None:
            furthest = Amount(FURTHEST_M, LENGTH)
            steps.append(Step("{}: {} high over {}, beyond {}", (*said, furthest)))
            return "too far"
        bounds = (Amount(LOWEST_M, LENGTH), Amount(most, LENGTH))
        steps.append(Step("{}: {} high over {}, within {} to {}", (*said, *bounds)))
        if height > most * (1 + SAME):
            return "too high"
        return "too low" if height < LOWEST_M * (1 - SAME) else None

    if not any(rows):
        raise lacking("Hand height (furniture schedule)")
    return [all_without([row for row in rows if row], fault, steps)]


REACH = Check(
    slug="reach",
    title="Handles and hooks within reach",
    topic="Access",
    measure=_reach,
    schedules=("furniture",),
    rule=Rule.ALL,
    formula="15 in ≤ h ≤ 48 in; 44 in over 20 to 25 in",
    meaning="h handle, hook or switch above the floor; over what stands in front of it [in]",
    citations=(ADA_REACH,),
    limits="Forward reach, which is the stricter here from the front; knee space below a worktop "
    "is taken for granted. Hand force (5 lbf) and grip are not in it. Rows without a hand height "
    "are not looked at. 48 in (1,220 mm), 15 in (380 mm).",
    question="{value}. Who reaches it, sitting?",
    caution="A teaching check: the local access code and a licensed architect decide.",
)

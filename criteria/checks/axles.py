"""What a group of axles may carry on US federal roads."""

from criteria.checks.check import Check
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.measures.moving import bridge_formula
from criteria.package import Package
from criteria.sources import BRIDGE_FORMULA
from criteria.units import FOOT, INCH, MASS, POUND, RATIO, ROOM_LENGTH

GROSS_KG = 80_000 * float(POUND)
"""Most that a vehicle may weigh, laden, without a permit [kg]. 23 CFR 658.17(b), quoted."""
CLOSE = ((40 * float(INCH), 20_000 * float(POUND)), (8 * float(FOOT), 34_000 * float(POUND)))
"""Most on axles that stand within so much of each other [m], [kg]: one axle, and a tandem.
23 CFR 658.5 and 658.17(c) and (d), quoted."""


def most_on_axles(axles: int, spread_m: float) -> float:
    """Return the most that a group of axles may carry, whatever else the vehicle does [kg].

    >>> [round(most_on_axles(2, feet * 0.3048) / 0.45359237) for feet in (40 / 12, 4, 8, 8.1)]
    [20000, 34000, 34000, 38000]
    """
    close = next((most for within, most in CLOSE if spread_m <= within * (1 + SAME)), GROSS_KG)
    return min(bridge_formula(axles, spread_m), close, GROSS_KG)


def _axle_group(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row = package.transport
    axles, spread, laden = row.axles, row.spread_m, row.group_kg
    by_formula = bridge_formula(axles, spread)
    allowed = most_on_axles(axles, spread)
    value = laden / allowed
    may = Amount(allowed, MASS)
    figures = (axles, Amount(spread, ROOM_LENGTH), Amount(by_formula, MASS))
    steps = (
        Step("{} axles over {}: {} by the formula", figures),
        Step("{} ÷ {} = {}", (Amount(laden, MASS), may, Amount(value, RATIO))),
    )
    words = "whatever the formula gives, {} is the most without a permit"
    notes = (Step(words, (may,)),) if allowed < by_formula else ()
    return [Measured(values=(value,), steps=steps, notes=notes)]


AXLE_GROUP = Check(
    slug="axle_group",
    title="Load on a group of axles / allowed",
    topic="Moving",
    scales=(RATIO,),
    measure=_axle_group,
    schedules=("transport",),
    rule=Rule.AT_MOST,
    formula="r = m ÷ min(W, 80,000 lb, 34,000 lb within 8 ft, 20,000 lb within 40 in); "
    "W = 500 · (L · N ÷ (N − 1) + 12 · N + 36)",
    meaning="m on the group, laden [kg]; N axles in it; L first to last of them [ft]; W to the "
    "nearest 500 [lb]",
    citations=(BRIDGE_FORMULA,),
    limits="US Interstate roads, one group of two or more axles at a time: hold each group in "
    "turn. Axles within 40 in count as one. A pair of tandems 36 ft apart has figures of its own; "
    "so have states and other countries.",
    question="The axles carry {value} of what is allowed, against {target}. Which piece stays?",
    caution="Loading and road permits: a licensed haulier decides.",
)

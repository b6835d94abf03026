"""What a group of axles may carry on US federal roads."""

from criteria.checks.check import Check, blank
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.measures.moving import bridge_formula
from criteria.package import Package
from criteria.schedules.structure import Transport
from criteria.sources import BRIDGE_FORMULA
from criteria.units import FOOT, MASS, POUND, RATIO, ROOM_LENGTH

GROSS_KG = 80_000 * float(POUND)
"""Most that a vehicle may weigh, laden, without a permit [kg]. 23 CFR 658.17(b), quoted."""
TANDEM_KG, TANDEM_M = 34_000 * float(POUND), 8 * float(FOOT)
"""Most on axles that stand within so much of each other [kg], [m]. 23 CFR 658.17(d), quoted."""


def _axle_group(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row = package.transport
    if missing := blank(Transport.schedule, row, "axles", "axle_spread_m", "axle_group_kg"):
        return [Measured(missing=missing)]
    axles, spread = row.axles or 2, row.spread_m or 0
    by_formula = bridge_formula(axles, spread)
    tandem = TANDEM_KG if spread <= TANDEM_M * (1 + SAME) else GROSS_KG
    allowed = min(by_formula, GROSS_KG, tandem)
    laden = row.group_kg or 0
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
    formula="r = m ÷ min(W, 80,000 lb, 34,000 lb within 8 ft); "
    "W = 500 · (L · N ÷ (N − 1) + 12 · N + 36)",
    meaning="m on the group, laden [kg]; N axles in it; L first to last of them [ft]; W to the "
    "nearest 500 [lb]",
    citations=(BRIDGE_FORMULA,),
    limits="US Interstate roads, one group of two or more axles at a time: hold each group in "
    "turn. Single axles (20,000 lb) and a pair of tandems 36 ft apart have figures of their own; "
    "so have states and other countries.",
    question="The axles carry {value} of what is allowed, against {target}. Which piece stays?",
    caution="Loading and road permits: a licensed haulier decides.",
)

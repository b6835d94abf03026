"""Ways out of the sleeping area."""

from criteria.checks.check import Check, blank
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.package import Package
from criteria.schedules.access import WaysOut
from criteria.sources import IRC_ESCAPE, PRACTICE
from criteria.units import COUNT, DISTANCE, LENGTH

_CAUTION = (
    "Fire and ways out: a teaching check, no approval. The local fire authority and a licensed "
    "architect decide."
)


def _single(package: Package, head: str, attribute: str, amount: object, name: str) -> Measured:
    row = package.ways_out
    if missing := blank(WaysOut.schedule, row, head):
        return Measured(missing=missing)
    value = getattr(row, attribute)
    written = Amount(value, amount) if amount is not COUNT else value  # type: ignore[arg-type]
    return Measured(values=(value,), steps=(Step("{} as scheduled: {}", (name, written)),))


def _ways(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = _single(package, "ways_out", "ways", COUNT, "ways out")
    if not found.values:
        return [found]
    outside = [door for door in package.doors if door.is_outside]
    narrow = [
        Step("{} is {} × {}", (door.mark, _size(door.clear_w_m), _size(door.height_m)))
        for door in outside
        if door.role != "main exit"
        and door.clear_w_m is not None
        and door.height_m is not None
        and (door.clear_w_m < EXIT_W_M or door.height_m < EXIT_H_M)
    ]
    notes = (Step("a hatch, not a door: {}", (listed(narrow, "; "),)),) if narrow else ()
    return [Measured(values=found.values, steps=found.steps, notes=notes)]


EXIT_W_M, EXIT_H_M = 0.75, 1.9
"""A way out narrower or lower than this is climbed through, not walked. Common practice. [m]"""


def _size(metres: float | None) -> Amount:
    return Amount(metres or 0, LENGTH)


def _furthest(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return [_single(package, "furthest_m", "furthest_m", DISTANCE, "furthest bunk to outside")]


def _second_threshold(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    head, attribute = "second_exit_threshold_mm", "second_threshold_m"
    found = _single(package, head, attribute, LENGTH, "threshold")
    drift = package.site.drift_m
    if not found.values or drift is None:
        return [found]
    over = found.values[0] - drift
    apart = Amount(over if over >= 0 else -over, LENGTH)
    note = Step("{} {} the drift", (apart, "above" if over >= 0 else "below"))
    return [Measured(values=found.values, steps=found.steps, notes=(note,))]


WAYS_OUT = Check(
    slug="ways_out",
    title="Ways out of the sleeping area",
    topic="Ways out",
    scales=(COUNT,),
    measure=_ways,
    schedules=("ways_out", "doors"),
    is_count=True,
    formula="n",
    meaning="n independent ways out: one fire can't close both",
    citations=(PRACTICE, IRC_ESCAPE),
    limits="Counts what is said; whether they are independent, and open from inside without a "
    "key, the plan must show.",
    question="Ways out: {value}, against {target}. Fire at the stove: trace the second.",
    caution=_CAUTION,
)

FURTHEST_BUNK = Check(
    slug="furthest_bunk",
    title="Furthest bunk to outside",
    topic="Ways out",
    scales=(DISTANCE,),
    measure=_furthest,
    schedules=("ways_out",),
    rule=Rule.AT_MOST,
    formula="d",
    meaning="d from the furthest bunk to outside, as a person walks it [m]",
    citations=(PRACTICE,),
    limits="As typed; walked around furniture, not in a straight line.",
    question="The furthest bunk is {value} from outside, against {target}, in the dark, with "
    "smoke. How?",
    caution=_CAUTION,
)

SECOND_THRESHOLD = Check(
    slug="second_exit_threshold",
    title="Second exit threshold above outside level",
    topic="Ways out",
    scales=(LENGTH,),
    measure=_second_threshold,
    schedules=("ways_out", "site"),
    formula="h",
    meaning="h threshold above the level outside [mm]",
    citations=(PRACTICE,),
    limits="Against the drift depth that the brief gives; a drift moves and hardens.",
    question="The second way out opens at {value}, against {target}. Dig from which side?",
    caution=_CAUTION,
)

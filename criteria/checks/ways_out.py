"""Ways out of the sleeping area."""

from criteria.checks.check import Check
from criteria.checks.reading import gathered, scheduled
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.measures import space
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.states import LIVED_KINDS
from criteria.sources import EXITS, IRC_ESCAPE, OCCUPANTS, PRACTICE
from criteria.units import COUNT, DISTANCE, FLOOR, LENGTH

_CAUTION = (
    "Fire and ways out: a teaching check, no approval. The local fire authority and a licensed "
    "architect decide."
)

EXIT_W_M, EXIT_H_M = 0.75, 1.9
"""A way out narrower or lower than this is climbed through, not walked. Common practice. [m]"""


def _hatch(door: Door) -> Step | None:
    """Say the size of an outside door that is climbed through; None where it isn't, or unsaid."""
    width, height = door.if_given("clear_w_m"), door.if_given("height_m")
    if not door.if_given("is_outside") or None in (width, height) or door.role == "main exit":
        return None
    sizes = (Amount(width, LENGTH), Amount(height, LENGTH))
    return (
        Step("{} is {} × {}", (door.mark, *sizes))
        if width < EXIT_W_M or height < EXIT_H_M
        else None
    )


def _ways(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    narrow = [hatch for door in package.rows_of(Door) if (hatch := _hatch(door))]
    notes = (Step("a hatch, not a door: {}", (listed(narrow, "; "),)),) if narrow else ()
    return [scheduled(package.ways_out, "ways_out", COUNT, notes)]


def _second_threshold(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    threshold = package.ways_out.second_threshold_m
    drift = package.site.if_given("drift_m")
    notes: tuple[Step, ...] = ()
    if drift is not None:
        side = "above" if threshold >= drift else "below"
        notes = (Step("{} {} the drift", (Amount(abs(threshold - drift), LENGTH), side)),)
    return [scheduled(package.ways_out, "second_exit_threshold_mm", LENGTH, notes)]


ONE_EXIT = 10
"""Most occupants for whom one exit may do [no.]. IBC 2021, 1006.2.1, of R-1; 20 of homes."""
DORMITORY_SLEEPERS = 5
"""From so many in one room it is reckoned a dormitory. Common practice."""


def _exits(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    floor = sum(gathered(package.rooms, lambda room: room.floor_m2))
    sleepers = gathered(package.rooms, lambda room: room.sleepers)
    is_dormitory = max(sleepers) >= DORMITORY_SLEEPERS
    each = space.DORMITORY_M2 if is_dormitory else space.DWELLING_M2
    by_floor, have = space.occupants(floor, each), package.ways_out.ways
    people = max(package.people, by_floor)
    need = 1 if people <= ONE_EXIT else 2
    kind = "a dormitory" if is_dormitory else "a dwelling"
    reckoned = (Amount(floor, FLOOR), kind, Amount(each, FLOOR), by_floor)
    steps = (
        Step("{} as {}, {} each: {} occupants", reckoned),
        Step("the more of these and {} people: {}, who need {}", (package.people, people, need)),
        Step("{} − {} = {}", (have, need, have - need)),
    )
    return [Measured(values=(have - need,), steps=steps)]


WAYS_OUT_CHECKS = (
    Check(
        slug="ways_out",
        title="Ways out of the sleeping area",
        topic="Ways out",
        measure=_ways,
        is_monotone=True,
        schedules=("ways_out", "doors"),
        formula="n",
        meaning="n independent ways out: one fire can't close both",
        citations=(PRACTICE, IRC_ESCAPE),
        limits="Counts what is said; whether they are independent, and open from inside without a "
        "key, the plan must show.",
        question="Ways out: {value}, against {target}. Fire at the stove: trace the second.",
        caution=_CAUTION,
    ),
    Check(
        slug="exits_by_count",
        title="Exits beyond those that so many people need",
        topic="Ways out",
        kinds=LIVED_KINDS,
        by_people=True,
        measure=_exits,
        schedules=("ways_out", "rooms", "site"),
        formula="n − (1 where P ≤ 10, else 2),  P = max(people, A ÷ a)",
        meaning="n independent ways out; A floor of all rooms; a 18.6 m² (200 ft²) of a dwelling, "
        "4.6 m² (50 ft²) where five or more sleep in a room",
        citations=(EXITS, OCCUPANTS, PRACTICE),
        limits="US buildings other than houses; of homes one exit does for 20. Floors as "
        "scheduled, walls not in them. How far two exits stand apart is a check of its own.",
        question="Exits less those needed: {value}, against {target}. Fire at the door: where do "
        "they go?",
        caution=_CAUTION,
    ),
    Check(
        slug="furthest_bunk",
        title="Furthest bunk to outside",
        topic="Ways out",
        scales=(DISTANCE,),
        measure=lambda package, _: [scheduled(package.ways_out, "furthest_m", DISTANCE)],
        is_monotone=True,
        schedules=("ways_out",),
        rule=Rule.AT_MOST,
        formula="d",
        meaning="d from the furthest bunk to outside, as a person walks it [m]",
        citations=(PRACTICE,),
        limits="As typed; walked around furniture, not in a straight line.",
        question="The furthest bunk is {value} from outside, against {target}, in the dark, with "
        "smoke. How?",
        caution=_CAUTION,
    ),
    Check(
        slug="second_exit_threshold",
        title="Second exit threshold above outside level",
        topic="Ways out",
        scales=(LENGTH,),
        measure=_second_threshold,
        is_monotone=True,
        schedules=("ways_out", "site"),
        formula="h",
        meaning="h threshold above the level outside [mm]",
        citations=(PRACTICE,),
        limits="Against the drift depth that the brief gives; a drift moves and hardens.",
        question="The second way out opens at {value}, against {target}. Dig from which side?",
        caution=_CAUTION,
    ),
)

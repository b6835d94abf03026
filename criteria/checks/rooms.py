"""Rooms by state: places to sleep and sit, passages, turning, and somewhere to be alone."""

from criteria.checks.check import Check
from criteria.checks.reading import all_that_hold, each_scheduled, gathered
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures.space import floor_per_person
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.people import Occupant
from criteria.schedules.states import AWAKE_KINDS, LIVED_KINDS, NIGHT
from criteria.sources import ADA_TABLE, ADA_TURN, IPMC_PASSAGE, PRACTICE
from criteria.typed.cells import lacking, require_some
from criteria.units import AREA, FLOOR, LENGTH

SHARED = ("day", "kitchen", "sleep", "lab", "work", "circulation")


def _sleeping_places(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    places = gathered(package.rooms, lambda room: room.sleepers)
    sleepers = [n for n in places if n]
    total, people = sum(sleepers), package.sleepers
    words = " + ".join(["{}"] * len(sleepers)) + " = {}"
    steps = (Step(words, (*sleepers, total)),) if sleepers else ()
    last = Step("{} − {} people", (total, people))
    return [Measured(values=(total - people,), steps=(*steps, last))]


def _people_by_day(package: Package) -> int:
    """Return everyone who is in by day, visitors and all, where the schedule says more."""
    listed: int = sum(gathered(package.rows_of(Occupant), lambda row: row.n))
    return max(listed, package.people)


def _floor_by_day(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total = sum(gathered(package.rooms_used_for(uses), lambda room: room.floor_m2))
    people = _people_by_day(package)
    value = floor_per_person(total, people)
    figures = (Amount(total, FLOOR), people, Amount(value, AREA))
    return [Measured(values=(value,), steps=(Step("{} ÷ {} people = {}", figures),))]


def _counted(package: Package, attribute: str) -> int:
    """Return how many of a column all furniture has; a piece that says none has none."""
    rows = [row for row in package.furniture if row.unless_blank(attribute) is not None]
    if not rows:
        label = next(c.label for c in Furniture.schedule.columns if c.attribute == attribute)
        raise lacking(f"{label} (furniture schedule)")
    return sum(gathered(rows, lambda row: row.n * getattr(row, attribute)))


def _day_seats(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    seats, people = _counted(package, "day"), _people_by_day(package)
    step = Step("{} seats − {} people", (seats, people))
    return [Measured(values=(seats - people,), steps=(step,))]


def _night_seats(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    seats = _counted(package, "seats_at_night")
    return [Measured(values=(seats,), steps=(Step("{} seats left at night", (seats,)),))]


def _hooks(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = [row for row in package.stowage if "wet" in (row.used_by or "").casefold()]
    require_some(rows, "a row for wet gear (stowage schedule)")
    hooks, people = sum(gathered(rows, lambda row: row.n)), package.people
    return [Measured(values=(hooks - people,), steps=(Step("{} − {} people", (hooks, people)),))]


def _passage(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return each_scheduled(package.rooms_used_for(uses or SHARED), "passage_mm", LENGTH)


def _turning(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or ("day", "wc"))
    circles = each_scheduled(rooms, "turning_mm", LENGTH)
    # one day room and one toilet that let a wheelchair turn are what is asked, not all of them
    found: list[Measured] = []
    for use in dict.fromkeys(circle.use for circle in circles):
        alike = [circle for circle in circles if circle.use == use]
        known = [circle for circle in alike if circle.values]
        found += [max(known, key=lambda circle: circle.values)] if known else alike
    return found


def _alone(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    said = [room for room in package.rooms if room.unless_blank("is_private") is not None]
    require_some(said, "Can be closed (room schedule)")
    closed = [room.title for room in said if room.is_private]
    names = ", ".join(room.if_given("name") or room.mark for room in said if room.is_private)
    return [Measured(values=(len(closed),), steps=(Step("{}", (names or "none",)),))]


def _sit_up(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    beds = [row for row in package.furniture if row.kind == "bed"]
    require_some(beds, "beds (furniture schedule)")
    return each_scheduled(beds, "above_mm", LENGTH)


RANGES_M = {
    "seat": (0.40, 0.48),
    "table": (0.71, 0.865),
    "desk": (0.71, 0.865),
    "worktop": (0.71, 0.92),
}
"""Least and most height by kind [m]. Tables as 2010 ADA 902.3; seats and worktops are practice."""


def _heights(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = [row for row in package.furniture if row.kind in RANGES_M]
    require_some(rows, "seats and tables (furniture schedule)")
    steps = []
    for row in rows:
        if (height := row.if_given("height_m")) is not None:
            least, most = (Amount(x, LENGTH) for x in RANGES_M[row.kind])
            figures = (row.mark, Amount(height, LENGTH), least, most)
            steps.append(Step("{}: {} within {} to {}", figures))
    return [all_that_hold(rows, _is_within, steps)]


def _is_within(row: Furniture) -> bool:
    least, most = RANGES_M[row.kind]
    return least * (1 - 1e-9) <= row.height_m <= most * (1 + 1e-9)


TURNING = Check(
    slug="turning_circle",
    title="Turning circle",
    topic="Access",
    kinds=LIVED_KINDS,
    scales=(LENGTH,),
    measure=_turning,
    schedules=("rooms",),
    uses=("day", "wc"),
    formula="d",
    meaning="d largest circle clear of everything, in the day room and one toilet [mm]",
    citations=(ADA_TURN,),
    limits="The best room of each use. Knee space under a table may count in it; T-turns are "
    "another way.",
    question="{name} turns a circle of {value}, against {target}. Draw the wheelchair in it.",
    caution="A teaching check: the local access code and a licensed architect decide.",
)

HEIGHTS = Check(
    slug="furniture_heights",
    title="Furniture within usual heights",
    topic="Furniture and change of use",
    kinds=LIVED_KINDS,
    measure=_heights,
    schedules=("furniture",),
    rule=Rule.ALL,
    formula="h_least ≤ h ≤ h_most",
    meaning="seats 400 to 480 mm, tables and desks 710 to 865 mm, worktops 710 to 920 mm",
    citations=(ADA_TABLE, PRACTICE),
    limits="Adults. Knee room is not in it; reach is a check of its own.",
    question="{value}: outside the usual heights. Who is it made for?",
)

ROOM_CHECKS = (
    Check(
        slug="floor_by_day",
        title="Floor for everyone who is in by day",
        topic="Space",
        by_people=True,
        kinds=AWAKE_KINDS,
        scales=(AREA,),
        measure=_floor_by_day,
        is_monotone=True,
        schedules=("rooms", "occupants", "site"),
        formula="a = Σ A_room ÷ n_p",
        meaning="A_room floor of each room [m²]; n_p everyone in by day, visitors and part-timers "
        "too",
        citations=(PRACTICE,),
        limits="All at once, on the fullest day.",
        question="{value} for each who is in by day, against {target}. Where do visitors wait?",
    ),
    Check(
        slug="sleeping_places",
        title="Sleeping places beyond people",
        topic="Space",
        by_people=True,
        kinds=(NIGHT,),
        measure=_sleeping_places,
        is_monotone=True,
        schedules=("rooms", "site"),
        formula="Σ n_s − n",
        meaning="n_s sleepers of each room; n people in the brief",
        citations=(PRACTICE,),
        limits="Places as scheduled; whether each is fit to sleep in is another check.",
        question="Sleeping places less people: {value}, against {target}. Who has no bed?",
    ),
    Check(
        slug="day_seats",
        title="Seats by day beyond people",
        topic="Space",
        by_people=True,
        kinds=AWAKE_KINDS,
        measure=_day_seats,
        is_monotone=True,
        schedules=("furniture", "occupants", "site"),
        formula="Σ(n · s) − n_p",
        meaning="n, s rows alike and seats of each by day; n_p everyone in by day, visitors too",
        citations=(PRACTICE,),
        limits="Seats as scheduled, at once.",
        question="Seats less people: {value}, against {target}. Who stands at supper?",
    ),
    Check(
        slug="night_seats",
        title="Seats left when the beds are made",
        topic="Space",
        kinds=(NIGHT,),
        measure=_night_seats,
        is_monotone=True,
        schedules=("furniture",),
        formula="Σ(n · s_night)",
        meaning="s_night seats of a row that are left at night",
        citations=(PRACTICE,),
        limits="As scheduled.",
        question="Seats left at night: {value}, against {target}. Where does someone sit who "
        "can't sleep?",
    ),
    Check(
        slug="wet_hooks",
        title="Hooks for wet gear beyond people",
        topic="Space",
        by_people=True,
        measure=_hooks,
        is_monotone=True,
        schedules=("stowage", "site"),
        formula="n_h − n",
        meaning="n_h places for wet gear in the stowage schedule; n people in the brief",
        citations=(PRACTICE,),
        limits="One hook each; drying is another matter.",
        question="Hooks less people: {value}, against {target}. Where do the wet coats go at six?",
    ),
    Check(
        slug="passage_width",
        title="Narrowest passage",
        topic="Space",
        kinds=LIVED_KINDS,
        scales=(LENGTH,),
        measure=_passage,
        is_monotone=True,
        schedules=("rooms",),
        uses=SHARED,
        formula="w",
        meaning="w narrowest place of the main way through a room [mm]",
        citations=(IPMC_PASSAGE, PRACTICE),
        limits="As scheduled. Two people with rucksacks want 900 mm or more (common practice).",
        question="{name} narrows to {value}, against {target}. Can two people pass, laden?",
    ),
    Check(
        slug="place_alone",
        title="Rooms that one person can close",
        topic="Space",
        kinds=LIVED_KINDS,
        measure=_alone,
        schedules=("rooms",),
        formula="n",
        meaning="n rooms marked as such in the room schedule",
        citations=(PRACTICE,),
        limits="A count; a good corner may do as well, and the plan shows it.",
        question="Rooms that close: {value}, against {target}. Where does one person go to be "
        "alone?",
    ),
    Check(
        slug="sit_up",
        title="Clear height over beds",
        topic="Space",
        kinds=(NIGHT,),
        scales=(LENGTH,),
        measure=_sit_up,
        is_monotone=True,
        schedules=("furniture",),
        formula="h",
        meaning="h mattress to what is over it [mm]",
        citations=(PRACTICE,),
        limits="900 mm lets most people sit up (common practice).",
        question="{name} has {value} over the mattress, against {target}. Who can sit up in it?",
    ),
)

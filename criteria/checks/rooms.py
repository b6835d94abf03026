"""Rooms by state: places to sleep and sit, passages, turning, and somewhere to be alone."""

from criteria.checks.check import Check, blank
from criteria.checks.reading import all_but, each, named, rows_missing
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures.space import floor_per_person
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.people import Occupant
from criteria.schedules.rooms import Room
from criteria.schedules.site import Site
from criteria.sources import ADA_TABLE, ADA_TURN, IPMC_PASSAGE, PRACTICE
from criteria.units import AREA, COUNT, FLOOR, LENGTH

SHARED = ("day", "kitchen", "sleep", "lab", "work", "circulation")


def _sleeping_places(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(("sleep",))
    missing = [*blank(Site.schedule, package.site, "people")]
    missing += [cell for room in rooms for cell in blank(Room.schedule, room, "sleepers")]
    if not package.rooms:
        missing += ["rows of the room schedule"]
    if missing:
        return [Measured(missing=tuple(missing))]
    sleepers = [room.sleepers or 0 for room in package.rooms if room.sleepers]
    total, people = sum(sleepers), package.site.people or 0
    words = " + ".join(["{}"] * len(sleepers)) + " = {}"
    steps = (Step(words, (*sleepers, total)),) if sleepers else ()
    difference = total - people
    return [Measured(values=(difference,), steps=(*steps, Step("{} − {} people", (total, people))))]


def _people_by_day(package: Package) -> tuple[int, tuple[str, ...]]:
    """Return everyone who is in by day, visitors and all, where the schedule says more."""
    listed = [row.n for row in package.occupants if row.n is not None]
    missing = blank(Site.schedule, package.site, "people") if not listed else ()
    missing += tuple(c for row in package.occupants for c in blank(Occupant.schedule, row, "n"))
    return max(sum(listed), package.site.people or 0), missing


def _floor_by_day(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses)
    people, missing = _people_by_day(package)
    missing += tuple(cell for room in rooms for cell in blank(Room.schedule, room, "floor_m2"))
    if not rooms:
        missing += ("rows of the room schedule",)
    if missing or not people:
        return [Measured(missing=missing or ("people (occupant schedule)",))]
    total = sum(room.floor_m2 or 0 for room in rooms)
    value = floor_per_person(total, people)
    figures = (Amount(total, FLOOR), people, Amount(value, AREA))
    return [Measured(values=(value,), steps=(Step("{} ÷ {} people = {}", figures),))]


def _counted(package: Package, head: str, attribute: str) -> tuple[int, tuple[str, ...]]:
    rows = [row for row in package.furniture if getattr(row, attribute) is not None]
    missing = [cell for row in rows for cell in blank(Furniture.schedule, row, "n")]
    if not rows:
        label = Furniture.schedule.column(head).label
        missing = [f"{label} (furniture schedule)"]
    return sum((row.n or 0) * getattr(row, attribute) for row in rows), tuple(missing)


def _day_seats(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.furniture:
        return rows_missing(Furniture.schedule)
    seats, missing = _counted(package, "day", "day")
    people, blanks = _people_by_day(package)
    if missing or blanks:
        return [Measured(missing=(*missing, *blanks))]
    step = Step("{} seats − {} people", (seats, people))
    return [Measured(values=(seats - people,), steps=(step,))]


def _night_seats(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.furniture:
        return rows_missing(Furniture.schedule)
    seats, missing = _counted(package, "seats_at_night", "seats_at_night")
    if missing:
        return [Measured(missing=missing)]
    return [Measured(values=(seats,), steps=(Step("{} seats left at night", (seats,)),))]


def _hooks(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = [row for row in package.stowage if "wet" in (row.used_by or "").casefold()]
    missing = blank(Site.schedule, package.site, "people")
    if not rows:
        missing += ("a row for wet gear (stowage schedule)",)
    missing += tuple(f"{row.mark}, No. (stowage schedule)" for row in rows if row.n is None)
    if missing:
        return [Measured(missing=missing)]
    hooks, people = sum(row.n or 0 for row in rows), package.site.people or 0
    return [Measured(values=(hooks - people,), steps=(Step("{} − {} people", (hooks, people)),))]


def _passage(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or SHARED)
    return each(Room.schedule, rooms, ("passage_mm",), lambda r: _typed(r.passage_m, "passage"))


def _turning(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or ("day", "wc"))
    known = [room for room in rooms if room.turning_m is not None]
    if not known:
        return [
            Measured(missing=blank(Room.schedule, room, "turning_mm"), **named(room))
            for room in rooms
        ]
    # one day room and one toilet that let a wheelchair turn are what is asked, not all of them
    best: dict[str, Room] = {}
    for room in known:
        held = best.get(room.use or "")
        if held is None or (room.turning_m or 0) > (held.turning_m or 0):
            best[room.use or ""] = room
    chosen = tuple(best.values())
    return each(Room.schedule, chosen, ("turning_mm",), lambda r: _typed(r.turning_m, "circle"))


def _typed(value: float | None, what: str) -> tuple[float, tuple[Step, ...]]:
    known = value or 0
    return known, (Step("{} as scheduled: {}", (what, Amount(known, LENGTH))),)


def _alone(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    said = [room for room in package.rooms if room.is_private is not None]
    if not said:
        return [Measured(missing=("Can be closed (room schedule)",))]
    closed = [room.name for room in said if room.is_private]
    return [Measured(values=(len(closed),), steps=(Step("{}", (", ".join(closed) or "none",)),))]


def _sit_up(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    beds = [row for row in package.furniture if row.kind == "bed"]
    if not beds:
        return [Measured(missing=("beds (furniture schedule)",))]
    return each(Furniture.schedule, beds, ("above_mm",), lambda b: _typed(b.above_m, "clear"))


RANGES_M = {"seat": (0.40, 0.48), "table": (0.71, 0.865), "desk": (0.71, 0.865),
            "worktop": (0.71, 0.92)}  # fmt: skip
"""Least and most height by kind [m]. Tables as 2010 ADA 902.3; seats and worktops are practice."""


def _heights(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = [row for row in package.furniture if row.kind in RANGES_M]
    if not rows:
        return [Measured(missing=("seats and tables (furniture schedule)",))]
    missing = [cell for row in rows for cell in blank(Furniture.schedule, row, "height_mm")]
    known = [row for row in rows if row.height_m is not None]
    if not known:
        return [Measured(missing=tuple(missing))]
    outside, steps = [], []
    for row in known:
        least, most = RANGES_M[row.kind or ""]
        height = row.height_m or 0
        figures = (row.mark, Amount(height, LENGTH), Amount(least, LENGTH), Amount(most, LENGTH))
        steps.append(Step("{}: {} within {} to {}", figures))
        if not least * (1 - 1e-9) <= height <= most * (1 + 1e-9):
            outside.append(row.mark)
    return [all_but(outside, missing, steps)]


SLEEPING_PLACES = Check(
    slug="sleeping_places",
    title="Sleeping places beyond people",
    topic="Space",
    scales=(COUNT,),
    measure=_sleeping_places,
    schedules=("rooms", "site"),
    is_count=True,
    formula="Σ n_s − n",
    meaning="n_s sleepers of each room; n people in the brief",
    citations=(PRACTICE,),
    limits="Places as scheduled; whether each is fit to sleep in is another check.",
    question="Sleeping places less people: {value}, against {target}. Who has no bed?",
)

FLOOR_BY_DAY = Check(
    slug="floor_by_day",
    title="Floor for everyone who is in by day",
    topic="Space",
    scales=(AREA,),
    measure=_floor_by_day,
    schedules=("rooms", "occupants", "site"),
    formula="a = Σ A_room ÷ n_p",
    meaning="A_room floor of each room [m²]; n_p everyone in by day, visitors and part-timers too",
    citations=(PRACTICE,),
    limits="All at once, on the fullest day.",
    question="{value} for each who is in by day, against {target}. Where do visitors wait?",
)

DAY_SEATS = Check(
    slug="day_seats",
    title="Seats by day beyond people",
    topic="Space",
    scales=(COUNT,),
    measure=_day_seats,
    schedules=("furniture", "occupants", "site"),
    is_count=True,
    formula="Σ(n · s) − n_p",
    meaning="n, s rows alike and seats of each by day; n_p everyone in by day, visitors too",
    citations=(PRACTICE,),
    limits="Seats as scheduled, at once.",
    question="Seats less people: {value}, against {target}. Who stands at supper?",
)

NIGHT_SEATS = Check(
    slug="night_seats",
    title="Seats left when the beds are made",
    topic="Space",
    scales=(COUNT,),
    measure=_night_seats,
    schedules=("furniture",),
    is_count=True,
    formula="Σ(n · s_night)",
    meaning="s_night seats of a row that are left at night",
    citations=(PRACTICE,),
    limits="As scheduled.",
    question="Seats left at night: {value}, against {target}. Where does someone sit who can't "
    "sleep?",
)

WET_HOOKS = Check(
    slug="wet_hooks",
    title="Hooks for wet gear beyond people",
    topic="Space",
    scales=(COUNT,),
    measure=_hooks,
    schedules=("stowage", "site"),
    is_count=True,
    formula="n_h − n",
    meaning="n_h places for wet gear in the stowage schedule; n people in the brief",
    citations=(PRACTICE,),
    limits="One hook each; drying is another matter.",
    question="Hooks less people: {value}, against {target}. Where do the wet coats go at six?",
)

PASSAGE = Check(
    slug="passage_width",
    title="Narrowest passage",
    topic="Space",
    scales=(LENGTH,),
    measure=_passage,
    schedules=("rooms",),
    uses=SHARED,
    formula="w",
    meaning="w narrowest place of the main way through a room [mm]",
    citations=(IPMC_PASSAGE, PRACTICE),
    limits="As scheduled. Two people with rucksacks want 900 mm or more (common practice).",
    question="{name} narrows to {value}, against {target}. Can two people pass with rucksacks on?",
)

TURNING = Check(
    slug="turning_circle",
    title="Turning circle",
    topic="Access",
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

ALONE = Check(
    slug="place_alone",
    title="Rooms that one person can close",
    topic="Space",
    scales=(COUNT,),
    measure=_alone,
    schedules=("rooms",),
    is_count=True,
    formula="n",
    meaning="n rooms marked as such in the room schedule",
    citations=(PRACTICE,),
    limits="A count; a good corner may do as well, and the plan shows it.",
    question="Rooms that close: {value}, against {target}. Where does one person go to be alone?",
)

SIT_UP = Check(
    slug="sit_up",
    title="Clear height over beds",
    topic="Space",
    scales=(LENGTH,),
    measure=_sit_up,
    schedules=("furniture",),
    formula="h",
    meaning="h mattress to what is over it [mm]",
    citations=(PRACTICE,),
    limits="900 mm lets most people sit up (common practice).",
    question="{name} has {value} over the mattress, against {target}. Who can sit up in it?",
)

HEIGHTS = Check(
    slug="furniture_heights",
    title="Furniture within usual heights",
    topic="Furniture and change of use",
    scales=(COUNT,),
    measure=_heights,
    schedules=("furniture",),
    rule=Rule.ALL,
    is_count=True,
    formula="h_least ≤ h ≤ h_most",
    meaning="seats 400 to 480 mm, tables and desks 710 to 865 mm, worktops 710 to 920 mm",
    citations=(ADA_TABLE, PRACTICE),
    limits="Adults. Knee room is not in it; reach is a check of its own.",
    question="{value}: outside the usual heights. Who is it made for?",
)

ROOM_CHECKS = (
    FLOOR_BY_DAY,
    SLEEPING_PLACES,
    DAY_SEATS,
    NIGHT_SEATS,
    WET_HOOKS,
    PASSAGE,
    ALONE,
    SIT_UP,
)

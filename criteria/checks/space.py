"""Floor, height and air for the people who are really there."""

from collections.abc import Sequence

from criteria.checks.check import Check
from criteria.checks.reading import each_scheduled, gathered, of_each
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import space
from criteria.package import Package
from criteria.schedules.rooms import HABITABLE, LIVED_IN, USES, Room
from criteria.schedules.states import LIVED_KINDS, NIGHT
from criteria.sources import IRC_CEILING, IRC_ROOM, NDSS_HEADROOM, PRACTICE, SPHERE_SPACE
from criteria.typed.cells import require_some
from criteria.units import AREA, FLOOR, ROOM_LENGTH, VOLUME

_NOT_LIVING = ("kitchen", "wc", "plant", "store", "circulation")
_LIVING = tuple(use for use in USES if use not in _NOT_LIVING)


def _floor(rooms: Sequence[Room]) -> tuple[float, Step]:
    """Return the floor of rooms together [m²] and its working."""
    require_some(rooms, "rooms of the uses that are counted (room schedule)")
    floors = gathered(rooms, lambda room: room.floor_m2)
    words = " + ".join(["{}"] * len(rooms)) + " = {}"
    total = sum(floors)
    return total, Step(words, (*(Amount(f, FLOOR) for f in floors), Amount(total, FLOOR)))


def _floor_area(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, step = _floor(package.rooms_used_for(uses))
    return [Measured(values=(total,), steps=(step,))]


def _per_person(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, step = _floor(package.rooms_used_for(uses))
    people = package.people
    value = space.floor_per_person(total, people)
    last = Step("{} ÷ {} people = {}", (Amount(total, FLOOR), people, Amount(value, AREA)))
    return [Measured(values=(value,), steps=(step, last))]


def _floor_per_sleeper(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    # One person alone in a room is a question of the room's least size, not of sharing.
    return of_each([room for room in package.slept_in if room.sleepers > 1], _floor_each)


def _floor_each(room: Room) -> Measured:
    floor, low, n = room.floor_m2, room.low_headroom_m2, room.sleepers
    value = space.floor_per_sleeper(floor, low, n)
    amounts = (Amount(floor, FLOOR), Amount(low, FLOOR), n, Amount(value, AREA))
    return Measured(values=(value,), steps=(Step("({} − {}) ÷ {} sleepers = {}", amounts),))


def _volume_each(room: Room) -> Measured:
    floor, height, n = room.floor_m2, room.clear_height_m, room.sleepers
    value = space.air_volume_per_sleeper(floor, height, n)
    amounts = (Amount(floor, FLOOR), Amount(height, ROOM_LENGTH), n, Amount(value, VOLUME))
    return Measured(values=(value,), steps=(Step("{} × {} ÷ {} sleepers = {}", amounts),))


def _room_floor(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return each_scheduled(package.rooms_used_for(uses or HABITABLE), "floor_m2", FLOOR)


def _clear_height(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return each_scheduled(package.rooms_used_for(uses or LIVED_IN), "clear_height_m", ROOM_LENGTH)


SPACE_CHECKS = (
    Check(
        slug="floor_area",
        title="Floor area indoors",
        topic="Space",
        kinds=LIVED_KINDS,
        scales=(FLOOR,),
        measure=_floor_area,
        is_monotone=True,
        schedules=("rooms",),
        uses=USES,
        rule=Rule.AT_MOST,
        formula="A = Σ A_room",
        meaning="A_room floor of each room, inside its walls [m²]",
        citations=(PRACTICE,),
        limits="Inside faces of walls as scheduled; partitions and ducts are not in it.",
        question="Indoors it is {value}, and the brief allows {target}. Which room gives way?",
    ),
    Check(
        slug="floor_per_person",
        title="Floor area per person",
        topic="Space",
        by_people=True,
        kinds=LIVED_KINDS,
        scales=(AREA,),
        measure=_per_person,
        is_monotone=True,
        schedules=("rooms", "site"),
        uses=USES,
        formula="a = Σ A_room ÷ n",
        meaning="A_room floor of each room [m²]; n people in the brief, not in the schedule",
        citations=(SPHERE_SPACE,),
        limits="People are the brief's, so that a forgotten warden doesn't enlarge it.",
        question="{value} for each person at full house, against {target}. Where do they all sit "
        "when it rains?",
    ),
    Check(
        slug="living_floor_per_person",
        title="Living floor per person",
        topic="Space",
        by_people=True,
        kinds=LIVED_KINDS,
        scales=(AREA,),
        measure=lambda package, uses: _per_person(package, uses or _LIVING),
        is_monotone=True,
        schedules=("rooms", "site"),
        uses=_LIVING,
        formula="a = Σ A_living ÷ n",
        meaning="A_living floor of rooms less cooking, washing, plant and passage [m²]; n people "
        "in the brief",
        citations=(SPHERE_SPACE,),
        limits="An indicator to be adapted to the place; cold climates ask more, 4.5 to 5.5 m² "
        "with cooking and washing included.",
        question="{value} of living floor each, against {target}. What is outside that should be "
        "in?",
    ),
    Check(
        slug="floor_per_sleeper",
        title="Floor per sleeper",
        topic="Space",
        kinds=(NIGHT,),
        scales=(AREA,),
        measure=_floor_per_sleeper,
        is_monotone=True,
        schedules=("rooms",),
        formula="a = (A − A_low) ÷ n",
        meaning="A floor of the sleeping room [m²]; A_low part under 1.5 m headroom [m²]; n "
        "sleepers",
        citations=(NDSS_HEADROOM,),
        limits="Rooms that two or more people share. Bunks one above the other share one floor.",
        question="{value} each in {name}, against {target}. Who gets up first, and over whom?",
    ),
    Check(
        slug="air_volume_per_sleeper",
        title="Air volume per sleeper",
        topic="Air",
        kinds=(NIGHT,),
        scales=(VOLUME,),
        measure=lambda package, _: of_each(package.slept_in, _volume_each),
        is_monotone=True,
        schedules=("rooms",),
        formula="v = A · h ÷ n",
        meaning="A floor of the sleeping room [m²]; h clear height [m]; n sleepers",
        citations=(PRACTICE,),
        limits="A volume isn't a supply: it delays stale air and doesn't replace fresh air.",
        question="{value} of air each in {name}, against {target}. Would you sleep here with the "
        "door shut?",
    ),
    Check(
        slug="room_floor",
        title="Least room floor",
        topic="Space",
        scales=(FLOOR,),
        measure=_room_floor,
        is_monotone=True,
        schedules=("rooms",),
        uses=HABITABLE,
        formula="A",
        meaning="A floor of the room [m²]",
        citations=(IRC_ROOM,),
        limits="Kitchens are excepted. Floor under a slope lower than 5 ft is excepted by R304.3, "
        "which this check does not deduct.",
        question="{name} is {value}; the least is {target}. What happens in it that needs no more?",
    ),
    Check(
        slug="clear_height",
        title="Clear height",
        topic="Space",
        kinds=LIVED_KINDS,
        scales=(ROOM_LENGTH,),
        measure=_clear_height,
        is_monotone=True,
        schedules=("rooms",),
        uses=LIVED_IN,
        formula="h",
        meaning="h finished floor to ceiling, or the mean under a slope [m]",
        citations=(IRC_CEILING, SPHERE_SPACE),
        limits="Under a slope, codes count shares of the floor at a height; the mean is a first "
        "look.",
        question="{name} is {value} high, against {target}. Who hits their head, and where?",
    ),
)

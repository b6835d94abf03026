"""The way of somebody who can't climb: in by the main exit, to a bed and to a toilet."""

from functools import partial

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.checks.ways import LIMITS, TOPIC, beds_of
from criteria.checks.widths import (
    NOWHERE,
    Reached,
    To,
    begun,
    fronts_of,
    to_each,
    to_toilet,
    width_of,
)
from criteria.findings import Measured, Step
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.people import Occupant
from criteria.schedules.rooms import Room
from criteria.schedules.states import NIGHT
from criteria.sources import ADA_DOOR, PRACTICE, ROUTE
from criteria.typed.cells import require_some
from criteria.units import LENGTH
from criteria.walking.of_package import start_of, storeys_of
from criteria.walking.storeys import Storey


def _way_step_free(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys = storeys_of(package)
    beds = [bed for bed in beds_of(package) if bed.unless_blank("reached_by") in (None, "floor")]
    require_some(beds, "a bed that is got into from the floor (furniture schedule)")
    toilets = [room for room in package.rooms if room.use == "wc"]
    require_some(toilets, "a toilet, a room of use wc (room schedule)")
    need = max(1, sum(gathered(package.rows_of(Occupant), lambda row: row.step_free)))

    fronts = fronts_of(beds)

    def reached(storey: Storey, to: To) -> Reached:
        if storey.level:
            return Reached(0.0, Step("on level {}, over a climb", (storey.level,)), NOWHERE)
        gate, opened = start_of(storey, package)
        return to(storey, opened, gate.before)

    def to_bed(bed: Furniture) -> Measured:
        storey, _ = storeys.of_piece(bed)
        best = reached(storey, partial(to_each, fronts, bed))
        return width_of(package, storey, bed.mark, best, begun(storey, package))

    def to_room(room: Room) -> Measured:
        storey = storeys.of(room.mark)
        places = [place for place in storey.places if place.room == storeys.whole(room.mark)]
        found = [reached(storey, partial(to_toilet, place)) for place in places]
        best = max(found, key=lambda each: each.width_m)
        return width_of(package, storey, room.mark, best, begun(storey, package))

    return [*_best(of_each(beds, to_bed), need), *_best(of_each(toilets, to_room), 1)]


def _widest_first(measured: Measured) -> tuple[float, str]:
    return -measured.values[0], measured.subject


def _best(found: list[Measured], need: int) -> list[Measured]:
    """Keep as many of the widest as are needed; what has no figure only where they are too few."""
    known = sorted((each for each in found if each.values), key=_widest_first)
    lacking = [each for each in found if not each.values]
    return known[:need] if len(known) >= min(need, len(found)) else [*known, *lacking]


WAY_STEP_FREE = Check(
    slug="way_step_free",
    title="Step-free way to a bed and a toilet",
    topic=TOPIC,
    kinds=(NIGHT,),
    scales=(LENGTH,),
    measure=_way_step_free,
    schedules=("furniture", "rooms", "doors", "occupants", "furniture_by_state"),
    formula="w = max over ways of min(gap along the way)",
    meaning="w diameter of the largest disc that comes from before the main exit to each bed on "
    "the floor for those who need one, the widest reached of them, and to the best toilet [mm]",
    citations=(ROUTE, ADA_DOOR, PRACTICE),
    limits=LIMITS + " Turns, thresholds and ramps are checks of their own; 32 in does for 24 in "
    "along, 36 in elsewhere.",
    question="The step-free way to {name} is {value}, against {target}. What moves?",
    caution="A teaching check: the local access code and a licensed architect decide.",
)

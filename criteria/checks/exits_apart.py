"""How far apart two exits stand on the plan, beside the diagonal of what they serve."""

import math
from itertools import combinations

from criteria.checks.check import Check
from criteria.checks.ways import CAUTION, TOPIC
from criteria.checks.ways_out import EXIT_W_M
from criteria.checks.widths import ask_places, left_out, to_door, unplaced
from criteria.findings import SAME, Amount, Measured, Step
from criteria.package import Package
from criteria.schedules.states import LIVED_KINDS
from criteria.sources import EXITS_APART, PRACTICE
from criteria.typed.cells import Lacking, require_some
from criteria.units import LENGTH, RATIO, ROOM_LENGTH
from criteria.walking.of_package import gates_out, lost_door_cells, start_of, storeys_of
from criteria.walking.storeys import Gate, Storey

WAY_M = 0.55
"""An exit to which the way is narrower is closed [m]. Common practice."""


def _apart(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys = storeys_of(package)
    rooms = sorted(package.rooms, key=lambda room: room.mark)
    floor = [room for room in rooms if not storeys.rooms[storeys.whole(room.mark)].level]
    require_some(floor, "a room on the floor by the door (room schedule)")
    if len(floor) > 1:
        ask_places(package, [room.mark for room in floor])
    storey = storeys.of(floor[0].mark)
    if cells := lost_door_cells(storey, package):  # it may be the one that stands apart
        raise Lacking(*cells)
    first, opened = start_of(storey, package)
    steps: list[Step] = []

    def is_open(gate: Gate) -> bool:
        if gate.width_m < EXIT_W_M * (1 - SAME):
            sizes = Amount(gate.width_m, LENGTH), Amount(EXIT_W_M, LENGTH)
            steps.append(Step("{} is climbed through: {}, of {}", (gate.mark, *sizes)))
            return False
        if gate.mark == first.mark:
            return True
        way = to_door(gate, storey, opened, first.before)
        if way.width_m < WAY_M * (1 - SAME):
            sizes = Amount(way.width_m, LENGTH), Amount(WAY_M, LENGTH)
            words = "{} is closed: the way to it is {}, {}, of {}"
            steps.append(Step(words, (gate.mark, sizes[0], way.between, sizes[1])))
            return False
        return True

    exits = [gate for gate in gates_out(storey) if is_open(gate)]
    across = _diagonal_m(storey)
    pairs = list(combinations(exits, 2))
    best = max(pairs, key=_apart_m, default=None)
    value = _apart_m(best) / across if best else 0.0
    if best:
        sizes = Amount(_apart_m(best), ROOM_LENGTH), Amount(across, ROOM_LENGTH)
        marks = (best[0].mark, best[1].mark)
        steps.insert(0, Step("{} to {}: {} ÷ {} = {}", (*marks, *sizes, Amount(value, RATIO))))
    else:
        alone = exits[0].mark if exits else "none"
        steps.insert(0, Step("exits that are open: {}", (alone,)))
    notes = (*steps[:1], *left_out(storey))
    return [Measured(values=(value,), steps=tuple(steps), missing=unplaced(storey), notes=notes)]


def _apart_m(pair: tuple[Gate, Gate]) -> float:
    return math.dist(pair[0].middle, pair[1].middle)


def _diagonal_m(storey: Storey) -> float:
    """The longest straight line across all rooms of a storey [m]."""
    corners = [
        corner
        for place in storey.places
        for out in ((0.0, 1.0), (0.0, -1.0))
        for corner in place.side(out)
    ]
    return max(math.dist(*pair) for pair in combinations(corners, 2))


EXITS_APART_CHECK = Check(
    slug="exits_apart",
    title="Two exits apart, of the diagonal of the plan",
    topic=TOPIC,
    kinds=LIVED_KINDS,
    scales=(RATIO,),
    measure=_apart,
    schedules=("rooms", "doors", "furniture", "furniture_by_state", "openings_by_state"),
    formula="d ÷ D",
    meaning="d between the middles of the two exits that stand furthest apart, of those that are "
    "open then; D longest straight line across the rooms of the floor by the door [m]",
    citations=(EXITS_APART, PRACTICE),
    limits="Half is asked of two exits, a third under sprinklers. On the plan, between inside "
    "faces. A door of less than 750 mm is climbed through, and one to which furniture leaves less "
    "than 550 mm is closed (common practice). Doors of upper rooms are not in it.",
    question="Two exits stand {value} of the plan's diagonal apart, against {target}. Which fire "
    "closes both?",
    caution=CAUTION,
)

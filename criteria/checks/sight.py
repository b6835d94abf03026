"""Which beds see each other at night, on the plan."""

from functools import partial
from itertools import combinations

from criteria.checks.check import Check
from criteria.checks.escape import any_holds
from criteria.checks.reading import gathered
from criteria.checks.ways import beds_of
from criteria.checks.widths import left_out
from criteria.findings import Measured, Step
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.states import NIGHT
from criteria.sources import PRACTICE
from criteria.typed.cells import require_some
from criteria.walking.beside import covers, crossed
from criteria.walking.bodies import Body
from criteria.walking.of_package import storeys_of
from criteria.walking.storeys import Storey

SCREENS_M = 1.2
"""What is as high screens somebody who lies or sits in bed [m]. Common practice."""
UNDER_M = 0.45
"""What is open higher under it than a mattress lies doesn't [m]. Common practice."""

Placed = tuple[Furniture, tuple[Storey, Body]]


def _out_of_sight(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys, beds = storeys_of(package), beds_of(package)
    require_some(beds[1:], "a second bed (furniture schedule)")
    placed: list[Placed] = list(zip(beds, gathered(beds, storeys.of_piece), strict=True))
    pieces = {piece.mark: piece for piece in package.rows_of(Furniture)}
    steps: list[Step] = []

    def screens(mark: str) -> bool:
        piece = pieces.get(mark)
        return piece is None or (piece.height_m >= SCREENS_M and piece.under_m <= UNDER_M)

    def is_screened(pair: tuple[Placed, Placed]) -> bool:
        (one, (here, first)), (other, (there, second)) = pair
        if here.level != there.level:
            words, found = "{} and {} lie on two levels: taken to see each other", False
        elif here != there:
            words, found = "{} and {} lie in two rooms", True
        elif covers(first, second.middle):
            words, found = "{} and {} lie one over the other", True
        else:
            between = crossed(here, first, second)
            found = any_holds([partial(screens, mark) for mark in between])
            words = "{} and {} are screened" if found else "{} and {} see each other"
        steps.append(Step(words, (one.mark, other.mark)))
        return found

    found = gathered(combinations(placed, 2), is_screened)
    on = dict.fromkeys(storey for _, (storey, _) in placed)
    notes = tuple(note for storey in on for note in left_out(storey))
    return [Measured(values=(sum(found),), steps=tuple(steps), notes=notes)]


BEDS_OUT_OF_SIGHT = Check(
    slug="beds_out_of_sight",
    title="Pairs of beds out of each other's sight",
    topic="Space",
    kinds=(NIGHT,),
    measure=_out_of_sight,
    schedules=("furniture", "rooms", "doors", "furniture_by_state"),
    formula="n",
    meaning="n pairs of beds between whose middles a wall stands, a shut door, or furniture of at "
    "least 1.2 m; or of which one lies over the other",
    citations=(PRACTICE,),
    limits="On the plan, middle to middle: who sits up sees more. Curtains that nobody typed as "
    "furniture, and beds alike that have one place between them, are not in it. Sound is not: a "
    "folding wall hides and is heard through.",
    question="Pairs of beds that don't see each other: {value}, against {target}. Where does "
    "somebody change?",
)

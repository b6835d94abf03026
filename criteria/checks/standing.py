"""How a building stands in each state: what tips it, what each leg carries, water on its floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import water
from criteria.measures.ground import GRAVITY_M_S2
from criteria.measures.water import WATER_KG_M3
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.standing import Leg
from criteria.schedules.states import LIVED_KINDS, PACKED_KINDS
from criteria.schedules.water import Tank
from criteria.situations import Situation, states_of
from criteria.sources import PRACTICE
from criteria.standing.legs import leg_loads
from criteria.standing.tipping import Edge, Part, centre_of_mass, leaning
from criteria.typed.cells import Cell, Lacking, lacking, require_some
from criteria.units import LENGTH, MASS, PRESSURE, RATIO, ROOM_LENGTH, SHARE
from criteria.walking.bodies import Point

PERSON_KG = 75.0
"""One person [kg]. Common practice."""

_CAUTION = "Preliminary: a licensed engineer decides what stands, tips and carries."
WET = ("potable", "grey", "black", "rain", "urine")
"""What stands in a tank as high as it is full."""


def middle(piece: Piece, package: Package) -> Point:
    """Return where a piece weighs [m]: its own middle, else that of the piece it stands in."""
    pieces = {each.mark: each for each in package.pieces}
    held, passed = piece, [piece.mark]
    while (into := held.packs_into) and into in pieces:
        if into in passed:
            raise lacking(f"a piece that {into} does not itself stand in (piece schedule)")
        if not has_own_place(piece, package):
            piece = pieces[into]
        held = pieces[into]
        passed.append(into)
    if not has_own_place(piece, package):
        raise lacking(f"a place for {piece.mark}: {piece.packs_into}, which holds it, isn't there")
    return piece.at_x_m + piece.length_m / 2, piece.at_y_m + piece.width_m / 2


def has_own_place(piece: Piece, package: Package) -> bool:
    """Whether a piece stands where its own row says, and not somewhere in another.

    The place of the piece schedule is that of what is set up: it says nothing of a piece that is
    packed, or put into another in a state.
    """
    if not piece.packs_into or piece.is_of_state("at_x_m"):
        return True
    is_packed = package.state is not None and package.state.kind in PACKED_KINDS
    is_put_away = is_packed or piece.is_of_state("packs_into")
    return not is_put_away and piece.unless_blank("at_x_m") is not None


def parts_of(package: Package) -> list[Part]:
    """Return everything that weighs: pieces where they stand, tanks as full as they are."""
    return [*piece_parts(package), *tank_parts(package)]


def piece_parts(package: Package) -> list[Part]:
    """Return the pieces as they weigh and stand.

    Raises Lacking, and says which part of the mass is known where some isn't.
    """
    try:
        return gathered(
            package.pieces,
            lambda piece: Part(piece.n * piece.mass_kg, middle(piece, package), piece.mark),
        )
    except Lacking as lacks:
        raise Lacking(*lacks.cells, *_known_share(package, lacks)) from None


def tank_parts(package: Package) -> list[Part]:
    """Return the tanks that aren't empty, by what stands in them."""
    return gathered(
        [tank for tank in package.rows_of(Tank) if tank.full_share],
        lambda tank: Part(
            water.water_mass(tank.volume_m3) * tank.full_share,
            (tank.at_x_m, tank.at_y_m),
            tank.mark,
        ),
    )


def _known_share(package: Package, lacks: Lacking) -> tuple[Cell, ...]:
    if not any(cell.head == "kg_each" for cell in lacks.cells):
        return ()
    each = [(piece.if_given("n"), piece.if_given("mass_kg")) for piece in package.pieces]
    masses = [n * mass for n, mass in each if None not in (n, mass)]
    total = package.supports.if_given("mass_kg")
    known = f"{len(masses)} of {len(each)} pieces have theirs"
    if total:
        known = f"{min(1.0, sum(masses) / total):.0%} of the mass empty (supports) is given"
    return (Cell(where=f"the rest of the mass: {known.replace('%', ' %')}"),)


def _feet(package: Package) -> list[Point]:
    require_some(package.legs, "a leg that is down (legs)")
    return gathered(package.legs, lambda leg: foot_of(leg, package))


def foot_of(leg: Leg, package: Package) -> Point:
    """Return where a leg stands [m]: its own place, moved along with the piece it is fixed to."""
    if leg.under is None:
        return leg.at_x_m, leg.at_y_m
    x, y = offset_of(leg, package)
    pieces = {piece.mark: piece for piece in package.pieces}
    if leg.under not in pieces:
        raise lacking(f"a place for {leg.mark}: {leg.under}, to which it is fixed, isn't there")
    at = middle(pieces[leg.under], package)
    return at[0] + x, at[1] + y


def offset_of(leg: Leg, package: Package) -> Point:
    """Return how far a leg is from the middle of the piece it is fixed to, as set up [m]."""
    base = package.as_built or package
    piece = next(piece for piece in base.pieces if piece.mark == leg.under)
    at = middle(piece, base)
    return leg.at_x_m - at[0], leg.at_y_m - at[1]


def corners_of(piece: Piece) -> list[Point]:
    """Return the corners on plan of a piece that has a place of its own."""
    x, y, length, width = piece.at_x_m, piece.at_y_m, piece.length_m, piece.width_m
    return [(x, y), (x + length, y), (x + length, y + width), (x, y + width)]


def _outline(package: Package) -> list[Point]:
    """Return the corners of what stands on its own: people may come to any of them."""
    alone = [piece for piece in package.pieces if has_own_place(piece, package)]
    return [corner for piece in alone for corner in corners_of(piece)]


def _in_feet(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    parts, feet, people = parts_of(package), _feet(package), package.people
    crowd = people * PERSON_KG
    corners = sorted(set(_outline(package))) if crowd else [centre_of_mass(parts)]
    edge, corner = min(
        leaning(parts, feet, crowd, corners), key=lambda way: (way[0].margin_m, way[1])
    )
    weight = Amount(crowd, MASS)
    steps = (
        centre_of(parts),
        *_packed(package),
        Step("with {} people, {}, at {} across, {} up", (people, weight, *place_of(corner))),
        Step(
            "{} inside the edge from {}, {} to {}, {}",
            (Amount(edge.margin_m, LENGTH), *place_of(edge.start), *place_of(edge.end)),
        ),
    )
    return [Measured(values=(edge.margin_m,), steps=steps, notes=(held_down(edge),))]


def centre_of(parts: Sequence[Part]) -> Step:
    """Say what parts weigh together, and where their centre is."""
    total = Amount(sum(part.mass_kg for part in parts), MASS)
    where = place_of(centre_of_mass(parts))
    return Step("{} in all, its centre at {} across, {} up", (total, *where))


def _packed(package: Package) -> Iterator[Step]:
    """Say beside it where the centre is in each state in which the building is packed."""
    base = package.as_built or package
    for state in states_of(base, PACKED_KINDS):
        try:
            there = centre_of(parts_of(Situation(state).of(base)))
        except (Lacking, InputError):
            there = Step("not known")
        yield Step("{}: {}", (state.state, there))


def held_down(edge: Edge) -> Step:
    """Say by how much what holds a building down is more than what turns it over an edge."""
    if not edge.overturning_kg_m:
        return Step("nothing weighs beyond that edge")
    words = "what holds it down is {} times what turns it over that edge"
    return Step(words, (Amount(edge.ratio, RATIO),))


def place_of(point: Point) -> tuple[Amount, Amount]:
    """A place on plan, across and up, as it is written."""
    return Amount(point[0], ROOM_LENGTH), Amount(point[1], ROOM_LENGTH)


def _leg_load(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    parts, feet = parts_of(package), _feet(package)
    crowd = Part(package.people * PERSON_KG, centre_of_mass(parts))
    found = []
    for leg, load in zip(package.legs, leg_loads([*parts, crowd], feet), strict=True):
        low, high, alike = (Amount(x, MASS) for x in (load.low_kg, load.high_kg, load.alike_kg))
        steps = (
            Step("{} where all legs give alike", (alike,)),
            Step("{} to {} where each gives a third more or less than the others", (low, high)),
        )
        most = Step("{} if the ground under another gives", (Amount(load.most_kg, MASS),))
        one = Measured(subject=leg.mark, values=(load.high_kg,), steps=steps, notes=(most,))
        found.append(one)
    return found


def _under_water(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(tank: Tank) -> Measured:
        pressure = WATER_KG_M3 * GRAVITY_M_S2 * tank.height_m * tank.full_share
        figures = (Amount(tank.height_m, ROOM_LENGTH), Amount(tank.full_share, SHARE))
        step = Step("{} × {} as heavy as water × g = {}", (*figures, Amount(pressure, PRESSURE)))
        return Measured(values=(pressure,), steps=(step,))

    return of_each([tank for tank in package.tanks if tank.holds in WET], figure)


STANDING_CHECKS = (
    Check(
        slug="centre_in_feet",
        title="Centre of mass inside the feet",
        topic="Ground",
        scales=(LENGTH,),
        measure=_in_feet,
        schedules=("pieces", "pieces_by_state", "tanks", "legs", "legs_by_state", "site"),
        kinds=LIVED_KINDS,
        by_people=True,
        near=0.0,
        formula="e = least distance of Σ(m · r) ÷ Σm from an edge of the feet",
        meaning="m mass of pieces, of water and of all people at the worst corner [kg]; r where "
        "each weighs on the plan [m]; below nought it tips",
        citations=(PRACTICE,),
        limits="A rigid body, level, without wind, snow or furniture. Boxes weigh in their middle. "
        "Between two steps of setting up it may stand worse: that is a check of its own.",
        question="The centre is {value} inside its feet, against {target}, with everybody in one "
        "corner. What holds it before the last leg is down?",
        caution=_CAUTION,
    ),
    Check(
        slug="leg_load",
        title="Load of one leg",
        topic="Ground",
        scales=(MASS,),
        measure=_leg_load,
        schedules=("pieces", "pieces_by_state", "tanks", "legs", "legs_by_state", "site"),
        kinds=LIVED_KINDS,
        by_people=True,
        rule=Rule.AT_MOST,
        formula="N = k · (q₀ + q₁·x + q₂·y), k of each leg × (1 ± 0.3)",
        meaning="N what a leg carries [kg]; k how stiff it is; q how the body sinks and leans "
        "[m, 1]; x, y where the leg stands [m]; the most of all ways in which legs may differ",
        citations=(PRACTICE,),
        limits="A rigid body on legs that only push; people stand in its middle. Wind and snow "
        "are not in it. Pads, sockets and ground are an engineer's.",
        question="{name} carries {value}, against {target}. What is under its pad?",
        caution=_CAUTION,
    ),
    Check(
        slug="floor_under_water",
        title="Pressure of water on its floor",
        topic="Ground",
        scales=(PRESSURE,),
        measure=_under_water,
        is_monotone=True,
        schedules=("tanks",),
        kinds=LIVED_KINDS,
        rule=Rule.AT_MOST,
        formula="p = ρ · g · h · s",
        meaning="ρ density of water, 1,000 kg/m³; g 9.81 m/s²; h height of the tank [m]; s part "
        "of it that is full [1]; whatever its thickness",
        citations=(PRACTICE,),
        limits="Straight under the tank. A floor of 1.9 kPa (40 psf) is usual in dwellings (from "
        "memory); sideways the water presses too.",
        question="{name} stands {value} on its floor, against {target}. What is the floor "
        "reckoned for?",
        caution=_CAUTION,
    ),
)

"""Pieces: sizes, masses and the number of lifts."""

from criteria.checks.check import Check
from criteria.checks.reading import all_that_hold, gathered, of_each
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.measures import moving
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.site import Site
from criteria.schedules.states import PACKED_KINDS
from criteria.sources import HAND_LIFT, HAND_TEAM, PRACTICE
from criteria.typed.cells import lacking
from criteria.units import MASS, ROOM_LENGTH, TOTAL_MASS

_CAUTION = "Lifting and carrying: a licensed rigger plans every lift."


def piece_limits(site: Site) -> tuple[float, float, float]:
    """Return the largest length, width and height that can be brought [m]."""
    return site.piece_l_m, site.piece_w_m, site.piece_h_m


def _sides(sizes_m: tuple[float, float, float]) -> Step:
    return listed([Amount(size, ROOM_LENGTH) for size in sizes_m], " × ")


def _envelope(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    limits = piece_limits(package.site)
    steps = [Step("limit {}", (_sides(limits),))]

    def fits(piece: Piece) -> bool:
        is_within = moving.fits_in_order(piece.sizes_m, limits)
        if not is_within:
            steps.append(Step("{}: {}", (piece.mark, _sides(piece.sizes_m))))
        return is_within

    return [all_that_hold(package.pieces, fits, steps)]


def packed_in(package: Package, piece: Piece) -> tuple[Piece, ...]:
    """Return the pieces that travel in a piece."""
    return tuple(inner for inner in package.pieces if inner.packs_into == piece.mark)


def holder(package: Package, piece: Piece) -> Piece:
    """Return the piece that one travels in. Raises Lacking where that isn't there."""
    for outer in package.pieces:
        if outer.mark == piece.packs_into:
            return outer
    raise lacking(f"{piece.mark}, Packs into (piece schedule): a piece that is there")


def lifted(package: Package) -> tuple[Piece, ...]:
    """Return the pieces that travel in no other: each is one lift, with all that is in it."""
    for piece in package.pieces:
        passed, outer = {piece.mark}, piece
        while outer.packs_into:
            outer = holder(package, outer)
            if outer.mark in passed:
                where = f"{piece.mark}, Packs into (piece schedule): a piece that isn't inside it"
                raise lacking(where)
            passed.add(outer.mark)
    return tuple(piece for piece in package.pieces if not piece.packs_into)


def lift_mass(package: Package, piece: Piece) -> tuple[float, Step]:
    """Return the mass of one of a piece with all that is packed in it [kg], and its working.

    Where a piece comes several times, what packs into them is shared out among them; the one
    that holds most counts.
    """
    inner = packed_in(package, piece)
    if not inner:
        return piece.mass_kg, Step(
            "{}: {} each as scheduled", (piece.mark, Amount(piece.mass_kg, MASS))
        )
    total = piece.mass_kg
    parts: list[Amount | int | str] = [piece.mark, Amount(total, MASS)]
    for each in inner:
        n, mass = -(-each.n // piece.n), lift_mass(package, each)[0]
        total += n * mass
        parts += [n, each.mark, Amount(mass, MASS)]
    words = "{}: {}" + " + {} × {} {}" * len(inner) + " = {}"
    return total, Step(words, (*parts, Amount(total, MASS)))


def _mass(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(piece: Piece) -> Measured:
        mass, step = lift_mass(package, piece)
        return Measured(values=(mass,), steps=(step,))

    return of_each(lifted(package), figure)


def in_all(package: Package) -> tuple[Step, ...]:
    """Say the mass of all pieces whose number and mass are given, and which have none."""
    each = [(p.mark, p.if_given("n"), p.if_given("mass_kg")) for p in package.pieces]
    total = sum(n * mass for _, n, mass in each if None not in (n, mass))
    without = ", ".join(mark for mark, *known in each if None in known)
    said = Step("{} in all", (Amount(total, TOTAL_MASS),))
    return (said, Step("without a weight: {}", (without,))) if without else (said,)


def _lifts(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    counts = gathered(lifted(package), lambda piece: piece.n)
    value = sum(counts)
    step = Step(" + ".join(["{}"] * len(counts)) + " = {}", (*counts, value))
    return [Measured(values=(value,), steps=(step,), notes=in_all(package))]


def _by_hand(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(piece: Piece) -> Measured:
        people = moving.people_to_carry(piece.mass_kg)
        most = Amount(moving.team_mass(people), MASS)
        step = Step(
            "{}: {}; {} people carry {}", (piece.mark, Amount(piece.mass_kg, MASS), people, most)
        )
        return Measured(values=(people,), steps=(step,))

    return of_each(package.pieces, figure)


PIECE_CHECKS = (
    Check(
        slug="piece_envelope",
        title="Every piece within the limit of size",
        topic="Moving",
        measure=_envelope,
        is_monotone=True,
        schedules=("pieces", "site"),
        kinds=PACKED_KINDS,
        rule=Rule.ALL,
        formula="l ≤ l_max, w ≤ w_max, h ≤ h_max, for each piece",
        meaning="l, w, h sides as packed, in the order given [m]; limits of the site sheet",
        citations=(PRACTICE,),
        limits="Sides as typed, in order: a piece isn't turned. Eyes, eaves and straps count if "
        "they were measured.",
        question="{value}: larger than can be brought. Shorten or split?",
        caution=_CAUTION,
    ),
    Check(
        slug="piece_mass",
        title="Heaviest piece",
        topic="Moving",
        scales=(MASS,),
        measure=_mass,
        is_monotone=True,
        schedules=("pieces",),
        kinds=PACKED_KINDS,
        rule=Rule.AT_MOST,
        formula="m = max(m_piece)",
        meaning="m_piece mass of each piece as lifted, with what is packed inside it [kg]",
        citations=(PRACTICE,),
        limits="As typed. Rain and a wet pallet add some 5 % (common practice).",
        question="{name} is {value}, against {target}. Dry, or after a week on a wet pallet?",
        caution=_CAUTION,
    ),
    Check(
        slug="lifts",
        title="Number of lifts or crossings",
        topic="Moving",
        measure=_lifts,
        is_monotone=True,
        schedules=("pieces",),
        kinds=PACKED_KINDS,
        rule=Rule.AT_MOST,
        formula="N = Σ n",
        meaning="n pieces alike, each of which is one lift or crossing with what is packed in it",
        citations=(PRACTICE,),
        limits="One piece, one lift. Crew, tools and return loads are not in it.",
        question="{value} lifts, against {target}. How many fair days is that?",
        caution=_CAUTION,
    ),
    Check(
        slug="hand_carry",
        title="People to carry the heaviest piece by hand",
        topic="Moving",
        measure=_by_hand,
        is_monotone=True,
        schedules=("pieces",),
        kinds=PACKED_KINDS,
        rule=Rule.AT_MOST,
        formula="m ≤ n · s · 25 kg; s = 1 for one, 2/3 for two, 1/2 for three and more",
        meaning="m mass of a piece, nothing packed in it [kg]; n people; 25 kg for each in good "
        "conditions; s share of it that a team can use",
        citations=(HAND_LIFT, HAND_TEAM),
        limits="Good grip, level ground, short way; on a slope, in wind or mud it is less. The "
        "guidance stops at three: for more, half is taken, and a trial or a machine decides.",
        question="{name} takes {value} people to carry, against {target}. Can they hold it in "
        "wind?",
        caution=_CAUTION,
    ),
)

"""Pieces: sizes, masses and the number of lifts."""

from criteria.checks.check import Check, blank
from criteria.findings import NOT_ALL, Amount, Measured, Rule, Step, listed
from criteria.measures import moving
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.site import Site
from criteria.sources import HAND_LIFT, PRACTICE
from criteria.units import COUNT, MASS, ROOM_LENGTH, TOTAL_MASS

_CAUTION = "Lifting and carrying: a licensed rigger plans every lift."
_LIMIT_HEADS = ("piece_l_m", "piece_w_m", "piece_h_m")
_SIZE_HEADS = ("l_m", "w_m", "h_m")
_NO_ROWS = ("rows of the piece schedule",)


def piece_limits(site: Site) -> tuple[float, float, float] | None:
    """Return the largest length, width and height that can be brought [m], where all are given."""
    l, w, h = site.piece_l_m, site.piece_w_m, site.piece_h_m
    return None if l is None or w is None or h is None else (l, w, h)


def _sizes(piece: Piece) -> Step:
    return listed([Amount(size or 0, ROOM_LENGTH) for size in piece.sizes_m], " × ")


def _envelope(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    limits = piece_limits(package.site)
    missing = [*blank(Site.schedule, package.site, *_LIMIT_HEADS)]
    if not package.pieces:
        missing += _NO_ROWS
    sized = []
    for piece in package.pieces:
        cells = blank(Piece.schedule, piece, *_SIZE_HEADS)
        missing += cells
        if not cells:
            sized.append(piece)
    if limits is None or not sized:
        return [Measured(missing=tuple(missing))]
    outside = [
        piece
        for piece in sized
        if not moving.fits_in_order([size or 0 for size in piece.sizes_m], limits)
    ]
    steps = [Step("limit " + " × ".join(["{}"] * 3), tuple(Amount(x, ROOM_LENGTH) for x in limits))]
    steps += [Step("{}: {}", (piece.mark, _sizes(piece))) for piece in outside]
    marks = ", ".join(sorted((piece.mark for piece in outside), key=_natural))
    return [
        Measured(
            values=(len(outside),),
            steps=tuple(steps),
            missing=tuple(missing),
            shown=f"{NOT_ALL}{marks}" if outside else "all",
        )
    ]


def _natural(mark: str) -> tuple[str, int, str]:
    letters = mark.rstrip("0123456789")
    digits = mark[len(letters) :]
    return letters, int(digits or 0), mark


def _mass(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.pieces:
        return [Measured(missing=_NO_ROWS)]
    found = []
    for piece in package.pieces:
        about = {"subject": piece.mark, "name": piece.piece or ""}
        missing = blank(Piece.schedule, piece, "kg_each")
        mass = piece.mass_kg or 0
        step = Step("{}: {} each as scheduled", (piece.mark, Amount(mass, MASS)))
        found.append(
            Measured(missing=missing, **about)
            if missing
            else Measured(values=(mass,), steps=(step,), **about)
        )
    return found


def total_mass_kg(package: Package) -> tuple[float, tuple[str, ...]]:
    """Return the mass of all pieces whose number and mass are known, and marks of the rest."""
    known = [p for p in package.pieces if p.mass_kg is not None and p.n is not None]
    unknown = tuple(p.mark for p in package.pieces if p not in known)
    return sum((p.n or 0) * (p.mass_kg or 0) for p in known), unknown


def _lifts(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.pieces:
        return [Measured(missing=_NO_ROWS)]
    missing = [cell for piece in package.pieces for cell in blank(Piece.schedule, piece, "n")]
    counts = [piece.n for piece in package.pieces if piece.n is not None]
    total, unknown = total_mass_kg(package)
    notes = [Step("{} in all", (Amount(total, TOTAL_MASS),))]
    if unknown:
        notes.append(Step("without a weight: {}", (", ".join(unknown),)))
    value = sum(counts)
    step = Step(" + ".join(["{}"] * len(counts)) + " = {}", (*counts, value))
    return [
        Measured(values=(value,), steps=(step,), missing=tuple(missing), notes=tuple(notes))
        if counts
        else Measured(missing=tuple(missing))
    ]


HAND_KG = 25.0
"""Reference mass for one person's lift in good conditions [kg]. ISO 11228-1, from memory."""


def _by_hand(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.pieces:
        return [Measured(missing=_NO_ROWS)]
    found = []
    for piece in package.pieces:
        about = {"subject": piece.mark, "name": piece.piece or ""}
        if missing := blank(Piece.schedule, piece, "kg_each"):
            found.append(Measured(missing=missing, **about))
            continue
        people = -(-(piece.mass_kg or 0) // HAND_KG)
        figures = (piece.mark, Amount(piece.mass_kg or 0, MASS), Amount(HAND_KG, MASS), int(people))
        step = Step("{}: {} ÷ {} = {} people", figures)
        found.append(Measured(values=(people,), steps=(step,), **about))
    return found


PIECE_ENVELOPE = Check(
    slug="piece_envelope",
    title="Every piece within the limit of size",
    topic="Moving",
    scales=(COUNT,),
    measure=_envelope,
    schedules=("pieces", "site"),
    rule=Rule.ALL,
    is_count=True,
    formula="l ≤ l_max, w ≤ w_max, h ≤ h_max, for each piece",
    meaning="l, w, h sides as packed, in the order given [m]; limits of the site sheet",
    citations=(PRACTICE,),
    limits="Sides as typed, in order: a piece isn't turned. Eyes, eaves and straps count if they "
    "were measured.",
    question="{value}: larger than can be brought. Shorten or split?",
    caution=_CAUTION,
)

PIECE_MASS = Check(
    slug="piece_mass",
    title="Heaviest piece",
    topic="Moving",
    scales=(MASS,),
    measure=_mass,
    schedules=("pieces",),
    rule=Rule.AT_MOST,
    is_count=False,
    formula="m = max(m_piece)",
    meaning="m_piece mass of each piece as lifted [kg]",
    citations=(PRACTICE,),
    limits="As typed. Rain and a wet pallet add some 5 % (common practice).",
    question="{name} is {value}, against {target}. Dry, or after a week on a wet pallet?",
    caution=_CAUTION,
)

LIFTS = Check(
    slug="lifts",
    title="Number of lifts or crossings",
    topic="Moving",
    scales=(COUNT,),
    measure=_lifts,
    schedules=("pieces",),
    rule=Rule.AT_MOST,
    is_count=True,
    formula="N = Σ n",
    meaning="n pieces alike, each of which is one lift or crossing",
    citations=(PRACTICE,),
    limits="One piece, one lift. Crew, tools and return loads are not in it.",
    question="{value} lifts, against {target}. How many fair days is that?",
    caution=_CAUTION,
)

HAND_CARRY = Check(
    slug="hand_carry",
    title="People to carry the heaviest piece by hand",
    topic="Moving",
    scales=(COUNT,),
    measure=_by_hand,
    schedules=("pieces",),
    rule=Rule.AT_MOST,
    is_count=True,
    formula="n = ⌈m ÷ 25 kg⌉",
    meaning="m mass of a piece [kg]; 25 kg for each person in good conditions",
    citations=(HAND_LIFT,),
    limits="Good grip, level ground, short way. On a slope, in wind or mud it is less.",
    question="{name} takes {value} people to carry, against {target}. Can they hold it in wind?",
    caution=_CAUTION,
)

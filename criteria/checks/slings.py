"""Slings: what each leg carries, how flat it stands, and where its eyes are."""

from criteria.checks.check import Check
from criteria.checks.moving import lift_mass, lifted
from criteria.checks.reading import all_without, of_each
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures.holding import drawn_together_kg, sling_kg
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.states import LIFT
from criteria.sources import PRACTICE
from criteria.typed.cells import require_some
from criteria.units import ANGLE, MASS, ROOM_LENGTH

WANTED_DEG = 45.0
"""A sling stands at least so steep from the level [°]. Common practice; under 30° never."""

_CAUTION = "Lifting: a licensed rigger plans every lift, and chooses slings, eyes and angles."


def _slung(package: Package) -> list[Piece]:
    """The pieces that hang from a sling: all that are lifted by themselves and don't say 0 eyes."""
    slung = [piece for piece in lifted(package) if piece.typed("eyes") != 0]
    require_some(slung, "a piece with lifting eyes (piece schedule)")
    return slung


def _tension(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(piece: Piece) -> Measured:
        (mass, working), eyes, angle = lift_mass(package, piece), piece.eyes, piece.sling_deg
        value = sling_kg(mass, eyes, angle)
        figures = (Amount(mass, MASS), min(eyes, 2), Amount(angle, ANGLE), Amount(value, MASS))
        counted = Step("{} eyes, two legs counted: a stiff load hangs from two", (eyes,))
        drawn = Amount(drawn_together_kg(mass, eyes, angle), MASS)
        notes = (Step("each leg draws its eyes together with {}", (drawn,)),)
        return Measured(
            values=(value,),
            steps=(working, Step("{} ÷ ({} × sin {}) = {}", figures)),
            notes=((counted,) if eyes > 2 else ()) + notes,
        )

    return of_each(_slung(package), figure)


def _eyes(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    steps: list[Step] = []

    def fault(piece: Piece) -> str | None:
        angle, eye, centre = piece.sling_deg, piece.eye_h_m, piece.height_m / 2
        at = (piece.mark, Amount(angle, ANGLE), Amount(eye, ROOM_LENGTH))
        words = "{}: sling at {}, eyes {} up, its middle {}"
        steps.append(Step(words, (*at, Amount(centre, ROOM_LENGTH))))
        flat = ["sling too flat"] if angle < WANTED_DEG else []
        low = ["eyes not above its centre"] if eye <= centre else []
        return ", ".join(flat + low) or None

    return [all_without(_slung(package), fault, steps)]


SLING_CHECKS = (
    Check(
        slug="sling_tension",
        title="Tension in one leg of a sling",
        topic="Moving",
        scales=(MASS,),
        measure=_tension,
        is_monotone=True,
        schedules=("pieces", "pieces_by_state"),
        kinds=(LIFT,),
        rule=Rule.AT_MOST,
        formula="T = m ÷ (n · sin θ)",
        meaning="m mass of a piece as lifted, with what is packed inside it [kg]; n legs that are "
        "counted, two of three and more; θ of the legs from the level [°]",
        citations=(PRACTICE,),
        limits="At rest, its centre between the eyes, legs alike. A jerk, wind, or a helicopter "
        "adds to it; choking a sling takes from what it may carry. Nothing is lifted under 30°.",
        question="{name}: one leg carries {value}, against {target}. And when it is plucked off "
        "wet ground?",
        caution=_CAUTION,
    ),
    Check(
        slug="lifting_eyes",
        title="Slings steep enough, eyes above the centre of mass",
        topic="Moving",
        measure=_eyes,
        is_monotone=True,
        schedules=("pieces", "pieces_by_state"),
        kinds=(LIFT,),
        rule=Rule.ALL,
        formula="θ ≥ 45° and h_eye > h ÷ 2, for each piece that is slung",
        meaning="θ of the sling's legs from the level [°]; h_eye of its eyes above its underside "
        "[m]; h height of the piece [m], its centre taken to be half way up",
        citations=(PRACTICE,),
        limits="Where the eyes are on plan isn't in it: they must stand around the centre. Eyes "
        "that would be drawn together want a spreader beam.",
        question="{value}: it may turn over as it leaves the ground. Where are its eyes?",
        caution=_CAUTION,
    ),
)

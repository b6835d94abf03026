"""Everything that the sheets of one package share, worked out once."""

from dataclasses import dataclass

from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.states import DAY, NIGHT, PACKED_KINDS
from criteria.situations import Situation, states_of
from reviews.demo.drawings.approach import PlacedRamp, place_ramp
from reviews.demo.drawings.as_placed import Bay, outside
from reviews.demo.drawings.fittings import Fitting, furnish
from reviews.demo.drawings.geometry import Plan
from reviews.demo.drawings.layout import lay_out
from reviews.demo.drawings.openings import Openings, place_openings


@dataclass(frozen=True)
class Building:
    """A package with its plan, openings, furniture by day and at night, and ramp.

    terrace, folded   pieces that lie beside it by day, and where they stand at night if elsewhere
    pieces            those that are brought
    """

    package: Package
    plan: Plan
    openings: Openings
    fittings: tuple[Fitting, ...]
    at_night: tuple[Fitting, ...]
    ramp: PlacedRamp | None
    terrace: tuple[Bay, ...]
    folded: tuple[Bay, ...]
    pieces: tuple[Piece, ...]

    @property
    def moved_at_night(self) -> list[Fitting]:
        """What stands elsewhere at night than by day."""
        return [fitting for fitting in self.at_night if fitting not in self.fittings]


def build(package: Package) -> Building:
    """Work out plan, openings, furniture and ramp. Raises ValueError where there are no rooms."""
    day, night, packed = (_in(package, kinds) for kinds in ((DAY,), (NIGHT,), PACKED_KINDS))
    package = package.leniently
    plan = lay_out(package)
    openings = place_openings(plan, package)
    terrace, raised = outside(plan, day), outside(plan, night)
    ramp = place_ramp(plan, openings, package, [bay.rect for bay in terrace])
    folded = tuple(bay for bay in raised if bay not in terrace)
    return Building(
        package=package,
        plan=plan,
        openings=openings,
        fittings=tuple(furnish(plan, openings, package)),
        at_night=tuple(furnish(plan, openings, night)),
        ramp=ramp,
        terrace=terrace,
        folded=folded,
        pieces=tuple(packed.pieces),
    )


def _in(package: Package, kinds: tuple[str, ...]) -> Package:
    """Return a package in its first state of some kinds, or as it is where it has none."""
    states = states_of(package, kinds)[:1]
    return Situation(states[0]).of(package).leniently if states else package.leniently

"""Everything that the sheets of one package share, worked out once."""

from dataclasses import dataclass

from criteria.package import Package
from criteria.schedules.states import NIGHT
from criteria.situations import Situation, states_of
from reviews.demo.drawings.approach import PlacedRamp, place_ramp
from reviews.demo.drawings.fittings import Fitting, furnish
from reviews.demo.drawings.geometry import Plan
from reviews.demo.drawings.layout import lay_out
from reviews.demo.drawings.openings import Openings, place_openings


@dataclass(frozen=True)
class Building:
    """A package with its plan, openings, furniture by day and at night, and ramp."""

    package: Package
    plan: Plan
    openings: Openings
    fittings: tuple[Fitting, ...]
    at_night: tuple[Fitting, ...]
    ramp: PlacedRamp | None

    @property
    def moved_at_night(self) -> list[Fitting]:
        """What stands elsewhere at night than by day."""
        return [fitting for fitting in self.at_night if fitting not in self.fittings]


def build(package: Package) -> Building:
    """Work out plan, openings, furniture and ramp. Raises ValueError where there are no rooms."""
    nights = states_of(package, (NIGHT,))[:1]
    night = Situation(nights[0]).of(package).leniently if nights else package.leniently
    package = package.leniently
    plan = lay_out(package)
    openings = place_openings(plan, package)
    ramp = place_ramp(plan, openings, package)
    by_day, at_night = (tuple(furnish(plan, openings, each)) for each in (package, night))
    return Building(package, plan, openings, by_day, at_night, ramp)

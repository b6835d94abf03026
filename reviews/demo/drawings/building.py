"""Everything that the sheets of one package share, worked out once."""

from dataclasses import dataclass

from criteria.package import Package
from reviews.demo.drawings.approach import PlacedRamp, place_ramp
from reviews.demo.drawings.fittings import Fitting, furnish
from reviews.demo.drawings.geometry import Plan
from reviews.demo.drawings.layout import lay_out
from reviews.demo.drawings.openings import Openings, place_openings


@dataclass(frozen=True)
class Building:
    """A package with its plan, openings, furniture and ramp."""

    package: Package
    plan: Plan
    openings: Openings
    fittings: tuple[Fitting, ...]
    ramp: PlacedRamp | None


def build(package: Package) -> Building:
    """Work out plan, openings, furniture and ramp. Raises ValueError where there are no rooms."""
    package = package.leniently
    plan = lay_out(package)
    openings = place_openings(plan, package)
    fittings = tuple(furnish(plan, openings, package))
    return Building(package, plan, openings, fittings, place_ramp(plan, openings, package))

"""What questions are filled with: findings, claims and figures of one package."""

from dataclasses import dataclass
from functools import cached_property

from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.heat import Balance, balance
from criteria.errors import InputError
from criteria.findings import Finding
from criteria.package import Package
from criteria.typed.cells import Lacking
from criteria.units import Scale, System

FREEZING_K = 273.15
"""Water freezes [K]."""


@dataclass(frozen=True)
class Facts:
    """A package and its check sheet, asked for figures in words.

    known_too   precedents that others of the cohort study too, "Barn (2)"; of `cohort` schemes
    """

    sheet: CheckSheet
    typed: Package
    system: System = System.METRIC
    known_too: tuple[str, ...] = ()
    cohort: int = 0

    @cached_property
    def package(self) -> Package:
        """The package for prose: what isn't known is None or no row."""
        return self.typed.leniently

    def missed(self, check: str) -> tuple[Finding, ...]:
        """Return the findings of a check that stand on the wrong side of their targets."""
        return tuple(f for f in self.sheet.asked if f.check == check and f.state.is_missed)

    def value(self, check: str) -> str:
        """Return a check's value as written, or nothing where it has none."""
        found = (f.write_value(self.system) for f in self.sheet.findings if f.check == check)
        return next((value for value in found if value), "")

    def number(self, check: str) -> float | None:
        """Return a check's value in SI, or None."""
        found = (f.value for f in self.sheet.findings if f.check == check)
        return next((value for value in found if value is not None), None)

    @property
    def heat(self) -> Balance | None:
        """The heat balance, where nothing of it lacks."""
        try:
            return balance(self.typed)
        except (Lacking, InputError):
            return None

    @property
    def people(self) -> int:
        """People of the brief, or 0."""
        return self.package.site.people or 0

    @property
    def may_snow(self) -> bool:
        """Whether snow may lie: so brief or climate say, or neither says, and it freezes."""
        if self.package.site.drift_m:
            return True
        lying = [row.snow_m for row in self.package.climate if row.snow_m is not None]
        return any(lying) if lying else self.may_freeze

    @property
    def may_freeze(self) -> bool:
        """Whether water may freeze outside; so it may where nothing says how cold it gets."""
        nights = [row.mean_min_k for row in self.package.climate]
        known = [k for k in (self.package.site.design_outside_k, *nights) if k is not None]
        return not known or min(known) <= FREEZING_K

    @property
    def are_strangers(self) -> bool:
        """Whether the brief has guests; people of a house know each other."""
        return bool(self.package.site.guests)

    def write(self, si: float | None, scale: Scale) -> str:
        """Write a figure with its unit; nothing for None."""
        return "" if si is None else scale.write(si, self.system)

    def any_use(self, *uses: str) -> str:
        """Return the name of the first room of some uses, or nothing."""
        rooms = (room for room in self.package.rooms if room.use in uses)
        return next((room.name or room.title for room in rooms), "")

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


@dataclass(frozen=True)
class Facts:
    """A package and its check sheet, asked for figures in words."""

    sheet: CheckSheet
    typed: Package
    system: System = System.METRIC

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

    def write(self, si: float | None, scale: Scale) -> str:
        """Write a figure with its unit; nothing for None."""
        return "" if si is None else scale.write(si, self.system)

    def any_use(self, *uses: str) -> str:
        """Return the name of the first room of some uses, or nothing."""
        rooms = (room for room in self.package.rooms if room.use in uses)
        return next((room.name or room.title for room in rooms), "")

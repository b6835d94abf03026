"""One figure of a room's light or heat, as it is shown."""

from dataclasses import dataclass

from criteria.findings import Step
from criteria.own_words import in_units
from criteria.units import Scale, System


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One figure of a room.

    value       in SI (shares as fractions), None where it is in words or can't be had
    words       what it is in words, where a number says less
    working     the formula with this room's numbers
    missing     the cells that are blank
    note        what a reader must know of this figure
    """

    key: str
    name: str
    scale: Scale
    value: float | None = None
    words: str = ""
    working: str | Step = ""
    source: str = ""
    limits: str = ""
    missing: tuple[str, ...] = ()
    note: str = ""

    def write_working(self, system: System = System.METRIC) -> str:
        """Write the working in a reader's units."""
        said = self.working
        return in_units(said.write(system) if isinstance(said, Step) else said, system)

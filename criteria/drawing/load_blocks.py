"""Loads as drawings show them: blocks of hours and watts, whose area is what they use in a day."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.checks.power import how_many, used
from criteria.drawing.marks import Gap
from criteria.package import Package
from criteria.schedules.power import Load
from criteria.typed.cells import Lacking

MOST_LOADS = 40
"""Loads that are drawn; the largest of more."""


@dataclass(frozen=True, kw_only=True)
class Block:
    """A load as it is drawn: hours a day, power of all alike [W], energy of a day [J]."""

    row: Load
    hours: float
    watts: float
    energy_j: float

    @property
    def name(self) -> str:
        """Its mark and what it is."""
        return f"{self.row.title} {self.row.item or ''}".strip()


def blocks(package: Package) -> tuple[list[Block], tuple[Gap, ...], tuple[str, ...]]:
    """Return loads as blocks, what isn't given of them, and the marks of those past the most."""
    found, gaps = [], []
    for row in package.rows_of(Load):
        try:
            (energy,) = (each for _, each in used(package, [row]).each)
            watts = how_many(package, row) * row.power_w
            found.append(
                Block(row=row.leniently, hours=row.run_s / 3600, watts=watts, energy_j=energy)
            )
        except Lacking as lacks:
            cell = lacks.cells[0]
            column = cell.column.head if cell.column else ""
            says = f"{cell}: not given"
            gaps.append(Gap(schedule="loads", mark=row.title, column=column, says=says))
    found.sort(key=lambda block: -block.energy_j)
    past = tuple(block.row.title for block in found[MOST_LOADS:])
    return found[:MOST_LOADS], tuple(gaps), past

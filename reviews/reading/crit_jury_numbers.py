"""The jury's numbers of a crit: its locked levels as the library takes them, analysed."""

from __future__ import annotations

from fractions import Fraction

from criteria.scoring.analysis import Analysis, analyse_panel
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.panel import Panel
from reviews.models.crits import LEVELS
from reviews.reading.crit_moderation_table import MOST_CRITS, Table
from reviews.worked_out import Told, fingerprint, kept

DRAWS = 200
"""Behind intervals that are simulated, where cells are missing: half a second, not three."""


def panel_of(table: Table) -> Panel | NotAvailable:
    """The levels of every sheet that counts in the leader's table, by number, name and code."""
    weights = {criterion.code: Fraction(criterion.weight) for criterion in table.criteria}
    if not any(weights.values()):
        return NotAvailable("no criterion has a weight")
    levels = {
        (row.scheme.number, cell.seat.name, given.criterion.code): (
            Fraction(given.level) if isinstance(given.level, int) else given.level
        )
        for row in table.rows
        for cell in row.counted
        for given in cell.given
        if given.level is not None
    }
    if not levels:
        return NotAvailable("no jury sheet is locked")
    positions = {
        (row.scheme.number, cell.seat.name): float(row.slot.position)
        for row in table.rows
        if row.slot
        for cell in row.counted
    }
    scale = Fraction(1), Fraction(len(LEVELS))
    return Panel(str(table.crit), levels, weights, positions, scale)


def jury_numbers(table: Table) -> Analysis | NotAvailable:
    """What the locked levels say; adjusting is decided by what was chosen before the day."""
    panel = panel_of(table)
    if isinstance(panel, NotAvailable):
        return panel
    announced = table.crit.announces_severity
    levels, positions = sorted(panel.levels.items()), sorted(panel.positions.items())
    written = panel.name, levels, list(panel.weights.items()), positions, panel.scale
    return _analysed(Told(fingerprint(written), panel), announced)


@kept(MOST_CRITS)
def _analysed(panel: Told[Panel], announced: bool | None) -> Analysis:
    return analyse_panel(panel.holds, announced=announced, draws=DRAWS)

"""The jury's numbers of a crit: its locked levels as the library takes them, analysed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations

from criteria.scoring.analysis import Analysis, analyse_panel
from criteria.scoring.cells import Cells
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import PanelLevel
from criteria.scoring.panel import Panel
from criteria.scoring.profiles import JurorProfile, profiles
from criteria.scoring.severity import analyse
from reviews.models import Scheme
from reviews.models.crits import LEVELS
from reviews.reading.crit_moderation_table import MOST_CRITS, SchemeRow, Table
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
    return _analysed(_told(panel), table.crit.announces_severity)


def _told(panel: Panel) -> Told[Panel]:
    levels, positions = sorted(panel.levels.items()), sorted(panel.positions.items())
    written = panel.name, levels, list(panel.weights.items()), positions, panel.scale
    return Told(fingerprint(written), panel)


@kept(MOST_CRITS)
def _analysed(panel: Told[Panel], announced: bool | None) -> Analysis:
    return analyse_panel(panel.holds, announced=announced, draws=DRAWS)


@dataclass(frozen=True)
class RoomNumbers:
    """One room of a crit: its own jurors alone, over every scheme that they saw.

    rows     of the schemes that a sheet counts for, with this room's cells
    jurors   each against the others of the room
    """

    name: str
    rows: tuple[SchemeRow, ...]
    panel: Panel
    jurors: tuple[JurorProfile, ...]


@dataclass(frozen=True)
class Between:
    """Two rooms over the schemes that both saw: the one basis on which they can be compared.

    pairs   scheme, first room's mean, second room's [level], exact
    """

    first: str
    second: str
    pairs: tuple[tuple[Scheme, Fraction, Fraction], ...]

    @property
    def gap(self) -> Fraction:
        """The first less the second, on average [level]."""
        return sum((a - b for _, a, b in self.pairs), Fraction(0)) / len(self.pairs)


def rooms_of(table: Table) -> list[RoomNumbers]:
    """Each room's numbers; none where a crit isn't held in two rooms or more."""
    names = sorted({seat.room for seat in table.seats if seat.room})
    return [room for name in names if (room := _room(table, name))] if len(names) > 1 else []


def _room(table: Table, name: str) -> RoomNumbers | None:
    rows = [
        replace(row, cells=tuple(cell for cell in row.cells if cell.seat.room == name))
        for row in table.rows
    ]
    rows = [row for row in rows if row.counted]
    panel = panel_of(replace(table, rows=tuple(rows)))
    if isinstance(panel, NotAvailable):
        return None
    return RoomNumbers(name, tuple(rows), panel, _profiles(_told(panel)))


@kept(MOST_CRITS)
def _profiles(panel: Told[Panel]) -> tuple[JurorProfile, ...]:
    cells = panel.holds.totals
    return profiles(panel.holds, analyse(cells)) if isinstance(cells, Cells) else ()


def between_rooms(rooms: list[RoomNumbers]) -> Iterator[Between]:
    """Every two rooms that saw a scheme in common."""
    for one, other in combinations(rooms, 2):
        pairs = []
        for row in one.rows:
            means = [room.panel.raw.get(row.scheme.number) for room in (one, other)]
            if all(isinstance(mean, PanelLevel) for mean in means):
                a, b = (mean.value for mean in means if isinstance(mean, PanelLevel))
                pairs.append((row.scheme, a, b))
        if pairs:
            yield Between(one.name, other.name, tuple(pairs))

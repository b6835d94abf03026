"""A crit's levels as CSV: a row for each sheet, or for each level."""

from __future__ import annotations

from criteria.scoring.levels import WeightedLevel
from criteria.typed.csv_cells import csv_of
from reviews.moments import moment_words
from reviews.reading.crit_moderation_table import Cell, SchemeRow, Table
from reviews.reading.crit_sheets import level_text


def wide_csv(table: Table) -> str:
    """A row for each scheme and juror, levels side by side; of a table in detail."""
    return csv_of(wide_lines(table))


def wide_lines(table: Table) -> list[list[str]]:
    """The same as lines of cells."""
    if not table.is_in_detail:
        raise ValueError("expected a table in detail: its corrections are written too")
    codes = [criterion.code for criterion in table.criteria]
    head = ["scheme", "name", "position", "room", "juror", "state", "revision", "impression"]
    lines = [[*head, *codes, "weighted_level", "corrections", "changed_after_discussion"]]
    for row in table.rows:
        for cell in row.cells:
            if not cell.state:
                continue
            levels = [level_text(given.level) for given in cell.given] or [""] * len(codes)
            exact = cell.weighted
            weighted = str(float(exact.value)) if isinstance(exact, WeightedLevel) else ""
            notes = _corrections(cell), _changed(cell)
            lines.append([*_who(row, cell), *levels, weighted, *notes])
    return lines


def long_csv(table: Table) -> str:
    """A row for each level of a locked sheet, as `python -m criteria panel` reads them."""
    lines = [["crit", "scheme", "position", "juror", "criterion", "level"]]
    for row in table.rows:
        for cell in row.counted:
            for given in cell.given:
                if given.level is not None:
                    place = str(row.slot.position) if row.slot else ""
                    head = [table.crit.kind, row.scheme.number, place, cell.seat.name]
                    lines.append([*head, given.criterion.code, level_text(given.level)])
    return csv_of(lines)


def _corrections(cell: Cell) -> str:
    return "; ".join(
        f"{given.criterion.code} {each.was or 'no level'} → {each.now} "
        f"({moment_words(each.at)}, {each.by}: {each.reason})"
        for given in cell.given
        if given.held
        for each in given.held.corrections.all()
    )


def _changed(cell: Cell) -> str:
    return "; ".join(
        f"{given.criterion.code} {each.was} → {each.now} ({moment_words(each.at)}: {each.reason})"
        for given in cell.given
        if (each := given.changed)
    )


def _who(row: SchemeRow, cell: Cell) -> list[str]:
    slot, sheet = row.slot, cell.sheet
    impression = str(sheet.impression or "") if sheet else ""
    position, room = (str(slot.position), slot.room) if slot else ("", "")
    number, name = row.scheme.number, row.scheme.name
    seen = " ".join(revision.letter for revision in cell.revisions)
    return [number, name, position, room, cell.seat.name, cell.state, seen, impression]

"""What a workbook would change of a brief, in its reader's units."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from criteria.typed.tables import RefusedCell
from criteria.units import Notation
from reviews.deeds.brief_workbook import BriefRead, ChangedCell, PartRead
from reviews.deeds.record_typed import figure_text
from reviews.exchange.proposed import Proposal


@dataclass(frozen=True)
class CellLine:
    """One cell that would change: what it is, what stands here, and what the file has."""

    row: str
    label: str
    here: str
    there: str
    expected: str
    beside: str


@dataclass(frozen=True)
class PartLines:
    """One part of the brief: its cells that would change, and what of it can't be read."""

    slug: str
    name: str
    cells: Sequence[CellLine]
    refused: Sequence[RefusedCell]


@dataclass(frozen=True)
class BriefChanges:
    """All of it, and what goes along so that the file is sent once.

    told, seen   the proposal, and the last change of each part, as JSON
    """

    parts: Sequence[PartLines]
    said: Sequence[str]
    is_clean: bool
    told: str
    seen: str

    @classmethod
    def of(cls, read: BriefRead, proposal: Proposal, notation: Notation) -> BriefChanges:
        """Make ready what was read."""
        parts = [_part(each, notation) for each in read.parts]
        told, seen = json.dumps(proposal.as_json()), json.dumps(read.seen)
        return cls(parts, read.said, read.is_clean, told, seen)


def _part(read: PartRead, notation: Notation) -> PartLines:
    cells = [_line(cell, notation) for cell in read.changed]
    return PartLines(read.part.slug, read.part.name, cells, read.refused)


def _line(cell: ChangedCell, notation: Notation) -> CellLine:
    here, there = (figure_text(cell.column, text, notation) for text in (cell.before, cell.after))
    return CellLine(cell.row, cell.column.label, here, there, cell.expected, cell.beside)

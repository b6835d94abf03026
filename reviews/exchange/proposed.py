"""What a file proposes: rows of schedules, and of each cell how it is known.

A reader of a format makes a Proposal of a file; it goes from the process that read the file to
the site as JSON. Nothing of it is kept before a person says so.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import Any

from criteria.typed import quantities
from criteria.typed.columns import Column

Json = dict[str, Any]
Shape = tuple[tuple[float, float], ...]

LONGEST_TEXT = 32_767
"""Most letters of a proposed cell: as many as a cell of a spreadsheet holds."""


class How(StrEnum):
    """How a cell is known. What is guessed is taken over only where a person ticks it."""

    WRITTEN = "written"
    MEASURED = "measured"
    RECKONED = "reckoned"
    GUESSED = "guessed"


@dataclass(frozen=True, kw_only=True)
class ProposedCell:
    """A cell as it would be kept.

    text    as it is typed; a bare figure is in the column's metric unit
    how     how the file knows it
    place   where in the file it stands, in words: “windows, C4” or “IfcWindow OverallWidth”
    beside  what else the file says of the same, in words: “the file writes 21.41 m²”
    """

    text: str
    how: How = How.WRITTEN
    place: str = ""
    beside: str = ""


@dataclass(frozen=True, kw_only=True)
class ProposedRow:
    """A row as it would be kept.

    schedule  slug of its schedule
    cells     by head; a cell that the file says nothing of isn't among them
    source    what the file knows it by, also in its next edition; nothing where it has no such id
    floor     storey that it stands on, as the file calls it
    shape     outline on the plan, corners in order [m], by which a room is known again
    """

    schedule: str
    cells: Mapping[str, ProposedCell]
    source: str = ""
    floor: str = ""
    shape: Shape = ()


@dataclass(frozen=True, kw_only=True)
class Question:
    """What has to be answered before rows can be proposed, or proposed otherwise.

    name     by which the answer goes back to the reader
    asked    in words
    choices  each answer and how it reads, with the size that follows: (“mm”, “mm: 5.00 × 4.00 m”)
    chosen   the answer that these rows stand on; nothing where none is given yet
    """

    name: str
    asked: str
    choices: tuple[tuple[str, str], ...]
    chosen: str = ""


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """All that a file proposes.

    kind       of the file, as reviews.exchange.kinds names it
    made_by    program that wrote it, as the file says
    rows       in the order in which they would stand
    questions  still open, or answered and open to another answer
    said       what has to be known beside the rows, each a sentence: what was left out and why
    about      what else it says, by key, for who asked: its place, its hours
    """

    kind: str
    made_by: str = ""
    rows: tuple[ProposedRow, ...] = ()
    questions: tuple[Question, ...] = ()
    said: tuple[str, ...] = ()
    about: Json = field(default_factory=dict)

    def as_json(self) -> Json:
        """Write it as it goes from one process to another; what is blank is left out."""
        return {
            "kind": self.kind,
            "made_by": self.made_by,
            "rows": [_row_json(row) for row in self.rows],
            "questions": [
                {"name": q.name, "asked": q.asked, "choices": q.choices, "chosen": q.chosen}
                for q in self.questions
            ],
            "said": self.said,
            "about": self.about,
        }

    @classmethod
    def of_json(cls, told: Json) -> Proposal:
        """Read what as_json wrote. Raises LookupError, TypeError, ValueError for anything else."""
        return cls(
            kind=_text(told["kind"]),
            made_by=_text(told["made_by"]),
            rows=tuple(map(_row_of, told["rows"])),
            questions=tuple(
                Question(
                    name=_text(q["name"]),
                    asked=_text(q["asked"]),
                    choices=tuple((_text(value), _text(label)) for value, label in q["choices"]),
                    chosen=_text(q["chosen"]),
                )
                for q in told["questions"]
            ),
            said=tuple(map(_text, told["said"])),
            about=dict(told["about"]),
        )


def _text(told: object) -> str:
    """Text that a database keeps: without what isn't a letter, which a broken file may hold."""
    return str(told).replace("\0", "").encode(errors="replace").decode()


def figure_of(column: Column, si: float, places: int) -> str:
    """Write a figure as a cell keeps it: bare, in the column's metric unit, rounded to places.

    It reads alike whatever the decimal sign.

    >>> from criteria.schedules.openings import Window
    >>> figure_of(Window.schedule.column("glass_w"), 1.2402, 0)
    '1240'
    """
    assert column.scale is not None, column.head
    number = round(float(column.scale.metric.from_si(si)), places)
    return quantities.plain(f"{Decimal(f'{number:.10g}'):f}")


def _row_json(row: ProposedRow) -> Json:
    cells = {
        head: {
            key: value
            for key, value in (
                ("text", cell.text),
                ("how", cell.how.value),
                ("place", cell.place),
                ("beside", cell.beside),
            )
            if value
        }
        for head, cell in row.cells.items()
    }
    told = {"source": row.source, "floor": row.floor, "shape": row.shape}
    return {
        "schedule": row.schedule,
        "cells": cells,
        **{key: value for key, value in told.items() if value},
    }


def _row_of(told: Json) -> ProposedRow:
    shape = tuple((float(x), float(y)) for x, y in told.get("shape", ()))
    if not all(map(math.isfinite, itertools.chain.from_iterable(shape))):
        raise ValueError("an outline without an end")
    return ProposedRow(
        schedule=_text(told["schedule"]),
        source=_text(told.get("source", "")),
        floor=_text(told.get("floor", "")),
        shape=shape,
        cells={
            _text(head): ProposedCell(
                text=_text(cell.get("text", "")),
                how=How(cell["how"]),
                place=_text(cell.get("place", "")),
                beside=_text(cell.get("beside", "")),
            )
            for head, cell in told["cells"].items()
        },
    )

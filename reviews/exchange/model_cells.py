"""Cells of rows that a model of a building proposes, each held to what its column takes.

Shared by the readers of models; knows none of their formats.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from reviews.exchange.proposed import How, ProposedCell, ProposedRow, Shape, figure_of

MOST_NAMED = 8
"""So many marks are named in a sentence; of more the first three and how many follow."""
BEARINGS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


@dataclass
class RowMade:
    """A row in the making: what a column wouldn't take is left out and told.

    source, floor and shape are those of ProposedRow.
    """

    schedule: str
    source: str = ""
    floor: str = ""
    shape: Shape = ()
    cells: dict[str, ProposedCell] = field(default_factory=dict)
    refused: list[str] = field(default_factory=list)

    def words(
        self, head: str, text: str, how: How = How.WRITTEN, place: str = "", beside: str = ""
    ) -> None:
        """Propose a cell of words, as long as its column takes."""
        column = BY_SLUG[self.schedule].column(head)
        text = " ".join(text.split())[: column.longest]
        if text:
            self._keep(head, ProposedCell(text=text, how=how, place=place, beside=beside))

    def figure(
        self, head: str, si: float | None, how: How, place: str = "", beside: str = ""
    ) -> None:
        """Propose a figure [SI], written as finely as its column shows it, and once more."""
        if si is None or not math.isfinite(si):
            return
        column = BY_SLUG[self.schedule].column(head)
        assert column.scale is not None
        places = 0 if column.scale.metric.symbol == "mm" else 4
        text = figure_of(column, si, 1 if head == "mm" else places)
        self._keep(head, ProposedCell(text=text, how=how, place=place, beside=beside))

    def _keep(self, head: str, cell: ProposedCell) -> None:
        column = BY_SLUG[self.schedule].column(head)
        try:
            column.read(cell.text)
        except Refused:
            self.refused.append(f"{column.label} {cell.text}")
        else:
            self.cells[head] = cell

    @property
    def mark(self) -> str:
        """Its mark, or nothing yet."""
        return self.cells["mark"].text if "mark" in self.cells else ""

    @property
    def name(self) -> str:
        """What a room is called, or its mark where it has no name."""
        return self.cells["room"].text if "room" in self.cells else self.mark

    def proposed(self) -> ProposedRow:
        """The row as it is proposed."""
        return ProposedRow(
            schedule=self.schedule,
            cells=self.cells,
            source=self.source,
            floor=self.floor,
            shape=self.shape,
        )


def marked(rows: Iterable[RowMade], prefix: str) -> list[RowMade]:
    """Give rows their marks in the order in which they stand."""
    numbered = list(rows)
    for number, row in enumerate(numbered, 1):
        row.words("mark", f"{prefix}{number}", How.RECKONED, "in reading order")
    return numbered


def told(rows: Iterable[RowMade]) -> list[str]:
    """A sentence for each row of which a column took something not."""
    return [
        f"{row.mark or row.schedule}: left out as beyond what the schedule takes: "
        f"{', '.join(row.refused)}."
        for row in rows
        if row.refused
    ]


def named(marks: Sequence[str]) -> str:
    """Write marks in a sentence, of many the first alone.

    >>> named(["W1", "W2", "W5"])
    'W1, W2 and W5'
    """
    if len(marks) > MOST_NAMED:
        return f"{', '.join(marks[:3])} and {len(marks) - 3} more"
    return marks[0] if len(marks) == 1 else f"{', '.join(marks[:-1])} and {marks[-1]}"


def letters_of(bearing_deg: float) -> str:
    """The nearest of eight letters to a bearing, clockwise from north [°].

    >>> letters_of(220), letters_of(359)
    ('SW', 'N')
    """
    return BEARINGS[round(bearing_deg / 45) % 8]


_WORDS = {
    "sleep": "sleep bed bedroom bunk dorm schlaf kinderzimmer gästezimmer chambre dormitorio",
    "kitchen": "kitchen galley küche kueche cuisine cocina",
    "wc": "wc toilet bath shower wash dusche bad badezimmer sanitär salle-de-bain",
    "lab": "lab laboratory labor",
    "circulation": "corridor hall hallway passage stair landing lobby entrance porch vestibule "
    "flur diele gang treppe eingang windfang couloir",
    "plant": "plant technical boiler mechanical utility hwr heizung technik hausanschluss",
    "store": "store storage closet pantry cupboard abstell lager keller vorrat",
    "work": "office study studio workshop buero büro arbeits atelier werkstatt bureau",
    "day": "day dayroom living lounge dining sitting common wohn ess esszimmer aufenthalt mess "
    "séjour salon",
}
"""What rooms are called, by what they are mainly for. From memory."""


def use_of(name: str) -> str:
    """Guess of a room's name what it is for; nothing where no word says it.

    >>> use_of("Schlafzimmer"), use_of("WC 4"), use_of("Room 10")
    ('sleep', 'wc', '')
    """
    letters = "".join(sign if sign.isalpha() else " " for sign in name.casefold())
    for use, known in _WORDS.items():
        for word in known.split():
            if any(_is_called(said, word) for said in letters.split()):
                return use
    return ""


def _is_called(said: str, word: str) -> bool:
    """Whether a word begins so; a short one has to be that word, or one with a number."""
    return said == word if len(word) < 4 else said.startswith(word)

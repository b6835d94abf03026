"""What an odd value is, and how one is asked about."""

from dataclasses import dataclass

from criteria.findings import Amount, Step
from criteria.typed.rows import Row
from criteria.units import System

NOTHING = Step("nothing")
"""What a blank cell says."""


@dataclass(frozen=True)
class OddValue:
    """A cell that is probably not what was meant.

    schedule, mark, head   where it stands
    read                   what it says, with its unit
    question               what to ask
    suggestion             the text that would mend it, as typed, or "" where only its writer
                           knows
    row                    row of a schedule without marks, counted from 1; 0 elsewhere
    is_mismatch            whether two places disagree, rather than one figure being odd
    """

    schedule: str
    mark: str
    head: str
    read: Amount | Step
    question: Step
    suggestion: str = ""
    row: int = 0
    is_mismatch: bool = False

    def write_read(self, system: System = System.METRIC) -> str:
        """Write what the cell says in a system's units."""
        return self.read.write(system)

    def write_question(self, system: System = System.METRIC) -> str:
        """Write what to ask in a system's units."""
        return self.question.write(system)


def said(row: Row, head: str) -> Amount | Step:
    """Return what a cell says, with its unit."""
    column = row.schedule.column(head)
    value = row.if_given(column.attribute)
    if value is None:
        return NOTHING
    return Amount(value, column.scale) if column.scale else Step("{}", (column.show(value),))


def ask(
    row: Row,
    head: str,
    words: str,
    *figures: Amount | Step | str | float,
    mended: str = "",
    number: int = 0,
    read: Amount | Step | None = None,
    is_mismatch: bool = False,
) -> OddValue:
    """Ask about a cell of a row; the figures fill the braces of the words.

    A row without a mark is found by its number; `read` stands for what the cell says where its
    unit is what is in question, or the cell speaks for several.
    """
    mark = row.key
    shown = said(row, head) if read is None else read
    question = Step(words, figures)
    return OddValue(row.schedule.slug, mark, head, shown, question, mended, number, is_mismatch)

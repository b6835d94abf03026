"""What an odd value is."""

from dataclasses import dataclass

from criteria.findings import Amount, Step
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

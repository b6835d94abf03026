"""What an odd value is."""

from dataclasses import dataclass


@dataclass(frozen=True)
class OddValue:
    """A cell that is probably not what was meant.

    schedule, mark, head   where it stands
    read                   what it says, with its unit
    question               what to ask
    suggestion             the text that would mend it, or "" where only its writer knows
    row                    row of a schedule without marks, counted from 1; 0 elsewhere
    is_mismatch            whether two places disagree, rather than one figure being odd
    """

    schedule: str
    mark: str
    head: str
    read: str
    question: str
    suggestion: str = ""
    row: int = 0
    is_mismatch: bool = False

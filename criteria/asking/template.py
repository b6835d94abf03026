"""What a question template is, and when it arises."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from enum import IntEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from criteria.asking.facts import Facts

Words = Mapping[str, str]
"""What fills a template's braces."""


class Trigger(IntEnum):
    """Why a question is asked, in the order in which questions stand below hazards."""

    MISSED = 1
    CLAIM = 2
    MISMATCH = 3
    ODD = 4
    BLANK = 5
    ALWAYS = 6

    @property
    def word(self) -> str:
        """The trigger as it is said."""
        return {
            Trigger.MISSED: "Short or over",
            Trigger.CLAIM: "Claim differs",
            Trigger.MISMATCH: "Two places disagree",
            Trigger.ODD: "Odd value",
            Trigger.BLANK: "No data",
            Trigger.ALWAYS: "Worth rehearsing",
        }[self]


@dataclass(frozen=True)
class Template:
    """A question that jurors ask.

    number      its own number in the list, 1 upwards
    topic       what it is about
    trigger     why it arises
    check       slug of the check that it is tied to, or "" for a criterion of the jury's
    datum       where the answer is: schedules and sheets, in words
    words       the question, with braces; empty takes the check's own question
    when        returns what fills the braces where the question arises, or None
    needs       schedule without a row of which it doesn't arise
    cells       schedule and head of the odd values that raise it
    is_beyond   whether it is of a figure over an upper bound beside an at-least target
    is_hazard   whether someone could be hurt: it comes first
    """

    number: int
    topic: str
    trigger: Trigger
    check: str = ""
    datum: str = ""
    words: str = ""
    when: "Callable[[Facts], Words | None] | None" = None
    needs: str = ""
    cells: tuple[tuple[str, str], ...] = ()
    is_beyond: bool = False
    is_hazard: bool = False

    def asks(self, words: str, when: "Callable[[Facts], Words | None] | None" = None) -> "Template":
        """Return the template with its own words and what fills their braces."""
        return replace(self, words=words, when=when)

    def found_in(self, datum: str) -> "Template":
        """Return the template with where the answer is."""
        return replace(self, datum=datum)

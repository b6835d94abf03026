"""The rehearsal card: what a juror may ask, and the number that answers it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from criteria.asking.questions import Question, Trigger, likely_questions
from criteria.findings import State
from criteria.units import System
from reviews.models import Package
from reviews.pages.check_page import CheckLine, check_line
from reviews.reading.cohort_precedents import own_precedents, shared
from reviews.reading.package_checking import Checked, draft
from reviews.worked_out import fingerprint

KNOWN_TOO = 82
"""The template that asks about a precedent which others know too."""


@dataclass(frozen=True)
class LikelyQuestion:
    """One question, why it is asked, and the check that answers it, where one does."""

    asked: Question
    check: CheckLine | None


@dataclass(frozen=True)
class RehearsalCard:
    """Questions that this package raises, and those worth rehearsing with any.

    is_met   whether a target is answered, and every one that applies is met
    """

    raised: Sequence[LikelyQuestion]
    always: Sequence[LikelyQuestion]
    is_met: bool = False


class KeptCard:
    """The card of a package in preparation, made ready only where a process hasn't kept it.

    fingerprint   of all that it reads; whoever keeps it adds the scheme that it links to
    """

    def __init__(self, package: Package, system: System) -> None:
        known = shared(own_precedents(package))
        self._checked, self._system = draft(package), system
        self._known = [f"{each.building} ({each.count})" for each in known]
        self._cohort = known[0].cohort if known else 0
        self.fingerprint = fingerprint(self._checked.told, system, self._known, self._cohort)

    @cached_property
    def shown(self) -> RehearsalCard:
        """The card itself."""
        return _card(self._checked, self._system, self._known, self._cohort)


def _card(checked: Checked, system: System, known_too: Sequence[str], cohort: int) -> RehearsalCard:
    """Return the questions that a package in preparation invites, hazards first.

    What others of the cohort study too is raised by this package, though it stands nowhere short.
    """
    sheet = checked.sheet
    asked = likely_questions(sheet, checked.package, system, known_too=known_too, cohort=cohort)
    lines = {finding.ref: check_line(finding, system) for finding in sheet.asked}
    raised: list[LikelyQuestion] = []
    always: list[LikelyQuestion] = []
    for question in asked:
        is_own = question.trigger is not Trigger.ALWAYS or question.template == KNOWN_TOO
        (raised if is_own else always).append(LikelyQuestion(question, lines.get(question.ref)))
    held = [finding.state for finding in sheet.asked if finding.state is not State.NOT_ASKED]
    return RehearsalCard(raised, always, bool(held) and all(state.is_met for state in held))

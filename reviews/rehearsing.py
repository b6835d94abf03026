"""The rehearsal card: what a juror may ask, and the number that answers it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.questions import Question, Trigger, likely_questions
from criteria.units import System
from reviews.check_page import CheckLine, check_line
from reviews.checking import draft
from reviews.models import Package


@dataclass(frozen=True)
class LikelyQuestion:
    """One question, why it is asked, and the check that answers it, where one does."""

    asked: Question
    check: CheckLine | None


@dataclass(frozen=True)
class RehearsalCard:
    """Questions that this package raises, and those worth rehearsing with any."""

    raised: Sequence[LikelyQuestion]
    always: Sequence[LikelyQuestion]


def rehearsal_card(package: Package, system: System) -> RehearsalCard:
    """Return the questions that a package in preparation invites, hazards first."""
    read, sheet = draft(package)
    lines = {finding.ref: check_line(finding, system) for finding in sheet.asked}
    questions = [
        LikelyQuestion(question, lines.get(question.ref))
        for question in likely_questions(sheet, read, system)
    ]
    return RehearsalCard(
        raised=[q for q in questions if q.asked.trigger is not Trigger.ALWAYS],
        always=[q for q in questions if q.asked.trigger is Trigger.ALWAYS],
    )

"""The rehearsal card: what a juror may ask, and the number that answers it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.asking.questions import Question, Trigger, likely_questions
from criteria.units import System
from reviews.models import Package
from reviews.pages.check_page import CheckLine, check_line
from reviews.reading.cohort_precedents import Studied, own_precedents, shared
from reviews.reading.package_checking import draft

KNOWN_TOO = 82
"""The template that asks about a precedent which others know too."""


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
    """Return the questions that a package in preparation invites, hazards first.

    What others of the cohort study too takes the place of the question for any first precedent.
    """
    read, sheet, _ = draft(package)
    known = shared(own_precedents(package))
    lines = {finding.ref: check_line(finding, system) for finding in sheet.asked}
    questions = [
        LikelyQuestion(question, lines.get(question.ref))
        for question in likely_questions(sheet, read, system)
        if not (known and question.template == KNOWN_TOO)
    ]
    raised = [q for q in questions if q.asked.trigger is not Trigger.ALWAYS]
    if known:
        raised.append(LikelyQuestion(_known_too(known), None))
    return RehearsalCard(
        raised=raised,
        always=[q for q in questions if q.asked.trigger is Trigger.ALWAYS],
    )


def _known_too(known: Sequence[Studied]) -> Question:
    """Ask once of all that is shared: one juror would."""
    counted = ", ".join(f"{each.building} ({each.count})" for each in known)
    text = (
        f"Of the cohort’s {known[0].cohort} schemes several study the same: {counted}. "
        "What did you see that the others did not?"
    )
    return Question(
        text=text, trigger=Trigger.ALWAYS, topic="Precedent", check="precedents",
        datum="precedent schedules of the cohort", template=KNOWN_TOO,
    )  # fmt: skip

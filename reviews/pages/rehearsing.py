"""The rehearsal card: what a juror may ask, and the number that answers it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.asking.questions import Question, Trigger, likely_questions
from criteria.units import System
from reviews.models import Package
from reviews.pages.check_page import CheckLine, check_line
from reviews.reading.cohort_precedents import own_precedents, shared
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

    What others of the cohort study too is raised by this package, though it stands nowhere short.
    """
    read, sheet, _ = draft(package)
    known = shared(own_precedents(package))
    asked = likely_questions(
        sheet,
        read,
        system,
        known_too=[f"{each.building} ({each.count})" for each in known],
        cohort=known[0].cohort if known else 0,
    )
    lines = {finding.ref: check_line(finding, system) for finding in sheet.asked}
    raised: list[LikelyQuestion] = []
    always: list[LikelyQuestion] = []
    for question in asked:
        is_own = question.trigger is not Trigger.ALWAYS or question.template == KNOWN_TOO
        (raised if is_own else always).append(LikelyQuestion(question, lines.get(question.ref)))
    return RehearsalCard(raised, always)

"""What a juror may ask, in the order in which it is worth rehearsing."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.check_sheet import CheckSheet
from criteria.units import System
from reviews.check_page import CheckLine, check_line, worst_first


@dataclass(frozen=True)
class LikelyQuestion:
    """One question and the number that answers it.

    key    of the check that it comes from; empty where an odd value or a claim invites it
    """

    ask: str
    about: str
    answer: str
    key: str = ""
    check: CheckLine | None = None


def rehearsal_card(sheet: CheckSheet, system: System) -> list[LikelyQuestion]:
    """Return the questions that a package invites.

    Targets missed first, the furthest first; then what can't be computed; then claims that
    the schedules contradict; then odd values.
    """
    questions = []
    for finding in worst_first(sheet):
        line = check_line(finding, system)
        if line.question:
            answer = f"{line.value_text}; the target is {line.target_text}"
            questions.append(LikelyQuestion(line.question, line.name, answer, line.key, line))
    questions += [
        LikelyQuestion(
            f"The sheet says “{claim.text}”; the schedules give {claim.write_computed()}. Which "
            "is it?",
            claim.about,
            claim.write_computed(),
        )
        for claim in sheet.claims
        if claim.differs
    ]
    questions += [
        LikelyQuestion(odd.question, f"{odd.mark} {odd.schedule}".strip(), odd.read)
        for odd in sheet.odd
    ]
    return questions

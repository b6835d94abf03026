"""What informs a juror's levels and sets none: facts, plans and likely questions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from criteria.check_sheet.sheet import CheckSheet
from criteria.drawing.catalogue import BY_CHECK
from criteria.findings import Finding, State
from criteria.units import System
from reviews.models import Criterion, Revision
from reviews.pages.daylight_pages import Shown, plans_beside
from reviews.pages.jury_lines import Line

MOST_QUESTIONS = 5
"""Most likely questions that a juror is shown."""


@dataclass(frozen=True)
class Fact:
    """A check's figure beside a criterion that names it as evidence. It suggests no level.

    note      why it isn't asked here, or is set aside
    is_drawn  whether its check has a drawing
    """

    ref: str
    title: str
    subject: str
    state: str
    value: str
    target: str
    margin: str
    note: str = ""
    is_drawn: bool = False


@dataclass(frozen=True)
class Judged:
    """A criterion's line with the facts, and the daylight plans they are about, folded under it."""

    line: Line
    facts: list[Fact]
    plans: list[Shown]


def facts_for(criterion: Criterion, sheet: CheckSheet | None, system: System) -> list[Fact]:
    """The facts that a criterion names as its evidence, in the order in which it names them."""
    return [_fact(finding, system) for finding in evidence_of(criterion, sheet)]


def evidence_of(criterion: Criterion, sheet: CheckSheet | None) -> list[Finding]:
    """The findings that a criterion names, in its order."""
    found = {finding.ref: finding for finding in sheet.asked} if sheet else {}
    return [found[ref] for ref in criterion.evidence_refs if ref in found]


def plans_for(
    criterion: Criterion, sheet: CheckSheet | None, revision: Revision | None, system: System
) -> list[Shown]:
    if revision is None:
        return []
    key = f"plan-{criterion.pk}"
    return plans_beside(revision, evidence_of(criterion, sheet), system, key=key)


def _fact(finding: Finding, system: System) -> Fact:
    is_held = finding.state is not State.NOT_ASKED
    return Fact(
        ref=finding.ref,
        title=finding.title,
        subject=finding.name,
        state=finding.state,
        value=finding.write_value(system) or "–",
        target=f"{finding.rule} {finding.write_target(system)}".strip(),
        margin=finding.write_margin(system) if is_held else "",
        note="" if is_held else "; ".join(finding.write_notes(system)),
        is_drawn=finding.check in BY_CHECK,
    )


class Asked(NamedTuple):
    """A likely question, and the target that raises it."""

    ref: str
    question: str


def likely_questions(sheet: CheckSheet | None) -> list[Finding]:
    """At most five findings that invite a question, those furthest from their target first."""
    asking = [finding for finding in sheet.asked if finding.question] if sheet else []

    def distance(finding: Finding) -> float:
        return 0.0 if finding.relative_margin is None else finding.relative_margin

    return sorted(asking, key=distance)[:MOST_QUESTIONS]

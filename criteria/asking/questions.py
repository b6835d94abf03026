"""Likely questions: what a juror may ask of a package, hazards first.

Then what stands short or over, the largest relative shortfall first; then claims that
differ, places that disagree, odd values and blanks; last what is always worth rehearsing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from criteria.asking import furniture_access, heat_power, light_air, moving_story, water_space
from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger
from criteria.check_sheet.claims import ClaimFinding
from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.units import System

__all__ = ["TEMPLATES", "Question", "Template", "Trigger", "likely_questions"]

TEMPLATES: tuple[Template, ...] = (
    *light_air.QUESTIONS,
    *heat_power.QUESTIONS,
    *water_space.QUESTIONS,
    *furniture_access.QUESTIONS,
    *moving_story.QUESTIONS,
)
"""All questions, by number."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """One question for one package.

    text        the question, with this package's figures
    trigger     why it is asked
    is_hazard   whether someone could be hurt
    ref         the target that raised it, "T14", or ""
    check       slug of the check that it is tied to, or ""
    datum       where the answer is
    template    number of its template; 0 where a check asks for itself
    weight      how far a target is missed, as a share of it [1]
    """

    text: str
    trigger: Trigger
    topic: str
    datum: str
    is_hazard: bool = False
    ref: str = ""
    check: str = ""
    template: int = 0
    weight: float = 0.0


def likely_questions(
    sheet: CheckSheet,
    package: Package,
    system: System = System.METRIC,
    *,
    known_too: Sequence[str] = (),
    cohort: int = 0,
) -> tuple[Question, ...]:
    """Return the questions that a package invites, the one to rehearse first at the head.

    known_too   precedents that several of a cohort's schemes study, "Barn (2)"
    """
    facts = Facts(sheet, package, system, tuple(known_too), cohort)
    asked = [question for template in TEMPLATES for question in _ask(template, facts)]
    asked += _unforeseen(facts, asked)
    unique = {question.text: question for question in reversed(asked)}
    return tuple(sorted(unique.values(), key=_rank))


def _rank(question: Question) -> tuple[bool, int, float, int, str]:
    return (
        not question.is_hazard,
        question.trigger,
        -question.weight,
        question.template,
        question.ref,
    )


def _ask(template: Template, facts: Facts) -> Iterator[Question]:
    if template.cells:
        yield from _of_cells(template, facts)
    elif template.when is not None:
        words = template.when(facts)
        if words is not None:
            yield _question(template, template.words.format(**words))
    elif template.trigger is Trigger.MISSED:
        for finding in facts.missed(template.check):
            if finding.is_beyond is template.is_beyond:
                yield _of_finding(template, finding, facts.system)
    elif template.trigger is Trigger.CLAIM:
        for claim in _claims_for(template, facts):
            yield _of_claim(template, claim, facts.system)
    elif not template.needs or getattr(facts.package, template.needs):
        yield _question(template, template.words)


def _question(template: Template, text: str, ref: str = "", weight: float = 0.0) -> Question:
    return Question(
        text=text,
        trigger=template.trigger,
        topic=template.topic,
        datum=template.datum,
        is_hazard=template.is_hazard,
        ref=ref,
        check=template.check,
        template=template.number,
        weight=weight,
    )


def _of_cells(template: Template, facts: Facts) -> Iterator[Question]:
    for odd in facts.sheet.odd:
        if (odd.schedule, odd.head) in template.cells:
            yield _question(template, odd.write_question(facts.system))


def _of_finding(template: Template, finding: Finding, system: System) -> Question:
    words = finding.write_question(system)
    return _question(template, words, finding.ref, _shortfall(finding))


def _shortfall(finding: Finding) -> float:
    """Return how far a target is missed, as a share of it; all of it where it is of all."""
    margin = finding.relative_margin
    return 1.0 if margin is None else max(0.0, -margin)


def _claims_for(template: Template, facts: Facts) -> Iterator[ClaimFinding]:
    own = {t.check for t in TEMPLATES if t.trigger is Trigger.CLAIM and t.check}
    for claim in facts.sheet.claims:
        if claim.differs and (
            claim.check == template.check or (not template.check and claim.check not in own)
        ):
            yield claim


def _of_claim(template: Template, claim: ClaimFinding, system: System) -> Question:
    words = template.words.format(
        about=claim.about,
        claim=f"“{claim.text}”",
        held=claim.write_held(system),
        computed=claim.write_computed(system),
    )
    return _question(template, words)


def _unforeseen(facts: Facts, asked: list[Question]) -> Iterator[Question]:
    """Ask what no template does: other missed targets, odd values and targets without data."""
    refs = {question.ref for question in asked if question.ref}
    texts = {question.text for question in asked}
    for finding in facts.sheet.asked:
        if not finding.question or finding.ref in refs:
            continue
        missed = finding.state.is_missed
        yield Question(
            text=finding.write_question(facts.system),
            trigger=Trigger.MISSED if missed else Trigger.BLANK,
            topic=finding.topic,
            datum=_datum(finding),
            ref=finding.ref,
            check=finding.check,
            weight=_shortfall(finding) if missed else 0.0,
        )
    for odd in facts.sheet.odd:
        text = odd.write_question(facts.system)
        if text not in texts:
            trigger = Trigger.MISMATCH if odd.is_mismatch else Trigger.ODD
            where = BY_SLUG[odd.schedule].title.lower()
            yield Question(text=text, trigger=trigger, topic="Odd value", datum=where)


def _datum(finding: Finding) -> str:
    return ", ".join(BY_SLUG[slug].title.lower() for slug in finding.schedules)

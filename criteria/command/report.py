"""The check sheet written out: as text for a terminal and as JSON for a script."""

from collections.abc import Mapping, Sequence
from typing import Any

from criteria.asking.questions import Question, Trigger
from criteria.check_sheet.claims import ClaimFinding
from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.catalogue import CATALOGUE
from criteria.findings import Finding, Part, Rule, State
from criteria.units import System

TEACHING = "A teaching check, not a code approval; local codes and licensed practice decide."


def as_text(
    sheet: CheckSheet,
    package: str,
    figures: Mapping[str, str],
    system: System,
    questions: Sequence[Question] | None = None,
) -> str:
    """Write a check sheet for a terminal: one line a target, then what needs a look.

    Without questions, those that the findings themselves raise are asked.
    """
    lines = [f"Check sheet: {package}", TEACHING, ""]
    asked = sheet.asked
    width = max((len(f.title) for f in asked), default=0)
    lines += [finding_line(f, width, system) for f in asked]
    if not asked:
        lines.append("No targets were given: every check is Not asked.")
    without = sheet.count(State.NO_DATA)
    also = f", {without} without data" if without else ""
    lines += ["", f"{sheet.missed} short or over of {len(asked)}{also}"]
    if beside := [f for f in sheet.findings if not f.ref and f.write_value(system)]:
        lines += ["", "Not asked, for information:"]
        lines += [f"  {f.title}: {f.write_value(system)}" for f in beside]
    if sheet.odd:
        lines += ["", "Odd values:", *(f"  {odd.write_question(system)}" for odd in sheet.odd)]
    if sheet.claims:
        lines += [
            "",
            "Claims on sheets:",
            *(f"  {_claim_text(claim, system)}" for claim in sheet.claims),
        ]
    if questions is None:
        asks = [f"{f.ref}: {f.write_question(system)}" for f in asked if f.question]
    else:
        asks = [_question_text(q) for q in questions if q.trigger is not Trigger.ALWAYS]
    if asks:
        lines += ["", "Likely questions:", *(f"  {text}" for text in asks)]
    if figures:
        listed = ", ".join(f"{label} {text}" for label, text in figures.items())
        lines += ["", f"Figures read from the words of the targets: {listed}"]
    return "\n".join(lines) + "\n"


def finding_line(f: Finding, width: int, system: System) -> str:
    """Write a finding in one line, its title in a column so wide, then what to know of it."""
    value, target = f.write_value(system) or "–", f.write_target(system)
    rule = target if f.rule is Rule.ALL else f"{f.rule} {target}" if target else ""
    if bound := f.write_not_over(system):
        rule += f", not over {bound}"
    by = f.write_margin(system) if f.state.is_missed else ""
    named = f"{f.name} ({f.subject})" if f.subject else ""
    where = "; ".join(filter(None, (named, f.situation)))
    rest = "; ".join(part for part in (by, where, *f.write_notes(system), *_blank(f)) if part)
    line = f"{f.ref:<5} {f.title:<{width}}  {value:>12}  {rule:<22}  {f.state.word:<12} {rest}"
    return line.rstrip()


def _question_text(question: Question) -> str:
    hazard = "Hazard: " if question.is_hazard else ""
    ref = f"{question.ref}: " if question.ref else ""
    return f"{hazard}{ref}{question.text}"


def _claim_text(claim: ClaimFinding, system: System) -> str:
    held, gives = claim.write_held(system), claim.write_computed(system)
    beside = f", held as {held}" if held else ""
    beside += f", against {gives}" if gives else f"; {', '.join(claim.write_why(system))}"
    apart = f" by {claim.write_apart()}" if claim.write_apart() else ""
    return f"{claim.about}, “{claim.text}”{beside}: {claim.result.word.lower()}{apart}"


def _blank(finding: Finding) -> tuple[str, ...]:
    return (f"still needs {', '.join(finding.missing)}",) if finding.missing else ()


def as_json(
    sheet: CheckSheet,
    package: str,
    figures: Mapping[str, str],
    questions: Sequence[Question] = (),
) -> dict[str, Any]:
    """Return a check sheet as JSON values: metric units named beside each figure, not rounded."""
    return {
        "package": package,
        "findings": [finding_json(finding) for finding in sheet.findings],
        "odd_values": [
            {
                "schedule": odd.schedule, "mark": odd.mark, "column": odd.head,
                "read": odd.write_read(), "question": odd.write_question(),
                "suggestion": odd.suggestion, "row": odd.row or None,
            }
            for odd in sheet.odd
        ],
        "claims": [_claim(claim) for claim in sheet.claims],
        "questions": [
            {
                "question": q.text, "why": q.trigger.word, "hazard": q.is_hazard,
                "target": q.ref or None, "check": q.check or None, "answered_by": q.datum,
            }
            for q in questions
        ],
        "figures_from_words": dict(figures),
    }  # fmt: skip


def _claim(claim: ClaimFinding) -> dict[str, Any]:
    unit = claim.scale.metric if claim.scale else None

    def metric(si: float | None) -> float | None:
        return None if si is None or unit is None else float(unit.from_si(si))

    return {
        "about": claim.about,
        "claim": claim.text,
        "sheet": claim.sheet or None,
        "check": claim.check or None,
        "check_is_proposed": claim.is_proposed,
        "subject": claim.subject or None,
        "name": claim.name or None,
        "claimed": metric(claim.claimed),
        "computed": metric(claim.computed),
        "unit": unit.symbol if unit else "",
        "state": str(claim.result),
        "notes": list(claim.write_why()),
    }


def _number(part: Part, si: float | None) -> float | int | None:
    if si is None:
        return None
    number = float(part.scale.metric.from_si(si))
    return int(number) if part.scale.places == 0 and number.is_integer() else number


def finding_json(f: Finding) -> dict[str, Any]:
    """Return a finding as JSON values: metric units named beside its figures, not rounded."""
    values = [_number(part, part.value) for part in f.parts]
    targets = [_number(part, part.target) for part in f.parts]
    margin = f.parts[0].margin if len(f.parts) == 1 else None
    unit = f.scale.metric
    return {
        "target": f.ref or None,
        "check": f.check or None,
        "title": f.title,
        "subject": f.subject or None,
        "state_of_building": f.in_state or None,
        "case": f.in_case or None,
        "name": f.name or None,
        "value": f.shown or (values[0] if len(values) == 1 else values),
        "unit": unit.symbol,
        "at_best": f.at_best,
        "rule": str(f.rule),
        "target_value": _target_value(f, targets),
        "not_over": _number(f.parts[0], f.not_over),
        "margin": None if margin is None else margin / float(unit.factor),
        "state": str(f.state),
        "working": "; ".join(step.write() for step in f.steps),
        "source": "; ".join(str(citation) for citation in f.citations),
        "asked_by": f.asked_by or None,
        "limits": f.limits,
        "caution": f.caution or None,
        "missing": list(f.missing),
        "notes": list(f.write_notes()),
        "question": f.question or None,
    }


def _target_value(f: Finding, targets: list[float | int | None]) -> object:
    if f.rule is Rule.ALL:
        return str(Rule.ALL) if f.target is not None else None
    return targets[0] if len(targets) == 1 else targets


def catalogue_text() -> str:
    """Write the catalogue: each check, its formula, and its source."""
    blocks = []
    for check in CATALOGUE:
        sources = "; ".join(str(citation) for citation in check.citations)
        blocks.append(
            f"{check.slug}: {check.title} ({check.topic})\n"
            f"  {check.formula}\n  {check.meaning}\n  Source: {sources}\n  Limits: {check.limits}"
        )
    return "\n\n".join(blocks) + "\n"


def catalogue_json() -> list[dict[str, Any]]:
    """Return the catalogue as JSON values."""
    return [
        {
            "check": check.slug,
            "title": check.title,
            "topic": check.topic,
            "units": [scale.metric.symbol for scale in check.scales],
            "rule": str(check.rule),
            "schedules": list(check.schedules),
            "formula": check.formula,
            "symbols": check.meaning,
            "sources": [str(citation) for citation in check.citations],
            "limits": check.limits,
        }
        for check in CATALOGUE
    ]


def catalogue_markdown() -> str:
    """Write the catalogue as the table that the README shows."""
    lines = ["| Check | Topic | Formula | Source |", "| --- | --- | --- | --- |"]
    for check in CATALOGUE:
        sources = "; ".join(str(citation) for citation in check.citations)
        lines.append(
            f"| {check.title} (`{check.slug}`) | {check.topic} | {check.formula} | {sources} |"
        )
    return "\n".join(lines) + "\n"


EXIT_MET, EXIT_NOT_MET, EXIT_UNREADABLE = 0, 1, 2
"""Exit codes: all meet; something is short, over or without data; the input can't be read."""


def exit_code(sheet: CheckSheet, refused: Sequence[str] = ()) -> int:
    """Return the exit code of a check sheet; a refused cell is never all met."""
    bad = refused or sheet.count(State.SHORT, State.OVER, State.NO_DATA)
    return EXIT_NOT_MET if bad else EXIT_MET

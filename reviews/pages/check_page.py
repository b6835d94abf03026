"""A check as it stands on a page, in the units of whoever reads."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from criteria.check_sheet.claims import ClaimFinding
from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding, Measured, Rule, State, side_by_side
from criteria.odd.values import OddValue
from criteria.schedules import BY_SLUG, LEADER_SCHEDULES
from criteria.typed.rows import Schedule
from criteria.units import System
from reviews.reading.package_older_claims import older_claims

NOTHING = "–"

STATES_SHOWN = (
    State.MEETS,
    State.ON_THE_LINE,
    State.SHORT,
    State.OVER,
    State.NO_DATA,
    State.NOT_ASKED,
)
"""What the check of a target can be, in the order in which a summary counts them."""


@dataclass(frozen=True)
class Subject:
    """One room, row or whole that a check measured."""

    mark: str
    name: str
    situation: str
    value: str
    working: tuple[str, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class CheckLine:
    """One line of a check sheet: a finding as it is written for a reader.

    value, target   in the reader's unit, for the scale bar
    lower           where there are two limits, the lower; the target is then the upper
    today           what the library says today of what was issued, where that differs
    """

    finding: Finding
    name: str
    subject: str
    state: State
    value_text: str
    target_text: str
    margin_text: str
    limit_text: str
    value: float | None
    target: float | None
    lower: float | None
    rule: str
    steps: tuple[str, ...]
    source: str
    question: str
    notes: tuple[str, ...]
    subjects: tuple[Subject, ...]
    today: str = ""

    @property
    def key(self) -> str:
        """What its page is found by."""
        return self.finding.ref or self.finding.check

    @property
    def mark(self) -> str:
        """The target's reference, or a dash."""
        return self.finding.ref or NOTHING

    @property
    def why_not_asked(self) -> str:
        """Why a target counts for nothing here: it applies to no row, or it is set aside."""
        return "; ".join(self.notes) if self.finding.ref and self.state is State.NOT_ASKED else ""

    @property
    def is_worded(self) -> bool:
        """Whether its value is words, such as the names of what doesn't hold."""
        return bool(self.finding.shown)

    @property
    def id(self) -> str:
        """The id of the line on its page."""
        return f"check-{self.key}"

    @property
    def has_situations(self) -> bool:
        """Whether its subjects were measured in states or for people that the brief names."""
        return any(subject.situation for subject in self.subjects)


def check_line(finding: Finding, system: System) -> CheckLine:
    """Write a finding out for a reader."""
    target = finding.write_target(system)
    rule = str(finding.rule)
    unit = finding.scale.unit(system)

    is_held = bool(finding.ref) and finding.state is not State.NOT_ASKED
    first = finding.parts[0] if is_held else replace(finding.parts[0], target=None, not_over=None)

    def number(si: float | None) -> float | None:
        return None if si is None else float(unit.from_si(si))

    steps = tuple(step.write(system) for step in finding.steps)
    return CheckLine(
        finding=finding,
        name=finding.title,
        subject=_subject(finding),
        state=finding.state,
        value_text=finding.write_value(system) or NOTHING,
        target_text=_target_words(finding, rule, target, system),
        margin_text=(finding.write_margin(system) if is_held else "") or NOTHING,
        limit_text=_limit_words(finding, target, system),
        value=number(finding.value),
        target=number(first.target if first.not_over is None else first.not_over),
        lower=None if first.not_over is None else number(first.target),
        rule=rule if first.not_over is None else str(Rule.AT_MOST),
        steps=steps,
        source="; ".join(str(citation) for citation in finding.citations),
        question=finding.write_question(system),
        notes=_beside(finding.write_notes(system), steps),
        subjects=tuple(_measured(m, finding, system) for m in finding.worst_first),
    )


def _subject(finding: Finding) -> str:
    named = f"{finding.name} ({finding.subject})" if finding.subject else finding.name
    return ", ".join(filter(None, (named.strip(), finding.situation)))


def _target_words(finding: Finding, rule: str, target: str, system: System) -> str:
    if not target:
        return NOTHING
    if target == rule:
        return target
    over = finding.write_not_over(system)
    return f"{rule} {target}, not over {over}" if over else f"{rule} {target}"


def _limit_words(finding: Finding, target: str, system: System) -> str:
    """The figure that stands at the end of the scale bar."""
    return finding.write_not_over(system) or target


def value_of(measured: Measured, finding: Finding, system: System) -> str:
    """Write the figure of one subject of a finding, or a dash where it has none."""
    pairs = zip(finding.parts, measured.values, strict=False)
    figures = [(part.scale, value, 0) for part, value in pairs]
    return measured.shown or side_by_side(figures, system) or NOTHING


def _measured(measured: Measured, finding: Finding, system: System) -> Subject:
    working = tuple(step.write(system) for step in measured.steps)
    return Subject(
        mark=measured.subject,
        name=measured.name or ("" if measured.subject else "The building"),
        situation=measured.situation + ("" if measured.is_held else ", not held to it"),
        value=value_of(measured, finding, system),
        working=working,
        missing=measured.missing,
        notes=_beside((note.write(system) for note in measured.notes), working),
    )


def _beside(notes: Iterable[str], working: Sequence[str]) -> tuple[str, ...]:
    """Leave out what the working beside them says already."""
    return tuple(note for note in notes if note not in working)


def check_lines(
    findings: Iterable[Finding], system: System, today: CheckSheet | None = None
) -> list[CheckLine]:
    """Write findings out for a reader; of what was issued, beside what the library says today."""
    lines = [check_line(finding, system) for finding in findings]
    if today is None:
        return lines
    now = {(f.ref, f.check): check_line(f, system) for f in today.findings}
    found = ((line, now.get((line.finding.ref, line.finding.check))) for line in lines)
    return [replace(line, today=_today(line, found_now)) for line, found_now in found]


def _today(issued: CheckLine, now: CheckLine | None) -> str:
    if issued.why_not_asked:
        return ""
    if now is None:
        return "no such check"
    if (issued.state, issued.value_text) == (now.state, now.value_text):
        return ""
    return f"{now.value_text}, {now.state.word.lower()}"


@dataclass(frozen=True)
class Summary:
    """What a check sheet comes to: counts by state, and the three that stand worst."""

    counts: tuple[tuple[State, int], ...]
    worst: tuple[CheckLine, ...]
    asked: int
    odd: int
    claims: int

    @property
    def is_all_met(self) -> bool:
        """Whether every target that applies is met."""
        return all(state.is_met or state is State.NOT_ASKED for state, _ in self.counts)


def summary_of(sheet: CheckSheet, system: System) -> Summary:
    """Sum a check sheet up."""
    counts = ((state, sheet.count(state)) for state in STATES_SHOWN)
    return Summary(
        counts=tuple((state, n) for state, n in counts if n),
        worst=tuple(check_lines(worst_first(sheet)[:3], system)),
        asked=len(sheet.asked),
        odd=len(sheet.odd),
        claims=sum(claim.differs for claim in sheet.claims),
    )


def worst_first(sheet: CheckSheet) -> list[Finding]:
    """Findings that aren't met: the furthest from their targets first, then those without data."""
    missed = [f for f in sheet.asked if f.state.is_missed]
    blank = [f for f in sheet.asked if f.state is State.NO_DATA]

    def distance(finding: Finding) -> float:
        return 0.0 if finding.relative_margin is None else finding.relative_margin

    return sorted(missed, key=distance) + blank


@dataclass(frozen=True)
class ClaimLine:
    """What a sheet says, what that is held as, and against what the schedules give.

    is_open   whether a student has yet to say or confirm which check it is held to
    """

    claim: ClaimFinding
    held_text: str
    is_open: bool
    computed_text: str
    apart: str
    why: tuple[str, ...]


def claim_line(claim: ClaimFinding, system: System) -> ClaimLine:
    """Write a claim out for a reader."""
    return ClaimLine(
        claim=claim,
        held_text=claim.write_held(system),
        is_open=claim.is_proposed or not claim.check,
        computed_text=claim.write_computed(system),
        apart=claim.write_apart(),
        why=claim.write_why(system),
    )


@dataclass(frozen=True)
class OddLine:
    """A cell that is probably not what was meant, and what would mend it."""

    value: OddValue
    question: str


def odd_line(odd: OddValue, system: System) -> OddLine:
    """Write an odd value out for a reader."""
    return OddLine(odd, odd.write_question(system))


@dataclass(frozen=True)
class CheckPage:
    """One check, whole, and the lines before and after it.

    claims   what sheets say about it
    older    claims about it that are older than a schedule it reads
    """

    line: CheckLine
    claims: tuple[ClaimLine, ...]
    older: tuple[OddLine, ...]
    before: CheckLine | None
    after: CheckLine | None
    schedules: tuple[tuple[Schedule, bool], ...]
    """What it reads, each with whether it is the brief's."""


def _is_about(claim: ClaimFinding, finding: Finding) -> bool:
    """Whether a claim speaks of what a finding measured: a kitchen's isn't a bunk room's."""
    names = {measured.name for measured in finding.worst_first}
    return (
        bool(finding.check)
        and claim.check == finding.check
        and (not claim.name or claim.name in names)
    )


def one_check(
    sheet: CheckSheet, key: str, system: System, today: CheckSheet | None = None
) -> CheckPage | None:
    """Return the check of a target's reference, or of a slug that no target asks for."""
    findings = list(sheet.findings)
    place = next((n for n, f in enumerate(findings) if key in (f.ref or f.check, f.check)), None)
    for n, finding in enumerate(findings):
        if finding.ref == key:
            place = n
    if place is None:
        return None
    finding = findings[place]
    around = (place - 1, place + 1)
    before, after = (
        check_line(findings[n], system) if 0 <= n < len(findings) else None for n in around
    )
    return CheckPage(
        line=check_lines([finding], system, today)[0],
        claims=tuple(
            claim_line(claim, system) for claim in sheet.claims if _is_about(claim, finding)
        ),
        older=tuple(
            odd_line(o, system)
            for o in older_claims(sheet)
            if finding.check and o.check == finding.check
        ),
        before=before,
        after=after,
        schedules=tuple(
            (BY_SLUG[slug], BY_SLUG[slug] in LEADER_SCHEDULES)
            for slug in finding.schedules
            if slug in BY_SLUG
        ),
    )

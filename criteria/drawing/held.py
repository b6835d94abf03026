"""Figures that a drawing letters beside what they are held to, as the sheet has them.

What no target asks for is measured by its check alone, and held to nothing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from criteria.check_sheet.sheet import unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.pens import Tone
from criteria.drawing.picture import Asked, Seen
from criteria.findings import NOT_ALL, Amount, Finding, Measured, Part, Rule, State, Step, compare
from criteria.package import Package
from criteria.schedules.states import PeopleCase
from criteria.situations import Situation
from criteria.units import Scale, System


@dataclass(frozen=True, kw_only=True)
class Held:
    """One figure of a check, with its limits and how it stands to them."""

    measured: Measured
    part: Part

    @property
    def amount(self) -> Amount:
        """The figure."""
        return Amount(self.measured.values[0], self.part.scale)

    @property
    def lacks(self) -> Amount | None:
        """How far it is short or over; None where it isn't."""
        margin = self.part.margin if self.part.state.is_missed else None
        return None if margin is None else Amount(-margin, self.part.scale)

    @property
    def tone(self) -> Tone:
        """The colour in which it stands."""
        if self.part.state.is_missed:
            return Tone.SHORT
        return Tone.NEAR if self.part.state is State.ON_THE_LINE else Tone.INK

    def write(self, system: System) -> str:
        """Write the figure with its unit, fine enough to be told from a limit that it misses."""
        written = self.amount.scale.write(self.amount.si, system, self.part.finer(system))
        return f"at best {written}" if self.measured.at_best else written

    def write_limits(self, system: System) -> str:
        """Write what it is held to in words: “at least 10.0, 0.6 short”; nothing without limits."""
        part, more = self.part, self.part.finer(system)
        if part.target is None:
            return ""
        words = [f"{part.rule} {_bare(Amount(part.target, part.scale), system, more)}"]
        if part.not_over is not None:
            words.append(f"not over {_bare(Amount(part.not_over, part.scale), system)}")
        return ", ".join(filter(None, [*words, self.write_state(system)]))

    def write_state(self, system: System) -> str:
        """Write what lacks or is over, or that it is on the line; nothing of what else it is."""
        if self.lacks:
            lacks = _bare(self.lacks, system, self.part.finer(system))
            return f"{lacks} {self.part.state.word.lower()}"
        return "on the line" if self.part.state is State.ON_THE_LINE else ""

    def write_beside(self, system: System, *, is_narrow: bool) -> str:
        """Write the figure with its limits, on narrow paper only with what lacks."""
        says = self.write_state(system) if is_narrow else self.write_limits(system)
        return f"{self.write(system)}, {says}" if says else self.write(system)


def _bare(amount: Amount, system: System, more: int = 0) -> str:
    """Write a figure without its unit, where one beside it has the same."""
    if amount.scale.is_drawn(system):
        return amount.write(system)
    return amount.scale.number(amount.si, system, more)


def finding_of(seen: Seen, check: str) -> Finding:
    """Return what the sheet says of a check, or what the check measures where no target asks."""
    found = seen.findings.get(check)
    return found or unasked(seen.package.as_built or seen.package, CHECKS[check])


def is_asked(seen: Seen, check: str) -> bool:
    """Whether a target asks for a check, or it is the one that is drawn."""
    finding = seen.findings.get(check)
    return check == seen.check or (finding is not None and finding.target is not None)


def held(seen: Seen, check: str) -> list[Held]:
    """Return every figure of a check, the one that decided first; none of what has no value."""
    finding = finding_of(seen, check)
    return [_held(finding, measured) for measured in finding.worst_first if measured.values]


def in_its_case(seen: Seen) -> Package:
    """Return the package with the people of the figure that is asked for."""
    named = seen.asked.measured.in_case.split(", ")[0]
    cases = seen.package.rows_of(PeopleCase) if named else ()
    case = next((each for each in cases if each.case == named), None)
    return Situation(case=case).of(seen.package) if case else seen.package


def is_of_its_case(seen: Seen, each: Held) -> bool:
    """Whether a figure is of the people of the one that is asked for; where none are named, yes."""
    named, known = seen.asked.measured.in_case.split(", ")[0], each.measured.in_case
    return not named or not known or named in known.split(", ")


def told(seen: Seen) -> Held | None:
    """Return the figure that is asked for, with its limits; None where it is no number."""
    if seen.asked.amount is None:
        return None
    return next(each for each in held(seen, seen.check) if each.measured == seen.asked.measured)


def asked_of(finding: Finding, measured: Measured, situation: str = "") -> Asked:
    """Return a figure of a finding as a drawing picks it out.

    situation   in which state of the building it is drawn
    """
    is_number = bool(measured.values) and finding.rule is not Rule.ALL
    target = finding.target if is_number else None
    subject = measured.subject or measured.name
    return Asked(
        title=f"{finding.title}, {subject}" if subject else finding.title,
        measured=measured,
        amount=Amount(measured.values[0], finding.scale) if is_number else None,
        limit=None if target is None else Amount(target, finding.scale),
        state=stands(finding, measured),
        situation=situation,
    )


def of_rows_alone() -> Finding:
    """Return what is drawn of a schedule that no check reads: nothing is measured or asked."""
    return Finding(
        ref="", check="", title="", rule=Rule.ALL, state=State.NOT_ASKED, parts=(), formula=""
    )


def stands(finding: Finding, measured: Measured) -> State:
    """Say how a figure stands: what decided as its check says, another by the same comparison."""
    if finding.worst_first[:1] in ((), (measured,)):
        return finding.state
    if finding.target is None or not measured.is_held:
        return State.NOT_ASKED
    if not measured.values:
        return State.NO_DATA
    return compare(measured.values[0], finding.target, finding.rule)


def amounts_in(step: Step) -> list[Amount]:
    """Return the figures of a line of working that have a unit, in their order."""
    return [each for each in step.amounts if isinstance(each, Amount)]


def failing(seen: Seen) -> frozenset[str]:
    """Return the marks and names of which what is asked of all doesn't hold."""
    return frozenset(faults_of(seen))


def faults_of(seen: Seen) -> Mapping[str, str]:
    """Return of which what is asked of all doesn't hold, each with its fault in a word or two."""
    shown = seen.asked.measured.shown
    if not shown.startswith(NOT_ALL):
        return {}
    # a comma between two faults of one is no comma between two
    each = re.findall(r"([^,(]+?)(?: \((.*?)\))?(?:, |$)", shown.removeprefix(NOT_ALL))
    return dict(each)


def held_to_nothing(value: float, scale: Scale) -> Held:
    """Return a figure that no target asks for: a typed cell, or one that a check reckoned."""
    part = Part(name="", scale=scale, value=value, target=None, state=State.NOT_ASKED)
    return Held(measured=Measured(values=(value,)), part=part)


def _held(finding: Finding, measured: Measured) -> Held:
    is_asked = measured.is_held and finding.rule is not Rule.ALL
    part = Part(
        name="",
        scale=finding.scale,
        value=measured.values[0],
        target=finding.target if is_asked else None,
        state=stands(finding, measured),
        rule=finding.rule,
        not_over=finding.not_over if is_asked else None,
    )
    return Held(measured=measured, part=part)

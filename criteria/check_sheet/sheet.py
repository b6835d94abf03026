"""The check sheet: every target of a brief held against a package, and what wasn't asked."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from criteria.check_sheet.claims import ClaimFinding, hold_claims
from criteria.check_sheet.served import People, Served, people_of, served
from criteria.checks.catalogue import CATALOGUE
from criteria.checks.check import Check
from criteria.findings import Finding, Measured, Part, Rule, State, Step, compare, nowhere
from criteria.odd.values import OddValue, odd_values
from criteria.package import Package
from criteria.targets.reading import Target
from criteria.units import COUNT

NO_DATA_ASKS = "{title} can't be computed without {missing}. What will stand there?"
UNTRIED = Step("nobody has held this figure to buildings yet: it is shown, and judges nothing")


@dataclass(frozen=True)
class CheckSheet:
    """Findings in the order of the targets, then the checks that nothing asked for.

    cases    people cases of the brief
    served   the most people for whom each target holds that depends on them
    """

    findings: tuple[Finding, ...]
    odd: tuple[OddValue, ...]
    claims: tuple[ClaimFinding, ...] = ()
    served: tuple[Served, ...] = ()
    cases: tuple[People, ...] = ()

    @property
    def asked(self) -> tuple[Finding, ...]:
        """Findings that answer a target."""
        return tuple(finding for finding in self.findings if finding.ref)

    def count(self, *states: State) -> int:
        """Count the asked findings in some states."""
        return sum(finding.state in states for finding in self.asked)

    @property
    def missed(self) -> int:
        """How many targets are short or over."""
        return self.count(State.SHORT, State.OVER)

    @property
    def is_met(self) -> bool:
        """Whether every target that applies is met."""
        return not self.count(State.SHORT, State.OVER, State.NO_DATA)


def check_sheet(package: Package, targets: Iterable[Target]) -> CheckSheet:
    """Hold a package to targets; every target gives one finding.

    Of checks that nothing asked for, those that run a whole year are left to the year's own page.
    """
    targets = tuple(targets)
    sheet = asked_sheet(package, targets)
    answered = {finding.check for finding in sheet.findings}
    rest = (
        unasked(package, check)
        for check in CATALOGUE
        if check.slug not in answered and not check.is_yearly
    )
    most = served(package, targets, judge)
    return replace(sheet, findings=(*sheet.findings, *rest), served=most)


def asked_sheet(package: Package, targets: Iterable[Target]) -> CheckSheet:
    """The same without the checks that nothing asked for, which take most of the time."""
    asked = tuple(judge(package, target) for target in targets)
    return CheckSheet(asked, odd_values(package), hold_claims(package), cases=people_of(package))


def judge(package: Package, target: Target) -> Finding:
    """Hold one target to what its check measures; the worst subject decides."""
    check = target.check
    if check is None:
        part = Part(name="", scale=COUNT, value=None, target=None, state=State.NO_DATA)
        return Finding(
            ref=target.ref,
            check="",
            title=target.words,
            rule=target.rule,
            state=State.NO_DATA,
            parts=(part,),
            formula="",
            asked_by=target.asked_by,
            missing=(target.unread or "a check of the catalogue that answers this target",),
        )
    if check.is_untried:
        shown = unasked(package, check)
        return replace(shown, ref=target.ref, title=target.words, notes=(*shown.notes, UNTRIED))
    found = check.of(package, target.uses, target.in_case)
    measured = [_at_best(m, check, target) for m in found]
    if target.in_case:
        measured = [replace(m, is_held=True) for m in measured]
    if not measured:
        return _finding(check, target, State.NOT_ASKED, None, (), _nobody(target, check))
    shown_alone = tuple(m for m in measured if not m.is_held)
    measured = [m for m in measured if m.is_held]
    known = [m for m in measured if m.values]
    blank = [m for m in measured if not m.values]
    missing = tuple(dict.fromkeys(cell for m in measured for cell in m.missing))
    worst = min(known, key=lambda m: (_distance(m, target), m.subject), default=None)
    state = _state(check, target, worst) if worst else State.NO_DATA
    if worst and not state.is_missed and (beyond := _beyond(known, target)):
        worst, state = beyond
    if missing and not state.is_missed:
        # what is known meets the target, but what is blank might not
        state = State.NO_DATA
    notes = worst.notes if worst else ()
    order = sorted(known, key=lambda m: (m is not worst, _distance(m, target), m.subject)) + blank
    return _finding(check, target, state, worst, missing, notes, (*order, *shown_alone))


def _at_best(measured: Measured, check: Check, target: Target) -> Measured:
    """Give a subject that lacks cells the best figure they could make, where even that misses."""
    plain = replace(measured, reach=nowhere)
    reach = measured.reach() if check.is_monotone else ()
    sides = {_state(check, target, reached) for reached in reach}
    if len(sides) != 1 or not sides.pop().is_missed:
        return plain
    best = max(reach, key=lambda reached: _distance(reached, target))
    note = Step("at best: {}", (", ".join(measured.missing),))
    return replace(
        plain,
        values=best.values,
        steps=best.steps,
        shown=best.shown,
        at_best=True,
        notes=(note, *best.notes),
    )


def unasked(package: Package, check: Check) -> Finding:
    """Measure a check that no target asks for: Not asked, with its value where there is one."""
    target = Target(ref="", words=check.title, check=check, rule=check.rule, asked_by="")
    measured = [replace(m, reach=nowhere) for m in check.of(package)]
    sign = 1 if check.rule is Rule.AT_LEAST else -1
    known = [m for m in measured if m.values]
    known.sort(key=lambda m: (sign * m.values[0], m.subject))
    blank = [m for m in measured if not m.values]
    worst = known[0] if known else None
    missing = tuple(dict.fromkeys(cell for m in measured for cell in m.missing))
    notes = worst.notes if worst else ()
    return _finding(check, target, State.NOT_ASKED, worst, missing, notes, (*known, *blank))


def _distance(measured: Measured, target: Target) -> float:
    """Return how far the worst figure stands on the wanted side, relative to its target."""
    sign = 1 if target.rule is Rule.AT_LEAST else -1
    pairs = zip(measured.values, target.values, strict=True)
    return min(sign * (value - limit) / (abs(limit) or 1) for value, limit in pairs)


def _state(check: Check, target: Target, measured: Measured) -> State:
    states = [
        compare(value, limit, target.rule, is_count=check.is_count, near=check.near)
        for value, limit in zip(measured.values, target.values, strict=True)
    ]
    worst = next((s for s in states if s.is_missed), None)
    return worst or (State.ON_THE_LINE if State.ON_THE_LINE in states else State.MEETS)


def _beyond(known: Sequence[Measured], target: Target) -> tuple[Measured, State] | None:
    """Return the subject that stands furthest over the target's upper bound, or on it, if any."""
    if target.check is None or target.not_over is None:
        return None
    check = target.check
    top = max(known, key=lambda m: (m.values[0], m.subject))
    bound = replace(target, rule=Rule.AT_MOST, values=(target.not_over,))
    state = _state(check, bound, replace(top, values=top.values[:1]))
    return None if state is State.MEETS else (top, state)


def _nobody(target: Target, check: Check) -> tuple[Step, ...]:
    uses = " or ".join(target.uses or check.uses)
    if not uses:
        return (Step("nothing in the schedules that it is asked of"),)
    return (Step("no room of use {}; open plan is counted with the room it opens to", (uses,)),)


def _finding(
    check: Check,
    target: Target,
    state: State,
    worst: Measured | None,
    missing: Sequence[str],
    notes: Sequence[Step],
    order: tuple[Measured, ...] = (),
) -> Finding:
    values = worst.values if worst else (None,) * len(check.scales)
    limits = target.values or (None,) * len(check.scales)
    of = partial(Part, state=state, rule=target.rule, not_over=target.not_over)
    parts = tuple(
        of(name=name, scale=scale, value=value, target=limit)
        for name, scale, value, limit in zip(
            check.part_names, check.scales, values, limits, strict=True
        )
    )
    finding = Finding(
        ref=target.ref,
        check=check.slug,
        title=target.words or check.title,
        rule=target.rule,
        state=state,
        parts=parts,
        formula=check.formula,
        subject=worst.subject if worst else "",
        name=worst.name if worst else "",
        uses=target.uses or check.uses,
        steps=worst.steps if worst else (),
        missing=tuple(missing),
        notes=tuple(notes),
        worst_first=order,
        not_over=target.not_over,
        asked_by=target.asked_by,
        citations=check.citations,
        limits=check.limits,
        shown=worst.shown if worst else "",
        in_state=worst.in_state if worst else "",
        in_case=worst.in_case if worst else "",
        at_best=worst.at_best if worst else False,
        caution=check.caution,
        check_title=check.title,
        topic=check.topic,
        meaning=check.meaning,
        schedules=check.schedules,
    )
    return replace(finding, asks=_asks(finding, check))


def _asks(finding: Finding, check: Check) -> str:
    if finding.state is State.NO_DATA:
        return NO_DATA_ASKS
    if not finding.state.is_missed:
        return ""
    return (finding.is_beyond and check.question_over) or check.question

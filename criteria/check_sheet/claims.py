"""Claims: what a sheet says, held against what the schedules give.

A claim is held to the check that it names, chosen or proposed from its words; of the subject
that it names, else of the worst. It differs where it is more favourable than the computed figure
by more than two per cent. One that is less favourable agrees: an honest shortfall is not a
mistake. One that says that something never lacks is held to a year by the hour.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from criteria.check_sheet import claims_of_year
from criteria.check_sheet.claim_reading import checks_named, crew_of, figure_of, subjects_named
from criteria.check_sheet.never_reading import Never, nevers_named
from criteria.checks.catalogue import CHECKS
from criteria.checks.check import Check
from criteria.findings import NOT_ALL, SAME, Measured, Rule, State, Step
from criteria.package import Package
from criteria.schedules.claims import Claim
from criteria.targets.words import uses_in
from criteria.units import Scale, System, rounded, told_apart

LEEWAY = 0.02
"""A claim this much better than the computed figure still agrees. Relative [1]."""

LEEWAY_K = 0.5
"""The same of a temperature, which has no zero to be relative to [K]. Common practice."""

BY_CREW = ("setup_time", "pack_time", "open_to_rain")
"""Checks that a claim holds for as many people as it says, in place of the brief's crew."""

A_SHARE = 1.5
"""A claim less than so many times the computed figure is said to differ by a share of it [1]."""


class ClaimResult(StrEnum):
    """What became of a claim."""

    AGREES = "agrees"
    DIFFERS = "claim_differs"
    NOT_COMPARED = "no_data"
    WHICH_CHECK = "which_check"

    @property
    def word(self) -> str:
        """The result as it is said and printed."""
        return {
            ClaimResult.AGREES: "Agrees",
            ClaimResult.DIFFERS: State.CLAIM_DIFFERS.word,
            ClaimResult.NOT_COMPARED: "Can't be compared",
            ClaimResult.WHICH_CHECK: "Which check?",
        }[self]


@dataclass(frozen=True, kw_only=True)
class ClaimFinding:
    """One claim beside what the schedules give.

    check, title        what it is held to
    is_proposed         whether its words alone say so
    is_of_all           whether it asserts something of all, rather than a figure
    subject, name       mark and name of the room or row that it is held to, where there is one
    claimed, computed   figures, where both could be read [SI]
    shown               the computed figure in words, where a number says less
    why                 why it can't be compared, or what to know of the computed figure
    """

    about: str
    text: str
    sheet: str
    result: ClaimResult
    check: str = ""
    title: str = ""
    is_proposed: bool = False
    is_of_all: bool = False
    subject: str = ""
    name: str = ""
    scale: Scale | None = None
    claimed: float | None = None
    computed: float | None = None
    shown: str = ""
    why: tuple[Step, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether it is more favourable than what the schedules give."""
        return self.result is ClaimResult.DIFFERS

    def write_held(self, system: System = System.METRIC) -> str:
        """Say what it is held as: its check, its subject and the figure in the check's unit."""
        figure = str(Rule.ALL) if self.is_of_all else self._write(self.claimed, system)
        return ", ".join(filter(None, (self.title, self.name or self.subject, figure)))

    def write_computed(self, system: System = System.METRIC) -> str:
        """Write what the schedules give, with its unit, or nothing."""
        words = self.shown.replace(NOT_ALL, "all but ", 1)
        return words or self._write(self.computed, system)

    def write_apart(self) -> str:
        """Say how far a claim differs from what the schedules give: 18 %, or 12 times."""
        if not self.differs or not self.claimed or not self.computed or self.shown:
            return ""
        if self.scale and self.scale.dimension == "temperature":
            return ""  # 20 °C isn't twice as warm as 10
        more, less = sorted((abs(self.claimed), abs(self.computed)), reverse=True)
        if more / less < A_SHARE:
            return f"{rounded(100 * abs(self.claimed / self.computed - 1), 0)} %"
        return f"{rounded(more / less, 0 if more / less >= 10 else 1)} times"

    def _write(self, si: float | None, system: System) -> str:
        if self.scale is None or si is None:
            return ""
        beside = (x for x in (self.claimed, self.computed) if x is not None)
        return self.scale.write(si, system, told_apart(self.scale, beside, system))

    def write_why(self, system: System = System.METRIC) -> tuple[str, ...]:
        """Write why it can't be compared, or what to know of the computed figure."""
        return tuple(step.write(system) for step in self.why)


def worst_of(check: Check, measured: Sequence[Measured]) -> Measured | None:
    """Return the subject that stands worst by a check's own rule, or None where none is known."""
    sign = 1 if check.rule is Rule.AT_LEAST else -1
    known = [m for m in measured if m.values]
    for m in measured if check.is_monotone else ():
        if reach := m.reach():  # whatever the missing cells hold, it is no better than this
            best = max(reach, key=lambda reached: sign * reached.values[0])
            note = Step("at best: {}", (", ".join(m.missing),))
            known.append(replace(m, values=best.values, shown=best.shown, notes=(note,)))
    return min(known, key=lambda m: sign * m.values[0], default=None)


def is_more_favourable(claimed: float, computed: float, check: Check) -> bool:
    """Tell whether a claim is better than a computed figure by more than two per cent.

    >>> days = CHECKS["battery_days"]
    >>> is_more_favourable(1.02, 1.00, days), is_more_favourable(1.021, 1.00, days)
    (False, True)
    """
    better = claimed - computed if check.rule is Rule.AT_LEAST else computed - claimed
    has_zero = check.scales[0].dimension != "temperature"
    leeway = LEEWAY * abs(computed) if has_zero else LEEWAY_K
    return better > leeway + SAME * abs(computed)


def hold(package: Package, claim: Claim) -> ClaimFinding:
    """Hold one claim against what the schedules give; its figures are in the studio's notation."""
    about, wording = claim.about or "", claim.wording or ""
    found = ClaimFinding(
        about=about, text=wording, sheet=claim.sheet or "", result=ClaimResult.WHICH_CHECK
    )
    nevers = nevers_named(about, wording)
    if nevers := tuple(each for each in nevers if claim.check in (None, "", each.slug)):
        return _worst_held([_hold_never(package, found, claim, each) for each in nevers])
    rooms = [room.name or "" for room in package.leniently.rooms]
    named = (CHECKS[claim.check],) if claim.check else checks_named(about, wording, rooms)
    if len(named) != 1:
        titles = ", or ".join(check.title for check in named)
        return replace(found, why=(Step("its words name {}", (titles or "no check",)),))
    (check,) = named
    measured = _measured(package, claim, check)
    found = replace(
        found,
        result=ClaimResult.NOT_COMPARED,
        check=check.slug,
        title=check.title,
        is_proposed=not claim.check,
        scale=check.scales[0],
        claimed=figure_of(wording, check, package.drawn_in),
    )
    found = replace(found, is_of_all=check.rule is Rule.ALL and found.claimed is not None)
    worst = worst_of(check, measured)
    if worst is None:
        return replace(found, why=(_lacking(measured, claim.subject),))
    found = replace(
        found,
        subject=worst.subject,
        name=worst.name,
        computed=worst.values[0],
        shown=worst.shown or (str(Rule.ALL) if check.rule is Rule.ALL else ""),
    )
    if found.claimed is None:
        return replace(found, why=(Step("no one figure that reads as {}", (check.title.lower(),)),))
    if is_more_favourable(found.claimed, worst.values[0], check):
        # what is at best says in its own note what is missing
        lacks = (_lacking([worst]),) if worst.missing and worst in measured else ()
        return replace(found, result=ClaimResult.DIFFERS, why=(*lacks, *worst.notes))
    if any(m.missing for m in measured):
        return replace(found, why=(_lacking(measured),))
    return replace(found, result=ClaimResult.AGREES, why=worst.notes)


def _hold_never(package: Package, found: ClaimFinding, claim: Claim, never: Never) -> ClaimFinding:
    """Hold a claim that something never lacks to the hours or days of a year that tell."""
    check = CHECKS[never.slug]
    found = replace(
        found,
        result=ClaimResult.NOT_COMPARED,
        check=check.slug,
        title=check.title,
        is_proposed=not claim.check,
        scale=check.scales[0],
    )
    if unlike := claims_of_year.unlike(package, never):
        return replace(found, why=(unlike,))
    measured = [each for each in check.of(package) if each.is_held]
    worst, claimed = claims_of_year.worst_shown(package, check.slug, measured)
    if worst is None or any(each.missing for each in measured):
        return replace(found, why=(_lacking(measured),))
    found = replace(found, claimed=claimed, computed=worst.values[0])
    lacks = claims_of_year.lacks_s(package, check.slug)
    if claims_of_year.lacks_always(lacks):
        return replace(found, result=ClaimResult.DIFFERS, why=worst.notes)
    if not claims_of_year.lacks_never(lacks):
        depends = Step("depends on when loads run that don't say it, or on how the rain falls")
        return replace(found, why=(depends, *worst.notes))
    if lack := claims_of_year.unsettled(package, check.slug):
        return replace(found, why=(lack, *worst.notes))
    allowed = () if worst.values[0] == claimed else (claims_of_year.tolerance(),)
    return replace(found, result=ClaimResult.AGREES, why=(*allowed, *worst.notes))


_WORST = (ClaimResult.DIFFERS, ClaimResult.NOT_COMPARED, ClaimResult.AGREES)


def _worst_held(held: Sequence[ClaimFinding]) -> ClaimFinding:
    """Return the worst of what one claim is held to, the others told beside it."""
    worst = min(held, key=lambda each: _WORST.index(each.result))
    others = tuple(
        Step("{}: {}", (each.title, each.write_computed() or each.result.word.lower()))
        for each in held
        if each is not worst
    )
    return replace(worst, why=(*worst.why, *others))


def _measured(package: Package, claim: Claim, check: Check) -> list[Measured]:
    """Return what a check gives of the subject that a claim names, else of all."""
    about, wording = claim.about or "", claim.wording or ""
    if check.slug in BY_CREW and (crew := crew_of(wording)):
        package = package.but(site=package.site.but(crew=crew))
    every = [measured for measured in check.of(package) if measured.is_held]
    named = subjects_named(every, about, wording, claim.subject or "")
    if named or claim.subject:
        return named
    uses = uses_in(about) if check.takes_rooms else ()
    return [m for m in check.of(package, uses) if m.is_held] if uses else every


def _lacking(measured: Sequence[Measured], subject: str | None = None) -> Step:
    """Say which cells are missing for a figure, or that nothing gives it."""
    if subject and not measured:
        return Step("nothing that it measures is called {}", (subject,))
    cells = ", ".join(dict.fromkeys(cell for m in measured for cell in m.missing))
    return Step("still needs {}", (cells,)) if cells else Step("no row to compare")


def hold_claims(package: Package) -> tuple[ClaimFinding, ...]:
    """Hold every claim of a package against its schedules."""
    return tuple(hold(package, claim) for claim in package.leniently.claims)

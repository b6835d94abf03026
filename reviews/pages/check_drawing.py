"""The drawing of what decided a check, made ready only where a process hasn't kept it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from django.utils.safestring import SafeString

from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.decided import DRAWN, decided
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Drawing, Field
from criteria.drawing.marks import Gap
from criteria.drawing.plan_walked import Asked, draw_plan
from criteria.findings import Amount, Finding, Measured, Rule, State, compare
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.situations import Situation, states_of
from criteria.typed.cells import Lacking
from criteria.units import System
from criteria.walking.pictured import pictured
from reviews.drawn.svg import as_svg
from reviews.pages.check_page import value_of
from reviews.worked_out import Told, fingerprint

MOST_CHOICES = 40
"""Figures of one check that a page offers to draw."""


@dataclass(frozen=True)
class Choice:
    """One figure of a check that can be drawn: of what, in which state, and what it is."""

    number: int
    name: str
    situation: str
    value: str


@dataclass(frozen=True)
class DrawnFigure:
    """A drawing as it stands on a page, laid out for a sheet and for a telephone.

    says     the lines of the working that it shows
    rows     its figures, as their table repeats them
    gaps     what isn't given, each with the schedule that it belongs to
    """

    title: str
    state: State
    wide: SafeString
    narrow: SafeString
    says: tuple[str, ...]
    rows: tuple[tuple[str, str, str], ...]
    gaps: tuple[tuple[Gap, str], ...]
    key: tuple[str, ...]
    key_narrow: tuple[str, ...]


class KeptDrawing:
    """The drawings of one check, of which one is shown; told apart by all that they read.

    chosen   the number of the figure that is drawn; the first is what decided
    """

    def __init__(
        self,
        package: Package,
        sheet: Told[CheckSheet],
        finding: Finding,
        system: System,
        chosen: int = 0,
    ) -> None:
        self._package, self._finding, self._system = package, finding, system
        self._offered = list(_offered(finding))
        self.chosen = chosen if 0 <= chosen < len(self._offered) else 0
        self.fingerprint = fingerprint(sheet, finding.ref, finding.check, system, self.chosen)

    @property
    def choices(self) -> list[Choice]:
        """All figures that can be drawn, the one that decided first."""
        return [
            Choice(
                number,
                measured.subject or measured.name,
                state,
                value_of(measured, self._finding, self._system),
            )
            for number, (measured, state) in enumerate(self._offered)
        ]

    @cached_property
    def shown(self) -> DrawnFigure | None:
        """The drawing; None where the rows make no plan."""
        measured, state = self._offered[self.chosen]
        try:
            there = _situation(self._package, state).of(self._package)
        except Lacking:
            return None
        found = decided(there, self._finding.check, measured)
        if found is None:
            return None
        shown, asked = pictured(there, found.storey), _asked(self._finding, measured, state)
        wide, narrow = (
            draw_plan(shown, found, asked, Field(width_mm=width, system=self._system))
            for width in (MIDDLE_MM, NARROW_MM)
        )
        return DrawnFigure(
            title=wide.title,
            state=asked.state,
            wide=as_svg(wide, "drawn-wide"),
            narrow=as_svg(narrow, "drawn-narrow"),
            says=tuple(step.write(self._system) for step in measured.steps),
            rows=tuple(_rows(wide, self._system)),
            gaps=tuple((gap, BY_SLUG[gap.schedule].title) for gap in wide.gaps),
            key=wide.key,
            key_narrow=narrow.key,
        )


def drawing_of(
    package: Package, sheet: Told[CheckSheet], finding: Finding, system: System, chosen: int
) -> KeptDrawing | None:
    """Return the drawings of a check, None of one that isn't drawn or measured nothing."""
    if finding.check not in DRAWN or not finding.worst_first:
        return None
    return KeptDrawing(package, sheet, finding, system, chosen)


def _offered(finding: Finding) -> list[tuple[Measured, str]]:
    found = [
        (measured, state)
        for measured in finding.worst_first
        for state in measured.in_state.split(", ")
    ]
    return found[:MOST_CHOICES]


def _situation(package: Package, state: str) -> Situation:
    return Situation(next((each for each in states_of(package) if each.state == state), None))


def _asked(finding: Finding, measured: Measured, state: str) -> Asked:
    is_number = bool(measured.values) and finding.rule is not Rule.ALL
    target = finding.target if is_number else None
    subject = measured.subject or measured.name
    return Asked(
        title=f"{finding.title}, {subject}" if subject else finding.title,
        measured=measured,
        amount=Amount(measured.values[0], finding.scale) if is_number else None,
        limit=None if target is None else Amount(target, finding.scale),
        state=_state(finding, measured),
        situation=state,
    )


def _state(finding: Finding, measured: Measured) -> State:
    """How a figure stands: what decided as its check says, another by the same comparison."""
    if measured == finding.worst_first[0]:
        return finding.state
    if finding.target is None or not measured.is_held:
        return State.NOT_ASKED
    if not measured.values:
        return State.NO_DATA
    return compare(measured.values[0], finding.target, finding.rule)


def _rows(drawing: Drawing, system: System) -> list[tuple[str, str, str]]:
    return [
        (figure.what, figure.amount.write(system), figure.lettered) for figure in drawing.figures
    ]

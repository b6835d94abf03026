"""The drawing of what decided a check, made ready only where a process hasn't kept it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial

from django.utils.safestring import SafeString

from criteria.check_sheet.sheet import CheckSheet, unasked
from criteria.checks.catalogue import CHECKS
from criteria.checks.decided import DRAWN, decided
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Drawing, Field
from criteria.drawing.marks import Gap
from criteria.drawing.plan_walked import Asked, draw_plan
from criteria.drawing.set_up_bars import TIMED, by_people, draw_set_up, sequenced
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

ABOVE = {"steps": "setup_time"}
"""Schedules with a drawing above their table, and of which check it is."""
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
        asked = _asked(self._finding, measured, state)
        draw = BARS.get(self._finding.check, _plan)(there, self._finding.check, asked)
        if draw is None:
            return None
        wide, narrow = (
            draw.of(Field(width_mm=width, system=self._system)) for width in (MIDDLE_MM, NARROW_MM)
        )
        return DrawnFigure(
            title=wide.title,
            state=asked.state,
            wide=as_svg(wide, "drawn-wide"),
            narrow=as_svg(narrow, "drawn-narrow"),
            says=draw.says or tuple(step.write(self._system) for step in measured.steps),
            rows=tuple(_rows(wide, self._system)),
            gaps=tuple((gap, BY_SLUG[gap.schedule].title) for gap in wide.gaps),
            key=wide.key,
            key_narrow=narrow.key,
        )


@dataclass(frozen=True)
class _Draw:
    """What draws a figure for a field; and what it says beside it, where that isn't the working."""

    of: Callable[[Field], Drawing]
    says: tuple[str, ...] = ()


def _plan(package: Package, check: str, asked: Asked) -> _Draw | None:
    found = decided(package, check, asked.measured)
    if found is None:
        return None
    return _Draw(partial(draw_plan, pictured(package, found.storey), found, asked))


def _bars(package: Package, check: str, asked: Asked) -> _Draw | None:
    sequence = sequenced(package, check)
    if sequence is None:
        return None
    return _Draw(partial(draw_set_up, sequence, asked), (by_people(sequence.plan),))


BARS = dict.fromkeys(TIMED, _bars)
"""Checks that are drawn as bars along time; others are drawn on a plan."""


def drawing_of(
    package: Package, sheet: Told[CheckSheet], finding: Finding, system: System, chosen: int
) -> KeptDrawing | None:
    """Return the drawings of a check, None of one that isn't drawn or measured nothing."""
    if finding.check not in (*DRAWN, *BARS) or not finding.worst_first:
        return None
    return KeptDrawing(package, sheet, finding, system, chosen)


def drawing_above(
    package: Package, sheet: Told[CheckSheet], schedule: str, system: System
) -> KeptDrawing | None:
    """Return the drawing that stands above a schedule's table, None where there is none."""
    check = CHECKS.get(ABOVE.get(schedule, ""))
    if check is None or not getattr(package.leniently, schedule):
        return None
    asked = (finding for finding in sheet.holds.findings if finding.check == check.slug)
    finding = next(asked, None) or unasked(package, check)
    return drawing_of(package, sheet, finding, system, 0)


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

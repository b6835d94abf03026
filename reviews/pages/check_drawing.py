"""The drawing of what decided a check, made ready only where a process hasn't kept it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import SafeString

from criteria.check_sheet.sheet import CheckSheet, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.catalogue import BY_CHECK, BY_SCHEDULE
from criteria.drawing.drawing import HALF_MM, MIDDLE_MM, NARROW_MM, Drawing, Field
from criteria.drawing.held import asked_of, of_rows_alone
from criteria.drawing.marks import Gap
from criteria.drawing.picture import Asked, Picture, Ready, Seen
from criteria.findings import Finding, Measured, State
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.situations import Situation, states_of
from criteria.typed.cells import Lacking
from criteria.units import System
from reviews.drawn.svg import Way, as_svg
from reviews.pages.check_page import value_of
from reviews.reading.package_checking import Checked
from reviews.worked_out import Told, fingerprint

MOST_HIGH_MM = 92.0
"""How high a drawing may be to stand among others over a check sheet [mm]."""
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

    state    of the figure that is asked; None of rows alone
    says     the lines of the working that it shows
    rows     its figures, as their table repeats them
    gaps     what isn't given, each with the schedule that it belongs to
    """

    title: str
    state: State | None
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
        way: Way | None = None,
        picture: Picture | None = None,
    ) -> None:
        self._package, self._finding, self._system = package, finding, system
        self._picture = picture or BY_CHECK[finding.check]
        self._sheet, self._way = sheet, way
        self._offered = list(offered(finding))
        self.chosen = chosen if 0 <= chosen < len(self._offered) else 0
        kind = finding.check or self._picture.schedules
        self.fingerprint = fingerprint(sheet, finding.ref, kind, system, self.chosen)

    @property
    def choices(self) -> list[Choice]:
        """All figures that can be drawn, the one that decided first."""
        return [
            Choice(
                number,
                f"{measured.subject or measured.name} {measured.in_case}".strip(),
                state,
                value_of(measured, self._finding, self._system),
            )
            for number, (measured, state) in enumerate(self._offered)
        ]

    @property
    def wants(self) -> str:
        """What the rows must have before anything is drawn."""
        return self._picture.wants

    @cached_property
    def _drawn(self) -> tuple[Ready, Asked] | None:
        """What can be laid out; None where the rows give nothing to draw."""
        measured, state = self._offered[self.chosen]
        asked = asked_of(self._finding, measured, state)
        try:
            there = situation_named(self._package, state).of(self._package)
        except Lacking:
            return None
        check = self._finding.check
        of_sheet = {each.check: each for each in self._sheet.holds.findings}
        of_sheet[check] = self._finding  # several targets may ask for one check
        seen = Seen(package=there, check=check, asked=asked, findings=of_sheet)
        ready = self._picture.ready(seen)
        return (ready, asked) if ready else None

    @property
    def on_paper(self) -> list[Drawing]:
        """The drawing as it is printed; none where the rows give nothing to draw."""
        field = Field(width_mm=MIDDLE_MM, system=self._system)
        return [self._drawn[0].of(field)] if self._drawn else []

    def small(self, key: str) -> SafeString | None:
        """The drawing half a sheet wide, to stand beside others; None where it is too high."""
        if self._drawn is None:
            return None
        drawn = self._drawn[0].of(Field(width_mm=HALF_MM, system=self._system))
        return as_svg(drawn, key) if drawn.height_mm <= MOST_HIGH_MM else None

    @cached_property
    def shown(self) -> DrawnFigure | None:
        """The drawing on a page; None where the rows give nothing to draw."""
        if self._drawn is None:
            return None
        ready, asked = self._drawn
        key = self._finding.check or self._picture.schedules[0]
        measured, _ = self._offered[self.chosen]
        wide, narrow = (
            ready.of(Field(width_mm=width, system=self._system)) for width in (MIDDLE_MM, NARROW_MM)
        )
        return DrawnFigure(
            title=wide.title,
            state=asked.state if self._finding.check else None,
            wide=as_svg(wide, f"{key}-wide", self._way),
            narrow=as_svg(narrow, f"{key}-narrow", self._way),
            says=ready.says or tuple(step.write(self._system) for step in measured.steps),
            rows=tuple(_rows(wide, self._system)),
            gaps=tuple((gap, BY_SLUG[gap.schedule].title) for gap in wide.gaps),
            key=wide.key,
            key_narrow=narrow.key,
        )


def drawing_of(
    package: Package,
    sheet: Told[CheckSheet],
    finding: Finding,
    system: System,
    chosen: int,
    way: Way | None = None,
) -> KeptDrawing | None:
    """Return the drawings of a check; None of one that was issued and is no more."""
    if finding.check not in BY_CHECK:
        return None
    return KeptDrawing(package, sheet, finding, system, chosen, way)


def drawing_above(
    checked: Checked, schedule: str, system: System, scheme_id: int
) -> KeptDrawing | None:
    """Return the drawing that stands above a schedule's table, None where there is none."""
    package, sheet = checked.package, checked.told
    picture = BY_SCHEDULE.get(schedule)
    if picture is None or not getattr(package.leniently, schedule):
        return None
    way = way_of(scheme_id)
    if not picture.main:
        return KeptDrawing(package, sheet, of_rows_alone(), system, 0, way, picture)
    asked = [each for each in sheet.holds.findings if each.check in picture.checks]
    finding = min(asked, key=_wait, default=None) or unasked(package, CHECKS[picture.main])
    return drawing_of(package, sheet, finding, system, 0, way)


def way_of(scheme_id: int) -> Way:
    """Where the marks of a drawing of a package in preparation lead: to their rows."""

    def way(schedule: str, mark: str) -> str:
        address = reverse("show-schedule", args=[scheme_id, schedule])
        return f"{address}?{urlencode({'mark': mark})}#editor"

    return way


def way_at_issue(revision_id: int) -> Way:
    """Where the marks of a drawing at issue lead: to the rows as they were issued."""
    return lambda schedule, mark: reverse("show-issued-schedule", args=[revision_id, schedule])


def _wait(finding: Finding) -> tuple[bool, bool]:
    """What is missed is drawn before what holds, and that before what says nothing."""
    return not finding.state.is_missed, finding.state is State.NO_DATA


def offered(finding: Finding) -> list[tuple[Measured, str]]:
    """Return the figures of a check that can be drawn, each with the state that it is of."""
    found = [
        (measured, state)
        for measured in finding.worst_first
        for state in measured.in_state.split(", ")
    ]
    return found[:MOST_CHOICES] or [(Measured(), "")]


def situation_named(package: Package, state: str) -> Situation:
    """Return a package's state by its name; the package as it stands, where none has it."""
    return Situation(next((each for each in states_of(package) if each.state == state), None))


def _rows(drawing: Drawing, system: System) -> list[tuple[str, str, str]]:
    return [
        (figure.what, figure.amount.write(system), figure.lettered) for figure in drawing.figures
    ]

"""The plan of a building in each state that it is lived in, side by side over its schedules."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import islice

from django.utils.safestring import SafeString

from criteria.check_sheet.sheet import CheckSheet
from criteria.drawing.base_in_states import BASES, bases_in_states
from criteria.drawing.drawing import HALF_MM, MIDDLE_MM, NARROW_MM, Drawing, Field
from criteria.drawing.marks import Gap
from criteria.drawing.plan_in_states import Laid, is_placed, plans_in_states
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.units import System
from reviews.drawn.svg import Way, as_svg
from reviews.models import Revision
from reviews.pages.check_drawing import way_at_issue, way_of
from reviews.reading.package_checking import Checked, issued_package
from reviews.worked_out import Told, fingerprint

OVER = ("rooms", "furniture", "rooms_by_state", "furniture_by_state", "openings_by_state")
"""Schedules with the plan in each state over their table."""
MOST_PLANS = 6

Laying = Callable[[Package], Iterable[Laid]]
"""What is drawn of a package, state by state."""


@dataclass(frozen=True)
class StatePlan:
    """A storey in one state, laid out for one of two beside each other and for a telephone."""

    title: str
    half: SafeString
    narrow: SafeString
    key: tuple[str, ...]
    gaps: tuple[Gap, ...]


class KeptStates:
    """Plans of a package in its states, made ready only where a process hasn't kept them.

    read     gives the package
    of       the check sheet beside which they stand
    laying   what is drawn of it, and of which schedule: the plan, where none is named
    """

    def __init__(
        self,
        read: Callable[[], Package],
        sheet: Told[CheckSheet],
        system: System,
        way: Way,
        laying: Laying = plans_in_states,
        schedule: str = "",
    ) -> None:
        self._read, self.of, self._system, self._way = read, sheet, system, way
        self._laying = laying
        self.fingerprint = fingerprint(sheet, f"states {schedule}", system)

    @cached_property
    def _laid(self) -> list[Laid]:
        """A plan of each storey in each state, one of what is alike; none of what makes none."""
        return list(islice(self._laying(self._read()), MOST_PLANS))

    @cached_property
    def plans(self) -> tuple[StatePlan, ...]:
        """The plans on a page."""
        return tuple(self._plan(n, each) for n, each in enumerate(self._laid))

    @cached_property
    def first(self) -> StatePlan | None:
        """The first of them alone: the ground floor by day."""
        laid = next(iter(plans_in_states(self._read())), None)
        return self._plan(0, laid) if laid else None

    @property
    def on_paper(self) -> list[Drawing]:
        """The plans as they are printed."""
        return [laid(Field(width_mm=MIDDLE_MM, system=self._system)) for laid in self._laid]

    @cached_property
    def gaps(self) -> list[tuple[Gap, str]]:
        """What isn't given in any of them, each with the schedule that it belongs to."""
        gaps = dict.fromkeys(gap for plan in self.plans for gap in plan.gaps)
        return [(gap, BY_SLUG[gap.schedule].title) for gap in gaps]

    def _plan(self, n: int, laid: Laid) -> StatePlan:
        half, narrow = (
            laid(Field(width_mm=wide, system=self._system)) for wide in (HALF_MM, NARROW_MM)
        )
        return StatePlan(
            half.title,
            as_svg(half, f"state-{n}-half", self._way),
            as_svg(narrow, f"state-{n}-narrow", self._way),
            half.key,
            half.gaps,
        )


def states_over(
    checked: Checked, schedule: str, system: System, scheme_id: int
) -> KeptStates | None:
    """Return what stands over a schedule's table; None over others, and where rows lack for it."""
    package = checked.package
    if schedule in BASES and getattr(package.leniently, schedule):
        findings = {each.check: each for each in checked.sheet.findings}
        laying = partial(bases_in_states, schedule=schedule, findings=findings)
        way = way_of(scheme_id)
        return KeptStates(lambda: package, checked.told, system, way, laying, schedule)
    if schedule not in OVER or not any(is_placed(room) for room in package.leniently.rooms):
        return None
    return states_in_preparation(checked, system, scheme_id)


def states_in_preparation(checked: Checked, system: System, scheme_id: int) -> KeptStates:
    """Return the plans of a package in preparation."""
    return KeptStates(lambda: checked.package, checked.told, system, way_of(scheme_id))


def states_at_issue(revision: Revision, sheet: Told[CheckSheet], system: System) -> KeptStates:
    """Return the plans of a revision as it was issued."""
    read = partial(issued_package, revision)
    return KeptStates(read, sheet, system, way_at_issue(revision.pk))

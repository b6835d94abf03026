"""The plan of a building in each state that it is lived in, side by side over its schedules."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial

from django.utils.safestring import SafeString

from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.decided import Decided
from criteria.drawing.drawing import HALF_MM, MIDDLE_MM, NARROW_MM, Drawing, Field
from criteria.drawing.marks import Gap
from criteria.drawing.picture import Asked
from criteria.drawing.plan_walked import draw_plan
from criteria.findings import Measured
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.rooms import Room
from criteria.schedules.states import LIVED_KINDS
from criteria.situations import situations
from criteria.typed.cells import Lacking
from criteria.units import System
from criteria.walking.of_package import AT, storeys_of
from criteria.walking.pictured import Pictured, pictured
from criteria.walking.storeys import Storey
from reviews.drawn.svg import Way, as_svg
from reviews.models import Revision
from reviews.pages.check_drawing import way_at_issue, way_of
from reviews.reading.package_checking import Checked, issued_package
from reviews.worked_out import Told, fingerprint

OVER = ("rooms", "furniture", "rooms_by_state", "furniture_by_state")
"""Schedules with the plan in each state over their table."""
MOST_PLANS = 6


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

    read   gives the package
    """

    def __init__(
        self, read: Callable[[], Package], sheet: Told[CheckSheet], system: System, way: Way
    ) -> None:
        self._read, self._system, self._way = read, system, way
        self.fingerprint = fingerprint(sheet, "states", system)

    @cached_property
    def _alike(self) -> list[tuple[Pictured, list[str]]]:
        """Each storey as it is drawn, and the states in which it is so; none of what makes none."""
        package = self._read()
        try:
            asked = situations(package, LIVED_KINDS)
            there = [(situation, situation.of(package)) for situation in asked]
        except Lacking:
            return []
        alike: list[tuple[Pictured, list[str]]] = []
        for situation, rows in there:
            for storey in _storeys(rows):
                shown = pictured(rows, storey)
                states = next((found for one, found in alike if one == shown), None)
                if states is None:
                    alike.append((shown, states := []))
                states.append(situation.state.state if situation.state else "")
        return alike[:MOST_PLANS]

    @cached_property
    def plans(self) -> tuple[StatePlan, ...]:
        """The plans on a page."""
        return tuple(self._plan(n, *each) for n, each in enumerate(self._alike))

    @property
    def on_paper(self) -> list[Drawing]:
        """The plans as they are printed."""
        return [self._drawn(*each, MIDDLE_MM) for each in self._alike]

    @cached_property
    def gaps(self) -> list[tuple[Gap, str]]:
        """What isn't given in any of them, each with the schedule that it belongs to."""
        gaps = dict.fromkeys(gap for plan in self.plans for gap in plan.gaps)
        return [(gap, BY_SLUG[gap.schedule].title) for gap in gaps]

    def _drawn(self, shown: Pictured, states: list[str], width_mm: float) -> Drawing:
        storey = shown.storey
        level = f"level {storey.level}" if storey.level else ""
        asked = Asked(title=level, measured=Measured(), situation=" and ".join(states))
        field = Field(width_mm=width_mm, system=self._system)
        return draw_plan(shown, Decided(storey), asked, field)

    def _plan(self, n: int, shown: Pictured, states: list[str]) -> StatePlan:
        half, narrow = (self._drawn(shown, states, wide) for wide in (HALF_MM, NARROW_MM))
        return StatePlan(
            half.title,
            as_svg(half, f"state-{n}-half", self._way),
            as_svg(narrow, f"state-{n}-narrow", self._way),
            half.key,
            half.gaps,
        )


def _storeys(package: Package) -> tuple[Storey, ...]:
    """The storeys whose rooms say where they lie; none where they can't be made."""
    try:
        storeys = storeys_of(package)
        placed = [room for room in package.rows_of(Room) if _is_placed(room)]
        return tuple(dict.fromkeys(storeys.of(room.mark) for room in placed))
    except Lacking:
        return ()


def _is_placed(room: Room) -> bool:
    return all(room.typed(name) is not None for name in AT)


def states_over(
    checked: Checked, schedule: str, system: System, scheme_id: int
) -> KeptStates | None:
    """Return what stands over a schedule's table; None over others, and without placed rooms."""
    rooms = checked.package.leniently.rooms
    if schedule not in OVER or not any(_is_placed(room) for room in rooms):
        return None
    return KeptStates(lambda: checked.package, checked.told, system, way_of(scheme_id))


def states_at_issue(revision: Revision, sheet: Told[CheckSheet], system: System) -> KeptStates:
    """Return the plans of a revision as it was issued."""
    read = partial(issued_package, revision)
    return KeptStates(read, sheet, system, way_at_issue(revision.pk))

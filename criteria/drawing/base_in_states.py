"""The drawing of a base schedule in each state in which rows say that something differs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from criteria.check_sheet.sheet import unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.feet import FEET
from criteria.drawing.held import asked_of
from criteria.drawing.picture import Asked, Picture, Seen
from criteria.drawing.plan_in_states import Laid
from criteria.drawing.water_columns import WATER_COLUMNS
from criteria.findings import Finding, Measured
from criteria.package import Package
from criteria.schedules.states import BuildingState
from criteria.situations import Situation, states_of
from criteria.typed.cells import Lacking

BASES: Mapping[str, Picture] = {
    "tanks_by_state": WATER_COLUMNS,
    "pieces_by_state": FEET,
    "legs_by_state": FEET,
}
"""Schedules by state, and what each of their states is drawn as."""


def bases_in_states(
    package: Package, schedule: str, findings: Mapping[str, Finding]
) -> Iterator[Laid]:
    """Give a drawing of each state that a schedule by state has rows of.

    findings   those of the sheet, by the slug of their check
    None of a state that can't be told from others, or that gives nothing to draw.
    """
    picture = BASES[schedule]
    (check, *_) = picture.checks
    named = {row.state for row in getattr(package.leniently, schedule)}
    try:
        states = [state for state in states_of(package) if state.state in named]
        finding = findings.get(check) or unasked(package, CHECKS[check])
    except Lacking:
        return
    for state in states:
        try:
            there = Situation(state).of(package)
        except Lacking:
            continue
        asked = _asked(finding, state)
        seen = Seen(package=there, check=check, asked=asked, findings=findings)
        ready = picture.ready(seen)
        if ready:
            yield ready.of


def _asked(finding: Finding, state: BuildingState) -> Asked:
    """The figure of the state; where its check isn't asked in such, the state itself."""
    name = str(state.state)
    for measured in finding.worst_first:
        if name in measured.in_state.split(", "):
            return asked_of(finding, measured, name)
    return Asked(title=name, measured=Measured(shown=name), situation=name)

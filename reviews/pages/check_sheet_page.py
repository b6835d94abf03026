"""A check sheet as it stands on its page, whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import ClassVar, NamedTuple

from django.utils.safestring import SafeString

from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import State
from criteria.package import Package
from criteria.units import System
from reviews.pages.check_drawing import drawing_of
from reviews.pages.check_page import (
    CheckLine,
    ClaimLine,
    OddLine,
    Summary,
    check_lines,
    claim_line,
    odd_line,
    summary_of,
)
from reviews.pages.serving_page import ServingPart, serving_part
from reviews.worked_out import Told, fingerprint

MOST_WORST = 3
"""Checks that are drawn over a check sheet."""


class Order(StrEnum):
    """In which order the targets of a brief stand."""

    WORST = "worst"
    TOPIC = "topic"
    BRIEF = "brief"


ORDERS = ((Order.WORST, "worst first"), (Order.TOPIC, "by topic"), (Order.BRIEF, "as in the brief"))
_RANK = {
    State.SHORT: 0,
    State.OVER: 0,
    State.CLAIM_DIFFERS: 1,
    State.NO_DATA: 2,
    State.ON_THE_LINE: 3,
    State.MEETS: 4,
}


class Group(NamedTuple):
    """Lines that stand together, under a title where there is one."""

    title: str
    lines: tuple[CheckLine, ...]


class Worst(NamedTuple):
    """A line that stands worst, drawn from the rows where its check has a drawing that is small."""

    line: CheckLine
    drawn: SafeString | None


@dataclass(frozen=True)
class SheetPage:
    """A check sheet as it stands on its page.

    worst     the two or three that miss by most, over the rest

    asked     one line a target
    order     in which they stand
    rest      checks that nothing asks for, those with a value
    silent    titles of the checks that nothing asks for and nothing was typed for
    """

    summary: Summary
    asked: tuple[CheckLine, ...]
    rest: tuple[CheckLine, ...]
    silent: tuple[str, ...]
    odd: tuple[OddLine, ...]
    claims: tuple[ClaimLine, ...]
    serving: ServingPart | None
    order: Order = Order.WORST
    worst: tuple[Worst, ...] = ()
    orders: ClassVar = ORDERS

    @property
    def differing(self) -> int:
        """How many claims say something else than the schedules give."""
        return sum(line.claim.differs for line in self.claims)

    @property
    def groups(self) -> tuple[Group, ...]:
        """The lines of the targets in their order."""
        if self.order is Order.BRIEF:
            return (Group("", self.asked),)
        if self.order is Order.WORST:
            return (Group("", tuple(sorted(self.asked, key=_badness))),)
        topics: dict[str, list[CheckLine]] = {}
        for line in self.asked:
            topics.setdefault(line.finding.topic, []).append(line)
        return tuple(Group(topic, tuple(lines)) for topic, lines in topics.items())


def _badness(line: CheckLine) -> tuple[int, float]:
    """Misses first, by how much of the target is missing; then what isn't known, then the rest."""
    part = line.finding.parts[0]
    share = 0.0
    if line.state.is_missed and part.margin is not None and part.limit:
        share = part.margin / abs(part.limit)
    return _RANK.get(line.state, len(_RANK)), share


def _worst(
    sheet: Told[CheckSheet], package: Package, lines: Iterable[CheckLine], system: System
) -> tuple[Worst, ...]:
    """What is short or over, drawn of a package."""
    missed = sorted((line for line in lines if line.state.is_missed), key=_badness)
    drawings = [drawing_of(package, sheet, line.finding, system, 0) for line in missed[:MOST_WORST]]
    return tuple(
        Worst(line, drawing.small(f"worst-{n}") if drawing else None)
        for n, (line, drawing) in enumerate(zip(missed, drawings, strict=False))
    )


def sheet_page(
    told: Told[CheckSheet],
    package: Package,
    system: System,
    today: CheckSheet | None = None,
    order: Order = Order.WORST,
) -> SheetPage:
    """A check sheet, whole; of what was issued, beside what the library says today."""
    sheet = told.holds
    lines = tuple(check_lines(sheet.asked, system, today))
    rest = [finding for finding in sheet.findings if not finding.ref]
    measured = [finding for finding in rest if finding.write_value(system)]
    return SheetPage(
        summary=summary_of(sheet, system),
        asked=lines,
        rest=tuple(check_lines(measured, system, today)),
        silent=tuple(f.title for f in rest if not f.write_value(system)),
        odd=tuple(odd_line(odd, system) for odd in sheet.odd),
        claims=tuple(claim_line(claim, system) for claim in sheet.claims),
        serving=serving_part(sheet, system),
        order=order,
        worst=_worst(told, package, lines, system),
    )


class KeptPage:
    """A check sheet's page, made ready only where a process hasn't kept what it shows.

    package       what the sheet was read of
    fingerprint   of all that it reads; whoever keeps it adds the scheme or revision it links to
    """

    def __init__(
        self,
        sheet: Told[CheckSheet],
        package: Package,
        system: System,
        today: Told[CheckSheet] | None = None,
        order: str = "",
    ) -> None:
        known = Order(order) if order in list(Order) else Order.WORST
        self.fingerprint = fingerprint(sheet, system, today, known)
        self._of = sheet, package, system, today.holds if today else None, known

    @cached_property
    def shown(self) -> SheetPage:
        """The page itself."""
        return sheet_page(*self._of)

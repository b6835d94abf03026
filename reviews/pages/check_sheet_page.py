"""A check sheet as it stands on its page, whole."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import ClassVar, NamedTuple

from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import State
from criteria.units import System
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


@dataclass(frozen=True)
class SheetPage:
    """A check sheet as it stands on its page.

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
    orders: ClassVar = ORDERS

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


def sheet_page(
    sheet: CheckSheet,
    system: System,
    today: CheckSheet | None = None,
    order: Order = Order.WORST,
) -> SheetPage:
    """A check sheet, whole; of what was issued, beside what the library says today."""
    rest = [finding for finding in sheet.findings if not finding.ref]
    measured = [finding for finding in rest if finding.write_value(system)]
    return SheetPage(
        summary=summary_of(sheet, system),
        asked=tuple(check_lines(sheet.asked, system, today)),
        rest=tuple(check_lines(measured, system, today)),
        silent=tuple(f.title for f in rest if not f.write_value(system)),
        odd=tuple(odd_line(odd, system) for odd in sheet.odd),
        claims=tuple(claim_line(claim, system) for claim in sheet.claims),
        serving=serving_part(sheet, system),
        order=order,
    )


class KeptPage:
    """A check sheet's page, made ready only where a process hasn't kept what it shows.

    fingerprint   of all that it reads; whoever keeps it adds the scheme or revision it links to
    """

    def __init__(
        self,
        sheet: Told[CheckSheet],
        system: System,
        today: Told[CheckSheet] | None = None,
        order: str = "",
    ) -> None:
        known = Order(order) if order in list(Order) else Order.WORST
        self.fingerprint = fingerprint(sheet, system, today, known)
        self._of = sheet.holds, system, today.holds if today else None, known

    @cached_property
    def shown(self) -> SheetPage:
        """The page itself."""
        return sheet_page(*self._of)

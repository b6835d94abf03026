"""A check sheet as it stands on its page, whole."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from criteria.check_sheet.sheet import CheckSheet
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


@dataclass(frozen=True)
class SheetPage:
    """A check sheet as it stands on its page.

    asked     one line a target
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


def sheet_page(sheet: CheckSheet, system: System, today: CheckSheet | None = None) -> SheetPage:
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
    )


class KeptPage:
    """A check sheet's page, made ready only where a process hasn't kept what it shows.

    fingerprint   of all that it reads; whoever keeps it adds the scheme or revision it links to
    """

    def __init__(
        self, sheet: Told[CheckSheet], system: System, today: Told[CheckSheet] | None = None
    ) -> None:
        self.fingerprint = fingerprint(sheet, system, today)
        self._of = sheet.holds, system, today.holds if today else None

    @cached_property
    def shown(self) -> SheetPage:
        """The page itself."""
        return sheet_page(*self._of)

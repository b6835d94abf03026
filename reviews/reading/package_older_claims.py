"""Claims kept on a sheet after a schedule that they speak of was changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from django.db.models import Max
from django.db.models.functions import Coalesce

from criteria.check_sheet.claims import LEEWAY, ClaimFinding
from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.catalogue import CHECKS
from criteria.findings import SAME, Step
from criteria.odd.values import OddValue
from criteria.schedules import BY_SLUG
from criteria.schedules.claims import Claim
from reviews.models import Change, Package
from reviews.moments import moment_words

CLAIMS = Claim.schedule.slug  # type: ignore[attr-defined]

_Said = tuple[str, str, str]
"""About, words and sheet of a claim."""


@dataclass(frozen=True)
class OlderClaim(OddValue):
    """A claim to ask about, and the check that it is about."""

    check: str = ""


def with_older_claims(sheet: CheckSheet, package: Package) -> CheckSheet:
    """The sheet with a question for each claim older than a schedule that it speaks of."""
    if not sheet.claims:
        return sheet
    return replace(sheet, odd=(*sheet.odd, *_older(sheet, package)))


def older_claims(sheet: CheckSheet) -> list[OlderClaim]:
    """The older claims that a sheet asks about."""
    return [odd for odd in sheet.odd if isinstance(odd, OlderClaim)]


def still_says(claim: ClaimFinding) -> bool:
    """Whether a claim says what the schedules give, within two per cent either way."""
    if claim.claimed is None or claim.computed is None:
        return False
    return abs(claim.claimed - claim.computed) <= (LEEWAY + SAME) * abs(claim.computed)


def _older(sheet: CheckSheet, package: Package) -> Iterator[OlderClaim]:
    kept, changed = _kept_at(package), _changed_at(package)
    for claim in sheet.claims:
        check, stands = CHECKS.get(claim.check), kept.get((claim.about, claim.text, claim.sheet))
        if check is None or stands is None or still_says(claim):
            continue
        row, since = stands
        later = [(at, slug) for slug in check.schedules if (at := changed.get(slug)) and at > since]
        if later:
            yield _asked(claim, row, since, *max(later))


def _asked(
    claim: ClaimFinding, row: int, since: datetime, changed_at: datetime, slug: str
) -> OlderClaim:
    where = f"{claim.about}, sheet {claim.sheet}" if claim.sheet else claim.about
    said = (claim.text, where, moment_words(since), BY_SLUG[slug].title.lower())
    words = "“{}” ({}) stands as of {}; the {} was changed {}. Does the claim still hold?"
    return OlderClaim(
        schedule=CLAIMS,
        mark="",
        head="text",
        read=Step("{}", (claim.text,)),
        question=Step(words, (*said, moment_words(changed_at))),
        row=row,
        is_mismatch=True,
        check=claim.check,
    )


def _kept_at(package: Package) -> dict[_Said, tuple[int, datetime]]:
    """The row of each claim, and when it was last changed; of two alike, the later."""
    rows = [row for row in package.rows.all() if row.schedule == CLAIMS]
    found: dict[_Said, tuple[int, datetime]] = {}
    for place, row in enumerate(rows, start=1):
        about, text, sheet = (row.cells.get(h, "").strip() for h in ("about", "text", "sheet"))
        before = found.get((about, text, sheet))
        if before is None or before[1] < row.changed_at:
            found[about, text, sheet] = (place, row.changed_at)
    return found


def _changed_at(package: Package) -> dict[str, datetime]:
    """When each schedule was last changed: a row of it, or by taking one away or back."""
    moments = Change.objects.filter(package=package).values("schedule")
    moments = moments.annotate(last=Max(Coalesce("undone_at", "at"))).order_by()
    changed = {each["schedule"]: each["last"] for each in moments}
    for row in package.rows.all():
        changed[row.schedule] = max(row.changed_at, changed.get(row.schedule, row.changed_at))
    return changed

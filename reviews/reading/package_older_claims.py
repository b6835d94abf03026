"""Claims kept on a sheet after a schedule that they speak of was changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, NamedTuple

from django.db.models import Q

from criteria.check_sheet.claims import LEEWAY, ClaimFinding
from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.catalogue import CHECKS
from criteria.findings import SAME, Step
from criteria.odd.values import OddValue
from criteria.schedules import BY_SLUG
from criteria.schedules.claims import Claim
from reviews.models import Change, Package
from reviews.models.packages import TypedRow
from reviews.moments import moment_words

CLAIMS = Claim.schedule.slug

Cells = Mapping[int, Mapping[str, str]]

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
    kept = _kept_at(package)
    held = [
        (claim, check.schedules, *stands)
        for claim in sheet.claims
        if (check := CHECKS.get(claim.check)) and not still_says(claim)
        if (stands := kept.get((claim.about, claim.text, claim.sheet)))
    ]
    if not held:
        return
    read = {slug for _, slugs, _, _ in held for slug in slugs}
    events = list(_events(package, read, min(since for *_, since in held)))
    rows = package.typed().holds
    for claim, slugs, row, since in held:
        changed = ((_changed_at(slug, events, rows, since), slug) for slug in slugs)
        later = [(at, slug) for at, slug in changed if at]
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
    rows = [row for row in package.typed().holds if row.schedule == CLAIMS]
    found: dict[_Said, tuple[int, datetime]] = {}
    for place, row in enumerate(rows, start=1):
        about, text, sheet = (row.cells.get(h, "").strip() for h in ("about", "text", "sheet"))
        before = found.get((about, text, sheet))
        if before is None or before[1] < row.changed_at:
            found[about, text, sheet] = (place, row.changed_at)
    return found


class _Event(NamedTuple):
    """Rows of a schedule that came and went at one moment, or were put back."""

    at: datetime
    schedule: str
    went: list[dict[str, Any]]
    came: list[dict[str, Any]]


def _events(package: Package, slugs: set[str], since: datetime) -> Iterator[_Event]:
    """What was done to schedules of a package after a moment, done or undone."""
    later = Q(at__gt=since) | Q(undone_at__gt=since)
    changes = Change.objects.filter(later, package=package, schedule__in=slugs)
    columns = "at", "undone_at", "schedule", "before", "after"
    for at, undone_at, slug, before, after in changes.values_list(*columns):
        yield _Event(at, slug, before, after)
        if undone_at:
            yield _Event(undone_at, slug, after, before)


def _changed_at(
    slug: str, events: list[_Event], rows: Sequence[TypedRow], since: datetime
) -> datetime | None:
    """When a schedule was last changed since a moment; None where it says what it said then.

    What was changed and put back is no change: the rows of that moment are worked out by taking
    back, the latest first, all that was done since.
    """
    done = [event for event in events if event.schedule == slug and event.at > since]
    now = {row.pk: row.cells for row in rows if row.schedule == slug}
    then = dict(now)
    for event in sorted(done, key=lambda event: event.at, reverse=True):
        for record in event.came:
            then.pop(record["id"], None)
        then |= {record["id"]: record["cells"] for record in event.went}
    told = {record["id"] for event in done for record in event.came}
    untold = [
        row.changed_at
        for row in rows
        if row.schedule == slug and row.changed_at > since and row.pk not in told
    ]
    if _alike(then, now) and not untold:
        return None
    return max([event.at for event in done] + untold)


def _alike(some: Cells, others: Cells) -> bool:
    return sorted(sorted(cells.items()) for cells in some.values()) == sorted(
        sorted(cells.items()) for cells in others.values()
    )

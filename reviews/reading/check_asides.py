"""What of a check sheet is set aside, and a sheet without it.

What is set aside now counts for nothing on every check sheet, issued or not.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from django.db.models import Q, QuerySet

from criteria.check_sheet.claims import ClaimFinding, ClaimResult
from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding, State, Step
from reviews.models import Scheme, SetAside, Studio
from reviews.models.asides import SetAsideQuerySet, aside_words
from reviews.models.people import called


def asides_of(scheme: Scheme, *keys: str) -> SetAsideQuerySet:
    """Everything ever set aside for a scheme, by itself or with its studio; of keys, if named."""
    found = SetAside.objects.filter(_of(scheme), studio_id=scheme.studio_id)
    return found.filter(key__in=keys) if keys else found


def standing_asides(studio: Studio) -> QuerySet[SetAside]:
    """What is set aside now for a whole studio."""
    found = SetAside.objects.standing().filter(studio=studio, scheme=None)
    return found.select_related("by")


def under_asides(sheet: CheckSheet, scheme: Scheme) -> CheckSheet:
    """A scheme's check sheet without what is set aside now: Not asked, with who and why."""
    return without(sheet, standing_words(scheme))


def standing_words(scheme: Scheme) -> dict[str, str]:
    """What is set aside now for a scheme: who and why, by the target or check it names."""
    read = _standing().filter(_of(scheme), studio_id=scheme.studio_id)
    return {key: aside_words(called(*by), at, reason) for key, *by, at, reason in read}


@cache
def _standing() -> QuerySet[SetAside, tuple[Any, ...]]:
    """What is set aside now, of whatever studio; built once, and filtered by whoever asks."""
    told = "key", "by__name", "by__email", "at", "reason"
    return SetAside.objects.standing().values_list(*told)


def _of(scheme: Scheme) -> Q:
    return Q(scheme=None) | Q(scheme=scheme)


def without(sheet: CheckSheet, words: Mapping[str, str]) -> CheckSheet:
    """The sheet with each finding and claim that is set aside asked no more, with the words."""
    if not words:
        return sheet
    return replace(
        sheet,
        findings=tuple(_ruled(finding, words) for finding in sheet.findings),
        claims=tuple(_not_held(claim, words) for claim in sheet.claims),
    )


def _ruled(finding: Finding, words: Mapping[str, str]) -> Finding:
    said = words.get(finding.ref) or words.get(finding.check)
    if said is None:
        return finding
    parts = tuple(replace(part, state=State.NOT_ASKED) for part in finding.parts)
    note = Step("{}", (said,))
    return replace(finding, state=State.NOT_ASKED, parts=parts, notes=(note,), asks="")


def _not_held(claim: ClaimFinding, words: Mapping[str, str]) -> ClaimFinding:
    said = words.get(claim.check)
    if said is None:
        return claim
    return replace(claim, result=ClaimResult.NOT_COMPARED, why=(Step("{}", (said,)),))

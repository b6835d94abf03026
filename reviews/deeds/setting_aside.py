"""Set a check aside with a reason, take it back, and leave what is set aside out of a sheet.

What is set aside now counts for nothing on every check sheet, issued or not: a check that is
wrong was wrong before. Findings stored at an issue stay as they stood at that moment.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from criteria.check_sheet import CheckSheet
from criteria.claims import ClaimFinding, ClaimResult
from criteria.findings import Finding, State, Step
from reviews.models import Person, Scheme, SetAside, Studio


class AsideAlready(Exception):
    """A check that is set aside already, for another reason; `standing` says which."""

    def __init__(self, standing: SetAside) -> None:
        super().__init__(str(standing))
        self.standing = standing


@transaction.atomic
def set_aside(
    scheme: Scheme,
    key: str,
    reason: str,
    by: Person,
    *,
    whole_studio: bool,
    at: datetime | None = None,
) -> SetAside:
    """Set a target or a check aside, for a scheme or its whole studio; sent twice, it is once.

    Raises AsideAlready where it is set aside for as much already, with other words.
    """
    studio = Studio.objects.select_for_update().get(pk=scheme.studio_id)
    asked = SetAside(
        studio=studio, scheme=None if whole_studio else scheme, key=key, reason=reason, by=by,
        at=at or timezone.now(),
    )  # fmt: skip
    same = SetAside.objects.filter(studio=studio, scheme=asked.scheme, key=key, taken_back_at=None)
    if found := same.select_related("by").first():
        if (found.reason, found.by) == (reason, by):
            return found
        raise AsideAlready(found)
    asked.save()
    return asked


@transaction.atomic
def take_back(aside: SetAside, by: Person, *, at: datetime | None = None) -> SetAside:
    """Let a check count again; what is taken back stays so, with who took it back first."""
    held = SetAside.objects.select_for_update().get(pk=aside.pk)
    if held.taken_back_at is None:
        held.taken_back_by, held.taken_back_at = by, at or timezone.now()
        held.save(update_fields=["taken_back_by", "taken_back_at"])
    return held


def asides_of(scheme: Scheme) -> QuerySet[SetAside]:
    """Everything ever set aside for a scheme, by itself or with its whole studio."""
    found = SetAside.objects.filter(Q(scheme=None) | Q(scheme=scheme), studio_id=scheme.studio_id)
    return found.select_related("by", "taken_back_by")


def standing_asides(studio: Studio) -> QuerySet[SetAside]:
    """What is set aside now for a whole studio."""
    found = SetAside.objects.filter(studio=studio, scheme=None, taken_back_at=None)
    return found.select_related("by")


def under_asides(sheet: CheckSheet, scheme: Scheme) -> CheckSheet:
    """A scheme's check sheet without what is set aside now: Not asked, with who and why."""
    asides = list(asides_of(scheme).filter(taken_back_at=None))
    return without(sheet, asides) if asides else sheet


def without(sheet: CheckSheet, asides: Iterable[SetAside]) -> CheckSheet:
    """The sheet with each finding and claim that an aside names asked no more."""
    words = {aside.key: str(aside) for aside in asides}
    return replace(
        sheet,
        findings=tuple(_ruled(finding, words) for finding in sheet.findings),
        claims=tuple(_not_held(claim, words) for claim in sheet.claims),
    )


def _ruled(finding: Finding, words: dict[str, str]) -> Finding:
    said = words.get(finding.ref) or words.get(finding.check)
    if said is None:
        return finding
    parts = tuple(replace(part, state=State.NOT_ASKED) for part in finding.parts)
    note = Step("{}", (said,))
    return replace(finding, state=State.NOT_ASKED, parts=parts, notes=(note,), question="")


def _not_held(claim: ClaimFinding, words: dict[str, str]) -> ClaimFinding:
    said = words.get(claim.check)
    if said is None:
        return claim
    return replace(claim, result=ClaimResult.NOT_COMPARED, why=(Step("{}", (said,)),))

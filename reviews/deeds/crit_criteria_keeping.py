"""Keep a crit's criteria sheet: start it from a ready one, change it, until a juror begins."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from criteria.targets.reading import read_targets
from reviews.deeds.record_versions import is_change
from reviews.models import Crit, Criterion
from reviews.models.briefs import Brief, Frozen
from reviews.reading.crit_criteria_sheets import SHEETS, ReadyCriterion

PARTS = ("code", "name", "weight", *(f"level_{n}" for n in range(1, 6)), "evidence")
Line = dict[str, Any]


def _held(crit: Crit) -> Crit:
    crits = Crit.objects.select_for_update(of=("self",)).select_related("studio__brief")
    held = crits.get(pk=crit.pk)
    if held.is_filed:
        raise Frozen("A juror has begun. The criteria sheet is fixed.")
    return held


@transaction.atomic
def start_from(crit: Crit, slug: str) -> list[Criterion]:
    """Lay a ready sheet on a crit that has none, with the brief's own targets as evidence.

    On a crit that has a criteria sheet it changes nothing: what is written there is kept.
    """
    held = _held(crit)
    if held.criteria.exists():
        return list(held.criteria.all())
    answered = refs_by_topic(held.studio.brief)
    return Criterion.objects.bulk_create(
        Criterion(crit=held, position=n, **line_of(ready, answered))
        for n, ready in enumerate(SHEETS[slug].lines)
    )


def line_of(ready: ReadyCriterion, answered: dict[str, list[str]]) -> Line:
    """A ready line with the references of the targets whose checks inform it."""
    refs = {ref for name in ready.informed_by for ref in answered.get(name, [])}
    return {
        "code": ready.code,
        "name": ready.name,
        "weight": ready.weight,
        **{f"level_{n}": words for n, words in enumerate(ready.levels, start=1)},
        "evidence": " ".join(sorted(refs)),
    }


def refs_by_topic(brief: Brief) -> dict[str, list[str]]:
    """The references of a brief's targets by topic and slug of the check that answers them."""
    found: dict[str, list[str]] = {}
    for target in read_targets(brief.target_records(), brief.notation).targets:
        if target.check:
            for name in (target.check.topic, target.check.slug):
                found.setdefault(name, []).append(target.ref)
    return found


@transaction.atomic
def keep_criteria(crit: Crit, lines: list[Line], seen: int) -> list[Criterion]:
    """Keep the whole sheet, in the order given; a line keeps its row by its code.

    Raises Newer where the sheet is not as it was seen, Frozen where a juror has begun.
    """
    held = _held(crit)
    if not is_change(lines_of(held), lines, seen):
        return list(held.criteria.all())
    by_code = {criterion.code: criterion for criterion in held.criteria.all()}
    gone = set(by_code) - {line["code"] for line in lines}
    held.criteria.filter(code__in=gone).delete()
    for position, line in enumerate(lines):
        criterion = by_code.get(line["code"]) or Criterion(crit=held)
        criterion.position = position
        for name, value in line.items():
            setattr(criterion, name, value)
        criterion.save()
    return list(held.criteria.all())


def lines_of(crit: Crit) -> list[Line]:
    """A criteria sheet as it is compared and kept."""
    return [{name: getattr(criterion, name) for name in PARTS} for criterion in crit.criteria.all()]

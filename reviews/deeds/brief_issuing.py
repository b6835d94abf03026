"""Issue a brief, which freezes it, and change it afterwards by numbered addenda."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from django.db import transaction

from reviews.deeds.brief_writing import Cells, filled
from reviews.models import Addendum, Brief, Person, TargetLine
from reviews.versions import Newer


@transaction.atomic
def issue(brief: Brief, by: Person) -> Brief:
    """Freeze a brief; issuing twice is issuing once."""
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    if not held.is_issued:
        held.issue(by)
    return held


def next_number(brief: Brief) -> int:
    """The number that the next addendum will have."""
    return brief.addenda.count() + 1


@transaction.atomic
def add_addendum(
    brief: Brief,
    by: Person,
    words: str,
    *,
    number: int,
    targets: Iterable[Cells] = (),
    site: Mapping[str, str] | None = None,
    use: Mapping[str, Sequence[Cells]] | None = None,
) -> Addendum:
    """Issue an addendum: words, changed or added targets, changed cells of the site sheet.

    use     climate, states, people cases or weather, each whole where it changes

    number   the number that whoever writes it saw; where that is issued by now, the same words
             are the same addendum, and others raise Newer
    """
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    if issued := held.addenda.filter(number=number).first():
        if issued.text == words:
            return issued
        raise Newer({"text": issued.text}, {"text": words})
    addendum = Addendum.objects.create(
        brief=held,
        number=next_number(held),
        text=words,
        site_changes=dict(site or {}),
        use_changes=dict(use or {}),
        issued_by=by,
    )
    TargetLine.objects.bulk_create(
        TargetLine(brief=held, addendum=addendum, position=n, cells=filled(cells))
        for n, cells in enumerate(targets)
    )
    return addendum

"""What desk crits left: the steps that are open, and how long a scheme hasn't been seen."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from django.db.models import Max, OuterRef, QuerySet, Subquery
from django.utils import timezone

from reviews import clock
from reviews.models import DeskCrit, NextStep, Scheme, Studio


def open_steps(scheme: Scheme) -> list[NextStep]:
    """The steps of the last meeting that nobody has done, those from before it first."""
    left = _left_of_the_last().filter(desk_crit__scheme=scheme)
    return sorted(left, key=lambda step: (step.carried_from_id is None, step.position, step.pk))


@cache
def _left_of_the_last() -> QuerySet[NextStep]:
    """Steps that nobody has done, of the last meeting of each scheme; built once, to be filtered"""
    of_scheme = DeskCrit.objects.filter(scheme=OuterRef("desk_crit__scheme"))
    last = of_scheme.order_by("-at", "-pk").values("pk")[:1]
    return NextStep.objects.filter(desk_crit=Subquery(last), done_at=None).order_by()


class Unseen(NamedTuple):
    """For how long a scheme had no desk crit.

    days   since the last [d]; None where it never had one
    """

    scheme: Scheme
    days: int | None

    @property
    def words(self) -> str:
        """The same in words."""
        if self.days is None:
            return "none yet"
        return {0: "today", 1: "yesterday"}.get(self.days, f"{self.days} days ago")


def unseen(studios: Iterable[Studio]) -> dict[int, list[Unseen]]:
    """By studio, the schemes that are drawn there; those never seen first, then the longest."""
    schemes = Scheme.objects.standing().filter(studio__in=list(studios))
    met = DeskCrit.objects.filter(scheme__in=schemes).order_by().values_list("scheme")
    seen_at = dict(met.annotate(Max("at")))
    today = clock.today()
    found: dict[int, list[Unseen]] = {}
    for scheme in schemes:
        at = seen_at.get(scheme.pk)
        days = (today - timezone.localdate(at)).days if at else None
        found.setdefault(scheme.studio_id, []).append(Unseen(scheme, days))
    for each in found.values():
        each.sort(key=lambda line: (line.days is not None, -(line.days or 0), line.scheme.number))
    return found

"""Questions on briefs that wait for an answer."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from reviews.models import BriefQuestion, Studio


def unanswered_questions(studios: Iterable[Studio]) -> Counter[int]:
    """How many there are, by studio."""
    found = BriefQuestion.objects.filter(brief__studio__in=list(studios), answer="")
    return Counter(found.values_list("brief__studio", flat=True))

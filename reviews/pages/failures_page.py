"""The failures drawer and the remarks of cohorts, as their pages list them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet

from reviews.models import Revision
from reviews.reading.cohort_comparing import Cohort
from reviews.reading.cohort_failures import Failure, failures
from reviews.reading.cohort_words import Chosen, Remark, remarks

A_PAGE = 60
"""Lines of one page."""

BY = ("criterion", "of_kind", "place", "target", "alike")
"""By what remarks are asked for, as addresses name it."""

KINDS = {
    "buildings": "Buildings that failed",
    "targets": "Targets missed",
    "claims": "Claims that could not be true",
    "again": "Shown again",
}


@dataclass(frozen=True)
class Kind:
    """A part of the drawer, how many lines of it a search finds, and whether it is open."""

    slug: str
    name: str
    count: int
    is_open: bool


@dataclass(frozen=True)
class Found:
    """A line of either list, with its cohort."""

    cohort: Cohort
    of: Failure | Remark

    @property
    def crit_id(self) -> int:
        """The crit whose results it stands in."""
        return self.cohort.record.crit_id


@dataclass(frozen=True)
class FailuresPage:
    """One part of the drawer, as far as a search finds it."""

    kinds: Sequence[Kind]
    words: str
    page: Page[Found]

    @property
    def query(self) -> str:
        """What the open part is, as an address says it."""
        return urlencode({"part": self.open.slug, "words": self.words})

    @property
    def open(self) -> Kind:
        """The part that is open."""
        return next(kind for kind in self.kinds if kind.is_open)


def failures_page(
    cohorts: Sequence[Cohort], seen: QuerySet[Revision], asked: Mapping[str, str]
) -> FailuresPage:
    """Open the drawer at one part, for words that every line holds.

    asked   kind_of, words and page, as an address has them
    """
    held = failures([cohort.record for cohort in cohorts], seen).kinds
    words = asked.get("words", "").strip()
    parts = words.casefold().split()
    found = {
        slug: [each for each in lines if all(part in each.searched for part in parts)]
        for slug, lines in held.items()
    }
    filled = next((slug for slug, lines in found.items() if lines), next(iter(found)))
    slug = asked.get("part", "") if asked.get("part") in found else filled
    kinds = [Kind(each, KINDS[each], len(found[each]), each == slug) for each in found]
    lines = [Found(cohorts[each.place], each) for each in found[slug]]
    return FailuresPage(kinds, words, Paginator(lines, A_PAGE).get_page(asked.get("page")))


@dataclass(frozen=True)
class RemarksPage:
    """Comments of one criterion and kind, square or target.

    words   which these are
    query   the same as an address says it
    """

    words: str
    query: str
    page: Page[Found]


def remarks_page(cohorts: Sequence[Cohort], asked: Mapping[str, str]) -> RemarksPage:
    """What an address asks of the cohorts' remarks."""
    chosen = Chosen(**{name: asked.get(name, "") for name in BY})
    held = remarks([cohort.record for cohort in cohorts], chosen)
    lines = [Found(cohorts[each.place], each) for each in held]
    named = {name: words for name in BY if (words := asked.get(name, ""))}
    return RemarksPage(
        words=", ".join(named.values()) or "Every comment",
        query=urlencode(named),
        page=Paginator(lines, A_PAGE).get_page(asked.get("page")),
    )

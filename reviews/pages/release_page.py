"""The release as its leader reads it: before it what is open and unread, after it who opened it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property

from django.urls import reverse

from reviews import access, clock
from reviews.access import Viewer
from reviews.deeds.result_papers_making import current_papers
from reviews.models import Crit, Person, ResultPapers, Scheme, Verdict
from reviews.reading.crit_agreed import verdicts_of
from reviews.reading.crit_release import HOURS, Item, Release, SchemeOut, why_not_now
from reviews.reading.crit_release_read import read_release

A_WEEK = timedelta(days=7)
"""After which somebody who hasn't opened their results is named. Common practice."""


@dataclass(frozen=True)
class Receipt:
    """One student of a scheme, and when they first opened the results."""

    person: Person
    scheme: Scheme
    at: datetime | None


@dataclass(frozen=True)
class ReleasePage:
    """What stands in the way of a release."""

    told: Release
    hours: str = HOURS

    @cached_property
    def why_not_now(self) -> str:
        """Why nothing is released at this minute."""
        return why_not_now(clock.now())

    @property
    def first_unread(self) -> SchemeOut | None:
        """Where to begin reading."""
        return next((each for each in self.told.unread if not each.is_closed), None)

    def place_of(self, item: Item) -> str:
        """The address at which something is decided; blank where it is this page."""
        crit = self.told.crit.pk
        if item.where == "evening":
            return f"{reverse('show-evening', args=[crit])}#{item.at}"
        if item.where == "again" and item.scheme:
            page = reverse("decide-again", args=[crit, item.scheme.pk])
            return f"{page}#{item.at}"
        if item.where == "scheme" and item.scheme:
            at = reverse("moderate-scheme", args=[crit, item.scheme.pk])
            return f"{at}#{item.at}" if item.at else at
        first = self.first_unread
        return reverse("proof-scheme", args=[crit, first.scheme.pk]) if first else ""

    @property
    def places(self) -> list[str]:
        """Where each thing is decided, in their order."""
        return [self.place_of(item) for item in self.told.items]


@dataclass(frozen=True)
class ReleasedPage:
    """Who opened a release and when, and who hasn't.

    again   schemes that show again by their verdict
    """

    crit: Crit
    receipts: list[Receipt]
    others: list[tuple[Person, datetime]]
    papers: ResultPapers | None
    is_current: bool = False
    again: Sequence[Scheme] = ()

    @property
    def are_coming(self) -> bool:
        """Whether all results on paper are being drawn."""
        return self.papers is not None and not (self.papers.made_at or self.papers.failed)

    @property
    def megabytes(self) -> str:
        """How much the file of all takes [MB]."""
        return f"{self.papers.bytes / 1e6:.1f}" if self.papers else ""

    @property
    def unopened(self) -> list[Receipt]:
        """The students who haven't opened their results yet."""
        return [each for each in self.receipts if each.at is None]

    @property
    def is_a_week_old(self) -> bool:
        """Whether it was released a week ago, so that whoever hasn't opened it is to be asked."""
        at = self.crit.released_at
        return at is not None and clock.now() - at >= A_WEEK


def release_page(viewer: Viewer, crit: Crit) -> ReleasePage:
    """Read what a release would send, as far as its reader may."""
    return ReleasePage(read_release(crit, closed=access.closed_schemes(viewer, crit)))


def released_page(crit: Crit) -> ReleasedPage:
    """Read who opened it."""
    opened = {each.person_id: each for each in crit.openings.select_related("person")}
    slots = crit.slots.select_related("scheme").prefetch_related("scheme__members")
    students: dict[tuple[int, int], tuple[Scheme, Person]] = {}
    for slot in slots:
        for person in slot.scheme.members.all():
            students[slot.scheme_id, person.pk] = (slot.scheme, person)
    for revision in crit.revisions.select_related("scheme").prefetch_related("students"):
        for person in revision.students.all():
            students.setdefault((revision.scheme_id, person.pk), (revision.scheme, person))
    receipts = [
        Receipt(person, scheme, opened[person.pk].at if person.pk in opened else None)
        for scheme, person in students.values()
    ]
    theirs = {each.person.pk for each in receipts}
    others = [(each.person, each.at) for pk, each in opened.items() if pk not in theirs]
    made = current_papers(crit)
    papers = made or crit.result_papers.first()
    verdicts = verdicts_of(crit)
    shown = {slot.scheme_id: slot.scheme for slot in slots}
    again = [
        scheme
        for pk, scheme in shown.items()
        if pk in verdicts and verdicts[pk].kind == Verdict.Kind.AGAIN
    ]
    return ReleasedPage(crit, receipts, others, papers, bool(made), again)

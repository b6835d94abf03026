"""A package in preparation as it stands on its page: what it holds, comes to and lacks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache, cached_property
from typing import Any, NamedTuple

from django.db.models import Max, QuerySet, prefetch_related_objects
from django.utils import timezone

from criteria.schedules import SCHEDULES
from criteria.typed.rows import Schedule
from criteria.units import System
from reviews import clock
from reviews.deeds.revision_issuing import (
    Contents,
    is_to_issue,
    lacks,
    minutes_late,
    next_crit,
    own_contents,
)
from reviews.models import Change, Crit, HandInItem, Package, Revision, Sheet, Studio
from reviews.models.packages import next_letter
from reviews.models.people import called
from reviews.moments import span_words
from reviews.pages.check_page import OddLine, Summary, odd_line, summary_of
from reviews.pages.crit_page import issuing_words
from reviews.pages.schedule_columns import asked_slugs
from reviews.pages.schedule_page import unreadable
from reviews.reading.crit_sheets import put_at_hand
from reviews.reading.package_checking import Checked, draft
from reviews.reading.package_older_claims import older_claims
from reviews.reading.sheet_marks import with_letters
from reviews.worked_out import Told, fingerprint


class LastChange(NamedTuple):
    """When a schedule was changed last, and by whom."""

    at: datetime
    by: str


@dataclass(frozen=True)
class ScheduleLine:
    """One schedule: how many rows, what can't be read, who changed it last.

    is_asked   whether it is on the hand-in list
    is_read    whether a check that the brief asks for reads it
    """

    schedule: Schedule
    rows: int
    refused: int
    is_asked: bool
    is_read: bool
    last: LastChange | None


@dataclass(frozen=True)
class PackagePage:
    """A package, whole; what is said of it is made ready only where a process hasn't kept it.

    at        the moment at which it is read
    own       what its students made, as an issue would freeze it
    issued    its revisions, the latest first
    last      the change made last of each schedule
    """

    package: Package
    system: System
    at: datetime
    checked: Checked
    own: Told[Contents]
    issued: Sequence[Revision]
    sheets: Sequence[Sheet]
    last: Mapping[str, LastChange]

    @cached_property
    def fingerprint(self) -> str:
        """Of all but its statement, its crit and what is to be issued."""
        hand_in = [*self.package.scheme.studio.brief.hand_in.all()]
        issues = [(revision, revision.issued_by, revision.crit) for revision in self.issued]
        return fingerprint(
            (self.package.scheme_id, self.checked.told, self.system, self.lacks),
            ([(sheet, sheet.file) for sheet in self.sheets], hand_in, self.last, issues),
        )

    @property
    def letter(self) -> str:
        """The revision that is in preparation."""
        return next_letter(len(self.issued))

    @property
    def latest(self) -> Revision | None:
        """The revision issued last."""
        return self.issued[0] if self.issued else None

    @cached_property
    def is_new(self) -> bool:
        """Whether there is something to issue."""
        return is_to_issue(self.package, self.latest, self.at, self.own)

    @cached_property
    def lacks(self) -> list[str]:
        """What the hand-in list asks for and it doesn't hold."""
        return lacks(self.package, self.own, self.sheets)

    @cached_property
    def _lines(self) -> list[ScheduleLine]:
        hand_in = self.package.scheme.studio.brief.hand_in.all()
        asked = {item.code for item in hand_in if item.kind == HandInItem.Kind.SCHEDULE}
        tables = self.package.records()
        read = asked_slugs(finding.check for finding in self.checked.sheet.asked)
        return [
            ScheduleLine(
                schedule=schedule,
                rows=len(tables.get(schedule.slug, [])),
                refused=unreadable(schedule, tables.get(schedule.slug, []), self.checked.refused),
                is_asked=schedule.slug in asked,
                is_read=schedule.slug in read,
                last=self.last.get(schedule.slug),
            )
            for schedule in SCHEDULES
        ]

    @property
    def schedules(self) -> list[ScheduleLine]:
        """Those with rows, on the hand-in list or read by a check that is asked for."""
        return [line for line in self._lines if line.is_asked or line.is_read or line.rows]

    @property
    def has_rows(self) -> bool:
        """Whether any schedule has a row."""
        return any(line.rows for line in self._lines)

    @property
    def asks_anything(self) -> bool:
        """Whether the hand-in list asks for anything."""
        return bool(self.package.scheme.studio.brief.hand_in.all())

    @property
    def others(self) -> list[ScheduleLine]:
        """Those without."""
        return [line for line in self._lines if line not in self.schedules]

    @cached_property
    def summary(self) -> Summary:
        """What its check sheet comes to."""
        return summary_of(self.checked.sheet, self.system)

    @property
    def older(self) -> list[OddLine]:
        """Claims older than a schedule that they speak of."""
        return [odd_line(odd, self.system) for odd in older_claims(self.checked.sheet)]

    @property
    def words(self) -> int:
        """How many words the statement has."""
        return len(self.package.statement.split())

    @property
    def words_asked(self) -> int:
        """How many words the brief asks for at most."""
        return self.package.scheme.studio.brief.statement_words

    @property
    def words_over(self) -> int:
        """How many words the statement has beyond what the brief asks for."""
        return max(0, self.words - self.words_asked)

    @cached_property
    def crit(self) -> Crit | None:
        """The crit that an issue is for."""
        scheme = self.package.scheme
        return next_crit(scheme.studio.crits.all(), self.at, scheme.pk)

    @property
    def closed(self) -> list[str]:
        """Crits to come that take no issue any more, each with why."""
        return closed_to_issues(self.package.scheme.studio, self.at)

    @property
    def late_by(self) -> str:
        """By how much an issue would be late; blank where it wouldn't."""
        late = minutes_late(self.crit, self.at)
        return span_words(late) if late else ""


def package_page(
    package: Package,
    system: System,
    at: datetime | None = None,
    *,
    checked: Checked | None = None,
) -> PackagePage:
    """Everything of a package in preparation; as checked, where it is already."""
    studio = package.scheme.studio
    package.hold_typed()
    prefetch_related_objects([studio], "crits", "brief__hand_in")
    crits = {crit.pk: crit for crit in studio.crits.all()}
    issued = list(package.scheme.revisions.order_by("-pk"))
    put_at_hand("issued_by", issued, package.scheme.members.all())
    prefetch_related_objects(issued, "issued_by")
    for revision in issued:
        revision.crit = crits.get(revision.crit_id or 0)
    sheets = list(with_letters(package.sheets.select_related("file")))
    checked = checked or draft(package, asked_alone=True, hung=sheets)
    return PackagePage(
        package=package,
        system=system,
        at=at or clock.now(),
        checked=checked,
        own=own_contents(package, sheets, checked.marks),
        issued=issued,
        sheets=sheets,
        last=_last_changes(package),
    )


def closed_to_issues(studio: Studio, at: datetime) -> list[str]:
    """Say which crits that aren't over take no issue any more, and why."""
    day = timezone.localtime(at).date()
    to_come = (crit for crit in studio.crits.all() if crit.day >= day)
    return [f"{crit}: {why}" for crit in to_come if (why := issuing_words(crit))]


def _last_changes(package: Package) -> dict[str, LastChange]:
    last = Change.objects.filter(package=package).order_by().values("schedule").annotate(Max("pk"))
    rows = _changes().filter(pk__in=last.values("pk__max"))
    return {slug: LastChange(at, called(name, email)) for slug, at, name, email in rows}


@cache
def _changes() -> QuerySet[Change, tuple[Any, ...]]:
    """Changes as they are told of; built once, and filtered by whoever asks."""
    return Change.objects.order_by().values_list("schedule", "at", "by__name", "by__email")


@dataclass(frozen=True)
class IssuePage:
    """What whoever is about to issue a package is told first."""

    page: PackagePage
    odd: Sequence[str]
    claims: Sequence[str]
    refused: int


def issue_page(package: Package, system: System, at: datetime | None = None) -> IssuePage:
    """What to know before an issue: lacking, odd, unreadable or late. None of it stops one."""
    package.hold_typed()
    checked = draft(package, asked_alone=True)
    sheet, page = checked.sheet, package_page(package, system, at, checked=checked)
    return IssuePage(
        page=page,
        odd=[odd.write_question(system) for odd in sheet.odd],
        claims=[
            f"{claim.about}: a sheet says “{claim.text}”, held as {claim.write_held(system)}; the "
            f"schedules give {claim.write_computed(system)}."
            for claim in sheet.claims
            if claim.differs
        ],
        refused=sum(line.refused for line in page.schedules),
    )

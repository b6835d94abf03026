"""A package in preparation as it stands on its page: what it holds, comes to and lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Max, prefetch_related_objects
from django.utils import timezone

from criteria.schedules import SCHEDULES
from criteria.typed.rows import Schedule
from criteria.units import System
from reviews.deeds.revision_issuing import (
    is_to_issue,
    lacks,
    minutes_late,
    next_crit,
    own_contents,
)
from reviews.models import Change, Crit, HandInItem, Package, Revision, Sheet, Studio
from reviews.models.packages import next_letter
from reviews.moments import span_words
from reviews.pages.check_page import OddLine, Summary, odd_line, summary_of
from reviews.pages.crit_page import issuing_words
from reviews.pages.schedule_page import unreadable
from reviews.reading.package_checking import Checked, draft
from reviews.reading.package_older_claims import older_claims
from reviews.worked_out import fingerprint


@dataclass(frozen=True)
class ScheduleLine:
    """One schedule: how many rows, what can't be read, who changed it last."""

    schedule: Schedule
    rows: int
    refused: int
    is_asked: bool
    last: Change | None


@dataclass(frozen=True)
class PackagePage:
    """A package, whole.

    issued    its revisions, the latest first
    is_new    whether there is something to issue
    closed    crits to come that take no issue any more, each with why
    older     claims older than a schedule that they speak of
    """

    package: Package
    letter: str
    issued: Sequence[Revision]
    is_new: bool
    sheets: Sequence[Sheet]
    schedules: Sequence[ScheduleLine]
    others: Sequence[ScheduleLine]
    summary: Summary
    older: Sequence[OddLine]
    lacks: Sequence[str]
    words: int
    words_asked: int
    crit: Crit | None
    closed: Sequence[str]
    late_by: str

    @property
    def latest(self) -> Revision | None:
        """The revision issued last."""
        return self.issued[0] if self.issued else None

    @property
    def schedules_fingerprint(self) -> str:
        """Of what is said of all its schedules."""
        lines = (*self.schedules, *self.others)
        return fingerprint(
            [
                (line.schedule.slug, line.rows, line.refused, line.is_asked)
                + ((str(line.last.by), line.last.at) if line.last else ())
                for line in lines
            ]
        )

    @property
    def words_over(self) -> int:
        """How many words the statement has beyond what the brief asks for."""
        return max(0, self.words - self.words_asked)


def package_page(
    package: Package,
    system: System,
    at: datetime | None = None,
    *,
    checked: Checked | None = None,
) -> PackagePage:
    """Everything of a package in preparation; as checked, where it is already."""
    studio, brief = package.scheme.studio, package.scheme.studio.brief
    prefetch_related_objects([package], "rows")
    prefetch_related_objects([studio], "crits", "brief__hand_in")
    moment, checked = at or timezone.now(), checked or draft(package, asked_alone=True)
    issued = list(package.scheme.revisions.select_related("issued_by", "crit").order_by("-pk"))
    sheets = list(package.sheets.select_related("file"))
    own = own_contents(package, sheets)
    crit = next_crit(studio.crits.all(), moment)
    late = minutes_late(crit, moment)
    lines = _schedule_lines(package, checked)
    return PackagePage(
        package=package,
        letter=next_letter(len(issued)),
        issued=issued,
        is_new=is_to_issue(package, issued[0] if issued else None, moment, own),
        sheets=sheets,
        schedules=[line for line in lines if line.is_asked or line.rows],
        others=[line for line in lines if not (line.is_asked or line.rows)],
        summary=summary_of(checked.sheet, system),
        older=[odd_line(odd, system) for odd in older_claims(checked.sheet)],
        lacks=lacks(package, own),
        words=len(package.statement.split()),
        words_asked=brief.statement_words,
        crit=crit,
        closed=closed_to_issues(studio, moment),
        late_by=span_words(late) if late else "",
    )


def closed_to_issues(studio: Studio, at: datetime) -> list[str]:
    """Say which crits that aren't over take no issue any more, and why."""
    day = timezone.localtime(at).date()
    to_come = (crit for crit in studio.crits.all() if crit.day >= day)
    return [f"{crit}: {why}" for crit in to_come if (why := issuing_words(crit))]


def _schedule_lines(package: Package, checked: Checked) -> list[ScheduleLine]:
    newest = (
        Change.objects.filter(package=package).values("schedule").annotate(newest=Max("pk"))
    ).values("newest")
    changes = Change.objects.filter(pk__in=newest).select_related("by").defer("before", "after")
    last = {change.schedule: change for change in changes}
    hand_in = package.scheme.studio.brief.hand_in.all()
    asked = {item.code for item in hand_in if item.kind == HandInItem.Kind.SCHEDULE}
    tables = package.records()
    return [
        ScheduleLine(
            schedule=schedule,
            rows=len(tables.get(schedule.slug, [])),
            refused=unreadable(schedule, tables.get(schedule.slug, []), checked.refused),
            is_asked=schedule.slug in asked,
            last=last.get(schedule.slug),
        )
        for schedule in SCHEDULES
    ]


@dataclass(frozen=True)
class IssuePage:
    """What whoever is about to issue a package is told first."""

    page: PackagePage
    odd: Sequence[str]
    claims: Sequence[str]
    refused: int


def issue_page(package: Package, system: System, at: datetime | None = None) -> IssuePage:
    """What to know before an issue: lacking, odd, unreadable or late. None of it stops one."""
    prefetch_related_objects([package], "rows")
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

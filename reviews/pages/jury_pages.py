"""What a jury sheet shows: its lines with facts and plans, likely questions, what is owed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from criteria.check_sheet.sheet import CheckSheet
from criteria.drawing.catalogue import BY_CHECK
from criteria.findings import Finding, State
from criteria.scoring.levels import NotJudged
from criteria.units import System
from reviews import access
from reviews.deeds.crit_jury_keeping import (
    NOTHING_SHOWN,
    is_open_to_words,
    not_yet_judged,
)
from reviews.models import (
    Comment,
    Criterion,
    Interest,
    IssuedSheet,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
    Seat,
    Slot,
)
from reviews.pages.daylight_pages import Shown, plans_beside
from reviews.pages.jury_drawing import addresses_ahead, drawn_first, under_own_trace
from reviews.pages.jury_lines import (
    IMPRESSION_ID,
    CommentLine,
    Line,
    Trouble,
    impression_line,
    level_id,
    level_line,
)
from reviews.pages.jury_order import neighbours
from reviews.pages.schedule_drawing import KeptStates, states_at_issue
from reviews.pages.sheet_views import in_time
from reviews.pages.traced_sheets import TracedSheet
from reviews.reading.crit_sheets import level_of, revision_shown
from reviews.reading.package_checking import issued
from reviews.worked_out import Told, fingerprint

MOST_QUESTIONS = 5
"""Most likely questions that a juror is shown."""


@dataclass(frozen=True)
class Fact:
    """A check's figure beside a criterion that names it as evidence. It suggests no level.

    note      why it isn't asked here, or is set aside
    is_drawn  whether its check has a drawing
    """

    ref: str
    title: str
    subject: str
    state: str
    value: str
    target: str
    margin: str
    note: str = ""
    is_drawn: bool = False


@dataclass(frozen=True)
class Judged:
    """A criterion's line with the facts, and the daylight plans they are about, folded under it."""

    line: Line
    facts: list[Fact]
    plans: list[Shown]


def facts_for(criterion: Criterion, sheet: CheckSheet | None, system: System) -> list[Fact]:
    """The facts that a criterion names as its evidence, in the order in which it names them."""
    return [_fact(finding, system) for finding in evidence_of(criterion, sheet)]


def evidence_of(criterion: Criterion, sheet: CheckSheet | None) -> list[Finding]:
    """The findings that a criterion names, in its order."""
    found = {finding.ref: finding for finding in sheet.asked} if sheet else {}
    return [found[ref] for ref in criterion.evidence_refs if ref in found]


def _plans(
    criterion: Criterion, sheet: CheckSheet | None, revision: Revision | None, system: System
) -> list[Shown]:
    if revision is None:
        return []
    key = f"plan-{criterion.pk}"
    return plans_beside(revision, evidence_of(criterion, sheet), system, key=key)


def _fact(finding: Finding, system: System) -> Fact:
    is_held = finding.state is not State.NOT_ASKED
    return Fact(
        ref=finding.ref,
        title=finding.title,
        subject=finding.name,
        state=finding.state,
        value=finding.write_value(system) or "–",
        target=f"{finding.rule} {finding.write_target(system)}".strip(),
        margin=finding.write_margin(system) if is_held else "",
        note="" if is_held else "; ".join(finding.write_notes(system)),
        is_drawn=finding.check in BY_CHECK,
    )


class Asked(NamedTuple):
    """A likely question, and the target that raises it."""

    ref: str
    question: str


def likely_questions(sheet: CheckSheet | None) -> list[Finding]:
    """At most five findings that invite a question, those furthest from their target first."""
    asking = [finding for finding in sheet.asked if finding.question] if sheet else []

    def distance(finding: Finding) -> float:
        return 0.0 if finding.relative_margin is None else finding.relative_margin

    return sorted(asking, key=distance)[:MOST_QUESTIONS]


@dataclass(frozen=True)
class OtherLevel:
    """What another juror gave."""

    given: int | NotJudged | None

    @property
    def level(self) -> int | None:
        """The level, where there is one."""
        return self.given if isinstance(self.given, int) else None

    @property
    def words(self) -> str:
        """Why there is none."""
        return "none" if self.given is None else "Not mine"


@dataclass(frozen=True)
class Others:
    """Other jurors' levels of one scheme, criteria by jurors."""

    jurors: list[str]
    rows: list[tuple[str, list[OtherLevel]]]


@dataclass(frozen=True)
class Page:
    """A jury sheet, whole; its lines are made ready only where a process hasn't kept them.

    revision    what it is of, and what stands on the page
    newer       what was issued for the crit since, which changes nothing until it is taken up
    earlier     of a late one, the last issued before pens down
    elsewhere   where nothing is issued for the crit, the last that was issued for another
    checks      the check sheet of the revision, less what is set aside
    """

    slot: Slot
    sheet: JurySheet | None
    is_open: bool
    interest: Interest | None
    revision: Revision | None
    newer: Revision | None
    earlier: Revision | None
    elsewhere: Revision | None
    pictured: list[IssuedSheet]
    ahead: list[str]
    held: dict[int, LevelGiven]
    asked: list[Criterion]
    checks: Told[CheckSheet] | None
    system: System
    comments: list[CommentLine]
    others: Others
    before: Slot | None
    after: Slot | None
    troubles: dict[str, Trouble]

    @cached_property
    def fingerprint(self) -> str:
        """Of all that its lines and comments show; blank where a save was refused."""
        if self.troubles:
            return ""
        said = [line.comment for line in self.comments]
        places = [(each.issued_sheet, each.revision, each.criterion) for each in said]
        return fingerprint(
            (self.slot.scheme_id, self.of, self.takes_levels, self.asked),
            (self.sheet, self.sheet and self.sheet.impression_revision),
            [(given, given.revision) for given in self.held.values()],
            (said, places, [line.is_open for line in self.comments]),
            (self.checks, self.system),
        )

    @property
    def impression(self) -> Line:
        """The line of the whole."""
        trouble = self.troubles.get(IMPRESSION_ID)
        return impression_line(self.slot.scheme_id, self.sheet, self.of, trouble)

    @property
    def criteria(self) -> list[Judged]:
        """Each criterion's line, with the facts and plans that inform it."""
        checks = self.checks.holds if self.checks else None
        return [
            Judged(
                level_line(
                    self.slot.scheme_id,
                    criterion,
                    self.held.get(criterion.pk),
                    self.of,
                    self.troubles.get(level_id(criterion)),
                ),
                facts_for(criterion, checks, self.system),
                _plans(criterion, checks, self.revision, self.system),
            )
            for criterion in self.asked
        ]

    @cached_property
    def plans(self) -> KeptStates | None:
        """The plan of the revision in each state that it is lived in."""
        if self.revision is None or self.checks is None:
            return None
        return states_at_issue(self.revision, self.checks, self.system)

    @cached_property
    def sheets(self) -> list[TracedSheet]:
        """The sheets of the revision, under what their juror drew over them."""
        return under_own_trace(self.pictured, self.comments)

    @property
    def statement(self) -> str:
        """What its students wrote of it."""
        return str(self.revision.contents["statement"]) if self.revision else ""

    @cached_property
    def questions(self) -> list[Asked]:
        """What the jury will likely ask."""
        likely = likely_questions(self.checks.holds if self.checks else None)
        return [Asked(each.ref, each.write_question(self.system)) for each in likely]

    @property
    def missing(self) -> list[Criterion]:
        """Criteria that take a level yet."""
        return not_yet_judged(self.sheet, self.asked, self.interest)

    @property
    def owed(self) -> list[str]:
        """What its juror may still want to do."""
        return owed_words((line.comment for line in self.comments), self.sheet, self.interest)

    @property
    def takes_levels(self) -> bool:
        """Whether levels can be set."""
        return self.is_open and self.interest is None

    @property
    def of(self) -> int:
        """The key of the revision that it shows."""
        return self.revision.pk if self.revision else NOTHING_SHOWN

    @property
    def sheets_fingerprint(self) -> str:
        """Of the sheets as they are picked."""
        return fingerprint(self.pictured, [sheet.file for sheet in self.pictured])

    @property
    def is_locked(self) -> bool:
        """Whether the juror has fixed it."""
        return bool(self.sheet and self.sheet.is_locked)

    @property
    def shows_others(self) -> bool:
        """Whether levels of other jurors are on it."""
        return self.is_locked and bool(self.others.jurors)


def owed_words(
    comments: Iterable[Comment], sheet: JurySheet | None, interest: Interest | None = None
) -> list[str]:
    """What a juror may still want to do before locking; none of it is compulsory."""
    kept = list(comments)
    said = []
    if interest is None and (sheet is None or sheet.impression is None):
        said.append("No overall impression")
    if not any(comment.kind == Comment.Kind.KEEP for comment in kept):
        said.append("No comment says what to keep")
    stubs = sum(comment.is_stub for comment in kept)
    if stubs:
        said.append(f"{stubs} comment{'s' * (stubs != 1)} without words")
    return said


@dataclass(frozen=True)
class Owed:
    """What stands between a sheet and its lock, and what may still be wanted."""

    missing: list[Criterion]
    owed: list[str]


def still_owed(seat: Seat, scheme: Scheme, sheet: JurySheet | None) -> Owed:
    """What a juror's sheet for a scheme still lacks."""
    interest = seat.interest_in(scheme.pk)
    missing = not_yet_judged(sheet, list(seat.crit.criteria.all()), interest)
    return Owed(missing, owed_words(sheet.comments.kept() if sheet else (), sheet, interest))


def own_comments(sheet: JurySheet | None) -> list[Comment]:
    """A juror's own comments on a sheet, in the order in which they were begun."""
    if sheet is None:
        return []
    return list(sheet.comments.kept().with_places().select_related("criterion"))


def jury_page(
    seat: Seat,
    order: list[Slot],
    slot: Slot,
    system: System,
    *,
    is_open: bool,
    troubles: dict[str, Trouble],
) -> Page:
    """Everything of one jury sheet, in a juror's order; comment forms are the view's to add."""
    scheme = slot.scheme
    sheets = seat.sheets.select_related("revision", "impression_revision")
    sheet = sheets.with_levels().on(scheme.pk)
    if sheet:
        sheet.seat = seat
    locked = bool(sheet and sheet.is_locked)
    latest = revision_shown(seat.crit, scheme)
    revision = sheet.revision if sheet else latest
    if revision:
        revision.scheme = scheme
    criteria = list(seat.crit.criteria.all())
    before, after = neighbours(order, slot)
    return Page(
        slot=slot,
        sheet=sheet,
        is_open=is_open and not locked,
        interest=seat.interest_in(scheme.pk),
        revision=revision,
        newer=None if latest == revision else latest,
        earlier=in_time(seat.crit, revision),
        elsewhere=None if latest or revision else scheme.revisions.last(),
        pictured=drawn_first(revision.sheets.select_related("file").defer("lettering"))
        if revision
        else [],
        ahead=addresses_ahead(seat, after),
        held={given.criterion_id: given for given in sheet.levels.all()} if sheet else {},
        asked=criteria,
        checks=issued(revision) if revision else None,
        system=system,
        comments=[CommentLine(c, is_open_to_words(c.jury_sheet, c)) for c in own_comments(sheet)],
        others=others_of(sheet, criteria),
        before=before,
        after=after,
        troubles=troubles,
    )


def others_of(own: JurySheet | None, criteria: list[Criterion]) -> Others:
    """What other jurors gave, as far as a juror may read it beside a locked own sheet."""
    sheets = []
    if own is not None and own.is_locked:
        opened = access.opened_sheets(own).select_related("seat")
        sheets = list(opened.prefetch_related("levels"))
    rows = [("Overall impression", [OtherLevel(sheet.impression) for sheet in sheets])]
    held = [{given.criterion_id: level_of(given) for given in s.levels.all()} for s in sheets]
    rows += [(str(c), [OtherLevel(each.get(c.pk)) for each in held]) for c in criteria]
    return Others([sheet.seat.name for sheet in sheets], rows)

"""What a jury sheet shows: its lines with facts and plans, likely questions, what is owed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

from django.db.models import Prefetch, prefetch_related_objects

from criteria.check_sheet.sheet import CheckSheet
from criteria.tone import tone_of
from criteria.units import System
from reviews.deeds.crit_jury_keeping import is_open_to_words, not_yet_judged
from reviews.deeds.crit_sheet_in_hand import NOTHING_SHOWN, asks_levels
from reviews.models import (
    ChangedLevel,
    Comment,
    Criterion,
    Interest,
    IssuedSheet,
    JurySheet,
    LevelGiven,
    PrivateNote,
    Revision,
    Scheme,
    Seat,
    Slot,
)
from reviews.pages.jury_drawing import addresses_ahead, drawn_first, under_own_trace
from reviews.pages.jury_facts import Asked, Judged, facts_for, likely_questions, plans_for
from reviews.pages.jury_late import LateIssue, late_issue
from reviews.pages.jury_lines import (
    IMPRESSION_ID,
    TONE_RULES,
    CommentLine,
    Line,
    Trouble,
    impression_line,
    level_id,
    level_line,
)
from reviews.pages.jury_order import neighbours
from reviews.pages.jury_others import Others, others_of
from reviews.pages.schedule_drawing import KeptStates, states_at_issue
from reviews.pages.traced_sheets import TracedSheet
from reviews.reading.crit_sheets import Issued, all_issued, hung_of, put_at_hand
from reviews.reading.package_checking import issued as checks_issued
from reviews.reading.recrit_scope import asked_of
from reviews.worked_out import Told, fingerprint


class Station(NamedTuple):
    """Where a level stands on the sheet: the id of its line, and a word for a key."""

    id: str
    short: str


@dataclass(frozen=True)
class Page:
    """A jury sheet, whole; its lines are made ready only where a process hasn't kept them.

    revision    what it is of, and what stands on the page
    newer       what was issued for the crit since, which changes nothing until it is taken up
    late        one that was issued late, beside the one before pens down
    elsewhere   where nothing is issued for the crit, the last that was issued for another
    checks      the check sheet of the revision, less what is set aside
    note        what its juror keeps to themselves
    """

    seat: Seat
    slot: Slot
    sheet: JurySheet | None
    is_open: bool
    interest: Interest | None
    revision: Revision | None
    newer: Revision | None
    late: LateIssue | None
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
    note: PrivateNote | None

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
            [(given, given.revision, self._changed(given)) for given in self.held.values()],
            self.changes_levels,
            (said, places, [line.is_open for line in self.comments]),
            (self.checks, self.system),
        )

    @property
    def impression(self) -> Line:
        """The line of the whole."""
        trouble = self.troubles.get(IMPRESSION_ID)
        return impression_line(self.slot.scheme_id, self.sheet, self.of, trouble)

    @property
    def stations(self) -> list[Station]:
        """The whole, then each criterion, as the keys under the thumb name them."""
        codes = [Station(level_id(criterion), criterion.code) for criterion in self.asked]
        return [Station(IMPRESSION_ID, "Whole"), *codes]

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
                plans_for(criterion, checks, self.revision, self.system),
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
    def tone_rules(self) -> str:
        """By which words about the person are named while they are typed."""
        return TONE_RULES

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
        return not_yet_judged(self.seat.crit, self.sheet, self.interest, asked=self.asked)

    @property
    def owed(self) -> list[str]:
        """What its juror may still want to do."""
        said = (line.comment for line in self.comments)
        return owed_words(said, self.sheet, asked=self.asks_levels)

    @property
    def asks_levels(self) -> bool:
        """Whether levels are asked of this juror for this scheme."""
        return asks_levels(self.seat.crit, self.sheet, self.interest)

    @property
    def takes_levels(self) -> bool:
        """Whether levels can be set."""
        return self.is_open and self.asks_levels

    @property
    def shows_levels(self) -> bool:
        """Whether the lines of levels stand on it: asked, or set before they were no more."""
        impression = self.sheet and self.sheet.impression
        return self.asks_levels or bool(impression or self.held)

    @property
    def is_chosen_since(self) -> bool:
        """Whether its panel chose, since it was begun, another revision than it is of."""
        choice = self.late and self.late.choice
        return bool(choice and self.newer and choice.revision_id == self.newer.pk)

    @property
    def in_part(self) -> bool:
        """Whether its juror saw the scheme in part."""
        return bool(self.sheet and self.sheet.is_in_part)

    @property
    def changes_levels(self) -> bool:
        """Whether a level of it may change after the discussion, once."""
        return self.is_locked and self.asks_levels and not self.seat.crit.is_released

    @staticmethod
    def _changed(given: LevelGiven) -> ChangedLevel | None:
        return getattr(given, "changed", None)

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
    comments: Iterable[Comment], sheet: JurySheet | None, *, asked: bool = True
) -> list[str]:
    """What a juror may still want to do before locking; none of it is compulsory."""
    kept = list(comments)
    said = []
    if asked and (sheet is None or sheet.impression is None):
        said.append("No overall impression")
    if not any(comment.kind == Comment.Kind.KEEP for comment in kept):
        said.append("No comment says what to keep")
    stubs = sum(comment.is_stub for comment in kept)
    if stubs:
        said.append(f"{stubs} comment{'s' * (stubs != 1)} without words")
    if personal := sum(bool(tone_of(comment.words)) for comment in kept):
        said.append(f"{personal} comment{'s' * (personal != 1)} perhaps about the person")
    return said


@dataclass(frozen=True)
class NoteLine:
    """A juror's private note with its form."""

    note: PrivateNote | None
    form: Any
    trouble: Trouble | None = None

    @property
    def fingerprint(self) -> str:
        """Of all that it shows; blank where a save was refused."""
        return "" if self.trouble else fingerprint("note", self.note)


@dataclass(frozen=True)
class Owed:
    """What stands between a sheet and its lock, and what may still be wanted."""

    missing: list[Criterion]
    owed: list[str]


def still_owed(seat: Seat, scheme: Scheme, sheet: JurySheet | None) -> Owed:
    """What a juror's sheet for a scheme still lacks."""
    interest = seat.interest_in(scheme.pk)
    asked = asks_levels(seat.crit, sheet, interest)
    said = sheet.comments.kept() if sheet else ()
    missing = not_yet_judged(seat.crit, sheet, interest, asked=asked_of(seat.crit, scheme.pk))
    return Owed(missing, owed_words(said, sheet, asked=asked))


def own_comments(sheet: JurySheet | None) -> list[Comment]:
    """A juror's own comments on a sheet, in the order in which they were begun."""
    if sheet is None:
        return []
    return list(sheet.comments.kept().with_places().select_related("criterion"))


def _sheet_in_hand(seat: Seat, slot: Slot, issued: Issued) -> JurySheet | None:
    """A juror's sheet with its levels, each with the revision at hand that it was set on."""
    levels = LevelGiven.objects.select_related("changed")
    sheet = seat.sheets.prefetch_related(Prefetch("levels", levels)).on(slot.scheme_id)
    if sheet:
        sheet.seat, sheet.scheme = seat, slot.scheme
        put_at_hand("revision", [sheet, *sheet.levels.all()], issued.revisions)
        put_at_hand("impression_revision", [sheet], issued.revisions)
    return sheet


def _comments_in_hand(
    sheet: JurySheet | None,
    issued: Issued,
    criteria: Sequence[Criterion],
    hung: Sequence[IssuedSheet],
) -> list[Comment]:
    """The juror's own comments, each with what is at hand of revision, sheet and criterion."""
    if sheet is None:
        return []
    said = list(sheet.comments.kept())
    put_at_hand("revision", said, issued.revisions)
    put_at_hand("criterion", said, criteria)
    put_at_hand("issued_sheet", said, hung)
    placed = [each for each in said if each.issued_sheet_id is not None]
    prefetch_related_objects(placed, "issued_sheet")  # of an earlier revision: those not at hand
    return said


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
    before, after = neighbours(order, slot)
    issued = all_issued(seat.crit, [each.scheme for each in (slot, after) if each])
    own, ahead = issued[scheme.pk], issued[after.scheme_id].shown if after else None
    sheet = _sheet_in_hand(seat, slot, own)
    locked = bool(sheet and sheet.is_locked)
    latest = own.shown
    revision = sheet.revision if sheet else latest
    hung = hung_of([revision, ahead])
    pictured = drawn_first(hung[revision.pk]) if revision else []
    criteria = asked_of(seat.crit, scheme.pk)
    said = _comments_in_hand(sheet, own, criteria, pictured)
    return Page(
        seat=seat,
        slot=slot,
        sheet=sheet,
        is_open=is_open and not locked,
        interest=seat.interest_in(scheme.pk),
        revision=revision,
        newer=None if latest == revision else latest,
        late=late_issue(seat.crit, slot, own, sheet),
        elsewhere=None if latest or revision else scheme.revisions.last(),
        pictured=pictured,
        ahead=addresses_ahead(hung[ahead.pk]) if ahead else [],
        held={given.criterion_id: given for given in sheet.levels.all()} if sheet else {},
        asked=criteria,
        checks=checks_issued(revision) if revision else None,
        system=system,
        comments=[CommentLine(c, is_open_to_words(c.jury_sheet, c)) for c in said],
        others=others_of(sheet, criteria),
        before=before,
        after=after,
        troubles=troubles,
        note=seat.private_notes.filter(scheme=scheme).first(),
    )

"""What a scheme's students read after release, as it is kept: comments, spoken notes, levels."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from typing import Any, TypeVar

from django.db.models import Model, prefetch_related_objects

from reviews.models import (
    Answer,
    Comment,
    Correction,
    Crit,
    Criterion,
    IssuedSheet,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
    Seat,
    Slot,
    SpokenNote,
)
from reviews.models.crits import LEVELS
from reviews.models.spoken import SpokenNoteQuerySet
from reviews.places import Point, middle_of
from reviews.reading.comment_rulings import (
    Rulings,
    put_words_out,
    rulings_of,
    take_out_words,
)
from reviews.reading.crit_answers import read_closings
from reviews.reading.crit_decided import NOTHING_DECIDED, AgreedRead, Decided, decided_of
from reviews.reading.crit_results_asked import comments_asked, sheets_asked, slots_asked
from reviews.reading.crit_sheets import (
    hung_sheets,
    in_order,
    letters_of,
    level_of,
    put_at_hand,
    revision_shown,
)

_Row = TypeVar("_Row", bound=Model)

NOTHING_RULED = Rulings()

_LAST = "~"
"""Sorts what has no sheet, or no zone, after what has one."""


@dataclass(frozen=True)
class LevelRead:
    """One juror's level for one criterion: its word and descriptor, no figure worked out of it.

    set_on        the letter of the revision that it was set on
    corrections   how it was put right after the release, the first change first
    is_given      whether it was set, or left as not its juror's to judge
    """

    juror: str
    level: int | None
    word: str
    descriptor: str
    set_on: str = ""
    corrections: Sequence[Correction] = ()
    is_given: bool = True


@dataclass(frozen=True)
class CriterionRead:
    """A criterion with what is agreed of it and what each juror gave it.

    agreed    the level that stands agreed; None where none is
    changes   what was agreed after the release, each with what stood before it
    """

    criterion: Criterion
    levels: list[LevelRead]
    agreed: int | None = None
    changes: Sequence[tuple[AgreedRead, str]] = ()

    @property
    def word(self) -> str:
        """Of the agreed level."""
        return LEVELS[self.agreed - 1] if self.agreed else ""

    @property
    def descriptor(self) -> str:
        """What the agreed level looks like."""
        return getattr(self.criterion, f"level_{self.agreed}") if self.agreed else ""


@dataclass(frozen=True)
class ResultsRead:
    """What was read of one scheme's results of one crit.

    names       what students call each juror, by seat
    sheets      those whose levels count
    corrections what was put right of a level after the release, the first first, by its key
    said        the comments; of those held since the release, the trace
    revisions   those that the levels and comments stand on; where there is neither, the last that
                was issued for the crit
    heard       what was said aloud and isn't confirmed
    timed       its slot at the crit, where a clock was kept of it and levels are released
    decided     agreed levels, verdict and own words
    rulings     pairs that are ruled on and groups, of the comments that are read
    is_sent     comments were sent and levels aren't released: none is read
    """

    crit: Crit
    scheme: Scheme
    names: dict[int, str]
    sheets: list[JurySheet]
    said: list[Comment]
    revisions: list[Revision]
    heard: list[SpokenNote]
    timed: Slot | None = None
    corrections: Mapping[int, Sequence[Correction]] = field(default_factory=dict)
    decided: Decided = NOTHING_DECIDED
    rulings: Rulings = NOTHING_RULED
    is_sent: bool = False

    @property
    def words(self) -> str:
        """The leader's first words to these students: their own, else those to the class."""
        own = self.decided.own_words
        return self.crit.release_words if own is None else own

    @property
    def stays_open(self) -> list[Criterion]:
        """The criteria that the verdict leaves open."""
        verdict = self.decided.verdict
        codes = verdict.codes if verdict else ()
        return [each for each in self.crit.criteria.all() if each.code in codes]

    @property
    def verdicts_since(self) -> list[tuple[Any, str]]:
        """Verdicts given after the release, each with the title of the one before it."""
        given = self.decided.verdicts
        before = ["", *(each.title for each in given)]
        at = self.crit.released_at
        return [
            (each, was) for each, was in zip(given, before, strict=False) if at and each.at > at
        ]

    @property
    def in_place(self) -> list[Comment]:
        """The comments in the order of their numbers: by sheet and square."""
        return sorted(self.said, key=_by_place)

    @property
    def jurors(self) -> list[str]:
        """Those whose levels count."""
        return [self.names[sheet.seat_id] for sheet in self.sheets]

    @cached_property
    def criteria(self) -> list[CriterionRead]:
        """Each criterion with what is agreed of it and what each juror gave it."""
        return [self._criterion(each) for each in self.crit.criteria.all()]

    def _criterion(self, criterion: Criterion) -> CriterionRead:
        levels = [self._level(criterion, each) for each in self.sheets]
        agreed = self.decided.agreed(criterion.pk)
        since = self.decided.since(criterion.pk, self.crit.released_at)
        return CriterionRead(criterion, levels, agreed, since)

    def _level(self, criterion: Criterion, sheet: JurySheet) -> LevelRead:
        given = sheet.given_for(criterion)
        level = level_of(given)
        figure = level if isinstance(level, int) else None
        return LevelRead(
            juror=self.names[sheet.seat_id],
            level=figure,
            word=LEVELS[figure - 1] if figure else ("Not mine to judge" if level else "No level"),
            descriptor=getattr(criterion, f"level_{figure}") if figure else "",
            set_on=given.revision.letter if given and given.revision else "",
            corrections=self.corrections.get(given.pk, ()) if given else (),
            is_given=level is not None,
        )

    @property
    def is_corrected(self) -> bool:
        """Whether any juror's level was put right after the release."""
        return bool(self.corrections)

    @property
    def is_mixed(self) -> bool:
        """Whether they stand on several revisions, so that each must say on which."""
        return len(self.revisions) > 1

    @property
    def set_on(self) -> str:
        """Which revisions they stand on, in words."""
        return letters_of(self.revisions)


def answer_to(comment: Comment) -> Answer | None:
    """The one answer, where there is one."""
    return getattr(comment, "answer", None)


def names_of(crit: Crit, seats: Iterable[Seat], known: Collection[int] = ()) -> dict[int, str]:
    """What students call each juror: by name where the crit says so, else by a letter.

    Letters follow the seats' secret codes, so that no order of names can be read off them; those
    `known` by a letter since the evening keep it.
    """

    def place(seat: Seat) -> tuple[bool, str]:
        return seat.pk not in known, seat.code

    seats = sorted(set(seats), key=place)
    seats = sorted(seats, key=lambda seat: seat.name) if crit.names_jurors else seats
    if crit.names_jurors:
        return {seat.pk: seat.name for seat in seats}
    return {seat.pk: f"Juror {chr(ord('A') + n)}" for n, seat in enumerate(seats)}


def open_spoken(crit: Crit, scheme: Scheme, *, is_sent: bool = False) -> SpokenNoteQuerySet:
    """The spoken notes on a scheme of which its students know, as they are read.

    is_sent   those sent before the release, and no more
    """
    notes = SpokenNote.objects.open_of(crit, scheme)
    notes = notes.sent() if is_sent else notes
    return notes.select_related("seat", "revision", "issued_sheet__file", "issued_sheet__revision")


def read_results(
    crit: Crit, scheme: Scheme, *, is_sent: bool = False, hears: bool = True
) -> ResultsRead:
    """Everything that is released to a scheme's students, and nothing that is held.

    is_sent   what was sent before the release and no more: no sheet is read for it
    hears     with what was said aloud
    """
    prefetch_related_objects([crit], "criteria")
    read = [] if is_sent else _by_key(sheets_asked().of(crit.pk, scheme.pk))
    slot = next(iter(slots_asked().filter(crit=crit, scheme=scheme)), None)
    was_heard = hears and slot and slot.__dict__["is_heard"]
    heard = list(open_spoken(crit, scheme, is_sent=is_sent)) if was_heard else []
    comments = _by_key(comments_asked().open_of(crit, scheme, read))
    put_words_out(comments)
    read_closings(comments)
    _put_all_at_hand(comments, crit, scheme, read)
    spoke = [(note.seat, note.sent_at) for note in heard if note.seat]
    said_by = [(comment.jury_sheet.seat, comment.sent_at) for comment in comments]
    known = {seat.pk for seat, sent_at in said_by + spoke if sent_at}
    seats = [seat for seat, _ in said_by + spoke]
    names = names_of(crit, [*(sheet.seat for sheet in read), *seats], known)
    counting = [sheet for sheet in read if sheet.__dict__["counts"]]
    sheets = sorted(counting, key=lambda sheet: list(names).index(sheet.seat_id))
    seen = in_order(
        [given.revision for given in levels_of(sheets)]
        + [comment.revision for comment in comments]
        + [note.revision for note in heard]
    ) or in_order([revision_shown(crit, scheme)])
    _name_who_answered(comments, seen)
    for comment in comments:
        _leave_a_trace(comment)
    for note in heard:
        _leave_a_trace(note)
    return ResultsRead(
        crit=crit,
        scheme=scheme,
        names=names,
        sheets=sheets,
        said=comments,
        revisions=seen,
        heard=heard,
        timed=slot if slot and slot.__dict__["is_timed"] and not is_sent else None,
        corrections=_corrections(sheets),
        decided=NOTHING_DECIDED if is_sent else decided_of(crit, scheme),
        rulings=NOTHING_RULED if is_sent else _rulings(crit, scheme, comments),
        is_sent=is_sent,
    )


def _by_key(rows: Iterable[_Row]) -> list[_Row]:
    """Rows in one order, so that the same has one fingerprint."""
    return sorted(rows, key=lambda row: row.pk)


def levels_of(sheets: Iterable[JurySheet]) -> list[LevelGiven]:
    """All levels of some sheets."""
    return _by_key(given for sheet in sheets for given in sheet.levels.all())


def _corrections(sheets: Iterable[JurySheet]) -> dict[int, list[Correction]]:
    found: dict[int, list[Correction]] = {}
    corrected = [sheet for sheet in sheets if sheet.__dict__["is_corrected"]]
    for each in Correction.objects.filter(given__jury_sheet__in=corrected).prefetch_related("by"):
        found.setdefault(each.given_id, []).append(each)
    return found


def _put_all_at_hand(
    comments: Sequence[Comment], crit: Crit, scheme: Scheme, sheets: Sequence[JurySheet]
) -> None:
    """Let comments and levels lead to what they name without a wide query a row."""
    revisions = list(scheme.revisions.order_by())
    put_at_hand("revision", levels_of(sheets), revisions)
    put_at_hand("revision", comments, revisions)
    put_at_hand("jury_sheet", comments, sheets)
    put_at_hand("criterion", comments, crit.criteria.all())
    on = [each.issued_sheet_id for each in comments if each.issued_sheet_id is not None]
    drawn = list(hung_sheets().filter(pk__in=on).order_by()) if on else []
    put_at_hand("revision", drawn, revisions)
    put_at_hand("issued_sheet", comments, drawn)
    # what was sent on a sheet that isn't read
    prefetch_related_objects(comments, "jury_sheet__seat")


def _name_who_answered(comments: Iterable[Comment], revisions: Sequence[Revision]) -> None:
    """Let answers lead to their writers, who are mostly those whose work it is."""
    answers = [answer for each in comments if (answer := answer_to(each))]
    prefetch_related_objects(revisions[-1:], "students")
    for revision in revisions[-1:]:
        put_at_hand("answered_by", answers, revision.students.all())
    prefetch_related_objects(answers, "answered_by")


def _rulings(crit: Crit, scheme: Scheme, comments: Iterable[Comment]) -> Rulings:
    """What students learn beside their comments; asked for only where any stands in a pair."""
    read = {
        comment.pk: comment.__dict__["is_ruled_on"] for comment in comments if not comment.held_at
    }
    return rulings_of(crit, scheme).for_students(read) if any(read.values()) else NOTHING_RULED


def _leave_a_trace(said: Comment | SpokenNote) -> None:
    """Of what is held since it was read, nothing is said but that it was there."""
    if not said.held_at:
        return
    said.kind = said.words = ""
    if isinstance(said, Comment):
        said.strokes = []
        take_out_words(said)
    else:
        said.typed = ""


def sheet_place(sheet: IssuedSheet | None) -> tuple[str, int]:
    """Sorts sheets by number and revision; what has no sheet comes last."""
    return (sheet.number, sheet.revision_id) if sheet else (_LAST, 0)


def _by_place(comment: Comment) -> tuple[Any, ...]:
    on = sheet_place(comment.issued_sheet)
    return (*on, comment.zone or _LAST, comment.begun_at, comment.pk)


def spoken_place(note: SpokenNote) -> tuple[str, int, str, datetime, int]:
    """Sorts spoken notes likewise."""
    return (*sheet_place(note.issued_sheet), note.zone or _LAST, note.said_at, note.pk)


def foot_of(said: Comment | SpokenNote) -> Point | None:
    """Where its flag stands: at its point, else in its square, else where its strokes begin."""
    if said.issued_sheet is None:
        return None
    if said.zone:
        return said.point or middle_of(said.zone)
    return said.drawn[0][0] if said.strokes else None

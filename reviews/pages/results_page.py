"""What a scheme's students read after release: leader's words, comments by place, levels."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

from django.db.models import prefetch_related_objects
from django.utils.safestring import SafeString

from criteria.drawing.lettering import initials_of
from criteria.drawing.level_section import Given, Station, draw_level_section
from reviews import access
from reviews.drawn.svg import as_svg
from reviews.models import (
    Answer,
    Comment,
    Correction,
    Crit,
    Criterion,
    IssuedSheet,
    JurySheet,
    Revision,
    Scheme,
    Seat,
    SpokenNote,
)
from reviews.models.crits import LEVELS
from reviews.pages.spoken_read import SpokenRead, open_spoken, spoken_read
from reviews.pages.traced_sheets import Said, TracedSheet, traced
from reviews.reading.crit_sheets import in_order, letters_of, level_of, revision_shown
from reviews.worked_out import fingerprint

_LAST = "~"
"""Sorts what has no sheet, or no zone, after what has one."""


@dataclass
class CommentRead:
    """A comment as a student reads it; of one held since the release, its place and answer."""

    comment: Comment
    number: int
    juror: str
    form: Any = None

    @property
    def place(self) -> str:
        """Sheet and zone."""
        return self.comment.place

    @property
    def id(self) -> str:
        """Of its words on the page."""
        return f"comment-{self.number}"

    @property
    def flag(self) -> str:
        """Where its flag stands on the sheet; blank where it has none."""
        return self.said.flag

    @property
    def said(self) -> Said:
        """The same as it stands over a sheet."""
        return Said(self.comment, str(self.number), self.juror, self.id)

    @property
    def set_on(self) -> str:
        """The letter of the revision that it was made on."""
        return self.comment.revision.letter if self.comment.revision else ""

    @property
    def held_at(self) -> datetime | None:
        """When the leader held it, after students could read it."""
        return self.comment.held_at

    @property
    def answer(self) -> Answer | None:
        """The one answer, where there is one."""
        return answer_to(self.comment)


@dataclass
class Group:
    """The comments on one issued sheet, zone after zone; without one, on the scheme as a whole.

    spoken   what was said of it aloud, and its juror didn't confirm
    """

    traced: TracedSheet | None
    comments: list[CommentRead]
    spoken: list[SpokenRead]

    @property
    def is_drawn(self) -> bool:
        """Whether anything lies over the sheet."""
        over = self.traced
        return bool(over and (over.flags or over.spoken or over.layers))


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
    """A criterion with what each juror gave it."""

    criterion: Criterion
    levels: list[LevelRead]


@dataclass(frozen=True)
class Results:
    """One scheme's results of one crit, made ready only where a process hasn't kept them.

    names       what students call each juror, by seat
    sheets      those whose levels count
    revisions   those that the levels and comments stand on; where there is neither, the last that
                was issued for the crit
    heard       what was said aloud and isn't confirmed
    is_sent     comments were sent and levels aren't released: none is read
    form_of     makes the form in which whoever reads may answer a comment; None where they may not
    """

    crit: Crit
    scheme: Scheme
    names: dict[int, str]
    sheets: list[JurySheet]
    said: list[Comment]
    revisions: list[Revision]
    heard: list[SpokenNote]
    form_of: Callable[[Comment], Any] | None = None
    is_sent: bool = False

    @cached_property
    def fingerprint(self) -> str:
        """Of everything that was read."""
        levels = [given for sheet in self.sheets for given in sheet.levels.all()]
        corrections = [each for given in levels for each in given.corrections.all()]
        answers = [answer for comment in self.said if (answer := answer_to(comment))]
        by = [answer.answered_by for answer in answers] + [each.by for each in corrections]
        on = [sheet for comment in self.said if (sheet := comment.issued_sheet)]
        pictured = [(sheet, sheet.file, sheet.revision) for sheet in on]
        return fingerprint(
            (self.crit, self.crit.released_by, self.scheme, self.names, self.revisions),
            ([*self.crit.criteria.all()], self.sheets, levels, corrections),
            (self.said, [comment.criterion for comment in self.said], answers, by, pictured),
            (self.heard, [note.issued_sheet for note in self.heard]),
            self.form_of is not None,
            self.is_sent,
        )

    @cached_property
    def groups(self) -> list[Group]:
        """The comments by sheet and zone, those on the scheme as a whole last."""
        read: dict[IssuedSheet | None, list[CommentRead]] = {}
        for number, comment in enumerate(sorted(self.said, key=_by_place), start=1):
            on = read.setdefault(comment.issued_sheet, [])
            on.append(self._read(comment, number))
        said: dict[IssuedSheet | None, list[SpokenRead]] = {}
        for note in spoken_read(self.heard, self.names):
            said.setdefault(note.note.issued_sheet, []).append(note)
        sheets = sorted({**read, **said}, key=_sheet_place)
        return [_group(sheet, read.get(sheet, []), said.get(sheet, [])) for sheet in sheets]

    def _read(self, comment: Comment, number: int) -> CommentRead:
        if comment.held_at:
            comment.kind = comment.words = ""
            comment.strokes = []
        form = self.form_of(comment) if self.form_of and not comment.held_at else None
        return CommentRead(comment, number, self.names[comment.jury_sheet.seat_id], form)

    @property
    def jurors(self) -> list[str]:
        """Those whose levels count."""
        return [self.names[sheet.seat_id] for sheet in self.sheets]

    @cached_property
    def criteria(self) -> list[CriterionRead]:
        """Each criterion with what each juror gave it."""
        return [_criterion_read(c, self.sheets, self.names) for c in self.crit.criteria.all()]

    @cached_property
    def initials(self) -> dict[str, str]:
        """What each juror is called on the section."""
        return initials_of(self.jurors)

    @cached_property
    def section(self) -> SafeString:
        """Every juror's level of every criterion, a bare mark each."""
        stations = [
            Station(
                code=each.criterion.code,
                name=each.criterion.short_name,
                given=tuple(
                    Given(who=self.initials[level.juror], level=level.level)
                    for level in each.levels
                    if level.is_given
                ),
            )
            for each in self.criteria
        ]
        return as_svg(draw_level_section(stations, LEVELS), "levels")

    @property
    def is_corrected(self) -> bool:
        """Whether any level was put right after the release."""
        return any(level.corrections for each in self.criteria for level in each.levels)

    @property
    def is_mixed(self) -> bool:
        """Whether they stand on several revisions, so that each must say on which."""
        return len(self.revisions) > 1

    @property
    def set_on(self) -> str:
        """Which revisions they stand on, in words."""
        return letters_of(self.revisions)

    @property
    def comments(self) -> list[CommentRead]:
        """Every comment, in order of its number."""
        return [comment for group in self.groups for comment in group.comments]

    @property
    def spoken(self) -> list[SpokenRead]:
        """Every spoken note, in order of its number."""
        return [note for group in self.groups for note in group.spoken]

    def said_of(self, sheet: IssuedSheet) -> list[Said]:
        """The comments and spoken notes on one sheet."""
        said = [read.said for read in self.comments] + [read.said for read in self.spoken]
        return [each for each in said if each.comment.issued_sheet == sheet]

    @property
    def unanswered(self) -> int:
        """How many comments have no answer yet."""
        return sum(not (read.answer or read.held_at) for read in self.comments)


def _group(
    sheet: IssuedSheet | None, comments: list[CommentRead], spoken: list[SpokenRead]
) -> Group:
    said = [read.said for read in comments] + [read.said for read in spoken]
    return Group(traced(sheet, said) if sheet else None, comments, spoken)


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


def results_of(
    crit: Crit,
    scheme: Scheme,
    form_of: Callable[[Comment], Any] | None = None,
    *,
    is_sent: bool = False,
) -> Results:
    """Everything that is released to a scheme's students, and nothing that is held.

    is_sent   what was sent before the release and no more: no sheet is read for it
    """
    prefetch_related_objects([crit], "criteria")
    of_scheme = JurySheet.objects.of(crit.pk, scheme.pk).read().telling_which_count()
    of_scheme = of_scheme.select_related("seat").with_levels()
    read = [] if is_sent else [*of_scheme.prefetch_related("levels__corrections__by")]
    heard = list(open_spoken(crit, scheme, is_sent=is_sent))
    comments = access.open_comments(crit, scheme, read).select_related(
        "jury_sheet__seat",
        "criterion",
        "answer__answered_by",
        "issued_sheet__file",
        "issued_sheet__revision",
        "revision",
    )
    spoke = [(note.seat, note.sent_at) for note in heard if note.seat]
    said_by = [(comment.jury_sheet.seat, comment.sent_at) for comment in comments]
    known = {seat.pk for seat, sent_at in said_by + spoke if sent_at}
    seats = [seat for seat, _ in said_by + spoke]
    names = names_of(crit, [*(sheet.seat for sheet in read), *seats], known)
    counting = [sheet for sheet in read if sheet.counts]
    sheets = sorted(counting, key=lambda sheet: list(names).index(sheet.seat_id))
    seen = in_order(
        [given.revision for sheet in sheets for given in sheet.levels.all()]
        + [comment.revision for comment in comments]
        + [note.revision for note in heard]
    )
    return Results(
        crit=crit,
        scheme=scheme,
        names=names,
        sheets=sheets,
        said=list(comments),
        revisions=seen or in_order([revision_shown(crit, scheme)]),
        heard=heard,
        form_of=form_of,
        is_sent=is_sent,
    )


def _sheet_place(sheet: IssuedSheet | None) -> tuple[str, int]:
    return (sheet.number, sheet.revision_id) if sheet else (_LAST, 0)


def _by_place(comment: Comment) -> tuple[Any, ...]:
    on = _sheet_place(comment.issued_sheet)
    return (*on, comment.zone or _LAST, comment.begun_at, comment.pk)


def _criterion_read(
    criterion: Criterion, sheets: list[JurySheet], names: dict[int, str]
) -> CriterionRead:
    return CriterionRead(
        criterion, [_level_read(criterion, sheet, names[sheet.seat_id]) for sheet in sheets]
    )


def _level_read(criterion: Criterion, sheet: JurySheet, juror: str) -> LevelRead:
    given = next((g for g in sheet.levels.all() if g.criterion_id == criterion.pk), None)
    level = level_of(given)
    figure = level if isinstance(level, int) else None
    word = LEVELS[figure - 1] if figure else ("Not mine to judge" if level else "No level")
    descriptor = getattr(criterion, f"level_{figure}") if figure else ""
    corrections = list(given.corrections.all()) if given else ()
    set_on = given.revision.letter if given and given.revision else ""
    is_given = level is not None
    return LevelRead(juror, figure, word, descriptor, set_on, corrections, is_given)

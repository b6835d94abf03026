"""What a scheme's students read after release: leader's words, comments by place, levels."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

from django.utils.safestring import SafeString

from criteria.drawing.lettering import initials_of
from criteria.drawing.level_section import Given, Station, draw_level_section
from reviews.drawn.svg import as_svg
from reviews.models import Answer, Comment, Crit, IssuedSheet, OpposedPair, Scheme
from reviews.models.crits import LEVELS
from reviews.pages.spoken_read import SpokenRead, spoken_read
from reviews.pages.traced_sheets import Said, TracedSheet, traced
from reviews.reading.comment_rulings import REWORDED, Alike, words_out
from reviews.reading.crit_answers import closing_of
from reviews.reading.crit_results import (
    ResultsRead,
    answer_to,
    levels_of,
    read_results,
    sheet_place,
)
from reviews.worked_out import fingerprint


@dataclass(frozen=True)
class RulingRead:
    """That another comment opposes this one, and what the leader ruled."""

    other: int
    pair: OpposedPair


@dataclass(frozen=True)
class AlikeRead:
    """That others say the same: how many jurors, and the numbers of the other comments."""

    alike: Alike
    others: list[int]


@dataclass
class CommentRead:
    """A comment as a student reads it; of one held since the release, its place and answer."""

    comment: Comment
    number: int
    juror: str
    form: Any = None
    ruled: Sequence[RulingRead] = ()
    alike: AlikeRead | None = None

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
    def marked(self) -> str:
        """That its words are others than its juror wrote, where they are."""
        return REWORDED if self.is_reworded else ""

    @property
    def is_reworded(self) -> bool:
        """Whether its words are others than its juror wrote, with that juror's consent."""
        return not self.held_at and words_out(self.comment).is_reworded

    @property
    def answer(self) -> Answer | None:
        """The one answer, where there is one."""
        return answer_to(self.comment)

    @property
    def is_closed(self) -> bool:
        """Whether the leader, or a re-crit, closed it."""
        return bool(closing_of(self.comment)[0])

    @property
    def times_changed(self) -> int:
        """How often its answer was changed; what it said before is kept."""
        return self.answer.version - 1 if self.answer else 0


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
class Results(ResultsRead):
    """One scheme's results of one crit, made ready only where a process hasn't kept them.

    form_of     makes the form in which whoever reads may answer a comment; None where they may not
    """

    form_of: Callable[[Comment], Any] | None = None

    @cached_property
    def fingerprint(self) -> str:
        """Of everything that was read; what several lead to is told once."""
        corrections = [each for rows in self.corrections.values() for each in rows]
        answers = [answer for comment in self.said if (answer := answer_to(comment))]
        by = [answer.answered_by for answer in answers] + [each.by for each in corrections]
        criteria = dict.fromkeys(comment.criterion for comment in self.said)
        on = dict.fromkeys(sheet for comment in self.said if (sheet := comment.issued_sheet))
        pictured = [(sheet, sheet.file, sheet.revision) for sheet in on]
        return fingerprint(
            (self.crit, self.crit.released_by, self.scheme, self.names, self.revisions),
            ([*self.crit.criteria.all()], self.sheets, levels_of(self.sheets), corrections),
            (self.said, [*criteria], answers, [*dict.fromkeys(by)], pictured),
            [(words_out(comment), closing_of(comment)) for comment in self.said],
            (self.heard, [note.issued_sheet for note in self.heard]),
            self.decided,
            self.rulings,
            self.form_of is not None,
            self.is_sent,
        )

    @cached_property
    def groups(self) -> list[Group]:
        """The comments by sheet and zone, those on the scheme as a whole last."""
        read: dict[IssuedSheet | None, list[CommentRead]] = {}
        for number, comment in enumerate(self.in_place, start=1):
            on = read.setdefault(comment.issued_sheet, [])
            on.append(self._read(comment, number))
        said: dict[IssuedSheet | None, list[SpokenRead]] = {}
        for note in spoken_read(self.heard, self.names):
            said.setdefault(note.note.issued_sheet, []).append(note)
        sheets = sorted({**read, **said}, key=sheet_place)
        return [_group(sheet, read.get(sheet, []), said.get(sheet, [])) for sheet in sheets]

    def _read(self, comment: Comment, number: int) -> CommentRead:
        is_open = not (comment.held_at or closing_of(comment)[0])
        form = self.form_of(comment) if self.form_of and is_open else None
        juror = self.names[comment.jury_sheet.seat_id]
        return CommentRead(comment, number, juror, form, self._ruled(comment), self._alike(comment))

    @cached_property
    def _numbers(self) -> dict[int, int]:
        return {comment.pk: n for n, comment in enumerate(self.in_place, start=1)}

    def _ruled(self, comment: Comment) -> list[RulingRead]:
        pairs = self.rulings.pairs_of(comment.pk)
        return [RulingRead(self._numbers[pair.other(comment.pk)], pair) for pair in pairs]

    def _alike(self, comment: Comment) -> AlikeRead | None:
        alike = self.rulings.group_of(comment.pk)
        if alike is None:
            return None
        others = (pk for pk in alike.seats if pk != comment.pk)
        return AlikeRead(alike, sorted(self._numbers[pk] for pk in others))

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
        return as_svg(draw_level_section(stations, LEVELS), "level-section")

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
        return sum(not (read.answer or read.held_at or read.is_closed) for read in self.comments)


def _group(
    sheet: IssuedSheet | None, comments: list[CommentRead], spoken: list[SpokenRead]
) -> Group:
    said = [read.said for read in comments] + [read.said for read in spoken]
    return Group(traced(sheet, said) if sheet else None, comments, spoken)


def results_of(
    crit: Crit,
    scheme: Scheme,
    form_of: Callable[[Comment], Any] | None = None,
    *,
    is_sent: bool = False,
    hears: bool = True,
) -> Results:
    """Everything that is released to a scheme's students, and nothing that is held.

    is_sent   what was sent before the release and no more: no sheet is read for it
    hears     with what was said aloud
    """
    read = read_results(crit, scheme, is_sent=is_sent, hears=hears)
    return Results(**vars(read), form_of=form_of)

"""What students answered to released comments, how each comment stands, and what conflicts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from functools import cache, cached_property
from typing import Any

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet

from reviews.models import (
    AlikeGroup,
    Answer,
    Closing,
    Comment,
    Conversation,
    Crit,
    FormerAnswer,
    OpposedPair,
    Person,
    Scheme,
)
from reviews.reading.comment_rulings import as_they_go_out


class Stage(StrEnum):
    """How far a comment has come after its release."""

    NONE = "not answered"
    OPEN = "open"
    WAITS = "to close"
    CLOSED = "closed"


SETTLED = (Answer.Kind.TAKEN_UP, Answer.Kind.NOT_TAKEN)
"""Answers after which a comment waits for its leader; the others leave it open."""

TAKES_UP = (Answer.Kind.TAKEN_UP, Answer.Kind.PART)


def stage_of(answer: Answer | None, *, is_closed: bool) -> Stage:
    """How far a comment has come, by its answer and its closing."""
    if is_closed:
        return Stage.CLOSED
    if answer is None:
        return Stage.NONE
    return Stage.WAITS if answer.kind in SETTLED else Stage.OPEN


def released_answers(crits: Iterable[Crit]) -> QuerySet[Comment]:
    """The released comments of some crits that aren't held since, each with answer and closings.

    A fixed number of queries, however many there are.
    """
    closings = Closing.objects.told().select_related("by", "crit")
    comments = Comment.objects.released().not_held().filter(jury_sheet__seat__crit__in=crits)
    return comments.select_related(
        "jury_sheet__seat__crit",
        "jury_sheet__scheme",
        "issued_sheet",
        "revision",
        "criterion",
        "answer__answered_by",
    ).prefetch_related(Prefetch("closings", closings))


def standing_closing(comment: Comment) -> Closing | None:
    """The last closing of a comment, read from those at hand."""
    return next(reversed(comment.closings.all()), None)


_CLOSING = ("is_closed", "closing_words", "closing_by", "closing_at")


def telling_which_are_ruled(comments: QuerySet[Comment]) -> QuerySet[Comment]:
    """The same, each with whether it stands in a pair or a group: they are then worth asking for"""
    here = OuterRef("pk")
    pairs = OpposedPair.objects.standing().filter(Q(first=here) | Q(second=here))
    groups = AlikeGroup.objects.standing().filter(comments=here)
    return comments.annotate(is_ruled_on=Exists(pairs) | Exists(groups))


def read_closings(comments: Iterable[Comment]) -> None:
    """Hang on each comment what its last closing says."""
    by_key = {comment.pk: comment for comment in comments}
    for key, *said in _closings().filter(comment__in=by_key):
        by_key[key].__dict__.update(zip(_CLOSING, said, strict=True))


@cache
def _closings() -> QuerySet[Closing, tuple[Any, ...]]:
    told = Closing.objects.told().order_by("pk")
    return told.values_list("comment_id", "is_closed", "words", "by__name", "at")


def closing_of(comment: Comment) -> tuple[Any, ...]:
    """Whether it is closed, with which words, by whom and when, as `read_closings` hung it there"""
    return tuple(getattr(comment, name, None) for name in _CLOSING)


def former_answers(comments: Iterable[Comment]) -> dict[int, list[FormerAnswer]]:
    """What each answer said before it was changed, by the comment's key, the first one first."""
    found: dict[int, list[FormerAnswer]] = {}
    rows = FormerAnswer.objects.filter(answer__comment__in=[each.pk for each in comments])
    for row in rows.select_related("answered_by", "answer"):
        found.setdefault(row.answer.comment_id, []).append(row)
    return found


@dataclass(frozen=True)
class Answered:
    """A released comment with what was answered and how it stands."""

    comment: Comment

    @property
    def scheme(self) -> Scheme:
        return self.comment.jury_sheet.scheme

    @property
    def crit(self) -> Crit:
        return self.comment.jury_sheet.seat.crit

    @property
    def answer(self) -> Answer | None:
        """The one answer, where there is one."""
        return getattr(self.comment, "answer", None)

    @property
    def answer_words(self) -> str:
        """Its kind of answer, or that there is none."""
        return self.answer.kind if self.answer else "Not answered"

    @cached_property
    def closing(self) -> Closing | None:
        """The last closing, or opening again."""
        return standing_closing(self.comment)

    @property
    def is_closed(self) -> bool:
        return bool(self.closing and self.closing.is_closed)

    @property
    def stage(self) -> Stage:
        return stage_of(self.answer, is_closed=self.is_closed)

    @property
    def is_hazard(self) -> bool:
        return self.comment.kind == Comment.Kind.HAZARD

    @property
    def is_open_hazard(self) -> bool:
        """Whether it is a hazard that isn't closed."""
        return self.is_hazard and self.stage is not Stage.CLOSED

    @property
    def is_quickly_closed(self) -> bool:
        """Whether it can be closed without a word: taken up, and where it shows now is said."""
        answer = self.answer
        is_placed = answer is not None and answer.kind == Answer.Kind.TAKEN_UP and answer.place_now
        return self.stage is Stage.WAITS and bool(is_placed)

    @property
    def version(self) -> int:
        """Of its answer; 0 where there is none."""
        return self.answer.version if self.answer else 0


@dataclass(frozen=True)
class Conflict:
    """Two comments that oppose each other, with the ruling and what is wrong with their answers."""

    pair: OpposedPair
    sides: tuple[Answered, Answered]
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Asked:
    """That somebody asked to talk, and hasn't been talked with since."""

    scheme: Scheme
    crit: Crit
    by: Person
    at: datetime
    words: str


@dataclass(frozen=True)
class AnswerList:
    """The released comments of one crit, or of several, scheme by scheme, hazards first.

    pairs    two comments that oppose each other
    asked    wishes to talk that nobody has met yet
    """

    rows: tuple[Answered, ...]
    pairs: tuple[OpposedPair, ...]
    asked: tuple[Asked, ...]
    today: date

    def count(self, stage: Stage) -> int:
        """How many comments stand so."""
        return sum(row.stage is stage for row in self.rows)

    @property
    def hazards(self) -> list[Answered]:
        """Hazards that aren't closed."""
        return [row for row in self.rows if row.is_open_hazard]

    @property
    def quickly(self) -> list[Answered]:
        """Those that can be closed in one press."""
        return [row for row in self.rows if row.is_quickly_closed]

    @property
    def unanswered(self) -> list[tuple[Scheme, int]]:
        """Schemes whose students haven't answered, with how many comments."""
        left: dict[Scheme, int] = {}
        for row in self.rows:
            if row.stage is Stage.NONE:
                left[row.scheme] = left.get(row.scheme, 0) + 1
        return list(left.items())

    @cached_property
    def conflicts(self) -> list[Conflict]:
        """Pairs that oppose each other and aren't both closed, with what doesn't fit."""
        rows = {row.comment.pk: row for row in self.rows}
        found = []
        for pair in self.pairs:
            if pair.first_id not in rows or pair.second_id not in rows:
                continue
            sides = rows[pair.first_id], rows[pair.second_id]
            if any(side.stage is not Stage.CLOSED for side in sides):
                found.append(Conflict(pair, sides, tuple(_trouble(pair, sides, self.today))))
        return found


def _trouble(pair: OpposedPair, sides: Sequence[Answered], today: date) -> Iterable[str]:
    """What doesn't fit; whether words fit a ruling is read by people."""
    answers = [side.answer for side in sides]
    if not pair.is_ruled:
        yield "no ruling was given"
    if all(answer and answer.kind in TAKES_UP for answer in answers):
        yield "both are taken up, though they oppose each other"
    if all(answer and answer.kind == Answer.Kind.NOT_TAKEN for answer in answers):
        yield "neither is taken up"
    missing = sum(answer is None for answer in answers)
    if missing and pair.argue_by and today > pair.argue_by:
        late = (today - pair.argue_by).days
        yield f"to be argued by {pair.argue_by:%-d %b %Y}, {late} day{'s' * (late != 1)} ago"


def answer_list(crits: Sequence[Crit], today: date) -> AnswerList:
    """Read the answers of some crits, in a fixed number of queries."""
    comments = [Answered(comment) for comment in as_they_go_out(released_answers(crits))]
    pairs = OpposedPair.objects.standing().filter(crit__in=crits).select_related("by")
    return AnswerList(
        rows=tuple(sorted(comments, key=_order)),
        pairs=tuple(pairs),
        asked=tuple(asked_to_talk(crits, comments)),
        today=today,
    )


def _order(row: Answered) -> tuple[object, ...]:
    comment = row.comment
    place = (not comment.place, comment.place)
    return (row.scheme.number, not row.is_hazard, *place, comment.begun_at, comment.pk)


def talks_of(crit: Crit, scheme: Scheme) -> QuerySet[Conversation]:
    """Wishes to talk about a scheme's results, and what was written of talks, the first first."""
    return Conversation.objects.filter(crit=crit, scheme=scheme).select_related("by")


def asked_to_talk(crits: Sequence[Crit], rows: Iterable[Answered] = ()) -> list[Asked]:
    """Who asked to talk, by a wish of its own or by an answer, and wasn't talked with since."""
    kept = Conversation.objects.filter(crit__in=crits).select_related("scheme", "crit", "by")
    held: dict[tuple[int, int], datetime] = {}
    asked = []
    for each in kept:
        if each.held_on:
            held[each.crit_id, each.scheme_id] = each.at
        else:
            asked.append(Asked(each.scheme, each.crit, each.by, each.at, each.words))
    for row in rows:
        answer = row.answer
        if answer and answer.kind == Answer.Kind.TALK and row.stage is not Stage.CLOSED:
            by, at = answer.answered_by, answer.answered_at
            asked.append(Asked(row.scheme, row.crit, by, at, answer.words))
    return sorted(
        (
            each
            for each in asked
            if (each.crit.pk, each.scheme.pk) not in held
            or held[each.crit.pk, each.scheme.pk] < each.at
        ),
        key=lambda each: each.at,
    )

"""What was said of one scheme, as its leader decides on it: hazards first, then by place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from criteria.tone import Found, tone_of
from reviews.models import Comment, OpposedPair, Rewording, SpokenNote
from reviews.pages.spoken_read import UNCONFIRMED, UNKNOWN_SPEAKER, SpokenRead
from reviews.pages.traced_sheets import Said, TracedSheet, traced_sheets
from reviews.reading.comment_rulings import Alike, Rulings, WordsOut, words_out
from reviews.reading.comment_suggesting import alike_maybe, opposed_maybe
from reviews.reading.crit_moderation_table import Cell, SchemeRow

Kind = Comment.Kind


class Spoken(SpokenRead):
    """One spoken note as its leader reads it, whatever became of it."""

    @property
    def became(self) -> str:
        """What became of it."""
        note = self.note
        if note.comment:
            return f"confirmed, as {note.comment}"
        if note.removed_at:
            return f"taken off by {'its juror' if note.removed_by_seat else 'a scribe'}"
        return "missed" if note.is_gap else UNCONFIRMED

    @property
    def is_open(self) -> bool:
        """Whether students would read it as it stands."""
        return not (self.note.comment or self.note.removed_at)

    @property
    def asks(self) -> bool:
        """Whether it is a hazard that nobody has decided."""
        return self.is_open and asks_to_be_read(self.note)


def asks_to_be_read(said: Comment | SpokenNote) -> bool:
    """Whether it is a hazard in words that its leader hasn't read, as it stands, and let go."""
    if said.kind != Kind.HAZARD or said.held_at or not said.words.strip():
        return False
    return said.decided_at is None or said.decided_at < said.kept_at


@dataclass(frozen=True)
class Moderated:
    """One comment as its leader reads it.

    said     its number on the page, its juror, and where its words stand
    offers   other words offered for it that hold, the first offered first
    """

    said: Said
    cell: Cell
    comment: Comment
    offers: tuple[Rewording, ...] = ()

    @property
    def number(self) -> str:
        return self.said.number

    @property
    def id(self) -> str:
        return self.said.id

    @property
    def tone(self) -> tuple[Found, ...]:
        """What of its words is about the person."""
        return tone_of(self.comment.words)

    @property
    def out(self) -> WordsOut:
        """The words that go out."""
        return words_out(self.comment)

    @property
    def asks(self) -> bool:
        """Whether it is a hazard that nobody has decided."""
        return asks_to_be_read(self.comment)

    @property
    def offer(self) -> Rewording | None:
        """The last of the offers."""
        return self.offers[-1] if self.offers else None

    @property
    def waits(self) -> bool:
        """Whether an offer waits for the juror."""
        return self.offer is not None and not self.offer.reply

    @property
    def can_be_reworded(self) -> bool:
        """Whether other words can be offered: held, and read by no student."""
        comment, crit = self.comment, self.cell.seat.crit
        if not comment.held_at or comment.sent_at or not comment.words.strip():
            return False
        return not crit.released_at or comment.held_at < crit.released_at


@dataclass(frozen=True)
class Paired:
    """A pair with both its comments; one that isn't read any more is None."""

    pair: OpposedPair
    both: tuple[Moderated | None, Moderated | None]


@dataclass(frozen=True)
class Grouped:
    """A group with its comments, as far as they are read."""

    alike: Alike
    comments: list[Moderated]


class SchemeComments:
    """One scheme's comments, each with the number of its flag, and the sheets under them.

    heard     what was said of it aloud
    offered   other words offered for its comments
    """

    def __init__(
        self,
        row: SchemeRow | None,
        heard: Iterable[SpokenNote] = (),
        rulings: Rulings | None = None,
        offered: Iterable[Rewording] = (),
    ) -> None:
        offers: dict[int, list[Rewording]] = {}
        for each in offered:
            offers.setdefault(each.comment_id, []).append(each)
        found = [
            (cell, comment)
            for cell in (row.seen if row else ())
            for comment in cell.comments
            if isinstance(comment, Comment)
        ]
        found.sort(key=lambda each: _order(each[1]))
        self.comments = [
            Moderated(
                Said(comment, str(n), cell.seat.name, f"comment-{comment.pk}"),
                cell,
                comment,
                tuple(offers.get(comment.pk, ())),
            )
            for n, (cell, comment) in enumerate(found, start=1)
        ]
        is_closed = row is None or row.is_closed
        notes = sorted(() if is_closed else heard, key=lambda note: note.kind != Kind.HAZARD)
        self.spoken = [
            Spoken(note, f"S{n}", note.seat.name if note.seat else UNKNOWN_SPEAKER)
            for n, note in enumerate(notes, start=1)
        ]
        self._rulings = Rulings() if is_closed or rulings is None else rulings
        self._by_key = {each.comment.pk: each for each in self.comments}

    @property
    def said(self) -> list[Said]:
        """Comments, and the spoken notes that no comment stands for."""
        said = [each.said for each in self.comments]
        return said + [each.said for each in self.spoken if each.is_open]

    @cached_property
    def sheets(self) -> list[TracedSheet]:
        """The sheets that something was said of."""
        return traced_sheets(self.said)

    @property
    def worded(self) -> list[Moderated]:
        """Those that say something, hazards first."""
        return [each for each in self.comments if not _is_bare(each.comment)]

    @property
    def bare(self) -> list[Moderated]:
        """Stubs: begun, without a word or a stroke."""
        return [each for each in self.comments if _is_bare(each.comment)]

    @property
    def pairs(self) -> list[Paired]:
        """Opposed pairs, those without a ruling first."""
        found = self._by_key
        pairs = sorted(self._rulings.pairs, key=lambda pair: pair.is_ruled)
        return [Paired(p, (found.get(p.first_id), found.get(p.second_id))) for p in pairs]

    @property
    def groups(self) -> list[Grouped]:
        """Groups of those that say the same."""
        return [
            Grouped(each, [self._by_key[pk] for pk in each.seats if pk in self._by_key])
            for each in self._rulings.groups
        ]

    @cached_property
    def opposed_maybe(self) -> list[list[Moderated]]:
        """Pairs that could be opposed, as a suggestion."""
        return self._found(opposed_maybe(self._alone, self._rulings))

    @cached_property
    def alike_maybe(self) -> list[list[Moderated]]:
        """Groups that could say the same, as a suggestion."""
        return self._found(alike_maybe(self._alone, self._rulings))

    @property
    def _alone(self) -> list[Comment]:
        return [each.comment for each in self.worded if not each.comment.held_at]

    def _found(self, sets: Iterable[Iterable[Comment]]) -> list[list[Moderated]]:
        return [[self._by_key[comment.pk] for comment in each] for each in sets]


def _is_bare(comment: Comment) -> bool:
    return comment.is_stub and not comment.strokes


def _order(comment: Comment) -> tuple[object, ...]:
    is_hazard = comment.kind == Kind.HAZARD
    return (not is_hazard, not comment.place, comment.place, comment.begun_at, comment.pk)

"""What a leader made of comments: which oppose each other, which say the same, whose words go out.

Which words of a comment go out is said here alone. Whoever shows comments to anybody but their
juror and the leader reads them by `as_they_go_out`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from django.db.models import Case, F, OuterRef, QuerySet, Subquery, TextField, Value, When

from reviews.models import AlikeGroup, Comment, Crit, OpposedPair, Rewording, Scheme

REWORDED = "Reworded with its juror's consent"
"""How a comment is marked whose words are others than its juror wrote."""

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


class WordsOut(NamedTuple):
    """The words of a comment that go out, and whether they are others, with its juror's consent."""

    words: str
    is_reworded: bool


def with_words_out(comments: QuerySet[Comment]) -> QuerySet[Comment]:
    """The same comments, each with what its juror last answered to other words; no query more."""
    answered = Rewording.objects.answered().filter(comment=OuterRef("pk")).order_by("-pk")
    agreed = Case(
        When(reply=Rewording.Reply.TAKEN, then=F("words")),
        When(reply=Rewording.Reply.OWN, then=F("own_words")),
        default=Value(""),
        output_field=TextField(),
    )
    last = answered.annotate(agreed=agreed).values("agreed")[:1]
    return comments.annotate(reworded=Subquery(last))


def put_words_out(comments: Sequence[Comment]) -> None:
    """Put the words that go out in place of their own: to be shown, never saved.

    comments   as they were read `with_words_out`
    """
    for comment in comments:
        comment.words = words_out(comment).words


def words_out(comment: Comment) -> WordsOut:
    """What of a comment goes out; KeyError where it wasn't read `with_words_out`."""
    agreed = comment.__dict__["reworded"]
    return WordsOut(agreed, True) if agreed else WordsOut(comment.words, False)


def take_out_words(comment: Comment) -> None:
    """Leave nothing to go out of a comment that is held since it was read."""
    comment.words, comment.__dict__["reworded"] = "", None


def as_they_go_out(comments: QuerySet[Comment]) -> list[Comment]:
    """Comments with the words that go out in place of their own: to be shown, never saved."""
    read = list(with_words_out(comments))
    put_words_out(read)
    return read


@dataclass(frozen=True)
class Alike:
    """Comments that say the same, each in its own wording.

    seats   of each comment, by its key, the seat of its juror
    """

    group: AlikeGroup
    seats: dict[int, int]

    @property
    def jurors(self) -> int:
        """How many jurors said it."""
        return len(set(self.seats.values()))

    @property
    def words(self) -> str:
        """The same in words: three jurors."""
        n = self.jurors
        return f"{NUMBERS[n] if n < len(NUMBERS) else n} juror{'s' * (n != 1)}"

    def among(self, read: Collection[int]) -> Alike:
        """The same, as far as its comments are among those that somebody reads."""
        return Alike(self.group, {pk: seat for pk, seat in self.seats.items() if pk in read})


@dataclass(frozen=True)
class Rulings:
    """The pairs and groups that stand of a scheme, or of a whole crit."""

    pairs: tuple[OpposedPair, ...] = ()
    groups: tuple[Alike, ...] = ()

    def for_students(self, read: Collection[int]) -> Rulings:
        """What students learn beside the comments that they read, by key.

        A pair whose ruling is still to come isn't told, nor one of which a comment is held; a
        group is what is left of it, while that is more than one comment.
        """
        pairs = (pair for pair in self.pairs if {pair.first_id, pair.second_id} <= {*read})
        groups = (each.among(read) for each in self.groups)
        return Rulings(
            tuple(pair for pair in pairs if pair.is_ruled),
            tuple(each for each in groups if len(each.seats) > 1),
        )

    def pairs_of(self, comment_id: int) -> list[OpposedPair]:
        """The pairs that a comment stands in."""
        return [each for each in self.pairs if comment_id in (each.first_id, each.second_id)]

    def group_of(self, comment_id: int) -> Alike | None:
        """The group that a comment stands in."""
        return next((each for each in self.groups if comment_id in each.seats), None)


def rulings_of(crit: Crit, scheme: Scheme | None = None) -> Rulings:
    """Read what stands of a crit, or of one scheme of it, in two queries."""
    of = {"crit": crit} | ({"scheme": scheme} if scheme else {})
    pairs = OpposedPair.objects.standing().filter(**of).select_related("by")
    seats: dict[AlikeGroup, dict[int, int]] = defaultdict(dict)
    groups = AlikeGroup.objects.standing().filter(**of)
    members = AlikeGroup.comments.through.objects.filter(alikegroup__in=groups)
    for each in members.select_related("alikegroup__by", "comment__jury_sheet").order_by("pk"):
        seats[each.alikegroup][each.comment_id] = each.comment.jury_sheet.seat_id
    return Rulings(tuple(pairs), tuple(Alike(group, own) for group, own in seats.items()))


def rewordings_of(crit: Crit, scheme: Scheme | None = None) -> list[Rewording]:
    """Other words offered for a crit's comments that hold, the first offered first; one query."""
    offered = Rewording.objects.holding().filter(comment__jury_sheet__seat__crit=crit)
    if scheme:
        offered = offered.filter(comment__jury_sheet__scheme=scheme)
    return list(offered.select_related("comment__jury_sheet", "offered_by"))

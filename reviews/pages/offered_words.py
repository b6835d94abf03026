"""What a juror reads of words that are offered for comments of theirs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reviews.models import Comment, Rewording

Reply = Rewording.Reply


@dataclass(frozen=True)
class Offered:
    """One offer: what it is of, and whether it can be answered."""

    offer: Rewording

    @property
    def comment(self) -> Comment:
        return self.offer.comment

    @property
    def is_open(self) -> bool:
        """Whether it waits for an answer, over the words that stand."""
        return not self.offer.reply and not self.is_past

    @property
    def is_past(self) -> bool:
        """Whether the comment was worded anew since."""
        return self.offer.was != self.comment.words

    @property
    def became(self) -> str:
        """What became of it, in words."""
        if self.offer.reply == Reply.TAKEN:
            return "You took these words."
        if self.offer.reply == Reply.OWN:
            return "You sent words of your own; the studio leader reads them first."
        if self.offer.reply == Reply.REFUSED:
            return "You left the comment as it is."
        return "You have worded the comment anew since, so this offer holds no more."


def offered_words(offers: Iterable[Rewording]) -> list[Offered]:
    """What is offered to a juror, what waits first, then the last answered first."""
    lines = [Offered(offer) for offer in offers]
    return sorted(lines, key=lambda line: (not line.is_open, -line.offer.pk))

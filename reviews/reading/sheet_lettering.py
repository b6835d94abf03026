"""What stands on a page in letters: its words by place, as a page of a PDF gives them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any, NamedTuple

FEWEST_WORDS, MANY_PATHS = 20, 200
"""With fewer words than these and more paths than those, letters are drawn as lines."""

MARK = re.compile(r"([A-Z]{1,2})[-.]?(\d{1,3})([a-z]?)")
"""How a mark is written: W1, R-02, T10a."""


class Word(NamedTuple):
    """A word of a page, its box in parts of the page as seen, from the upper left [1]."""

    text: str
    x: float
    y: float
    width: float
    height: float

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of its box [1].

        >>> Word("W1", 0.25, 0.5, 0.5, 0.25).middle
        (0.5, 0.625)
        """
        return self.x + self.width / 2, self.y + self.height / 2

    def holds(self, x: float, y: float) -> bool:
        """Whether a point of the page lies in its box.

        >>> word = Word("W1", 0.25, 0.5, 0.5, 0.25)
        >>> word.holds(0.25, 0.75), word.holds(0.2, 0.6), word.holds(0.5, 0.8)
        (True, False, False)
        """
        return self.x <= x <= self.x + self.width and self.y <= y <= self.y + self.height


@dataclass(frozen=True)
class PageText:
    """The lettering of one page.

    words      each with its place
    paths      how many lines and shapes it draws
    label      what the file calls the page; empty of most
    width_mm   of the page as seen; None where it isn't known
    others     how many words it has beside these
    """

    words: tuple[Word, ...] = ()
    paths: int = 0
    label: str = ""
    width_mm: float | None = None
    others: int = 0

    @property
    def is_outlined(self) -> bool:
        """Whether its letters are drawn as lines, so that nothing of it can be read.

        >>> PageText(paths=9000).is_outlined, PageText().is_outlined
        (True, False)
        """
        return len(self.words) + self.others < FEWEST_WORDS and self.paths > MANY_PATHS

    def kept(self) -> PageText:
        """As much of it as a sheet keeps: the words that are written as marks are.

        >>> words = tuple(Word(text, 0.0, 0.0, 0.1, 0.1) for text in ("W1", "oak", "2400", "R-02"))
        >>> [word.text for word in PageText(words).kept().words], PageText(words).kept().others
        (['W1', 'R-02'], 2)
        """
        # a letter drawn twice, once as its halo, is read twice at one place
        once = dict.fromkeys(self.words)
        like = tuple(word for word in once if MARK.fullmatch(word.text))
        return replace(self, words=like, others=self.others + len(once) - len(like))

    def as_record(self) -> dict[str, Any]:
        """The same as JSON, as `Sheet.lettering` keeps it."""
        return {**asdict(self), "words": [[*word] for word in self.words]}

    @classmethod
    def of_record(cls, record: Mapping[str, Any]) -> PageText:
        """Read what `as_record` wrote; nothing, for a sheet that has no lettering.

        >>> text = PageText((Word("W1", 0.1, 0.2, 0.02, 0.01),), 12, "02", 420.0)
        >>> PageText.of_record(text.as_record()) == text
        True
        """
        if not record:
            return cls()
        words = tuple(Word(*word) for word in record.get("words", ()))
        return cls(**{**record, "words": words})

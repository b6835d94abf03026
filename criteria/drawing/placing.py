"""Words that touch no others: fixed places are tried in a fixed order, so that nothing jumps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Box, Gap, Lettering, Point, meet
from criteria.drawing.pens import Tone

EDGE_MM = 0.4
"""Kept between words, and from the paper's edge [mm]."""


@dataclass(frozen=True, kw_only=True)
class Look:
    """How words look: height of capitals [mm], tone, weight; and what isn't given, if they say."""

    cap_mm: float = LEAST_MM
    tone: Tone = Tone.INK
    is_strong: bool = False
    gap: Gap | None = None


class Placing:
    """The paper of a drawing, with the words that stand on it."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self._paper = (EDGE_MM, EDGE_MM, width_mm - EDGE_MM, height_mm - EDGE_MM)
        self._taken: list[Box] = []
        self.letters: list[Lettering] = []

    def keep_free(self, box: Box) -> None:
        """Let no words stand somewhere."""
        self._taken.append(box)

    def letter(
        self,
        words: str,
        places: Iterable[Point],
        look: Look | None = None,
        avoids: Iterable[Box] = (),
    ) -> bool:
        """Letter words about the first middle at which they fit; tell whether there was one.

        avoids   where words stand only if they find no place elsewhere
        """
        tried = [_about(words, middle, look or Look()) for middle in places]
        for avoided in (list(avoids), []):
            for lettering in tried:
                if self._is_free(lettering.box, avoided):
                    self.letters.append(lettering)
                    self._taken.append(lettering.box)
                    return True
        return False

    def _is_free(self, box: Box, avoided: list[Box]) -> bool:
        left, top, right, bottom = self._paper
        within = left <= box[0] and top <= box[1] and box[2] <= right and box[3] <= bottom
        wide = (box[0] - EDGE_MM, box[1] - EDGE_MM, box[2] + EDGE_MM, box[3] + EDGE_MM)
        return within and not any(meet(wide, taken) for taken in (*self._taken, *avoided))


def _about(words: str, middle: Point, look: Look) -> Lettering:
    return Lettering(
        words=words,
        at=(middle[0], middle[1] + look.cap_mm / 2),
        anchor="middle",
        cap_mm=look.cap_mm,
        tone=look.tone,
        is_strong=look.is_strong,
        gap=look.gap,
    )


def about(middle: Point, words: str, cap_mm: float, away_mm: float) -> Iterator[Point]:
    """Give places for words: right, left, over and under a point, then at the corners, then on."""
    x, y = middle
    for step in (1.0, 1.6, 2.4, 3.4):
        across = (width_mm(words, cap_mm) / 2 + away_mm) * step
        up = (cap_mm / 2 + away_mm) * step
        yield from ((x + across, y), (x - across, y), (x, y - up), (x, y + up))
        yield from ((x + across, y - up), (x + across, y + up))
        yield from ((x - across, y - up), (x - across, y + up))

"""What a print holds: each word's box on its sheet, by poppler's `pdftotext -bbox`, in mm."""

import html
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

MM = 25.4 / 72
MARGIN = (6, 6, 9, 6)
"""Top, right, bottom, left, as `print.css` has them."""
TO_FRAME = 5
ZONE = re.compile(r"[A-D]|[1-6]")
_PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', re.DOTALL)
_WORD = re.compile(
    r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>'
)


@dataclass(frozen=True)
class Word:
    """A word and its box, from the left and upper edge of its sheet."""

    text: str
    left: float
    top: float
    right: float
    foot: float

    @property
    def height(self) -> float:
        return self.foot - self.top

    @property
    def is_small(self) -> bool:
        # turned words are not measured: they are higher than they can be wide, or a wide letter
        is_level = 0.4 < (self.right - self.left) / self.height < 1.2 * len(self.text)
        return is_level and self.height < 8 * MM * 1.15

    def is_of(self, other: "Word") -> bool:
        """Whether it is the same lettering as another, or one a part of the other in its place."""
        part, whole = sorted((self, other), key=lambda word: len(word.text))
        across, down = (part.left + part.right) / 2, (part.top + part.foot) / 2
        near = min(whole.right - whole.left, whole.height) / 2  # a turned halo is off by as much
        is_across = whole.left - near <= across <= whole.right + near
        is_there = is_across and whole.top - near <= down <= whole.foot + near
        return self.text == other.text or (is_there and part.text in whole.text)

    def overlap(self, other: "Word") -> tuple[float, float]:
        """How far two boxes lie over each other, across and up."""
        across = min(self.right, other.right) - max(self.left, other.left)
        return across, min(self.foot, other.foot) - max(self.top, other.top)


@dataclass(frozen=True)
class Sheet:
    """One sheet of a print."""

    width: float
    height: float
    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)

    def outside(self) -> list[str]:
        """Words that are not within the frame, but for the zones' and the page number."""
        top, right, bottom, left = (each + TO_FRAME for each in MARGIN)
        return [
            f"{word.text} at {word.left:.0f}, {word.top:.0f}"
            for word in self.words
            if word.left < left - 0.2
            or word.right > self.width - right + 0.2
            or word.top < top - 0.6
            or word.foot > self.height - bottom + 0.6
            if not ZONE.fullmatch(word.text) and word.top < self.height - MARGIN[2] - 0.5
        ]

    def too_small(self) -> list[str]:
        """Words of less than 8 pt: a box is as high as its face's lines, 1.2 em at the least."""
        return [f"{word.text} of {word.height:.1f} mm" for word in self.words if word.is_small]

    def overprinted(self) -> list[str]:
        """Pairs of words over each other by 45 % of the lower one's height, and 1 pt across.

        A letter with a halo of paper is drawn twice, and may be parted otherwise then.
        """
        by_left = sorted(self.words, key=lambda word: word.left)
        found = []
        for at, word in enumerate(by_left):
            for other in by_left[at + 1 :]:
                if other.left > word.right:
                    break
                across, up = word.overlap(other)
                if (
                    across > MM
                    and not word.is_of(other)
                    and up > 0.45 * min(word.height, other.height)
                ):
                    found.append(f"{word.text} over {other.text}")
        return found


def sheets_of(pdf: Path) -> list[Sheet]:
    """Read a print."""
    read = subprocess.run(
        ["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, text=True, check=True
    ).stdout
    return [
        Sheet(
            float(width) * MM,
            float(height) * MM,
            tuple(
                Word(html.unescape(text), *(float(at) * MM for at in box))
                for *box, text in _WORD.findall(words)
            ),
        )
        for width, height, words in _PAGE.findall(read)
    ]


def without_head(sheets: list[Sheet], heads: list[str], last: str) -> list[int]:
    """Numbers of the sheets after the first with these heads, up to the last row, that lack one."""
    begin = next(n for n, sheet in enumerate(sheets) if heads[0] in sheet.text)
    end = max(n for n, sheet in enumerate(sheets) if last in sheet.text)
    return [
        n + 1 for n in range(begin, end + 1) if any(head not in sheets[n].text for head in heads)
    ]

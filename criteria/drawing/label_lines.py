"""Marks under things in a row: each in the first line that has room for it."""

from __future__ import annotations

from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Lettering
from criteria.drawing.pens import Tone

LINE_MM, EDGE_MM = 3.9, 0.8


class LabelLines:
    """Lines of marks, from left to right, between two ends of the paper [mm]."""

    def __init__(self, left: float, right: float, lines: int = 3) -> None:
        self.left, self.right = left, right
        self._ends = [left - EDGE_MM] * lines
        self._begun = list(self._ends)

    @property
    def height_mm(self) -> float:
        """How much of the paper the lines take that hold a mark."""
        lines = sum(end > begun for end, begun in zip(self._ends, self._begun, strict=True))
        return lines * LINE_MM

    def label(
        self, words: str, middle: float, top: float, tone: Tone = Tone.INK
    ) -> Lettering | None:
        """Letter a mark about a middle; None where no line has room."""
        half = width_mm(words, LEAST_MM) / 2
        x = min(max(middle, self.left + half), self.right - half)
        for line, end in enumerate(self._ends):
            if x - half >= end + EDGE_MM - 1e-9:
                self._ends[line] = x + half
                at = (x, top + 1.0 + LEAST_MM + line * LINE_MM)
                return Lettering(words=words, at=at, anchor="middle", tone=tone)
        return None

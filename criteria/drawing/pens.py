"""Pens and tones: how wide a line is, how it is broken, and what its colour says.

Widths keep 4:2:1 as ISO 128-2 has it for construction, from memory: 0.70, 0.35 and 0.18 mm.
"""

from enum import Enum, StrEnum


class Pen(Enum):
    """A line: its width on paper and its dashes, both in mm."""

    CUT = (0.70, ())
    SEEN = (0.35, ())
    FINE = (0.18, ())
    HATCH = (0.13, ())
    BEFORE = (0.36, (1.4, 0.9))
    ASSUMED = (0.19, (2.0, 1.1))
    DATUM = (0.18, (4.0, 1.0, 0.6, 1.0))

    @property
    def width_mm(self) -> float:
        """How wide it draws."""
        return float(self.value[0])

    @property
    def dashes_mm(self) -> tuple[float, ...]:
        """Drawn and left out in turn; none is a full line."""
        return tuple(self.value[1])


class Tone(StrEnum):
    """What a line or a word says by its colour, never by that alone.

    On a floor by day, which is light whatever the lamp, lines and hatching have tones of their own.
    """

    INK = "ink"
    GRAPHITE = "graphite"
    SHORT = "short"
    MEETS = "meets"
    NEAR = "near"
    CLAIM = "claim"
    ON_LIT = "on-lit"
    SHADE = "shade"


class Fill(StrEnum):
    """What a shape is filled with."""

    NONE = "none"
    PAPER = "paper"
    CUT = "cut"
    GLASS = "glass"
    TRACE = "trace"
    LIT = "lit"
    INK = "ink"

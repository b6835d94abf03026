"""A drawing: what it is, what it shows, the figures lettered on it, and what it wasn't given."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.drawing.marks import Flat, Gap, Lettering, Mark, Path, flat
from criteria.findings import Amount
from criteria.units import System

MIDDLE_MM, HALF_MM, NARROW_MM = 175.0, 125.0, 87.0
"""Widths that drawings are laid out for [mm]: a sheet upright within its border, one of two beside
each other on a sheet across, a telephone. Each is laid out anew; none is another made smaller."""


@dataclass(frozen=True, kw_only=True)
class Field:
    """What a drawing may use: how wide it is on paper, and whose units it letters.

    tallest_mm   how tall a plan may be, where a sheet says so
    ratio        no plan is drawn larger than 1 to so much
    """

    width_mm: float = MIDDLE_MM
    system: System = System.METRIC
    tallest_mm: float | None = None
    ratio: int = 50

    @property
    def is_narrow(self) -> bool:
        """Whether it is drawn for a telephone: less is said on it, in letters as large."""
        return self.width_mm < 120


@dataclass(frozen=True, kw_only=True)
class Figure:
    """A figure of a drawing, as its table repeats it.

    what       what it is of
    amount     as the finding has it
    lettered   as it stands on the drawing; empty where it stands in its table alone
    """

    what: str
    amount: Amount
    lettered: str = ""


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """A drawing on paper.

    title     what it is, in a few words
    says      the answer first, then what is short, then what isn't given: for who can't see it
    scale     its name: 1:50, 1/4" = 1'-0"; empty where it has no length
    left_out  what isn't given and so isn't drawn
    key       words that found no place on it, a line each
    """

    title: str
    says: str
    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    figures: tuple[Figure, ...] = ()
    scale: str = ""
    left_out: tuple[Gap, ...] = ()
    key: tuple[str, ...] = ()

    @property
    def flat(self) -> tuple[Flat, ...]:
        """All marks, those that lead to rows among them one by one."""
        return tuple(flat(self.marks))

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """All that isn't given: what is drawn as assumed, and what is left out."""
        assumed = [mark.gap for mark in self.flat if isinstance(mark, Path) and mark.gap]
        return tuple(dict.fromkeys([*assumed, *self.left_out]))

    @property
    def letters(self) -> tuple[Lettering, ...]:
        """All words on it."""
        return tuple(mark for mark in self.flat if isinstance(mark, Lettering))

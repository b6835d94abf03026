"""Scales of drawings in either system, and lengths as they are lettered on them.

Ladders: ISO 5455 (from memory), and architects' scales of inches to the foot, common practice.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from criteria.findings import Amount
from criteria.units import System, rounded


@dataclass(frozen=True)
class DrawnScale:
    """A scale: how many times smaller than what it shows, and its name."""

    ratio: int
    name: str

    def mm(self, m: float) -> float:
        """How long so many metres are on paper [mm]."""
        return m * 1000 / self.ratio


METRIC = tuple(DrawnScale(n, f"1:{n}") for n in (5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000))
US = tuple(
    DrawnScale(ratio, f'{inches}" = 1\'-0"')
    for ratio, inches in (
        (4, "3"),
        (8, "1 1/2"),
        (12, "1"),
        (24, "1/2"),
        (48, "1/4"),
        (96, "1/8"),
        (128, "3/32"),
        (192, "1/16"),
        (384, "1/32"),
    )
) + tuple(DrawnScale(12 * feet, f'1" = {feet}\'-0"') for feet in (60, 200, 500))

PER_MM: tuple[int, ...] = (
    1,
    2,
    *(n * 10**e for e in range(6) for n in (3, 4, 5, 6, 8, 10, 15, 20, 25)),
)
"""How much of what has no length a step of paper may stand for: litres, watts."""
STEP: dict[System, tuple[str, float]] = {
    System.METRIC: ("1 mm", 1.0),
    System.US: ('1/16"', 25.4 / 16),
}
"""A step of paper, as it is called and how long it is [mm]."""


def per_mm(fits: Callable[[float], bool], system: System, over: int = 1) -> float:
    """Return the least of what 1 mm may stand for that fits: a round figure a step of paper.

    over   into how many parts the figures are parted, where they are small

    >>> per_mm(lambda per: 870 / per <= 171, System.METRIC)
    6.0
    >>> round(per_mm(lambda per: 870 / per <= 171, System.US) * 25.4 / 16, 9)
    10.0
    """
    step = STEP[system][1]
    found = (n / over / step for n in PER_MM)
    return next(per for per in found if fits(per))


def stands_for(per_mm: float, symbol: str, system: System, way: str = "") -> str:
    """Say what a step of paper stands for, along a way where there are several.

    >>> from criteria.units import System
    >>> stands_for(20, "L", System.METRIC), stands_for(0.16 / 25.4, "gal", System.US, "wide")
    ('1 mm = 20 L', '1/16" wide = 0.01 gal')
    """
    name, step = STEP[system]
    figure = round(per_mm * step, 9)
    written = rounded(figure, 0, system) if figure == int(figure) else f"{figure:g}"
    return f"{name}{f' {way}' if way else ''} = {written} {symbol}"


def largest(
    size_m: tuple[float, float], field_mm: tuple[float, float], system: System, *, ratio: int = 50
) -> DrawnScale:
    """Return the largest scale at which something fits a field, none larger than 1 to a ratio.

    size_m, field_mm   width and height
    Where none fits, the smallest: it is for whoever draws to break what is longer.

    >>> largest((8.0, 5.0), (160, 120), System.METRIC).name
    '1:50'
    >>> largest((8.0, 5.0), (160, 120), System.US, ratio=48).name
    '1/8" = 1\\'-0"'
    """
    ladder = US if system is System.US else METRIC
    for scale in ladder:
        fits = all(scale.mm(m) <= mm + 1e-9 for m, mm in zip(size_m, field_mm, strict=True))
        if fits and scale.ratio >= ratio * 0.95:
            return scale
    return ladder[-1]


def lettered(amount: Amount, system: System, more: int = 0) -> str:
    """Write a figure as drawings have it: as everywhere, but bare where it is in millimetres.

    more   how much finer than usual

    >>> from criteria.units import ANGLE, LENGTH
    >>> lettered(Amount(0.372, LENGTH), System.METRIC), lettered(Amount(62, ANGLE), System.US)
    ('372', '62°')
    """
    return amount.scale.write(amount.si, system, more).removesuffix(" mm")

"""A comparison as its page shows it: the answer, then differences ranked on one scale."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from django.utils.safestring import SafeString

from criteria.drawing.intervals import Interval, draw_interval, draw_scale, reach
from criteria.scoring.estimates import Estimate
from reviews.drawn.svg import as_svg
from reviews.reading.cohort_comparing import Beside, Side, of_most

NEAREST = 4
"""Of what isn't told apart, the lines that stand open."""


@dataclass(frozen=True)
class DrawnLine:
    """One difference: what it is of, and its line on the scale."""

    side: Side
    drawn: SafeString


@dataclass(frozen=True)
class Group:
    """Criteria, or checks.

    reasons     what must be known before believing most of them
    apart       told apart, the widest first; then nearest and further of what isn't
    uncompared  what has no difference, each with its reason
    scale       the one that all lines share; once more under the further ones
    """

    title: str
    plot: str
    reasons: list[str]
    apart: list[DrawnLine]
    nearest: list[DrawnLine]
    further: list[DrawnLine]
    uncompared: list[Side]
    scale: SafeString
    scale_again: SafeString

    @property
    def lines(self) -> list[Side]:
        """All of them, as their table has them."""
        drawn = [*self.apart, *self.nearest, *self.further]
        return [*(line.side for line in drawn), *self.uncompared]


class ComparePage:
    """Two cohorts; made ready only where its part isn't kept."""

    def __init__(self, beside: Beside) -> None:
        self.beside = beside
        self.fingerprint = beside.fingerprint

    @property
    def answer(self) -> str:
        """How many checks and criteria tell the cohorts apart.

        Levels of different juries are described and prove nothing, however far apart they lie.
        """
        checks, criteria = self.beside.checks, self.beside.criteria
        found = [sum(side.compared.is_apart for side in sides) for sides in (checks, criteria)]
        said = [
            f"of {len(checks)} check{'s' * (len(checks) != 1)}, {found[0] or 'none'} "
            f"tell{'s' * (found[0] < 2)} the cohorts apart"
            if checks
            else "no check is in both",
            f"of {len(criteria)} {'criteria' if len(criteria) != 1 else 'criterion'}, "
            f"{found[1] or 'none'}"
            if criteria
            else "no criterion is in both",
        ]
        if any(each.compared.descriptive and each.compared.is_apart for each in criteria):
            said[1] += ", described only"
        words = "; ".join(said)
        return f"{words[:1].upper()}{words[1:]}."

    @cached_property
    def groups(self) -> list[Group]:
        """Checks, then criteria; levels stand apart from what is measured."""
        return [
            self._group("Checks", "ratios", self.beside.checks),
            self._group("Criteria", "levels", self.beside.criteria),
        ]

    @cached_property
    def _reach(self) -> int:
        sides = [*self.beside.checks, *self.beside.criteria]
        return reach(each for each in map(_interval, sides) if each)

    def _group(self, title: str, plot: str, sides: list[Side]) -> Group:
        lines = [(side, found) for side in sides if (found := _interval(side))]
        ranked = sorted(lines, key=lambda line: -abs(line[1].value))
        drawn = [
            (found.is_apart, DrawnLine(side, self._drawn(found, side, f"{plot}-{n}")))
            for n, (side, found) in enumerate(ranked)
        ]
        scale = draw_scale(self._reach, "Difference of means in pooled standard deviations")
        rest = [line for is_apart, line in drawn if not is_apart]
        return Group(
            title=title,
            plot=plot,
            reasons=of_most(sides),
            apart=[line for is_apart, line in drawn if is_apart],
            nearest=rest[:NEAREST],
            further=rest[NEAREST:],
            uncompared=[side for side in sides if not _interval(side)],
            scale=as_svg(scale, f"{plot}-scale"),
            scale_again=as_svg(scale, f"{plot}-scale-again"),
        )

    def _drawn(self, found: Interval, side: Side, key: str) -> SafeString:
        return as_svg(draw_interval(found, self._reach, side.name, f"g {side.g}"), key)


def _interval(side: Side) -> Interval | None:
    g = side.compared.g
    if not isinstance(g, Estimate) or g.low is None or g.high is None:
        return None
    return Interval(value=g.value, low=g.low, high=g.high, is_apart=side.compared.is_apart)

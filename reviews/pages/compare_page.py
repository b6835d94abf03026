"""A comparison as its page shows it: the answer, then differences ranked on one scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from django.utils.safestring import SafeString

from criteria.drawing.intervals import (
    Interval,
    draw_interval,
    draw_intervals,
    draw_scale,
    reach,
)
from criteria.scoring.cohorts import Comparison
from criteria.scoring.estimates import Estimate
from reviews.drawn.svg import as_svg
from reviews.pages.compare_tables import (
    CountTable,
    alike_table,
    missed_table,
    said_tables,
    spread_table,
)
from reviews.reading.cohort_comparing import Beside, Figures, Side, of_most, set_beside
from reviews.reading.cohort_counting import said_alike
from reviews.reading.cohort_records import Record
from reviews.worked_out import Told, fingerprint

NEAREST, NEAREST_OF_SEVERAL = 4, 1
"""Of what isn't told apart, the lines that stand open; one of nine cohorts is as tall as nine."""

BY_CHANCE = 20
"""One interval of so many leaves 0 out where nothing differs: they hold 95 in 100 [no.]."""


@dataclass(frozen=True)
class DrawnLine:
    """One difference: what it is of, its line on the scale, and its figures in words."""

    side: Side
    drawn: SafeString
    figure: str


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
    """Cohorts beside one; made ready only where its part isn't kept."""

    def __init__(self, records: Sequence[Told[Record]]) -> None:
        self._records = records
        self._beside = set_beside(records)
        alike = said_alike([record.holds for record in records])
        self.fingerprint = fingerprint(self._beside, alike)

    @property
    def beside(self) -> Beside:
        """What is compared."""
        return self._beside.holds

    @property
    def several(self) -> bool:
        """Whether more than one cohort stands beside this one."""
        return len(self.beside.others) > 1

    @property
    def answer(self) -> str:
        """How many checks and criteria tell the cohorts apart.

        Levels of different juries are described and prove nothing, however far apart they lie.
        """
        checks, criteria = self.beside.checks, self.beside.criteria
        found = [sum(side.is_apart for side in sides) for sides in (checks, criteria)]
        whom = "this cohort from another" if self.several else "the cohorts apart"
        said = [
            f"of {len(checks)} check{'s' * (len(checks) != 1)}, {found[0] or 'none'} "
            f"tell{'s' * (found[0] < 2)} {whom}"
            if checks
            else "no check is in both",
            f"of {len(criteria)} {'criteria' if len(criteria) != 1 else 'criterion'}, "
            f"{found[1] or 'none'}"
            if criteria
            else "no criterion is in both",
        ]
        if any(each.descriptive and each.is_apart for side in criteria for each in side.compared):
            said[1] += ", described only"
        words = "; ".join(said)
        return f"{words[:1].upper()}{words[1:]}."

    @property
    def by_chance(self) -> str:
        """How many intervals leave 0 out beside how many would by chance; blank for few of them."""
        tested, apart = self.beside.tested, self.beside.apart
        if tested < BY_CHANCE / 2:
            return ""
        n = (2 * tested + BY_CHANCE) // (2 * BY_CHANCE)
        said = "no more than" if apart <= n else "where"
        return (
            f"{apart} of {tested} differences have an interval that leaves 0 out, {said} about {n} "
            "would by chance alone: each holds 95 in 100."
        )

    @cached_property
    def groups(self) -> list[Group]:
        """Checks, then criteria; levels stand apart from what is measured."""
        return [
            self._group("Checks", "ratios", self.beside.checks),
            self._group("Criteria", "levels", self.beside.criteria),
        ]

    @cached_property
    def counted(self) -> list[CountTable]:
        """What was missed, what jurors were apart on, and what was said again and again."""
        beside = self.beside
        tables = [missed_table(beside), spread_table(beside, self._records)]
        return [*tables, *said_tables(beside), alike_table(beside)]

    @cached_property
    def _reach(self) -> int:
        sides = [*self.beside.checks, *self.beside.criteria]
        return reach(i for side in sides for each in side.compared if (i := _interval(each)))

    def _group(self, title: str, plot: str, sides: list[Side]) -> Group:
        lines = [side for side in sides if any(map(_interval, side.compared))]
        ranked = sorted(lines, key=_rank)
        drawn = [
            DrawnLine(side, self._drawn(side, f"{plot}-{n}"), _figure(self.beside, side))
            for n, side in enumerate(ranked)
        ]
        scale = draw_scale(self._reach, "Difference of means in pooled standard deviations")
        rest = [line for line in drawn if not line.side.is_apart]
        near = NEAREST_OF_SEVERAL if self.several else NEAREST
        return Group(
            title=title,
            plot=plot,
            reasons=of_most(sides),
            apart=[line for line in drawn if line.side.is_apart],
            nearest=rest[:near],
            further=rest[near:],
            uncompared=[side for side in sides if side not in lines],
            scale=as_svg(scale, f"{plot}-scale"),
            scale_again=as_svg(scale, f"{plot}-scale-again"),
        )

    def _drawn(self, side: Side, key: str) -> SafeString:
        says = _figure(self.beside, side)
        if not self.several:
            found = next(i for each in side.compared if (i := _interval(each)))
            return as_svg(draw_interval(found, self._reach, side.name, f"g {says}"), key)
        by_letter = {
            other.letter: _interval_of(side.others.get(place))
            for place, other in enumerate(self.beside.others)
        }
        return as_svg(draw_intervals(by_letter, self._reach, side.name, says), key)


def _rank(side: Side) -> tuple[bool, float]:
    """Told apart first, then by the widest difference of those that are drawn."""
    found = [(each, i) for each in side.compared if (i := _interval(each))]
    counted = [i for each, i in found if each.is_apart] or [i for _, i in found]
    return not side.is_apart, -max(abs(i.value) for i in counted)


def _figure(beside: Beside, side: Side) -> str:
    """g with its interval of one other cohort; of several, which lie higher and lower."""
    if len(beside.others) == 1:
        return next(iter(side.others.values())).g
    apart = [
        (beside.others[place].letter, each.compared)
        for place, each in side.others.items()
        if each.compared and each.compared.is_apart
    ]
    said = [
        f"{way} than {', '.join(letters)}"
        for way, sign in (("higher", 1), ("lower", -1))
        if (letters := [letter for letter, each in apart if _sign(each) == sign])
    ]
    return "; ".join(said) or "not told apart"


def _sign(compared: Comparison) -> int:
    difference = compared.difference
    return 1 if isinstance(difference, Estimate) and difference.value > 0 else -1


def _interval_of(figures: Figures | None) -> Interval | None:
    return _interval(figures.compared) if figures and figures.compared else None


def _interval(compared: Comparison) -> Interval | None:
    g = compared.g
    if not isinstance(g, Estimate) or g.low is None or g.high is None:
        return None
    return Interval(value=g.value, low=g.low, high=g.high, is_apart=compared.is_apart)

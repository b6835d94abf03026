"""Set cohorts beside one: levels by criterion, checks against each year's own target."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from criteria.scoring.cells import Cells
from criteria.scoring.cohorts import Comparison, Juries, Summary, compare, summary
from criteria.scoring.components import SeverityComponents, severity_components
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from reviews.reading.cohort_records import Asked, Record, Target
from reviews.worked_out import Told, fingerprint, kept

SCALE = (1, 2, 3, 4, 5)
RATIO_PLACES, LEVEL_PLACES = 2, 2
LETTERS = "ABCDEFGHI"
MOST_OTHERS = len(LETTERS)

MOST_PAIRS = 1024
"""Criteria and checks of two cohorts that a process keeps compared: three pages of ten cohorts."""
MOST_SETS = 16
"""Sets of cohorts that a process keeps beside one."""


@dataclass(frozen=True)
class Cohort:
    """A cohort as a page calls it.

    letter   where several stand beside one; blank for that one, or where there are two in all
    """

    record: Record
    label: str
    letter: str = ""

    @property
    def key(self) -> str:
        """Letter and label."""
        return f"{self.letter} {self.label}".strip()

    @property
    def says(self) -> str:
        """Which crit of it is compared, and of how many schemes."""
        n = len(self.record.schemes)
        return f"{self.record.crit}, {n} scheme{'s' * (n != 1)}"


@dataclass(frozen=True)
class Shares:
    """How many of a cohort's levels on a criterion are 1, 2, 3, 4 and 5."""

    label: str
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Figures:
    """One cohort's plain numbers of a line, written out; of another also how far it is off.

    decided   of a check, the states and people cases in which it was decided
    """

    label: str
    summary: Summary | NotAvailable
    n: str
    median: str
    lower: str
    upper: str
    compared: Comparison | None = None
    shares: Shares | None = None
    decided: str = ""

    @property
    def g(self) -> str:
        """Hedges' g with its interval."""
        return _written(self.compared.g) if self.compared else ""

    @property
    def delta(self) -> str:
        """Cliff's δ with its interval."""
        return _written(self.compared.delta) if self.compared else ""

    @property
    def difference(self) -> str:
        """Difference of means with its interval."""
        return _written(self.compared.difference) if self.compared else ""


@dataclass(frozen=True)
class Side:
    """One criterion or check, ready to be drawn and read.

    this     the cohort beside which the others stand
    others   by the place of the other cohort, those that have it too
    """

    name: str
    this: Figures
    others: dict[int, Figures]

    @property
    def figures(self) -> list[Figures]:
        """Every cohort's, that beside which the others stand first."""
        return [self.this, *self.others.values()]

    @property
    def compared(self) -> list[Comparison]:
        """Each other cohort against it."""
        return [each.compared for each in self.others.values() if each.compared]

    @property
    def is_apart(self) -> bool:
        """Whether it tells this cohort from another."""
        return any(each.is_apart for each in self.compared)


def _written(estimate: Estimate | NotAvailable) -> str:
    if isinstance(estimate, NotAvailable):
        return f"– ({estimate.reason})"
    value = shown(estimate.value, 2, signed=True)
    if isinstance(estimate.interval, NotAvailable):
        return f"{value} (no interval: {estimate.interval.reason})"
    low, high = (shown(end, 2, signed=True) for end in estimate.interval)
    return f"{value} ({low} to {high})"


@dataclass(frozen=True)
class Beside:
    """Cohorts beside one.

    cohorts      that one first
    unpaired     criteria and checks that aren't the same in both of some pair, in words
    """

    cohorts: tuple[Cohort, ...]
    criteria: list[Side]
    checks: list[Side]
    unpaired: list[str]

    @property
    def this(self) -> Cohort:
        """That beside which the others stand."""
        return self.cohorts[0]

    @property
    def others(self) -> tuple[Cohort, ...]:
        """Those that stand beside it."""
        return self.cohorts[1:]

    @cached_property
    def warnings(self) -> list[str]:
        """What a reader must know before believing most of it, once each."""
        return list(dict.fromkeys([*of_most(self.criteria), *of_most(self.checks)]))

    def own_warnings(self, side: Side) -> list[str]:
        """What must be known of one criterion or check alone."""
        said = dict.fromkeys(w for each in side.compared for w in each.warnings)
        return [warning for warning in said if warning not in self.warnings]

    @property
    def tested(self) -> int:
        """How many differences have an interval that could leave 0 out."""
        return sum(each.is_tested for each in self._compared)

    @property
    def apart(self) -> int:
        """How many of these do."""
        return sum(each.is_apart for each in self._compared)

    @property
    def _compared(self) -> list[Comparison]:
        return [each for side in (*self.checks, *self.criteria) for each in side.compared]


def of_most(sides: list[Side]) -> list[str]:
    """What must be known of most of them, once each."""
    compared = [each for side in sides for each in side.compared]
    said = [warning for each in compared for warning in each.warnings]
    return [warning for warning in dict.fromkeys(said) if 2 * said.count(warning) > len(compared)]


def set_beside(records: Sequence[Told[Record]]) -> Told[Beside]:
    """Set cohorts beside the first of them; of a single one there is nothing to compare."""
    told = fingerprint([each.fingerprint for each in records])
    return Told(told, _set_beside(Told(told, list(records))))


@kept(MOST_SETS)
def _set_beside(told: Told[list[Told[Record]]]) -> Beside:
    cohorts = cohorts_called([each.holds for each in told.holds])
    this, others = cohorts[0], cohorts[1:]
    criteria, apart = _criteria(this, others)
    checks, unpaired = _checks(this, others)
    return Beside(cohorts, criteria, checks, [*apart, *unpaired])


def cohorts_called(records: Sequence[Record]) -> tuple[Cohort, ...]:
    """Records under the shortest labels that tell them apart."""
    titles = {record.title for record in records}
    is_plain = len(titles) == len(records)
    letters = LETTERS if len(records) > 2 else " " * len(LETTERS)
    return tuple(
        Cohort(record, record.title if is_plain else f"{record.title}, {record.cohort}", letter)
        for record, letter in zip(records, ("", *(each.strip() for each in letters)), strict=False)
    )


def _criteria(this: Cohort, others: Sequence[Cohort]) -> tuple[list[Side], list[str]]:
    """Criteria of the same code and words, and what isn't shared, named."""
    sides, unpaired = [], []
    for code, wording in this.record.criteria.items():
        pairs: dict[int, Figures] = {}
        for place, other in enumerate(others):
            theirs = other.record.criteria.get(code)
            if theirs is None:
                unpaired.append(f"{wording} ({this.label}, not {other.label})")
            elif not wording.is_same(theirs):
                unpaired.append(f"{wording} (other words: {other.label})")
            else:
                pairs[place] = _levels(
                    other, code, _level_compared(str(wording), code, this, other)
                )
        if pairs:
            sides.append(Side(str(wording), _levels(this, code), pairs))
    unpaired += [
        f"{wording} ({other.label}, not {this.label})"
        for other in others
        for code, wording in other.record.criteria.items()
        if code not in this.record.criteria
    ]
    return sides, unpaired


def _levels(cohort: Cohort, code: str, compared: Comparison | None = None) -> Figures:
    counts = tuple(cohort.record.levels(code).count(n) for n in SCALE)
    shares = Shares(cohort.key, counts)
    return _figures(cohort, cohort.record.means(code), LEVEL_PLACES, compared, shares=shares)


def _figures(
    cohort: Cohort,
    values: Sequence[float | None],
    places: int,
    compared: Comparison | None,
    *,
    shares: Shares | None = None,
    decided: str = "",
) -> Figures:
    group = summary(cohort.label, values)
    if isinstance(group, NotAvailable):
        return Figures(cohort.key, group, "0", "–", "–", "–", compared, shares, decided)
    numbers = (group.median, group.lower_quartile, group.upper_quartile)
    middle, lower, upper = (shown(number, places) for number in numbers)
    return Figures(cohort.key, group, str(group.n), middle, lower, upper, compared, shares, decided)


def _level_compared(name: str, code: str, this: Cohort, other: Cohort) -> Comparison:
    return _compared(
        name,
        this.record.means(code),
        other.record.means(code),
        unit="level",
        labels=(this.label, other.label),
        juries=_juries(code, this.record, other.record),
    )


_compared = kept(MOST_PAIRS)(compare)


@kept(MOST_PAIRS)
def _components(numbers: list[tuple[str, str, int]]) -> SeverityComponents | NotAvailable:
    levels = {(scheme, juror): float(level) for scheme, juror, level in numbers}
    return severity_components(Cells.of(levels))


def _juries(code: str, this: Record, that: Record) -> Juries | None:
    """Who judged in each year, and how far jurors differ on the same work of either."""
    if not this.jurors or not that.jurors:
        return None
    numbers = sorted(
        (str(scheme), juror, level)
        for record in (this, that)
        for (scheme, juror, c), level in record.given.items()
        if c == code
    )
    found = _components(numbers) if numbers else NotAvailable("no level")
    if not isinstance(found, SeverityComponents):
        return Juries(this.jurors, that.jurors)
    return Juries(this.jurors, that.jurors, found.juror, float(found.rank))


def paired(mine: Record, theirs: Record) -> list[tuple[Target, Target]]:
    """Pair targets that are the same; where a year has several, those of the same words."""
    own, other = _by_asked(mine), _by_asked(theirs)
    return [pair for asked, each in own.items() for pair in _pairs(each, other.get(asked, []))]


def _by_asked(record: Record) -> dict[Asked, list[Target]]:
    found: dict[Asked, list[Target]] = {}
    for target in record.targets:
        found.setdefault(target.asked, []).append(target)
    return found


def _pairs(mine: Sequence[Target], theirs: Sequence[Target]) -> list[tuple[Target, Target]]:
    if len(mine) == len(theirs) == 1:
        return [(mine[0], theirs[0])]
    own, others = ([each.words for each in year] for year in (mine, theirs))
    return [
        (one, other)
        for one in mine
        for other in theirs
        if one.words == other.words and own.count(one.words) == others.count(one.words) == 1
    ]


def _checks(this: Cohort, others: Sequence[Cohort]) -> tuple[list[Side], list[str]]:
    pairs = [dict(_numbered(this.record, other.record)) for other in others]
    sides = []
    for n, target in enumerate(this.record.targets):
        theirs = {place: found[n] for place, found in enumerate(pairs) if n in found}
        if any(_has_ratio(each) for each in (target, *theirs.values())) and theirs:
            sides.append(_check_side(this, others, target, theirs))
    return sides, _unpaired(this, others, pairs)


def _numbered(this: Record, other: Record) -> list[tuple[int, Target]]:
    """What another cohort's same target is, by the place of this one's."""
    places = {id(target): n for n, target in enumerate(this.targets)}
    return [(places[id(mine)], theirs) for mine, theirs in paired(this, other)]


def _unpaired(
    this: Cohort, others: Sequence[Cohort], pairs: Sequence[dict[int, Target]]
) -> list[str]:
    """Targets of this cohort that no other has, then those of each other that it hasn't."""
    met = {n for found in pairs for n in found}
    alone = [
        f"{target.title} ({this.label})"
        for n, target in enumerate(this.record.targets)
        if others and n not in met
    ]
    for other, found in zip(others, pairs, strict=True):
        known = {id(target) for target in found.values()}
        alone += [
            f"{target.title} ({other.label})"
            for target in other.record.targets
            if id(target) not in known
        ]
    return alone


def _check_side(
    this: Cohort, others: Sequence[Cohort], target: Target, theirs: dict[int, Target]
) -> Side:
    own = _ratios(this, target)
    found = {}
    for place, other_target in theirs.items():
        other = others[place]
        values, labels = _ratios(other, other_target), (this.label, other.label)
        compared = _compared(target.title, own, values, unit="ratio to own target", labels=labels)
        found[place] = _figures(
            other, values, RATIO_PLACES, compared, decided=_most_often(other, other_target)
        )
    titles = dict.fromkeys(each.title for each in theirs.values() if each.words != target.words)
    name = " · ".join([target.title, *titles])
    decided = _most_often(this, target)
    return Side(name, _figures(this, own, RATIO_PLACES, None, decided=decided), found)


def _ratios(cohort: Cohort, target: Target) -> list[float | None]:
    return [target.ratios.get(pk) for pk in cohort.record.schemes]


def _has_ratio(target: Target) -> bool:
    return any(value is not None for value in target.ratios.values())


def _most_often(cohort: Cohort, target: Target) -> str:
    ordered = sorted(target.situations.items(), key=lambda each: -each[1])
    said = "; ".join(f"{words} ({n})" for words, n in ordered)
    return f"{cohort.label}, decided in {said}" if said else ""

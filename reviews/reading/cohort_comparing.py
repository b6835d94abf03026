"""Set cohorts side by side: levels by criterion, checks against each year's own target."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from criteria.scoring.cells import Cells
from criteria.scoring.cohorts import Comparison, Juries, compare
from criteria.scoring.components import SeverityComponents, severity_components
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from reviews.models import (
    Crit,
    Criterion,
    JurySheet,
    LevelGiven,
    Revision,
    StoredFinding,
    Studio,
)
from reviews.models.revisions import with_issued_checks
from reviews.reading.crit_sheets import judged_revisions
from reviews.worked_out import fingerprint, kept

SCALE = (1, 2, 3, 4, 5)
RATIO_PLACES, LEVEL_PLACES = 2, 2

MOST_SIDES = 512
"""Criteria and checks of two cohorts that a process keeps compared: some twelve pages of them."""


@dataclass(frozen=True)
class Cohort:
    """A studio's last final crit: its criteria, and the levels of every sheet that counts.

    given   (scheme, juror, criterion code) → level
    """

    studio: Studio
    crit: Crit | None
    label: str
    schemes: tuple[int, ...]
    criteria: dict[str, Criterion]
    given: dict[tuple[int, str, str], int]

    @cached_property
    def jurors(self) -> frozenset[str]:
        """Everybody whose sheet counts."""
        return frozenset(juror for _, juror, _ in self.given)

    def levels(self, code: str) -> list[int]:
        """Every level given on a criterion."""
        return [level for (_, _, c), level in self.given.items() if c == code]

    def means(self, code: str) -> list[float | None]:
        """Each scheme's mean over its jurors, None where nobody judged it."""
        found: dict[int, list[int]] = defaultdict(list)
        for (scheme, _, c), level in self.given.items():
            if c == code:
                found[scheme].append(level)
        return [
            float(Fraction(sum(found[pk]), len(found[pk]))) if found[pk] else None
            for pk in self.schemes
        ]


@dataclass(frozen=True)
class Shares:
    """How many of a cohort's levels on a criterion are 1, 2, 3, 4 and 5."""

    label: str
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Figures:
    """One cohort's plain numbers, written out."""

    label: str
    n: str
    median: str
    lower: str
    upper: str


@dataclass(frozen=True)
class Side:
    """One criterion or check of both cohorts, ready to be drawn and read.

    shares   the distributions of levels; empty for a check
    decided  of a check, the states and people cases in which it was decided, a line a cohort
    """

    name: str
    compared: Comparison
    places: int
    shares: tuple[Shares, ...] = ()
    decided: tuple[str, ...] = ()

    @property
    def figures(self) -> list[Figures]:
        """Number of schemes, median and quartiles of each cohort."""
        rows = []
        for group in (self.compared.this, self.compared.other):
            if isinstance(group, NotAvailable):
                continue
            numbers = (group.median, group.lower_quartile, group.upper_quartile)
            rows.append(
                Figures(group.label, str(group.n), *(shown(n, self.places) for n in numbers))
            )
        return rows

    @property
    def g(self) -> str:
        """Hedges' g with its interval."""
        return _written(self.compared.g)

    @property
    def delta(self) -> str:
        """Cliff's δ with its interval."""
        return _written(self.compared.delta)

    @property
    def difference(self) -> str:
        """Difference of means with its interval."""
        return _written(self.compared.difference)


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
    """Two cohorts, side by side.

    unpaired   criteria and checks that only one of them has
    """

    this: Cohort
    other: Cohort
    criteria: list[Side]
    checks: list[Side]
    unpaired: list[str]

    @cached_property
    def fingerprint(self) -> str:
        """Of all that is shown."""
        return fingerprint(
            (self.this.label, self.other.label), self.criteria, self.checks, self.unpaired
        )

    @cached_property
    def warnings(self) -> list[str]:
        """What a reader must know before believing most of it, once each."""
        return list(dict.fromkeys([*of_most(self.criteria), *of_most(self.checks)]))

    def own_warnings(self, side: Side) -> list[str]:
        """What must be known of one criterion or check alone."""
        return [w for w in side.compared.warnings if w not in self.warnings]


def of_most(sides: list[Side]) -> list[str]:
    """What must be known of most of them, once each."""
    said = [warning for side in sides for warning in side.compared.warnings]
    return [warning for warning in dict.fromkeys(said) if 2 * said.count(warning) > len(sides)]


def set_beside(studio: Studio, other: Studio) -> Beside:
    """Compare a studio's last final crit with another's."""
    labels = _labels(studio, other)
    this, that = cohort_of(studio, labels[0]), cohort_of(other, labels[1])
    shared = [code for code in this.criteria if code in that.criteria]
    names = {
        *(str(c) for code, c in this.criteria.items() if code not in that.criteria),
        *(str(c) for code, c in that.criteria.items() if code not in this.criteria),
    }
    same_sheet = _wording(this) == _wording(that)
    checks, unpaired = _checks(this, that)
    return Beside(
        this=this,
        other=that,
        criteria=[_criterion_side(code, this, that, same_sheet) for code in shared],
        checks=checks,
        unpaired=[*sorted(names), *unpaired],
    )


def _labels(studio: Studio, other: Studio) -> tuple[str, str]:
    if studio.title != other.title:
        return studio.title, other.title
    return str(studio), str(other)


def cohort_of(studio: Studio, label: str) -> Cohort:
    """Read a studio's last final crit."""
    crit = studio.crits.filter(kind=Crit.Kind.FINAL).order_by("-day", "-pk").first()
    schemes = tuple(studio.schemes.standing().values_list("pk", flat=True))
    if crit is None:
        return Cohort(studio, None, label, schemes, {}, {})
    criteria = {criterion.code: criterion for criterion in crit.criteria.all()}
    sheets = JurySheet.objects.counting().filter(seat__crit=crit, scheme__in=schemes)
    given = LevelGiven.objects.filter(jury_sheet__in=sheets, level__isnull=False).values_list(
        "jury_sheet__scheme_id", "jury_sheet__seat__name", "criterion__code", "level"
    )
    levels = {(scheme, juror, code): level for scheme, juror, code, level in given if level}
    return Cohort(studio, crit, label, schemes, criteria, levels)


def _wording(cohort: Cohort) -> list[tuple[object, ...]]:
    return [
        (c.code, c.name, c.weight, *(words for _, _, words in c.descriptors))
        for c in cohort.criteria.values()
    ]


def _criterion_side(code: str, this: Cohort, that: Cohort, same_sheet: bool) -> Side:
    compared = _compared(
        str(this.criteria[code]),
        this.means(code),
        that.means(code),
        unit="level",
        labels=(this.label, that.label),
        juries=_juries(code, this, that),
        same_sheet=same_sheet,
    )
    shares = tuple(
        Shares(each.label, tuple(each.levels(code).count(n) for n in SCALE))
        for each in (this, that)
    )
    return Side(str(this.criteria[code]), compared, LEVEL_PLACES, shares)


_compared = kept(MOST_SIDES)(compare)


@kept(MOST_SIDES)
def _components(numbers: list[tuple[str, str, int]]) -> SeverityComponents | NotAvailable:
    levels = {(scheme, juror): float(level) for scheme, juror, level in numbers}
    return severity_components(Cells.of(levels))


def _juries(code: str, this: Cohort, that: Cohort) -> Juries | None:
    """Who judged in each year, and how far jurors differ on the same work of either."""
    if not this.jurors or not that.jurors:
        return None
    numbers = sorted(
        (str(scheme), juror, level)
        for cohort in (this, that)
        for (scheme, juror, c), level in cohort.given.items()
        if c == code
    )
    found = _components(numbers) if numbers else NotAvailable("no level")
    if not isinstance(found, SeverityComponents):
        return Juries(this.jurors, that.jurors)
    return Juries(this.jurors, that.jurors, found.juror, float(found.rank))


_Asked = tuple[str, str, str]
"""What a target is: its check's slug, the uses of rooms it is asked of, and its rule."""


@dataclass(frozen=True)
class _Ratios:
    """What became of one target in a cohort, scheme by scheme."""

    title: str
    by_scheme: dict[int, float | None]
    situations: Counter[str] = field(default_factory=Counter)


def _ratios(cohort: Cohort) -> dict[_Asked, list[_Ratios]]:
    """Return the targets of a cohort by what they are, in the brief's order."""
    if cohort.crit is None:
        return {}
    findings = (
        StoredFinding.objects.filter(revision__in=judged_revisions(cohort.crit))
        .exclude(ref="")
        .order_by("pk")
        .values_list("check_slug", "uses", "rule", "ref", "title", "revision__scheme_id", "ratio")
    )
    by_target: dict[tuple[_Asked, str], _Ratios] = {}
    decided = _decided(cohort.crit)
    for slug, uses, rule, ref, title, scheme, ratio in findings:
        ratios = by_target.setdefault(((slug, uses, rule), ref), _Ratios(title, {}))
        ratios.by_scheme[scheme] = ratio
        ratios.situations.update(decided.get((ref, scheme), ()))
    found: dict[_Asked, list[_Ratios]] = defaultdict(list)
    for (asked, _), each in by_target.items():
        found[asked].append(each)
    return found


def _decided(crit: Crit) -> dict[tuple[str, int], tuple[str]]:
    """In which state and case each target was decided, by scheme, where a brief names such.

    The worst decides: its ratio is the one that is compared.
    """
    tables = crit.studio.brief.leader_tables()
    if not (tables["states"] or tables["cases"]):
        return {}
    of_revisions = judged_revisions(crit).order_by("pk").values_list("pk", "fingerprint")
    return _situations(list(of_revisions))


@kept(MOST_SIDES)
def _situations(of_revisions: list[tuple[int, str]]) -> dict[tuple[str, int], tuple[str]]:
    """The same of issued revisions, told by their contents: what they hold never changes."""
    revisions = Revision.objects.filter(pk__in=[pk for pk, _ in of_revisions])
    return {
        (finding.ref, revision.scheme_id): (finding.situation,)
        for revision in with_issued_checks(revisions)
        for finding in revision.issued_checks.holds.asked
        if finding.situation
    }


def _most_often(cohort: Cohort, ratios: _Ratios) -> str:
    said = "; ".join(f"{words} ({n})" for words, n in ratios.situations.most_common())
    return f"{cohort.label}, decided in {said}" if said else ""


_Pair = tuple[_Ratios, _Ratios]


def _paired(mine: Sequence[_Ratios], theirs: Sequence[_Ratios]) -> list[_Pair]:
    """Pair targets that are the same; where a year has several, those of the same words."""
    if len(mine) == len(theirs) == 1:
        return [(mine[0], theirs[0])]
    return [
        (one, other)
        for one in mine
        for other in theirs
        if _words(one) == _words(other)
        and [*map(_words, mine)].count(_words(one)) == 1
        and [*map(_words, theirs)].count(_words(one)) == 1
    ]


def _words(ratios: _Ratios) -> str:
    return ratios.title.casefold()


def _checks(this: Cohort, that: Cohort) -> tuple[list[Side], list[str]]:
    mine, theirs = _ratios(this), _ratios(that)
    pairs = [pair for asked, own in mine.items() for pair in _paired(own, theirs.get(asked, []))]
    sides = [
        _check_side(pair, this, that)
        for pair in pairs
        if any(_has_ratio(each.by_scheme.values()) for each in pair)
    ]
    paired = {id(each) for pair in pairs for each in pair}
    unpaired = [
        f"{each.title} ({cohort.label})"
        for cohort, found in ((this, mine), (that, theirs))
        for several in found.values()
        for each in several
        if id(each) not in paired
    ]
    return sides, unpaired


def _check_side(pair: _Pair, this: Cohort, that: Cohort) -> Side:
    own, other = (_of_all(cohort, each) for cohort, each in zip((this, that), pair, strict=True))
    labels = (this.label, that.label)
    compared = _compared(pair[0].title, own, other, unit="ratio to own target", labels=labels)
    decided = (_most_often(this, pair[0]), _most_often(that, pair[1]))
    return Side(_title(*pair), compared, RATIO_PLACES, decided=tuple(filter(None, decided)))


def _of_all(cohort: Cohort, ratios: _Ratios) -> Sequence[float | None]:
    return [ratios.by_scheme.get(pk) for pk in cohort.schemes]


def _has_ratio(values: Iterable[float | None]) -> bool:
    return any(value is not None for value in values)


def _title(mine: _Ratios, theirs: _Ratios) -> str:
    if _words(mine) == _words(theirs):
        return mine.title
    return f"{mine.title} · {theirs.title}"

"""How often the rules about jurors speak: of like jurors falsely, of a guilty one rightly.

    python -m tests.benchmarks.adjust_rule [--crits 500]

Levels of three criteria by jurors who are alike but for severity: a scheme's level (deviation
0.7), its criteria (0.4), the juror's severity, and what is left over of a weighted level (0.4 or
0.5, half of its variance the sheet's, half the criteria's). Every rule ought to be silent. Then
one juror moves 0.2 level for each of the others', scatters twice as much or drifts 0.08 level a
place, and ought to be named. “Anybody” is whoever is named by any rule but the gap, which severity
that is drawn may justify; “differ” is the sentence that jurors do, “apart” a lean drawn as more
than chance, both false where no severity is drawn. “Bare” is how often the rule of thumb alone
would name somebody, without its test: that is why none speaks alone. Coverages are of intervals
said to hold 95 in 100. The first 60 crits of each cell are a test of the build:
tests/criteria/scoring/test_operating_characteristics.py.
"""

import argparse
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from criteria.scoring.adjusting import not_additive, presence
from criteria.scoring.cells import Cells
from criteria.scoring.cohorts import Juries, compare
from criteria.scoring.components import SeverityComponents, severity_components
from criteria.scoring.effects import FALSE_ALARMS, Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.panel import Panel
from criteria.scoring.profiles import (
    AGREEMENT,
    DRIFT,
    FLAT,
    GAP,
    JurorProfile,
    profiles,
    scatter_test,
)
from criteria.scoring.severity import Severity, analyse
from criteria.scoring.slopes import slopes

SCHEMES, CRITERIA = 0.7, 0.4
"""Deviation of the schemes' true levels, and of their criteria about them [level]."""
CLOSE = 0.3, 0.5
"""Deviations of schemes that differ less than the noise, or little more [level]."""

Numbers = NDArray[np.float64]

K = 3
FLAGS = {
    "gap": ("on the same schemes",),
    "agreement": ("orders the schemes otherwise",),
    "scatter": ("leftover",),
    "drift": ("drifts",),
    "halo": ("much the same",),
    "slope": ("level for each", "against the others"),
}
"""What accuses, by words of its flag. Where severity is drawn, a gap that is named is there."""

PLAIN: dict[str, Callable[[JurorProfile, int], bool]] = {
    "gap": lambda juror, places: _is(juror.gap, lambda gap: abs(gap) >= GAP),
    "agreement": lambda juror, places: _is(juror.agreement, lambda r: r < AGREEMENT),
    "halo": lambda juror, places: _is(juror.flatness, lambda flat: flat < FLAT),
    "drift": lambda juror, places: _is(juror.drift, lambda drift: abs(drift) * places >= DRIFT),
}
"""The rules of thumb bare, without the test that each must pass too before a juror is named."""


def _is(figure: float | Estimate | NotAvailable, holds: Callable[[float], bool]) -> bool:
    if isinstance(figure, NotAvailable):
        return False
    return holds(figure.value if isinstance(figure, Estimate) else figure)


def rotating(schemes: int, jurors: int) -> NDArray[np.bool_]:
    """Panels of three, developed round the circle of the jurors."""
    seen = np.zeros((schemes, jurors), dtype=bool)
    for i in range(schemes):
        seen[i, [(i + step) % jurors for step in (0, 1, 3)]] = True
    return seen


def two_rooms() -> NDArray[np.bool_]:
    """Fourteen schemes in two rooms of three jurors, an opening pair seen by all six."""
    seen = np.zeros((14, 6), dtype=bool)
    seen[:7, :3] = seen[7:, 3:] = seen[[0, 7]] = True
    return seen


DESIGNS = {
    "14 schemes, 7 jurors, 6 sheets each": rotating(14, 7),
    "28 schemes, 7 jurors, 12 sheets each": rotating(28, 7),
    "14 schemes, 6 jurors in two rooms, 8 sheets each": two_rooms(),
    "60 schemes, 8 jurors, 22 or 23 sheets each": rotating(60, 8),
}
SEVERITIES, RESIDUALS = (0.0, 0.4, 0.8), (0.4, 0.5)


@dataclass(frozen=True)
class Crit:
    """One simulated crit; the first juror, or the first criterion, may differ from the others."""

    seen: NDArray[np.bool_]
    severity: float
    residual: float
    slope: float = 1.0
    scatter: float = 1.0
    schemes: float = SCHEMES
    vague: float = 1.0
    drift: float = 0.0

    def draw(self, rng: np.random.Generator, criteria: int) -> tuple[Panel, Numbers, Numbers]:
        """The levels; the jurors' true severities; the schemes' true levels."""
        n, m = self.seen.shape
        severities = rng.normal(0, self.severity, m)
        half = self.residual / sqrt(2)
        noise = rng.normal(0, half, (n, m, 1)) + rng.normal(
            0, half * sqrt(criteria), (n, m, criteria)
        )
        noise[:, 0] *= self.scatter
        noise[:, :, 0] *= self.vague
        true = rng.normal(0, self.schemes, (n, 1, 1)) + np.zeros((n, m, 1))
        true[:, 0] *= self.slope
        mean = rng.normal(0, CRITERIA, (n, 1, criteria))
        mean -= mean.mean(axis=2, keepdims=True)
        noise[:, 0] += self.drift * np.cumsum(self.seen[:, :1], axis=0)
        levels = 3 + true + mean + severities[:, None] + noise
        sheets = [(i, j) for i, j in product(range(n), range(m)) if self.seen[i, j]]
        given = {
            (f"S{i:02}", f"J{j}", f"K{k}"): Fraction(round(1000 * levels[i, j, k]), 1000)
            for i, j in sheets
            for k in range(criteria)
        }
        places = {(f"S{i:02}", f"J{j}"): float(self.seen[: i + 1, j].sum()) for i, j in sheets}
        weights = {f"K{k}": Fraction(1) for k in range(criteria)}
        scale = Fraction(1), Fraction(5)
        return Panel("simulated", given, weights, places, scale), severities, true[:, -1, 0]


def said(panel: Panel, severity: Severity, whole: bool) -> set[str]:
    """Which rules named somebody or withheld adjusting; without profiles, drift and halo not."""
    found = {"withheld"} if any(not_additive(severity)) else set()
    if presence(severity).startswith("Jurors differ"):
        found.add("differ")
    if any(effect.is_apart for effect in severity.jurors):
        found.add("apart")
    if whole:
        named = profiles(panel, severity)
        flags = [flag for profile in named for flag in profile.flags]
        places = [sum(name == profile.juror for _, name in panel.positions) for profile in named]
        bare = {
            f"bare {name}"
            for name, speaks in PLAIN.items()
            if any(speaks(*each) for each in zip(named, places, strict=True))
        }
        loud = {name for name, words in FLAGS.items() if any(w in f for w in words for f in flags)}
        return found | bare | loud | ({"anybody"} if loud - {"gap"} else set())
    jurors = range(len(severity.cells.jurors))
    tests = [scatter_test(severity, j) for j in jurors]
    if any(isinstance(test, Tested) and test.p < FALSE_ALARMS / len(jurors) for test in tests):
        found.add("scatter")
    if any(stretch.words for stretch in slopes(severity.cells).values()):
        found.add("slope")
    return found


def held(severity: Severity, true: NDArray[np.float64]) -> Iterator[bool]:
    """Whether each juror's interval holds their severity against the panel."""
    order = [int(juror.removeprefix("J")) for juror in severity.cells.jurors]
    for effect, truth in zip(severity.jurors, true[order] - true.mean(), strict=True):
        assert isinstance(effect.effect, Estimate)
        yield effect.effect.holds(float(truth))


@dataclass(frozen=True)
class Found:
    """What came of a cell's crits: how many, how often each rule spoke, intervals that held."""

    crits: int
    times: Counter[str]
    coverage: float

    def share(self, rule: str) -> float:
        """In how many crits of 1 a rule spoke."""
        return self.times[rule] / self.crits


def run(crit: Crit, crits: int, seed: int, *, whole: bool = True) -> Found:
    """Draw and judge so many crits of one cell; without profiles in a fourth of the time."""
    rng = np.random.default_rng(seed)
    times: Counter[str] = Counter()
    intervals: list[bool] = []
    for _ in range(crits):
        panel, true, _ = crit.draw(rng, K if whole else 1)
        assert isinstance(panel.totals, Cells)
        severity = analyse(panel.totals)
        times.update(said(panel, severity, whole))
        intervals += held(severity, true)
    return Found(crits, times, float(np.mean(intervals)))


def cells() -> Iterator[tuple[int, str, Crit]]:
    """Every cell of jurors who are alike: its number, which is its seed, its name, the crit."""
    every = product(DESIGNS.items(), SEVERITIES, RESIDUALS)
    for number, ((name, seen), severity, residual) in enumerate(every, 1):
        yield number, f"{name}; σ_b {severity}, σ_e {residual}", Crit(seen, severity, residual)


def guilty() -> Iterator[tuple[str, str, Crit]]:
    """Crits with one juror who ought to be named: the rule, the name, the crit."""
    for (name, seen), residual in product(list(DESIGNS.items())[1:], RESIDUALS):
        yield "slope", f"slope 0.2; {name}; σ_e {residual}", Crit(seen, 0.4, residual, slope=0.2)
        yield (
            "scatter",
            f"scatter × 2; {name}; σ_e {residual}",
            Crit(seen, 0.4, residual, scatter=2),
        )
        yield "drift", f"drift 0.08; {name}; σ_e {residual}", Crit(seen, 0.4, residual, drift=0.08)


def close() -> Iterator[tuple[str, Crit, Crit]]:
    """Schemes that differ little: the name, a crit of like jurors, one with a slope of 0.2."""
    for schemes, (name, seen), residual in product(CLOSE, list(DESIGNS.items())[1:], RESIDUALS):
        alike = Crit(seen, 0.4, residual, schemes=schemes)
        yield f"{name}; σ_s {schemes}, σ_e {residual}", alike, replace(alike, slope=0.2)


def cohorts_held(jurors: int, severity: float, gap: float, crits: int) -> NDArray[np.float64]:
    """Coverage of difference, g and δ of two cohorts of 14 schemes with juries of their own."""
    rng = np.random.default_rng(4)
    residual = 0.4
    deviation = sqrt(SCHEMES**2 + residual**2 / jurors)
    truth = gap, gap / deviation, 2 * float(stats.norm.cdf(gap / deviation / sqrt(2))) - 1
    people = [frozenset(f"{year}{j}" for j in range(jurors)) for year in "ab"]
    times = np.zeros(3)
    for _ in range(crits):
        years = [
            rng.normal(higher, SCHEMES, (14, 1))
            + rng.normal(0, severity, jurors)
            + rng.normal(0, residual, (14, jurors))
            for higher in (gap, 0.0)
        ]
        numbers = {
            (f"{year}{i}", f"{year}{j}"): float(levels[i, j])
            for year, levels in zip("ab", years, strict=True)
            for i, j in np.ndindex(levels.shape)
        }
        found = severity_components(Cells.of(numbers))
        assert isinstance(found, SeverityComponents)
        juries = Juries(people[0], people[1], found.juror, float(found.rank))
        side = compare("F1", *(list(levels.mean(axis=1)) for levels in years), juries=juries)
        for place, effect in enumerate((side.difference, side.g, side.delta)):
            assert isinstance(effect, Estimate)
            times[place] += effect.holds(truth[place])
    return times / crits


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--crits", type=int, default=500, help="drawn for each cell")
    crits = parser.parse_args().crits
    rules = ("withheld", *FLAGS, "anybody", "differ", "apart", *(f"bare {name}" for name in PLAIN))
    print(f"Like jurors, {crits} crits a cell: share of crits, %; coverage of severity, %")
    print("  ".join((*rules, "coverage")))
    every: Counter[str] = Counter()
    drawn = 0
    for number, name, crit in cells():
        found = run(crit, crits, number)
        every.update(found.times)
        drawn += crits
        figures = [f"{100 * found.share(rule):{len(rule)}.1f}" for rule in rules]
        print("  ".join((*figures, f"{100 * found.coverage:8.1f}", name)), flush=True)
    print("  ".join(f"{100 * every[rule] / drawn:{len(rule)}.1f}" for rule in rules), " over all")
    print("One guilty juror: share of crits in which the rule speaks, %")
    for rule, name, crit in guilty():
        share = run(crit, crits, 1, whole=rule == "drift").share(rule)
        print(f"{100 * share:5.1f}  {name}", flush=True)
    print("Schemes that differ little: share of crits in which a slope is named, alike and 0.2, %")
    for name, alike, odd in close():
        shares = [100 * run(crit, crits, 1, whole=False).share("slope") for crit in (alike, odd)]
        print("  ".join(f"{share:5.1f}" for share in shares), name, flush=True)
    print("Cohorts under juries of their own: coverage of difference, g and δ, %")
    for jurors, severity, gap in product((3, 6), (0.2, 0.4, 0.8), (0.0, 0.5)):
        share = 100 * cohorts_held(jurors, severity, gap, crits)
        words = f"{jurors} jurors a year, σ_b {severity}, true difference {gap}"
        print("  ".join(f"{figure:5.1f}" for figure in share), words, flush=True)


if __name__ == "__main__":
    main()

"""How far jurors agree on the whole: intraclass correlations.

(A) is absolute agreement: severity counts against it; use it where raw means
are published. (C) is consistency: severity is taken out; use it where
adjusted levels are. 1 is one juror, k this panel. The gap between A and C is
what severity costs.
"""

from dataclasses import dataclass

import numpy as np
from scipy import stats

from criteria.scoring.bands import AGREEMENT
from criteria.scoring.cells import Cells
from criteria.scoring.components import MeanSquares, crossed_components, mean_squares
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.reml import Fit, Sums, fit

Number = Estimate | NotAvailable

DRAWS = 400
"""Simulated tables behind an interval where cells are missing."""

LEAST_DF = 0.05
"""Fewer degrees of freedom than this put the ends of an F interval beyond all bounds."""

MANY_SCHEMES = 500
"""Beyond this many schemes 100 draws are enough for the interval, and quicker."""


@dataclass(frozen=True, slots=True)
class Intraclass:
    """Intraclass correlations of one table [1].

    A1, Ak      absolute agreement of one juror, of the panel
    C1, Ck      consistency of one juror, of the panel
    one_way_1, one_way_k   jurors not told apart; only of a complete table
    k           jurors per scheme behind the k's; the harmonic mean where it varies
    """

    A1: Number
    Ak: Number
    C1: Number
    Ck: Number
    one_way_1: Number
    one_way_k: Number
    k: float
    schemes_test: Tested | NotAvailable
    jurors_test: Tested | NotAvailable

    @property
    def words(self) -> str:
        """Agreement in words, from the intervals, with their source."""
        if not isinstance(self.A1, Estimate) or not isinstance(self.Ak, Estimate):
            reason = self.A1 if isinstance(self.A1, NotAvailable) else self.Ak
            return f"Agreement can't be estimated: {getattr(reason, 'reason', '')}."
        return (
            f"One juror alone: {AGREEMENT.span(self.A1)}; "
            f"this panel's mean: {AGREEMENT.span(self.Ak)} "
            f"({AGREEMENT.source})."
        )


def intraclass(cells: Cells, *, seed: int = 1, draws: int = DRAWS) -> Intraclass:
    """Intraclass correlations with 95 % intervals.

    Complete table: from mean squares, in the names of McGraw and Wong.

        ICC(A,1) = (MSR − MSE)/(MSR + (k − 1) MSE + k (MSC − MSE)/n)
        ICC(C,1) = (MSR − MSE)/(MSR + (k − 1) MSE)
        ICC(1)   = (MSR − MSW)/(MSR + (k − 1) MSW)

    and the panel's by Spearman and Brown, k R/(1 + (k − 1) R). Intervals by F,
    with Satterthwaite's degrees of freedom for (A).

    Cells missing: σ²s/(σ²s + σ²b + σ²e) and σ²s/(σ²s + σ²e) of REML
    components, k the harmonic mean of jurors per scheme; the interval is the
    middle 95 % of `draws` tables simulated from the components and fitted anew.

    Estimates below 0 are given as they come. A cohort of much the same quality
    lowers every one of them: they measure this cohort too.

    Source: Shrout and Fleiss 1979, Psychol. Bull. 86:420; McGraw and Wong
        1996, Psychol. Methods 1:30.
    """
    n, m = cells.values.shape
    k = float(n / np.sum(1 / cells.jurors_per_scheme))
    if n < 2 or m < 2:
        few = "one juror" if m < 2 else "one scheme"
        return _none(NotAvailable(f"{few}: agreement needs two of each"), k)
    if cells.constant:
        return _none(NotAvailable("not estimable, every juror gave every scheme the same level"), k)
    squares = mean_squares(cells)
    if isinstance(squares, MeanSquares):
        return _complete(squares)
    components = crossed_components(cells)
    if isinstance(components, NotAvailable):
        return _none(components, k)
    return _with_gaps(cells, components, k, seed, draws)


def spearman_brown(one: float, k: float) -> float:
    """Reliability of the mean of k jurors from that of one [1]: k R/(1 + (k − 1) R).

    Source: Spearman 1910, Brown 1910.
    """
    return k * one / (1 + (k - 1) * one)


def _none(reason: NotAvailable, k: float) -> Intraclass:
    return Intraclass(reason, reason, reason, reason, reason, reason, k, reason, reason)


def _complete(ms: MeanSquares) -> Intraclass:
    n, k = ms.n, ms.k
    one_way = _by_f(ms, ms.within, n * (k - 1))
    consistency = _by_f(ms, ms.residual, (n - 1) * (k - 1))
    absolute = _absolute(ms)
    return Intraclass(
        absolute,
        _panel(absolute, k),
        consistency,
        _panel(consistency, k),
        one_way,
        _panel(one_way, k),
        float(k),
        ms.test("schemes"),
        ms.test("jurors"),
    )


def _by_f(ms: MeanSquares, error: float, error_df: int) -> Number:
    """(MSR − error)/(MSR + (k − 1) error), its interval from F = MSR/error."""
    n, k, R = ms.n, ms.k, ms.schemes
    if R + (k - 1) * error <= 0:
        return NotAvailable("nothing varies")
    if error <= 0:
        return Estimate(1.0, (1.0, 1.0), "no residual variation")
    F = R / error
    low = F / float(stats.f.ppf(0.975, n - 1, error_df))
    high = F * float(stats.f.ppf(0.975, error_df, n - 1))
    ends = (low - 1) / (low + k - 1), (high - 1) / (high + k - 1)
    return Estimate((R - error) / (R + (k - 1) * error), ends, "F")


def _panel(one: Number, k: float) -> Number:
    """The mean of k jurors, from one juror's estimate and the ends of its interval."""
    if isinstance(one, NotAvailable):
        return one
    if 1 + (k - 1) * one.value <= 1e-9:
        return NotAvailable("schemes differ less than chance would have it")
    ends = one.interval
    if isinstance(ends, tuple):
        if 1 + (k - 1) * ends[0] <= 1e-9:
            ends = NotAvailable("the interval has no lower end")
        else:
            ends = spearman_brown(ends[0], k), spearman_brown(ends[1], k)
    return Estimate(spearman_brown(one.value, k), ends, one.method)


def _absolute(ms: MeanSquares) -> Number:
    n, k = ms.n, ms.k
    R, C, E = ms.schemes, ms.jurors, ms.residual
    under = R + (k - 1) * E + k * (C - E) / n
    if under <= 0:
        return NotAvailable("schemes and jurors differ less than chance would have it")
    rho = (R - E) / under
    if E == 0:
        reason = NotAvailable("no residual variation, so the interval has no degrees of freedom")
        return Estimate(rho, reason if C else (1.0, 1.0), "mean squares")
    F_J = C / E
    part = n * (1 + (k - 1) * rho) - k * rho
    under = (n - 1) * k**2 * rho**2 * F_J**2 + part**2
    v = (k - 1) * (n - 1) * (k * rho * F_J + part) ** 2 / under if under > 0 else 0.0
    if v < LEAST_DF:
        reason = NotAvailable("schemes differ less than chance would have it: no interval")
        return Estimate(rho, reason, "mean squares")
    rest = k * C + (k * n - k - n) * E
    lower, upper = (float(f) for f in (stats.f.ppf(0.975, n - 1, v), stats.f.ppf(0.975, v, n - 1)))
    low = n * (R - lower * E) / (lower * rest + n * R)
    high = n * (upper * R - E) / (rest + n * upper * R)
    return Estimate(rho, (low, high), f"F, Satterthwaite's {v:.1f} degrees of freedom")


def _with_gaps(cells: Cells, found: Fit, k: float, seed: int, draws: int) -> Intraclass:
    def ratios(c: Fit) -> tuple[float, float]:
        return (
            c.scheme / (c.scheme + c.juror + c.residual),
            c.scheme / (c.scheme + c.residual) if c.scheme + c.residual else 0.0,
        )

    gap = NotAvailable("only of a complete table")
    values = ratios(found)
    if found.residual <= 0:
        reason = NotAvailable("no residual variation")
        ones = [Estimate(value, reason, "REML") for value in values]
    else:
        rng = np.random.default_rng(seed)
        draws = draws if len(cells.schemes) <= MANY_SCHEMES else min(draws, 100)
        simulated = np.array([ratios(_simulate(cells, found, rng)) for _ in range(draws)])
        ends = np.quantile(simulated, (0.025, 0.975), axis=0).T
        method = f"REML; {draws} simulated tables, seed {seed}"
        ones = [
            Estimate(value, (float(a), float(b)), method)
            for value, (a, b) in zip(values, ends, strict=True)
        ]
    panels = [_panel(one, k) for one in ones]
    return Intraclass(ones[0], panels[0], ones[1], panels[1], gap, gap, k, gap, gap)


def _simulate(cells: Cells, truth: Fit, rng: np.random.Generator) -> Fit:
    n, m = cells.values.shape
    y = (
        rng.normal(0, np.sqrt(truth.scheme), (n, 1))
        + rng.normal(0, np.sqrt(truth.juror), m)
        + rng.normal(0, np.sqrt(truth.residual), (n, m))
    )
    return fit(Sums.of(cells.counts, np.where(cells.seen, y, 0.0)), polish=0)

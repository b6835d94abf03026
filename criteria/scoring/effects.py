"""How far two groups lie apart: effect sizes with intervals; and what a test answers with.

Everywhere the difference is the first group less the second: above 0, the
first lies higher.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import optimize, special, stats

from criteria.errors import InputError
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.tails import t_beyond

Numbers = Sequence[float] | NDArray[np.float64]

FALSE_ALARMS = 0.05
"""Share of crits in which a rule may name by chance who is like the others; shared out over all
whom it looks at [1]."""


@dataclass(frozen=True, slots=True)
class Group:
    """A group by its summary: size, mean, standard deviation (n − 1)."""

    n: int
    mean: float
    sd: float


@dataclass(frozen=True, slots=True)
class Tested:
    """A test's statistic, its degrees of freedom (None where there are none) and two-sided p."""

    statistic: float
    df: float | None
    p: float
    method: str

    @property
    def p_words(self) -> str:
        """p as it is said."""
        return "p below 0.001" if self.p < 0.001 else f"p {shown(self.p, 3)}"


def numbers(values: Numbers, what: str = "a value") -> NDArray[np.float64]:
    """The values as an array; one that is not finite is refused with InputError."""
    array = np.asarray(values, dtype=float)
    if not np.isfinite(array).all():
        raise InputError(f"{what} must be finite; read {array[~np.isfinite(array)][0]}")
    return array


def summarise(values: Numbers) -> Group:
    """Size, mean and standard deviation of two values or more."""
    array = numbers(values)
    if array.size < 2:
        raise InputError(f"a standard deviation needs 2 values or more, not {array.size}")
    return Group(array.size, float(array.mean()), float(array.std(ddof=1)))


def hedges_correction(df: int) -> float:
    """Exact small-sample correction of a standardised difference [1].

        J = Γ(m/2) / (√(m/2) Γ((m − 1)/2))

    df   m, degrees of freedom of the pooled deviation, 2 or more

    Source: Hedges 1981. The common 1 − 3 / (4m − 1) is an approximation to it.
    """
    if df < 2:
        raise InputError(f"the correction needs 2 degrees of freedom or more, not {df}")
    log = special.gammaln(df / 2) - special.gammaln((df - 1) / 2)
    return float(np.exp(log) / np.sqrt(df / 2))


def hedges_g(this: Numbers | Group, other: Numbers | Group) -> Estimate | NotAvailable:
    """Hedges' g: difference of means in pooled standard deviations, corrected [1].

        g = J d        d = (x̄₁ − x̄₂) / s        m = n₁ + n₂ − 2

    The interval is exact for normal data of one variance: the noncentralities
    that put the observed t at the 97.5th and the 2.5th percentile, times
    J √(1/n₁ + 1/n₂).

    this, other   values, or a Group with their summary

    Source: Hedges 1981; interval by the noncentral t, as in Borenstein and
        others 2009, Introduction to Meta-Analysis, chapter 4.
    """
    sizes = [group.n if isinstance(group, Group) else len(group) for group in (this, other)]
    if min(sizes) < 2:
        return NotAvailable(f"each cohort needs 2 values or more; they have {sizes[0]}, {sizes[1]}")
    first, second = (
        group if isinstance(group, Group) else summarise(group) for group in (this, other)
    )
    m = first.n + second.n - 2
    pooled = np.sqrt(((first.n - 1) * first.sd**2 + (second.n - 1) * second.sd**2) / m)
    if pooled <= 1e-12 * max(abs(first.mean), abs(second.mean), 1e-300):
        return NotAvailable("neither cohort varies, so there is no unit to measure in")
    d = (first.mean - second.mean) / pooled
    root = np.sqrt(1 / first.n + 1 / second.n)
    J = hedges_correction(m)
    ends = _noncentralities(d / root, m)
    interval: tuple[float, float] | NotAvailable = (
        ends if isinstance(ends, NotAvailable) else (J * root * ends[0], J * root * ends[1])
    )
    return Estimate(float(J * d), interval, "noncentral t, exact correction")


def _noncentralities(t: float, df: int) -> tuple[float, float] | NotAvailable:
    def solve(share: float) -> float:
        def gap(delta: float) -> float:
            return float(stats.nct.cdf(t, df, delta)) - share

        reach = 3.0
        while not (gap(t - reach) > 0 > gap(t + reach)):
            reach *= 1.7
            if reach > 200 + 4 * abs(t):
                raise ArithmeticError
        return float(optimize.brentq(gap, t - reach, t + reach, xtol=1e-10))

    try:
        return solve(0.975), solve(0.025)
    except (ArithmeticError, ValueError):
        return NotAvailable("the cohorts lie too far apart for the noncentral t")


def cliffs_delta(this: Numbers, other: Numbers) -> Estimate | NotAvailable:
    """Cliff's δ: how much oftener the first group's value is the higher of a pair [1].

        δ = P(x > y) − P(x < y)        A = (δ + 1) / 2

    From −1 to 1; it asks only for order, so it suits levels. The interval is
    the asymmetric one, with t on n₁ + n₂ − 2 degrees of freedom. Where the
    groups don't overlap at all it runs from δ to ±(n − t²) / (n + t²), n the
    smaller group (Cliff 1996, from memory).

    Source: Cliff 1993; unbiased variance and asymmetric interval in Feng and
        Cliff 2004. A is Vargha and Delaney 2000.
    """
    x, y = numbers(this), numbers(other)
    if min(x.size, y.size) < 2:
        return NotAvailable(f"each cohort needs 2 values or more; they have {x.size}, {y.size}")
    rows, columns = _dominance(x, y), -_dominance(y, x)
    d = float(rows.mean())
    pairs = x.size * y.size
    ordered = np.sort(y)
    tied = np.sum(np.searchsorted(ordered, x, "right") - np.searchsorted(ordered, x, "left"))
    squares = (pairs - tied) - pairs * d**2
    variance = (
        y.size**2 * np.sum((rows - d) ** 2) + x.size**2 * np.sum((columns - d) ** 2) - squares
    ) / (pairs * (x.size - 1) * (y.size - 1))
    s = np.sqrt(max(variance, (1 - d**2) / (pairs - 1), 0.0))
    t = t_beyond(0.025, x.size + y.size - 2)
    if abs(d) >= 1 - 1e-12:
        smaller = min(x.size, y.size)
        near = (smaller - t**2) / (smaller + t**2)
        ends = (near, 1.0) if d > 0 else (-1.0, -near)
        return Estimate(d, ends, "no overlap: Cliff's bound")
    middle, half = d - d**3, t * s * np.sqrt((1 - d**2) ** 2 + t**2 * s**2)
    under = 1 - d**2 + t**2 * s**2
    ends = (max(-1.0, float((middle - half) / under)), min(1.0, float((middle + half) / under)))
    return Estimate(d, ends, "asymmetric, Feng and Cliff")


def _dominance(x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
    """For each x, the share of y below it less the share above it."""
    ordered = np.sort(y)
    below = np.searchsorted(ordered, x, "left")
    above = y.size - np.searchsorted(ordered, x, "right")
    return (below - above) / y.size

"""Severity: how far each juror lies from the others on the same work, and scores without it.

"Each juror's severity is estimated only from schemes that other jurors also
saw: how far, on average, this juror was above or below the others on the same
work. Because a few schemes are weak evidence, the estimate is pulled a little
towards zero. A scheme's adjusted level is the plain average of its jurors'
levels after adding back each juror's severity. Nobody's level is pulled
towards the average of the class."
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from criteria.errors import InputError
from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.components import (
    SeverityComponents,
    normal_equations,
    severity_components,
)
from criteria.scoring.connections import Link, groups, link
from criteria.scoring.effects import FALSE_ALARMS, Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.tails import share_beyond_f, t_beyond


@dataclass(frozen=True, eq=False)
class Solution:
    """Levels and juror effects that solve the equations for one λ.

        s_i = mean over the jurors j of i of (y_ij − b_j)                 (1)
        b_j = sum over the schemes i of j of (y_ij − s_i) / (n_j + λ)     (2)

    schemes   s, n levels [unit]
    jurors    b, m effects [unit]; above 0 generous, below 0 severe
    r         jurors per scheme
    H         n × m, each scheme's share of each juror, N / r
    K         m × m, (M + λI)⁻¹; for λ = 0 the generalised inverse

    Covariances are over σ²e:  C = diag(1/r) + H K H′ of the levels, K of the
    effects' errors.
    """

    schemes: Matrix
    jurors: Matrix
    r: Matrix
    H: Matrix
    K: Matrix

    @cached_property
    def variances(self) -> Matrix:
        """Diagonal of C [1]."""
        return np.asarray(1 / self.r + np.sum(self.H @ self.K * self.H, axis=1))

    @cached_property
    def comparison_variances(self) -> Matrix:
        """Diagonal of P C P, P = I − 11′/n: of a level against its cohort's mean [1].

        What every scheme shares, the level of the whole jury, cancels.
        """
        n = len(self.r)
        off = self.H - self.H.mean(axis=0)
        alone = (1 / self.r) * (1 - 2 / n) + np.sum(1 / self.r) / n**2
        return np.asarray(alone + np.sum(off @ self.K * off, axis=1))

    @cached_property
    def fitted_variances(self) -> Matrix:
        """Variance of s_i + b_j, n × m [1]: its leverage where a juror saw the scheme, at λ = 0."""
        HK: Matrix = self.H @ self.K
        return self.variances[:, None] + np.diag(self.K) - 2 * HK

    def part(self, rows: Matrix) -> "Solution":
        """Some of the schemes, their variances among themselves."""
        return Solution(self.schemes[rows], self.jurors, self.r[rows], self.H[rows], self.K)

    def pair_variances(self, rows: slice | Matrix = slice(None)) -> Matrix:
        """Variance of each scheme's difference from every other [1]; 0 with itself."""
        HK = self.H[rows] @ self.K
        own = np.sum(HK * self.H[rows], axis=1)
        every = np.sum(self.H @ self.K * self.H, axis=1)
        pairs = 1 / self.r[rows, None] + 1 / self.r + own[:, None] + every - 2 * HK @ self.H.T
        places = np.arange(len(self.r))[rows]
        pairs[np.arange(len(places)), places] = 0.0
        return np.asarray(np.maximum(pairs, 0.0))


def solve(counts: Matrix, sums: Matrix, shrinkage: float) -> Solution:
    """Solve equations (1) and (2), scheme fixed and juror random.

        M = diag(c) − N′ diag(1/r) N      q = B − N′(T/r)
        b = (M + λI)⁻¹ q                  s = (T − N b)/r

    counts, sums   N and the sums of y, n × m; a cell may hold several numbers
    shrinkage      λ = σ²e/σ²b [1]; 0 for least squares, inf for raw means

    Source: Henderson 1975, Biometrics 31:423, the mixed-model equations;
        Robinson 1991, Statist. Sci. 6:15.
    """
    if not shrinkage >= 0:
        raise InputError(f"λ is {shrinkage}; expected 0 or more")
    r, T = counts.sum(axis=1), sums.sum(axis=1)
    H = counts / r[:, None]
    m = counts.shape[1]
    if np.isinf(shrinkage):
        return Solution(T / r, np.zeros(m), r, H, np.zeros((m, m)))
    M, q = normal_equations(counts, sums)
    K: Matrix
    if shrinkage == 0:
        K = np.asarray(np.linalg.pinv(M, rcond=1e-10, hermitian=True), dtype=np.float64)
    else:
        K = np.asarray(np.linalg.inv(M + shrinkage * np.eye(m)), dtype=np.float64)
    b = K @ q
    return Solution((T - counts @ b) / r, b, r, H, K)


@dataclass(frozen=True, slots=True)
class JurorEffect:
    """One juror's lean on the work that others saw too, against the panel they hang together with.

    effect         b_j [unit]: above 0 generous, below 0 severe; pulled towards 0.
                   Its interval is that of least squares, t on ν: it needs no λ,
                   so it allows for λ being estimated; where b_j lies outside, to b_j
    se             standard error of the lean by least squares, √(MSE [P K P]_jj)
                   at λ = 0, P taking out the mean of the jurors who hang together
    least_squares  the lean by least squares, not pulled
    schemes        how many this juror rated
    shared         how many of them another juror rated too
    is_apart       whether the lean by least squares is more than chance among all the jurors who
                   are looked at: whether its interval at 1 − 0.05/m excludes 0
    """

    juror: str
    effect: Estimate | NotAvailable
    se: float | NotAvailable
    least_squares: float | NotAvailable
    schemes: int
    shared: int
    is_apart: bool = False


@dataclass(frozen=True, eq=False)
class Severity:
    """The whole severity analysis of one panel.

    cells           what it rests on
    components      σ²b, σ²e, λ; or why there are none
    adjusted        the solution at λ
    least_squares   the solution at λ = 0
    raw             plain means, with the jurors' variance in their pair variances
    additivity      Tukey's test of one degree of freedom
    jurors          effects with intervals
    """

    cells: Cells
    components: SeverityComponents | NotAvailable
    adjusted: Solution
    least_squares: Solution
    raw: Solution
    additivity: Tested | NotAvailable
    jurors: tuple[JurorEffect, ...]

    @cached_property
    def link(self) -> Link:
        """What hangs together, and how firmly."""
        return link(self.cells)

    @property
    def df(self) -> int:
        """ν = N − n − rank M; 0 where nothing is left over."""
        return self.components.df if isinstance(self.components, SeverityComponents) else 0


def analyse(cells: Cells) -> Severity:
    """Estimate severity and adjusted levels. Whether to use them is `adjusting.decide`."""
    components = severity_components(cells)
    shrinkage, gamma = np.inf, 0.0
    if isinstance(components, SeverityComponents):
        shrinkage = components.shrinkage
        if components.residual:
            gamma = components.juror / components.residual
    counts, y = cells.counts, cells.values
    means = solve(counts, y, np.inf)
    m = len(cells.jurors)
    adjusted, squares = solve(counts, y, shrinkage), solve(counts, y, 0.0)
    return Severity(
        cells=cells,
        components=components,
        adjusted=adjusted,
        least_squares=squares,
        raw=Solution(means.schemes, means.jurors, means.r, means.H, gamma * np.eye(m)),
        additivity=additivity(cells),
        jurors=_effects(cells, components, adjusted, squares),
    )


def _effects(
    cells: Cells,
    components: SeverityComponents | NotAvailable,
    adjusted: Solution,
    squares: Solution,
) -> tuple[JurorEffect, ...]:
    within = np.eye(len(cells.jurors))
    for group in groups(cells.seen):
        within[np.ix_(group.jurors, group.jurors)] -= 1 / len(group.jurors)
    variances = np.maximum(np.diag(within @ squares.K @ within), 0.0)
    shared = (cells.seen & (cells.jurors_per_scheme > 1)[:, None]).sum(axis=0)
    result = []
    for j, juror in enumerate(cells.jurors):
        count, rated = int(shared[j]), int(cells.schemes_per_juror[j])
        if isinstance(components, NotAvailable) or count < 2:
            none = components if isinstance(components, NotAvailable) else _too_few(juror, count)
            result.append(JurorEffect(juror, none, none, none, rated, count))
            continue
        pulled, plain = float(adjusted.jurors[j]), float(squares.jurors[j])
        se = float(np.sqrt(components.residual_square * variances[j]))
        half = t_beyond(0.025, components.df) * se
        ends = min(plain - half, pulled), max(plain + half, pulled)
        effect = Estimate(pulled, ends, f"least squares, t on {components.df}")
        beyond = t_beyond(FALSE_ALARMS / len(cells.jurors) / 2, components.df) * se
        is_apart = abs(plain) > beyond + 1e-9 * max(1.0, cells.scale)
        result.append(JurorEffect(juror, effect, se, plain, rated, count, is_apart))
    return tuple(result)


def _too_few(juror: str, shared: int) -> NotAvailable:
    few = "one scheme" if shared else "no scheme"
    return NotAvailable(f"too few: {juror} shares {few} with other jurors")


def residuals(cells: Cells, solution: Solution) -> Matrix:
    """y − s − b, n × m; 0 where nothing is seen [unit]."""
    left = cells.values - solution.schemes[:, None] - solution.jurors
    return np.where(cells.seen, left, 0.0)


def lean_out(cells: Cells, solution: Solution) -> Cells:
    """The same table with each juror's effect taken out."""
    levels = np.where(cells.seen, cells.values - solution.jurors, 0.0)
    return Cells(cells.schemes, cells.jurors, levels, cells.seen)


def additivity(cells: Cells) -> Tested | NotAvailable:
    """Tukey's one degree of freedom: does a juror stretch the scale, not just shift it?

        SSN = (Σ y r c)² / (Σ r² Σ c²)      F = SSN / ((SSE − SSN)/(ν − 1))

        r, c   schemes and jurors as they lie about the mean

    On (1, ν − 1). Where cells are missing, r c is first cleared of schemes and
    jurors by least squares, which is the same thing in a complete table.

    Source: Tukey 1949, Biometrics 5:232, from memory.
    """
    n, m = cells.values.shape
    if n < 3 or m < 2:
        return NotAvailable("needs 3 schemes and 2 jurors or more")
    squares = solve(cells.counts, cells.values, 0.0)
    M, _ = normal_equations(cells.counts, cells.values)
    df = cells.size - n - int(np.linalg.matrix_rank(M, tol=1e-9))
    if df < 2:
        return NotAvailable("too few levels for a test of additivity")
    left = residuals(cells, squares)
    error = float(np.sum(left**2))
    whole = float(np.sum((cells.values - cells.values[cells.seen].mean())[cells.seen] ** 2))
    if error < 1e-12 * max(whole, 1e-300):
        return NotAvailable("no residual variation")
    s = squares.schemes - squares.schemes.mean()
    b = squares.jurors - squares.jurors.mean()
    product = np.where(cells.seen, np.outer(s, b), 0.0)
    cleared = residuals(
        Cells(cells.schemes, cells.jurors, product, cells.seen),
        solve(cells.counts, product, 0.0),
    )
    length = float(np.sum(cleared**2))
    if length < 1e-12 * max(float(np.sum(product**2)), 1e-300) or not np.any(product):
        return NotAvailable("jurors or schemes don't differ, so stretching can't be seen")
    explained = float(np.sum(left * cleared)) ** 2 / length
    if error - explained < 1e-12 * error:
        return Tested(np.inf, 1.0, 0.0, f"Tukey's F on 1, {df - 1}; stretching is all there is")
    F = explained / ((error - explained) / (df - 1))
    return Tested(F, 1.0, share_beyond_f(F, 1, df - 1), f"Tukey's F on 1, {df - 1}")

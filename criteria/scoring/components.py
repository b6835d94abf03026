"""How much of the numbers is the schemes', the jurors' and left over: variance components.

By restricted maximum likelihood (REML), which needs no complete table, and by
mean squares where the table is complete. In

    y_ij = μ + s_i + b_j + e_ij

    σ²s   variance of schemes      [unit²]
    σ²b   variance of jurors       [unit²]
    σ²e   leftover variance        [unit²]

Source: Patterson and Thompson 1971, Biometrika 58:545; Henderson's method 3
    and mean squares as in Searle, Casella and McCulloch 1992.
"""

from dataclasses import dataclass

import numpy as np
from scipy import optimize

from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.reml import Fit, Sums, fit
from criteria.scoring.tails import share_beyond_f

NOTHING = 1e-12
"""A sum of squares less than this share of the whole is no variation, only binary noise."""


@dataclass(frozen=True, slots=True)
class MeanSquares:
    """Two-way mean squares of a complete table of n schemes and k jurors [unit²].

    schemes, jurors, residual   with n − 1, k − 1 and (n − 1)(k − 1) degrees of freedom
    within                      within schemes, n (k − 1) degrees of freedom
    """

    n: int
    k: int
    schemes: float
    jurors: float
    residual: float
    within: float

    def test(self, which: str) -> Tested:
        """F of `schemes` or `jurors` against the residual."""
        square, df = {
            "schemes": (self.schemes, self.n - 1),
            "jurors": (self.jurors, self.k - 1),
        }[which]
        error_df = (self.n - 1) * (self.k - 1)
        if not self.residual:
            return Tested(np.inf if square else 0.0, df, 0.0 if square else 1.0, "F")
        F = square / self.residual
        return Tested(F, df, share_beyond_f(F, df, error_df), f"F on {df}, {error_df}")


@dataclass(frozen=True, slots=True)
class SeverityComponents:
    """Components with the schemes fixed: how severe jurors are, and what is left [unit²].

    juror        σ²b by REML
    residual     σ²e by REML
    shrinkage    λ = σ²e/σ²b; inf where jurors don't differ beyond chance
    by_squares   σ²b by Henderson's method 3, as it comes, negative too
    df           ν = N − n − rank M, leftover degrees of freedom
    rank         rank of M
    juror_test   F of the jurors on rank M and ν: do they differ in severity at all
    residual_square   what least squares leave over, divided by ν
    """

    juror: float
    residual: float
    shrinkage: float
    by_squares: float
    df: int
    rank: int
    juror_test: Tested | NotAvailable
    residual_square: float


def mean_squares(cells: Cells) -> MeanSquares | NotAvailable:
    """Two-way mean squares; only of a complete table with two rows and two columns."""
    n, k = cells.values.shape
    if not cells.complete:
        return NotAvailable("cells are missing, so mean squares don't apply")
    if n < 2 or k < 2:
        return NotAvailable("mean squares need 2 schemes and 2 jurors or more")
    y = cells.values - cells.values.mean()
    rows, columns = y.mean(axis=1), y.mean(axis=0)
    whole = float(np.sum(y**2))
    of_schemes, of_jurors = k * float(np.sum(rows**2)), n * float(np.sum(columns**2))
    left = float(np.sum((y - rows[:, None] - columns) ** 2))
    if left < NOTHING * whole:
        left = 0.0
    return MeanSquares(
        n,
        k,
        of_schemes / (n - 1),
        of_jurors / (k - 1),
        left / ((n - 1) * (k - 1)),
        (of_jurors + left) / (n * (k - 1)),
    )


def normal_equations(counts: Matrix, sums: Matrix) -> tuple[Matrix, Matrix]:
    """M and q of the jurors' equations, with the schemes taken out.

        M = diag(c) − N′ diag(1/r) N        q = B − N′ (T/r)

    counts, sums   N and the sums of y, both n × m
    """
    r = counts.sum(axis=1)
    M = np.diag(counts.sum(axis=0)) - counts.T @ (counts / r[:, None])
    return M, sums.sum(axis=0) - counts.T @ (sums.sum(axis=1) / r)


def severity_components(cells: Cells) -> SeverityComponents | NotAvailable:
    """REML with scheme fixed and juror random, by a search over one number.

    With M = U diag(d) U′, z = (U′q)², ν₀ = N − n and γ = σ²b/σ²e, minimise

        ν₀ log{[SSW − Σ z γ/(1 + γ d)]/ν₀} + Σ log(1 + γ d)      over γ ≥ 0

    SSW is the sum of squares within schemes. σ²e is the bracket at the minimum.
    Where the additive model leaves nothing over, σ²e is 0 and λ is 0.
    """
    centred = np.where(cells.seen, cells.values - cells.values[cells.seen].mean(), 0.0)
    return severity_components_from(cells.counts, centred, float(np.sum(centred**2)))


def severity_components_from(
    counts: Matrix, sums: Matrix, square_sum: float
) -> SeverityComponents | NotAvailable:
    """The same from counts, sums and the sum of squares, where a cell may hold several numbers."""
    n, m = counts.shape
    r, T = counts.sum(axis=1), sums.sum(axis=1)
    N = int(counts.sum())
    if m < 2:
        return NotAvailable("one juror: severity is how jurors differ on the same work")
    free: int = N - n
    if free < 1:
        return NotAvailable("no scheme was seen by two jurors")
    M, q = normal_equations(counts, sums)
    d, U = np.linalg.eigh(M)
    d = np.where(d < 1e-9 * max(d.max(), 1.0), 0.0, d)
    z = np.where(d > 0, (U.T @ q) ** 2, 0.0)
    rank = int(np.sum(d > 0))
    df = free - rank
    if df < 1:
        return NotAvailable("too few levels: severity and scatter can't be told apart")
    within = square_sum - float(np.sum(T**2 / r))
    if within <= NOTHING * square_sum:
        return SeverityComponents(
            0.0, 0.0, np.inf, 0.0, df, rank, NotAvailable("jurors never differ"), 0.0
        )
    of_jurors = float(np.sum(z[d > 0] / d[d > 0]))
    left = within - of_jurors
    if left < 1e-10 * within:
        juror = of_jurors / np.trace(M)
        test = Tested(np.inf, rank, 0.0, f"F on {rank}, {df}; no residual variation")
        return SeverityComponents(juror, 0.0, 0.0, juror, df, rank, test, 0.0)
    square = left / df
    F = of_jurors / rank / square
    test = Tested(F, rank, share_beyond_f(F, rank, df), f"F on {rank}, {df}")
    by_squares = (of_jurors / rank - square) * rank / float(np.trace(M))

    def bracket(gamma: float | Matrix) -> Matrix:
        return np.asarray(within - np.sum(z * gamma / (1 + gamma * d), axis=-1))

    def deviance(gamma: float) -> float:
        return free * float(np.log(bracket(gamma) / free)) + float(np.sum(np.log1p(gamma * d)))

    def slope(gamma: float | Matrix) -> Matrix:
        fall = np.sum(z / (1 + gamma * d) ** 2, axis=-1)
        rise = np.sum(d / (1 + gamma * d), axis=-1)
        return np.asarray(rise - free * fall / bracket(gamma))

    grid = np.concatenate([[0.0], np.geomspace(1e-9, 1e9, 181)])
    slopes = slope(grid[:, None])
    candidates = [0.0] + [
        float(optimize.brentq(lambda at: float(slope(at)), a, b, xtol=1e-15 * b, rtol=1e-14))
        for a, b, at_a, at_b in zip(grid, grid[1:], slopes, slopes[1:], strict=False)
        if at_a < 0 <= at_b
    ]
    gamma = min(candidates, key=deviance)
    residual = float(bracket(gamma)) / free
    return SeverityComponents(
        juror=gamma * residual,
        residual=residual,
        shrinkage=1 / gamma if gamma else np.inf,
        by_squares=by_squares,
        df=df,
        rank=rank,
        juror_test=test,
        residual_square=square,
    )


def crossed_components(cells: Cells) -> Fit | NotAvailable:
    """REML with scheme and juror both random; cells may be missing.

    Where scheme and juror leave nothing over, the variances of their effects,
    which the components then are.
    """
    n, m = cells.values.shape
    if n < 2 or m < 2:
        return NotAvailable("needs 2 schemes and 2 jurors or more")
    if cells.constant:
        return NotAvailable("every level is the same")
    M, q = normal_equations(cells.counts, cells.values)
    rank = int(np.linalg.matrix_rank(M, tol=1e-9))
    if cells.size - n - rank < 1:
        return NotAvailable("too few levels: the components can't be told apart")
    mean = float(cells.values[cells.seen].mean())
    y = np.where(cells.seen, cells.values - mean, 0.0)
    b = np.linalg.pinv(M, rcond=1e-10) @ q
    s = (y.sum(axis=1) - cells.counts @ b) / cells.jurors_per_scheme
    left = np.where(cells.seen, y - s[:, None] - b, 0.0)
    if np.sum(left**2) < 1e-10 * np.sum(y**2):
        return Fit(float(s.var(ddof=1)), float(b.var(ddof=1)), 0.0, -np.inf)
    return fit(Sums.of(cells.counts, y))

"""Where a scheme stands, as far as the levels can tell: ranges of rank, never a bare rank."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import special

from criteria.errors import InputError
from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.reml import Fit
from criteria.scoring.severity import solve
from criteria.scoring.tails import t_beyond

PairVariances = Callable[[slice], Matrix]

BLOCK = 256
"""Schemes compared with all others at a time, so that 5 000 of them fit in memory."""


@dataclass(frozen=True, slots=True)
class RankRange:
    """The ranks a scheme may have; 1 is the highest level.

    own     for its owner: right for this one scheme with 95 %
    table   for a published table: right for every scheme at once with 95 %
    expected   expected rank
    """

    own: tuple[int, int]
    table: tuple[int, int]
    expected: float


def critical(n: int, df: float, *, table: bool) -> float:
    """Bonferroni's t for comparing one scheme, or all of a table, with the others [1].

        one scheme    t at 1 − 0.05/(2(n − 1))
        a table       t at 1 − 0.05/(n(n − 1))

    Source: Mogstad, Romano, Shaikh and Wilhelm 2024, Rev. Econ. Stud., whose
        step-down sets are a little shorter.
    """
    if n < 2:
        return 0.0
    tail = 0.05 / (n * (n - 1)) if table else 0.05 / (2 * (n - 1))
    return t_beyond(tail, df)


def rank_ranges(levels: Matrix, pair_variances: PairVariances, df: float) -> tuple[RankRange, ...]:
    """Range of rank of each scheme, from every pairwise comparison.

        L_i = 1 + #{k: s_i − s_k + c SED_ik < 0}
        U_i = n − #{k: s_i − s_k − c SED_ik > 0}
        E[R_i] = 1 + Σ Φ((s_k − s_i)/SED_ik)        k ≠ i

    levels           s, n [unit]
    pair_variances   SED² of a slice of schemes with all schemes [unit²]
    df               degrees of freedom; inf for the normal distribution
    """
    n = len(levels)
    factors = critical(n, df, table=False), critical(n, df, table=True)
    near = 1e-9 * max(1.0, float(np.abs(levels).max()))
    result: list[RankRange] = []
    for start in range(0, n, BLOCK):
        rows = slice(start, min(start + BLOCK, n))
        gap = levels[rows, None] - levels
        sed = np.sqrt(pair_variances(rows))
        own, table = (
            (1 + np.sum(gap + c * sed < -near, axis=1), n - np.sum(gap - c * sed > near, axis=1))
            for c in factors
        )
        with np.errstate(divide="ignore", invalid="ignore"):
            z = np.where(np.abs(gap) <= near, 0.0, -gap / sed)
        expected = 0.5 + special.ndtr(z).sum(axis=1)  # i with itself adds the half
        result += [
            RankRange((int(a), int(b)), (int(c), int(d)), float(e))
            for a, b, c, d, e in zip(*own, *table, expected, strict=True)
        ]
    return tuple(result)


def told_apart(
    levels: Matrix, pair_variances: PairVariances, df: float, scheme: int
) -> NDArray[np.bool_]:
    """Which schemes differ from one, looking at just the two of each pair: |difference| > t SED."""
    sed = np.sqrt(pair_variances(slice(scheme, scheme + 1))[0])
    t = t_beyond(0.025, df)
    near = 1e-9 * max(1.0, abs(float(levels[scheme])))
    return np.asarray(np.abs(levels - levels[scheme]) > t * sed + near)


def runs(levels: Matrix, pair_variances: PairVariances, df: float) -> tuple[tuple[int, ...], ...]:
    """Schemes that can't be told apart: the longest stretches of the order in which
    nobody is told apart from the first, highest first, at the table's criterion.

    A scheme alone in its stretch differs from all others.
    """
    n = len(levels)
    order = np.argsort(-levels, kind="stable")
    c = critical(n, df, table=True)
    near = 1e-9 * max(1.0, float(np.abs(levels).max()))
    found: list[tuple[int, ...]] = []
    reached = 0
    for start, i in enumerate(order):
        sed = np.sqrt(pair_variances(slice(int(i), int(i) + 1))[0])
        apart = levels[i] - levels[order] - c * sed[order] > near
        after = np.flatnonzero(apart[start:])
        end = start + int(after[0]) if after.size else n
        if end > reached:
            found.append(tuple(int(k) for k in order[start:end]))
            reached = end
    return tuple(found)


def shrunken_draws(cells: Cells, components: Fit, *, draws: int, seed: int) -> Matrix:
    """Draws of the schemes' true levels, given the numbers, schemes and jurors both random.

    Levels are pulled towards the mean as far as they are uncertain: draws that
    are not pulled say 90 % where 78 % is true. Given μ and the jurors, schemes
    are independent, so a draw costs only a system of (m + 1).

    draws × n. Source: Goldstein and Spiegelhalter 1996, J. R. Stat. Soc. A
        159:385, for ranks from shrunken estimates; the model of Henderson 1975.
    """
    n = len(cells.schemes)
    rng = np.random.default_rng(seed)
    if components.scheme <= 0:
        return np.zeros((draws, n))
    if components.residual <= 0:
        return np.tile(solve(cells.counts, cells.values, 0.0).schemes, (draws, 1))
    e, s, b = components.residual, components.scheme, components.juror
    counts, sums = cells.counts, cells.values.sum(axis=0)
    if b <= 0:
        counts, sums = counts[:, :0], sums[:0]
    r, T, m = cells.jurors_per_scheme, cells.values.sum(axis=1), counts.shape[1]
    precise = r / e + 1 / s  # of a scheme, given μ and jurors
    loads = np.column_stack([np.full(n, 1 / s), -counts / e])  # on μ and jurors
    P = np.zeros((m + 1, m + 1))
    P[0, 0] = n / s
    P[1:, 1:] = np.diag(counts.sum(axis=0) / e) + (np.eye(m) / b if m else 0)
    P -= (loads / precise[:, None]).T @ loads
    pull = np.concatenate([[0.0], sums / e])
    pull = pull + (loads / precise[:, None]).T @ (T / e)
    root = np.linalg.cholesky(P)
    centre = np.linalg.solve(P, pull)
    shared = centre + np.linalg.solve(root.T, rng.standard_normal((m + 1, draws))).T
    means = (T / e + shared @ loads.T) / precise
    return np.asarray(means + rng.standard_normal((draws, n)) / np.sqrt(precise))


def share_in_top(draws: Matrix, top: int) -> Matrix:
    """Share of draws in which each scheme is among the first `top` [1]; ties share the places.

    draws   draws × n
    """
    count, n = draws.shape
    if not 1 <= top <= n:
        raise InputError(f"top is {top}; expected 1 to {n}")
    cut = np.partition(draws, n - top, axis=1)[:, n - top]
    above = draws > cut[:, None]
    tied = draws == cut[:, None]
    left = top - above.sum(axis=1)
    share = above + tied * (left / tied.sum(axis=1))[:, None]
    return np.asarray(share.sum(axis=0) / count)

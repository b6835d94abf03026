"""Agreement in order, agreement to the level, and pairs of jurors.

Kendall's W asks whether jurors put the schemes in the same order. The shares
of exact and near agreement stand beside every coefficient, since they can be
checked by counting. The kappas are for looking closer at two jurors; they are
no headline: nominal kappa ignores the order of levels, and every kappa moves
with how often a level is used.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from criteria.errors import InputError
from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import Estimate, NotAvailable

MOST_JURORS_SEARCHED = 12


@dataclass(frozen=True, slots=True)
class Concordance:
    """Kendall's W [1] of the largest complete block of schemes and jurors.

    S               sum of squares of the rank sums about their mean
    chi_square      Friedman's
    f_test          Kendall and Babington Smith's F, better for few schemes
    mean_spearman   mean rank correlation of two jurors
    schemes, jurors   what the block holds
    """

    W: float
    S: float
    chi_square: Tested
    f_test: Tested | NotAvailable
    mean_spearman: float
    schemes: int
    jurors: int
    available: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class Agreed:
    """Shares of pairs of jurors on the same scheme, over all pairs [1].

    exact        the same level
    within_one   one level apart or less
    pairs        how many pairs there are
    """

    exact: float
    within_one: float
    pairs: int
    available: ClassVar[bool] = True


def kendall_w(cells: Cells) -> Concordance | NotAvailable:
    """Kendall's coefficient of concordance with ties.

        W = 12 S / (m²(n³ − n) − m T)      T = Σ (t³ − t) over jurors and ties

    Source: Kendall 1948; F and r̄ as in Legendre 2005, J. Agric. Biol. Environ.
        Stat. 10:226.
    """
    block = _largest_block(cells)
    if block is None:
        return NotAvailable("no 3 schemes are found that the same 2 jurors saw")
    ranks = stats.rankdata(block, axis=0)
    n, m = ranks.shape
    S = float(np.sum((ranks.sum(axis=1) - m * (n + 1) / 2) ** 2))
    T = float(sum(np.sum(t**3 - t) for column in ranks.T for t in [_ties(column)]))
    under = m**2 * (n**3 - n) - m * T
    if under <= 0:
        return NotAvailable("not estimable, every juror gave every scheme the same level")
    W = 12 * S / under
    chi = m * (n - 1) * W
    test = Tested(chi, n - 1.0, float(stats.chi2.sf(chi, n - 1)), f"χ² on {n - 1}")
    mean = (m * W - 1) / (m - 1)
    return Concordance(W, S, test, _f_of_w(W, n, m), mean, n, m)


def agreed(cells: Cells) -> Agreed | NotAvailable:
    """How often two jurors gave a scheme the same level, or one level apart at most."""
    exact = near = pairs = 0
    for a, b in combinations(range(len(cells.jurors)), 2):
        both = cells.seen[:, a] & cells.seen[:, b]
        gap = np.abs(cells.values[both, a] - cells.values[both, b])
        pairs += gap.size
        exact += int(np.sum(gap <= 1e-9))
        near += int(np.sum(gap <= 1 + 1e-9))
    if not pairs:
        return NotAvailable("no scheme was seen by two jurors")
    return Agreed(exact / pairs, near / pairs, pairs)


def cohen_kappa(
    table: Sequence[Sequence[float]], disagreement: Sequence[Sequence[float]] | None = None
) -> Estimate | NotAvailable:
    """κ of two jurors from their cross table, weighted or not [1].

        κ = 1 − Σ v p_o / Σ v p_e

    table          K × K counts, first juror down
    disagreement   v, K × K, 0 where the two agree; None for 1 off the diagonal

    The interval is normal, with the large-sample error.

    Source: Cohen 1960 and 1968; error in Fleiss, Cohen and Everitt 1969,
        Psychol. Bull. 72:323, from memory.
    """
    counts = np.asarray(table, dtype=float)
    n, K = counts.sum(), len(counts)
    if counts.shape != (K, K) or n <= 0 or np.any(counts < 0):
        raise InputError("expected a square table of counts, not all 0")
    v = 1 - np.eye(K) if disagreement is None else np.asarray(disagreement, dtype=float)
    if v.shape != (K, K) or np.any(np.diag(v) != 0) or np.any(v < 0) or v.max() <= 0:
        raise InputError("weights of disagreement are 0 on the diagonal and 0 or more elsewhere")
    p = counts / n
    rows, columns = p.sum(axis=1), p.sum(axis=0)
    by_chance = float(rows @ v @ columns)
    if by_chance <= 0:
        return NotAvailable("both jurors gave one level only")
    kappa = 1 - float(np.sum(v * p)) / by_chance
    w = 1 - v / v.max()
    chance = float(rows @ w @ columns)
    spread = w - ((w @ columns)[:, None] + rows @ w) * (1 - kappa)
    variance = float(np.sum(p * spread**2)) - (kappa - chance * (1 - kappa)) ** 2
    se = float(np.sqrt(max(variance, 0.0) / n)) / (1 - chance)
    half = float(stats.norm.ppf(0.975)) * se
    return Estimate(kappa, (kappa - half, kappa + half), f"normal, standard error {se:.4f}")


def fleiss_kappa(counts: Sequence[Sequence[float]]) -> float | NotAvailable:
    """Fleiss' κ of nominal levels, the same number of jurors for every scheme [1].

    counts   schemes × levels, how many jurors gave each level

    Source: Fleiss 1971, Psychol. Bull. 76:378.
    """
    table = np.asarray(counts, dtype=float)
    m = table.sum(axis=1)
    if table.ndim != 2 or np.any(m != m[0]) or m[0] < 2:
        raise InputError("expected the same number of jurors, 2 or more, for every scheme")
    share = table.sum(axis=0) / table.sum()
    by_chance = float(share @ share)
    if by_chance >= 1:
        return NotAvailable("every juror gave the same level")
    observed = float(np.mean((np.sum(table**2, axis=1) - m) / (m * (m - 1))))
    return (observed - by_chance) / (1 - by_chance)


def _f_of_w(W: float, n: int, m: int) -> Tested | NotAvailable:
    if W >= 1 - 1e-12:
        return NotAvailable("every juror has the same order")
    first = n - 1 - 2 / m
    second = (m - 1) * first
    F = (m - 1) * W / (1 - W)
    return Tested(F, first, float(stats.f.sf(F, first, second)), f"F on {first:.4g}, {second:.4g}")


def _ties(column: Matrix) -> Matrix:
    return np.unique(column, return_counts=True)[1].astype(float)


def _largest_block(cells: Cells) -> NDArray[np.float64] | None:
    """The most cells in a block of 3 schemes and 2 jurors or more with none missing.

    Every set of up to 12 jurors is tried; of more jurors, the panels that sat.
    """
    m = len(cells.jurors)
    best: tuple[int, NDArray[np.bool_], list[int]] | None = None
    choices: Iterable[list[int]]
    if m <= MOST_JURORS_SEARCHED:
        choices = (list(c) for size in range(m, 1, -1) for c in combinations(range(m), size))
    else:
        panels = np.unique(cells.seen, axis=0)
        choices = (list(np.flatnonzero(panel)) for panel in panels if panel.sum() > 1)
    for columns in choices:
        rows = cells.seen[:, columns].all(axis=1)
        size = int(rows.sum()) * len(columns)
        if rows.sum() >= 3 and (best is None or size > best[0]):
            best = size, rows, columns
    return None if best is None else cells.values[np.ix_(best[1], best[2])]

"""Agreement in order, agreement to the level, and pairs of jurors.

Kendall's W asks whether jurors put the schemes in the same order. The shares
of exact and near agreement stand beside every coefficient, since they can be
checked by counting.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.tails import share_beyond_f

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


def _f_of_w(W: float, n: int, m: int) -> Tested | NotAvailable:
    if W >= 1 - 1e-12:
        return NotAvailable("every juror has the same order")
    first = n - 1 - 2 / m
    second = (m - 1) * first
    F = (m - 1) * W / (1 - W)
    return Tested(F, first, share_beyond_f(F, first, second), f"F on {first:.4g}, {second:.4g}")


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
        rows: NDArray[np.bool_] = np.all(cells.seen[:, columns], axis=1)
        size = int(rows.sum()) * len(columns)
        if rows.sum() >= 3 and (best is None or size > best[0]):
            best = size, rows, columns
    return None if best is None else cells.values[best[1]][:, best[2]]

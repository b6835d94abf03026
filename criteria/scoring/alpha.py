"""Krippendorff's α: agreement of any number of jurors on one criterion, gaps allowed.

        α = 1 − D_o/D_e
        D_o = Σ_u Σ_(pairs in u) δ²/(m_u − 1)        D_e = Σ_(all pairs) δ²/(n − 1)

        m_u   levels given to scheme u, two or more
        n     all levels of such schemes
        δ²    0 or 1 (nominal), (c − k)² (interval), ((c − k)/(c + k))² (ratio), or
              the squared number of levels given between c and k, each end half
              (ordinal), which is the interval distance between mid-ranks

Source: Krippendorff, Content Analysis; the same in Hayes and Krippendorff
    2007, from memory.
"""

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.estimates import Estimate, NotAvailable

MOST_VALUES = 3_000
"""Most unlike values for which the ratio distance of each two is worked out."""

CONSTANT = "not estimable, every juror gave the same level"


class Metric(Enum):
    """How far apart two levels are."""

    NOMINAL = "nominal"
    ORDINAL = "ordinal"
    INTERVAL = "interval"
    RATIO = "ratio"


@dataclass(frozen=True, eq=False)
class _Pairable:
    """Counts of each unlike value in each scheme with two levels or more.

    values   K, rising
    counts   u × K
    """

    values: Matrix
    counts: Matrix


def alpha(cells: Cells, metric: Metric = Metric.ORDINAL) -> float | NotAvailable:
    """α of one table, without an interval [1].

    Not available where every level is the same (there is then nothing to
    agree on, and 1 would be a boast) or no scheme has two jurors.
    """
    pairable = _pairable(cells)
    if isinstance(pairable, NotAvailable):
        return pairable
    if metric is Metric.RATIO:
        return _ratio(pairable.values, pairable.counts)
    return _alpha(pairable, metric)


def _alpha(pairable: _Pairable, metric: Metric) -> float:
    values, counts = pairable.values, pairable.counts
    marginal = counts.sum(axis=0)
    if metric is Metric.NOMINAL:
        m = counts.sum(axis=1)
        observed = float(np.sum((m**2 - np.sum(counts**2, axis=1)) / (m - 1)))
        n = marginal.sum()
        return 1 - observed / float((n**2 - np.sum(marginal**2)) / (n - 1))
    scale = values if metric is Metric.INTERVAL else _midranks(marginal)
    return _by_squares(scale - scale.mean(), counts)


def alpha_interval(
    cells: Cells, metric: Metric = Metric.ORDINAL, *, draws: int = 1_000, seed: int = 1
) -> Estimate | NotAvailable:
    """α with the middle 95 % of `draws` in which the schemes are drawn anew.

    For ordinal and interval distances. Draws in which every level is the same
    are left out; there is no closed formula in general use.
    """
    if metric not in (Metric.ORDINAL, Metric.INTERVAL):
        return NotAvailable("intervals are made for ordinal and interval distances")
    pairable = _pairable(cells)
    if isinstance(pairable, NotAvailable):
        return pairable
    value = _alpha(pairable, metric)
    simulated = _redrawn(pairable, metric, draws, seed)
    if len(simulated) < draws / 2:
        reason = NotAvailable("too few schemes differ for the draws")
        return Estimate(value, reason, "no interval")
    low, high = (float(end) for end in np.quantile(simulated, (0.025, 0.975)))
    return Estimate(value, (low, high), f"{draws} draws of schemes, seed {seed}")


def _pairable(cells: Cells) -> _Pairable | NotAvailable:
    rows = cells.jurors_per_scheme >= 2
    if not rows.any():
        return NotAvailable("no scheme was seen by two jurors")
    seen, given = cells.seen[rows], cells.values[rows]
    values, place = np.unique(given[seen], return_inverse=True)
    if len(values) < 2:
        return NotAvailable(CONSTANT)
    counts = np.zeros((int(rows.sum()), len(values)))
    np.add.at(counts, (np.nonzero(seen)[0], place), 1)
    return _Pairable(values.astype(float), counts)


def _midranks(marginal: Matrix) -> Matrix:
    return np.cumsum(marginal, axis=-1) - marginal / 2


def _by_squares(scale: Matrix, counts: Matrix) -> float:
    m = counts.sum(axis=1)
    n = m.sum()
    observed = np.sum((m * (counts @ scale**2) - (counts @ scale) ** 2) / (m - 1))
    marginal = counts.sum(axis=0)
    expected = (n * (marginal @ scale**2) - (marginal @ scale) ** 2) / (n - 1)
    return float(1 - observed / expected)


def _ratio(values: Matrix, counts: Matrix) -> float | NotAvailable:
    if values[0] < 0:
        return NotAvailable("ratios need levels of 0 or more")
    if len(values) > MOST_VALUES:
        return NotAvailable(f"more than {MOST_VALUES} unlike values")
    sums = values[:, None] + values
    distance = np.where(sums > 0, (values[:, None] - values) / np.where(sums > 0, sums, 1), 0) ** 2
    m, marginal = counts.sum(axis=1), counts.sum(axis=0)
    observed = float(np.sum(np.sum(counts @ distance * counts, axis=1) / (m - 1)))
    return 1 - observed / float(marginal @ distance @ marginal / (m.sum() - 1))


def _redrawn(pairable: _Pairable, metric: Metric, draws: int, seed: int) -> Matrix:
    """α of each draw, all draws at once; the ordinal distance is worked out anew in each."""
    counts = pairable.counts
    units, K = counts.shape
    m = counts.sum(axis=1)
    rng = np.random.default_rng(seed)
    result: list[NDArray[np.float64]] = []
    block = max(1, int(4_000_000 / max(units, K * K)))
    for start in range(0, draws, block):
        size = min(block, draws - start)
        weight = rng.multinomial(units, np.full(units, 1 / units), size=size).astype(float)
        marginal = weight @ counts
        n = marginal.sum(axis=1)
        scale = (
            _midranks(marginal)
            if metric is Metric.ORDINAL
            else np.broadcast_to(pairable.values - pairable.values.mean(), marginal.shape)
        )
        first = (weight @ (counts * (m / (m - 1))[:, None])) * scale**2
        if K <= 12:
            products = (counts[:, :, None] * counts[:, None, :]) / (m - 1)[:, None, None]
            crossed = (weight @ products.reshape(units, K * K)).reshape(size, K, K)
            second = np.einsum("bk,bkl,bl->b", scale, crossed, scale)
        else:
            second = np.sum(weight * (scale @ counts.T) ** 2 / (m - 1), axis=1)
        observed = first.sum(axis=1) - second
        expected = n * np.sum(marginal * scale**2, axis=1) - np.sum(marginal * scale, axis=1) ** 2
        alive = np.count_nonzero(marginal, axis=1) > 1
        result.append(1 - observed[alive] / (expected[alive] / (n[alive] - 1)))
    return np.concatenate(result)

"""Did the order of the day matter? Tested as the order allows, two-sided, never corrected for.

Where all jurors saw the schemes in one order, what the additive model leaves
over sums to 0 within each scheme: setting it against the place in the order
is a test that can never fire. Then only the levels themselves can be set
against the order, which says something only if the order was drawn by lot.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import permutations
from math import factorial

import numpy as np
from scipy import stats

from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.components import normal_equations
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.severity import Severity, residuals, solve
from criteria.scoring.tails import t_beyond

EXACT_UP_TO = 8
PERMUTATIONS = 9_999
PLACES = 10
"""Slopes are given for so many places in the day."""

Positions = Mapping[tuple[str, str], float]


@dataclass(frozen=True, slots=True)
class OrderOfTheDay:
    """What the order of the day has to do with the levels.

    same_order   whether every juror saw the schemes in one order
    trend        change of the level over 10 places [level]
    test         of rank correlation by permutation where the order is the same;
                 of the slope in the additive model where it differs
    carry_over   change of a juror's level for each level of the scheme before
                 [1]; below 0 contrast, above 0 assimilation
    caution      what the test rests on
    """

    same_order: bool
    trend: Estimate | NotAvailable
    test: Tested | NotAvailable
    carry_over: Estimate | NotAvailable
    caution: str


def order_of_the_day(
    severity: Severity, levels: Matrix, positions: Positions, *, seed: int = 1
) -> OrderOfTheDay | NotAvailable:
    """Test the order of one day.

    levels      of the schemes, raw or adjusted, as published
    positions   by (scheme, juror), from 1
    """
    cells = severity.cells
    places = _grid(cells, positions)
    if places is None:
        return NotAvailable("the file does not give every scheme's position")
    slots = [set(places[i, cells.seen[i]]) for i in range(len(cells.schemes))]
    if all(len(slot) == 1 for slot in slots):
        slot = np.array([next(iter(one)) for one in slots])
        return OrderOfTheDay(
            same_order=True,
            trend=_times(regression(slot, levels, "positions"), PLACES),
            test=permutation_test(levels, slot, seed=seed),
            carry_over=NotAvailable("all jurors saw one order, so it can't be seen"),
            caution="Valid only if the order was drawn by lot.",
        )
    trend, test = slot_effect(cells, places)
    return OrderOfTheDay(
        same_order=False,
        trend=_times(trend, PLACES),
        test=test,
        carry_over=_carry_over(severity, places),
        caution="Orders differ, so schemes and places can be told apart.",
    )


def permutation_test(x: Matrix, y: Matrix, *, seed: int = 1) -> Tested | NotAvailable:
    """Spearman's rank correlation, its p from permutations, two-sided.

    Every permutation up to 8 values, 9 999 drawn ones beyond; counted with
    the order itself among them.

    Source: Pitman 1937; Edgington, Randomization Tests.
    """
    if len(x) < 4:
        return NotAvailable("fewer than 4 schemes")
    a, b = (stats.rankdata(values) - (len(x) + 1) / 2 for values in (x, y))
    length = float(np.sqrt((a @ a) * (b @ b)))
    if length < 1e-12:
        return NotAvailable("the levels don't vary")
    r = float(a @ b) / length
    if len(x) <= EXACT_UP_TO:
        shuffled = np.array([a[list(order)] for order in permutations(range(len(x)))])
        as_far = int(np.sum(np.abs(shuffled @ b) / length >= abs(r) - 1e-12))
        return Tested(r, None, as_far / factorial(len(x)), "Spearman, every permutation")
    rng = np.random.default_rng(seed)
    shuffled = rng.permuted(np.tile(a, (PERMUTATIONS, 1)), axis=1)
    as_far = 1 + int(np.sum(np.abs(shuffled @ b) / length >= abs(r) - 1e-12))
    method = f"Spearman, {PERMUTATIONS} permutations, seed {seed}"
    return Tested(r, None, as_far / (PERMUTATIONS + 1), method)


def regression(x: Matrix, y: Matrix, what: str) -> Estimate | NotAvailable:
    """Slope of y on x by least squares, with a t interval [unit of y for each unit of x]."""
    if x.size < 4:
        return NotAvailable(f"fewer than 4 {what}")
    dx, dy = x - x.mean(), y - y.mean()
    if dx @ dx < 1e-12 * max(1.0, float(np.abs(x).max())) ** 2:
        return NotAvailable(f"the {what} don't differ")
    slope = float(dx @ dy / (dx @ dx))
    left = dy - slope * dx
    df = x.size - 2
    half = t_beyond(0.025, df) * float(np.sqrt(left @ left / df / (dx @ dx)))
    return Estimate(slope, (slope - half, slope + half), f"t on {df}")


def slot_effect(
    cells: Cells, places: Matrix, confidence: float = 0.95
) -> tuple[Estimate | NotAvailable, Tested | NotAvailable]:
    """Slope of the level on the place, in the additive model of scheme, juror and place.

    places   n × m; anything where nothing is seen

    By clearing both of schemes and jurors first, and setting one against the
    other (Frisch and Waugh 1933).
    """
    n = len(cells.schemes)
    M, _ = normal_equations(cells.counts, cells.values)
    df = cells.size - n - int(np.linalg.matrix_rank(M, tol=1e-9)) - 1
    if df < 1:
        none = NotAvailable("too few levels to tell places apart")
        return none, none
    x = _cleared(cells, np.where(cells.seen, places, 0.0))
    y = residuals(cells, solve(cells.counts, cells.values, 0.0))
    length = float(np.sum(x**2))
    if length < 1e-9:
        none = NotAvailable("places go with schemes or jurors, so they can't be told apart")
        return none, none
    slope = float(np.sum(x * y)) / length
    error = float(np.sum((y - slope * x) ** 2)) / df
    if error < 1e-12 * max(1.0, cells.scale) ** 2:
        return Estimate(slope, (slope, slope), "no residual variation"), NotAvailable(
            "no residual variation"
        )
    se = float(np.sqrt(error / length))
    t = slope / se
    half = t_beyond((1 - confidence) / 2, df) * se
    how = f"t on {df}, standard error {se:.6g}"
    return (
        Estimate(slope, (slope - half, slope + half), how, confidence),
        Tested(t, float(df), float(2 * stats.t.sf(abs(t), df)), f"t on {df}"),
    )


def _carry_over(severity: Severity, places: Matrix) -> Estimate | NotAvailable:
    cells, levels = severity.cells, severity.adjusted.schemes
    left = residuals(cells, severity.least_squares)
    before, now = [], []
    for j in range(len(cells.jurors)):
        rows = np.flatnonzero(cells.seen[:, j])
        rows = rows[np.argsort(places[rows, j], kind="stable")]
        before += levels[rows[:-1]].tolist()
        now += left[rows[1:], j].tolist()
    return regression(np.array(before), np.array(now), "levels before")


def _cleared(cells: Cells, numbers: Matrix) -> Matrix:
    table = Cells(cells.schemes, cells.jurors, numbers, cells.seen)
    return residuals(table, solve(cells.counts, numbers, 0.0))


def _grid(cells: Cells, positions: Positions) -> Matrix | None:
    grid = np.zeros(cells.values.shape)
    for i, j in zip(*np.nonzero(cells.seen), strict=True):
        place = positions.get((cells.schemes[i], cells.jurors[j]))
        if place is None:
            return None
        grid[i, j] = place
    return grid


def _times(slope: Estimate | NotAvailable, factor: float) -> Estimate | NotAvailable:
    if isinstance(slope, NotAvailable) or not isinstance(slope.interval, tuple):
        return slope
    ends = slope.interval[0] * factor, slope.interval[1] * factor
    return Estimate(slope.value * factor, ends, slope.method)

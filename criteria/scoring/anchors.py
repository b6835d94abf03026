"""Two years on one scale: schemes of the old cohort rated again by the new jury.

Without such anchors, a kinder jury and a stronger cohort look the same.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import stats

from criteria.scoring.cells import Cells
from criteria.scoring.connections import groups
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.severity import residuals, solve

ENOUGH = 1 / 3
"""A link is good enough when its error is less than this share of the difference that matters."""


@dataclass(frozen=True, slots=True)
class Anchor:
    """One scheme rated in both years.

    shift   mean of the new jury less mean of the old [level]
    off     its distance from the mean shift of all anchors [level]
    drifts  whether that is more than chance allows at 95 %, all anchors together
    """

    scheme: str
    shift: float
    off: float
    drifts: bool


@dataclass(frozen=True, slots=True)
class Equated:
    """This cohort against the other, on one scale.

    difference   of the cohorts' mean levels, this less other, severity out [level]
    link_error   standard error of the link alone [level]
    good_enough  whether it is less than a third of the difference that matters
    """

    difference: Estimate
    link_error: float
    good_enough: bool
    anchors: tuple[Anchor, ...]
    words: str


def equate(this: Cells, other: Cells, again: Cells, *, matters: float) -> Equated | NotAvailable:
    """Compare two cohorts through schemes of the other that this year's jury rated too.

    this      this cohort by this jury
    other     the other cohort by its own jury
    again     some of the other cohort's schemes, by this jury
    matters   the difference that one cares for [level]

    One additive model over all three, least squares; a juror who sat in both
    years counts as two, since people change. The error of the link is about
    √(σ²e (1/k_old + 1/k_new)/A) for A anchors.

    Source: common-item design of Kolen and Brennan 2014, Test Equating; the
        additive model in place of their equating function.
    """
    strangers = sorted(set(again.schemes) - set(other.schemes))
    if strangers:
        return NotAvailable(f"not schemes of the other cohort: {', '.join(strangers)}")
    numbers: dict[tuple[str, str], float] = {}
    for cells, year, cohort in (
        (this, "new", "this"),
        (other, "old", "other"),
        (again, "new", "other"),
    ):
        for i, j in zip(*np.nonzero(cells.seen), strict=True):
            key = f"{cohort} {cells.schemes[i]}", f"{year} {cells.jurors[j]}"
            numbers[key] = float(cells.values[i, j])
    joined = Cells.of(numbers)
    if len(groups(joined.seen)) > 1:
        return NotAvailable("the anchors don't join the two years")
    solution = solve(joined.counts, joined.values, 0.0)
    left = residuals(joined, solution)
    df = joined.size - len(joined.schemes) - len(joined.jurors) + 1
    if df < 2:
        return NotAvailable("too few levels to say how sure the link is")
    error = float(np.sum(left**2)) / df
    new = np.array([name.startswith("this ") for name in joined.schemes])
    contrast = np.where(new, 1 / new.sum(), -1 / (~new).sum())
    value = float(contrast @ solution.schemes)
    through = contrast @ solution.H
    variance = error * float(contrast**2 @ (1 / solution.r) + through @ solution.K @ through)
    half = float(stats.t.ppf(0.975, df)) * np.sqrt(variance)
    found, link_error = _anchors(other, again, error, df)
    good = link_error < ENOUGH * matters
    drifting = [anchor.scheme for anchor in found if anchor.drifts]
    words = (
        f"{len(found)} anchors; standard error of the link {shown(link_error, 2)} level, "
        f"{'less' if good else 'not less'} than a third of {matters:g}"
    )
    if drifting:
        words += f"; drifting, look at them: {', '.join(drifting)}"
    estimate = Estimate(value, (value - half, value + half), f"additive model, t on {df}")
    return Equated(estimate, link_error, good, found, words)


def _anchors(other: Cells, again: Cells, error: float, df: int) -> tuple[tuple[Anchor, ...], float]:
    names: Sequence[str] = again.schemes
    places = [other.schemes.index(name) for name in names]
    shifts = again.raw - other.raw[places]
    precise = 1 / (1 / again.jurors_per_scheme + 1 / other.jurors_per_scheme[places])
    centre = float(np.sum(precise * shifts) / np.sum(precise))
    link_error = float(np.sqrt(error / np.sum(precise)))
    off = shifts - centre
    se = np.sqrt(error * np.maximum(1 / precise - 1 / np.sum(precise), 0))
    limit = float(stats.t.isf(0.025 / len(names), df))
    return (
        tuple(
            Anchor(name, float(shift), float(far), bool(abs(far) > limit * s + 1e-9))
            for name, shift, far, s in zip(names, shifts, off, se, strict=True)
        ),
        link_error,
    )

"""Jurors one by one: lean, agreement, scatter, flatness, drift, and when to have a talk.

What accuses is a test: of like jurors each names one in at most 5 of 100 crits, shared out over
the jurors, and so do all of them together, over all. Operating characteristics:
`python -m tests.benchmarks.adjust_rule`.
"""

from dataclasses import dataclass
from math import sqrt
from statistics import fmean

import numpy as np

from criteria.scoring.cells import Cells
from criteria.scoring.effects import FALSE_ALARMS, Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import WeightedLevel, shown
from criteria.scoring.order import regression, slot_effect
from criteria.scoring.panel import Panel
from criteria.scoring.severity import JurorEffect, Severity, lean_out, residuals
from criteria.scoring.slopes import FEWEST_FOR_AGREEMENT, Stretch, correlation, slopes
from criteria.scoring.tails import share_beyond_f, t_beyond

GAP = 0.75
AGREEMENT = 0.5
FLAT = 0.25
DRIFT = 0.6
"""Less than this is nothing to talk about, in levels of five. Common practice; none is a verdict,
and none is said unless a test says too that it is more than chance."""

DRIFTING = 0.4
"""Share of its level at which drift is tested [1], so that the tests together name one of like
jurors in 5 of 100 crits at most, over all."""

FEWEST_FOR_FLAT = 4


@dataclass(frozen=True, slots=True)
class JurorProfile:
    """How one juror used the levels. Unit: level, unless said.

    schemes     how many sheets are complete
    mean, sd    of this juror's weighted levels
    gap         mean distance from the mean of the other jurors on the same schemes
    effect      severity, from the equations of `severity`
    agreement   correlation with the mean of the others on the same schemes [1]
    stretch     slope and correlation on it once every severity is out [1]
    scatter     root mean square of what severity leaves over (divisor n)
    more_scatter   F of this juror's leftover variance over that of the others
    flatness    mean over schemes of the deviation (divisor n) between criteria
    drift       change of the gap for each place in the day [level/place]
    halo        mean correlation between this juror's criteria, schemes taken out [1]
    flags       what to talk about, in words
    """

    juror: str
    schemes: int
    mean: float
    sd: float | NotAvailable
    gap: float | NotAvailable
    effect: JurorEffect
    agreement: float | NotAvailable
    stretch: Stretch
    scatter: float | NotAvailable
    more_scatter: Tested | NotAvailable
    flatness: float | NotAvailable
    drift: Estimate | NotAvailable
    halo: float | NotAvailable
    flags: tuple[str, ...]


def profiles(panel: Panel, severity: Severity) -> tuple[JurorProfile, ...]:
    """A profile of each juror with a complete sheet."""
    cells = severity.cells
    left = residuals(cells, severity.least_squares)
    without_lean = lean_out(cells, severity.least_squares)
    stretches = slopes(cells)
    tail = FALSE_ALARMS / len(cells.jurors)
    spreads = _spreads(panel)
    tables = [table for name in panel.criteria if (table := panel.criterion(name))]
    result = []
    for j, juror in enumerate(cells.jurors):
        own, rest, _ = cells.others(j)
        seen = cells.seen[:, j]
        values = cells.values[seen, j]
        gap = float((own - rest).mean()) if own.size else NotAvailable("no scheme with others")
        scatter: float | NotAvailable = NotAvailable("severity can't be estimated")
        if severity.components:
            scatter = float(np.sqrt(np.mean(left[seen, j] ** 2)))
        more = scatter_test(severity, j)
        flatness, flatter = _flatness(spreads, juror, tail)
        agreement = correlation(own, rest, FEWEST_FOR_AGREEMENT)
        effect, stretch = severity.jurors[j], stretches[juror]
        flags = (
            *_lean_flags(gap, effect, panel.scale_unit),
            *([stretch.words] if stretch.words else []),
            *_scatter_flags(scatter, more, agreement, len(own), tail),
            *_flat_flags(flatness, flatter, panel.scale_unit),
            *_drift_flags(
                _drift_beside_all(panel, cells, j, 1 - DRIFTING * tail),
                _drift(panel, without_lean, j),
                panel,
                juror,
            ),
        )
        result.append(
            JurorProfile(
                juror=juror,
                schemes=len(values),
                mean=float(values.mean()),
                sd=float(values.std(ddof=1))
                if len(values) > 1
                else NotAvailable("one scheme only"),
                gap=gap,
                effect=effect,
                agreement=agreement,
                stretch=stretch,
                scatter=scatter,
                more_scatter=more,
                flatness=flatness,
                drift=_drift(panel, cells, j),
                halo=_halo(tables, juror),
                flags=flags,
            )
        )
    return tuple(result)


def scatter_test(severity: Severity, j: int) -> Tested | NotAvailable:
    """F of one juror's leftover variance over that of the others, one-sided.

        F = (Σ e²_j / ν_j) / (Σ e²_others / (ν − ν_j))        ν_j = Σ (1 − h_ij)

        e    what scheme and juror leave over by least squares
        h    leverage of a cell, so that ν_j is this juror's share of ν

    What is left over of one juror is in part left over of the others, so F is a little
    smaller than its table says, and the test names less often than it might.
    """
    cells, squares = severity.cells, severity.least_squares
    if isinstance(severity.components, NotAvailable):
        return severity.components
    left = residuals(cells, squares) ** 2
    free = np.where(cells.seen, 1 - squares.fitted_variances, 0.0)
    own, others = float(free[:, j].sum()), float(free.sum() - free[:, j].sum())
    rest = float(left.sum() - left[:, j].sum())
    if min(own, others) < 1e-9 or rest <= 1e-12 * max(1.0, cells.scale) ** 2:
        return NotAvailable("the others leave nothing over to compare with")
    F = float(left[:, j].sum()) / own / (rest / others)
    return Tested(F, own, share_beyond_f(F, own, others), f"F on {own:.3g}, {others:.3g}")


def _lean_flags(gap: float | NotAvailable, effect: JurorEffect, unit: float) -> list[str]:
    if isinstance(gap, NotAvailable) or not effect.is_apart or abs(gap) < GAP * unit:
        return []
    way = "above" if gap > 0 else "below"
    return [f"{shown(abs(gap), 2)} {way} the others on the same schemes"]


def _scatter_flags(
    scatter: float | NotAvailable,
    more: Tested | NotAvailable,
    agreement: float | NotAvailable,
    schemes: int,
    tail: float,
) -> list[str]:
    if isinstance(scatter, NotAvailable) or isinstance(more, NotAvailable) or more.p >= tail:
        return []
    words = (
        f"leftover scatter {shown(scatter, 2)}, {shown(more.statistic**0.5, 1)} times the others'"
    )
    if not isinstance(agreement, NotAvailable) and agreement < AGREEMENT:
        words += f": orders the schemes otherwise (r {shown(agreement, 2)} over {schemes} schemes)"
    return [words]


def _flat_flags(flatness: float | NotAvailable, flatter: bool, unit: float) -> list[str]:
    if isinstance(flatness, NotAvailable) or not flatter or flatness >= FLAT * unit:
        return []
    return [f"much the same level for every criterion (spread {shown(flatness, 2)})"]


def _drift_flags(
    drift: Estimate | NotAvailable, own: Estimate | NotAvailable, panel: Panel, juror: str
) -> list[str]:
    """Named where it is more than all jurors scatter, and more than this one does."""
    if isinstance(drift, NotAvailable) or drift.holds(0):
        return []
    if isinstance(own, NotAvailable) or own.holds(0):
        return []
    places = [place for (_, name), place in panel.positions.items() if name == juror]
    total = drift.value * (max(places) - min(places) + 1)
    if abs(total) < DRIFT * panel.scale_unit:
        return []
    slope, over = (
        shown(value, places, signed=True) for value, places in ((drift.value, 2), (total, 1))
    )
    return [f"drifts {slope} for each place, {over} over the day"]


def _spreads(panel: Panel) -> dict[str, dict[str, float]]:
    """Deviation between the criteria of each sheet with two or more, by scheme and juror."""
    found: dict[str, dict[str, float]] = {}
    for (scheme, juror), sheet in panel.sheets.items():
        if isinstance(sheet, WeightedLevel) and len(sheet.terms) > 1:
            levels = [float(term.level) for term in sheet.terms]
            mean = fmean(levels)
            spread = sqrt(fmean((level - mean) ** 2 for level in levels))
            found.setdefault(scheme, {})[juror] = spread
    return found


def _flatness(
    spreads: dict[str, dict[str, float]], juror: str, tail: float
) -> tuple[float | NotAvailable, bool]:
    """A juror's mean spread, and whether it is less than the others' on the same schemes."""
    own = [by_juror[juror] for by_juror in spreads.values() if juror in by_juror]
    if not own:
        return NotAvailable("one criterion only"), False
    less = np.array(
        [
            by_juror[juror] - fmean(spread for name, spread in by_juror.items() if name != juror)
            for by_juror in spreads.values()
            if juror in by_juror and len(by_juror) > 1
        ]
    )
    if less.size < FEWEST_FOR_FLAT:
        return float(np.mean(own)), False
    reach = t_beyond(tail, less.size - 1) * float(less.std(ddof=1)) / np.sqrt(less.size)
    return float(np.mean(own)), bool(less.mean() + reach < 0)


def _drift_beside_all(
    panel: Panel, cells: Cells, j: int, confidence: float
) -> Estimate | NotAvailable:
    """The same drift in the additive model of schemes, jurors and this juror's places.

    It is held to what all jurors leave over, which is known far better than what one does.
    """
    places = np.zeros(cells.values.shape)
    for i in np.flatnonzero(cells.seen[:, j]):
        place = panel.positions.get((cells.schemes[i], cells.jurors[j]))
        if place is None:
            return NotAvailable("the file gives no position")
        places[i, j] = place
    return slot_effect(cells, places, confidence)[0]


def _drift(panel: Panel, cells: Cells, j: int) -> Estimate | NotAvailable:
    """Slope of a juror's gap to the mean of the others on the place in the day."""
    own, rest, rows = cells.others(j)
    places = [panel.positions.get((cells.schemes[i], cells.jurors[j])) for i in rows]
    known = [k for k, place in enumerate(places) if place is not None]
    if not known:
        return NotAvailable("the file gives no position")
    x = np.array([places[k] for k in known], dtype=float)
    return regression(x, (own - rest)[known], "positions")


def _halo(tables: list[Cells], juror: str) -> float | NotAvailable:
    """Mean correlation between criteria of what this juror adds to each scheme's mean."""
    columns: list[dict[str, float]] = []
    for table in tables:
        if juror not in table.jurors:
            continue
        own, rest, rows = table.others(table.jurors.index(juror))
        columns.append({table.schemes[i]: gap for i, gap in zip(rows, own - rest, strict=True)})
    both = sorted(set.intersection(*(set(c) for c in columns))) if len(columns) > 1 else []
    if len(both) < 4:
        return NotAvailable("needs 2 criteria and 4 schemes seen with others")
    grid = np.array([[column[scheme] for scheme in both] for column in columns])
    grid = grid[grid.std(axis=1) > 1e-9]
    if len(grid) < 2:
        return NotAvailable("the criteria don't vary")
    r = np.corrcoef(grid)
    return float(r[np.triu_indices(len(grid), 1)].mean())

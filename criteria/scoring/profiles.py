"""Jurors one by one: lean, agreement, scatter, flatness, drift, and when to have a talk."""

from dataclasses import dataclass

import numpy as np
from scipy import stats

from criteria.scoring.adjusting import slopes
from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.panel import Panel
from criteria.scoring.severity import JurorEffect, Severity, residuals

GAP = 0.75
AGREEMENT = 0.5
AGREEMENT_OVER = 8
SCATTER = 2.0
FLAT = 0.25
DRIFT = 0.6
"""When a figure asks for a conversation, in levels of five. Common practice; none is a verdict."""


@dataclass(frozen=True, slots=True)
class JurorProfile:
    """How one juror used the levels. Unit: level, unless said.

    schemes     how many sheets are complete
    mean, sd    of this juror's weighted levels
    gap         mean distance from the mean of the other jurors on the same schemes
    effect      severity, from the equations of `severity`
    agreement   correlation with the mean of the others [1]
    slope       change for each level of the others [1]
    scatter     root mean square of what severity leaves over (divisor n)
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
    slope: float | NotAvailable
    scatter: float | NotAvailable
    flatness: float | NotAvailable
    drift: Estimate | NotAvailable
    halo: float | NotAvailable
    flags: tuple[str, ...]


def profiles(panel: Panel, severity: Severity) -> tuple[JurorProfile, ...]:
    """A profile of each juror with a complete sheet."""
    cells = severity.cells
    left = residuals(cells, severity.least_squares)
    leaning = slopes(cells)
    scatters = [
        float(np.sqrt(np.mean(left[cells.seen[:, j], j] ** 2))) for j in range(len(cells.jurors))
    ]
    estimable = not isinstance(severity.components, NotAvailable)
    tables = [panel.criterion(name) for name in panel.criteria]
    result = []
    for j, juror in enumerate(cells.jurors):
        own, rest, _ = cells.others(j)
        values = cells.values[cells.seen[:, j], j]
        found = leaning[juror]
        slope, r = (found, found) if isinstance(found, NotAvailable) else found
        scatter: float | NotAvailable = (
            scatters[j] if estimable else NotAvailable("severity can't be estimated")
        )
        profile = JurorProfile(
            juror=juror,
            schemes=len(values),
            mean=float(values.mean()),
            sd=float(values.std(ddof=1)) if len(values) > 1 else NotAvailable("one scheme only"),
            gap=float((own - rest).mean()) if own.size else NotAvailable("no scheme with others"),
            effect=severity.jurors[j],
            agreement=r,
            slope=slope,
            scatter=scatter,
            flatness=_flatness(panel, juror),
            drift=_drift(panel, cells, j),
            halo=_halo([table for table in tables if isinstance(table, Cells)], juror),
            flags=(),
        )
        smallest = min((s for k, s in enumerate(scatters) if k != j), default=0.0)
        result.append(_flagged(profile, panel, smallest))
    return tuple(result)


def _flagged(profile: JurorProfile, panel: Panel, smallest: float) -> JurorProfile:
    unit = panel.scale_unit
    said: list[str] = []
    gap, r, scatter, flat, drift = (
        profile.gap,
        profile.agreement,
        profile.scatter,
        profile.flatness,
        profile.drift,
    )
    if not isinstance(gap, NotAvailable) and abs(gap) >= GAP * unit:
        way = "above" if gap > 0 else "below"
        said.append(f"{shown(abs(gap), 2)} {way} the others on the same schemes")
    if not isinstance(r, NotAvailable) and r < AGREEMENT and profile.schemes >= AGREEMENT_OVER:
        said.append(
            f"orders the schemes otherwise than the others (r {shown(r, 2)} over "
            f"{profile.schemes} schemes)"
        )
    if not isinstance(scatter, NotAvailable) and smallest > 0 and scatter > SCATTER * smallest:
        said.append(
            f"leftover scatter {shown(scatter, 2)}, more than twice the smallest "
            f"({shown(smallest, 2)})"
        )
    if not isinstance(flat, NotAvailable) and flat < FLAT * unit:
        said.append(f"much the same level for every criterion (spread {shown(flat, 2)})")
    if isinstance(drift, Estimate):
        places = [place for (_, juror), place in panel.positions.items() if juror == profile.juror]
        total = drift.value * (max(places) - min(places) + 1)
        if abs(total) >= DRIFT * unit:
            sure = "" if not drift.holds(0) else "; the interval holds no drift at all"
            said.append(
                f"drifts {shown(drift.value, 2, signed=True)} for each place, "
                f"{shown(total, 1, signed=True)} over the day{sure}"
            )
    return JurorProfile(
        **{name: getattr(profile, name) for name in profile.__slots__ if name != "flags"},
        flags=tuple(said),
    )


def _flatness(panel: Panel, juror: str) -> float | NotAvailable:
    spreads = []
    for (_, name), sheet in panel.sheets.items():
        if name == juror and sheet.available and len(sheet.terms) > 1:
            levels = [float(term.level) for term in sheet.terms]
            spreads.append(float(np.std(levels)))
    return float(np.mean(spreads)) if spreads else NotAvailable("one criterion only")


def _drift(panel: Panel, cells: Cells, j: int) -> Estimate | NotAvailable:
    own, rest, rows = cells.others(j)
    places = [panel.positions.get((cells.schemes[i], cells.jurors[j])) for i in rows]
    known = [k for k, place in enumerate(places) if place is not None]
    if not known:
        return NotAvailable("the file gives no position")
    return regression(
        np.array([places[k] for k in known], dtype=float), (own - rest)[known], "positions"
    )


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
    half = float(stats.t.ppf(0.975, df) * np.sqrt(left @ left / df / (dx @ dx)))
    return Estimate(slope, (slope - half, slope + half), f"t on {df}")


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

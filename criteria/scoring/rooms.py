"""Two rooms over the schemes that both saw: how far one lies from the other, chance or not."""

from collections.abc import Collection

import numpy as np

from criteria.scoring.components import SeverityComponents
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.severity import Severity
from criteria.scoring.tails import t_beyond


def gap_of_rooms(
    severity: Severity, first: Collection[str], second: Collection[str]
) -> Estimate | NotAvailable:
    """How much higher the first room's jurors gave what both rooms saw, with its interval [level].

        d = Σ (ȳ_i1 − ȳ_i2) / L        se² = σ²e Σ (1/a_i + 1/b_i) / L²

        ȳ_i1, ȳ_i2   mean of either room's jurors on scheme i
        a_i, b_i     how many they were
        L            schemes that both rooms saw
        σ²e          what least squares leave over in the whole crit, with its ν degrees of freedom

    first, second   the jurors of either room; those without a sheet don't count

    It is of the jurors who sat there, and says nothing of whom they stand for. Source: the t test
    of a contrast of means, common practice.
    """
    cells, components = severity.cells, severity.components
    rooms = [np.isin(cells.jurors, list(room)) for room in (first, second)]
    seen = [cells.counts[:, room].sum(axis=1) for room in rooms]
    both = (seen[0] > 0) & (seen[1] > 0)
    L = int(both.sum())
    if not L:
        return NotAvailable("no scheme was seen by both rooms")
    means = [
        cells.values[np.ix_(both, room)].sum(axis=1) / count[both]
        for room, count in zip(rooms, seen, strict=True)
    ]
    gap = float(np.mean(means[0] - means[1]))
    if not isinstance(components, SeverityComponents):
        return Estimate(gap, components, "difference of means")
    unlike = float(np.sum(1 / seen[0][both] + 1 / seen[1][both])) / L**2
    half = t_beyond(0.025, components.df) * float(np.sqrt(components.residual_square * unlike))
    return Estimate(gap, (gap - half, gap + half), f"t on {components.df}")

"""Where the differences come from: schemes, criteria, jurors and their mixtures.

And what one more juror would buy. Criteria are fixed (the sheet is what is
meant), jurors are a sample.
"""

from dataclasses import dataclass
from itertools import chain, combinations

import numpy as np
from numpy.typing import NDArray

from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.panel import Panel

FACETS = ("scheme", "criterion", "juror")
SOURCES: tuple[tuple[int, ...], ...] = tuple(
    chain.from_iterable(combinations(range(3), size) for size in range(1, 4))
)
"""Each facet and mixture, by place in FACETS; the last is mixed with what is left over."""


@dataclass(frozen=True, slots=True)
class Facets:
    """Variance components of levels by scheme (p), criterion (i) and juror (j) [level²].

    components   by name, as estimated: negative ones are shown, and used as 0
    schemes, criteria   how many
    jurors       per scheme; the harmonic mean where it varies
    complete     whether every juror gave every scheme a level for every criterion
    """

    components: dict[str, float]
    schemes: int
    criteria: int
    jurors: float
    complete: bool

    def used(self, *names: str) -> float:
        """A component with a negative estimate used as 0 [level²]."""
        return max(0.0, self.components[" × ".join(names)])

    def relative(self, jurors: float | None = None) -> float | NotAvailable:
        """Reliability of the order of schemes with so many jurors, criteria fixed [1].

            (σ²p + σ²pi/n_i) / (σ²p + σ²pi/n_i + σ²pj/n + σ²pij/(n_i n))

        Source: Brennan 2001, Generalizability Theory; mixed model.
        """
        n = jurors or self.jurors
        true = self.used("scheme") + self.used("scheme", "criterion") / self.criteria
        error = self.used("scheme", "juror") / n
        error += self.used("scheme", "criterion", "juror") / (self.criteria * n)
        if true + error <= 0:
            return NotAvailable("schemes don't differ")
        return true / (true + error)

    def dependability(self, jurors: float | None = None) -> float | NotAvailable:
        """Φ: reliability of the level itself, criteria and jurors as samples [1]."""
        n, i, true = jurors or self.jurors, self.criteria, self.used("scheme")
        error = self._relative_error(jurors) + self.used("criterion") / i
        error += self.used("juror") / n + self.used("criterion", "juror") / (i * n)
        return true / (true + error) if true + error > 0 else NotAvailable("schemes don't differ")

    def _relative_error(self, jurors: float | None) -> float:
        n, i = jurors or self.jurors, self.criteria
        return (
            self.used("scheme", "criterion") / i
            + self.used("scheme", "juror") / n
            + self.used("scheme", "criterion", "juror") / (i * n)
        )

    def one_more(self) -> tuple[float, float] | NotAvailable:
        """Reliability of the order now, and with one more juror for every scheme [1]."""
        now, more = self.relative(), self.relative(self.jurors + 1)
        if isinstance(now, NotAvailable) or isinstance(more, NotAvailable):
            return NotAvailable("schemes don't differ")
        return now, more


def facets(panel: Panel) -> Facets | NotAvailable:
    """Variance components of a panel's levels, criteria unweighted."""
    tables = {
        name: table for name in panel.criteria if isinstance(table := panel.criterion(name), Cells)
    }
    rows = {scheme: place for place, scheme in enumerate(panel.schemes)}
    columns = {juror: place for place, juror in enumerate(panel.jurors)}
    shape = (len(rows), len(tables), len(columns))
    levels, seen = np.zeros(shape), np.zeros(shape, dtype=bool)
    for place, table in enumerate(tables.values()):
        cut = np.ix_(
            [rows[scheme] for scheme in table.schemes],
            [place],
            [columns[juror] for juror in table.jurors],
        )
        levels[cut] = table.values[:, None, :]
        seen[cut] = table.seen[:, None, :]
    return components_of(levels, seen)


def components_of(levels: Matrix, seen: NDArray[np.bool_]) -> Facets | NotAvailable:
    """Components of a scheme × criterion × juror block, cells missing where not `seen`.

    From the sums of squares about nothing, T_α = Σ (sum of a group)²/(its
    size), one for each mixture α of facets, and their expectations,

        E T_α = N μ² + Σ_β σ²_β Σ_(groups of α) Σ_(groups of β in it) n²/n_α

    eight linear equations. With no cell missing these are the mean squares of
    the textbooks; with cells missing they stay unbiased and need no iteration.

    Source: Brennan 2001, Generalizability Theory, chapter 7 (analogous
        ANOVA); Henderson 1953, method 1.
    """
    if min(levels.shape) < 2:
        few = [f"{n} {name}" for n, name in zip(levels.shape, FACETS, strict=True) if n < 2]
        return NotAvailable(f"needs 2 of each facet; there is {', '.join(few)}")
    counts = seen.astype(float)
    centred = np.where(seen, levels - levels[seen].mean(), 0.0)
    if float(np.sum(centred**2)) < 1e-12:
        return NotAvailable("every level is the same")
    groups: tuple[tuple[int, ...], ...] = ((), *SOURCES)
    equations, sums = np.zeros((8, 8)), np.zeros(8)
    for row, alpha in enumerate(groups):
        size = _over(counts, alpha)
        inverse = np.divide(1.0, size, out=np.zeros_like(size), where=size > 0)
        sums[row] = float(np.sum(_over(centred, alpha) ** 2 * inverse))
        equations[row, 0] = counts.sum()
        for column, beta in enumerate(SOURCES, 1):
            both = _over(counts, tuple(sorted({*alpha, *beta})))
            equations[row, column] = float(np.sum(both**2 * inverse))
    if np.linalg.matrix_rank(equations) < 8:
        return NotAvailable("too few levels: the facets can't be told apart")
    solved = np.linalg.solve(equations, sums)[1:]
    names = [" × ".join(FACETS[facet] for facet in source) for source in SOURCES]
    per_scheme = counts.any(axis=1).sum(axis=1)
    per_scheme = per_scheme[per_scheme > 0]
    return Facets(
        components=dict(zip(names, solved.tolist(), strict=True)),
        schemes=levels.shape[0],
        criteria=levels.shape[1],
        jurors=float(len(per_scheme) / np.sum(1 / per_scheme)),
        complete=bool(seen.all()),
    )


def _over(block: Matrix, facets: tuple[int, ...]) -> Matrix:
    """Sum over every facet but these, kept as an axis of length 1."""
    gone = tuple(axis for axis in range(3) if axis not in facets)
    return np.asarray(block.sum(axis=gone, keepdims=True))

"""Criteria one by one: how their levels were used, and whether the descriptor holds."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy import stats

from criteria.scoring.alpha import Metric, alpha_interval
from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.components import SeverityComponents, severity_components
from criteria.scoring.concordance import Agreed, agreed
from criteria.scoring.effects import FALSE_ALARMS, Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.panel import Panel
from criteria.scoring.severity import Severity
from criteria.scoring.tails import share_beyond_f

APART = 2
"""Jurors this many levels apart differ in kind. Common practice."""

ONE_LEVEL = 0.7
"""A criterion where one level has more than this share says little."""

REWORD = 1 / 3
"""Jurors two levels apart in no more than this share of schemes, severity out, are usual. Common
practice; said of a criterion only where a test says too that it is further apart than the others:
alone it named one of like criteria in up to all of the simulated crits."""

FEWEST_CRITERIA = 4


@dataclass(frozen=True, slots=True)
class Spread:
    """Greatest less least level among a scheme's jurors.

    mean    over the schemes with two jurors or more [level]
    apart   in how many of them it is two levels or more
    of      how many there are
    """

    mean: float
    apart: int
    of: int


@dataclass(frozen=True, slots=True)
class CriterionBehaviour:
    """How one criterion was used.

    uses                how often each level was given; unused whole levels are 0
    raw, severity_out   spread as given, and with each juror's severity taken out
    alpha               ordinal α with its interval [1]
    rest                correlation of its scheme means with those of the rest [1]
    alpha_if_dropped    Cronbach's α of the other criteria [1]
    more_apart          F of this criterion's leftover variance over that of the others
    leanings            what each juror gives this criterion beyond their own
                        lean, with its standard error [level]
    flags               what to look at, in words
    """

    criterion: str
    weight: float
    mean: float
    sd: float | NotAvailable
    uses: dict[float, int]
    raw: Spread | NotAvailable
    severity_out: Spread | NotAvailable
    agreed: Agreed | NotAvailable
    alpha: Estimate | NotAvailable
    rest: float | NotAvailable
    alpha_if_dropped: float | NotAvailable
    more_apart: Tested | NotAvailable
    leanings: dict[str, tuple[float, float]]
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Together:
    """Do the criteria move together? Cronbach's α: not agreement of jurors.

    rest, dropped   by criterion [1]
    """

    alpha: Estimate
    rest: tuple[float | NotAvailable, ...]
    dropped: tuple[float | NotAvailable, ...]


def cronbach(table: Matrix) -> Together | NotAvailable:
    """Cronbach's α of a complete table, rows × items.

        α = K/(K − 1) (1 − Σ var/var of the sum)

    The interval is Feldt's. Fewer than 4 items are refused: α then says little.

    Source: Cronbach 1951; Feldt 1965, from memory.
    """
    n, K = table.shape
    if K < FEWEST_CRITERIA:
        return NotAvailable(f"fewer than {FEWEST_CRITERIA} criteria")
    if n < 3:
        return NotAvailable("fewer than 3 schemes with every criterion")
    value = _alpha(table)
    if isinstance(value, NotAvailable):
        return value
    free = (n - 1) * (K - 1)
    ends = tuple(
        1 - (1 - value) * float(stats.f.ppf(share, n - 1, free)) for share in (0.975, 0.025)
    )
    rest, dropped = [], []
    for item in range(K):
        others = np.delete(table, item, axis=1)
        rest.append(_correlation(table[:, item], others.sum(axis=1)))
        dropped.append(_alpha(others))
    return Together(Estimate(value, (ends[0], ends[1]), "Feldt"), tuple(rest), tuple(dropped))


def behaviours(
    panel: Panel, severity: Severity | NotAvailable, *, draws: int = 1_000, seed: int = 1
) -> tuple[tuple[CriterionBehaviour, ...], Together | NotAvailable]:
    """How every criterion behaved, and whether they move together."""
    tables = {
        name: table for name in panel.criteria if isinstance(table := panel.criterion(name), Cells)
    }
    together = _moving_together(tables)
    effects = _effects(severity)
    leanings, further = _leanings(tables), more_apart(tables)
    result = []
    for place, (name, table) in enumerate(tables.items()):
        given = table.values[table.seen]
        out: Spread | NotAvailable = NotAvailable("no severity known")
        if effects is not None:
            out = spread_of(table, effects)
        uses = _uses(given, panel)
        result.append(
            CriterionBehaviour(
                criterion=name,
                weight=float(panel.weights[name]),
                mean=float(given.mean()),
                sd=float(given.std(ddof=1)) if given.size > 1 else NotAvailable("one level only"),
                uses=uses,
                raw=spread_of(table),
                severity_out=out,
                agreed=agreed(table),
                alpha=alpha_interval(table, Metric.ORDINAL, draws=draws, seed=seed),
                rest=together.rest[place] if isinstance(together, Together) else together,
                alpha_if_dropped=together.dropped[place]
                if isinstance(together, Together)
                else together,
                more_apart=further[name],
                leanings=leanings.get(name, {}),
                flags=_flags(uses, out, further[name], FALSE_ALARMS / len(tables)),
            )
        )
    return tuple(result), together


def spread_of(table: Cells, effects: dict[str, float] | None = None) -> Spread | NotAvailable:
    """Spread of a criterion's levels, each juror's effect taken out where given."""
    rows = table.jurors_per_scheme >= 2
    if not rows.any():
        return NotAvailable("no scheme was seen by two jurors")
    lean = np.array([(effects or {}).get(juror, 0.0) for juror in table.jurors])
    levels = table.values - lean
    highest = np.where(table.seen, levels, -np.inf).max(axis=1)[rows]
    lowest = np.where(table.seen, levels, np.inf).min(axis=1)[rows]
    spread = highest - lowest
    return Spread(float(spread.mean()), int(np.sum(spread >= APART - 1e-9)), int(rows.sum()))


def wants_rewording(out: Spread, further: Tested, tail: float) -> bool:
    """Whether jurors lie far apart on a criterion, severity out, and further than on the others."""
    return out.apart / out.of > REWORD and further.p < tail


def more_apart(tables: Mapping[str, Cells]) -> dict[str, Tested | NotAvailable]:
    """Whether jurors lie further apart on one criterion than on the others, one-sided.

        F = (Q_k / ν_k) / (Σ Q_others / Σ ν_others)

        Q, ν   what scheme and juror leave over of a criterion by least squares, and its degrees
               of freedom

    The greatest of several variances is held to its table at 0.05 over their number. What a juror
    gives a whole scheme stands in every criterion alike, so F varies less than its table says and
    the test names less often than it might.

    Source: Cochran 1941, Annals of Eugenics 11:47, from memory; his C in the form of F.
    """
    found = {name: severity_components(table) for name, table in tables.items()}
    parts = {
        name: (each.residual_square * each.df, each.df)
        for name, each in found.items()
        if isinstance(each, SeverityComponents)
    }
    return {name: _further(parts, name) for name in tables}


def _further(parts: Mapping[str, tuple[float, int]], name: str) -> Tested | NotAvailable:
    others = [part for other, part in parts.items() if other != name]
    if name not in parts or not others:
        return NotAvailable("needs two criteria, each with levels to spare")
    own, df = parts[name]
    rest, rest_df = (sum(each) for each in zip(*others, strict=True))
    if not own:
        return NotAvailable("nothing is left over to compare")
    F = own / df / (rest / rest_df) if rest else np.inf
    return Tested(F, df, share_beyond_f(F, df, rest_df), f"F on {df}, {rest_df}")


def _effects(severity: Severity | NotAvailable) -> dict[str, float] | None:
    if isinstance(severity, NotAvailable) or isinstance(severity.components, NotAvailable):
        return None
    cells = severity.cells
    return dict(zip(cells.jurors, severity.least_squares.jurors.tolist(), strict=True))


def _moving_together(tables: dict[str, Cells]) -> Together | NotAvailable:
    """Cronbach's α of the criteria's scheme means, over schemes with every criterion."""
    means = [dict(zip(t.schemes, t.raw.tolist(), strict=True)) for t in tables.values()]
    common = sorted(set.intersection(*(set(column) for column in means))) if means else []
    grid = np.array([[column[scheme] for column in means] for scheme in common])
    return cronbach(grid.reshape(len(common), len(means)))


def _leanings(tables: dict[str, Cells]) -> dict[str, dict[str, tuple[float, float]]]:
    """Mean of (level − mean of the others) by juror and criterion, less the juror's own mean."""
    gaps: dict[str, dict[str, Matrix]] = {}
    for name, table in tables.items():
        for j, juror in enumerate(table.jurors):
            own, rest, _ = table.others(j)
            if own.size > 1:
                gaps.setdefault(juror, {})[name] = own - rest
    result: dict[str, dict[str, tuple[float, float]]] = {}
    for juror, by_criterion in gaps.items():
        own_mean = float(np.mean([gap.mean() for gap in by_criterion.values()]))
        for name, gap in by_criterion.items():
            error = float(gap.std(ddof=1) / np.sqrt(gap.size))
            result.setdefault(name, {})[juror] = float(gap.mean()) - own_mean, error
    return result


def _uses(given: Matrix, panel: Panel) -> dict[float, int]:
    counts = Counter(given.tolist())
    if panel.scale is not None and all(value == int(value) for value in counts):
        low, high = (int(end) for end in panel.scale)
        return {float(level): counts.get(float(level), 0) for level in range(low, high + 1)}
    return dict(sorted(counts.items()))


def _flags(
    uses: dict[float, int],
    out: Spread | NotAvailable,
    further: Tested | NotAvailable,
    tail: float,
) -> tuple[str, ...]:
    said = []
    total = sum(uses.values())
    most = max(uses, key=lambda level: uses[level])
    if total > 1 and uses[most] / total > ONE_LEVEL:
        said.append(f"level {most:g} was given {uses[most]} times of {total}")
    if (
        isinstance(out, Spread)
        and isinstance(further, Tested)
        and wants_rewording(out, further, tail)
    ):
        said.append(
            f"jurors differ by {APART} levels or more in {out.apart} of {out.of} schemes with "
            f"severity out, further than on the other criteria ({further.method}, "
            f"{further.p_words}): the descriptor wants rewording"
        )
    return tuple(said)


def _alpha(table: Matrix) -> float | NotAvailable:
    K = table.shape[1]
    whole = float(table.sum(axis=1).var(ddof=1))
    if whole <= 1e-12 * max(1.0, float(np.abs(table).max())) ** 2:
        return NotAvailable("the schemes don't differ")
    parts = float(table.var(axis=0, ddof=1).sum())
    return float(K / (K - 1) * (1 - parts / whole))


def _correlation(x: Matrix, y: Matrix) -> float | NotAvailable:
    if min(x.std(), y.std()) < 1e-9:
        return NotAvailable("the levels don't vary")
    return float(np.corrcoef(x, y)[0, 1])

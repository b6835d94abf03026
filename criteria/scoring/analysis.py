"""Everything the levels of one crit say, in one piece."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from criteria.scoring.adjusting import (
    Adjustment,
    decide,
    pair_variances_of,
    published,
    solution_of,
)
from criteria.scoring.alpha import Metric, alpha, alpha_interval
from criteria.scoring.behaviour import CriterionBehaviour, Together, behaviours
from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.components import SeverityComponents, crossed_components
from criteria.scoring.concordance import Concordance, kendall_w
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.generalizability import Facets, facets
from criteria.scoring.icc import DRAWS as SIMULATED
from criteria.scoring.icc import Intraclass, intraclass
from criteria.scoring.levels import PanelLevel
from criteria.scoring.order import OrderOfTheDay, order_of_the_day
from criteria.scoring.panel import Panel
from criteria.scoring.profiles import JurorProfile, profiles
from criteria.scoring.ranks import (
    RankRange,
    rank_ranges,
    runs,
    share_in_top,
    shrunken_draws,
)
from criteria.scoring.reml import Fit
from criteria.scoring.severity import Severity, Solution, analyse

DRAWS = 10_000
REDRAWN = 1_000
TOP = 3
MOST_DRAWN = 6_000_000
"""Schemes times draws at most, so that 5 000 schemes fit in memory."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one scheme stands.

    group       schemes that can be compared with it, counted from 1
    jurors      how many complete sheets it has
    raw         plain mean of weighted levels, exact [level]
    adjusted    with severity taken out [level]
    least_squares   the same with severity not pulled towards 0 [level]
    published   raw or adjusted, as decided [level]
    se          standard error against the cohort's mean [level]
    ranks       range of rank within its group
    p_top       chance of being among the first `top` of its group, from shrunken draws [1]
    """

    scheme: str
    group: int
    jurors: int
    raw: Fraction
    adjusted: float | NotAvailable
    least_squares: float | NotAvailable
    published: float
    se: float | NotAvailable
    ranks: RankRange | NotAvailable
    p_top: float | NotAvailable


@dataclass(frozen=True, eq=False)
class Alphas:
    """Krippendorff's α of one table, by distance; the ordinal one with an interval."""

    nominal: float | NotAvailable
    ordinal: Estimate | NotAvailable
    interval: float | NotAvailable
    ratio: float | NotAvailable


NO_SHEET = NotAvailable("no jury sheet is complete")


@dataclass(frozen=True, eq=False, kw_only=True)
class Analysis:
    """What the levels of one crit say; the figures of the whole need a complete jury sheet.

    panel        the levels
    top          how many places `p_top` is about
    alone        schemes without a complete sheet, each with the reason
    alike        schemes that can't be told apart, in runs, highest first
    """

    panel: Panel
    top: int
    alpha: dict[str, Alphas]
    facets: Facets | NotAvailable
    criteria: tuple[CriterionBehaviour, ...]
    together: Together | NotAvailable
    alone: tuple[tuple[str, str], ...]
    intraclass: Intraclass | NotAvailable = NO_SHEET
    alpha_of_totals: Alphas | NotAvailable = NO_SHEET
    kendall: Concordance | NotAvailable = NO_SHEET
    components: Fit | NotAvailable = NO_SHEET
    severity: Severity | NotAvailable = NO_SHEET
    adjustment: Adjustment | NotAvailable = NO_SHEET
    jurors: tuple[JurorProfile, ...] = ()
    standings: tuple[Standing, ...] = ()
    alike: tuple[tuple[str, ...], ...] = ()
    order: OrderOfTheDay | NotAvailable = NO_SHEET


def analyse_panel(
    panel: Panel,
    *,
    announced: bool | None = None,
    top: int = TOP,
    draws: int = DRAWS,
    seed: int = 1,
) -> Analysis:
    """Analyse one crit.

    announced   whether the rule for adjusting was made known before scoring
    top         places that P(top) is about
    draws       behind P(top); fewer where there are very many schemes; less than is
                usual elsewhere cuts the other draws too
    seed        of every draw: the same file gives the same page
    """
    alphas = {
        name: _alphas(table, draws, seed)
        for name in panel.criteria
        if isinstance(table := panel.criterion(name), Cells)
    }
    alone = tuple(
        (scheme, level.reason)
        for scheme, level in panel.raw.items()
        if isinstance(level, NotAvailable)
    )
    cells = panel.totals
    severity = analyse(cells) if isinstance(cells, Cells) else cells
    criteria, together = behaviours(panel, severity, draws=min(REDRAWN, draws), seed=seed)
    known = Analysis(
        panel=panel,
        top=top,
        alpha=alphas,
        facets=facets(panel),
        criteria=criteria,
        together=together,
        alone=alone,
    )
    if not isinstance(cells, Cells) or not isinstance(severity, Severity):
        return known
    adjustment = decide(severity, announced=announced)
    components = crossed_components(cells)
    levels = published(severity, adjustment)
    return replace(
        known,
        intraclass=intraclass(cells, seed=seed, draws=min(SIMULATED, draws)),
        alpha_of_totals=_alphas(cells, draws, seed),
        kendall=kendall_w(cells),
        components=components,
        severity=severity,
        adjustment=adjustment,
        jurors=profiles(panel, severity),
        standings=_standings(panel, severity, adjustment, components, top, draws, seed),
        alike=_alike(severity, adjustment),
        order=order_of_the_day(severity, levels, panel.positions, seed=seed),
    )


def _alphas(cells: Cells, draws: int, seed: int) -> Alphas:
    return Alphas(
        nominal=alpha(cells, Metric.NOMINAL),
        ordinal=alpha_interval(cells, Metric.ORDINAL, draws=min(REDRAWN, draws), seed=seed),
        interval=alpha(cells, Metric.INTERVAL),
        ratio=alpha(cells, Metric.RATIO),
    )


def _alike(severity: Severity, adjustment: Adjustment) -> tuple[tuple[str, ...], ...]:
    if isinstance(severity.components, NotAvailable):
        return ()
    found: list[tuple[str, ...]] = []
    for number, group in enumerate(severity.link.groups, 1):
        if len(group.schemes) > 1:
            solution = solution_of(severity, adjustment, number)
            names = [severity.cells.schemes[i] for i in group.schemes]
            for run in runs(solution.schemes, pair_variances_of(severity, solution), severity.df):
                found.append(tuple(names[i] for i in run))
    return tuple(found)


def _standings(
    panel: Panel,
    severity: Severity,
    adjustment: Adjustment,
    components: Fit | NotAvailable,
    top: int,
    draws: int,
    seed: int,
) -> tuple[Standing, ...]:
    cells, estimated = severity.cells, severity.components
    drawn: Matrix = np.zeros((0, len(cells.schemes)))
    if isinstance(components, Fit):
        count = max(200, min(draws, MOST_DRAWN // len(cells.schemes)))
        drawn = shrunken_draws(cells, components, draws=count, seed=seed)
    means = {name: raw for name, raw in panel.raw.items() if isinstance(raw, PanelLevel)}
    result: dict[int, Standing] = {}
    for number, group in enumerate(severity.link.groups, 1):
        solution = solution_of(severity, adjustment, number)
        size = len(group.schemes)
        ranks: Sequence[RankRange | NotAvailable]
        ses: Sequence[float | NotAvailable]
        chances: Sequence[float | NotAvailable]
        if isinstance(estimated, NotAvailable) or size < 2:
            none = NotAvailable("nothing to be compared with")
            if isinstance(estimated, NotAvailable):
                none = NotAvailable(f"no standard error: {estimated.reason}")
            ranks, ses = [none] * size, [none] * size
        else:
            variances = estimated.residual * np.maximum(solution.comparison_variances, 0.0)
            ses = np.sqrt(variances).tolist()
            ranks = rank_ranges(
                solution.schemes, pair_variances_of(severity, solution), severity.df
            )
        if isinstance(components, NotAvailable):
            chances = [components] * size
        elif top > size:
            chances = [NotAvailable(f"fewer than {top} schemes can be compared")] * size
        else:
            chances = share_in_top(drawn[:, list(group.schemes)], top).tolist()
        for place, i in enumerate(group.schemes):
            raw = means[cells.schemes[i]]
            result[i] = Standing(
                scheme=cells.schemes[i],
                group=number,
                jurors=len(raw.jurors),
                raw=raw.value,
                adjusted=_or_why(severity.adjusted, i, estimated),
                least_squares=_or_why(severity.least_squares, i, estimated),
                published=float(solution.schemes[place]),
                se=ses[place],
                ranks=ranks[place],
                p_top=chances[place],
            )
    return tuple(result[i] for i in sorted(result))


def _or_why(
    solution: Solution, scheme: int, estimated: SeverityComponents | NotAvailable
) -> float | NotAvailable:
    if isinstance(estimated, NotAvailable):
        return estimated
    return float(solution.schemes[scheme])

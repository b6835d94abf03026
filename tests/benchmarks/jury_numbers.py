"""The jury's numbers beside general-purpose libraries: times, ratios, digits agreed.

    python tests/benchmarks/jury_numbers.py [--large]

60 schemes × 8 jurors × 8 criteria, and with --large 5 000 × 40 × 10 (2 million
levels; pingouin alone takes half a minute there). Medians of several runs;
read the ratios, the times are this machine's.
"""

import argparse
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from statistics import median
from time import perf_counter

import krippendorff
import numpy as np
import pandas
import pingouin
from statsmodels.regression.mixed_linear_model import MixedLM

from criteria.scoring.alpha import Metric, alpha, alpha_interval
from criteria.scoring.analysis import analyse_panel
from criteria.scoring.behaviour import cronbach
from criteria.scoring.cells import Cells
from criteria.scoring.components import crossed_components, severity_components
from criteria.scoring.generalizability import components_of
from criteria.scoring.icc import intraclass
from criteria.scoring.panel import Panel
from criteria.scoring.ranks import rank_ranges, share_in_top, shrunken_draws
from criteria.scoring.severity import analyse

CHEAP_S = 0.5
"""What takes longer is run once."""


@dataclass(frozen=True)
class Sitting:
    """Simulated levels of a crit, schemes × jurors × criteria, and who saw what."""

    levels: np.ndarray
    seen: np.ndarray

    def cells(self, criterion: int | None = None) -> Cells:
        y = self.levels.mean(axis=2) if criterion is None else self.levels[:, :, criterion]
        n, m = self.seen.shape
        names = tuple(f"S{i}" for i in range(n)), tuple(f"J{j}" for j in range(m))
        return Cells(*names, np.where(self.seen, y, 0.0), self.seen)

    def panel(self) -> Panel:
        n, m, k = self.levels.shape
        levels = {
            (f"S{i:04}", f"J{j}", f"K{c}"): Fraction(int(self.levels[i, j, c]))
            for i in range(n)
            for j in range(m)
            if self.seen[i, j]
            for c in range(k)
        }
        return Panel("simulated", levels, {f"K{c}": Fraction(1) for c in range(k)})

    def frame(self) -> pandas.DataFrame:
        i, j = np.nonzero(self.seen)
        y = self.levels.mean(axis=2)[i, j]
        return pandas.DataFrame({"scheme": i, "juror": j, "level": y})


def simulate(n: int, m: int, k: int, per_scheme: int | None = None, seed: int = 1) -> Sitting:
    """Levels 1 to 5 with schemes, lean, taste and noise."""
    rng = np.random.default_rng(seed)
    y = 3 + rng.normal(0, 0.7, (n, 1, 1)) + rng.normal(0, 0.4, (1, m, 1))
    y = y + rng.normal(0, 0.4, (n, m, 1)) + rng.normal(0, 0.5, (n, m, k))
    seen = np.ones((n, m), dtype=bool)
    if per_scheme:
        seen = rng.random((n, m)).argsort(axis=1) < per_scheme
    return Sitting(np.clip(np.rint(y), 1, 5), seen)


def timed(work: Callable[[], object]) -> tuple[float, object]:
    """Median seconds of up to five runs, and the result."""
    times = []
    for _ in range(5):
        start = perf_counter()
        result = work()
        times.append(perf_counter() - start)
        if times[-1] > CHEAP_S:
            break
    return median(times), result


def digits(ours: float, theirs: float) -> str:
    """How many significant digits two numbers share."""
    if ours == theirs:
        return "all"
    return f"{-np.log10(abs(ours - theirs) / max(abs(theirs), 1e-300)):.1f}"


def row(what: str, ours: tuple[float, float], other: str = "", theirs: object = None) -> None:
    """Print one line of the table."""
    line = f"  {what:<44} {ours[0]:>9.4f}"
    if isinstance(theirs, tuple):
        seconds, value = theirs
        line += (
            f"  {other:<14} {seconds:>9.4f} {seconds / ours[0]:>8.1f} × {digits(ours[1], value):>6}"
        )
    print(line)


def pingouin_icc(frame: pandas.DataFrame) -> float:
    found = pingouin.intraclass_corr(frame, "scheme", "juror", "level").set_index("Type")
    return float(found.loc["ICC(A,1)", "ICC"])


def mixed_model(frame: pandas.DataFrame) -> float:
    found = MixedLM.from_formula(
        "level ~ 1",
        frame.assign(one=1),
        groups="one",
        vc_formula={"s": "0 + C(scheme)", "j": "0 + C(juror)"},
    ).fit(reml=True)
    return float(dict(zip(found.model.exog_vc.names, found.vcomp, strict=True))["s"])


def compare(name: str, sitting: Sitting, *, mixed: bool) -> None:
    cells, one = sitting.cells(), sitting.cells(0)
    frame = sitting.frame()
    complete = cells.complete
    print(f"\n{name}: {cells.size} jury sheets")
    print(f"  {'':<44} {'ours, s':>9}  {'beside':<14} {'s':>9} {'ratio':>10} {'digits':>6}")

    if complete:
        ours = timed(lambda: intraclass(cells).A1.value)
        row("ICC, all forms, intervals", ours, "pingouin", timed(lambda: pingouin_icc(frame)))
    else:
        row("ICC, 20 simulated tables", timed(lambda: intraclass(cells, draws=20).A1.value))
    matrix = np.where(one.seen, one.values, np.nan).T
    row(
        "ordinal α, one criterion",
        timed(lambda: alpha(one, Metric.ORDINAL)),
        "krippendorff",
        timed(
            lambda: float(
                krippendorff.alpha(
                    matrix, level_of_measurement="ordinal", value_domain=[1, 2, 3, 4, 5]
                )
            )
        ),
    )
    row("its interval, 1 000 draws", timed(lambda: alpha_interval(one).value))
    row(
        "REML, scheme and juror random",
        timed(lambda: crossed_components(cells).scheme),
        "statsmodels" if mixed else "",
        timed(lambda: mixed_model(frame)) if mixed else None,
    )
    row("REML, scheme fixed", timed(lambda: severity_components(cells).juror))
    row("severity, adjusted levels, links, Tukey", timed(lambda: analyse(cells).df))
    severity = analyse(cells)
    residual = severity.components.residual
    row(
        "ranges of rank, every pair",
        timed(
            lambda: (
                rank_ranges(
                    severity.adjusted.schemes,
                    lambda rows: residual * severity.adjusted.pair_variances(rows),
                    severity.df,
                )[0].expected
            )
        ),
    )
    components = crossed_components(cells)
    draws = 5_000 if len(cells.schemes) < 500 else 500
    row(
        f"P(top 3), {draws} draws",
        timed(lambda: share_in_top(shrunken_draws(cells, components, draws=draws, seed=1), 3)[0]),
    )
    block = sitting.levels.transpose(0, 2, 1)
    seen = np.broadcast_to(sitting.seen[:, None, :], block.shape)
    row("components of three facets", timed(lambda: components_of(block, seen).relative()))
    means = np.where(sitting.seen[:, :, None], sitting.levels, 0).sum(axis=1)
    means = means / sitting.seen.sum(axis=1)[:, None]
    row(
        "Cronbach's α and α if dropped",
        timed(lambda: cronbach(means).alpha.value),
        "pingouin",
        timed(lambda: float(pingouin.cronbach_alpha(data=pandas.DataFrame(means))[0])),
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--large", action="store_true", help="5 000 × 40 × 10 as well")
    options = parser.parse_args()
    warnings.simplefilter("ignore")
    small = simulate(60, 8, 8)
    compare("60 × 8 × 8, everyone saw everything", small, mixed=True)
    compare("60 × 8 × 8, 3 jurors for each scheme", simulate(60, 8, 8, 3), mixed=True)
    panel = small.panel()
    seconds, _ = timed(lambda: analyse_panel(panel))
    print(f"\nThe whole analysis of 60 × 8 × 8: {seconds:.2f} s")
    if options.large:
        compare("5 000 × 40 × 10, everyone saw everything", simulate(5_000, 40, 10), mixed=False)
        compare("5 000 × 40 × 10, 5 jurors for each", simulate(5_000, 40, 10, 5), mixed=False)


if __name__ == "__main__":
    main()

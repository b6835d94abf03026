"""Does a juror stretch or squeeze the scale? How their levels move with those of the others.

A juror who gives a fifth of a level where the others give a whole one is no
matter of severity: no constant mends it. The others' mean is itself uncertain,
which pulls a plain regression slope towards 0; the slope here allows for it.
"""

from dataclasses import dataclass

import numpy as np

from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.effects import FALSE_ALARMS
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.severity import lean_out, solve
from criteria.scoring.tails import t_beyond

LEAST_SLOPE, GREATEST_SLOPE = 0.5, 2.0
"""Slopes between these are usual. Common practice."""

FEWEST_FOR_SLOPE = 8
"""Fewer schemes in common with others show no slope: judged by 6, one innocent juror in ten crits
was named and one guilty juror in eight."""

LEAST_SHARE = 0.5
"""Least share of the schemes in the variance of the others' mean [1]. Where more of it is noise, up
to 18 crits in 100 named a juror who was like the others."""

FEWEST_FOR_AGREEMENT = 5

VARIES = 1e-12
"""A sum of squares less than this share of the numbers' own squares is binary noise."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """How one juror's levels move with the mean of the others on the same schemes.

    slope       change for each level of the others, without noise [1]; its interval and that of
                the agreement are at 1 − 0.05/m, so that m like jurors are all held in 95 of 100
    agreement   correlation with the mean of the others [1]
    schemes     how many schemes it rests on
    apart       whether the slope's interval excludes 1
    """

    slope: Estimate | NotAvailable
    agreement: Estimate | NotAvailable
    schemes: int
    apart: bool = False

    @property
    def words(self) -> str:
        """Why taking out a constant is no repair for this juror; blank where it is one."""
        if self.schemes < FEWEST_FOR_SLOPE:
            return ""
        if self.agreement and (self.agreement.high or 0) < 0:
            return f"runs against the others (r {shown(self.agreement.value, 2)})"
        if isinstance(self.slope, NotAvailable) or not self.apart:
            return ""
        if LEAST_SLOPE <= self.slope.value <= GREATEST_SLOPE:
            return ""
        return (
            f"moves {shown(self.slope.value, 2)} level for each level of the others "
            f"({LEAST_SLOPE} to {GREATEST_SLOPE:g} is usual)"
        )


def slopes(cells: Cells) -> dict[str, Stretch]:
    """Each juror's slope and agreement, every juror's severity taken out by least squares first."""
    m = len(cells.jurors)
    without_lean = lean_out(cells, solve(cells.counts, cells.values, 0.0))
    tells = schemes_share(without_lean) >= LEAST_SHARE
    found = {}
    for j, juror in enumerate(cells.jurors):
        own, rest, rows = without_lean.others(j)
        panel = cells.jurors_per_scheme[rows] - 1
        found[juror] = _stretch(own, rest, panel, FALSE_ALARMS / m, tells=tells)
    return found


def schemes_share(cells: Cells) -> float:
    """How much of the variance of the others' mean is the schemes' own [1], 0 to 1.

        R = σ²s / (σ²s + σ²e/p)      σ²s = var(ȳ) − σ²e mean(1/r)

    cells   every juror's severity taken out; σ²e is what is left within schemes, on N − n − m + 1
    p       how many other jurors a scheme has, by its harmonic mean; r with the juror

    Source: Spearman 1910 and Brown 1910, British Journal of Psychology 3, from memory.
    """
    shared = cells.jurors_per_scheme > 1
    r = cells.jurors_per_scheme[shared]
    within = np.where(cells.seen, cells.values - cells.raw[:, None], 0.0)
    noise = float(np.sum(within**2)) / max(1, cells.size - sum(cells.seen.shape) + 1)
    if r.size < 2:
        return 0.0
    schemes = max(0.0, float(np.var(cells.raw[shared], ddof=1)) - noise * float(np.mean(1 / r)))
    left = noise * float(np.mean(1 / (r - 1)))
    return schemes / (schemes + left) if schemes else 0.0


def correlation(x: Matrix, y: Matrix, fewest: int) -> float | NotAvailable:
    """Pearson's correlation of as many numbers as are asked for, or why there is none [1]."""
    if x.size < fewest:
        return NotAvailable(f"fewer than {fewest} schemes with others")
    scale = float(np.abs([x, y]).max())
    x, y = x - x.mean(), y - y.mean()
    if min(x @ x, y @ y) < VARIES * max(1.0, scale) ** 2:
        return NotAvailable("the levels don't vary")
    return float(x @ y / np.sqrt((x @ x) * (y @ y)))


def _stretch(own: Matrix, rest: Matrix, panel: Matrix, tail: float, *, tells: bool) -> Stretch:
    n = own.size
    r = correlation(own, rest, FEWEST_FOR_AGREEMENT)
    if isinstance(r, NotAvailable):
        return Stretch(r, r, n)
    reach = t_beyond(tail / 2, np.inf) / np.sqrt(n - 3)
    with np.errstate(divide="ignore"):
        ends = np.tanh(np.arctanh(np.clip(r, -1, 1)) + np.array([-reach, reach]))
    agreement = Estimate(r, (float(ends[0]), float(ends[1])), "Fisher's z", 1 - tail)
    if n < FEWEST_FOR_SLOPE:
        few = NotAvailable(f"fewer than {FEWEST_FOR_SLOPE} schemes with others")
        return Stretch(few, agreement, n)
    if not tells:
        noisy = NotAvailable("the schemes differ less than what is left over of a level")
        return Stretch(noisy, agreement, n)
    slope, apart = deming(rest - rest.mean(), own - own.mean(), 1 / float(np.mean(1 / panel)), tail)
    return Stretch(slope, agreement, n, apart)


def deming(x: Matrix, y: Matrix, ratio: float, tail: float) -> tuple[Estimate, bool]:
    """Slope of y on x where both are uncertain, and whether its interval excludes 1.

    With y measured in √δ the noise is alike in every direction, and the slope is that of the
    main axis of the cloud, at an angle θ, with the variances l₁ > l₂ along and across it:

        β = √δ tan θ         tan 2θ = 2 s_xy / (s_xx − s_yy)
        half-width of θ: sin⁻¹ [ t √(l₁ l₂/(n − 2)) / (l₁ − l₂) ]

    x, y    numbers about their means, n
    ratio   δ, variance of y's noise over that of x's [1]: how many jurors the mean x is of
    tail    share outside the interval [1], t on n − 2

    Where the half-width has no sine, every slope may be true. Where it reaches the vertical,
    the interval has no end there.

    Source: Deming 1943, Statistical Adjustment of Data; the angle's variance l₁l₂/(n(l₁ − l₂)²)
        as in Jolicoeur and Mosimann 1960, Growth 24:339, and Anderson 1963, from memory.
    """
    n, root = len(x), np.sqrt(ratio)
    xx, yy, xy = float(x @ x), float(y @ y) / ratio, float(x @ y) / root
    angle = np.arctan2(2 * xy, xx - yy) / 2
    longer = float(np.hypot(xx - yy, 2 * xy))
    along, across = (xx + yy + longer) / 2, max(0.0, (xx + yy - longer) / 2)
    slope = float(root * np.tan(angle))
    t = t_beyond(tail / 2, n - 2)
    sine = t * np.sqrt(along * across / (n - 2)) / longer if longer > 1e-12 * along else np.inf
    method = f"Deming, main axis, t on {n - 2}"
    if sine >= 1:
        unknown = NotAvailable("the levels don't tell in which direction they go together")
        return Estimate(slope, unknown, method, 1 - tail), False
    half = np.arcsin(sine)
    apart = bool(abs(np.sin(np.arctan(1 / root) - angle)) > sine + 1e-9)
    if abs(angle) + half >= np.pi / 2:
        vertical = NotAvailable("so steep that it has no end")
        return Estimate(slope, vertical, method, 1 - tail), apart
    low, high = (float(root * np.tan(angle + sign * half)) for sign in (-1, 1))
    return Estimate(slope, (low, high), method, 1 - tail), apart

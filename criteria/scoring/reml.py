"""Restricted maximum likelihood with schemes and jurors both random, cells missing.

    V = σ²e (I + θ₁² Z_s Z_s′ + θ₂² Z_b Z_b′)

The scheme's part is inverted by hand: for a scheme with r jurors the weight is
w = θ₁²/(1 + θ₁² r), which depends on r alone. So everything about the schemes
is summed once for each r, and a step costs some m × m systems however many
schemes there are.

Source: Patterson and Thompson 1971, Biometrika 58:545; the profiled deviance
    in θ as in Bates and others 2015, J. Stat. Softw. 67(1).
"""

from dataclasses import dataclass

import numpy as np
from scipy import linalg, optimize

from criteria.scoring.cells import Matrix

SMALL = 1e-4
"""A θ below this is 0."""


@dataclass(frozen=True, eq=False)
class Sums:
    """What the deviance needs of a table; g runs over the numbers of jurors per scheme.

    r        g, jurors per scheme
    many     g, how many schemes have so many
    c        g × m, those schemes' cells of each juror
    S        g × m × m, N′N of those schemes
    T, TT    g, sums over those schemes of their totals, and of the totals squared
    NT       g × m, N′T of those schemes
    B        m, totals of the jurors
    yy       sum of squares
    """

    r: Matrix
    many: Matrix
    c: Matrix
    S: Matrix
    T: Matrix
    TT: Matrix
    NT: Matrix
    B: Matrix
    yy: float

    @classmethod
    def of(cls, counts: Matrix, y: Matrix) -> "Sums":
        """From counts and numbers, n × m, y 0 where there is none."""
        per_scheme, totals = counts.sum(axis=1), y.sum(axis=1)
        r = np.unique(per_scheme)
        rows = [per_scheme == one for one in r]
        return cls(
            r=r,
            many=np.array([float(part.sum()) for part in rows]),
            c=np.array([counts[part].sum(axis=0) for part in rows]),
            S=np.array([counts[part].T @ counts[part] for part in rows]),
            T=np.array([totals[part].sum() for part in rows]),
            TT=np.array([totals[part] @ totals[part] for part in rows]),
            NT=np.array([counts[part].T @ totals[part] for part in rows]),
            B=y.sum(axis=0),
            yy=float(np.sum(y**2)),
        )


@dataclass(frozen=True, slots=True)
class Fit:
    """Variance components [unit²] and −2 log restricted likelihood."""

    scheme: float
    juror: float
    residual: float
    deviance: float


def fit(sums: Sums, *, polish: int = 4) -> Fit:
    """The components at the least restricted deviance, each 0 or more.

    polish   Newton steps after the search, for digits beyond the fourth
    """
    theta = np.ones(2)
    for _ in range(3):
        found = optimize.minimize(
            _in_theta,
            theta,
            args=(sums,),
            jac=True,
            method="L-BFGS-B",
            bounds=[(0, 1e4), (0, 1e4)],
            options={"ftol": 1e-11, "gtol": 1e-6, "maxiter": 200},
        )
        theta = np.where(found.x < SMALL, 0.0, found.x)
        # in θ the slope is 0 at 0 whatever the data; what counts there is the slope in θ²
        stuck = (theta == 0) & (deviance(theta, sums)[2] < -1e-9)
        if not stuck.any():
            break
        theta = np.where(stuck, 0.3, np.maximum(theta, 1e-3))
    for _ in range(polish):
        theta = _newton(theta, sums)
    least, residual, _ = deviance(theta, sums)
    scheme, juror = theta**2 * residual
    return Fit(float(scheme), float(juror), residual, least)


def deviance(theta: Matrix, sums: Sums) -> tuple[float, float, Matrix]:
    """−2 log restricted likelihood, σ²e, and its slope in θ²; σ²e and μ profiled out.

    The slope is tr(V⁻¹ Z Z′) − |Z′V⁻¹e|² ν/RSS − |Z′V⁻¹1|²/(1′V⁻¹1), for each.
    """
    of_scheme, of_juror = theta**2
    r, m = sums.r, len(sums.B)
    kept = 1 / (1 + of_scheme * r)
    w = of_scheme * kept
    c = sums.c.sum(axis=0)
    N = float(c.sum())
    A = np.diag(c) - np.tensordot(w, sums.S, 1)
    root = linalg.cho_factor(np.eye(m) + of_juror * A, check_finite=False)
    inverse = linalg.cho_solve(root, np.eye(m), check_finite=False)
    a_1, a_y = c - (w * r) @ sums.c, sums.B - w @ sums.NT
    k_1, k_y = inverse @ a_1, inverse @ a_y
    xx = N - np.sum(w * r**2 * sums.many) - of_juror * a_1 @ k_1
    xy = sums.B.sum() - np.sum(w * r * sums.T) - of_juror * a_1 @ k_y
    yy = sums.yy - np.sum(w * sums.TT) - of_juror * a_y @ k_y
    mu = xy / xx
    rss = yy - xy * mu
    free = N - 1
    log_det = 2 * np.sum(np.log(np.diag(root[0]))) - np.sum(sums.many * np.log(kept))
    value = free * (1 + np.log(2 * np.pi * rss / free)) + log_det + np.log(xx)
    k_e = k_y - mu * k_1
    trace_s = np.sum(kept * r * sums.many)
    trace_s -= of_juror * np.sum(kept**2 * np.tensordot(sums.S, inverse, 2))
    lengths = (
        _squared(kept, 0.0, -1.0, of_juror * k_1, sums),
        _squared(kept, 1.0, mu, of_juror * k_e, sums),
    )
    slope = np.array(
        [
            trace_s - free / rss * lengths[1] - lengths[0] / xx,
            np.sum(inverse * A) - free / rss * k_e @ k_e - k_1 @ k_1 / xx,
        ]
    )
    return float(value), float(rss / free), slope


def _squared(kept: Matrix, of_totals: float, mu: float, k: Matrix, sums: Sums) -> float:
    """Σ kept² (of_totals T_i − μ r_i − N_i k)² over the schemes."""
    r = sums.r
    through = of_totals * sums.NT @ k - mu * r * (sums.c @ k)
    return float(
        np.sum(
            kept**2
            * (
                of_totals**2 * sums.TT
                + mu**2 * r**2 * sums.many
                + (sums.S @ k) @ k
                - 2 * of_totals * mu * r * sums.T
                - 2 * through
            )
        )
    )


def _in_theta(theta: Matrix, sums: Sums) -> tuple[float, Matrix]:
    value, _, slope = deviance(theta, sums)
    return value, 2 * theta * slope


def _newton(theta: Matrix, sums: Sums) -> Matrix:
    """One step towards a slope of 0 among the components that are not 0."""
    free = np.flatnonzero(theta)
    if not free.size:
        return theta

    def slope(at: Matrix) -> Matrix:
        return (2 * at * deviance(at, sums)[2])[free]

    steps = np.diag(1e-5 * np.maximum(theta, 1e-2))[free]
    curve = np.array([(slope(theta + h) - slope(theta - h)) / (2 * h.sum()) for h in steps])
    if np.any(np.linalg.eigvalsh((curve + curve.T) / 2) <= 0):
        return theta
    better = theta.copy()
    better[free] -= np.linalg.solve(curve, slope(theta))
    return better if np.all(better[free] > 0) else theta

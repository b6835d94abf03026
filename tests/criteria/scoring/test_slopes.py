import numpy as np
import pytest
from scipy import optimize, stats

from criteria.scoring.cells import Cells
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.slopes import Stretch, correlation, deming, schemes_share, slopes
from tests.criteria.scoring.tables import table_of


# O-15: Shrout and Fleiss' judges against the rest; grade RUN. In a complete table taking out
# severities changes no correlation.
def test_o15_agreement_of_jurors_with_the_rest(published):
    found = slopes(published("shrout_fleiss_1979"))
    assert [stretch.agreement.value for stretch in found.values()] == pytest.approx(
        [0.8058, 0.8593, 0.8445, 0.7902], abs=5e-5
    )
    few = NotAvailable("fewer than 8 schemes with others")
    assert {stretch.slope for stretch in found.values()} == {few}


def cloud(slope: float, noise: float, n: int = 12, seed: int = 1) -> tuple[np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    s = rng.normal(0, 1, n)
    x, y = s + rng.normal(0, noise / np.sqrt(2), n), slope * s + rng.normal(0, noise, n)
    return x - x.mean(), y - y.mean()


# Second opinion: the least sum of squares across the line, searched for.
@pytest.mark.parametrize(("slope", "noise"), [(1.0, 0.3), (0.2, 0.5), (-0.7, 0.4), (3.0, 0.6)])
def test_the_slope_has_the_least_squares_across_the_line(slope, noise):
    x, y = cloud(slope, noise)
    theirs = optimize.minimize_scalar(
        lambda angle: np.sum((y - np.tan(angle) * x) ** 2) / (2 + np.tan(angle) ** 2),
        bounds=(-1.5, 1.5),
        method="bounded",
        options={"xatol": 1e-10},
    )
    assert deming(x, y, 2.0, 0.05)[0].value == pytest.approx(np.tan(theirs.x), rel=1e-5)


# The axis' angle by hand: x (−2, −1, 0, 1, 2) and y with s_xx 10, s_yy 8, s_xy 8, δ 1:
# tan 2θ = 16/2, l = 9 ± √65; t at .975 on 3 is 3.1824 (printed tables).
def test_the_interval_is_the_angle_s_written_out():
    x, y = np.array([-2.0, -1, 0, 1, 2]), np.array([-2.0, 0, 0, 0, 2])
    theta, along, across = np.arctan(8) / 2, 9 + np.sqrt(65), 9 - np.sqrt(65)
    half = np.arcsin(3.1824463 * np.sqrt(along * across / 3) / (along - across))
    found, apart = deming(x, y, 1.0, 0.05)
    assert found.value == pytest.approx(np.tan(theta))
    assert found.interval == pytest.approx((np.tan(theta - half), np.tan(theta + half)), rel=1e-6)
    assert not apart


def test_the_interval_excludes_1_where_it_says_so():
    for seed in range(40):
        found, apart = deming(*cloud(0.5, 0.4, seed=seed), 2.0, 0.05)
        if isinstance(found.interval, tuple):
            assert apart is not found.holds(1.0)


# At δ 2 the interval of the slope holds the true one in about 95 of 100 clouds.
def test_the_interval_holds_the_true_slope():
    held = []
    for seed in range(400):
        found, _ = deming(*cloud(1.0, 0.4, seed=seed), 2.0, 0.05)
        held.append(found.holds(1.0))
    assert 0.92 <= np.mean(held) <= 0.98


def test_a_cloud_without_a_direction_has_a_slope_and_no_interval():
    ring = np.linspace(0, 2 * np.pi, 8, endpoint=False)
    found, apart = deming(np.cos(ring), np.sin(ring), 1.0, 0.05)
    assert found.interval == NotAvailable(
        "the levels don't tell in which direction they go together"
    )
    assert not apart


def test_a_steep_cloud_has_no_end_and_is_apart_from_1():
    x, y = cloud(1.0, 0.05)
    found, apart = deming(x, 40 * y, 2.0, 0.05)
    assert found.interval == NotAvailable("so steep that it has no end") or found.low > 2
    vertical, apart_too = deming(np.array([1.0, -1] * 4) / 9, np.arange(8.0) - 3.5, 1.0, 0.05)
    assert vertical.interval == NotAvailable("so steep that it has no end")
    assert apart
    assert apart_too


def crit(change: dict[int, float], n: int = 28, seed: int = 3) -> Cells:
    """Three jurors of seven see each scheme; some stretch the scale by a factor."""
    rng = np.random.default_rng(seed)
    s = rng.normal(0, 0.8, n)
    y = 3 + np.outer(s, [change.get(j, 1.0) for j in range(7)]) + rng.normal(0, 0.3, (n, 7))
    y += np.array([-0.9, 0.9, 0, 0.3, -0.2, 0.1, 0.5])
    seen = np.zeros((n, 7), dtype=bool)
    for i in range(n):
        seen[i, [i % 7, (i + 1) % 7, (i + 3) % 7]] = True
    return Cells(tuple(map(str, range(n))), tuple("ABCDEFG"), np.where(seen, y, 0.0), seen)


def test_a_juror_who_squeezes_the_scale_is_named_and_nobody_else():
    words = {juror: stretch.words for juror, stretch in slopes(crit({2: 0.2})).items()}
    assert words.pop("C").startswith("moves 0.")
    assert set(words.values()) == {""}
    assert {stretch.words for stretch in slopes(crit({})).values()} == {""}


def test_a_juror_who_runs_against_the_others_is_named():
    assert slopes(crit({4: -1.0}))["E"].words.startswith("runs against the others (r −0.")


def test_under_8_shared_schemes_no_slope_is_judged():
    found = slopes(crit({2: 0.2}, n=16))["C"]
    assert found.schemes == 7
    assert found.slope == NotAvailable("fewer than 8 schemes with others")
    assert found.words == ""


def test_where_schemes_differ_less_than_the_noise_no_slope_is_judged():
    noise = np.random.default_rng(5).normal(0, 0.5, (14, 4))
    found = slopes(table_of((3 + noise).tolist(), jurors="ABCD"))["A"]
    assert found.slope == NotAvailable("the schemes differ less than what is left over of a level")
    assert found.words == ""


# Means 1, 3, 5 (variance 4) of levels that lie 0.5 about them: σ²e = 6 · 0.25/2 = 0.75 on
# 6 − 3 − 2 + 1, σ²s = 4 − 0.75/2 = 3.625, one other juror: 3.625/(3.625 + 0.75) = 0.8286.
def test_the_share_of_the_schemes_is_that_of_the_hand():
    rows = [[0.5, 1.5], [3.5, 2.5], [4.5, 5.5]]
    assert schemes_share(table_of(rows)) == pytest.approx(3.625 / 4.375)
    assert schemes_share(table_of([[1, 3], [3, 1]])) == 0


# Severity is no stretch: a lean added to a juror changes no slope of any.
def test_slopes_know_no_severity():
    plain = crit({2: 0.2})
    leaning = np.where(plain.seen, plain.values + np.arange(7), 0.0)
    moved = slopes(Cells(plain.schemes, plain.jurors, leaning, plain.seen))
    for juror, stretch in slopes(plain).items():
        assert moved[juror].slope.value == pytest.approx(stretch.slope.value)


# Fisher 1921: z ± u/√(n − 3); r 0.8 of 12, at 0.95: tanh(1.0986 ± 0.6533), u 1.95996 (tables).
def test_the_agreement_s_interval_is_fisher_s():
    x = np.arange(12.0)
    y = np.array([0, 2, 1, 5, 2, 4, 9, 5, 11, 6, 9, 12.0])
    cells = table_of(np.column_stack([x, y]).tolist(), jurors="AB")
    found = slopes(cells)["A"].agreement
    r = stats.pearsonr(x, y)
    assert found.value == pytest.approx(r.statistic)
    # two jurors share 0.05: each interval is at 0.975
    theirs = r.confidence_interval(0.975)
    assert found.interval == pytest.approx((theirs.low, theirs.high))


def test_agreement_needs_schemes_that_vary():
    two = slopes(table_of([[1, 2], [2, 3]], jurors="AB"))["A"]
    few = NotAvailable("fewer than 5 schemes with others")
    assert two == Stretch(few, few, 2)
    flat = slopes(table_of([[3, n] for n in range(8)], jurors="AB"))
    assert flat["A"].agreement == NotAvailable("the levels don't vary")
    assert correlation(np.arange(6.0), np.ones(6), 5) == NotAvailable("the levels don't vary")


def test_a_slope_that_is_apart_but_usual_is_not_named():
    sure = Estimate(0.7, (0.6, 0.8), "by hand")
    assert Stretch(sure, Estimate(0.9, (0.8, 0.95), "by hand"), 12, apart=True).words == ""

import numpy as np
import pingouin
import pytest
from scipy import stats

from criteria.scoring.behaviour import behaviours, cronbach, more_apart, spread_of
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.severity import analyse, residuals, solve
from criteria.scoring.tails import share_beyond_f
from tests.criteria.scoring.tables import table_of

ATTITUDE = ("rating", "complaints", "privileges", "learning", "raises", "critical", "advance")


# O-22: Chatterjee and Price's attitude data, 30 by 7. Grade RUN.
def test_o22_attitude(published_rows):
    rows = published_rows("attitude", *ATTITUDE)
    table = np.array([[float(row[name]) for name in ATTITUDE] for row in rows])
    found = cronbach(table)
    assert found.alpha.value == pytest.approx(0.843143, abs=5e-7)
    assert (round(found.alpha.low, 3), round(found.alpha.high, 3)) == (0.739, 0.916)
    assert found.rest == pytest.approx(
        [0.6713, 0.7421, 0.5607, 0.7144, 0.7863, 0.2650, 0.4608], abs=5e-5
    )
    assert found.dropped == pytest.approx(
        [0.8098, 0.7969, 0.8278, 0.8030, 0.7954, 0.8639, 0.8405], abs=5e-5
    )


# O-23: pingouin's two data sets. Grade RUN. Of the second only schemes with every criterion
# count here (listwise, .801695); pairwise (.732661) mixes different schemes and is not offered.
def test_o23_pingouin_s_data():
    long = pingouin.read_dataset("cronbach_alpha")
    frame = long.pivot(index="Subj", columns="Items", values="Scores")
    found = cronbach(frame.to_numpy(float))
    assert found.alpha.value == pytest.approx(0.591719, abs=5e-7)
    assert (found.alpha.low, found.alpha.high) == pytest.approx((0.195, 0.840), abs=5e-4)
    gaps = pingouin.read_dataset("cronbach_wide_missing").dropna().to_numpy(float)
    listwise = cronbach(gaps)
    assert listwise.alpha.value == pytest.approx(0.801695, abs=5e-7)
    # its printed interval (.581, .933) counts all 12 schemes, though only these 9 are used
    assert len(gaps) == 9
    counted = [1 - (1 - listwise.alpha.value) * stats.f.ppf(p, 11, 110) for p in (0.975, 0.025)]
    assert counted == pytest.approx([0.581, 0.933], abs=5e-4)
    assert listwise.alpha.low < 0.581 < 0.933 < listwise.alpha.high
    theirs, interval = pingouin.cronbach_alpha(data=frame)
    assert found.alpha.value == pytest.approx(theirs, abs=1e-12)
    assert (found.alpha.low, found.alpha.high) == pytest.approx(tuple(interval), abs=5.1e-4)


@pytest.mark.parametrize(
    ("shape", "reason"),
    [
        ((9, 3), "fewer than 4 criteria"),
        ((2, 5), "fewer than 3 schemes with every criterion"),
        ((9, 5), "the schemes don't differ"),
    ],
)
def test_alpha_that_says_nothing_has_a_reason(shape, reason):
    assert cronbach(np.full(shape, 3.0)) == NotAvailable(reason)


def test_spread_is_of_schemes_with_two_jurors():
    table = table_of([[1, 3, None], [4, 4, 2], [5, None, None]], jurors="ABC")
    found = spread_of(table)
    assert (found.mean, found.apart, found.of) == (2, 2, 2)
    out = spread_of(table, {"A": -1, "B": 1, "C": 0})
    assert (out.mean, out.apart) == ((0 + 3) / 2, 1)
    assert spread_of(table_of([[1, None], [None, 2]])) == NotAvailable(
        "no scheme was seen by two jurors"
    )


def test_a_criterion_with_one_level_and_one_that_splits_the_jury_are_flagged(make_panel):
    rows = []
    for scheme in range(9):
        for juror, lean in (("A", 0), ("B", 0), ("C", 0)):
            rows.append((f"S{scheme}", juror, "plan", 2 + scheme % 3 + lean))
            rows.append((f"S{scheme}", juror, "light", 4))
            split = {"A": 1, "B": 5, "C": 3} if scheme % 2 else {"A": 5, "B": 1, "C": 3}
            rows.append((f"S{scheme}", juror, "space", split[juror]))
    panel = make_panel(rows, scale=(1, 5))
    found, together = behaviours(panel, analyse(panel.totals), draws=200)
    by_name = {criterion.criterion: criterion for criterion in found}
    assert by_name["light"].flags == ("level 4 was given 27 times of 27",)
    assert by_name["light"].uses == {1: 0, 2: 0, 3: 0, 4: 27, 5: 0}
    assert by_name["light"].alpha == NotAvailable("not estimable, every juror gave the same level")
    assert by_name["space"].severity_out.apart == 9
    assert "the descriptor wants rewording" in by_name["space"].flags[0]
    assert by_name["plan"].agreed.exact == 1
    assert together == NotAvailable("fewer than 4 criteria")
    assert by_name["plan"].rest == together


def test_what_a_juror_gives_a_criterion_beyond_their_own_lean(make_panel):
    rows = []
    for scheme in range(6):
        for juror in "ABC":
            rows.append((f"S{scheme}", juror, "plan", 3 + (juror == "A")))
            rows.append((f"S{scheme}", juror, "light", 3 + 2 * (juror == "A")))
    panel = make_panel(rows)
    found, _ = behaviours(panel, analyse(panel.totals), draws=50)
    leanings = {c.criterion: c.leanings["A"] for c in found}
    # A lies 1 above the others on plan and 2 on light: 1½ on the whole
    assert leanings["plan"] == pytest.approx((-0.5, 0))
    assert leanings["light"] == pytest.approx((0.5, 0))


def test_a_criterion_whose_means_do_not_vary_has_no_correlation():
    table = np.column_stack([np.full(6, 3.0), *np.random.default_rng(1).normal(3, 1, (3, 6))])
    found = cronbach(table)
    assert found.rest[0] == NotAvailable("the levels don't vary")
    assert isinstance(found.rest[1], float)


# Cochran's 5 % points of the greatest of K variances on 5 degrees of freedom, Eisenhart, Hastay and
# Wallis 1947, Techniques of Statistical Analysis, table 15.1; from memory
@pytest.mark.parametrize(("K", "C"), [(3, 0.7071), (4, 0.5895), (5, 0.5065)])
def test_the_test_of_a_criterion_is_cochran_s(K, C):
    at = share_beyond_f(C * (K - 1) / (1 - C), 5, 5 * (K - 1)) * K
    assert at == pytest.approx(0.05, abs=2e-4)


def test_a_criterion_s_f_is_of_what_scheme_and_juror_leave_over():
    rng = np.random.default_rng(2)
    wide = {"p": 1, "q": 2, "r": 1}
    tables = {name: table_of(rng.normal(3, sd, (7, 4)).tolist()) for name, sd in wide.items()}
    left = {
        name: float(np.sum(residuals(table, solve(table.counts, table.values, 0.0)) ** 2))
        for name, table in tables.items()
    }
    found = more_apart(tables)["q"]
    assert found.statistic == pytest.approx(left["q"] / ((left["p"] + left["r"]) / 2))
    assert found.method == "F on 18, 36"
    assert found.p == pytest.approx(float(stats.f.sf(found.statistic, 18, 36)))


def test_where_criteria_are_alike_none_is_named_however_far_jurors_lie_apart(make_panel):
    split = {"A": (1, 5, 3), "B": (5, 1, 3), "C": (3, 3, 3)}
    rows = [
        (f"S{scheme}", juror, criterion, levels[(scheme + shift) % 3])
        for scheme in range(9)
        for juror, levels in split.items()
        for shift, criterion in enumerate(("plan", "light", "space"))
    ]
    panel = make_panel(rows, scale=(1, 5))
    found, _ = behaviours(panel, analyse(panel.totals), draws=50)
    assert [each.severity_out.apart for each in found] == [6, 6, 6]
    assert [each.flags for each in found] == [(), (), ()]


def test_what_cannot_be_compared_names_no_criterion():
    lone, level = table_of([[1, 2], [3, 5], [2, 4]]), table_of([[3, 3], [3, 3], [3, 3]])
    few = "needs two criteria, each with levels to spare"
    assert more_apart({"plan": lone}) == {"plan": NotAvailable(few)}
    assert more_apart({"plan": lone, "light": table_of([[1, 2]])}) == {
        "plan": NotAvailable(few),
        "light": NotAvailable(few),
    }
    found = more_apart({"plan": lone, "light": level})
    assert found["light"] == NotAvailable("nothing is left over to compare")
    assert found["plan"].statistic == np.inf
    assert found["plan"].p == 0

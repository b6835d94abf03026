import numpy as np
import pytest
from scipy import stats

from criteria.scoring.cells import Cells
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.order import order_of_the_day, permutation_test, slot_effect
from criteria.scoring.severity import analyse, residuals
from tests.criteria.scoring.tables import table_of

# O-20: Montgomery, Design and Analysis of Experiments, Example 4.3: batches by operators, letters
# are formulations.
LATIN_SQUARE = (
    "A-1 B-5 C-6 D-1 E-1",
    "B-8 C-1 D5 E2 A11",
    "C-7 D13 E1 A2 B-4",
    "D1 E6 A1 B-2 C-3",
    "E-3 A5 B-5 C4 D6",
)


def latin_square() -> tuple[Cells, np.ndarray]:
    numbers, slots = {}, {}
    for batch, row in enumerate(LATIN_SQUARE):
        for operator, cell in enumerate(row.split(), 1):
            numbers[str(batch), cell[0]] = float(cell[1:])
            slots[str(batch), cell[0]] = float(operator)
    cells = Cells.of(numbers)
    return cells, np.array([[slots[s, j] for j in cells.jurors] for s in cells.schemes])


# O-20, operators as a linear slot: slope .820, s.e. .570824, t 1.436520 on 15. Grade RUN.
def test_o20_a_linear_slot_in_the_additive_model():
    slope, test = slot_effect(*latin_square())
    assert slope.value == pytest.approx(0.820, abs=1e-9)
    assert slope.method == "t on 15, standard error 0.570824"
    assert (test.statistic, test.df, test.p) == pytest.approx((1.436520, 15, 0.171383), abs=5e-7)


# O-20, the square itself: SS 68, 150, 330, error 128 on 12. Grade RUN and TEXT. Batches and
# letters by the additive model, operators from what it leaves over.
def test_o20_sums_of_squares():
    cells, slots = latin_square()
    found = analyse(cells)
    left = residuals(cells, found.least_squares)
    by_operator = [left[slots == operator].mean() for operator in range(1, 6)]
    of_operators = 5 * float(np.sum(np.square(by_operator)))
    letters = cells.values.mean(axis=0)
    batches = cells.values.mean(axis=1)
    mean = cells.values.mean()
    assert dict(zip(cells.jurors, letters, strict=True)) == pytest.approx(
        {"A": 3.6, "B": -4.8, "C": -2.6, "D": 4.8, "E": 1.0}
    )
    assert 5 * np.sum((batches - mean) ** 2) == pytest.approx(68)
    assert of_operators == pytest.approx(150)
    of_letters = 5 * float(np.sum((letters - mean) ** 2))
    assert of_letters == pytest.approx(330)
    error = float(np.sum(left**2)) - of_operators
    assert error == pytest.approx(128)
    assert stats.f.sf(of_letters / 4 / (error / 12), 4, 12) == pytest.approx(0.002537, abs=5e-7)
    assert stats.f.sf(of_operators / 4 / (error / 12), 4, 12) == pytest.approx(0.040373, abs=5e-7)


# Exact: of 24 orders of four, two are as extreme as a rising one.
def test_a_rising_order_of_four_has_p_of_one_in_twelve():
    found = permutation_test(np.arange(4.0), np.arange(4.0))
    assert found.p == pytest.approx(2 / 24)
    assert found.method == "Spearman, every permutation"


def test_drawn_permutations_repeat_and_come_near_the_t_approximation():
    rng = np.random.default_rng(1)
    x, y = rng.normal(size=20), rng.normal(size=20)
    found = permutation_test(x, y)
    assert found == permutation_test(x, y)
    theirs = stats.spearmanr(x, y)
    assert found.statistic == pytest.approx(theirs.statistic)
    assert found.p == pytest.approx(theirs.pvalue, abs=0.02)


# Why there is no "residual against slot" here: with one order for all it can never fire.
def test_residuals_cannot_see_an_order_that_all_jurors_share():
    rng = np.random.default_rng(3)
    slot = np.arange(12.0)
    y = rng.normal(3, 1, (12, 1)) + 0.5 * slot[:, None] + rng.normal(0, 0.3, (12, 4))
    cells = table_of(y.tolist())
    left = residuals(cells, analyse(cells).least_squares)
    assert left.sum(axis=1) == pytest.approx(0, abs=1e-9)
    assert (
        slot_effect(cells, np.tile(slot[:, None], 4))
        == (NotAvailable("places go with schemes or jurors, so they can't be told apart"),) * 2
    )


def positions_of(cells: Cells, places: np.ndarray) -> dict[tuple[str, str], float]:
    return {
        (s, j): float(places[a, b])
        for a, s in enumerate(cells.schemes)
        for b, j in enumerate(cells.jurors)
    }


def test_one_order_for_all_is_tested_on_the_levels():
    rng = np.random.default_rng(3)
    slot = rng.permutation(12) + 1.0
    cells = table_of((3 + 0.2 * slot[:, None] + rng.normal(0, 0.2, (12, 4))).tolist())
    severity = analyse(cells)
    found = order_of_the_day(severity, cells.raw, positions_of(cells, np.tile(slot[:, None], 4)))
    assert found.same_order
    assert found.trend.value == pytest.approx(2, abs=0.3)
    assert found.test.p < 0.01
    assert found.carry_over == NotAvailable("all jurors saw one order, so it can't be seen")
    assert found.caution == "Valid only if the order was drawn by lot."


def test_orders_that_differ_are_tested_in_the_model_and_show_contrast():
    rng = np.random.default_rng(8)
    n, m = 16, 4
    places = np.array([rng.permutation(n) + 1.0 for _ in range(m)]).T
    true = rng.normal(3, 1, n)
    y = np.zeros((n, m))
    for j in range(m):
        order = np.argsort(places[:, j])
        before = np.concatenate([[3.0], true[order[:-1]]])
        y[order, j] = true[order] + 0.1 * places[order, j] - 0.3 * (before - 3)
    y += rng.normal(0, 0.1, y.shape)
    cells = table_of(y.tolist())
    found = order_of_the_day(analyse(cells), cells.raw, positions_of(cells, places))
    assert not found.same_order
    assert found.trend.low < 1.0 < found.trend.high
    assert found.test.p < 0.001
    assert found.carry_over.high < 0


@pytest.mark.parametrize(
    ("rows", "reason"),
    [
        ([[1, 2], [2, 1], [3, 4]], "fewer than 4 schemes"),
        ([[3, 3]] * 5, "the levels don't vary"),
    ],
)
def test_orders_that_cannot_be_tested_have_a_reason(rows, reason):
    cells = table_of(rows)
    slots = np.tile(np.arange(1.0, len(rows) + 1)[:, None], 2)
    found = order_of_the_day(analyse(cells), cells.raw, positions_of(cells, slots))
    assert found.test == NotAvailable(reason)


def test_without_positions_there_is_nothing_to_test():
    cells = table_of([[1, 2], [2, 1]])
    assert order_of_the_day(analyse(cells), cells.raw, {("1", "1"): 1}) == NotAvailable(
        "the file does not give every scheme's position"
    )


def test_slots_need_levels_to_spare_and_leave_nothing_over_where_they_explain_all():
    few = table_of([[1, 2], [2, 1]])
    none = NotAvailable("too few levels to tell places apart")
    assert slot_effect(few, np.array([[1.0, 2.0], [2.0, 1.0]])) == (none, none)
    places = np.array([[1.0, 4.0], [2.0, 3.0], [3.0, 1.0], [4.0, 2.0]])
    y = np.array([[1.0], [4.0], [2.0], [3.0]]) + [0.0, 1.0] + 0.25 * places
    slope, test = slot_effect(table_of(y.tolist()), places)
    assert (slope.value, slope.low, slope.high) == pytest.approx((0.25, 0.25, 0.25))
    assert test == NotAvailable("no residual variation")

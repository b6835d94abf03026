import numpy as np
import pytest
from scipy import stats

from criteria.scoring.adjusting import (
    Change,
    Decision,
    decide,
    places,
    presence,
    published,
    solution_of,
)
from criteria.scoring.cells import Cells
from criteria.scoring.severity import analyse
from tests.criteria.scoring.tables import table_of

LEAN = np.array([-0.9, 0.9, 0.0, 0.3, -0.2, 0.1])


def day(seen: np.ndarray, lean: np.ndarray = LEAN, noise: float = 0.2, seed: int = 4) -> Cells:
    """Schemes from 1 to 5 by jurors who lean, where they saw them."""
    n, m = seen.shape
    rng = np.random.default_rng(seed)
    y = rng.permutation(np.linspace(1.5, 4.5, n))[:, None] + lean[:m] + rng.normal(0, noise, (n, m))
    rows = [[float(y[i, j]) if seen[i, j] else None for j in range(m)] for i in range(n)]
    return table_of(rows, [f"S{i:02}" for i in range(n)], "ABCDEF"[:m])


def three_of_six(n: int = 20) -> np.ndarray:
    seen = np.zeros((n, 6), dtype=bool)
    for i in range(n):
        seen[i, [i % 6, (i + 1) % 6, (i + 3) % 6]] = True
    return seen


def two_rooms(anchors: int, n: int = 16) -> np.ndarray:
    seen = np.zeros((n, 6), dtype=bool)
    seen[: n // 2, :3] = seen[n // 2 :, 3:] = True
    seen[:anchors] = True
    return seen


def rules(cells: Cells, announced: bool | None = True) -> tuple[Decision, set[str]]:
    found = decide(analyse(cells), announced=announced)
    return found.decision, {reason.rule for reason in found.reasons}


def test_panels_that_differ_with_firm_links_are_adjusted():
    assert rules(day(three_of_six())) == (Decision.ADJUST, {"worth it"})
    found = decide(analyse(day(three_of_six())), announced=True)
    assert found.cautions == ()
    assert found.changes
    assert "Adjusting would move" in found.effect


def test_everyone_seen_by_everyone_cancels():
    cells = day(np.ones((12, 4), dtype=bool))
    assert rules(cells) == (Decision.RAW, {"everyone saw everything"})
    found = decide(analyse(cells))
    assert found.changes == ()
    assert found.effect == "Adjusting would change no level."


def test_rooms_with_no_juror_in_common_have_no_joint_ranking():
    found = decide(analyse(day(two_rooms(0))), announced=True)
    assert found.decision is Decision.RAW
    assert "so there is no joint ranking" in found.reasons[0].words
    assert found.reasons[0].words.startswith("The schemes fall into 2 groups")
    assert found.reasons[1].words.startswith("Group 1 (S00, S01, S02, …): Every juror saw every")


def test_a_group_apart_may_be_adjusted_inside():
    seen = np.zeros((28, 6), dtype=bool)
    for i in range(20):
        seen[i, [i % 4, (i + 1) % 4, (i + 2) % 4]] = True
    seen[20:, 4:] = True
    severity = analyse(day(seen))
    found = decide(severity, announced=True)
    assert found.decision is Decision.WITHIN_GROUPS
    assert found.groups == {1}
    levels = published(severity, found)
    assert levels[:20] == pytest.approx(severity.adjusted.schemes[:20])
    assert levels[20:] == pytest.approx(severity.raw.schemes[20:])
    assert solution_of(severity, found, 2).schemes == pytest.approx(severity.raw.schemes[20:])
    assert decide(severity, announced=False).decision is Decision.RAW


# Links: two schemes seen by all are a hint (factor 1.5), three are firm (1.33).
@pytest.mark.parametrize(
    ("anchors", "decision"), [(1, Decision.RAW), (2, Decision.RAW), (3, Decision.ADJUST)]
)
def test_how_many_schemes_it_takes_to_join_two_rooms(anchors, decision):
    found, said = rules(day(two_rooms(anchors)))
    assert found is decision
    assert ("weak link" in said) is (decision is Decision.RAW)


def test_a_juror_with_few_schemes_in_common_is_a_weak_link():
    seen = three_of_six()
    seen[:, 5] = False
    seen[:2, 5] = True
    found = decide(analyse(day(seen)), announced=True)
    assert found.decision is Decision.RAW
    assert any(
        "F shares 2 of 2 schemes with others; 3 is the least." in reason.words
        for reason in found.reasons
    )


def test_two_jurors_are_too_few():
    seen = np.ones((14, 2), dtype=bool)
    seen[0, 0] = seen[1, 1] = False
    assert "too few" in rules(day(seen))[1]


def test_few_degrees_of_freedom_are_too_few():
    seen = np.ones((4, 3), dtype=bool)
    seen[0, 0] = False
    assert analyse(day(seen)).df == 5
    found = decide(analyse(day(seen)), announced=True)
    assert "too few" not in {reason.rule for reason in found.reasons}
    seen[1, 1] = False
    found = decide(analyse(day(seen)), announced=True)
    assert "Fewer than 5 degrees of freedom (4)." in [reason.words for reason in found.reasons]


def test_a_juror_who_runs_against_the_others_is_no_matter_of_severity():
    seen = three_of_six(24)
    cells = day(seen)
    values = cells.values.copy()
    values[:, 2] = np.where(cells.seen[:, 2], 6 - values[:, 2], 0)
    turned = Cells(cells.schemes, cells.jurors, values, cells.seen)
    decision, said = rules(turned)
    assert decision is Decision.RAW
    assert "not additive" in said
    words = " ".join(r.words for r in decide(analyse(turned)).reasons)
    assert "C runs against the others" in words


def test_a_juror_who_squeezes_the_scale_is_no_matter_of_severity():
    cells = day(three_of_six(30), noise=0.05)
    values = cells.values.copy()
    values[:, 2] = np.where(cells.seen[:, 2], 3 + 0.2 * (values[:, 2] - 3), 0)
    decision, said = rules(Cells(cells.schemes, cells.jurors, values, cells.seen))
    assert decision is Decision.RAW
    assert "not additive" in said


def test_jurors_who_do_not_differ_are_not_adjusted():
    rows = [[3.0, 1.0, 2.0], [1.0, 2.0, None], [None, 1.0, 1.0]]
    rows += [[1.0, 3.0, 2.0], [2.0, 1.0, None], [None, 1.0, 1.0]]
    rows += [[4.0, 4.0, 4.0], [4.0, 4.0, None], [None, 4.0, 4.0]]
    assert "no severity" in rules(table_of(rows))[1]


def test_a_rule_that_was_not_announced_is_not_used():
    assert rules(day(three_of_six()), announced=False) == (Decision.RAW, {"not announced"})
    found = decide(analyse(day(three_of_six())))
    assert found.decision is Decision.ADJUST
    assert "If it was not, do not adjust." in found.cautions[0]


def test_one_juror_can_not_be_adjusted_for():
    found = decide(analyse(table_of([[3], [4]])))
    assert found.decision is Decision.RAW
    assert found.reasons[0].rule == "not estimable"


def test_words_follow_the_test_and_not_the_estimate():
    clear = decide(analyse(day(three_of_six())), announced=True)
    assert "Jurors differ in severity (F " in clear.reasons[0].words
    assert "p below 0.001" in clear.reasons[0].words
    slight = analyse(day(three_of_six(), lean=0.11 * LEAN, noise=0.25, seed=9))
    test = slight.components.juror_test
    assert test.p > 0.05
    assert np.isfinite(slight.components.shrinkage)
    found = decide(slight, announced=True)
    assert found.decision is Decision.ADJUST
    words = found.reasons[0].words
    assert "differ in severity" not in words
    assert f"Severity is not clearly present (F {test.statistic:.1f} on 5 and" in words
    kept = 100 * 10 / (10 + slight.components.shrinkage)
    assert f"of a lean seen over 10 schemes {kept:.0f} % is taken out." in words


def test_severity_that_is_not_there_is_said_so():
    rows = [[3.0, 1.0, 2.0], [1.0, 3.0, 2.0], [2.0, 2.0, 2.0], [1.0, 2.0, 3.0], [3.0, 2.0, 1.0]]
    assert presence(analyse(table_of(rows))) == (
        "Severity is not present: the jurors don't differ beyond chance."
    )
    assert presence(analyse(table_of([[1, 1], [3, 3], [2, 2]]))).startswith("Severity is not")
    assert presence(analyse(table_of([[3], [4]]))).startswith("Severity can't be estimated: one")
    assert presence(analyse(table_of([[1, 2], [2, 3], [4, 5]]))).startswith("No residual")


def test_a_place_won_over_a_scheme_that_cannot_be_told_apart_is_marked():
    severity = analyse(day(three_of_six(), noise=0.3))
    moved = [change for change in decide(severity, announced=True).changes if change.moves]
    assert moved
    sed = np.sqrt(severity.components.residual * severity.adjusted.pair_variances())
    t = stats.t.ppf(0.975, severity.df)
    names, raw, adjusted = severity.cells.schemes, severity.raw.schemes, severity.adjusted.schemes
    for change in moved:
        i = names.index(change.scheme)
        passed = {
            names[k]
            for k in range(len(names))
            if np.sign(raw[i] - raw[k]) != np.sign(adjusted[i] - adjusted[k])
            and abs(adjusted[i] - adjusted[k]) <= t * sed[i, k]
        }
        assert set(change.not_told_apart) == passed
    first = next(change for change in moved if change.not_told_apart)
    places_said = f"place {first.rank_raw} → {first.rank_adjusted} (not told apart from "
    assert places_said + ", ".join(first.not_told_apart) in first.words


def test_places_share_ties():
    assert list(places(np.array([3.0, 5.0, 3.0 + 1e-12, 1.0]))) == [2, 1, 2, 4]


def test_a_place_won_over_schemes_that_are_told_apart_is_not_marked():
    assert Change("S1", 3.0, 3.5, 2, 1, ()).words == "3.00 → 3.50, place 2 → 1"

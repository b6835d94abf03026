import numpy as np
import pytest

from criteria.scoring.anchors import equate
from criteria.scoring.cells import Cells
from criteria.scoring.estimates import NotAvailable


def years(shift: float, noise: float = 0.15, anchors: int = 4, seed: int = 5):
    """A stronger new cohort by half a level, and a new jury that lies `shift` above the old."""
    rng = np.random.default_rng(seed)
    old, new = rng.normal(3, 0.6, 12), rng.normal(3.5, 0.6, 12)
    lean_old, lean_new = rng.normal(0, 0.1, 3), shift + rng.normal(0, 0.1, 3)

    def table(true, lean, names):
        y = true[:, None] + lean + rng.normal(0, noise, (len(true), 3))
        return Cells.table(y.tolist(), names, "ABC")

    this = table(new, lean_new, [f"H{n}" for n in range(12)])
    other = table(old, lean_old, [f"E{n}" for n in range(12)])
    again = table(old[:anchors], lean_new, [f"E{n}" for n in range(anchors)])
    return this, other, again, float(new.mean() - old.mean())


@pytest.mark.parametrize("shift", [-1.0, 0.0, 1.0])
def test_a_kinder_jury_is_taken_out(shift):
    this, other, again, truth = years(shift)
    found = equate(this, other, again, matters=0.5)
    raw = this.raw.mean() - other.raw.mean()
    assert raw == pytest.approx(truth + shift, abs=0.25)
    assert found.difference.low < truth < found.difference.high
    assert found.good_enough
    assert "less than a third of 0.5" in found.words


def test_the_error_of_the_link_is_the_formula():
    this, other, again, _ = years(0.5)
    found = equate(this, other, again, matters=0.5)
    # √(σ²e (1/k_old + 1/k_new)/A) with the noise put in, 0.15
    assert found.link_error == pytest.approx(0.15 * np.sqrt((1 / 3 + 1 / 3) / 4), rel=0.3)


def test_two_noisy_anchors_are_not_enough():
    this, other, again, _ = years(0.5, noise=0.6, anchors=2)
    found = equate(this, other, again, matters=0.5)
    assert not found.good_enough
    assert "not less than a third" in found.words


def test_an_anchor_that_drifts_is_named():
    this, other, again, _ = years(0.0, anchors=6)
    values = again.values.copy()
    values[2] -= 1.5
    moved = Cells(again.schemes, again.jurors, values, again.seen)
    found = equate(this, other, moved, matters=0.5)
    assert [anchor.scheme for anchor in found.anchors if anchor.drifts] == ["E2"]
    assert found.words.endswith("drifting, look at them: E2")


def test_anchors_must_be_of_the_other_cohort():
    this, other, again, _ = years(0.0)
    strange = Cells(("X", *again.schemes[1:]), again.jurors, again.values, again.seen)
    assert equate(this, other, strange, matters=0.5) == NotAvailable(
        "not schemes of the other cohort: X"
    )


def test_too_few_levels_have_a_reason():
    one = Cells.table([[3.0]], ["H"], ["A"])
    old = Cells.table([[3.0]], ["E"], ["B"])
    again = Cells.table([[4.0]], ["E"], ["A"])
    assert equate(one, old, again, matters=0.5) == NotAvailable(
        "too few levels to say how sure the link is"
    )
    again = Cells.table([[4.0]], ["E"], ["C"])
    assert equate(one, old, again, matters=0.5) == NotAvailable(
        "the anchors don't join the two years"
    )

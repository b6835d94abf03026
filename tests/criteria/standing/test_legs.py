"""What legs carry: by hand, beside a library's least energy, and what must hold of any legs."""

import numpy as np
import pytest
from scipy.optimize import minimize

from criteria.errors import InputError
from criteria.standing.legs import MOST_LEGS, leg_loads
from criteria.standing.tipping import Part

FOUR = [(0, 0), (4, 0), (4, 2), (0, 2)]


def figures(loads, name):
    return [getattr(load, name) for load in loads]


def test_four_legs_under_the_middle():
    loads = leg_loads([Part(4000, (2, 1))], FOUR)
    assert figures(loads, "alike_kg") == pytest.approx([1000] * 4)


def test_four_legs_off_the_middle():
    # alike: 1000 + 4000 · 0.5 (x − 2) ÷ 16 + 4000 · 0.2 (y − 1) ÷ 4; statics leaves one free
    # amount t (1, −1, 1, −1), until a leg lifts
    loads = leg_loads([Part(4000, (2.5, 1.2))], FOUR)
    assert figures(loads, "alike_kg") == pytest.approx([550, 1050, 1450, 950])
    assert figures(loads, "low_kg") == pytest.approx([250, 750, 1150, 650])
    assert figures(loads, "high_kg") == pytest.approx([850, 1350, 1750, 1250])
    assert figures(loads, "least_kg") == pytest.approx([0, 100, 900, 0], abs=1e-6)
    assert figures(loads, "most_kg") == pytest.approx([1500, 1600, 2400, 1500])


def test_three_legs_have_no_choice():
    loads = leg_loads([Part(300, (1, 1))], [(0, 0), (3, 0), (0, 3)])
    for name in ("alike_kg", "low_kg", "high_kg", "least_kg", "most_kg"):
        assert figures(loads, name) == pytest.approx([100, 100, 100])


def test_a_leg_that_would_pull_is_off():
    # on a line of three, with the mass near one end, the far leg would pull
    legs = [(0, 0), (1, 0), (6, 0), (0, 1), (1, 1), (6, 1)]
    loads = leg_loads([Part(600, (0.2, 0.5))], legs, spread=0)
    assert figures(loads, "alike_kg") == pytest.approx([240, 60, 0, 240, 60, 0])


def test_loads_that_do_not_settle_are_none(monkeypatch):
    monkeypatch.setattr("criteria.standing.legs.ROUNDS", 1)
    with pytest.raises(InputError, match="don't settle"):
        leg_loads([Part(600, (0.2, 0.5))], [(0, 0), (1, 0), (6, 0), (0, 1), (1, 1), (6, 1)])


def test_a_mass_over_a_diagonal_of_two_legs_alone():
    loads = leg_loads([Part(100, (1, 1))], [(0, 0), (2, 0), (2, 2), (0, 2)], spread=0.9)
    assert sum(figures(loads, "alike_kg")) == pytest.approx(100)
    assert max(figures(loads, "most_kg")) == pytest.approx(50)


@pytest.mark.parametrize(
    ("parts", "legs", "told"),
    [
        ([Part(100, (5, 5))], FOUR, "it tips"),
        ([Part(100, (0, 1))], FOUR, "it tips"),
        ([Part(100, (1, 0))], [(0, 0), (1, 0), (2, 0)], "stand in one line"),
        ([Part(100, (1, 1))], [(n, n % 2) for n in range(MOST_LEGS + 1)], "at most 12"),
        ([], FOUR, "mass is 0 kg"),
    ],
)
def test_what_has_no_loads_says_why(parts, legs, told):
    with pytest.raises(InputError, match=told):
        leg_loads(parts, legs)


@pytest.mark.parametrize("spread", [-0.1, 1.0, float("nan")])
def test_a_spread_is_a_share(spread):
    with pytest.raises(InputError, match="expected a share from 0 to under 1"):
        leg_loads([Part(100, (1, 1))], FOUR, spread)


@pytest.mark.parametrize("seed", range(30))
def test_least_energy_balance_and_ranges_that_hold_each_other(seed):
    rng = np.random.default_rng(seed)
    legs = [tuple(at) for at in rng.uniform((0, 0), (6, 3), (rng.integers(3, 9), 2))]
    inside = np.average(legs, axis=0, weights=rng.dirichlet(np.ones(len(legs))))
    loads = leg_loads([Part(1000, tuple(inside))], legs)
    alike = np.array(figures(loads, "alike_kg"))
    arms = np.column_stack([np.ones(len(legs)), legs])

    def energy(q):
        pressed = np.maximum(0, arms @ q)
        return (pressed @ pressed) / 2 - 1000 * (q @ [1, *inside])

    def slope(q):
        return np.maximum(0, arms @ q) @ arms - 1000 * np.array([1, *inside])

    found = minimize(
        energy, [500, 0, 0], jac=slope, method="BFGS", options={"gtol": 1e-7, "maxiter": 5000}
    )
    assert alike == pytest.approx(np.maximum(0, arms @ found.x), abs=0.1)
    assert alike @ arms == pytest.approx(1000 * np.array([1, *inside]), rel=1e-6)
    for load in loads:
        assert -1e-6 <= load.least_kg <= load.low_kg + 1e-6
        assert load.low_kg - 1e-6 <= load.alike_kg <= load.high_kg + 1e-6
        assert load.high_kg <= load.most_kg + 1e-6

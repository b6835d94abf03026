import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.generalizability import components_of, facets

NAMES = (
    "scheme",
    "criterion",
    "juror",
    "scheme × criterion",
    "scheme × juror",
    "criterion × juror",
    "scheme × criterion × juror",
)


# O-21: Gleser, Cronbach and Rajaratnam 1965, 12 persons by 6 items by 2 judges. Grade RUN.
def test_o21_gleser(published_panel):
    found = facets(published_panel("gleser_1965"))
    assert tuple(found.components) == NAMES
    assert list(found.components.values()) == pytest.approx(
        [0.41869, 0.46717, -0.01414, 0.42727, 0.19192, 0.02045, 0.62121], abs=5e-6
    )


def test_o21_what_more_judges_would_buy(published_panel):
    found = facets(published_panel("gleser_1965"))
    assert (found.dependability(), found.relative()) == pytest.approx((0.5838, 0.7683), abs=5e-5)
    assert (found.dependability(4), found.relative(4)) == pytest.approx((0.6517, 0.8690), abs=5e-5)
    assert found.one_more() == (found.relative(2), found.relative(3))


def test_a_negative_component_is_shown_and_used_as_0(published_panel):
    found = facets(published_panel("gleser_1965"))
    assert found.components["juror"] < 0
    assert found.used("juror") == 0


# With cells missing: unbiased, on average over many simulated panels.
def test_with_cells_missing_the_components_are_unbiased():
    rng = np.random.default_rng(7)
    sizes, truth = (10, 4, 4), (1.0, 0.2, 0.5, 0.3, 0.4, 0.1, 0.6)
    axes = ((0,), (1,), (2,), (0, 1), (0, 2), (1, 2), (0, 1, 2))
    total = np.zeros(7)
    for _ in range(300):
        levels = np.zeros(sizes)
        for variance, kept in zip(truth, axes, strict=True):
            shape = [size if axis in kept else 1 for axis, size in enumerate(sizes)]
            levels = levels + rng.normal(0, np.sqrt(variance), shape)
        seen = rng.random(sizes) < 0.85
        total += list(components_of(levels, seen).components.values())
    assert total / 300 == pytest.approx(truth, abs=0.12)


@pytest.mark.parametrize(
    ("shape", "reason"),
    [
        ((3, 1, 3), "needs 2 of each facet; there is 1 criterion"),
        ((3, 2, 1), "needs 2 of each facet; there is 1 juror"),
    ],
)
def test_one_of_a_facet_is_too_few(shape, reason):
    assert components_of(np.zeros(shape), np.ones(shape, dtype=bool)) == NotAvailable(reason)


def test_levels_that_never_differ_have_no_components():
    block = np.full((3, 2, 2), 4.0)
    assert components_of(block, np.ones_like(block, dtype=bool)) == NotAvailable(
        "every level is the same"
    )


@given(
    st.lists(st.integers(1, 5), min_size=24, max_size=24),
    st.integers(-5, 5),
    st.permutations(range(4)),
)
@settings(max_examples=50)
def test_shift_and_order_change_nothing(levels, shift, order):
    block = np.array(levels, dtype=float).reshape(4, 3, 2)
    seen = np.ones_like(block, dtype=bool)
    plain, moved = components_of(block, seen), components_of(block[list(order)] + shift, seen)
    if isinstance(plain, NotAvailable):
        assert moved == plain
    else:
        assert list(moved.components.values()) == pytest.approx(
            list(plain.components.values()), abs=1e-9
        )


def test_facets_that_always_come_together_cannot_be_told_apart():
    block = np.arange(8.0).reshape(2, 2, 2)
    seen = np.zeros_like(block, dtype=bool)
    seen[0, 0, 0] = seen[1, 1, 1] = True
    assert components_of(block, seen) == NotAvailable(
        "too few levels: the facets can't be told apart"
    )


def test_schemes_that_do_not_differ_are_not_reliable():
    block = np.zeros((3, 2, 2))
    block[:, 1] = 1.0  # criteria differ and nothing else does
    found = components_of(block, np.ones_like(block, dtype=bool))
    reason = NotAvailable("schemes don't differ")
    assert found.relative() == found.one_more() == reason
    assert found.dependability() == 0

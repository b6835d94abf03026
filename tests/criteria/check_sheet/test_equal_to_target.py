"""A figure equal to its target is on the line; a count, or a target of all, meets it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.check_sheet.sheet import judge
from criteria.checks.catalogue import CATALOGUE
from criteria.findings import Measured, Rule, State
from criteria.package import Package
from criteria.targets.reading import Target
from tests.criteria.variants import PACKAGES, sheet_of, typed

ONE_SIDED = [Rule.AT_LEAST, Rule.AT_MOST]
FIGURES = st.floats(1e-6, 1e9)


JUDGED = [check for check in CATALOGUE if not check.is_untried]


def _held(check, rule, values, limits, not_over=None):
    """Judge a check that measures these figures, whatever the package."""
    measured = [Measured(values=values)]
    fixed = replace(check, measure=lambda package, uses: measured)
    target = Target(ref="T01", words="", check=fixed, rule=rule, values=limits, not_over=not_over)
    return judge(Package(), target)


@pytest.mark.parametrize("check", JUDGED, ids=lambda check: check.slug)
@settings(max_examples=10)
@given(figure=FIGURES, rule=st.sampled_from(ONE_SIDED))
def test_equal_is_on_the_line_and_of_a_count_meets(check, figure, rule):
    values = (figure,) * len(check.scales)
    found = _held(check, rule, values, values)
    assert found.state is (State.MEETS if check.is_count else State.ON_THE_LINE)


@pytest.mark.parametrize("check", JUDGED, ids=lambda check: check.slug)
@settings(max_examples=10)
@given(figure=FIGURES)
def test_equal_to_an_upper_bound_is_on_the_line_too(check, figure):
    values = (figure,) * len(check.scales)
    found = _held(check, Rule.AT_LEAST, values, tuple(v / 2 for v in values), not_over=figure)
    assert found.state is (State.MEETS if check.is_count else State.ON_THE_LINE)
    assert not found.is_beyond


@pytest.mark.parametrize(
    "check", [c for c in CATALOGUE if c.rule is Rule.ALL], ids=lambda check: check.slug
)
def test_of_all_none_outside_meets(check):
    assert _held(check, Rule.ALL, (0.0,), (0.0,)).state is State.MEETS


@pytest.mark.parametrize("key", PACKAGES, ids="".join)
def test_each_figure_of_the_demo_held_to_itself_is_met(key):
    asked = {target.ref: target for target in typed(key)[1]}
    for finding in sheet_of(key).asked:
        target = asked[finding.ref]
        values = tuple(part.value for part in finding.parts)
        if None in values or target.rule is Rule.ALL:
            continue
        state = _held(target.check, target.rule, values, values).state
        assert state is (State.MEETS if target.check.is_count else State.ON_THE_LINE), finding.ref


# A share of a temperature counts from absolute zero: half a per cent of 290 K is 1.4 K.
@pytest.mark.parametrize(
    ("above_k", "state"),
    [(-0.1, State.MEETS), (0.0, State.ON_THE_LINE), (0.1, State.OVER)],
)
def test_a_tenth_of_a_degree_is_off_the_line(above_k, state):
    check = next(c for c in CATALOGUE if c.slug == "balance_temperature")
    assert _held(check, Rule.AT_MOST, (289.15 + above_k,), (289.15,)).state is state

"""Reach ranges: each limit just under and just over it."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


def _hook(height, over=""):
    row = {"mark": "U1", "item": "Coat hook", "kind": "hook", "n": "1"}
    return {"furniture": row | {"reach_mm": height, "reach_over_mm": over}}


# 2010 ADA Standards 308.2.1 and 308.2.2, from memory: 15 to 48 in; over more than 20 in and up
# to 25 in, 44 in; further is out of reach.
@pytest.mark.parametrize(
    ("height", "over", "value"),
    [
        ("15 in", "", "all"),
        ("14.9 in", "", "not: U1 (too low)"),
        ("48 in", "", "all"),
        ("1220", "", "all"),  # as the standard prints 48 in
        ("48.1 in", "", "not: U1 (too high)"),
        ("48 in", "20 in", "all"),
        ("48 in", "20.1 in", "not: U1 (too high)"),
        ("44 in", "25 in", "all"),
        ("44.1 in", "25 in", "not: U1 (too high)"),
        ("40 in", "25.1 in", "not: U1 (too far)"),
    ],
)
def test_reach_at_just_under_and_just_over_each_limit(package, hold, height, over, value):
    found = hold(package(**_hook(height, over)), "reach", "all")
    assert found.write_value() == value
    assert found.state is (State.MEETS if value == "all" else State.SHORT)
    assert found.caution


def test_reach_is_worked_out_and_asked_about(package, hold):
    found = hold(package(**_hook("1300")), "reach", "all")
    (step,) = found.steps
    assert step.write() == "U1: 1\u202f300 mm high over 0 mm, within 380 mm to 1\u202f220 mm"
    assert found.question == "U1 (too high). Who reaches it, sitting?"


def test_furniture_that_nobody_reaches_for_is_no_data(package, hold):
    found = hold(package(**_hook("")), "reach", "all")
    assert found.missing == ("Hand height (furniture schedule)",)
    assert "furniture" in CHECKS["reach"].schedules

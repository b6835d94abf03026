"""Axle groups against the US bridge formula: published rows, then each limit."""

import pytest

from criteria.findings import State
from criteria.measures.moving import bridge_formula
from criteria.units import FOOT, POUND, System

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


# FHWA, Bridge Formula Weights, Table of permissible gross loads: rows whose formula stands
# halfway between two steps of 500 lb and is printed at the lower (from memory).
@pytest.mark.parametrize(
    ("axles", "feet", "pounds"),
    [(2, 9, 39_000), (3, 9, 42_500), (3, 10, 43_500), (3, 11, 44_000), (3, 13, 45_500),
     (4, 12, 50_000), (5, 51, 80_000)],
)  # fmt: skip
def test_a_half_goes_down(axles, feet, pounds):
    assert bridge_formula(axles, feet * float(FOOT)) / float(POUND) == pytest.approx(pounds)


def _transport(axles="5", spread="51 ft", group="80000 lb"):
    cells = {"axles": axles, "axle_spread_m": spread, "axle_group_kg": group}
    return {"transport": {"vehicle": "Lorry", **cells}}


@pytest.mark.parametrize(
    ("group", "state"),
    [("79000 lb", State.MEETS), ("80000 lb", State.ON_THE_LINE), ("81000 lb", State.OVER)],
)
def test_five_axles_over_51_ft_carry_80_000_lb(package, hold, group, state):
    found = hold(package(**_transport(group=group)), "axle_group", "1")
    assert found.state is state
    first, _ = (step.write(System.US) for step in found.steps)
    assert first == "5 axles over 51.00 ft: 80,000 lb by the formula"
    assert found.notes == ()
    assert found.caution


@pytest.mark.parametrize(
    ("axles", "spread", "allowed"),
    [
        ("6", "60 ft", 80_000),  # 90,000 lb by the formula: the gross limit stands
        ("2", "8 ft", 34_000),  # a tandem, whatever the formula gives
        ("2", "9 ft", 39_000),
        ("3", "8 ft", 34_000),
        ("2", "40 in", 20_000),  # one axle, 23 CFR 658.5
        ("2", "41 in", 33_500),
    ],
)
def test_the_formula_gives_no_more_than_the_law(package, hold, axles, spread, allowed):
    found = hold(package(**_transport(axles, spread, f"{allowed} lb")), "axle_group", "1")
    assert found.value == pytest.approx(1)


def test_what_stands_above_the_formula_is_said(package, hold):
    found = hold(package(**_transport("2", "8 ft")), "axle_group", "1")  # 38,000 lb by it
    said = "whatever the formula gives, 34,000 lb is the most without a permit"
    assert found.write_notes(System.US) == (said,)


@pytest.mark.parametrize("head", ["axles", "axle_spread_m", "axle_group_kg"])
def test_a_blank_axle_cell_is_named(package, hold, head):
    rows = _transport()
    rows["transport"][head] = ""
    found = hold(package(**rows), "axle_group", "1")
    assert (found.state, len(found.missing)) == (State.NO_DATA, 1)

"""Slings: a public rigging page, the oracle's figures, and what isn't given."""

import pytest

from criteria.findings import State
from criteria.units import System

PANEL = {"mark": "M1", "piece": "Panel", "n": "4", "l_m": "5", "w_m": "2.2", "h_m": "0.4",
         "kg_each": "610", "eyes": "4", "sling": "50", "eye_h_m": "0.4"}  # fmt: skip


# A public rigging page: 1,000 lb on two legs at 45° and at 60°. By hand: 610 kg on four at 50°.
@pytest.mark.parametrize(
    ("cells", "system", "value"),
    [
        ({"kg_each": "1000 lb", "eyes": "2", "sling": "45"}, System.US, "707 lb"),
        ({"kg_each": "1000 lb", "eyes": "2", "sling": "60"}, System.US, "577 lb"),
        ({}, System.METRIC, "398 kg"),
        ({"eyes": "1", "sling": "90"}, System.METRIC, "610 kg"),
    ],
)
def test_what_one_leg_carries(package, hold, cells, system, value):
    found = hold(package(pieces=PANEL | cells), "sling_tension", "500")
    assert found.write_value(system) == value


def test_two_legs_are_counted_of_four_and_what_draws_the_eyes_together_is_said(package, hold):
    found = hold(package(pieces=PANEL), "sling_tension", "500")
    assert found.state is State.MEETS
    assert found.steps[-1].write() == "610 kg ÷ (2 × sin 50°) = 398 kg"
    assert found.write_notes() == (
        "4 eyes, two legs counted: a stiff load hangs from two",
        "each leg draws its eyes together with 256 kg",
    )
    assert "rigger" in found.caution


@pytest.mark.parametrize(
    ("cells", "value"),
    [
        ({}, "all"),
        ({"sling": "45"}, "all"),
        ({"sling": "44"}, "not: M1 (sling too flat)"),
        ({"eye_h_m": "0.2"}, "not: M1 (eyes not above its centre)"),
        (
            {"sling": "25", "eye_h_m": "0"},
            "not: M1 (sling too flat, eyes not above its centre)",
        ),
    ],
)
def test_slings_are_steep_and_eyes_high_enough(package, hold, cells, value):
    assert hold(package(pieces=PANEL | cells), "lifting_eyes", "yes").write_value() == value


@pytest.mark.parametrize(("check", "aim"), [("sling_tension", "500"), ("lifting_eyes", "yes")])
def test_what_is_carried_by_hand_is_not_slung_and_what_says_nothing_is_not_passed_over(
    package, hold, check, aim
):
    light = PANEL | {"mark": "M2", "eyes": "0", "sling": "", "kg_each": "30"}
    assert hold(package(pieces=[PANEL, light]), check, aim).state is State.MEETS
    found = hold(package(pieces=light), check, aim)
    assert found.missing == ("a piece with lifting eyes (piece schedule)",)
    silent = light | {"eyes": "", "eye_h_m": ""}
    found = hold(package(pieces=[PANEL, silent]), check, aim)
    assert found.state is State.NO_DATA
    assert "M2, Sling (piece schedule)" in found.missing


def test_under_30_degrees_no_tension_is_given(package, hold):
    found = hold(package(pieces=PANEL | {"sling": "29"}), "sling_tension", "5000")
    assert found.missing == (
        "a figure that can be: sling stands at 29°; expected 30° to 90° from the level",
    )


def test_on_the_hook_it_weighs_what_is_in_it_then(package, hold):
    states = [{"state": "packed", "kind": "road"}, {"state": "hook", "kind": "lift"}]
    box = PANEL | {"mark": "M2", "n": "1", "kg_each": "100", "eyes": "0"}
    tables = {"pieces": [PANEL | {"n": "1"}, box], "states": states}
    inside = {"mark": "M2", "state": "hook", "inside": "M1"}
    found = hold(package(**tables, pieces_by_state=inside), "sling_tension", "500")
    assert (found.value, found.in_state) == (pytest.approx(710 / 610 * 398.149223246345), "hook")
    assert hold(package(**tables), "sling_tension", "500").value == pytest.approx(398.149223246345)

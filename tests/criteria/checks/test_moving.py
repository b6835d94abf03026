"""Pieces: sizes, masses, lifts and hands, by hand and at the limit."""

import pytest

from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA

LIMITS = {"piece_l_m": "6.0", "piece_w_m": "2.3", "piece_h_m": "2.2"}


PIECES = [
    {"mark": "M1", "piece": "Core", "n": "1", "l_m": "1.6", "w_m": "1.2", "h_m": "2.4",
     "kg_each": "750", "order": "1"},
    {"mark": "M2", "piece": "Panel", "n": "4", "l_m": "5.8", "w_m": "2.2", "h_m": "0.3",
     "kg_each": "610", "order": "2"},
]  # fmt: skip


@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("piece_envelope", "yes", "not: M1", SHORT),
        ("piece_mass", "750", "750 kg", LINE),
        ("piece_mass", "740", "750 kg", OVER),
        ("lifts", "5", "5", MEETS),
        ("lifts", "4", "5", OVER),
        ("hand_carry", "60", "60", MEETS),
        ("road_width", "2.2", "2.20 m", LINE),
        ("road_height", "3.4", "3.40 m", LINE),
        ("payload", "1", "0.25", MEETS),
        ("container_fit", "yes", "not: M1", SHORT),
        ("order_numbers", "yes", "all", MEETS),
    ],
)
def test_pieces_by_hand(package, hold, check, target, value, state):
    carrier = {"deck_m": "1.0", "payload_kg": "3000", "container": "20 ft"}
    pieces = [PIECES[0] | {"w_m": "2.35" if check == "container_fit" else "1.2"}, PIECES[1]]
    found = hold(package(pieces=pieces, transport=carrier, site=LIMITS), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_a_piece_just_within_and_just_over_its_envelope(package, hold):
    for height, state in (("2.2", MEETS), ("2.21", SHORT)):
        pieces = [PIECES[0] | {"h_m": height}]
        assert hold(package(pieces=pieces, site=LIMITS), "piece_envelope", "yes").state is state


def test_a_piece_without_a_size_keeps_the_rest_from_being_all(package, hold):
    pieces = [PIECES[1], {"mark": "M3", "piece": "Crate", "n": "1"}]
    found = hold(package(pieces=pieces, site=LIMITS), "piece_envelope", "yes")
    assert (found.state, found.write_value()) == (NO_DATA, "")
    assert found.missing[0] == "M3, Length (piece schedule)"


# By hand: a shell of 700 kg holds three drawers of 40 kg, one of which holds a crate of 15 kg.
NEST = [
    {"mark": "M1", "piece": "Shell", "n": "1", "kg_each": "700"},
    {"mark": "M2", "piece": "Drawer", "n": "3", "kg_each": "40", "packs_into": "M1"},
    {"mark": "M3", "piece": "Crate", "n": "1", "kg_each": "15", "packs_into": "M2"},
    {"mark": "M4", "piece": "Panel", "n": "2", "kg_each": "600"},
]


@pytest.mark.parametrize(
    ("check", "value", "subject"),
    [("lifts", "3", ""), ("piece_mass", "865 kg", "M1"), ("payload", "0.87", "M1")],
)
def test_nested_pieces_are_one_lift_with_their_sum(package, hold, check, value, subject):
    found = hold(package(pieces=NEST, transport={"payload_kg": "1000"}), check, "1")
    assert (found.write_value(), found.subject) == (value, subject)
    if subject:
        assert found.steps[0].write() == "M1: 700 kg + 3 × M2 55 kg = 865 kg"


def test_the_payload_says_of_what_vehicle_and_how_much_there_is_in_all(package, hold):
    carrier = {"payload_kg": "1000", "vehicle": "Helicopter"}
    found = hold(package(pieces=NEST, transport=carrier), "payload", "1")
    assert found.write_notes() == ("2.0 t in all", "by Helicopter")


def test_what_packs_into_several_alike_is_shared_out_and_the_fullest_counts(package, hold):
    pieces = [NEST[0] | {"n": "2"}, NEST[1]]
    found = hold(package(pieces=pieces), "piece_mass", "750")
    assert (found.write_value(), found.state) == ("780 kg", OVER)


@pytest.mark.parametrize("ring", [("M1", ""), ("M2", "M1")])
def test_pieces_that_hold_each_other_are_no_data_and_named(package, hold, ring):
    first, second = ring
    pieces = [NEST[0] | {"packs_into": first}, NEST[1] | {"packs_into": second}]
    for check in ("lifts", "piece_mass", "payload", "hitch_share"):
        found = hold(package(pieces=pieces, transport={"payload_kg": "1000"}), check, "1")
        assert found.state is NO_DATA
        assert "Packs into (piece schedule): a piece that isn't inside it" in found.missing[0]


def test_a_nested_piece_without_a_weight_leaves_its_lift_unknown(package, hold):
    pieces = [NEST[0], NEST[1] | {"kg_each": ""}]
    found = hold(package(pieces=pieces), "piece_mass", "750")
    assert (found.state, found.missing) == (NO_DATA, ("M2, Weight each (piece schedule)",))
    heavy = hold(package(pieces=pieces), "piece_mass", "690")
    assert (heavy.state, heavy.write_value()) == (OVER, "at best 700 kg")


# 25 kg for one, 33.3 for two, 37.5 for three (ISO 11228-1 and L23, from memory).
@pytest.mark.parametrize(
    ("kg", "people", "state"), [("25", "1", MEETS), ("33", "2", MEETS), ("50", "4", OVER)]
)
def test_a_team_that_carries_is_weaker_than_its_sum(package, hold, kg, people, state):
    found = hold(package(pieces=NEST[0] | {"kg_each": kg}), "hand_carry", "2")
    assert (found.write_value(), found.state) == (people, state)
    assert "half is taken" in found.limits


def test_what_is_carried_by_hand_is_carried_by_itself(package, hold):
    pieces = [NEST[0] | {"kg_each": "20"}, NEST[1] | {"kg_each": "20"}]
    assert hold(package(pieces=pieces), "hand_carry", "1").state is MEETS


def test_no_limit_of_size_is_asked_for(package, hold):
    found = hold(package(pieces=PIECES), "piece_envelope", "yes")
    assert "Longest piece (site sheet)" in found.missing


@pytest.mark.parametrize("check", ["piece_mass", "nesting_clearance"])
def test_a_piece_in_one_that_is_not_there_then_is_no_data_and_no_crash(package, hold, check):
    inner = PIECES[1] | {"packs_into": "M1", "n": "1"}
    gone = {"mark": "M1", "state": "road", "absent": "yes"}
    states = {"state": "road", "kind": "road"}
    there = package(pieces=[PIECES[0], inner], pieces_by_state=gone, states=states)
    missing = hold(there, check, "1").missing
    assert missing == ("M2, Packs into (piece schedule): a piece that is there",)

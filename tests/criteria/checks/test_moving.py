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


def test_no_limit_of_size_is_asked_for(package, hold):
    found = hold(package(pieces=PIECES), "piece_envelope", "yes")
    assert "Longest piece (site sheet)" in found.missing

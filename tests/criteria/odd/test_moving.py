"""Pieces, masses and lifts that don't go together."""

import pytest

from criteria.odd.values import odd_values
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.site import Site


def piece(**cells):
    return {
        "mark": "M1",
        "piece": "Wall panel",
        "n": "1",
        "l_m": "2",
        "w_m": "1",
        "h_m": "0.5",
        "kg_each": "300",
        **cells,
    }


@pytest.mark.parametrize(
    ("name", "kg", "asked"),
    [
        ("Wall panel", "19.9", True),
        ("Wall panel", "20", False),
        ("Wall panel", "1200", False),
        ("Wall panel", "1201", True),
        ("Sheep wool bales", "5", False),
        ("Sheep wool bales", "4.9", True),
        ("Steel beams", "7900", False),
        ("Steel beams", "8001", True),
    ],
)
def test_a_piece_lighter_or_heavier_than_its_size(asks, name, kg, asked):
    """One cubic metre outside."""
    assert bool(asks("kg_each", pieces=piece(piece=name, kg_each=kg))) is asked


def test_tonnes_typed_as_kilograms_are_offered_as_tonnes(asks):
    (odd,) = asks("kg_each", pieces=piece(kg_each="0.3"))
    assert odd.suggestion == "0.3 t"
    assert asks("kg_each", pieces=piece(kg_each=odd.suggestion)) == []
    assert asks("kg_each", pieces=piece(kg_each="0.3", h_m="")) == []


@pytest.mark.parametrize(("length", "asked"), [("8.1", False), ("8.11", True)])
def test_a_side_far_over_what_can_be_brought(asks, length, asked):
    site = {"piece_l_m": "6", "piece_w_m": "2.3", "piece_h_m": "2.2"}
    found = asks("l_m", pieces=piece(l_m=length), site=site)
    assert bool(found) is asked


@pytest.mark.parametrize(
    ("kg", "asked"), [("272", True), ("273", False), ("333", False), ("334", True)]
)
def test_pieces_against_the_buildings_mass(asks, kg, asked):
    """300 kg of pieces: the building differs by more than a tenth."""
    assert bool(asks("empty_kg", pieces=piece(), supports={"empty_kg": kg})) is asked


def test_pieces_without_a_mass_may_make_the_rest(asks):
    pieces = [piece(), piece(mark="M2", kg_each="")]
    assert asks("empty_kg", pieces=pieces, supports={"empty_kg": "900"}) == []
    assert asks("empty_kg", pieces=pieces, supports={"empty_kg": "200"}) != []


@pytest.mark.parametrize(("kg", "asked"), [("1149", True), ("1150", False)])
def test_load_when_full_against_water_and_people(asks, kg, asked):
    tank = {"mark": "T1", "holds": "potable", "litres": "1000", "usable_share": "0.9"}
    tables = {"tanks": tank, "site": {"people": "2"}, "supports": {"load_kg": kg}}
    assert bool(asks("load_kg", **tables)) is asked


@pytest.mark.parametrize(("kg", "asked"), [("149", True), ("150", False)])
def test_axle_group_against_cargo(asks, kg, asked):
    assert bool(asks("axle_group_kg", pieces=piece(), transport={"axle_group_kg": kg})) is asked


@pytest.mark.parametrize(
    ("kg", "people", "asked"), [("25", "1", False), ("26", "1", True), ("50", "2", False)]
)
def test_what_one_person_cannot_lift(asks, kg, people, asked):
    move = {"mark": "X1", "item": "Table", "people": people, "kg": kg, "s": "30"}
    assert bool(asks("kg", moves=move)) is asked


@pytest.mark.parametrize(
    ("length", "asked"), [(5.879, False), (5.88, True), (6.0, True), (6.01, False)]
)
def test_a_side_within_two_per_cent_of_its_limit(length, asked):
    site = Site(piece_l_m=6.0, piece_w_m=2.3, piece_h_m=2.2)
    piece = Piece(mark="M1", length_m=length, width_m=1.0, height_m=1.0)
    assert bool(odd_values(Package(site=site, pieces=(piece,)))) is asked


@pytest.mark.parametrize(
    ("width", "more", "asked"),
    [
        ("1.99", {}, False),  # 5 mm a side
        ("1.991", {}, True),
        ("2.01", {}, False),  # it doesn't fit, which its check says
        ("", {}, False),
        ("1.991", {"packs_into": ""}, False),
    ],
)
def test_a_piece_with_no_room_in_another(asks, width, more, asked):
    box = {"mark": "M1", "piece": "Box", "inside_l_m": "4", "inside_w_m": "2", "inside_h_m": "2"}
    crate = {"mark": "M2", "piece": "Crate", "l_m": "1", "w_m": width, "h_m": "1"}
    found = asks("packs_into", pieces=[box, crate | {"packs_into": "M1"} | more])
    assert bool(found) is asked
    if found:
        assert found[0].write_question() == "M2 has 5 mm a side in M1. Wet, bent and painted?"


@pytest.mark.parametrize(
    ("out", "cells", "leg", "asked"),
    [
        ("2.8", {}, {}, False),  # by hand: 1.8 m out of a length of 2
        ("2.81", {}, {}, True),
        ("2.81", {"opens_by": "lifts"}, {}, False),
        ("2.81", {"packs_into": ""}, {}, False),
        ("", {}, {}, False),
        ("2.81", {}, {"x_m": "4", "y_m": "0.5"}, False),  # a leg at its end
        ("2.81", {}, {"x_m": "5", "y_m": "0.5"}, True),
        ("2.81", {}, {"x_m": "4", "y_m": ""}, True),
    ],
)
def test_a_piece_that_slides_off_what_holds_it(asks, out, cells, leg, asked):
    box = {"mark": "M1", "piece": "Box"}
    slide = {"mark": "M2", "piece": "Bed box", "l_m": "2", "w_m": "1", "opens_by": "slides",
             "packs_into": "M1", "x_m": out, "y_m": "0"}  # fmt: skip
    found = asks(
        "opens_by",
        pieces=[box, slide | cells],
        pieces_by_state=[{"mark": "M2", "state": "packed", "x_m": "1", "y_m": "0"}],
        states=[{"state": "packed", "kind": "road"}],
        legs=[{"mark": "G1", **leg}] if leg else [],
    )
    assert bool(found) is asked
    if found:
        words = "M2 slides 1.81 m out of a length of 2.00 m, and no leg is under it. What holds it?"
        assert found[0].write_question() == words


def test_what_is_put_together_of_the_pieces_is_neither_brought_nor_weighed_twice(asks_anyway):
    site = {"piece_l_m": "6", "piece_w_m": "2.3", "piece_h_m": "2.2"}
    panels = {"mark": "M1", "piece": "Panel", "n": "10", "l_m": "5", "w_m": "2", "h_m": "0.3"}
    hut = {"mark": "M2", "piece": "The hut", "n": "1", "l_m": "13", "w_m": "6", "h_m": "3"}
    tables = {
        "states": [{"state": "packed", "kind": "lift"}, {"state": "day", "kind": "day"}],
        "site": [site],
        "pieces": [panels | {"kg_each": "500"}, hut | {"kg_each": "5000"}],
        "supports": [{"empty_kg": "5000"}],
    }
    for head in ("l_m", "empty_kg"):
        assert asks_anyway(head, **tables)
    away = {"mark": "M2", "state": "packed", "absent": "yes"}
    for head in ("l_m", "empty_kg"):
        assert asks_anyway(head, **tables, pieces_by_state=[away]) == []

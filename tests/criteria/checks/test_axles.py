"""Axle groups against the US bridge formula: published rows, then each limit."""

import pytest

from criteria.findings import State
from criteria.measures.moving import bridge_formula
from criteria.package import read_package
from criteria.units import FOOT, POUND, System
from tests.criteria.checks.spoiling import filled_cells

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
    assert first == "5 axles over 51'-0\": 80,000 lb by the formula"
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


# By hand: 1,000 kg at 2.0 m, 3,000 kg at 4.0 m and a trailer of 1,000 kg at 3.5 m, axles at 4.0 m:
# on the hitch (1,000 · 2.0 + 1,000 · 0.5) ÷ 4.0 = 625 kg of 5,000.
TRAILER = {"axle_m": "4.0", "deck_m": "0.9", "trailer_kg": "1000", "trailer_at_m": "3.5",
           "trailer_h_m": "0.6", "plate_kg": "6000", "trailer_axles": "2",
           "axle_plate_kg": "2500", "tyres": "2", "tyre_kg": "1200", "aboard_kg": "200",
           "track_m": "2.0"}  # fmt: skip
LOAD = [
    {"mark": "M1", "piece": "Core", "n": "1", "kg_each": "1000", "at_m": "2.0",
     "l_m": "2", "w_m": "2", "h_m": "2.0", "z_m": "0"},
    {"mark": "M2", "piece": "Panel", "n": "3", "kg_each": "1000", "at_m": "4.0",
     "l_m": "4", "w_m": "2", "h_m": "1.0", "z_m": "0"},
]  # fmt: skip
WATER = {"mark": "T1", "holds": "potable", "litres": "300"}


def on_road(**more):
    return {"transport": dict(TRAILER), "pieces": [dict(row) for row in LOAD], **more}


def test_the_trailers_own_mass_is_in_the_share_on_the_hitch_once_it_is_given(package, hold):
    found = hold(package(**on_road()), "hitch_share", "10 %")
    assert found.value == pytest.approx(625 / 5000)
    assert found.write_notes() == ("the trailer's own mass with it",)
    half = on_road(transport=TRAILER | {"trailer_at_m": ""})
    found = hold(package(**half), "hitch_share", "10 %")
    assert (found.state, found.missing) == (NO_DATA, ("Its centre from the hitch (transport)",))


# Gross 1,000 + 4,000 + 200 = 5,200; on the axles 5,200 − 625 = 4,575: 2,287.5 on each of two,
# 1,143.75 on each of four tyres.
def test_gross_axles_and_tyres_on_their_plates(package, hold):
    found = hold(package(**on_road()), "gross_on_plate", "1")
    values = {m.subject: m.values[0] for m in found.worst_first}
    assert values == pytest.approx(
        {"gross": 5200 / 6000, "each axle": 2287.5 / 2500, "each tyre": 1143.75 / 1200}
    )
    assert (found.state, found.subject) == (MEETS, "each tyre")
    wet = hold(package(**on_road(tanks=[WATER])), "gross_on_plate", "1")
    assert wet.state is OVER  # 300 kg of water more: 1,218.75 kg on each tyre
    assert wet.value == pytest.approx((4575 + 300) / 4 / 1200, rel=1e-3)


@pytest.mark.parametrize(
    ("head", "subjects"),
    [
        ("plate_kg", ["gross"]),
        ("axle_plate_kg", ["each axle"]),
        ("tyres", ["each tyre"]),
        ("axle_m", ["each axle", "each tyre"]),
        ("aboard_kg", ["gross", "each axle", "each tyre"]),
        ("trailer_kg", ["gross", "each axle", "each tyre"]),
    ],
)
def test_a_plate_that_is_not_given_leaves_that_one_unsaid(package, hold, head, subjects):
    found = hold(package(**on_road(transport=TRAILER | {head: ""})), "gross_on_plate", "2")
    assert found.state is NO_DATA
    assert [m.subject for m in found.worst_first if not m.values] == subjects


def test_what_is_over_whatever_else_is_typed_stays_over(package, hold):
    heavy = on_road(transport=TRAILER | {"aboard_kg": "", "plate_kg": "4000"})
    found = hold(package(**heavy), "gross_on_plate", "1")
    assert (found.state, found.at_best, found.missing != ()) == (OVER, True, True)


# h = (1,000 · 0.6 + 1,000 · (0.9 + 1.0) + 3,000 · (0.9 + 0.5)) ÷ 5,000 = 1.34 m; 2.0 ÷ 2.68.
def test_how_far_it_leans_before_it_goes_over(package, hold):
    found = hold(package(**on_road()), "static_stability", "0.35")
    assert found.value == pytest.approx(2.0 / 2.68)
    tall = on_road()
    tall["pieces"][1] |= {"z_m": "2.0"}  # on top of the core: 1.34 + 3,000 · 2.0 ÷ 5,000
    assert hold(package(**tall), "static_stability", "0.35").value == pytest.approx(2.0 / 5.08)
    raised = on_road()  # the same anywhere: the lowest stands on the deck
    for row in raised["pieces"]:
        row["z_m"] = "0.4"
    assert hold(package(**raised), "static_stability", "1").value == pytest.approx(2.0 / 2.68)


def test_what_packs_into_a_piece_lies_as_high_as_that_unless_it_says(package, hold):
    tables = on_road()
    inner = {"mark": "M3", "piece": "Stove", "n": "1", "kg_each": "500", "packs_into": "M1",
             "h_m": "0.6"}  # fmt: skip
    tables["pieces"].append(inner)
    held = hold(package(**tables), "static_stability", "0.35")
    assert held.value == pytest.approx(1 / ((1.34 * 5000 + 500 * 1.9) / 5500))
    tables["states"] = [{"state": "packed", "kind": "road"}]
    tables["pieces_by_state"] = [{"mark": "M3", "state": "packed", "z_m": "0.1"}]
    low = hold(package(**tables), "static_stability", "0.35")
    assert low.value == pytest.approx(1 / ((1.34 * 5000 + 500 * (0.9 + 0.1 + 0.3)) / 5500))


@pytest.mark.parametrize(
    ("tables", "missing"),
    [
        ({"tanks": [WATER]}, "T1 empty on the road (tanks by state), or how high they lie"),
        ({"transport": TRAILER | {"track_m": ""}}, "Track (transport)"),
        ({"transport": TRAILER | {"trailer_h_m": ""}}, "Its centre above the road (transport)"),
        ({"pieces": [LOAD[0] | {"z_m": ""}]}, "M1, Set up, height (piece schedule)"),
        ({"pieces": [LOAD[0] | {"kg_each": ""}]}, "M1, Weight each (piece schedule)"),
        ({"pieces": [LOAD[0] | {"at_m": ""}]}, "Centre from the hitch (piece schedule)"),
    ],
)
def test_what_is_not_given_leaves_stability_unsaid(package, hold, tables, missing):
    found = hold(package(**on_road(**tables)), "static_stability", "0.35")
    assert (found.state, found.missing) == (NO_DATA, (missing,))


@pytest.mark.parametrize(
    "case", filled_cells(on_road(transport=[TRAILER])), ids=lambda case: "-".join(map(str, case))
)
def test_a_cell_that_cannot_be_read_makes_no_miss_a_pass(hold, case):
    slug, row, head = case
    tables = on_road() | {"transport": [dict(TRAILER)]}
    tables[slug][row][head] = "~?"
    hut = read_package(tables).package
    for check, target in (("static_stability", "0.8"), ("gross_on_plate", "0.8")):
        assert not hold(hut, check, target).state.is_met

"""Roads, containers, nesting, packing and order: by hand, at the limit, and blank."""

import pytest

from criteria.findings import State
from criteria.package import read_package

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA

PIECES = [
    {"mark": "M1", "piece": "Core", "n": "1", "l_m": "1.6", "w_m": "1.2", "h_m": "2.4",
     "kg_each": "750", "order": "1"},
    {"mark": "M2", "piece": "Panel", "n": "4", "l_m": "5.8", "w_m": "2.2", "h_m": "0.3",
     "kg_each": "610", "order": "2"},
]  # fmt: skip


@pytest.mark.parametrize(("orders", "value"), [(("1", "1"), "not: M1, M2"), (("1", ""), "not: M2")])
def test_order_numbers_are_complete_and_once_each(package, hold, orders, value):
    pieces = [piece | {"order": order} for piece, order in zip(PIECES, orders, strict=True)]
    assert hold(package(pieces=pieces), "order_numbers", "yes").write_value() == value


OUTER = {"mark": "M1", "piece": "Shell", "n": "1", "inside_l_m": "2.0", "inside_w_m": "1.0",
         "inside_h_m": "1.0"}  # fmt: skip


@pytest.mark.parametrize(
    ("sizes", "value", "state"),
    [
        (("1.9", "0.96", "0.98"), "10 mm", LINE),
        (("0.96", "0.98", "1.9"), "10 mm", LINE),
        (("1.9", "0.99", "0.9"), "5 mm", SHORT),
        (("2.1", "0.9", "0.9"), "-50 mm", SHORT),
    ],
)
def test_clearance_of_a_piece_in_another(package, hold, sizes, value, state):
    l, w, h = sizes
    inner = {"mark": "M2", "piece": "Drawer", "n": "1", "l_m": l, "w_m": w, "h_m": h,
             "packs_into": "M1"}  # fmt: skip
    found = hold(package(pieces=[OUTER, inner]), "nesting_clearance", "10")
    assert (found.write_value(), found.state) == (value, state)


def test_a_piece_in_one_that_is_not_there_is_no_data_and_says_so(hold):
    inner = {
        "mark": "M2",
        "piece": "Drawer",
        "l_m": "1",
        "w_m": "1",
        "h_m": "1",
        "packs_into": "M9",
    }
    hut = read_package({"pieces": [OUTER, inner]}).package
    for check in ("nesting_clearance", "lifts", "piece_mass", "hitch_share"):
        found = hold(hut, check, "10")
        assert found.state is NO_DATA
        assert any("Packs into" in cell and "M9" in cell for cell in found.missing)


def test_what_stands_too_high_on_any_deck_is_over_at_best(package, hold):
    found = hold(package(pieces=PIECES), "road_height", "2")
    assert (found.state, found.write_value()) == (OVER, "at best 2.40 m")
    assert found.missing == ("Deck height (transport)",)
    assert hold(package(pieces=PIECES), "road_height", "2.5").state is NO_DATA


def stowed(n: str, l: str, w: str, h: str) -> dict[str, str]:
    return {"mark": f"U{l}{n}", "item": "Box", "kind": "other", "n": n, "stowed_in": "M1",
            "stowed_l": l, "stowed_w": w, "stowed_h": h}  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "state", "says"),
    [
        ([stowed("4", "1000", "500", "500")], MEETS, "M1: fits"),
        ([stowed("2", "1100", "1100", "300")], SHORT, "M1: does not fit"),
        ([stowed("1", "1000", "500", "")], NO_DATA, ""),
    ],
)
def test_furniture_in_a_closed_piece(package, hold, rows, state, says):
    found = hold(package(pieces=OUTER, furniture=rows), "furniture_packs", "yes")
    assert found.state is state
    assert "".join(step.write() for step in found.steps[:1]).startswith(says)


# De Bruijn's bricks: 27 of 1 × 2 × 4 have the volume of a cube of 6 and can't be laid in it.
def test_a_packing_that_is_not_answered_is_no_data(package, hold):
    cube = OUTER | {"inside_l_m": "0.6", "inside_w_m": "0.6", "inside_h_m": "0.6"}
    rows = [stowed("27", "400", "200", "100")]
    found = hold(package(pieces=cube, furniture=rows), "furniture_packs", "yes")
    assert found.state is NO_DATA
    assert "the search stops at 20,000 positions or 100 things" in found.missing[0]


# By hand: 1,000 kg at 2.0 m and 3,000 kg at 4.0 m stand at 3.5 m; axle at 4.0 m: 12.5 % forward.
@pytest.mark.parametrize(
    ("axle", "value", "state"), [("4.0", "12.5 %", MEETS), ("3.6", "2.8 %", SHORT)]
)
def test_how_much_of_the_load_is_on_the_hitch(package, hold, axle, value, state):
    pieces = [
        {"mark": "M1", "piece": "Core", "n": "1", "kg_each": "1000", "at_m": "2.0"},
        {"mark": "M2", "piece": "Panel", "n": "3", "kg_each": "1000", "at_m": "4.0"},
    ]
    found = hold(package(pieces=pieces, transport={"axle_m": axle}), "hitch_share", "10 %")
    assert (found.write_value(), found.state) == (value, state)


# By hand: what packs into the core stands where the core stands: 1,500 kg at 2.0 m and 3,000 kg
# at 4.0 m stand at 3.333 m; axle at 4.0 m: 16.7 % forward.
def test_what_packs_into_a_piece_weighs_where_that_piece_stands(package, hold):
    pieces = [
        {"mark": "M1", "piece": "Core", "n": "1", "kg_each": "1000", "at_m": "2.0"},
        {"mark": "M2", "piece": "Panel", "n": "3", "kg_each": "1000", "at_m": "4.0"},
        {"mark": "M3", "piece": "Stove", "n": "2", "kg_each": "250", "packs_into": "M1"},
        {"mark": "M4", "piece": "Lorry's own", "n": "1"},
    ]
    found = hold(package(pieces=pieces, transport={"axle_m": "4.0"}), "hitch_share", "10 %")
    assert (found.write_value(), found.state) == ("16.7 %", MEETS)
    pieces[2]["kg_each"] = ""
    found = hold(package(pieces=pieces, transport={"axle_m": "4.0"}), "hitch_share", "10 %")
    assert (found.state, found.missing) == (NO_DATA, ("M3, Weight each (piece schedule)",))

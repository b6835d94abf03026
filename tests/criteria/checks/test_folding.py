"""Steps against geometry: the oracle's nest by hand, folds, what isn't given, and properties."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import State
from criteria.package import read_package
from tests.criteria.checks.folded import STATES, house, packed, piece, step
from tests.criteria.checks.spoiling import filled_cells


@pytest.fixture
def held(package, hold):
    return lambda tables: hold(package(**tables), "order_possible", "yes")


def said(finding):
    return [step.write() for step in finding.steps]


# A's floor ends at 0.12 + 2.2 + 2.2 = 4.52; Z's near side stands at 0.4 + 2.2 + 1.9 = 4.50
def test_a_drop_box_that_lands_20_mm_on_a_floor_can_never_move(held):
    found = held(house(b=1.9))
    assert (found.state, found.write_value()) == (State.SHORT, "not: Z")
    assert said(found)[0] == "Z can never move: A stands in its way by 20 mm"


def test_20_mm_further_out_it_goes_and_the_working_says_what_waits_for_what(held):
    found = held(house())
    assert (found.state, found.write_value()) == (State.MEETS, "all")
    lines = said(found)
    assert "A only once side has moved" in lines
    assert "Z only once B, side has moved" in lines
    assert "Q2 moves A: 2\u202f200 mm up" in lines
    assert "Q4 moves Z: -900 mm in height" in lines
    assert "A in main: least 20 mm, at its left" in found.write_notes()


# The side flap is 80 mm thick and stands flush before A.
def test_a_step_that_may_come_too_early_is_named_with_what_it_meets(held):
    found = held(house(steps=("Q1 side", "Q2 A", "Q3 B Q1", "Q4 Z Q3")))
    assert (found.state, found.write_value()) == (State.SHORT, "not: Q2")
    assert said(found)[0] == "Q2 moves A before side has moved: they lie 80 mm in each other"


def test_what_goes_before_is_followed_through_other_steps(held):
    steps = ("Q1 side", "Q2 A Q1", "Q3 B Q2", "Q4 Z Q3")
    assert held(house(steps=steps)).state is State.MEETS
    tables = house(steps=("Q1 side", "Q3 B Q9", "Q2 A Q9", "Q4 Z Q3"))
    tables["steps"].append(step("Q9", "", "Q1"))
    assert held(tables).state is State.MEETS


@pytest.mark.parametrize(
    ("steps", "who", "line"),
    [
        (
            ("Q1 side", "Q2 A Q1", "Q4 Z Q1"),
            "B",
            "B moves from packed to day in no step: expected one step",
        ),
        (
            ("Q1 side", "Q2 A Q1", "Q3 B Q1", "Q4 Z Q3", "Q5 B Q4"),
            "B",
            "B moves from packed to day in Q3, Q5: expected one step",
        ),
    ],
)
def test_each_piece_that_moves_has_one_step(held, steps, who, line):
    found = held(house(steps=steps))
    assert (found.state, found.write_value()) == (State.SHORT, f"not: {who}")
    assert said(found)[0] == line


def test_what_rides_in_another_and_stays_there_needs_no_step(held):
    tables = house()
    tables["pieces"].append(piece("stool", (0.3, 0.3, 0.3), (2, 2.6, 0.2)))
    tables["pieces_by_state"].append(packed("stool", (2, 0.4, 0.2), "A"))
    assert held(tables).state is State.MEETS
    # from 0.2 up by 2.05 it reaches 10 mm into the roof of B, which lies 2.24 to 2.3 high
    tables["pieces"][-1] |= {"h_m": "2.05"}
    found = held(tables)
    assert said(found)[0] == "B can never move: stool stands in its way by 10 mm"


def test_steps_of_one_step_go_in_whatever_order_helps(held):
    tables = house(steps=("Q1 side", "Q2 A Q1"))
    tables["steps"].append(step("Q3", "Z B", "Q1"))
    assert held(tables).state is State.MEETS


def test_a_wall_beside_what_slides_keeps_a_running_gap(held):
    tables = house()
    tables["pieces"][1]["l_m"] = "5.776"  # 4 mm
    assert held(tables).state is State.MEETS
    tables["pieces"][1]["l_m"] = "5.778"  # 6 − 0.1 − 0.12 − 5.778 = 0.002 at the right
    found = held(tables)
    assert (found.state, found.write_value()) == (State.SHORT, "not: A")
    assert said(found)[0] == "A has 2 mm to main at its right, packed in it"
    tables["pieces"][1]["l_m"] = "5.8"
    found = held(tables)
    assert "A has -20 mm to main at its right, packed in it" in said(found)


# folds

PANEL = piece(
    "W", (0.08, 3, 2.4), (-0.08, 0, 0.9), opens_by="folds", hinge="right bottom", hinge_turn="90"
)
FLAT = {"x_m": "-2.4", "y_m": "0", "z_m": "0.82", "l_m": "2.4", "w_m": "3", "h_m": "0.08"}


def folding(step_top="0.95", **cells):
    """A wall of 0.08 × 2.4 m that folds out and down about its lower inner edge, and a step."""
    block = piece("S", (0.4, 1, float(step_top)), (-1.2, 1, 0))
    upright = {head: PANEL[head] for head in FLAT}
    return {
        "states": STATES,
        "pieces": [PANEL | FLAT | cells, block],
        "pieces_by_state": [{"mark": "W", "state": "packed", **upright}],
        "steps": [step("Q1", "W")],
    }


def test_a_wall_folds_down_over_a_low_step_and_meets_a_high_one(held):
    found = held(folding("0.8"))
    assert found.state is State.MEETS
    assert said(found) == ["Q1 moves W: folds by 90°"]
    found = held(folding("0.95"))
    assert (found.state, found.write_value()) == (State.SHORT, "not: W")
    # the oracle's step meets at 82° where it is sampled every 2°
    assert said(found)[0] == "W can never move: it meets S at 81°"


def test_a_flap_that_folds_by_half_a_turn_goes_the_way_that_is_free(held):
    lid = {"mark": "L", "state": "packed", "x_m": "0", "y_m": "0", "z_m": "1"}
    flap = piece("L", (1, 1, 0.1), (0, 1, 0.9), opens_by="folds", hinge="back bottom")
    chest = piece("chest", (1, 1, 0.9), (0, 0, 0))
    tables = {
        "states": STATES,
        "pieces": [flap | {"hinge_turn": "180"}, chest],
        "pieces_by_state": [lid],
        "steps": [step("Q1", "L")],
    }
    found = held(tables)
    assert (found.state, said(found)) == (State.MEETS, ["Q1 moves L: folds by 180°"])


def test_a_wall_that_folds_before_what_stands_there_has_gone(held):
    tables = folding("0.95")
    tables["pieces_by_state"].append(packed("S", (-1.2, 1, 0)))
    tables["pieces"][1] |= {"x_m": "-9"}
    tables["steps"].append(step("Q2", "S"))
    found = held(tables)
    assert (found.state, found.write_value()) == (State.SHORT, "not: Q1")
    assert said(found)[0] == "Q1 moves W before S has moved: they meet at 81°"
    tables["steps"][0]["after"] = "Q2"
    assert held(tables).state is State.MEETS


@pytest.mark.parametrize(
    ("cells", "says"),
    [
        ({"opens_by": ""}, "W, Opens by (piece schedule)"),
        ({"hinge": ""}, "W, Hinge (piece schedule)"),
        ({"hinge_turn": ""}, "W, Hinge turn (piece schedule)"),
        (
            {"hinge_turn": "180"},
            "a figure that can be: W folded by 180° about its right bottom edge doesn't come to "
            "its place in day",
        ),
        ({"hinge_turn": "100"}, "a figure that can be: W folds by 100°; expected 90, 180 or 270°"),
        (
            {"opens_by": "slides"},
            "a figure that can be: W slides, yet has other sides in day than in packed",
        ),
    ],
)
def test_a_fold_that_cannot_be_reckoned_says_why(held, cells, says):
    found = held(folding("0.8", **cells))
    assert (found.state, found.missing) == (State.NO_DATA, (says,))


def test_back_from_set_up_the_same_wall_folds_the_same_way(held):
    tables = folding("0.8")
    tables["steps"] = [step("Q1", "W"), step("Q2", "W", "Q1", **{"from": "day", "to": "packed"})]
    assert held(tables).state is State.MEETS


# what is carried


# A deck of 0.2 × 3 m comes by itself and is laid where A stands once it is out: 0.12 high.
def test_what_comes_by_itself_is_held_where_it_comes_to(held):
    tables = house()
    tables["pieces"].append(piece("deck", (3, 0.3, 0.12), (2, 4.6, 0)))
    tables["pieces_by_state"].append({"mark": "deck", "state": "packed", "absent": "yes"})
    found = held(tables)
    assert said(found)[0] == "deck moves from packed to day in no step: expected one step"
    tables["steps"].append(step("Q5", "deck", "Q1"))
    found = held(tables)
    assert found.state is State.MEETS
    assert "Q5 moves deck: carried" in said(found)
    assert found.write_notes()[-1] == (
        "carried, so that where they stand in the end alone is held: deck"
    )
    tables["pieces"][-1]["h_m"] = "0.22"  # the back wall of B goes by from 0.2 up
    found = held(tables)
    assert found.write_value() == "not: Q2, Q3"
    assert said(found)[1] == "Q3 moves B once deck has moved: they lie 20 mm in each other"
    tables["steps"][-1]["after"] = "Q2 Q3"
    assert held(tables).state is State.MEETS


def test_what_is_carried_away_stands_in_the_way_until_it_is(held):
    tables = house(steps=("Q1 side", "Q2 A Q1", "Q3 B Q1", "Q4 Z Q3"))
    tables["pieces"].append(piece("prop", (0.1, 0.1, 1), (1, 2.5, 0.2)))
    tables["pieces_by_state"] += [
        {"mark": "prop", "state": "day", "absent": "yes"},
        {"mark": "prop", "state": "packed", "x_m": "1"},
    ]
    tables["steps"].append(step("Q5", "prop"))
    found = held(tables)
    assert said(found)[0].startswith("Q2 moves A before prop has moved: they lie")
    for row in tables["steps"][1:3]:
        row["after"] = "Q1 Q5"
    assert held(tables).state is State.MEETS


def test_a_panel_that_is_carried_may_be_turned_and_laid_down(held):
    tables = house()
    tables["pieces"].append(piece("P", (2, 1, 0.05), (8, 0, 0), opens_by="carried"))
    upright = {"l_m": "0.05", "w_m": "1", "h_m": "1.5"}
    tables["pieces_by_state"].append(packed("P", (5.75, 0.5, 0.3), "main", **upright))
    tables["steps"].append(step("Q5", "P"))
    found = held(tables)
    assert found.state is State.MEETS
    # it stood beside A, which ends at 5.72
    tables["pieces_by_state"][-1]["x_m"] = "5.7"
    assert said(held(tables))[0].startswith("Q2 moves A before P has moved")


# what isn't given


@pytest.mark.parametrize(
    ("slug", "row", "cells", "says"),
    [
        ("pieces", 0, {"wall": ""}, "main, Wall (piece schedule)"),
        ("pieces", 3, {"z_m": ""}, "Z, Set up, height (piece schedule)"),
        ("pieces", 3, {"l_m": ""}, "Z, Length (piece schedule)"),
        ("pieces", 0, {"n": ""}, "main, No. (piece schedule)"),
        ("pieces", 3, {"n": "2"}, "a row and a place of its own for each of the 2 of Z"),
        ("steps", 0, {"from": "~"}, "Q1, From (set-up steps): read “~”"),
        ("steps", 0, {"after": "Q4"}, "a figure that can be: steps go round in a circle: Q1 after"),
        ("steps", 0, {"pieces": "M9"}, "a figure that can be: step Q1 moves M9, which is no piece"),
        ("pieces", 1, {"open_sides": "north"}, "A, Open sides (piece schedule): read “north”"),
        (
            "pieces",
            1,
            {"opens_by": "drops"},
            "a figure that can be: A drops, yet goes up by 0 m from packed to day",
        ),
        (
            "pieces",
            3,
            {"opens_by": "lifts"},
            "a figure that can be: Z lifts, yet goes up by -0.9 m from packed to day",
        ),
    ],
)
def test_what_is_not_given_is_no_data_and_names_its_cell(hold, slug, row, cells, says):
    tables = house()
    tables[slug][row] = tables[slug][row] | cells
    found = hold(read_package(tables).package, "order_possible", "yes")
    assert found.state is State.NO_DATA
    assert any(cell.startswith(says) for cell in found.missing), found.missing


@pytest.mark.parametrize("case", filled_cells(house()), ids=lambda case: "-".join(map(str, case)))
def test_a_cell_that_cannot_be_read_makes_no_miss_a_pass(hold, case):
    slug, row, head = case
    tables = house(b=1.9)
    tables[slug][row] = tables[slug][row] | {head: "~?"}
    found = hold(read_package(tables).package, "order_possible", "yes")
    assert not found.state.is_met
    assert found.state is not State.NO_DATA or found.missing


def test_without_steps_or_where_nothing_moves_nothing_is_said(held):
    tables = house()
    assert held({**tables, "steps": []}).state is State.NO_DATA
    found = held({**tables, "pieces_by_state": []})
    assert found.missing == ("a piece that stands elsewhere when packed (pieces by state)",)
    found = held({**tables, "states": [], "pieces_by_state": []})
    assert found.missing == ("a state of kind road or lift (states)",)


def test_a_piece_that_stands_elsewhere_at_night_needs_a_step_too(held):
    tables = house()
    tables["pieces_by_state"].append({"mark": "side", "state": "night", "z_m": "3"})
    found = held(tables)
    assert said(found)[0] == "side moves from day to night in no step: expected one step"
    tables["steps"].append(step("Q9", "side", **{"from": "day", "to": "night"}))
    assert held(tables).state is State.MEETS


def test_a_way_that_cannot_be_told_leaves_another_its_answer_and_all_no_verdict(package, hold):
    """A wall that folds at night, of a hut that is put together of panels: nobody knows how."""
    panels = piece("P", (2, 3, 0.1), (0, 0, 0)) | {"n": "10"}
    tables = {
        "states": [*STATES, {"state": "night", "kind": "night"}],
        "pieces": [PANEL, piece("hut", (2, 3, 2), (0, 0, 0)), panels],
        "pieces_by_state": [
            {"mark": "hut", "state": "packed", "absent": "yes"},
            *({"mark": "P", "state": state, "absent": "yes"} for state in ("day", "night")),
            {"mark": PANEL["mark"], "state": "night", **FLAT},
        ],
        "steps": [
            step("Q1", "", **{"from": "packed", "to": "day"}),
            step("Q2", PANEL["mark"], **{"from": "day", "to": "night"}),
        ],
    }
    finding = hold(package(**tables), "order_possible", "yes")
    assert finding.state is State.NO_DATA
    assert finding.missing == ("a row and a place of its own for each of the 10 of P",)
    held = next(each for each in finding.worst_first if each.values)
    assert [line.write() for line in held.steps] == ["Q2 moves W: folds by 90°"]


def test_what_is_known_to_be_impossible_stands_beside_what_is_not_known(hold):
    tables = house(b=1.9)
    tables["pieces_by_state"].append({"mark": "side", "state": "night", "z_m": "~"})
    found = hold(read_package(tables).package, "order_possible", "yes")
    assert (found.state, found.write_value()) == (State.SHORT, "not: Z")
    assert found.missing


def test_more_than_ten_movers_are_held_along_one_order(held):
    rows = [f"Q{n} D{n}" for n in range(12)]
    pieces = [piece(f"D{n}", (1, 1, 1), (2 * n, 3, 0)) for n in range(12)]
    tables = {
        "states": STATES,
        "pieces": pieces,
        "pieces_by_state": [packed(f"D{n}", (2 * n, 0, 0)) for n in range(12)],
        "steps": [step(*row.split()) for row in rows],
    }
    found = held(tables)
    assert found.state is State.MEETS
    assert "12 pieces move: held along one order of the steps alone" in found.write_notes()
    tables["pieces"].append(piece("post", (0.2, 0.2, 1), (6.1, 2, 0)))
    found = held(tables)
    assert said(found)[0] == "Q3 moves D3 against post: they lie 200 mm in each other"


@pytest.mark.parametrize("turns", range(4))
def test_turning_the_building_changes_nothing(package, turns):
    """By right angles on the plan: the sides that are open turn with it."""
    around = ["left", "front", "right", "back"]

    def turned(row, sides):
        x, y, l, w = (float(row[head]) for head in ("x_m", "y_m", "l_m", "w_m"))
        for _ in range(turns):
            x, y, l, w = -y - w, x, w, l
        cells = {"x_m": f"{x:.4f}", "y_m": f"{y:.4f}", "l_m": str(l), "w_m": str(w)}
        words = [
            around[(around.index(each) + turns) % 4] if each in around else each
            for each in sides.split()
        ]
        return row | cells | ({"open_sides": " ".join(words)} if words else {})

    for b in (1.9, 2.0):
        tables = house(b=b, steps=("Q1 side", "Q2 A", "Q3 B Q1", "Q4 Z Q3"))
        plain = {row["mark"]: row for row in tables["pieces"]}
        there = dict(tables)
        there["pieces"] = [turned(row, row["open_sides"]) for row in tables["pieces"]]
        there["pieces_by_state"] = [
            turned({**{h: plain[row["mark"]][h] for h in ("l_m", "w_m")}, **row}, "")
            for row in tables["pieces_by_state"]
        ]
        (one,) = CHECKS["order_possible"].of(package(**tables))
        (other,) = CHECKS["order_possible"].of(package(**there))
        assert one.shown == other.shown
        faults = int(one.values[0])
        assert [s.write() for s in one.steps[:faults]] == [s.write() for s in other.steps[:faults]]

"""A building after every step of setting up. Statics of rigid bodies, by hand."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import State
from criteria.package import read_package
from tests.criteria.checks.folded import step
from tests.criteria.checks.spoiling import filled_cells

NOBODY = [
    {"state": "packed", "kind": "road", "people": "0"},
    {"state": "day", "kind": "day", "people": "0"},
]
FEET = {"G1": (0.2, 0), "G2": (2.2, 0), "G3": (2.2, 2), "G4": (0.2, 2)}
OUTER = {"G5": (4.3, 0), "G6": (4.3, 2)}


def piece(mark, x, length, kg, **cells):
    return {"mark": mark, "piece": "Box", "n": "1", "l_m": length, "w_m": "2", "h_m": "2.4",
            "kg_each": kg, "x_m": x, "y_m": "0", **cells}  # fmt: skip


def pull_out(steps=None, states=NOBODY, kg="900", **more):
    """1\u202f800 kg on feet 2 m apart, and 900 kg in it that are pulled out over them by 2.2 m."""
    return {
        "states": list(states),
        "pieces": [piece("main", "0", "2.4", "1800"), piece("A", "2.4", "2", kg)],
        "pieces_by_state": [{"mark": "A", "state": "packed", "x_m": "0.2", "inside": "main"}],
        "legs": [
            {"mark": mark, "x_m": str(x), "y_m": str(y)}
            for mark, (x, y) in {**FEET, **OUTER}.items()
        ],
        "legs_by_state": [{"mark": mark, "state": "packed", "down": "no"} for mark in OUTER],
        "steps": steps or [step("Q1", "A"), step("Q2", "", "Q1", legs="G5 G6")],
        "site": [{"people": "4"}],
        **more,
    }


@pytest.fixture
def held(package, hold):
    return lambda tables, least="1.5": hold(package(**tables), "steps_stand", least)


def said(finding):
    return [line.write() for line in finding.steps]


# 1,800 kg × 1.0 m hold it, 900 kg × 1.2 m turn it; its centre is at 5,220 ÷ 2,700 = 1.933 m.
def test_what_is_pulled_out_before_its_legs_are_down_is_the_worst_step(held):
    found = held(pull_out())
    assert found.value == pytest.approx(1800 / 1080)
    assert (found.state, found.subject, found.name) == (State.MEETS, "Q1", "Do Q1")
    assert said(found)[:2] == [
        "before any other step",
        "2\u202f700 kg in all, its centre at 1.93 m across, 1.00 m up",
    ]
    assert "267 mm inside the edge from 2.20 m, 0.00 m to 2.20 m, 2.00 m" in said(found)
    assert "what holds it down is 1.67 times what turns it over that edge" in said(found)
    second = next(m for m in found.worst_first if m.subject == "Q2")
    assert (second.shown, second.steps[0].write()) == ("over 100", "once Q1 had ended")


# The oracle's 1,500 kg stand on the edge: 1,800 × 1.0 = 1,500 × 1.2.
def test_a_mass_that_stands_on_the_edge_holds_once(held):
    found = held(pull_out(kg="1500"))
    assert found.value == pytest.approx(1.0)
    assert found.state is State.SHORT


# Four people, 300 kg, at the far corner, 2.2 m beyond the edge: 1,800 ÷ (1,080 + 660).
def test_everybody_in_the_worst_corner(held):
    states = [NOBODY[0], {"state": "day", "kind": "day"}]
    found = held(pull_out(states=states))
    assert found.value == pytest.approx(1800 / (1080 + 660))
    assert "with 4 people, 300 kg, at 4.40 m across, 0.00 m up" in said(found)


def test_in_each_case_with_its_own_people(held):
    cases = [{"case": "two", "people": "2"}, {"case": "six", "people": "6"}]
    states = [{"state": "packed", "kind": "road"}, {"state": "day", "kind": "day"}]
    found = held(pull_out(states=states, cases=cases))
    assert (found.value, found.in_case) == (pytest.approx(1800 / (1080 + 990)), "six")


def test_legs_that_may_come_down_later_are_not_counted_on(held):
    later = [step("Q1", "A"), step("Q2", "", legs="G5 G6")]
    assert held(pull_out(later)).value == pytest.approx(1800 / 1080)


# Put down where nothing stands yet, a leg holds nothing until what it is for has come over it.
def test_legs_put_down_first_hold_nothing_before_something_stands_on_them(held):
    first = [step("Q1", "A", "Q2"), step("Q2", "", legs="G5 G6")]
    found = held(pull_out(first))
    assert (found.value, found.subject) == (pytest.approx(1800 / 1080), "Q1")
    assert found.write_notes() == (
        "while it is done: what moves has come, and stands on nothing new yet",
        "down, and under nothing yet: G5, G6",
    )
    empty = next(m for m in found.worst_first if m.subject == "Q2")
    assert [note.write() for note in empty.notes] == ["down, and under nothing yet: G5, G6"]


def test_a_wheel_under_what_moves_goes_along(held):
    tables = pull_out([step("Q1", "A")], legs_by_state=[])
    for leg in tables["legs"][4:]:
        leg["under"] = "A"
    found = held(tables)
    assert (found.write_value(), found.notes) == ("over 100", ())


# An arm of its own holds from wherever it is put down: 1 m beyond the box that is pulled out.
def test_a_leg_that_reaches_out_beyond_everything_holds_at_once(held):
    tables = pull_out([step("Q1", "A", "Q2"), step("Q2", "", legs="G5 G6")])
    for leg in tables["legs"][4:]:
        leg["x_m"] = "5.4"
    assert held(tables).write_value() == "over 100"


def test_what_is_landed_on_its_legs_from_a_hook_is_looked_at_once_it_stands(held):
    tables = pull_out([step("Q1", "A main", legs=" ".join([*FEET, *OUTER]))])
    tables["states"][0]["kind"] = "lift"
    tables["legs_by_state"] += [{"mark": m, "state": "packed", "down": "no"} for m in FEET]
    found = held(tables)
    assert (found.write_value(), found.notes) == ("over 100", ())


def test_a_step_that_moves_and_sets_down_is_looked_at_half_way(held):
    found = held(pull_out([step("Q1", "A", legs="G5 G6")]))
    assert found.value == pytest.approx(1800 / 1080)
    assert found.write_notes() == (
        "while it is done: what moves has come, and stands on nothing new yet",
    )


def test_wheels_that_are_taken_up_hold_nothing_more(held):
    tables = pull_out([step("Q1", "A"), step("Q2", "", "Q1", legs="G5 G6 G2 G3")])
    tables["legs_by_state"] += [{"mark": m, "state": "day", "down": "no"} for m in ("G2", "G3")]
    found = held(tables)
    second = next(m for m in found.worst_first if m.subject == "Q2")
    assert second.values == (100.0,)
    tables["steps"][1]["after"], tables["steps"][0]["after"] = "", "Q2"
    tables["steps"][1]["legs"] = "G2 G3"
    tables["steps"].append(step("Q3", "", "Q1", legs="G5 G6"))
    found = held(tables)
    assert found.missing == (
        "a figure that can be: after Q2: 2 feet stand in one line; expected feet around an area",
    )


# B rides in A by 2.2 m before it goes 1 m further: 100 kg at 3.4, then 4.4.
def test_what_rides_in_a_piece_weighs_where_that_has_brought_it(held):
    tables = pull_out([step("Q1", "A"), step("Q2", "B", "Q1"), step("Q3", "", "Q2", legs="G5 G6")])
    tables["pieces"].append(piece("B", "3.4", "2", "100"))
    tables["pieces_by_state"].append({"mark": "B", "state": "packed", "x_m": "0.2", "inside": "A"})
    found = held(tables)
    values = {m.subject: m.values[0] for m in found.worst_first}
    assert values["Q1"] == pytest.approx(1800 / (1000 * 1.2))
    assert values["Q2"] == pytest.approx(1800 / (900 * 1.2 + 100 * 2.2))
    # put in without a place of its own, it weighs where A does, and goes on in its own step
    tables["pieces_by_state"][1] = {"mark": "B", "state": "packed", "inside": "A"}
    again = {m.subject: m.values[0] for m in held(tables).worst_first}
    assert again == pytest.approx(values)
    # and without a step of its own it goes all the way with A
    tables["steps"] = [step("Q1", "A"), step("Q3", "", "Q1", legs="G5 G6")]
    assert held(tables).value == pytest.approx(1800 / (900 * 1.2 + 100 * 2.2))


def test_a_tank_is_as_full_as_in_the_state_that_is_left(held):
    tank = {"mark": "T1", "holds": "potable", "litres": "500", "x_m": "0.7", "y_m": "1"}
    empty = {"mark": "T1", "state": "packed", "full": "0"}
    tables = pull_out(tanks=[tank], tanks_by_state=[empty])
    assert held(tables).value == pytest.approx(1800 / 1080)
    full = pull_out(tanks=[tank])  # 500 kg of water 1.5 m inside
    assert held(full).value == pytest.approx((1800 + 500 * 1.5) / 1080, rel=1e-3)


def test_what_comes_by_itself_weighs_once_it_has_come(held):
    tables = pull_out([step("Q1", "A"), step("Q2", "", "Q1", legs="G5 G6")])
    tables["pieces"].append(piece("deck", "2.6", "2", "300"))
    tables["pieces_by_state"].append({"mark": "deck", "state": "packed", "absent": "yes"})
    found = held(tables)
    assert found.missing == ("a figure that can be: deck comes or goes, and no step moves it",)
    tables["steps"][1]["pieces"] = "deck"
    values = {m.subject: m.values[0] for m in held(tables).worst_first}
    # 300 kg × 1.4 m beyond the edge with it, its legs not down yet
    assert values == pytest.approx({"Q1": 1800 / 1080, "Q2": 1800 / (1080 + 420)})
    # a leg that is fixed to it holds nothing before it is there
    tables["legs"].append({"mark": "G7", "x_m": "4.3", "y_m": "1", "under": "deck"})
    first = next(m for m in held(tables).worst_first if m.subject == "Q1")
    assert first.values[0] == pytest.approx(1800 / 1080)
    assert "down, and under nothing yet: G7" in [note.write() for note in first.notes]


def test_packing_in_steps_of_its_own_ends_on_the_road_and_is_not_held_there(held):
    back = [
        step("Q3", "", legs="G5 G6", **{"from": "day", "to": "packed"}),
        step("Q4", "A", "Q3", **{"from": "day", "to": "packed"}),
    ]
    tables = pull_out([step("Q1", "A"), step("Q2", "", "Q1", legs="G5 G6"), *back])
    found = held(tables)
    values = {m.subject: m.values[0] for m in found.worst_first}
    assert values["Q3"] == pytest.approx(1800 / 1080)  # taken up before it is pushed in
    assert "Q4" not in values


# what isn't given


@pytest.mark.parametrize(
    ("slug", "row", "cells", "missing"),
    [
        ("pieces", 1, {"kg_each": ""}, "A, Weight each (piece schedule)"),
        ("pieces", 1, {"kg_each": ""}, "the rest of the mass: 1 of 2 pieces have theirs"),
        ("pieces", 1, {"x_m": ""}, "A, Set up, across (piece schedule)"),
        ("legs", 4, {"x_m": ""}, "G5, Across (legs)"),
        ("site", 0, {"people": ""}, "People in the brief (site sheet)"),
        ("steps", 0, {"pieces": ""}, "A stands elsewhere then, and no step moves it"),
        ("steps", 1, {"legs": "G5"}, "leg G6 is set down or taken up, and in no step"),
        ("steps", 1, {"legs": "G5 G6 G9"}, "step Q2 sets down G9, which is no leg"),
        ("steps", 1, {"pieces": "M9"}, "step Q2 moves M9, which is no piece"),
        ("steps", 1, {"pieces": "A"}, "A moves in Q1 and in Q2"),
    ],
)
def test_what_is_not_given_is_no_data_and_says_so(hold, slug, row, cells, missing):
    states = [{"state": "packed", "kind": "road"}, {"state": "day", "kind": "day"}]
    tables = pull_out(states=states)
    tables[slug][row] = tables[slug][row] | cells
    found = hold(read_package(tables).package, "steps_stand", "1.5")
    assert found.state is State.NO_DATA
    assert any(missing in cell for cell in found.missing), found.missing


def test_the_share_of_the_mass_that_is_known_is_said(hold):
    tables = pull_out(supports=[{"empty_kg": "2500"}])
    tables["pieces"][1]["kg_each"] = ""
    for check in ("steps_stand", "centre_in_feet", "leg_load"):
        found = hold(read_package(tables).package, check, "1.5")
        assert "the rest of the mass: 72 % of the mass empty (supports) is given" in found.missing


def test_without_a_step_that_moves_anything_nothing_is_said(held):
    found = held(pull_out([step("Q1", "")]))
    assert found.missing == ("a step that moves a piece or a leg (set-up steps)",)


# Steps that say nothing of what they move leave it unsaid, though those of another way stand.
def test_a_way_on_which_no_step_says_what_moves_is_not_passed_over(held):
    night = {"state": "night", "kind": "night", "people": "0"}
    back = step("Q3", "A", **{"from": "day", "to": "night"})
    tables = pull_out([step("Q1", ""), step("Q2", "", "Q1", legs="G5 G6"), back])
    tables["states"].append(night)
    tables["pieces_by_state"].append({"mark": "A", "state": "night", "x_m": "2.2"})
    tables["steps"][1]["legs"] = ""
    found = held(tables)
    assert (found.state, found.missing) == (
        State.NO_DATA,
        ("a figure that can be: A stands elsewhere then, and no step moves it",),
    )
    assert [m.subject for m in found.worst_first if m.values] == ["Q3"]


@pytest.mark.parametrize(
    "case", filled_cells(pull_out()), ids=lambda case: "-".join(map(str, case))
)
def test_a_cell_that_cannot_be_read_makes_no_miss_a_pass(hold, case):
    slug, row, head = case
    tables = pull_out()
    tables[slug][row] = tables[slug][row] | {head: "~?"}
    found = hold(read_package(tables).package, "steps_stand", "2")
    assert not found.state.is_met
    assert found.state is not State.NO_DATA or found.missing


def test_more_orders_than_are_looked_at_are_said(package):
    steps = [step("Q1", "A"), *(step(f"Q{n + 2}", "", legs=f"L{n}") for n in range(11))]
    tables = pull_out(steps)
    tables["legs"] = tables["legs"][:4] + [
        {"mark": f"L{n}", "x_m": "1", "y_m": str(n / 10)} for n in range(11)
    ]
    tables["legs_by_state"] = [
        {"mark": f"L{n}", "state": "packed", "down": "no"} for n in range(11)
    ]
    found = CHECKS["steps_stand"].of(package(**tables))
    assert found[0].values == (pytest.approx(1800 / 1080),)
    assert [note.write() for note in found[0].notes] == ["held along one order of the steps alone"]


def riding():
    """A box that rides in what is pulled out, and goes 1 m further; everybody may lean on it."""
    tables = pull_out(
        [step("Q1", "A"), step("Q2", "B", "Q1"), step("Q3", "", "Q2", legs="G5 G6")],
        states=[{"state": "packed", "kind": "road"}],
    )
    tables["pieces"].append(piece("B", "3.4", "2.2", "100"))
    tables["pieces_by_state"].append({"mark": "B", "state": "packed", "x_m": "0.2", "inside": "A"})
    return tables


# After Q1 the longer box ends at 4.6, after Q2 at 5.6.
def test_people_lean_on_what_rides_where_it_is(held):
    values = {m.subject: m.values[0] for m in held(riding()).worst_first}
    assert values["Q1"] == pytest.approx(1800 / (900 * 1.2 + 100 * 1.3 + 300 * 2.4))
    assert values["Q2"] == pytest.approx(1800 / (900 * 1.2 + 100 * 2.3 + 300 * 3.4))


@pytest.mark.parametrize("turns", range(1, 4))
def test_turning_the_building_changes_nothing(package, turns):
    """By right angles on the plan."""
    tables, there = riding(), riding()
    sizes = {row["mark"]: (row["l_m"], row["w_m"]) for row in tables["pieces"]}

    def turned(row, l=0, w=0):
        x, y, l, w = float(row["x_m"]), float(row.get("y_m", 0)), float(l), float(w)
        for _ in range(turns):
            x, y, l, w = -y - w, x, w, l
        size = {"l_m": str(l), "w_m": str(w)} if l else {}
        return row | {"x_m": f"{x:.4f}", "y_m": f"{y:.4f}"} | size

    for slug in ("pieces", "pieces_by_state"):
        there[slug] = [turned(row, *sizes[row["mark"]]) for row in tables[slug]]
    there["legs"] = [turned(row) for row in tables["legs"]]
    here, turned_by = (CHECKS["steps_stand"].of(package(**t)) for t in (tables, there))
    assert [m.values[0] for m in turned_by] == pytest.approx([m.values[0] for m in here])

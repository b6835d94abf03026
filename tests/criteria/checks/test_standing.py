"""How a building stands in each state. Statics of rigid bodies, by hand."""

import pytest

from criteria.findings import State
from criteria.package import read_package
from criteria.units import System

SITE = {"people": "4"}
FEET = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)]
DAY = {"state": "day", "kind": "day"}
OUT = {"state": "out", "kind": "other"}


def legs(feet=FEET):
    return [{"mark": f"G{n}", "x_m": str(x), "y_m": str(y)} for n, (x, y) in enumerate(feet, 1)]


def box(mark="M1", x="0", y="0", length="4", width="2", kg="1000", **cells):
    return {"mark": mark, "piece": "Box", "n": "1", "l_m": length, "w_m": width, "h_m": "2.4",
            "kg_each": kg, "x_m": x, "y_m": y, **cells}  # fmt: skip


# 1,000 kg at (2, 1) and 4 × 75 kg in a corner: the centre moves 300/1,300 of the way there, along
# the shorter side by 0.2308 m: 1 − 0.2308 = 0.7692 m inside the long edges.
def test_a_box_on_its_corners_with_everybody_in_one(package, hold):
    finding = hold(package(pieces=box(), legs=legs(), site=SITE), "centre_in_feet", "500 mm")
    assert finding.value == pytest.approx(1 - 300 / 1300)
    assert finding.state is State.MEETS


# Pulled out by 3 m over the short edge at x = 4, before its own legs are down: 600 kg at 5 m and
# four people at 6.5 m against 1,000 kg at 2 m: Σ m x = 2,000 + 3,000 + 1,950 = 6,950 of 1,900 kg.
def test_what_is_pulled_out_before_its_legs_are_down_tips(package, hold):
    pieces = [box(), box("M2", x="0.5", width="2", length="3", kg="600")]
    states = [DAY, OUT]
    out = {"mark": "M2", "state": "out", "x_m": "3.5"}
    typed = package(pieces=pieces, legs=legs(), site=SITE, states=states, pieces_by_state=out)
    finding = hold(typed, "centre_in_feet", "0")
    assert finding.value == pytest.approx(4 - 6950 / 1900 - 0, abs=1e-9)
    assert (finding.state, finding.situation) == (State.MEETS, "state out")
    heavier = package(
        pieces=[box(), box("M2", x="0.5", length="3", kg="900")],
        legs=legs(), site=SITE, states=states, pieces_by_state=out,
    )  # fmt: skip
    # 2,000 + 4,500 + 1,950 = 8,450 of 2,200 kg: 3.841 m, 0.159 m inside
    assert hold(heavier, "centre_in_feet", "0").value == pytest.approx(4 - 8450 / 2200)
    up = package(
        pieces=[box(), box("M2", x="0.5", length="3", kg="1500")],
        legs=legs(), site=SITE, states=states, pieces_by_state=out,
    )  # fmt: skip
    # 2,000 + 7,500 + 1,950 = 11,450 of 2,800 kg: 4.089 m, beyond the feet
    finding = hold(up, "centre_in_feet", "0")
    assert finding.value == pytest.approx(4 - 11450 / 2800)
    assert finding.state is State.SHORT


def test_a_leg_that_is_up_in_a_state_doesnt_stand_there(package, hold):
    feet = [*FEET, (6.0, 1.0)]
    up = {"mark": "G5", "state": "night", "down": "no"}
    typed = package(pieces=box(), legs=legs(feet), site=SITE, legs_by_state=up)
    finding = hold(typed, "leg_load", "2000")
    marks = {
        state: [m.subject for m in finding.worst_first if state in m.in_state]
        for state in ("day", "night")
    }
    assert sorted(marks["day"]) == ["G1", "G2", "G3", "G4", "G5"]
    assert sorted(marks["night"]) == ["G1", "G2", "G3", "G4"]


# Alike, four legs at the corners carry a quarter each of 1,000 kg and 4 × 75 kg.
def test_a_quarter_on_each_of_four_legs_and_more_where_one_is_stiffer(package, hold):
    finding = hold(package(pieces=box(), legs=legs(), site=SITE), "leg_load", "2000")
    assert "325 kg where all legs give alike" in finding.steps[0].write()
    assert finding.value > 325
    assert len(finding.worst_first) == 4


def test_what_is_packed_into_another_weighs_where_that_stands(package, hold):
    pieces = [box(), box("M2", x="", y="", kg="1000", packs_into="M1")]
    finding = hold(package(pieces=pieces, legs=legs(), site=SITE), "centre_in_feet", "0")
    assert finding.value == pytest.approx(1 - 300 / 2300)


def test_a_tank_weighs_by_how_full_it_is_in_the_state(package, hold):
    tank = {"mark": "T1", "holds": "potable", "litres": "1000", "usable_share": "1",
            "x_m": "3.5", "y_m": "1", "h_m": "1"}  # fmt: skip
    dry = {"mark": "T1", "state": "night", "full": "0"}
    typed = package(pieces=box(), legs=legs(), tanks=tank, tanks_by_state=dry, site={"people": "1"})
    finding = hold(typed, "centre_in_feet", "0")
    found = {m.in_state: m.values[0] for m in finding.worst_first}
    assert found["night"] == pytest.approx(1 - 75 / 1075)
    # 2,000 + 3,500 + 75 · 4 = 5,800 of 2,075 kg across: still the long edges are nearer
    assert found["day"] == pytest.approx(1 - 75 / 2075)


# p = ρ g h: 2.1 m of water is 20.6 kPa, 430 psf, whatever its thickness.
@pytest.mark.parametrize(("full", "kpa"), [("", 20.594), ("0.5", 10.297)])
def test_a_wall_of_water_presses_by_its_height_alone(package, hold, full, kpa):
    tank = {"mark": "T1", "holds": "potable", "litres": "400", "h_m": "2.1", "full": full}
    finding = hold(package(tanks=tank), "floor_under_water", "25")
    assert finding.value / 1000 == pytest.approx(kpa, abs=5e-4)
    if not full:
        assert finding.write_value(System.US) == "430 psf"


@pytest.mark.parametrize(
    ("cells", "missing"),
    [
        ({"x": ""}, "M1, Set up, across (piece schedule)"),
        ({"kg": ""}, "M1, Weight each (piece schedule)"),
    ],
)
def test_what_has_no_mass_or_place_leaves_it_unsaid(package, hold, cells, missing):
    finding = hold(package(pieces=box(**cells), legs=legs(), site=SITE), "centre_in_feet", "0")
    assert finding.state is State.NO_DATA
    assert missing in finding.missing


def test_without_legs_or_with_legs_in_one_line_nothing_is_said(package, hold):
    finding = hold(package(pieces=box(), site=SITE), "leg_load", "500")
    assert finding.state is State.NO_DATA
    line = legs([(0, 0), (1, 0), (2, 0)])
    finding = hold(package(pieces=box(), legs=line, site=SITE), "centre_in_feet", "0")
    assert "stand in one line" in finding.missing[0]


def test_pieces_that_stand_in_each_other_are_said_not_followed_for_ever(hold):
    pieces = [box(packs_into="M2"), box("M2", packs_into="M1")]
    reading = read_package({"pieces": pieces, "legs": legs(), "site": [SITE]})
    finding = hold(reading.package, "centre_in_feet", "0")
    assert (finding.state, len(finding.missing)) == (State.NO_DATA, 2)
    assert all("does not itself stand in" in cell for cell in finding.missing)


# 1,000 kg at (2, 1) and 600 kg at (1.5, 1), pulled out to (5, 1): 2,900 and 5,000 of 1,600 kg.
def test_the_centre_packed_stands_beside_that_of_what_is_set_up(package, hold):
    pieces = [box(), box("M2", x="3.5", length="3", kg="600")]
    states = [DAY, {"state": "packed", "kind": "road"}]
    stowed = {"mark": "M2", "state": "packed", "x_m": "0"}
    tables = {"pieces": pieces, "legs": legs(), "site": SITE, "states": states}
    found = hold(package(**tables, pieces_by_state=stowed), "centre_in_feet", "0")
    said = [step.write() for step in found.steps]
    assert said[:2] == [
        "1\u202f600 kg in all, its centre at 3.13 m across, 1.00 m up",
        "packed: 1\u202f600 kg in all, its centre at 1.81 m across, 1.00 m up",
    ]
    tanks = {"mark": "T1", "holds": "potable", "litres": "9", "full": "0"}
    full = {"mark": "T1", "state": "packed", "full": "1"}
    found = hold(package(**tables, tanks=tanks, tanks_by_state=full), "centre_in_feet", "0")
    assert found.steps[1].write() == "packed: not known"


def test_what_is_packed_into_a_piece_that_is_not_there_weighs_where_it_says(package, hold):
    pieces = [box(), box("M2", x="1", length="2", kg="1000", packs_into="M3"), box("M3")]
    gone = {"mark": "M3", "state": "day", "absent": "yes"}
    tables = {"legs": legs(), "site": SITE, "states": DAY, "pieces_by_state": gone}
    found = hold(package(pieces=pieces, **tables), "centre_in_feet", "0")
    day = next(m for m in found.worst_first if "day" in m.in_state)
    assert day.values[0] == pytest.approx(1 - 300 / 2300)
    tables["pieces_by_state"] = [gone, {"mark": "M2", "state": "day", "inside": "M3"}]
    found = hold(package(pieces=pieces, **tables), "centre_in_feet", "0")
    assert found.missing == ("a place for M2: M3, which holds it, isn't there",)


# By night the box is 1 m further out, and the legs that are fixed to it with it.
def test_a_leg_fixed_to_a_piece_goes_where_that_goes(package, hold):
    feet = [row | {"under": "M1"} for row in legs()]
    out = {"mark": "M1", "state": "night", "x_m": "1"}
    tables = {"pieces": box(), "legs": feet, "site": SITE, "states": DAY, "pieces_by_state": out}
    found = hold(package(**tables), "centre_in_feet", "0")
    assert {m.in_state: m.values[0] for m in found.worst_first} == {
        "day": pytest.approx(1 - 300 / 1300),
        "night": pytest.approx(1 - 300 / 1300),
    }
    loose = hold(package(**tables | {"legs": legs()}), "centre_in_feet", "0")
    night = next(m for m in loose.worst_first if m.in_state == "night")
    # (1,000 · 3 + 300 · 5) ÷ 1,300 = 3.4615 m of 4
    assert night.values[0] == pytest.approx(4 - 4500 / 1300)
    gone = {"mark": "M1", "state": "night", "absent": "yes"}
    more = {"pieces": [box(), box("M2")], "pieces_by_state": gone}
    found = hold(package(**tables | more), "centre_in_feet", "0")
    assert "a place for G1: M1, to which it is fixed, isn't there" in found.missing

"""Odd values of steps, lifts and the order of pieces, at each limit."""

import pytest

STEP = {"mark": "Q1", "step": "Pull out", "people": "2", "minutes": "15", "kg": "0"}
MOVE = {"mark": "X1", "item": "Bench", "people": "1", "kg": "21", "s": "12"}


@pytest.mark.parametrize(
    ("cells", "asked"),
    [
        ({}, []),
        ({"people": ""}, ["Q1 (Pull out): How many does it take?"]),
        ({"minutes": ""}, ["Q1 (Pull out): How long is it?"]),
        ({"minutes": "soon"}, []),  # what can't be read is named, not asked about
    ],
)
def test_a_step_without_people_or_minutes_is_asked_about(asks_anyway, cells, asked):
    heads = ("people", "minutes")
    found = [odd for head in heads for odd in asks_anyway(head, steps=[STEP | cells])]
    assert [odd.write_question() for odd in found] == asked


@pytest.mark.parametrize(("kg", "is_asked"), [("50", False), ("51", True)])
def test_a_lift_of_a_step_is_held_to_25_kg_each(asks, kg, is_asked):
    found = asks("kg", steps=[STEP | {"kg": kg}])
    assert bool(found) is is_asked
    if found:
        said = "Q1 (Pull out): 51 kg for 2 to lift. Who lifts more than 25 kg alone?"
        assert found[0].write_question() == said


@pytest.mark.parametrize(
    ("cells", "is_asked"),
    [({}, False), ({"s": "11"}, True), ({"s": "11", "kg": "20"}, False), ({"s": ""}, False)],
)
def test_a_heavy_thing_moved_in_no_time_is_asked_about(asks, cells, is_asked):
    found = asks("s", moves=[MOVE | cells])
    assert bool(found) is is_asked
    if found:
        assert found[0].write_question() == "X1 (Bench): 21 kg in 11 s. Who moves that so fast?"


def test_two_pieces_at_one_place_in_the_order_are_asked_about(asks):
    def pieces(*orders):
        return [{"mark": f"M{n}", "piece": "Box", "order": o} for n, o in enumerate(orders, 1)]

    assert asks("order", pieces=pieces("1", "2", "", "9")) == []
    (odd,) = asks("order", pieces=pieces("1", "2", "", "2"))
    assert (odd.mark, odd.write_question()) == (
        "M4",
        "M2 and M4 both arrive as 2. Which goes first?",
    )


@pytest.mark.parametrize(
    ("people", "kg", "moved", "is_asked"),
    [
        ("2", "40", "M1", False),  # 2.5 × 2 m for two, 2.5 m² each
        ("1", "20", "M1", True),
        ("1", "0", "M1", False),  # it hangs from a winch
        ("1", "20", "", False),
        ("1", "20", "M2", False),  # its sides aren't said
    ],
)
def test_a_panel_for_too_few_is_asked_about(asks, people, kg, moved, is_asked):
    pieces = [{"mark": "M1", "piece": "Panel", "l_m": "2.5", "w_m": "0.1", "h_m": "2"},
              {"mark": "M2", "piece": "Cover"}]  # fmt: skip
    step = STEP | {"people": people, "kg": kg, "pieces": moved}
    found = asks("people", steps=[step], pieces=pieces)
    assert bool(found) is is_asked
    if found:
        said = "Q1 (Pull out): 1 with a face of 5.00 m². Who holds it in a gust?"
        assert found[0].write_question() == said

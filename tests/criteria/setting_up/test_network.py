"""The critical path: a worked example, by hand, beside another library's longest paths."""

import random

import networkx
import pytest

from criteria.errors import InputError
from criteria.setting_up.network import Network, Step
from tests.criteria.setting_up.test_crew import FOURTEEN, network

SEVEN = [
    ("A", 6, 1, []), ("B", 2, 1, ["A"]), ("C", 2, 1, ["A"]), ("D", 3, 1, ["B"]),
    ("F", 2, 1, ["C"]), ("E", 4, 1, ["D", "F"]), ("G", 1, 1, ["E"]),
]  # fmt: skip


def test_the_worked_example_of_seven_activities():
    # studylib.net, document 8378728, tables 1 and 2: early and late start and finish
    found = network(SEVEN)
    assert found.length == 16
    assert {
        mark: (t.earliest_start, t.earliest_end, t.latest_start, t.latest_end)
        for mark, t in found.times().items()
    } == {
        "A": (0, 6, 0, 6),
        "B": (6, 8, 6, 8),
        "C": (6, 8, 7, 9),
        "D": (8, 11, 8, 11),
        "F": (8, 10, 9, 11),
        "E": (11, 15, 11, 15),
        "G": (15, 16, 15, 16),
    }
    assert [mark for mark, t in found.times().items() if t.slack] == ["C", "F"]


def test_fourteen_steps_by_hand():
    found = network(FOURTEEN)
    # 15 + 30 + 20 + 15 + 15 + 15 + 15 + 30 + 20
    assert found.length == 175
    assert found.critical_path() == list("abcdefgkn")
    # from what opens the roof to what closes it: 20 + 15 + 15 + 15 + 15 + 30
    assert found.longest_between("c", "k") == 110
    assert found.longest_between("k", "c") is None
    assert found.longest_between("n", "n") == 20


@pytest.mark.parametrize("seed", range(60))
def test_another_librarys_longest_path_is_as_long(seed):
    rng = random.Random(seed)
    steps = [
        Step(
            f"s{n:02}",
            rng.randint(1, 60),
            1,
            tuple(f"s{k:02}" for k in rng.sample(range(n), min(n, rng.randint(0, 3)))),
        )
        for n in range(40)
    ]
    graph = networkx.DiGraph()
    for step in steps:
        graph.add_edge(f"{step.mark} starts", f"{step.mark} ends", minutes=step.minutes)
        for mark in step.after:
            graph.add_edge(f"{mark} ends", f"{step.mark} starts", minutes=0)
    found = Network(steps)
    assert found.length == networkx.dag_longest_path_length(graph, weight="minutes")
    path = found.critical_path()
    assert sum(step.minutes for step in steps if step.mark in path) == found.length
    back = found.reversed()
    assert back.length == found.length
    assert {s.mark: set(s.after) for s in back.reversed().steps} == {
        s.mark: set(s.after) for s in steps
    }


def test_packing_takes_its_own_minutes_where_given():
    back = network(SEVEN).reversed({"A": 1})
    assert back.length == 16 - 5
    assert back.critical_path() == ["G", "E", "D", "B", "A"]


def test_no_steps_take_no_time():
    assert (Network([]).length, Network([]).critical_path()) == (0, [])


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([("A", 1, 1, ["B"])], "step A comes after B, which is no step"),
        ([("A", 1, 1, []), ("A", 2, 1, [])], "step A stands twice"),
        ([("A", 1, 1, ["A"])], "steps go round in a circle: A after A"),
        (
            [("Z", 1, 1, []), ("A", 1, 1, ["C", "Z"]), ("B", 1, 1, ["A"]), ("C", 1, 1, ["B"])],
            "steps go round in a circle: A after C after B after A",
        ),
    ],
)
def test_what_is_no_order_is_named(rows, told):
    with pytest.raises(InputError, match=told):
        network(rows)

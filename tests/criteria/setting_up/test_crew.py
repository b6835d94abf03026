"""The least time of a set-up: published least lengths, by hand, beside an integer program."""

import itertools
import random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from criteria.setting_up.bounds import least_length
from criteria.setting_up.crew import CannotBeDone, person_minutes, set_up
from criteria.setting_up.network import Network, Step
from criteria.setting_up.search import Search
from criteria.setting_up.serial import Resources


def network(rows):
    return Network(
        [Step(mark, minutes, people, tuple(after)) for mark, minutes, people, after in rows]
    )


SIX = [
    ("A", 10, 2, []), ("B", 10, 2, []), ("C", 20, 1, ["A"]),
    ("D", 10, 3, ["B", "C"]), ("E", 15, 1, ["B"]), ("F", 5, 2, ["D", "E"]),
]  # fmt: skip
FOURTEEN = [
    ("a", 15, 2, []), ("b", 30, 2, ["a"]), ("c", 20, 4, ["b"]), ("d", 15, 4, ["c"]),
    ("e", 15, 2, ["d"]), ("f", 15, 4, ["e"]), ("g", 15, 2, ["f"]), ("h", 10, 2, ["g"]),
    ("i", 10, 2, ["e"]), ("j", 25, 2, ["c"]), ("k", 30, 1, ["g"]), ("l", 40, 2, ["b"]),
    ("m", 30, 1, ["h"]), ("n", 20, 2, ["i", "k"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "people", "least"),
    [(SIX, 3, 50), (SIX, 4, 45), (FOURTEEN, 4, 185), (FOURTEEN, 5, 175), (FOURTEEN, 6, 175)],
)
def test_least_by_hand(rows, people, least):
    # by hand: with three people D takes all three, so E ends before it or waits for it
    found = set_up(network(rows), people)
    assert (found.minutes, found.is_proved) == (least, True)


@pytest.mark.parametrize(("rows", "people"), [(SIX, 2), (FOURTEEN, 3)])
def test_too_few_people_are_told_which_step(rows, people):
    found = set_up(network(rows), people)
    assert isinstance(found, CannotBeDone)
    assert found.why in ("step D takes 3 people at once", "step c takes 4 people at once")


def test_ten_jobs_with_two_resources():
    # the worked example in the documentation of python-mip, Resource Constrained Project Scheduling
    minutes = [3, 2, 5, 4, 2, 3, 4, 2, 4, 6]
    need = [(5, 1), (0, 4), (1, 4), (1, 3), (3, 2), (3, 1), (2, 4), (4, 0), (5, 2), (2, 5)]
    before = [
        (1, 4), (1, 5), (2, 9), (2, 10), (3, 8), (4, 6), (4, 7), (5, 9), (5, 10), (6, 8),
        (6, 9), (7, 8),
    ]  # fmt: skip
    steps = [
        Step(str(n), m, people, tuple(str(a) for a, b in before if b == n), {"winch": winch})
        for n, (m, (people, winch)) in enumerate(zip(minutes, need, strict=True), 1)
    ]
    assert Network(steps).length == 14
    found = set_up(Network(steps), 6, {"winch": 8})
    assert (found.minutes, found.is_proved) == (21, True)


def test_a_tool_that_is_short_is_told():
    steps = [Step("A", 5, 1, tools={"winch": 2}), Step("B", 5, 1, tools={"winch": 1})]
    found = set_up(Network(steps), 3, {"winch": 1})
    assert found == CannotBeDone("step A takes 2 × winch at once")
    assert set_up(Network(steps), 3).minutes == 10  # two winches are there, as A takes
    assert set_up(Network(steps), 3, {"winch": 2}).minutes == 10


def test_nothing_is_proved_where_not_all_was_looked_at(monkeypatch):
    rows = drawn(3, 12)
    whole = set_up(network(rows), 4)
    for name, least in (("search.MOST_SETS", 1), ("search.MOST_TRIED", 2), ("crew.NODES", 0)):
        with monkeypatch.context() as less:
            less.setattr(f"criteria.setting_up.{name}", least)
            less.setattr("criteria.setting_up.crew.VARIANTS", 0)
            found = set_up(network(rows), 4)
        assert is_possible(rows, found, 4)
        assert found.at_least <= whole.minutes <= found.minutes


def every_late_set(need, have):
    """The smallest sets to delay, by trying all of them."""
    steps = range(len(need))
    sets = [s for k in range(len(need) + 1) for s in itertools.combinations(steps, k)]
    enough = [
        set(late)
        for late in sets
        if all(sum(need[n][r] for n in steps if n not in late) <= h for r, h in enumerate(have))
    ]
    return [late for late in enough if not any(other < late for other in enough)]


@pytest.mark.parametrize("seed", range(20))
def test_the_smallest_sets_to_delay_are_those_of_trying_all(seed):
    rng = random.Random(seed)
    need = tuple((rng.randint(1, 4), rng.randint(0, 2)) for _ in range(8))
    have = (rng.randint(4, 9), rng.randint(2, 4))
    search = Search(network(drawn(seed, 8)), Resources(need, have), [0] * 8, 100)
    found = search._smallest_sets(list(range(8)))
    assert sorted(map(sorted, found)) == sorted(map(sorted, every_late_set(need, have)))


def bound_by_hand(steps, have):
    """The same bound, head by head and tail by tail."""
    heads, tails = steps.heads(), steps.tails()
    behind = [tail - step.minutes for tail, step in zip(tails, steps.steps, strict=True)]
    best = steps.length
    for head, tail in itertools.product(heads, behind):
        within = [s for k, s in enumerate(steps.steps) if heads[k] >= head and behind[k] >= tail]
        if within:
            work = sum(s.minutes * s.people for s in within)
            alone = sum(s.minutes for s in within if 2 * s.people > have)
            best = max(best, head + tail + max(-(-work // have), alone))
    return best


@pytest.mark.parametrize("seed", range(20))
def test_what_no_plan_beats_is_that_of_every_head_and_tail(seed):
    steps = network(drawn(seed, 15))
    for people in (4, 5, 7):
        assert least_length(steps, Resources.of(steps, people, {})) == bound_by_hand(steps, people)


def test_nothing_takes_no_time():
    assert least_length(network([]), Resources((), (3,))) == 0
    found = set_up(network([]), 3)
    assert (found.minutes, found.is_proved, found.most_at_once) == (0, True, 0)


def test_work_and_hands():
    found = set_up(network(FOURTEEN), 4)
    assert person_minutes(network(FOURTEEN)) == 620
    assert found.most_at_once == 4


def drawn(seed, count, most_people=4):
    rng = random.Random(seed)
    return [
        (
            f"s{n:02}", rng.randint(1, 12), rng.randint(1, most_people),
            [f"s{k:02}" for k in rng.sample(range(n), min(n, rng.randint(0, 2)))],
        )
        for n in range(count)
    ]  # fmt: skip


def is_possible(rows, found, people):
    ends = {mark: found.starts[mark] + minutes for mark, minutes, *_ in rows}
    in_order = all(found.starts[mark] >= ends[a] for mark, _, _, after in rows for a in after)
    hands = all(
        sum(p for mark, _, p, _ in rows if found.starts[mark] <= minute < ends[mark]) <= people
        for minute in range(max(ends.values()))
    )
    return in_order and hands and found.minutes == max(ends.values())


def least_by_integers(rows, people, horizon):
    """The least length by an integer program: one variable a step and a minute of its start."""
    n = len(rows)
    where = {mark: k for k, (mark, *_) in enumerate(rows)}
    size = n * horizon + 1
    cost = np.zeros(size)
    cost[-1] = 1
    limits = []

    def row():
        return np.zeros(size)

    def start_of(k):
        weights = row()
        weights[k * horizon : (k + 1) * horizon] = np.arange(horizon)
        return weights

    for k, (_, minutes, _, after) in enumerate(rows):
        once = row()
        once[k * horizon : (k + 1) * horizon] = 1
        limits.append(LinearConstraint(once, 1, 1))
        end = -start_of(k)
        end[-1] = 1
        limits.append(LinearConstraint(end, minutes, np.inf))
        for mark in after:
            apart = start_of(k) - start_of(where[mark])
            limits.append(LinearConstraint(apart, rows[where[mark]][1], np.inf))
    for minute in range(horizon):
        used = row()
        for k, (_, minutes, hands, _) in enumerate(rows):
            used[k * horizon + max(0, minute - minutes + 1) : k * horizon + minute + 1] = hands
        limits.append(LinearConstraint(used, 0, people))
    whole = np.ones(size)
    done = milp(
        cost,
        constraints=limits,
        integrality=whole,
        bounds=Bounds(0, np.append(np.ones(size - 1), horizon)),
    )
    return round(done.fun)


@pytest.mark.parametrize("seed", range(12))
def test_an_integer_program_finds_the_same_least(seed):
    rows = drawn(seed, 7)
    found = set_up(network(rows), 4)
    assert is_possible(rows, found, 4)
    assert found.is_proved
    assert found.minutes == least_by_integers(rows, 4, found.minutes + 1)


@pytest.mark.parametrize("seed", range(8))
def test_more_people_never_take_longer_and_every_plan_can_be_done(seed):
    rows = drawn(seed, 12)
    before = None
    for people in (4, 5, 7):
        found = set_up(network(rows), people)
        assert is_possible(rows, found, people)
        assert network(rows).length <= found.at_least <= found.minutes
        if before:
            assert found.minutes <= before.minutes
            assert found.at_least <= before.at_least
        before = found

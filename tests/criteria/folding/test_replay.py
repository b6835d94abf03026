"""Steps held against geometry: every order that they allow, by hand and beside all of them."""

from itertools import permutations

import numpy as np
import pytest

from criteria.folding.order import first_that_cannot
from criteria.folding.pieces import Nest, Piece
from criteria.folding.replay import MOST_SETS, Task, clashes, sets_done

FREE = frozenset()


def row(count):
    """Boxes in a row that move up, each past nothing."""
    return [Piece(f"P{n}", (2 * n, 0, 0), (1, 1, 1), move=(0, 2, 0)) for n in range(count)]


def test_sets_that_may_have_ended_together():
    tasks = [Task("a", (), FREE), Task("b", (), frozenset("a")), Task("c", (), FREE)]
    sets, is_whole = sets_done(tasks)
    assert sets == [frozenset(each) for each in ("", "a", "c", "ab", "ac", "abc")]
    assert is_whole


def test_of_too_many_those_of_one_order_are_looked_at():
    sets, is_whole = sets_done([Task(f"t{n}", (), FREE) for n in range(12)])
    assert (len(sets), is_whole) == (13, False)
    sets, is_whole = sets_done([Task(f"t{n}", (), FREE) for n in range(10)])
    assert (len(sets), is_whole) == (MOST_SETS, True)


@pytest.mark.parametrize(("count", "is_whole"), [(10, True), (11, False)])
def test_all_orders_of_ten_movers_are_tried(count, is_whole):
    tasks = [Task(f"t{n}", (f"P{n}",), FREE) for n in range(count)]
    assert clashes(Nest(row(count)), tasks) == ([], is_whole)


def test_two_pieces_of_one_step_go_in_the_order_that_helps_or_one_is_named():
    first = Piece("first", (0, 0, 0), (1, 1, 1), move=(0, 2, 0))
    second = Piece("second", (0, 1, 0), (1, 1, 1), move=(2, 0, 0))
    both = [Task("t", ("first", "second"), FREE)]
    assert clashes(Nest([first, second]), both) == ([], True)
    wall = Piece("wall", (1, 1.5, 0), (0.1, 0.1, 1))
    (clash,), _ = clashes(Nest([first, second, wall]), both)
    assert (clash.piece, [stop.mark for stop in clash.stops]) == ("first", ["second"])
    (clash,), _ = clashes(Nest([first, second, wall]), [Task("t", ("second", "first"), FREE)])
    assert (clash.piece, [stop.mark for stop in clash.stops]) == ("second", ["wall"])
    beyond = Piece("beyond", (0, 2.5, 0), (0.1, 0.1, 1))
    (clash,), _ = clashes(Nest([first, second, beyond]), both)
    assert (clash.piece, [stop.mark for stop in clash.stops]) == ("first", ["beyond"])


def test_what_blocks_once_it_has_moved_is_told_by_what_had_ended():
    shelf = Piece("shelf", (5, 0, 0), (1, 1, 1), move=(-4, 0, 0))
    drawer = Piece("drawer", (0, 0, 0), (0.9, 1, 1), move=(3, 0, 0))
    tasks = [Task("s", ("shelf",), FREE), Task("d", ("drawer",), FREE)]
    found, _ = clashes(Nest([shelf, drawer]), tasks)
    # either goes alone, neither once the other has
    assert {clash.task.mark: clash.done for clash in found} == {"s": {"d"}, "d": {"s"}}


@pytest.mark.parametrize("seed", range(30))
def test_every_order_that_steps_allow_goes_or_one_is_named(seed):
    rng = np.random.default_rng(seed)
    pieces = []
    for n in range(5):
        move = [0.0, 0.0, 0.0]
        move[rng.integers(3)] = float(rng.choice([-1, 1]) * rng.uniform(0.5, 2))
        corner = tuple(float(v) for v in rng.uniform(0, 2.5, 3))
        pieces.append(Piece(f"P{n}", corner, (0.4, 0.4, 0.4), move=tuple(move)))
    nest, after = Nest(pieces), {}
    for n in range(5):
        near = {f"P{k}" for k in range(n) if rng.random() < 0.3}
        after[f"P{n}"] = frozenset(near).union(*(after[mark] for mark in near))
    tasks = [Task(mark, (mark,), before) for mark, before in after.items()]
    found, is_whole = clashes(nest, tasks)
    allowed = [
        order
        for order in permutations(after)
        if all(after[mark] <= set(order[:n]) for n, mark in enumerate(order))
    ]
    stuck = {cannot[0] for order in allowed if (cannot := first_that_cannot(nest, list(order)))}
    assert is_whole
    assert {clash.piece for clash in found} == stuck

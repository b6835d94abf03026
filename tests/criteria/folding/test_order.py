"""Order by geometry: by hand, and what must hold of any pieces."""

import math
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
import shapely
from shapely import affinity

from criteria.errors import InputError
from criteria.folding.order import (
    MEETS_M,
    MOST_MOVERS,
    Moved,
    Stop,
    first_that_cannot,
    order_of,
    stops_of,
)
from criteria.folding.pieces import MOST_PIECES, Fold, Nest, Piece

MAIN = Piece("main", (0, 0, 0), (6, 2.4, 2.6), 0.1, frozenset({"+y"}))
A = Piece(
    "A", (0.12, 0.12, 0.12), (5.6, 2.2, 2.3), 0.06, frozenset({"+y", "-y"}), (0, 2.2, 0), "main"
)
B = Piece("B", (0.2, 0.2, 0.2), (5.3, 2.0, 2.1), 0.06, frozenset({"-y", "-z"}), (0, 1.9, 0), "A")
Z = Piece("Z", (0.4, 0.4, 0.4), (1, 1.4, 1), move=(0, 0, -0.9), inside="B")
SIDE = Piece("side", (0, 2.4, 0), (6, 0.08, 2.6), move=(0, 0, 2.7))


def test_a_drop_box_is_stopped_by_20_mm():
    # A's floor ends at 0.12 + 2.2 + 2.2 = 4.52; Z's near side stands at 0.4 + 2.2 + 1.9 = 4.50
    found = order_of(Nest([MAIN, A, B, Z, SIDE]))
    assert not found.is_possible
    assert found.moved == {"A", "B", "side"}
    (stop,) = found.stopped["Z"]
    assert stop == Stop("A", pytest.approx(0.02))


def test_with_20_mm_more_it_touches_and_goes():
    found = order_of(Nest([MAIN, A, replace(B, move=(0, 1.92, 0)), Z, SIDE]))
    assert found.is_possible


def test_clear_of_both_floors_it_waits_for_what_carries_it_and_for_the_side():
    found = order_of(Nest([MAIN, A, replace(B, move=(0, 2.0, 0)), Z, SIDE]))
    assert found.after == {
        "side": set(),
        "A": {"side"},
        "B": {"side"},
        "Z": {"B", "side"},
    }
    assert found.either == {}


def test_either_of_two_lets_a_third_go():
    # a drawer to the right goes over a flap that is down, or past one that is out of the way
    drawer = Piece("drawer", (0, 0, 0), (1, 1, 1), move=(2, 0, 0))
    block = Piece("block", (1, 0, 0), (1, 1, 1), move=(0, 3, 0))
    assert order_of(Nest([drawer, block])).after == {"drawer": {"block"}, "block": set()}
    shelf = Piece("shelf", (1, 0, 0), (1, 1, 1), inside="left", move=(0, 0, 2))
    left = Piece("left", (5, 5, 0), (1, 1, 1), move=(0, 4, 0))
    found = order_of(Nest([drawer, left, shelf]))
    assert found.after["drawer"] == set()
    assert found.either == {"drawer": [{"left"}, {"shelf"}]}


def test_a_sequence_is_held_move_by_move():
    nest = Nest([MAIN, A, replace(B, move=(0, 2.0, 0)), Z, SIDE])
    assert first_that_cannot(nest, ["side", "B", "Z", "A"]) is None
    mark, stops = first_that_cannot(nest, ["A", "side", "B", "Z"])
    assert (mark, [stop.mark for stop in stops]) == ("A", ["side"])
    assert stops[0].by_m == pytest.approx(0.08)


def test_of_two_axes_the_order_that_goes_counts():
    around = Piece("around", (0, 0, 0), (1, 1, 1), move=(2, 2, 0))
    post = Piece("post", (1.2, 0.2, 0), (0.2, 0.2, 1))
    assert stops_of(Nest([around, post]), "around", Moved()) == []
    both = Nest([around, post, Piece("other", (0.2, 1.2, 0), (0.1, 0.1, 1))])
    assert [stop.mark for stop in stops_of(both, "around", Moved())] == ["other"]


def test_what_stands_still_is_no_move():
    nest = Nest([MAIN])
    assert stops_of(nest, "main", Moved()) == []
    assert order_of(nest).is_possible
    assert order_of(nest).after == {}


@pytest.mark.parametrize(
    ("pieces", "told"),
    [
        ([A], "piece A is inside main, which is no piece"),
        ([MAIN, MAIN], "a piece stands twice"),
        ([replace(MAIN, size=(6, 0, 2))], "piece main has a side of 0 m; expected over 0"),
        ([replace(MAIN, open_faces=frozenset({"up"}))], "piece main is open at up; expected -x"),
        ([replace(MAIN, wall_m=0)], "piece main has walls of 0 m; expected over 0, at most 1.2"),
        ([replace(MAIN, wall_m=1.3)], "piece main has walls of 1.3 m"),
        ([replace(MAIN, inside="A"), A], "in a circle: main inside A inside main"),
    ],
)
def test_what_is_no_nest_is_named(pieces, told):
    with pytest.raises(InputError, match=told):
        Nest(pieces)


def test_more_pieces_than_are_held_against_each_other_are_refused():
    pieces = [Piece(f"P{n}", (3 * n, 0, 0), (1, 1, 1)) for n in range(MOST_PIECES + 1)]
    with pytest.raises(InputError, match="61 pieces; expected at most 60 with places"):
        Nest(pieces)
    assert len(Nest(pieces[:-1]).pieces) == 60


def test_more_movers_than_can_be_tried_are_refused():
    pieces = [
        Piece(f"P{n}", (3 * n, 0, 0), (1, 1, 1), move=(0, 2, 0)) for n in range(MOST_MOVERS + 1)
    ]
    with pytest.raises(InputError, match="11 pieces move; expected at most 10"):
        order_of(Nest(pieces))


@pytest.mark.parametrize("seed", range(25))
def test_every_sequence_that_goes_keeps_to_the_order(seed):
    rng = np.random.default_rng(seed)
    pieces = []
    for n in range(5):
        move = [0.0, 0.0, 0.0]
        move[rng.integers(3)] = float(rng.choice([-1, 1]) * rng.uniform(0.5, 2))
        corner = tuple(float(v) for v in rng.uniform(0, 2, 3))
        pieces.append(Piece(f"P{n}", corner, (0.4, 0.4, 0.4), move=tuple(move)))
    nest = Nest(pieces)
    found = order_of(nest)
    going = [s for s in permutations(nest.movers) if first_that_cannot(nest, list(s)) is None]
    assert found.is_possible == bool(going)
    for mark in nest.movers if going else ():
        ahead = [set(s[: s.index(mark)]) for s in going]
        assert found.after[mark] == set.intersection(*ahead)
        for least in found.either.get(mark, []):
            assert any(least <= before for before in ahead)
        if mark in found.either:
            assert all(any(one <= before for one in found.either[mark]) for before in ahead)


# Turns. A lid of 1 × 1 × 0.1 on a chest 1 m high, hinged along its far upper or lower edge.


def lid(turns, at=(1.0, 1.0), **cells):
    return Piece("lid", (0, 0, 1), (1, 1, 0.1), folds=(Fold(0, at, turns),), **cells)


def test_a_lid_turned_by_right_angles_stays_a_box_and_comes_back():
    # about the far lower edge, y 1 and z 1: the near edge, 1 m off, comes to stand straight up
    plates = lid(-1).moved(lid(-1).plates)
    assert plates[0].tolist() == [[0, 1, 1], [1, pytest.approx(1.1), 2]]
    assert np.allclose(lid(-1).moved(plates, back=True), lid(-1).plates)


def test_a_lid_opens_unless_a_shelf_hangs_over_it():
    chest = Piece("chest", (0, 0, 0), (1, 1, 1), 0.05, frozenset({"+z"}))
    assert stops_of(Nest([chest, lid(-1)]), "lid", Moved()) == []
    shelf = Piece("shelf", (0, 0, 1.5), (1, 0.3, 0.02))
    (stop,) = stops_of(Nest([chest, lid(-1), shelf]), "lid", Moved())
    # the corner (0, 1.1) of the lid, 1.005 from the hinge, comes to 1.5 high: asin 0.5 ÷ 1.005
    # less the 5.71° at which it stood
    expected = math.degrees(math.asin(0.5 / math.hypot(1, 0.1)) - math.atan2(0.1, 1))
    assert (stop.mark, stop.at_deg) == ("shelf", pytest.approx(expected, abs=1e-3))
    beside = replace(shelf, corner=(1, 0, 1.5))
    assert stops_of(Nest([chest, lid(-1), beside]), "lid", Moved()) == []


def test_of_two_turns_that_end_alike_the_freer_counts():
    flap = replace(lid(2), folds=(Fold(0, (1.0, 1.0), 2), Fold(0, (1.0, 1.0), -2)))
    chest = Piece("chest", (0, 1, 0), (1, 1, 0.5))
    assert stops_of(Nest([flap, chest]), "lid", Moved()) == []
    ceiling = Piece("ceiling", (0, 0, 1.5), (1, 3, 0.1))
    assert stops_of(Nest([flap, ceiling]), "lid", Moved()) == []
    assert len(stops_of(Nest([flap, ceiling, chest]), "lid", Moved())) == 1


def test_what_already_lies_in_a_panel_stops_it_at_once():
    (stop,) = stops_of(
        Nest([lid(-1), Piece("pin", (0.5, 0.5, 0.9), (0.1, 0.1, 0.3))]), "lid", Moved()
    )
    assert (stop.mark, stop.at_deg) == ("pin", 0.0)


def test_a_drawer_in_what_has_folded_goes_the_way_that_turned_with_it():
    # stood up on its far edge, the lid's drawer, once to the near side, goes upwards
    drawer = Piece(
        "drawer", (0.1, 0.1, 1.02), (0.8, 0.5, 0.05), None, move=(0, -0.5, 0), inside="lid"
    )
    shell = lid(-1, wall_m=0.01, open_faces=frozenset({"-y"}))
    over = Piece("over", (0, 1, 2.1), (1, 0.1, 0.1))
    nest = Nest([shell, drawer, over])
    assert stops_of(nest, "drawer", Moved()) == []
    (stop,) = stops_of(nest, "drawer", Moved({"lid"}))
    # its end rises from 1.9 to 2.4, through what hangs from 2.1 to 2.2
    assert (stop.mark, stop.by_m) == ("over", pytest.approx(0.05))


# A second opinion: the same move in many small steps, plate against plate.


def random_shell(rng, mark, **cells):
    low = tuple(float(v) for v in rng.uniform(0, 2, 3))
    size = tuple(float(v) for v in rng.uniform(0.4, 1.2, 3))
    faces = frozenset(f for f in ("-x", "+x", "-y", "+y", "-z", "+z") if rng.random() < 0.4)
    return Piece(mark, low, size, 0.05, faces, **cells)


def overlap_m(one, other):
    """How deep two boxes lie in each other."""
    return float((np.minimum(one[1], other[1]) - np.maximum(one[0], other[0])).min())


@pytest.mark.parametrize("seed", range(20))
def test_a_slide_in_small_steps_agrees(seed):
    rng = np.random.default_rng(seed)
    axis, move = int(rng.integers(3)), [0.0, 0.0, 0.0]
    move[axis] = float(rng.choice([-1, 1]) * rng.uniform(0.3, 2))
    mover = random_shell(rng, "mover", move=tuple(move))
    rider = random_shell(rng, "rider", inside="mover")
    other = random_shell(rng, "other")
    nest = Nest([mover, rider, other])
    found = {stop.mark: stop.by_m for stop in stops_of(nest, "mover", Moved())}
    group = [*mover.plates, *rider.plates]
    deepest = (
        max(
            overlap_m(plate + share * np.array(move), thing)
            for share in np.linspace(0, 1, 400)
            for plate in group
            for thing in other.plates
        )
        if group and len(other.plates)
        else 0.0
    )
    # what is swept lies at least as deep as any moment of it, and no deeper than its own side
    assert found.get("other", 0.0) >= deepest - 1e-9
    assert ("other" in found) == (deepest > MEETS_M) or found["other"] < 0.01


@pytest.mark.parametrize("seed", range(20))
def test_a_turn_in_small_steps_agrees(seed):
    rng = np.random.default_rng(seed)
    axis, turns = int(rng.integers(3)), int(rng.choice([-2, -1, 1, 2]))
    at = tuple(float(v) for v in rng.uniform(-0.5, 2.5, 2))
    fold = Fold(axis, at, turns)
    mover = random_shell(rng, "mover", folds=(fold,))
    rider = random_shell(rng, "rider", inside="mover")
    other = random_shell(rng, "other")
    one, two = fold.plane

    def section(plate):
        return shapely.box(plate[0, one], plate[0, two], plate[1, one], plate[1, two])

    pairs = [
        (section(plate), section(thing))
        for plate in (*mover.plates, *rider.plates)
        for thing in other.plates
        if min(plate[1, axis], thing[1, axis]) - max(plate[0, axis], thing[0, axis]) > MEETS_M
    ]
    angles = np.append(np.arange(0, 90 * abs(turns), 0.5), 90 * abs(turns))
    expected = next(
        (
            angle
            for angle in angles
            for panel, thing in pairs
            if affinity.rotate(panel, math.copysign(angle, turns), origin=at)
            .intersection(thing)
            .area
            > 1e-6
        ),
        None,
    )
    found = stops_of(Nest([mover, rider, other]), "mover", Moved())
    if expected is None:
        assert not found or found[0].at_deg > 90 * abs(turns) - 1 or found[0].by_m < 0.01
    else:
        assert [stop.mark for stop in found] == ["other"]
        assert found[0].at_deg == pytest.approx(expected, abs=1.0)

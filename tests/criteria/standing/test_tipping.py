"""Tipping: statics by hand, and what must hold of any building."""

import math

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.standing.tipping import Part, centre_of_mass, edges, leaning, most_mass_kg

FEET = [(0.2, 0), (2.2, 0), (2.2, 2), (0.2, 2)]
MAIN = Part(1800, (1.2, 1))


def over(parts, x):
    """The edge of the feet at an x."""
    return next(e for e in edges(parts, FEET) if e.start[0] == e.end[0] == x)


def test_a_pull_out_before_its_legs_are_down():
    folded, pulled = Part(900, (1.2, 1)), Part(900, (3.4, 1))
    assert centre_of_mass([MAIN, folded])[0] == pytest.approx(1.2)
    assert over([MAIN, folded], 2.2).margin_m == pytest.approx(1.0)
    # 2,160 + 3,060 = 5,220 kg m over 2,700 kg
    assert centre_of_mass([MAIN, pulled])[0] == pytest.approx(5220 / 2700)
    assert over([MAIN, pulled], 2.2).margin_m == pytest.approx(2.2 - 5220 / 2700)
    assert most_mass_kg([MAIN], FEET, (3.4, 1)) == pytest.approx(1500)
    assert over([MAIN, pulled], 2.2).ratio == pytest.approx(1800 * 1.0 / (900 * 1.2))


def test_and_a_person_on_its_end():
    parts = [MAIN, Part(1200, (3.4, 1)), Part(100, (4.4, 1))]
    assert over(parts, 2.2).margin_m == pytest.approx(2.2 - (2160 + 4080 + 440) / 3100)
    worst = edges(parts, FEET)[0]
    assert (worst.start[0], worst.end[0]) == (2.2, 2.2)


def test_nothing_beyond_an_edge_has_no_ratio_to_fall_below():
    assert over([MAIN], 2.2).ratio == math.inf
    assert most_mass_kg([MAIN], FEET, (1, 1)) == math.inf


def test_what_tips_already_takes_nothing_more():
    parts = [MAIN, Part(2000, (3.4, 1))]
    assert edges(parts, FEET)[0].margin_m < 0
    assert most_mass_kg(parts, FEET, (3.4, 1)) == 0
    assert most_mass_kg(parts, FEET, (1, 1)) == 0


def test_a_foot_between_others_makes_no_edge():
    assert len(edges([MAIN], [*FEET, (1.2, 0), (1.0, 1.0)])) == 4


@pytest.mark.parametrize("feet", [[], [(0, 0)], [(0, 0), (1, 1)], [(0, 0), (1, 1), (3, 3)]])
def test_feet_in_a_line_are_refused(feet):
    with pytest.raises(InputError, match="stand in one line"):
        edges([MAIN], feet)


def test_no_mass_has_no_centre():
    with pytest.raises(InputError, match="mass is 0 kg"):
        centre_of_mass([Part(0, (1, 1))])


@pytest.mark.parametrize("seed", range(20))
def test_the_margin_is_the_ratio_in_metres_and_turning_changes_neither(seed):
    rng = np.random.default_rng(seed)
    parts = [Part(m, (x, y)) for m, x, y in rng.uniform((10, -1, -1), (900, 4, 3), (6, 3))]
    feet = [tuple(at) for at in rng.uniform(0, 3, (6, 2))]
    mass = sum(part.mass_kg for part in parts)
    turn = rng.uniform(0, 6)

    def turned(at):
        x, y = at
        return x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)

    there = edges([Part(p.mass_kg, turned(p.at)) for p in parts], [turned(at) for at in feet])
    for here, other in zip(edges(parts, feet), there, strict=True):
        assert here.margin_m * mass == pytest.approx(here.restoring_kg_m - here.overturning_kg_m)
        assert other.margin_m == pytest.approx(here.margin_m)
        assert (here.ratio > 1) == (here.margin_m > 0)


def building(seed):
    rng = np.random.default_rng(seed)
    parts = [Part(m, (x, y)) for m, x, y in rng.uniform((10, -1, -1), (900, 4, 3), (5, 3))]
    feet = [tuple(at) for at in rng.uniform(0, 3, (6, 2))]
    corners = [tuple(at) for at in rng.uniform(-1, 5, (5, 2))]
    return rng, parts, feet, corners


@pytest.mark.parametrize("seed", range(15))
def test_people_lean_where_it_is_worst_for_each_edge(seed):
    _, parts, feet, corners = building(seed)
    there = [edges([*parts, Part(300, corner)], feet) for corner in corners]
    for edge, corner in leaning(parts, feet, 300, corners):
        same = [next(e for e in each if e.start == edge.start) for each in there]
        worst = min(same, key=lambda each: each.margin_m)
        assert edge.margin_m == pytest.approx(worst.margin_m)
        assert edge.ratio == pytest.approx(worst.ratio)
        assert corners[same.index(worst)] == corner


@pytest.mark.parametrize("seed", range(15))
def test_a_heavier_piece_on_the_low_side_never_stands_better(seed):
    rng, parts, feet, corners = building(seed)
    edge, _ = min(leaning(parts, feet, 300, corners), key=lambda way: way[0].ratio)
    out = rng.uniform(0.1, 2)
    run = edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]
    length = math.hypot(*run)
    beyond = edge.start[0] + out * run[1] / length, edge.start[1] - out * run[0] / length
    more = leaning([*parts, Part(rng.uniform(1, 500), beyond)], feet, 300, corners)
    assert min(way[0].ratio for way in more) < edge.ratio


@pytest.mark.parametrize("seed", range(10))
def test_turned_people_lean_over_the_same_edge(seed):
    rng, parts, feet, corners = building(seed)
    turn = rng.uniform(0, 6)

    def turned(at):
        x, y = at
        return x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)

    there = leaning(
        [Part(p.mass_kg, turned(p.at)) for p in parts],
        [turned(at) for at in feet],
        300,
        [turned(at) for at in corners],
    )
    here = leaning(parts, feet, 300, corners)
    assert sorted(w[0].ratio for w in there) == pytest.approx(sorted(w[0].ratio for w in here))

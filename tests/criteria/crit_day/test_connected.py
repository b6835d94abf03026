"""Whether schemes of a day can be compared, before it is run."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.crit_day.connected import design, design_of
from criteria.crit_day.panels import Interest, Juror, Sees
from criteria.crit_day.timetable import lay_out
from tests.criteria.crit_day.cases import FINAL, JURORS, ORDER, the_day
from tests.criteria.scoring.test_connections import rooms

SCHEMES = tuple(f"S{n:02d}" for n in range(30))
SIX = tuple("PQRXYZ")


# O-31: variance between rooms 2/k + 2/(kL), link factor 1 + 1/L; the mean as worked out apart
# (grade RUN: solved once by another program).
@pytest.mark.parametrize(
    ("anchors", "between", "mean"),
    [
        (1, 1.3333, 0.989),
        (2, 1.0000, 0.805),
        (3, 0.8889, 0.737),
        (4, 0.8333, 0.697),
        (6, 0.7778, 0.646),
        (10, 0.7333, 0.579),
    ],
)
def test_schemes_seen_by_all_join_two_rooms(anchors, between, mean):
    found = design(SCHEMES, SIX, rooms(anchors))
    assert found.is_connected
    assert found.mean_variance == pytest.approx(mean, abs=5e-4)
    assert found.link_factor * 2 / 3 == pytest.approx(between, abs=5e-5)
    assert found.is_firm == (anchors > 1)


# O-32: a juror of each room changes after 8 of 15; two do; all three do, and it falls apart.
@pytest.mark.parametrize(("movers", "mean"), [(1, 0.725), (2, 0.725), (3, None)])
def test_jurors_who_change_rooms_join_them_unless_all_do(movers, mean):
    seen = rooms(0)
    for juror in range(movers):
        seen[8:15, [juror, 3 + juror]] = [False, True]
        seen[23:30, [juror, 3 + juror]] = [True, False]
    found = design(SCHEMES, SIX, seen)
    assert found.mean_variance == (mean and pytest.approx(mean, abs=5e-4))
    assert found.is_firm == (mean is not None)


def test_rooms_without_a_link_are_named_as_groups():
    found = design(SCHEMES, SIX, rooms(0))
    assert [part.jurors for part in found.parts] == [("P", "Q", "R"), ("X", "Y", "Z")]
    assert found.sentence == (
        "Schemes fall into 2 groups (S00, S01, S02, S03 and 11 more; S15, S16, S17, S18 and 11 "
        "more) without a juror in common: levels can be compared within a group, not between "
        "groups."
    )


def test_one_scheme_on_which_all_hangs_is_named():
    found = design(SCHEMES, SIX, rooms(1))
    assert found.hangs_on == ("S00",)
    assert found.sentence == (
        "All schemes can be compared, but only through S00: without that the groups fall apart."
    )


def test_two_link_schemes_are_a_hint_and_three_are_firm():
    assert design(SCHEMES, SIX, rooms(2)).sentence.endswith(
        "a difference is a hint, not a measure."
    )
    assert design(SCHEMES, SIX, rooms(3)).sentence == (
        "All schemes can be compared, those of different rooms through jurors they share."
    )


def test_where_everybody_sees_everything_levels_stand_as_they_are():
    found = design(SCHEMES, SIX, np.ones((30, 6), dtype=bool))
    assert found.is_the_same_panel
    assert found.mean_variance == pytest.approx(2 / 6)
    assert found.sentence.startswith("The same jurors see every scheme")


def test_the_demos_opening_pair_is_a_hint():
    found = design_of(the_day())
    assert found.is_firm
    assert found.link_factor == pytest.approx(1.5)
    assert "a hint" in found.sentence


def test_a_comment_joins_nothing():
    """Without an opening one juror sits in both rooms; where she only comments, nothing joins."""
    turns = lay_out(ORDER, replace(FINAL, opening=0)).placed
    jurors = (*JURORS, Juror("Ann", ""))
    assert design_of(Sees(jurors, turns)).is_connected
    in_a = [turn.number for turn in turns if turn.room == "A"]
    only_words = tuple(Interest("Ann", number, may_comment=True) for number in in_a)
    assert len(design_of(Sees(jurors, turns, only_words)).parts) == 2


def test_a_scheme_without_levels_is_named():
    seen = rooms(3)
    seen[20] = False
    found = design(SCHEMES, SIX, seen)
    assert (found.is_connected, found.mean_variance) == (False, None)
    assert found.sentence == "Nobody sets levels on S20, which can't be compared with the others."
    seen = rooms(0)
    seen[20] = False
    assert design(SCHEMES, SIX, seen).sentence.endswith("the others; these fall apart too.")


def test_before_anybody_is_invited_nothing_can_be_compared():
    found = design_of(the_day(jurors=()))
    assert (found.is_connected, found.is_firm, found.is_the_same_panel) == (False, False, False)
    assert found.sentence == "Nobody sets levels yet, so nothing can be compared."
    assert design_of(Sees((), ())).sentence == found.sentence


def test_one_scheme_alone_has_no_other_to_differ_from():
    found = design(("S00",), SIX, np.ones((1, 6), dtype=bool))
    assert (found.is_connected, found.mean_variance) == (True, None)

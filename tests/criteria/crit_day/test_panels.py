"""Who sees what."""

from dataclasses import replace

import pytest

from criteria.crit_day.panels import (
    Absence,
    Crossing,
    Interest,
    Juror,
    Sees,
    names_of,
    short_panels,
)
from criteria.crit_day.timetable import Turn
from criteria.errors import InputError
from tests.criteria.crit_day.cases import BRANNICK, the_day


def test_the_opening_is_seen_by_all_and_the_rest_by_its_room():
    sees = the_day()
    assert sees.panel("H12").size == 6
    assert sees.panel("H14").present == ("Hesper Quill", "Pia Norrow", "Marek Ostrey")
    assert [sees.load(name) for name in sees.names] == [8] * 6
    assert short_panels(sees) == ()


def test_a_juror_of_no_room_sees_every_rooms_schemes():
    sees = the_day(jurors=(Juror("Ann"),))
    assert sees.load("Ann") == 14


def test_stepping_aside_leaves_two():
    (short,) = short_panels(the_day(BRANNICK))
    assert (short.number, short.size) == ("H04", 2)
    assert short.present == short.levels == ("Bea Lantry", "Cass Ferro")


def test_who_only_comments_is_there_and_sets_no_level():
    (short,) = short_panels(the_day(replace(BRANNICK, may_comment=True)))
    assert short.size == 3
    assert short.levels == ("Bea Lantry", "Cass Ferro")


def test_an_interest_beside_the_own_room_changes_nothing():
    assert short_panels(the_day(Interest("Hesper Quill", "H04"))) == ()


def test_a_crossing_wins_over_the_room_and_an_interest_over_both():
    sees = the_day(crossings=(Crossing("Hesper Quill", "H04", True),))
    assert sees.panel("H04").size == 4
    back = sees.with_crossings([Crossing("Hesper Quill", "H04", False)])
    assert back.panel("H04").size == 3
    aside = replace(sees, interests=(Interest("Hesper Quill", "H04"),))
    assert aside.panel("H04").size == 3


@pytest.mark.parametrize(
    ("since", "until", "missed"),
    [
        (None, None, True),
        (None, 65, False),  # there when it starts
        (None, 66, True),
        (92, None, False),  # gone when it ends
        (91, None, True),
        (10, 65, False),
        (70, 71, True),
    ],
)
def test_who_misses_some_of_a_turn_does_not_judge_it(since, until, missed):
    sees = the_day(absences=(Absence("Pia Norrow", since, until),))
    assert (sees.turn("H14").starts, sees.turn("H14").ends) == (65, 92)
    assert ("Pia Norrow" not in sees.panel("H14").present) == missed


def test_of_a_turn_without_an_hour_an_absence_is_taken_to_miss_it():
    ann = Juror("Ann")
    sees = Sees((ann,), (Turn("a", "", None, None),), absences=(Absence("Ann", 600),))
    assert sees.panel("a").size == 0


def test_nothing_is_short_before_anybody_is_invited():
    assert short_panels(the_day(jurors=())) == ()


def test_what_does_not_stand_there_is_refused():
    sees = the_day()
    with pytest.raises(InputError, match="H99 has no turn"):
        sees.panel("H99")
    with pytest.raises(InputError, match="Ann has no seat"):
        sees.load("Ann")
    with pytest.raises(InputError, match="a juror stands twice"):
        the_day(jurors=(Juror("Ann"), Juror("Ann")))
    with pytest.raises(InputError, match="a scheme stands twice"):
        replace(sees, turns=sees.turns * 2)


def test_names_as_they_are_said():
    assert [names_of(names) for names in ([], ["Ann"], ["Ann", "Bo"], ["Ann", "Bo", "Cy"])] == [
        "",
        "Ann",
        "Ann and Bo",
        "Ann, Bo and Cy",
    ]

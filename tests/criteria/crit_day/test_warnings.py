"""What of a day asks too much. Limits: common practice, or our choice where that is said."""

from dataclasses import replace

import pytest

from criteria.crit_day.panels import Crossing, Interest, Juror, Sees
from criteria.crit_day.timetable import Turn, lay_out
from criteria.crit_day.warnings import Duty, Warned, warnings_of
from tests.criteria.crit_day.cases import BRANNICK, FINAL, JURORS, ORDER, the_day

MIXED = (
    *(Juror("Ann", "A", "in-house"), Juror("Bo", "A", "visiting"), Juror("Cy", "A", "industry")),
    *(Juror("Di", "B", "in-house"), Juror("Ed", "B", "visiting"), Juror("Fay", "B", "industry")),
)


def warned(sees: Sees, about: str, **beside) -> list[Warned]:
    return [each for each in warnings_of(sees, change_min=2, **beside) if each.about == about]


def rowed(count: int, *, every: int = 27, long: int = 27, room: str = "") -> Sees:
    """One juror before so many schemes, one after the other."""
    turns = tuple(Turn(f"S{n}", room, n * every, n * every + long) for n in range(count))
    return Sees((Juror("Ann", "", "in-house"),), turns)


def test_a_day_as_practice_plans_it_asks_too_much_of_nobody():
    assert warnings_of(the_day(jurors=MIXED), change_min=2) == ()


@pytest.mark.parametrize(("count", "is_warned"), [(9, False), (10, True)])
def test_nine_schemes_are_the_most(count, is_warned):
    found = warned(rowed(count), "load")
    assert bool(found) == is_warned
    if found:
        assert (found[0].number, found[0].limit, found[0].source) == (10, 9, "common practice")
        assert found[0].words == "Ann sees 10 schemes; more than 9 in a day tire a juror."


@pytest.mark.parametrize(("long", "is_warned"), [(62, False), (63, True)])
def test_four_hours_before_schemes_are_the_most(long, is_warned):
    """By hand: 4 × (62 − 2) = 240 min."""
    found = warned(rowed(4, every=100, long=long), "hours")
    assert bool(found) == is_warned
    if found:
        assert found[0].words == (
            "Ann sits before schemes for 4 h 04 min; more than 4 h in a day tire a juror."
        )


@pytest.mark.parametrize(
    ("count", "gap", "is_warned"), [(3, 0, False), (4, 0, True), (4, 9, True), (4, 10, False)]
)
def test_a_break_after_three(count, gap, is_warned):
    found = warned(rowed(count, every=27 + gap), "breaks")
    assert bool(found) == is_warned
    if found:
        assert (found[0].number, found[0].limit) == (4, 3)


def test_a_small_panel_is_said_and_why():
    (found,) = warned(the_day(BRANNICK), "panel")
    assert found.words == "H04 is seen by 2 jurors; 3 or more are usual."
    (found,) = warned(the_day(replace(BRANNICK, may_comment=True)), "panel")
    assert found.words == "H04 is seen by 3 jurors, of whom 2 set levels; 3 or more are usual."
    two = Interest("Cass Ferro", "H04", may_comment=True)
    (found,) = warned(the_day(replace(BRANNICK, may_comment=True), two), "panel")
    assert "of whom 1 sets levels" in found.words
    assert warned(rowed(1), "panel")[0].words.startswith("S0 is seen by 1 juror;")
    assert warned(the_day(jurors=()), "panel") == []


def test_a_room_that_is_not_mixed_is_named_with_what_it_lacks():
    found = warned(the_day(), "mixed")
    assert [(each.whom, each.number) for each in found] == [("A", 2), ("B", 2)]
    assert found[0].words.startswith("Room A has no in-house juror;")
    assert warned(rowed(1), "mixed")[0].words.startswith("The jury has no visiting or industry")
    assert warned(the_day(jurors=()), "mixed") == []


def test_the_way_to_another_room_takes_time():
    crossings = (Crossing("Ann", "H04", True), Crossing("Ann", "H05", False))
    sees = the_day(jurors=MIXED, crossings=crossings)
    assert warned(sees, "change over") == []
    there, back = warned(sees, "change over", walk_min=3)
    assert there.words == "Ann has 2 min from H07 to H04 in another room; 3 min are wanted."
    assert (back.number, back.limit, back.source) == (2, 3, "our choice")


def test_two_schemes_in_one_room_at_once():
    turns = [Turn("a", "A", 0, 27), Turn("b", "A", 26, 53), Turn("c", "A", 53, 80)]
    (found,) = warned(Sees((), tuple(turns)), "clash")
    assert (found.words, found.number) == ("a and b are on at once in room A.", 2)
    assert warned(Sees((), tuple(turns[1:])), "clash") == []
    assert warned(Sees((), (turns[0], replace(turns[1], room="B"))), "clash") == []


def test_what_all_see_clashes_with_every_rooms_and_is_told_once():
    turns = (
        Turn("a", "", 0, 27),
        Turn("b", "", 0, 27),
        Turn("c", "A", 40, 60),
        Turn("d", "", 50, 70),
        Turn("e", "B", 100, 120),
    )
    found = [each.words for each in warned(Sees((), turns), "clash")]
    assert found == [
        "a and b are on at once for all jurors.",
        "c and d are on at once in room A.",
    ]


def test_a_juror_in_two_rooms_at_once():
    sees = the_day(jurors=(*MIXED, Juror("Gil")))
    (found,) = warned(sees, "clash")
    assert found.words == ("Gil is to see H14 and H11 at once in two rooms, and so 5 times more.")
    both = the_day(jurors=MIXED, crossings=(Crossing("Ann", "H04", True),))
    assert [each.words for each in warned(both, "clash")] == [
        "Ann is to see H05 and H04 at once in two rooms."
    ]


def test_schemes_without_an_hour_are_said_to_be_unknown():
    turns = (Turn("a", "", None, None), Turn("b", "", 0, 27), Turn("c", "", None, None))
    (found,) = warned(Sees((), turns), "unknown")
    assert found.words == "a and c have no hour: clashes and breaks there aren’t known."
    (found,) = warned(Sees((), turns[:2]), "unknown")
    assert found.words.startswith("a has no hour")


# The demo's scribe: Merrowby presents H01 at 11:56, so she writes neither at 11:14 nor at 12:23.
@pytest.mark.parametrize(
    ("number", "is_warned"),
    [
        ("H14", False),
        ("H03", False),
        ("H02", True),
        ("H07", True),
        ("H01", True),
        ("H05", True),
        ("H04", True),
        ("H10", False),
    ],
)
def test_a_duty_in_or_beside_the_own_slot(number, is_warned):
    found = warned(the_day(), "duty", duties=[Duty("Ada", number, "H01")])
    assert bool(found) == is_warned
    if found:
        assert found[0].words == (
            f"Ada presents H01 and has a duty at {number}, in or beside the own slot."
        )


def test_a_duty_without_an_hour_or_an_own_slot_is_beside_nothing():
    turns = (Turn("a", "", None, None), Turn("b", "", 0, 27))
    sees = Sees((), turns)
    duties = [Duty("Ada", "a", "b"), Duty("Bo", "a"), Duty("Cy", "z", "a")]
    assert warned(sees, "duty", duties=duties) == []


def test_three_duties_a_day_are_enough():
    duties = [Duty("Ada", number) for number in ORDER[:4]]
    assert warned(the_day(), "duty", duties=duties[:3]) == []
    (found,) = warned(the_day(), "duty", duties=duties)
    assert (found.number, found.limit, found.source) == (4, 3, "our choice")


def test_the_demos_day_has_only_its_rooms_to_mix():
    day = lay_out(ORDER, FINAL)
    found = warnings_of(Sees(JURORS, day.placed), change_min=2)
    assert {each.about for each in found} == {"mixed"}

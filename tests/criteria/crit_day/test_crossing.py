"""Who could cross rooms for one slot, where a panel would be too small."""

import dataclasses

from criteria.crit_day.crossing import who_could_cross
from criteria.crit_day.panels import Absence, Crossing, Interest, Juror, Sees
from criteria.crit_day.timetable import Turn, lay_out
from tests.criteria.crit_day.cases import BRANNICK, FINAL, JURORS, ORDER, the_day


def test_nobody_crosses_where_the_panel_is_whole():
    assert who_could_cross("H04", the_day(), opening=2) == ()


def test_brannick_and_ostrey_swap_for_twelve_lamps():
    """Common practice: both rooms keep three, and the short panel comes out mixed."""
    day = lay_out(ORDER, FINAL)
    assert str(day.hour(the_day().turn("H04").starts)) == "12:23:00"
    sees = the_day(BRANNICK)
    first, *others = who_could_cross("H04", sees, opening=2)
    assert first.words == "swap Odell Brannick and Marek Ostrey for that one slot"
    after = sees.with_crossings(first.crossings)
    assert after.panel("H04").levels == ("Marek Ostrey", "Bea Lantry", "Cass Ferro")
    assert after.panel("H05").levels == ("Hesper Quill", "Pia Norrow", "Odell Brannick")
    assert [after.load(name) for name in after.names] == [8] * 6
    assert (first.others, first.load, first.fills) == (("H05",), 8, True)
    assert {(each.comes, each.goes) for each in others} == {
        ("Hesper Quill", "Odell Brannick"),
        ("Pia Norrow", "Odell Brannick"),
    }


def shifted(sees: Sees, numbers: str, minutes: int) -> Sees:
    """The same with some schemes later."""
    turns = [
        dataclasses.replace(turn, starts=turn.starts + minutes, ends=turn.ends + minutes)
        if turn.number in numbers.split()
        else turn
        for turn in sees.turns
    ]
    return dataclasses.replace(sees, turns=tuple(turns))


def test_a_room_a_few_minutes_behind_is_waited_for():
    found = who_could_cross("H04", shifted(the_day(BRANNICK), "H04 H09", 5), opening=2)
    assert found[0].words == "swap Odell Brannick and Marek Ostrey for that one slot"
    assert found[0].others == ("H05",)


def test_a_room_far_behind_is_not():
    """H04 at 12:29 meets H05 and H10; Brannick could not be back from H10 for H09."""
    assert who_could_cross("H04", shifted(the_day(BRANNICK), "H04 H09", 6), opening=2) == ()


def test_who_misses_two_schemes_is_filled_in_for_at_both():
    found = who_could_cross("H04", shifted(the_day(BRANNICK), "H04", 6), opening=2)
    assert found == ()
    sees = shifted(the_day(BRANNICK), "H04", 6)
    turns = tuple(turn for turn in sees.turns if turn.number != "H09")
    found = who_could_cross("H04", dataclasses.replace(sees, turns=turns), opening=2)
    assert (found[0].comes, found[0].others) == ("Marek Ostrey", ("H05", "H10"))


def test_turns_without_an_hour_are_in_nobodys_way():
    sees = the_day(BRANNICK)
    turns = tuple(dataclasses.replace(turn, starts=None) for turn in sees.turns)
    found = who_could_cross("H04", dataclasses.replace(sees, turns=turns), opening=2)
    assert {each.others for each in found} == {()}


def test_nobody_with_an_interest_comes_or_goes():
    sees = the_day(
        BRANNICK,
        Interest("Marek Ostrey", "H04", may_comment=True),
        Interest("Odell Brannick", "H05", may_comment=True),
    )
    assert who_could_cross("H04", sees, opening=2) == ()


def test_a_fourth_juror_of_the_other_room_moves_alone():
    jurors = (*JURORS, Juror("Ann Vale", "A", "in-house"))
    sees = the_day(jurors=jurors, absences=(Absence("Cass Ferro"),))
    found = who_could_cross("H04", sees, opening=2)
    assert found[0].words == "move Hesper Quill for that one slot"
    assert {each.goes for each in found} == {None}
    assert {each.comes for each in found} == {
        "Hesper Quill",
        "Pia Norrow",
        "Marek Ostrey",
        "Ann Vale",
    }


def test_whoever_is_free_is_asked_after_swaps():
    away = Crossing("Pia Norrow", "H05", comes=False)
    sees = the_day(BRANNICK, crossings=(away,))
    found = who_could_cross("H04", sees, opening=2)
    assert found[-1].words == "ask Pia Norrow, who is free for that slot"
    assert found[-1].crossings == (Crossing("Pia Norrow", "H04", comes=True),)


def test_whoever_is_not_there_is_not_asked():
    away = Crossing("Pia Norrow", "H05", comes=False)
    sees = the_day(BRANNICK, crossings=(away,), absences=(Absence("Pia Norrow"),))
    assert all(each.comes != "Pia Norrow" for each in who_could_cross("H04", sees, opening=2))


def test_nobody_free_is_asked_beyond_nine_schemes():
    turns = tuple(Turn(f"S{n}", "A" if n < 9 else "B", n * 10, n * 10 + 9) for n in range(10))
    sees = Sees((Juror("Ann", "A"), Juror("Bo", "B")), turns)
    assert who_could_cross("S9", sees) == ()


def test_two_who_step_aside_are_filled_one_at_a_time_and_it_is_said():
    sees = the_day(BRANNICK, Interest("Cass Ferro", "H04"))
    found = who_could_cross("H04", sees, opening=2)
    assert found
    assert not any(each.fills for each in found)

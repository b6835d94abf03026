"""Who could cross rooms for one slot, where a panel would be too small."""

from criteria.crit_day.crossing import who_could_cross
from criteria.crit_day.timetable import lay_out
from tests.criteria.crit_day.cases import BRANNICK, FINAL, ORDER, the_day


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

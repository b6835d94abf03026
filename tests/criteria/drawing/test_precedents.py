"""Precedents, drawn: a line a building, those that failed first, empty places for what lacks."""

from criteria.drawing.marks import Disc, Path, Strokes
from criteria.drawing.pens import Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, touches, words

ROWS = [
    {
        "mark": "P1",
        "building": "Farmhouse",
        "outcome": "built",
        "lesson": "One fire",
        "sheet": "01",
    },
    {
        **{"mark": "P2", "building": "Club hut", "outcome": "failed: flue fire, closed for good"},
        **{"lesson": "A flue that can be swept from the floor and seen", "sheet": "04"},
    },
]
TABLES = {"precedents": ROWS}
TARGET = ("precedents", "at least", "4 / 1")


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, "precedents", TARGET):
        assert [*touches(drawing)] == ["P2", "P1"]  # the one that failed first
        assert not drawing.gaps


def test_what_failed_has_a_cross_and_what_stands_a_ring():
    found = touches(drawn(TABLES, "precedents"))
    signs = {mark: each[0].marks[0] for mark, each in found.items()}
    assert isinstance(signs["P2"], Strokes)
    assert isinstance(signs["P1"], Disc)


def test_both_counts_stand_beside_what_is_asked():
    drawing = drawn(TABLES, "precedents", TARGET)
    assert {"2", "at least 4", "1 of them failed, at least 1", "Short"} <= words(drawing)
    assert [figure.amount.si for figure in drawing.figures] == [2, 4, 1]
    assert "1 of them failed" in words(drawn(TABLES, "precedents"))
    none = drawn({"precedents": ROWS[:1]}, "precedents", TARGET)
    (failed,) = [each for each in none.letters if "failed" in each.words]
    assert (failed.words, failed.tone) == ("0 of them failed, at least 1", Tone.SHORT)


def test_long_words_go_on_in_the_next_line():
    lesson = [each.words for each in drawn(TABLES, "precedents").letters if "flue" in each.words]
    assert lesson == ["failed: flue fire, closed for", "A flue that can be swept from the"]


def test_the_sheet_of_a_lesson_stands_in_a_circle():
    drawing = drawn(TABLES, "precedents")
    for mark, sheet in (("P1", "01"), ("P2", "04")):
        (touch,) = touches(drawing)[mark]
        circle, letter = touch.marks[-2:]
        assert letter.words == sheet
        assert letter.at[0] == circle.middle[0]


def test_what_isnt_given_is_an_empty_place_with_its_name():
    rows = [{"mark": "P1", "building": "Farmhouse"}]
    for drawing in in_each_field({"precedents": rows}, "precedents"):
        assert [gap.says for gap in drawing.gaps] == [
            "P1: sheet not given",
            "P1: outcome not given",
            "P1: lesson not given",
        ]
        assert {"outcome not given", "lesson not given", "?"} <= words(drawing)
        assert sum(isinstance(m, Path) and m.pen is Pen.ASSUMED for m in drawing.flat) == 1


def test_an_unread_schedule_and_an_empty_one():
    twice = {"precedents": [ROWS[0], ROWS[0]]}
    assert "not known" in words(drawn(twice, "precedents"))
    assert drawn({}, "precedents") is None


def test_two_hundred_buildings_stay_on_the_sheet_and_the_rest_is_named():
    long = dict.fromkeys(("outcome", "lesson"), "many words " * 20)
    many = [{"mark": f"P{n}", "building": "x" * 90, "sheet": "0" * 12, **long} for n in range(200)]
    for drawing in in_each_field({"precedents": many}, "precedents", TARGET):
        assert len(drawing.key) > 150

"""The answer at the head of a drawing: the figure, both limits, the state in a word."""

from criteria.drawing.answering import answer
from criteria.drawing.drawing import Field
from criteria.drawing.marks import meet
from criteria.drawing.pens import Tone
from criteria.units import System
from tests.criteria.drawing.seen import seen_of

PIECE = {"mark": "M1", "piece": "Core", "n": "2", "kg_each": "705"}
TABLES = {"pieces": [PIECE], "site": [{"drift_m": "1"}]}


def said(check, *targets, tables=TABLES, field=Field()):  # noqa: B008
    return answer(seen_of(tables, check, *targets), field)


def test_the_figure_its_limit_and_its_state_stand_in_one_line():
    found = said("piece_mass", ("piece_mass", "at most", "750 kg"))
    assert [each.words for each in found.letters] == ["705 kg", "at most 750 kg", "Meets"]
    assert found.letters[2].tone is Tone.MEETS
    assert found.says == "705 kg, at most 750 kg, Meets."
    assert [(each.amount.si, each.lettered) for each in found.figures] == [
        (705, "705 kg"),
        (750, "at most 750 kg"),
    ]


def test_what_is_over_stands_in_its_colour_and_differs_from_its_limit():
    found = said("piece_mass", ("piece_mass", "at most", "704.6 kg"))
    assert [each.words for each in found.letters] == ["705.0 kg", "at most 704.6 kg", "On the line"]
    found = said("piece_mass", ("piece_mass", "at most", "650 kg"), field=Field(system=System.US))
    assert [each.words for each in found.letters] == ["1,554 lb", "at most 1,433 lb", "Over"]
    assert {each.tone for each in found.letters} == {Tone.SHORT, Tone.INK}


def test_both_limits_are_said():
    room = {"mark": "R1", "name": "Day", "use": "day", "floor_m2": "10"}
    glass = {"mark": "W1", "room": "R1", "frame_w": "1000", "frame_h": "1000", "n": "1"}
    tables = {"rooms": [room], "windows": [{**glass, "glass_w": "900", "glass_h": "900"}]}
    target = ("daylight_ratio", "at least", "12 %", "22 %")
    found = said("daylight_ratio", target, tables=tables)
    assert [each.words for each in found.letters][1:3] == ["at least 12.0 %", "not over 22.0 %"]


def test_where_no_figure_is_known_it_says_so():
    blank = {"pieces": [{"mark": "M1", "piece": "Core"}]}
    assert said("piece_mass", tables=blank).letters[0].words == "not known"
    found = said("piece_mass", ("piece_mass", "at most", "750 kg"), tables=blank)
    assert [each.words for each in found.letters] == ["not known", "No data"]


def test_without_a_target_the_figure_stands_alone():
    assert [each.words for each in said("piece_mass").letters] == ["705 kg"]


def test_what_is_no_number_is_said_in_words():
    sizes = {"l_m": "2", "w_m": "1", "h_m": "3"}
    tables = {
        "pieces": [{**PIECE, **sizes, "mark": f"M{n}"} for n in range(90)],
        "site": [{"piece_l_m": "2", "piece_w_m": "1", "piece_h_m": "2"}],
    }
    target = ("piece_envelope", "all", "yes")
    found = said("piece_envelope", target, tables=tables, field=Field(width_mm=87))
    assert found.letters[0].words.startswith("not: M0, M1")
    assert found.letters[0].words.endswith("…")
    assert found.says.endswith("M89, Short.")
    assert found.letters[1].at[1] > found.letters[0].at[1]
    assert not meet(found.letters[0].box, found.letters[1].box)
    assert found.height_mm > said("piece_mass").height_mm

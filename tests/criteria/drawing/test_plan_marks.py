"""Marks on sheets, drawn: each on its sheet, those on none apart, those without row underlined."""

from criteria.drawing.marks import Path, Strokes, Touch
from criteria.drawing.pens import Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, words

TABLES = {
    "rooms": [{"mark": "R1", "use": "day"}, {"mark": "R2", "use": "sleep"}],
    "doors": [{"mark": "D1", "place": "Porch"}],
    "plan_marks": [
        {"sheet": "02", "marks": "R1, D1 D9 X3"},
        {"sheet": "03", "marks": "R1; D1"},
    ],
}
TARGET = ("plan_marks", "all", "yes")


def lettered(drawing, tone):
    return [each.words for each in drawing.letters if each.tone is tone and not each.is_strong]


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, "plan_marks", TARGET):
        assert {"02", "03", "on no sheet"} <= words(drawing)
        assert [gap.says for gap in drawing.gaps] == ["on no sheet: R2"]


def test_each_mark_stands_on_each_sheet_that_shows_it():
    drawing = drawn(TABLES, "plan_marks", TARGET)
    boxes = [m.points for m in drawing.marks if isinstance(m, Path) and m.is_closed]
    assert len(boxes) == 3  # on none, and the two sheets
    for name, box in zip(("R2", "X3", "D1"), boxes, strict=True):
        inside = [
            each.words
            for each in drawing.letters
            if box[0][0] < each.at[0] < box[2][0] and box[0][1] < each.at[1] < box[2][1]
        ]
        assert name in inside
    assert [each.words for each in drawing.letters].count("R1") == 2


def test_the_drawing_says_what_its_check_says():
    drawing = drawn(TABLES, "plan_marks", TARGET)
    assert "not: R2 (not drawn), D9 (no row)" in words(drawing)
    assert [each for each in lettered(drawing, Tone.SHORT) if each != "Short"] == ["R2", "D9"]
    (line,) = [m for m in drawing.marks if isinstance(m, Strokes)]
    d9 = next(each for each in drawing.letters if each.words == "D9")
    assert line.segments[0][0][0] == d9.at[0]


def test_what_is_no_mark_of_a_schedule_is_neither_lost_nor_led_anywhere():
    drawing = drawn(TABLES, "plan_marks", TARGET)
    led = {(each.schedule, each.mark) for each in drawing.marks if isinstance(each, Touch)}
    assert led == {("rooms", "R1"), ("rooms", "R2"), ("doors", "D1")}
    assert "X3" in lettered(drawing, Tone.INK)


def test_where_all_is_drawn_nothing_is_apart():
    rows = [{"sheet": "02", "marks": "R1 R2 D1"}]
    drawing = drawn({**TABLES, "plan_marks": rows}, "plan_marks", TARGET)
    assert not drawing.gaps
    assert not [m for m in drawing.flat if isinstance(m, Path) and m.pen is Pen.ASSUMED]
    assert {"all", "Meets"} <= words(drawing)


def test_without_sheets_or_with_rows_alike_nothing_is_drawn():
    assert drawn({**TABLES, "plan_marks": []}, "plan_marks") is None
    assert drawn({**TABLES, "rooms": [TABLES["rooms"][0]] * 2}, "plan_marks") is None


def test_a_sheet_without_its_number_is_asked_for():
    rows = [{"sheet": "", "marks": "R1 R2 D1"}]
    drawing = drawn({**TABLES, "plan_marks": rows}, "plan_marks")
    assert "?" in words(drawing)
    assert [gap.says for gap in drawing.gaps] == ["number of a sheet: not given"]


def test_two_hundred_sheets_stay_on_the_paper_and_the_rest_is_named():
    marks = " ".join(f"W{n}" for n in range(300)) + " " + "W" * 90
    rows = [{"sheet": f"{n:012}", "marks": marks} for n in range(200)]
    windows = [{"mark": f"V{n}", "room": "R1"} for n in range(200)]
    tables = {**TABLES, "plan_marks": rows, "windows": windows}
    for drawing in in_each_field(tables, "plan_marks", TARGET):
        assert len(drawing.key) > 200
    assert in_each_field(
        {**TABLES, "plan_marks": [{"sheet": "1", "marks": "W" * 900}]}, "plan_marks"
    )


def test_what_was_read_from_letters_is_told_from_what_was_typed():
    rows = [{"sheet": "02", "marks": "R1", "how": "read"}, {"sheet": "02", "marks": "R1"}]
    drawing = drawn({**TABLES, "plan_marks": rows}, "plan_marks", TARGET)
    heads = [letter.words for letter in drawing.letters if letter.words.startswith("02")]
    assert heads == ["02, read", "02"]

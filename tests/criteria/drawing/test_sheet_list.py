"""A sheet list on paper: every word of every sheet, folded, over no other, on enough papers."""

import pytest

from criteria.drawing.sheet_list import TALLEST_MM, Listed, draw_sheet_list
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

PLAN = Listed(
    number="02",
    title="Plan of the upper floor with its bunks let down for the night",
    kind="Plan",
    state="night",
    scale='1/4" = 1\'-0"',
    drawn_by="Ada Ternwhistle and Noor Tavish",
    revision="B",
)


def test_a_line_says_all_that_is_known_and_marks_what_nobody_said():
    (drawing,) = draw_sheet_list([PLAN, Listed(number="03", title="Section")])
    keeps_the_rules(drawing)
    words = [letter.words for letter in drawing.letters]
    assert words[:8] == ["No.", "Title", "Kind", "State", "Scale", "Drawn", "Checked", "Rev"]
    assert {"02", "night", '1/4" = 1\'-0"', "B", "03"} <= {*words}
    assert PLAN.title in " ".join(words)
    assert words.count("–") == 1 + 6
    assert drawing.says.startswith("2 sheets: 02 Plan of the upper floor")


@pytest.mark.parametrize(("sheets", "papers"), [(0, 0), (1, 1), (12, 1), (60, 5)])
def test_a_long_list_takes_as_many_papers_as_it_needs(sheets, papers):
    drawn = draw_sheet_list([PLAN] * sheets)
    assert len(drawn) == papers
    numbers = [letter for each in drawn for letter in each.letters if letter.words == "02"]
    assert len(numbers) == sheets
    assert all(each.height_mm <= TALLEST_MM for each in drawn)

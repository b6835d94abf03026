"""Three texts meet in a cell: here, in the file, and as it was last brought in."""

import pytest

from criteria.units import DecimalSign, Notation
from reviews.exchange.merging import News, merged
from reviews.exchange.proposed import How, ProposedCell, ProposedRow
from tests.reviews.exchange.test_known_again import SQUARE, row, standing


def window(source="w-a", mark="W1", room="R1", **cells) -> ProposedRow:
    return row("windows", source=source, mark=mark, room=room, **cells)


def the_cell(here, there, last=None, how=How.WRITTEN):
    was = None if last is None else {"sill": last}
    proposed = ProposedRow(
        schedule="windows", source="w-a", cells={"sill": ProposedCell(text=there, how=how)}
    )
    cells = {"mark": "W3", **({"sill": here} if here else {})}
    [one] = merged(
        "model", [proposed], [standing(1, "windows", cells, was, source="w-a", kind="model")]
    ).rows
    return one.cells[0]


@pytest.mark.parametrize(
    ("here", "there", "last", "news", "is_ticked"),
    [
        ("", "700", None, News.FILLS, True),
        ("700", "700", None, News.SAME, False),
        ("0.7 m", "700", None, News.SAME, False),
        ("710", "700", None, News.DIFFERS, False),
        ("700", "800", "700", News.FOLLOWS, True),
        ("70 cm", "800", "700", News.FOLLOWS, True),
        ("710", "700", "700", News.KEPT, False),
        ("710", "700", "0.7 m", News.KEPT, False),
        ("710", "800", "700", News.DIFFERS, False),
        ("800", "800", "700", News.SAME, False),
        ("", "700", "700", News.KEPT, False),
        ("", "800", "700", News.DIFFERS, False),
        ("tall", "700", None, News.DIFFERS, False),
        ("700", "tall", "700", News.FOLLOWS, True),
    ],
)
def test_hand_work_survives(here, there, last, news, is_ticked):
    cell = the_cell(here, there, last)
    assert (cell.news, cell.is_proposed_ticked) == (news, is_ticked)
    assert cell.is_news == (news in (News.FILLS, News.FOLLOWS, News.DIFFERS))


@pytest.mark.parametrize("last", [None, "650"])
def test_what_is_guessed_needs_a_tick_of_its_own(last):
    assert not the_cell("650" if last else "", "700", last, How.GUESSED).is_proposed_ticked


def test_what_the_column_refuses_says_so():
    cell = the_cell("", "tall")
    assert cell.refusal
    assert "1200 mm" in cell.refusal.expected
    assert the_cell("", "700").refusal is None


def test_texts_are_read_with_the_decimal_sign_of_the_studio():
    proposed = [row("windows", mark="W1", u="0,85")]
    here = [standing(1, "windows", {"mark": "W1", "u": "0.85"})]
    [one] = merged("workbook", proposed, here, Notation(decimal=DecimalSign.COMMA)).rows
    assert [cell.news for cell in one.cells] == [News.SAME, News.SAME]


def test_new_rows_of_a_model_get_free_marks_and_their_references_follow():
    there = [
        standing(1, cells={"mark": "R1", "room": "Bath"}),
        standing(2, cells={"mark": "R5", "room": "Day room"}),
    ]
    file = [
        row(source="a", mark="R1", room="Day room"),
        row(source="b", mark="R2", room="Loft"),
        row(source="c", mark="R3", room="Bath"),
        window("w-a", "W1", "R1"),
        window("w-b", "W2", "R2"),
        row("doors", source="d", mark="D1", room="R3"),
    ]
    made = merged("model", file, there)
    said = [
        (r.standing and r.standing.pk, r.name, r.proposed.cells["room"].text) for r in made.rows
    ]
    assert said == [
        (2, "R5", "Day room"),
        (None, "R2", "Loft"),
        (1, "R1", "Bath"),
        (None, "W1", "R5"),
        (None, "W2", "R2"),
        (None, "D1", "R1"),
    ]


def test_a_mark_that_is_taken_by_another_row_is_not_given_twice():
    there = [standing(1, cells={"mark": "R2", "room": "Sauna"})]
    file = [row(source=s, mark=m, room=s) for s, m in (("a", "R2"), ("b", "R1"), ("c", "R3"))]
    names = [each.name for each in merged("model", file, there).rows]
    assert len({*names, "R2"}) == 4
    assert "R2" not in names


def test_what_marks_of_the_file_are_here_is_told():
    there = [standing(1, cells={"mark": "R1", "room": "Bath"})]
    made = merged("model", [row(source="a", mark="R1", room="Day"), window("w")], there)
    assert made.marks == {"R1": "R2"}
    assert merged("workbook", [row(mark="R1", room="Day")], there).marks == {}


def test_marks_of_a_table_are_what_they_are():
    there = [standing(1, cells={"mark": "R1", "room": "Bath"})]
    made = merged("workbook", [row(mark="R1", room="Day"), window("", "W1", "R1")], there)
    assert made.rows[0].standing
    assert made.rows[1].proposed.cells["room"].text == "R1"


def test_what_an_earlier_edition_brought_in_and_this_one_lacks_is_gone():
    there = [
        standing(1, cells={"mark": "R1"}, source="a", kind="model"),
        standing(2, cells={"mark": "R2"}, source="b", kind="model"),
        standing(3, cells={"mark": "R3"}, source="c", kind="gbxml"),
        standing(4, cells={"mark": "R4"}),
        standing(5, "windows", {"mark": "W1"}, source="w", kind="model"),
    ]
    made = merged("model", [row(source="a", mark="R1")], there)
    assert [each.pk for each in made.gone] == [2, 5]
    assert [each.pk for each in made.beside["rooms"]] == [2, 3, 4]
    assert not made.is_empty


def test_the_same_file_again_says_nothing_new():
    file = [row(source="a", mark="R1", room="Day", floor_m2="20", shape=SQUARE)]
    there = [
        standing(1, cells={"mark": "R9", "room": "Day", "floor_m2": "20"}, source="a", kind="model")
    ]
    made = merged("model", file, there)
    assert made.is_empty
    assert [cell.news for cell in made.rows[0].cells] == [News.SAME] * 3


def test_blank_cells_of_a_file_take_nothing_away():
    made = merged(
        "workbook", [row(mark="R1", room=" ")], [standing(1, cells={"mark": "R1", "room": "Day"})]
    )
    assert made.is_empty
    assert [cell.column.head for cell in made.rows[0].cells] == ["mark"]


def test_nothing_is_nothing():
    assert merged("model", [], []).is_empty

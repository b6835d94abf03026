"""Marks read on sheets: held to rows, asked about once, told from those that are typed."""

import pytest
from django.urls import reverse

from reviews.deeds import package_keeping, revision_issuing
from reviews.deeds.sheet_keeping import Came, hang_sheet
from reviews.reading.package_checking import draft
from reviews.reading.sheet_lettering import PageText, Word
from reviews.reading.sheet_marks import (
    marks_of_sheets,
    marks_on,
    marks_read,
    places_of,
    with_read_marks,
)
from reviews.reading.title_block import TitleBlock
from tests.factories import SheetFileFactory


def page(*words: str, paths: int = 50) -> PageText:
    """A page whose words stand under each other, from the upper left."""
    step = 1 / (len(words) + 1)
    return PageText(tuple(Word(w, 0.5, n * step, 0.02, 0.01) for n, w in enumerate(words)), paths)


def hang(cast, number: str, text: PageText):
    came = Came(lettering=text.as_record())
    said = TitleBlock(number, "Plan")
    return hang_sheet(cast.scheme.package, SheetFileFactory(), said, cast.student, came=came)


@pytest.fixture
def package(cast):
    package = cast.scheme.package
    for mark in ("W1", "W2"):
        package_keeping.add_row(package, "windows", {"mark": mark}, cast.student)
    package_keeping.add_row(package, "doors", {"mark": "D1"}, cast.student)
    return package


@pytest.fixture
def sheet(cast, package):
    words = ["W1", "D-01", "W3", "D65", "E27", "M12", "A3", "R-3.5", "T8", "W2b", "oak", "W1"]
    return hang(cast, "02", page(*words))


def test_only_what_a_schedule_has_or_counts_on_to_is_a_mark(package, sheet):
    """D65 is a light, E27 a lamp's socket, M12 a bolt, T8 a tube: planted, as in the oracle."""
    found = [(each.mark, each.schedule, each.row is None) for each in marks_on(sheet)]
    assert found == [
        ("W1", "windows", False),
        ("D1", "doors", False),
        ("W3", "windows", True),
        ("W1", "windows", False),
    ]
    assert marks_read(package).asked == {
        w: ["02"] for w in ("W3", "D65", "E27", "M12", "T8", "W2b")
    }


def test_a_mark_says_where_it_stands_and_its_row_says_the_square(package, sheet):
    first, *_ = marks_on(sheet)
    assert (first.x, first.y) == pytest.approx((0.51, 0.005))
    row = package.rows.get(cells__mark="D1")
    assert first.row != row.pk
    assert [
        (at.sheet, at.number, at.square) for at in places_of(marks_of_sheets(package))[row.pk]
    ] == [(sheet.pk, "02", "A4")]


def test_a_sheet_keeps_of_its_words_those_that_marks_are_written_like(sheet):
    assert [word[0] for word in sheet.lettering["words"]].count("oak") == 0
    assert sheet.lettering["others"] == 2  # A3 is written like one, “oak” and “ ” aren't


def test_marks_read_join_those_typed_and_each_is_told_apart(cast, package, sheet):
    typed = {"sheet": "03", "marks": "W2"}
    package_keeping.add_row(package, "plan_marks", typed, cast.student)
    assert with_read_marks(package, marks_of_sheets(package))["plan_marks"] == [
        typed,
        {"sheet": "02", "marks": "W1 D1 W3", "how": "read"},
    ]
    rows = draft(package).package.plan_marks
    assert [(row.sheet, row.how) for row in rows] == [("03", "typed"), ("02", "read")]


def test_what_was_read_is_issued_with_the_package_and_stays(cast, package, sheet):
    revision = revision_issuing.issue(package, cast.student)
    assert not revision_issuing.is_changed_since(package, revision)
    package_keeping.add_row(package, "doors", {"mark": "D65"}, cast.student)
    issued = revision.sheets.get(number="02")
    assert {each.mark: each.row for each in marks_on(issued)} == {"W1": 1, "D1": 1, "W3": None}
    assert "D65" in {each.mark for each in marks_on(sheet)}
    revision = revision_issuing.issue(package, cast.student)
    [row] = revision.contents["schedules"]["plan_marks"]
    assert row["marks"] == "W1 D1 W3 D65"


def test_what_is_said_to_be_no_mark_is_not_asked_again(cast, package, sheet):
    client, address = cast.client(cast.mate), reverse("answer-marks", args=[cast.scheme.pk])
    client.post(address, {"none": ["D65", "W1"]})  # W1 has a row: nothing of the answer is kept
    package.refresh_from_db()
    assert package.not_marks == []
    client.post(address, {"none": ["D65", "T8"]})
    package.refresh_from_db()
    assert package.not_marks == ["D65", "T8"]
    assert {*marks_read(package).asked} == {"W3", "E27", "M12", "W2b"}
    client.post(address, {"none": ["W3"]})
    package.refresh_from_db()
    assert "W3" not in {each.mark for each in marks_on(package.sheets.get())}
    client.post(address, {"again": ["T8", "W3"]})
    package.refresh_from_db()
    assert package.not_marks == ["D65"]


def test_a_sheet_whose_letters_are_lines_says_so_and_is_none_without_marks(cast, package):
    hang(cast, "04", page("A", "B", paths=900))
    hang(cast, "05", page("plan"))
    read = marks_read(package)
    assert (read.outlined, with_read_marks(package, marks_of_sheets(package))) == (["04"], {})
    shown = cast.client(cast.student).get(reverse("edit-sheets", args=[cast.scheme.pk]))
    assert "The letters on sheet 04 are drawn as lines." in shown.content.decode()


def test_mark_and_row_lead_to_each_other(cast, package, sheet):
    client, pk = cast.client(cast.student), package.rows.get(cells__mark="W1").pk
    sheets = client.get(reverse("edit-sheets", args=[cast.scheme.pk])).content.decode()
    assert f"/schedules/windows/?row={pk}#row-{pk}" in sheets
    assert "W3, no row" in sheets
    rows = client.get(reverse("show-schedule", args=[cast.scheme.pk, "windows"])).content.decode()
    assert "W1 is drawn on" in rows
    assert ">02·A4</a>" in rows

"""The package in preparation."""

import pytest

from reviews.models import Package
from reviews.models.packages import next_letter
from reviews.reading.sheet_marks import marks_of_sheets
from tests import factories


def test_letters_go_on_after_z():
    assert [next_letter(n) for n in (0, 1, 25, 26, 27, 52)] == ["A", "B", "Z", "AA", "AB", "BA"]


def test_the_cast_makes_a_whole_studio(cast):
    assert cast.scheme.package.letter == "A"
    assert cast.scheme.by == "Mira Mate and Stef Student"
    assert cast.studio.brief.is_issued


@pytest.fixture
def beset(cast, monkeypatch):
    """A package to which somebody adds a row each time that its rows have been read."""
    package, read = Package.objects.get(pk=cast.scheme.package.pk), Package._read
    factories.RowFactory(package=package, changed_by=cast.student)
    seen = []

    def read_and_add(of):
        seen.append(read(of))
        factories.RowFactory(package=package, changed_by=cast.student)
        return seen[-1]

    monkeypatch.setattr(Package, "_read", read_and_add)
    return package, seen


def test_tables_are_known_by_the_rows_that_they_hold(beset):
    package, seen = beset
    tables = package.tables({})
    assert [len(tables.holds["rooms"]), len(seen)] == [1, 1]


def test_marks_are_found_while_somebody_adds_a_row(beset, cast):
    package, seen = beset
    lettering = {"words": [["W1", 0.5, 0.5, 0.02, 0.01]], "paths": 50}
    factories.SheetFactory(package=package, changed_by=cast.student, lettering=lettering)
    assert len(marks_of_sheets(package)) == len(seen) == 1

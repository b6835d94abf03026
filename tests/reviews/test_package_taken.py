"""A package taken away whole: plain files, each by its name, and an index of them."""

import io
import zipfile
from hashlib import sha256

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse

from reviews.models import Original
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def take(cast, settings, tmp_path):
    """Take the package of the scheme away as its student, with two sheets of one file."""
    settings.MEDIA_ROOT = tmp_path
    package = cast.scheme.package
    original = Original(sha256=sha256(b"pages").hexdigest(), bytes=5)
    original.file.save("sent", ContentFile(b"pages"))
    for number in ("02", "03"):
        factories.SheetFactory(
            package=package,
            number=number,
            title="../Plan",
            original=original,
            original_name="C:\\desk\\..\\set.pdf",
            changed_by=cast.student,
        )
    factories.RowFactory(package=package, changed_by=cast.student)
    package.statement = "Two rooms under one roof."
    package.save()

    def take():
        address = reverse("download-package", args=[cast.scheme.pk])
        answer = cast.client(cast.student).get(address)
        assert answer["Content-Disposition"] == f'attachment; filename="{cast.scheme.number}.zip"'
        return zipfile.ZipFile(io.BytesIO(answer.getvalue()))

    return take


def test_everything_lies_in_it_as_plain_files_with_an_index(cast, take):
    taken = take()
    assert taken.testzip() is None
    assert set(taken.namelist()) == {
        "sheets/02 .._Plan.jpg",
        "sheets/03 .._Plan.jpg",
        "sheets.csv",
        "as-sent/02 C_desk_.._set.pdf",
        "schedules/rooms.csv",
        "datapackage.json",
        "csv-metadata.json",
        "tables/rooms.csv",
        "statement.txt",
        "check-sheet.txt",
        "index.html",
    }
    assert taken.read("as-sent/02 C_desk_.._set.pdf") == b"pages"
    assert taken.read("sheets/02 .._Plan.jpg").startswith(b"\xff\xd8")
    assert taken.read("statement.txt") == b"Two rooms under one roof."
    assert "not a code approval" in taken.read("check-sheet.txt").decode()
    index = taken.read("index.html").decode()
    assert 'href="as-sent/02%20C_desk_.._set.pdf"' in index
    assert "Missing" not in index


def test_a_file_that_cannot_be_read_is_named_and_the_rest_is_there(cast, take):
    cast.scheme.package.sheets.get(number="02").file.image.delete(save=False)
    taken = take()
    assert "sheets/02 .._Plan.jpg" not in taken.namelist()
    assert "sheets/03 .._Plan.jpg" in taken.namelist()
    assert "Missing" in taken.read("index.html").decode()


def test_a_revision_is_taken_as_it_was_issued_whatever_was_changed_since(cast, take):
    """Its own sheets, rows and statement, and the check sheet that the jury was shown."""
    package = cast.scheme.package
    contents = {
        "statement": "Two rooms, as issued.",
        "schedules": {"rooms": [{"mark": "R1", "room": "Day room", "floor_m2": "12"}]},
        "site": {},
        "targets": [],
        "sheets": [],
    }
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, contents=contents)
    hung = package.sheets.get(number="02")
    factories.IssuedSheetFactory(
        revision=revision,
        number="02",
        title="Plan",
        scale="1:50",
        file=hung.file,
        original=hung.original,
        original_name="set.pdf",
    )
    answer = cast.client(cast.leader).get(reverse("download-revision", args=[revision.pk]))
    name = f"{cast.scheme.number}-A.zip"
    assert answer["Content-Disposition"] == f'attachment; filename="{name}"'
    taken = zipfile.ZipFile(io.BytesIO(answer.getvalue()))
    assert taken.testzip() is None
    assert set(taken.namelist()) == {
        "sheets/02 Plan.jpg",
        "sheets.csv",
        "as-sent/02 set.pdf",
        "schedules/rooms.csv",
        "datapackage.json",
        "csv-metadata.json",
        "tables/rooms.csv",
        "statement.txt",
        "check-sheet.txt",
        "index.html",
    }
    with hung.file.image.open() as image:
        assert taken.read("sheets/02 Plan.jpg") == image.read()
    assert taken.read("as-sent/02 set.pdf") == b"pages"
    assert "R1,Day room,12," in taken.read("schedules/rooms.csv").decode()
    assert "02,Plan," in taken.read("sheets.csv").decode()
    assert taken.read("statement.txt") == b"Two rooms, as issued."
    assert str(revision) in taken.read("check-sheet.txt").decode()
    assert str(revision) in taken.read("index.html").decode()

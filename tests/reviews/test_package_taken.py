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

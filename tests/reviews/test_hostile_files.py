"""Hostile files: each is refused with a reason or made harmless, and leaves nothing behind.

Here they are read in this process; `python -m tests.benchmarks.hostile_files` sends every one of
them through the line, and those that only the limits on time and memory end.
"""

from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from reviews import plain_pdf, plain_picture
from reviews.deeds import sheet_line
from reviews.deeds.sheet_line import put_in_line, work_line
from reviews.models import Original, SheetFile
from reviews.picture_limits import PDF, NotTaken, kind_of, require_kind
from tests.reviews.hostile_files import HIDDEN, PLAIN, REFUSED
from tests.reviews.test_plain_picture import encoded, noise


def read(folder: Path, data: bytes) -> list[Path]:
    """Read a file as the processes do; the pictures that were made of its first page."""
    (folder / "sent").write_bytes(data)
    sent, *made = (str(folder / name) for name in ("sent", "image", "preview", "small"))
    if require_kind(sent) == PDF:
        plain_pdf.pages(sent)
        plain_pdf.page(sent, "1", *made)
    else:
        plain_picture.make_plain(sent, *made)
    return [Path(each) for each in made]


def test_there_are_eighty_kinds_of_them():
    assert len({*REFUSED, *PLAIN, *NAMES}) >= 80


@pytest.mark.apart
@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_drawn_is_refused_with_the_reason(tmp_path, name):
    with pytest.raises(NotTaken) as refused:
        read(tmp_path, REFUSED[name]())
    said, expected = refused.value.args
    assert said
    assert expected


@pytest.mark.apart
@pytest.mark.parametrize("name", PLAIN)
def test_what_is_drawn_holds_nothing_that_was_hidden_in_it(tmp_path, name):
    data = PLAIN[name]()
    for made in read(tmp_path, data):
        plain = made.read_bytes()
        assert kind_of(plain) in ("JPEG", "WebP")
        for hidden in (HIDDEN[:8], b"script", b"Exif", b"%PDF", b"PK\3\4", b"ICC_PROFILE"):
            assert hidden not in plain


NAMES = ("../../../etc/passwd.png", "a" * 300 + ".png", "<script>alert(1)</script>.png", "‮gnp.png")


@pytest.mark.django_db
def test_names_lead_nowhere_and_the_next_good_file_hangs(cast, settings, tmp_path, monkeypatch):
    settings.MEDIA_ROOT = tmp_path / "media"
    monkeypatch.setattr(sheet_line, "ring", lambda: None)
    package = cast.scheme.package
    for name in NAMES:
        put_in_line(package, SimpleUploadedFile(name, b"<svg/>"), cast.student)
    put_in_line(package, SimpleUploadedFile("nothing.pdf", b""), cast.student)
    good = SimpleUploadedFile("02.png", encoded(noise(40, 30)))
    last = put_in_line(package, good, cast.student)
    work_line()
    *bad, last = package.sent_pictures.all()
    assert all(each.why and not each.file for each in bad)
    assert last.is_kept_whole
    left = {path.parent.name for path in tmp_path.rglob("*") if path.is_file()}
    assert left == {"work", "sheets", "previews", "small", "originals"}
    assert (SheetFile.objects.count(), Original.objects.count()) == (1, 1)
    page = cast.client(cast.student).get(f"/schemes/{cast.scheme.pk}/sheets/").content.decode()
    assert "<script>alert" not in page

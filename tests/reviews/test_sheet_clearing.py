"""What nothing refers to is found and cleared; what was issued never is."""

import io
import os
from datetime import timedelta

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.management import CommandError, call_command
from django.utils import timezone

from reviews.deeds.sheet_clearing import clear_pictures
from reviews.deeds.sheet_line import put_in_line
from reviews.deeds.sheet_uploads import work_folder
from reviews.models import SentPicture, SheetFile
from tests.factories import IssuedSheetFactory, SheetFactory, SheetFileFactory

WEEK = timedelta(days=7)


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def age(media, days: float) -> None:
    """Let everything have stood for so many days."""
    then = (timezone.now() - timedelta(days=days)).timestamp()
    for path in media.rglob("*"):
        os.utime(path, (then, then))
    SheetFile.objects.update(kept_at=timezone.now() - timedelta(days=days))


def stored(media) -> set[str]:
    return {
        path.relative_to(media).as_posix()
        for folder in ("sheets", "previews", "sent")
        for path in (media / folder).glob("*")
    }


def names(*files: SheetFile) -> set[str]:
    return {name for file in files for name in (file.image.name, file.preview.name)}


def test_what_hangs_and_what_was_issued_stays_and_what_hangs_nowhere_goes(cast, media):
    issued, hung = IssuedSheetFactory().file, SheetFactory(changed_by=cast.student).file
    loose = SheetFileFactory()
    age(media, 8)
    assert set(clear_pictures(WEEK)) == names(loose)
    assert set(SheetFile.objects.all()) == {issued, hung}
    assert stored(media) == names(issued, hung)


def test_what_was_let_go_lately_stays(media, db):
    SheetFileFactory()
    age(media, 6.9)
    assert clear_pictures(WEEK) == []
    assert SheetFile.objects.exists()


def test_a_file_that_nothing_names_goes_once_it_is_old(media, db):
    default_storage.save("sheets/left.jpg", ContentFile(b"x"))
    assert clear_pictures(WEEK) == []
    age(media, 8)
    assert clear_pictures(WEEK) == ["sheets/left.jpg"]
    assert stored(media) == set()


def test_a_picture_that_still_stands_in_line_stays(cast, media):
    put_in_line(cast.scheme.package, ContentFile(b"x", "02.png"), cast.student)
    told = put_in_line(cast.scheme.package, ContentFile(b"", "03.png"), cast.student)
    SentPicture.objects.filter(pk=told.pk).update(ended_at=timezone.now() - timedelta(days=8))
    age(media, 8)
    assert clear_pictures(WEEK) == []
    assert SentPicture.objects.get().is_waiting
    assert len(stored(media)) == 1


def test_what_a_stopped_process_left_of_its_work_goes(media, db):
    for name in ("old", "new"):
        (work_folder() / name).mkdir()
    (work_folder() / "old" / "sent").write_bytes(b"x")
    age(media, 8)
    os.utime(work_folder() / "new")
    clear_pictures(WEEK)
    assert {path.name for path in work_folder().iterdir()} == {"new", "line.lock"}


def test_the_command_names_what_it_would_clear_and_then_clears_it(media, db):
    file = SheetFileFactory()
    age(media, 8)
    for more, words in (({"trial": True}, "2 files would be cleared"), ({}, "2 files are cleared")):
        out = io.StringIO()
        call_command("clear_pictures", stdout=out, **more)
        assert out.getvalue().splitlines() == [*sorted(names(file)), words]
    assert not SheetFile.objects.exists()


def test_days_that_cannot_be_are_refused(db):
    with pytest.raises(CommandError, match=r"Read 0. Expected a whole number from 1 to 3650"):
        call_command("clear_pictures", days=0)

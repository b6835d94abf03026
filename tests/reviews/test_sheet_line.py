"""The line of pictures that were sent: each in its turn, each with its own answer."""

import io
import threading
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from reviews import background
from reviews.deeds import sheet_line
from reviews.deeds.revision_issuing import lacks
from reviews.deeds.sheet_keeping import remove_sheet
from reviews.deeds.sheet_line import put_in_line, send_pictures, the_line, work_line
from reviews.models import SentPicture, Sheet, SheetFile
from reviews.versions import Newer
from tests.factories import SheetFactory
from tests.reviews.hostile_files import tiff_of


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture(autouse=True)
def rung(monkeypatch):
    """How often the thread that works the line was rung for; here none starts by itself."""
    calls = []
    monkeypatch.setattr(sheet_line, "ring", lambda: calls.append(1))
    monkeypatch.setattr("reviews.views.sheets.ring", lambda: calls.append(1))
    return calls


@pytest.fixture
def package(cast):
    return cast.scheme.package


def picture(name="02 Plan 1-50.png", colour="white", size=(60, 40)) -> SimpleUploadedFile:
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "PNG")
    return SimpleUploadedFile(name, out.getvalue())


def sent_to(media):
    return list((media / "sent").glob("*"))


def test_what_is_sent_is_kept_before_it_is_read_and_let_go_afterwards(cast, package, media):
    sent = put_in_line(package, picture(), cast.student)
    assert (sent.is_waiting, len(sent_to(media))) == (True, 1)
    work_line()
    sent.refresh_from_db()
    assert (sent.is_kept, sent.sheet.number, sent.file.name) == (True, "02", "")
    assert sent_to(media) == []


def test_each_file_has_its_own_answer_and_none_loses_another(cast, package):
    bad = SimpleUploadedFile("03 Section.png", picture().read()[:60])
    made = send_pictures(package, [picture(), bad, picture("04 Site.png", "red")], cast.student)
    assert [each.is_kept for each in made] == [True, False, True]
    assert made[1].why.startswith("Read “03 Section.png, a picture that breaks off or is damaged”")
    assert [sheet.number for sheet in package.sheets.all()] == ["02", "04"]


def test_what_hangs_is_told_once_and_what_is_refused_until_more_is_sent(cast, package):
    send_pictures(package, [picture()], cast.student)
    assert not SentPicture.objects.exists()
    send_pictures(package, [SimpleUploadedFile("a.png", b"no")], cast.student)
    assert SentPicture.objects.get().why
    send_pictures(package, [picture("03.png", "red")], cast.student)
    assert not SentPicture.objects.exists()


def test_a_file_that_is_too_large_is_refused_before_it_stands_in_line(
    cast, package, media, settings
):
    settings.MOST_UPLOAD_MB = 1
    sent = put_in_line(package, SimpleUploadedFile("02.png", bytes(2**21)), cast.student)
    assert sent.why.startswith("Read “02.png, 2.0 MB”. Expected a JPEG, PNG, TIFF or WebP picture")
    assert sent.why.endswith(" of at most 1 MB.")
    assert sent_to(media) == []


def test_while_another_works_the_line_nobody_is_kept_and_the_place_is_said(
    cast, package, rung, settings
):
    client = cast.client(cast.student)
    address = reverse("edit-sheets", args=[cast.scheme.pk])
    with the_line():
        text = client.post(
            address, {"files": [picture(), picture("03 Section.png", "red")]}
        ).content.decode()
    assert rung
    assert "<strong>02 Plan 1-50.png</strong> <span>Next in line</span>" in text
    assert "<strong>03 Section.png</strong> <span>In line, 1 before it</span>" in text
    assert not Sheet.objects.exists()
    now = client.get(address, headers={"HX-Request": "true", "HX-Target": "sheets-now"})
    assert now.content.decode().startswith('<div class="stack" id="sheets-now" hx-get=')
    work_line()
    text = client.get(address).content.decode()
    assert text.count("Kept as 0") == 2
    assert "hx-trigger" not in text


def test_what_became_of_a_picture_is_told_for_a_day(cast, package):
    send_pictures(package, [SimpleUploadedFile("a.png", b"no")], cast.student)
    for hours, count in ((23, 1), (25, 0)):
        SentPicture.objects.update(ended_at=timezone.now() - timedelta(hours=hours))
        assert package.sent_pictures.shown().count() == count


def test_a_page_with_a_picture_in_line_rings_again(cast, package, rung):
    """Whoever had begun with it was stopped."""
    put_in_line(package, picture(), cast.student)
    cast.client(cast.student).get(reverse("edit-sheets", args=[cast.scheme.pk]))
    assert rung


def test_a_package_that_is_issued_with_pictures_in_line_says_so(cast, package):
    put_in_line(package, picture(), cast.student)
    assert "Pictures that still stand in line: 1" in lacks(package)
    work_line()
    assert not any("in line" in line for line in lacks(package))


def test_a_picture_that_needs_more_than_patience_goes_back_to_its_place(cast, package, monkeypatch):
    sent = put_in_line(package, picture(), cast.student)
    work_line(0.01)
    sent.refresh_from_db()
    assert (sent.is_waiting, sent.begun_at, sent.file.size > 0) == (True, None, True)
    work_line()
    assert Sheet.objects.get().number == "02"


def test_a_picture_that_never_ends_is_told_and_the_next_is_read(cast, package, monkeypatch):
    real = sheet_line.keep_picture

    def slow(copy, page, within_s):
        if copy.name.startswith("02"):
            raise sheet_line.Unfinished
        return real(copy, page, within_s)

    monkeypatch.setattr(sheet_line, "keep_picture", slow)
    first, _ = (put_in_line(package, file, cast.student) for file in (picture(), picture("03.png")))
    work_line()
    first.refresh_from_db()
    assert first.why == "It isn't read within 100 s. Send it again."
    assert Sheet.objects.get().number == "03"


@pytest.mark.parametrize("minutes", [-3, 60], ids=["later", "the clock set back"])
def test_a_picture_whose_server_was_stopped_is_taken_up_again(cast, package, minutes):
    sent = put_in_line(package, picture(), cast.student)
    assert SentPicture.objects.begin_next() == sent
    assert SentPicture.objects.begin_next() is None
    work_line()
    assert not Sheet.objects.exists()
    SentPicture.objects.update(begun_at=timezone.now() + timedelta(minutes=minutes))
    work_line()
    assert Sheet.objects.get().number == "02"


class Killed(BaseException):
    """Stands for signal 9: nothing of ours sees it, and the lock of the line is let go."""


@pytest.fixture
def killing(monkeypatch):
    """Let the server be killed so many times while it reads the picture 02."""
    left, real = [1], sheet_line.keep_picture

    def killed(copy, page, within_s):
        if copy.name.startswith("02") and left[0]:
            left[0] -= 1
            raise Killed
        return real(copy, page, within_s)

    monkeypatch.setattr(sheet_line, "keep_picture", killed)
    return left


def test_a_picture_whose_server_was_killed_is_read_again_at_once(cast, package, killing):
    """Before, it stood in line for two minutes, and was said to be read."""
    sent = put_in_line(package, picture(), cast.student)
    with pytest.raises(Killed):
        work_line()
    sent.refresh_from_db()
    assert (sent.is_waiting, sent.begun_at is None) == (True, False)
    work_line()
    assert Sheet.objects.get().number == "02"


def test_a_picture_that_takes_its_server_along_each_time_lets_the_others_pass(
    cast, package, killing
):
    killing[0] = 99
    first = put_in_line(package, picture(), cast.student)
    put_in_line(package, picture("03.png", "red"), cast.student)
    for _ in range(sheet_line.MOST_TRIES):
        with pytest.raises(Killed):
            work_line()
    work_line()
    first.refresh_from_db()
    assert first.why.startswith("Reading it was cut off 3 times")
    assert killing[0] == 99 - sheet_line.MOST_TRIES
    assert Sheet.objects.get().number == "03"


def test_a_picture_that_another_machine_reads_is_left_to_it(cast, package, killing):
    put_in_line(package, picture(), cast.student)
    with pytest.raises(Killed):
        work_line()
    SentPicture.objects.update(begun_at=timezone.now())
    work_line()
    assert not Sheet.objects.exists()


@pytest.mark.parametrize("word", ["", "7", "7 1 2026-11-", "x y z", "ü"])
def test_a_word_that_was_cut_off_too_is_none(cast, package, media, word):
    sheet_line.work_folder().joinpath("in-hand").write_text(word, encoding="utf-8")
    put_in_line(package, picture(), cast.student)
    work_line()
    assert Sheet.objects.get().number == "02"


def test_what_waits_is_rung_for_though_nobody_looks_at_its_page(cast, package, rung):
    background.go_round(timezone.now())
    assert not rung
    put_in_line(package, picture(), cast.student)
    background.go_round(timezone.now())
    assert rung


def test_what_is_in_line_keeps_its_place_while_the_disk_is_full(cast, package, monkeypatch, caplog):
    """Before, it was told to be sent again, although the page had said that it is kept."""

    def full(*_):
        raise OSError(28, "No space left on device")

    sent = put_in_line(package, picture(), cast.student)
    with monkeypatch.context() as out:
        out.setattr(sheet_line, "keep_picture", full)
        work_line()
    sent.refresh_from_db()
    assert (sent.is_waiting, sent.begun_at, sent.why) == (True, None, "")
    assert "No space left" in caplog.text
    work_line()
    assert Sheet.objects.get().number == "02"


def test_a_file_that_finds_no_disk_is_told_so_at_once(cast, package, monkeypatch, caplog):
    def full(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(SentPicture._meta.get_field("file").storage, "save", full, raising=False)
    sent = put_in_line(package, picture(), cast.student)
    assert sent.why.startswith("It can't be stored just now.")
    assert "No space left" in caplog.text


def test_a_mates_change_meanwhile_is_told(cast, package, monkeypatch):
    sheet = SheetFactory(package=package, number="02", changed_by=cast.mate)
    sent = put_in_line(package, picture(), cast.student, sheet=sheet)

    def newer(*_, **__):
        raise Newer(sheet, None)

    monkeypatch.setattr(sheet_line, "save_sheet", newer)
    work_line()
    sent.refresh_from_db()
    assert sent.why == "Mira Mate changed 02 Plan meanwhile."


def test_a_sheet_gets_the_picture_that_was_sent_for_it(cast, package):
    sheet = SheetFactory(package=package, number="07", changed_by=cast.mate)
    put_in_line(package, picture("whatever.png"), cast.student, sheet=sheet)
    work_line()
    changed = Sheet.objects.get()
    assert (changed.number, changed.version, changed.changed_by) == ("07", 2, cast.student)
    assert changed.file != sheet.file


def test_a_sheet_that_is_taken_down_takes_what_was_sent_for_it_along(cast, package):
    sheet = SheetFactory(package=package, number="07", changed_by=cast.mate)
    put_in_line(package, picture("whatever.png"), cast.student, sheet=sheet)
    remove_sheet(package, sheet.pk, sheet.version)
    work_line()
    assert not Sheet.objects.exists()
    assert not SentPicture.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_the_thread_that_is_rung_for_works_the_line_and_lives_on(cast, package, monkeypatch):
    monkeypatch.undo()
    done = threading.Event()
    real = sheet_line.work_line

    def worked():
        real()
        done.set()

    monkeypatch.setattr(sheet_line, "work_line", worked)
    for number, colour in (("02", "white"), ("03", "red")):
        put_in_line(package, picture(f"{number}.png", colour), cast.student)
        done.clear()
        sheet_line.ring()
        assert done.wait(60)
    assert [sheet.number for sheet in package.sheets.all()] == ["02", "03"]
    assert SheetFile.objects.count() == 2


class TestRoom:
    """What the pictures of a studio may take."""

    def test_the_page_says_what_is_used_of_what_there_is(self, cast, package, settings):
        settings.MOST_STUDIO_MB = 300
        sheet = SheetFactory(package=package, number="02", changed_by=cast.student)
        SheetFactory(
            package=cast.other_scheme.package, number="02", changed_by=cast.mate, file=sheet.file
        )
        SheetFile.objects.update(bytes=7 * 2**20)
        address = reverse("edit-sheets", args=[cast.scheme.pk])
        text = cast.client(cast.student).get(address).content.decode()
        assert "The pictures of the studio take 7 of 300 MB" in text

    def test_what_finds_no_room_is_refused_with_what_is_left(self, cast, package, settings):
        settings.MOST_STUDIO_MB = 10
        SheetFactory(package=package, number="02", changed_by=cast.student)
        SheetFile.objects.update(bytes=9 * 2**20)
        file = SimpleUploadedFile("03.png", bytes(2**21))
        sent = put_in_line(package, file, cast.student)
        assert "Read “03.png, 2.0 MB”. Expected at most 1.0 MB" in sent.why
        assert "take 9 of 10 MB" in sent.why

    def test_what_stands_in_line_takes_room_too(self, cast, package, settings):
        settings.MOST_STUDIO_MB = 10
        for n in range(3):
            put_in_line(package, SimpleUploadedFile(f"{n}.png", bytes(4 * 2**20)), cast.student)
        assert [bool(sent.why) for sent in SentPicture.objects.all()] == [False, False, True]

    def test_the_room_of_another_studio_is_its_own(self, cast, package, settings):
        settings.MOST_STUDIO_MB = 10
        SheetFactory(number="02", changed_by=cast.student)
        SheetFile.objects.update(bytes=9 * 2**20)
        sent = put_in_line(package, SimpleUploadedFile("03.png", bytes(2**21)), cast.student)
        assert sent.is_waiting


def tiff(*kinds: int, **how) -> bytes:
    """A TIFF with a page of its own colour for each kind of directory (TIFF 6.0, tag 254)."""
    out = io.BytesIO()
    pages = [Image.new("RGB", (60 - 10 * n, 40), (40 * n, 0, 0)) for n in range(len(kinds))]
    for page, kind in zip(pages, kinds, strict=True):
        page.encoderinfo = {"tiffinfo": {254: kind}}
    info = {"tiffinfo": {254: kinds[0]}, "dpi": (200, 200)}
    pages[0].save(out, "TIFF", save_all=True, append_images=pages[1:], **info, **how)
    return out.getvalue()


@pytest.mark.parametrize("how", [{}, {"big_tiff": True}])
def test_each_page_of_a_tiff_is_a_sheet_and_smaller_pictures_of_one_are_none(cast, package, how):
    file = SimpleUploadedFile("set.tif", tiff(0, 1, 0, 4, 2, **how))
    (each,) = send_pictures(package, [file], cast.student)
    assert each.is_kept_whole
    hung = list(package.sheets.order_by("page"))
    assert [sheet.page for sheet in hung] == [1, 2, 3]
    assert [sheet.file.width for sheet in hung] == [60, 40, 20]
    assert {sheet.original_name for sheet in hung} == {"set.tif"}
    assert hung[0].proposed["width_mm"] == sheet_line.RESOLUTION


def test_a_tiff_of_one_page_hangs_by_its_name_whatever_lies_beside_it(cast, package):
    file = SimpleUploadedFile("02 Plan.tif", tiff(1, 0))
    send_pictures(package, [file], cast.student)
    sheet = package.sheets.get()
    assert (sheet.number, sheet.page, sheet.file.width) == ("02", None, 50)


def test_a_tiff_whose_second_page_lies_outside_it_says_so(cast, package):
    broken = SimpleUploadedFile("02.tif", tiff_of(90, 60, after=2**30))
    (each,) = send_pictures(package, [broken], cast.student)
    assert each.why.startswith("Read “02.tif, a TIFF whose page 2 breaks off or is damaged”")

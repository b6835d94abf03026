"""PDFs: each page a sheet, its letters by place; what can't be read is named, the rest hangs."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from fpdf import FPDF

from reviews import plain_pdf
from reviews.deeds import sheet_line
from reviews.deeds.sheet_line import put_in_line, send_pictures, work_line
from reviews.deeds.sheet_uploads import CutOff, at_hand, keep_picture
from reviews.models import Original, SentPicture, Sheet, SheetFile

A3_MM = (420, 297)


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture(autouse=True)
def silent(monkeypatch):
    monkeypatch.setattr(sheet_line, "ring", lambda: None)
    monkeypatch.setattr(sheet_line, "PATIENCE_S", 600)


@pytest.fixture
def package(cast):
    return cast.scheme.package


def pdf(*titles: str, **more) -> bytes:
    """A PDF of A3 pages, each with a frame and a title at the lower right."""
    made = FPDF(unit="mm", format=A3_MM)
    for n, title in enumerate(titles):
        made.add_page()
        made.set_font("Helvetica", size=18)
        made.rect(10, 10, 400, 277)
        made.text(300, 270, title)
        made.text(10 + n, 20, "W1")
    return bytes(made.output(**more))


def sent(data: bytes, name="set.pdf") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data)


def broken_second(data: bytes) -> bytes:
    """The same with its second page leading nowhere."""
    at = data.index(b"/Type /Page\n", data.index(b"/Type /Page\n") + 9)
    return data[:at] + b"/Type /Nope\n" + data[at + 12 :]


def test_each_page_is_a_sheet_with_its_width_and_its_words_by_place(cast, package):
    (each,) = send_pictures(package, [sent(pdf("Site", "Plan"))], cast.student)
    assert each.is_kept_whole
    first, second = package.sheets.order_by("page")
    assert [first.page, second.page] == [1, 2]
    assert first.original == second.original == Original.objects.get()
    assert (first.original_name, first.width_mm) == ("set.pdf", 420)
    assert (first.file.width, first.file.height) == (3308, 2339)  # 420 × 297 mm at 200 an inch
    words = {text: (x, y) for text, x, y, *_ in second.lettering["words"]}
    assert (set(words), second.lettering["others"]) == ({"W1"}, 1)  # “Plan” is written as no mark
    assert words["W1"] == pytest.approx((11 / 420, 20 / 297), abs=0.02)
    assert second.lettering["paths"] >= 1


def test_a_picture_keeps_its_original_byte_by_byte_and_its_receipt(cast, package):
    data = pdf("Plan")
    (each,) = send_pictures(package, [sent(data, "02 Plan.pdf")], cast.student)
    original = Original.objects.get()
    with original.file.open() as file:
        assert file.read() == data
    assert each.receipt == original.sha256[:12]
    assert package.sheets.get().number == "02"


def test_a_page_that_cannot_be_drawn_is_named_and_the_others_hang(cast, package):
    (each,) = send_pictures(package, [sent(broken_second(pdf("A", "B", "C")))], cast.student)
    assert each.is_kept
    assert not each.is_kept_whole
    ((page, why),) = each.refused_pages
    assert (page, why.startswith("Read “set.pdf, page 2, a page that is damaged”")) == (2, True)
    assert sorted(package.sheets.values_list("page", flat=True)) == [1, 3]


def test_a_page_whose_reader_is_killed_each_time_lets_the_others_pass(cast, package, monkeypatch):
    real, tries = sheet_line.keep_picture, []

    def killed(copy, page, within_s):
        if page == 2:
            tries.append(page)
            raise CutOff
        return real(copy, page, within_s)

    monkeypatch.setattr(sheet_line, "keep_picture", killed)
    each = put_in_line(package, sent(pdf("A", "B", "C")), cast.student)
    work_line()
    each.refresh_from_db()
    assert len(tries) == sheet_line.MOST_TRIES
    assert [page for page, _ in each.refused_pages] == [2]
    assert sorted(package.sheets.values_list("page", flat=True)) == [1, 3]


def test_a_page_that_never_ends_is_told_and_the_others_hang(cast, package, monkeypatch):
    real = sheet_line.keep_picture

    def endless(copy, page, within_s):
        if page == 1:
            raise sheet_line.Unfinished
        return real(copy, page, within_s)

    monkeypatch.setattr(sheet_line, "keep_picture", endless)
    each = put_in_line(package, sent(pdf("A", "B")), cast.student)
    work_line()
    each.refresh_from_db()
    assert each.refused_pages == [(1, "It isn't read within 100 s. Send it again.")]
    assert each.numbers == ["01"]


def test_pages_go_on_where_the_time_was_up(cast, package, monkeypatch):
    real, read = sheet_line.keep_picture, []

    def slow(copy, page, within_s):
        read.append(page)
        if len(read) == 2:
            raise sheet_line.Unfinished
        return real(copy, page, within_s)

    monkeypatch.setattr(sheet_line, "keep_picture", slow)
    each = put_in_line(package, sent(pdf("A", "B")), cast.student)
    work_line(60)
    each.refresh_from_db()
    assert each.is_kept_whole
    assert read == [1, 2, 2]
    assert SentPicture.objects.get().report[1].keys() == {"label", "sheet"}


def test_a_file_of_several_pages_is_not_one_sheets_picture(cast, package):
    sheet = Sheet.objects.create(
        package=package, number="07", title="Plan", changed_by=cast.mate, file=_file(pdf("A"))
    )
    each = put_in_line(package, sent(pdf("A", "B")), cast.student, sheet=sheet)
    work_line()
    each.refresh_from_db()
    assert each.why.startswith("Read “set.pdf, a PDF of 2 pages”. Expected one page for one sheet")


def _file(data: bytes) -> SheetFile:
    with at_hand(io.BytesIO(data), "set.pdf") as copy:
        return keep_picture(copy, 1)[0]


def test_what_cannot_hang_leaves_neither_picture_nor_original_behind(cast, package, media):
    send_pictures(package, [sent(pdf("A"), "02.pdf")], cast.student)
    before = sorted(path for path in media.rglob("*") if path.is_file())
    (each,) = send_pictures(package, [sent(pdf("Another"), "02.pdf")], cast.student)
    assert "a number that no other sheet has" in each.why
    assert sorted(path for path in media.rglob("*") if path.is_file()) == before


@pytest.mark.parametrize("turned", [0, 90])
def test_letters_make_words_by_place_whatever_order_they_are_drawn_in(tmp_path, turned):
    """As some programs print: all letters first, then the figures, each an object of its own."""
    made = FPDF(unit="mm", format=A3_MM)
    made.add_page()
    made.set_font("Helvetica", size=18)
    marks = ["W1", "R2", "D13", "T4"]
    with made.rotation(turned, 210, 150):
        for part in (slice(0, 1), slice(1, None)):
            for n, mark in enumerate(marks):
                before = made.get_string_width(mark[0]) if part.start else 0
                made.text(150 + 30 * n + before, 150, mark[part])
        made.text(150, 170, "U 0.85")
    path = tmp_path / "sent"
    path.write_bytes(made.output())
    with plain_pdf._opened(str(path)) as opened:
        words = [word[0] for word in plain_pdf._words(opened[0])]
    assert sorted(words) == sorted([*marks, "U", "0.85"])

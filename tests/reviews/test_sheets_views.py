"""Sheets on their pages: hung, named, changed, taken down, sent."""

import io
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from reviews.deeds.sheet_keeping import save_sheet
from reviews.models import Brief, HandInItem, Sheet
from reviews.reading.title_block import TitleBlock
from tests.factories import SheetFactory


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


@pytest.fixture
def sheet(cast):
    return SheetFactory(package=cast.scheme.package, number="02", changed_by=cast.student)


def picture(name="02 Plan 1-50.png", colour="white"):
    out = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(out, "PNG")
    return SimpleUploadedFile(name, out.getvalue())


def hang(client, cast, *files, **more):
    address = reverse("edit-sheets", args=[cast.scheme.pk])
    return client.post(address, {"files": list(files), "drawn_by": "Stef Student"} | more)


def text_of(answer):
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def edit(client, sheet, **more):
    address = reverse("edit-sheet", args=[sheet.package.scheme_id, sheet.pk])
    said = {"number": sheet.number, "title": sheet.title, "scale": "", "version": sheet.version}
    return client.post(address, said | more)


class TestHang:
    def test_a_picture_is_hung_as_its_name_says(self, cast, client):
        answer = hang(client, cast, picture())
        assert answer.url == reverse("edit-sheets", args=[cast.scheme.pk])
        sheet = Sheet.objects.get()
        assert (sheet.number, sheet.title, sheet.scale) == ("02", "Plan", "1:50")
        assert (sheet.drawn_by, sheet.changed_by) == ("Stef Student", cast.student)

    def test_what_is_read_is_a_proposal_until_somebody_confirms_it(self, cast, client):
        hang(client, cast, picture("02 Plan 1-50.png"))
        sheet = Sheet.objects.get()
        assert sheet.proposed["scale"] == "file name"
        page = text_of(client.get(reverse("edit-sheets", args=[cast.scheme.pk])))
        assert "1:50 Read from the file name" in page
        address = reverse("confirm-sheets", args=[cast.scheme.pk])
        client.post(address, {"seen": f"{sheet.pk}:{sheet.version + 1}"})  # never seen so
        sheet.refresh_from_db()
        assert sheet.proposed
        mate = cast.client(cast.mate)
        mate.post(address, {"seen": [f"{sheet.pk}:{sheet.version}"]})
        sheet.refresh_from_db()
        assert (sheet.proposed, sheet.changed_by, sheet.scale) == ({}, cast.mate, "1:50")
        assert "Read from" not in text_of(client.get(reverse("edit-sheets", args=[cast.scheme.pk])))

    def test_one_sheet_is_confirmed_and_the_other_is_not(self, cast, client):
        hang(client, cast, picture("02 Plan.png"), picture("03 Cut.png", "red"))
        seen = [f"{sheet.pk}:{sheet.version}" for sheet in Sheet.objects.all()]
        address = reverse("confirm-sheets", args=[cast.scheme.pk])
        client.post(address, {"seen": seen, "sheet": seen[0]})
        assert [bool(sheet.proposed) for sheet in Sheet.objects.all()] == [False, True]

    def test_a_picture_without_a_number_gets_the_next_that_is_asked_for(self, cast, client):
        for code, title in (("00", "Title"), ("01", "Site")):
            HandInItem.objects.create(brief=cast.studio.brief, kind="sheet", code=code, title=title)
        hang(client, cast, picture("final.png"), picture("really final.png", "red"))
        assert [str(sheet) for sheet in Sheet.objects.all()] == ["00 Title", "01 Site"]

    def test_one_refused_file_leaves_the_others_and_the_words(self, cast, client):
        answer = hang(
            client, cast, picture(), SimpleUploadedFile("03.pdf", b"%PDF-1.7"), drawn_by="Ada"
        )
        text = answer.content.decode()
        assert answer.status_code == 200
        assert Sheet.objects.get().number == "02"
        assert "Kept as 02 Plan" in text
        assert "Read “03.pdf, a PDF that breaks off or is damaged”" in text
        assert 'value="Ada"' in text

    def test_a_number_that_hangs_already_is_refused_or_its_picture_changed(
        self, cast, client, sheet
    ):
        text = hang(client, cast, picture(colour="red")).content.decode()
        assert "a number that no other sheet has; 02 Plan has it. To change the picture" in text
        hang(client, cast, picture(colour="red"), is_replacing="on")
        changed = Sheet.objects.get()
        assert changed.file != sheet.file
        assert (changed.version, changed.title) == (2, sheet.title)

    def test_nothing_chosen_is_said(self, cast, client):
        text = hang(client, cast).content.decode()
        assert "Nothing was read. Expected at least one picture." in text

    def test_the_limit_is_stated(self, cast, client, settings):
        settings.MOST_UPLOAD_MB = 7
        text = client.get(reverse("edit-sheets", args=[cast.scheme.pk])).content.decode()
        assert "PDF, JPEG, PNG, TIFF or WebP, 7 MB at most" in text


class TestEdit:
    def test_the_title_block_is_changed_and_the_picture_stays(self, cast, client, sheet):
        edit(client, sheet, title="Plan of the upper floor", scale="1:20", checked_by="Mira Mate")
        changed = Sheet.objects.get()
        assert (changed.title, changed.scale, changed.version) == (
            "Plan of the upper floor",
            "1:20",
            2,
        )
        assert changed.file == sheet.file

    def test_a_picture_that_is_refused_leaves_what_was_typed_kept(self, cast, client, sheet):
        file = SimpleUploadedFile("plan.jpg", b"no picture")
        text = edit(client, sheet, title="Upper floor", file=file).content.decode()
        assert "Read “plan.jpg, which is neither a picture that is read nor a PDF inside”" in text
        assert "The title block is kept." in text
        assert 'value="Upper floor"' in text
        assert 'name="version" value="2"' in text
        kept = Sheet.objects.get()
        assert (kept.title, kept.file) == ("Upper floor", sheet.file)

    @pytest.mark.parametrize(
        ("sent", "said"),
        [
            ({"number": ""}, "Expected the number of the sheet: 02."),
            ({"title": ""}, "Expected the title of the sheet: Plan."),
            ({"number": "123456789"}, "Read 9 characters. Expected 8 at most."),
            ({"number": "0/2"}, "Read “0/2”. Expected a number without a slash."),
            ({"title": "x" * 121}, "Read 121 characters. Expected 120 at most."),
            ({"scale": "1:" + "0" * 30}, "Read 32 characters. Expected 24 at most."),
        ],
    )
    def test_what_cannot_stand_in_a_title_block_is_refused(self, cast, client, sheet, sent, said):
        text = edit(client, sheet, **sent).content.decode()
        assert said in text
        assert Sheet.objects.get().version == 1

    def test_another_sheets_number_is_refused(self, cast, client, sheet):
        SheetFactory(package=cast.scheme.package, number="03", changed_by=cast.mate)
        text = edit(client, sheet, number="03").content.decode()
        assert "Read “03”. Expected a number that no other sheet has" in text

    def test_a_change_over_a_mates_shows_both(self, cast, client, sheet):
        save_sheet(cast.scheme.package, sheet.pk, TitleBlock("02", "Ground"), 1, cast.mate)
        answer = edit(client, sheet, title="Upper floor")
        text = answer.content.decode()
        assert answer.status_code == 409
        assert 'value="Upper floor"' in text
        assert "Kept is: 02 Ground" in text
        assert 'name="version" value="2"' in text
        assert Sheet.objects.get().title == "Ground"

    def test_a_sheet_is_taken_down(self, cast, client, sheet):
        address = reverse("remove-sheet", args=[cast.scheme.pk, sheet.pk])
        client.post(address, {"version": 1})
        assert not Sheet.objects.exists()

    def test_a_sheet_that_a_mate_changed_is_not_taken_down(self, cast, client, sheet):
        save_sheet(cast.scheme.package, sheet.pk, TitleBlock("02", "Ground"), 1, cast.mate)
        address = reverse("remove-sheet", args=[cast.scheme.pk, sheet.pk])
        answer = client.post(address, {"version": 1}, follow=True)
        assert "Mira Mate changed sheet 02 meanwhile" in answer.content.decode()
        assert Sheet.objects.exists()


class TestPicture:
    @pytest.mark.parametrize("size", ["full", "preview"])
    def test_it_is_private_and_only_what_it_is(self, cast, client, sheet, size):
        answer = client.get(reverse("sheet-image", args=[cast.scheme.pk, sheet.pk, size]))
        assert answer["Content-Type"] == "image/jpeg"
        assert answer["Cache-Control"] == "private, no-cache"
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Content-Disposition"] == 'inline; filename="R01-02.jpg"'
        assert "Cookie" in answer["Vary"]
        assert answer.streaming  # never whole in memory
        assert answer.getvalue().startswith(b"\xff\xd8")

    def test_it_is_sent_once_as_long_as_it_stays_the_same(self, cast, client, sheet):
        address = reverse("sheet-image", args=[cast.scheme.pk, sheet.pk, "full"])
        first = client.get(address)
        assert first.getvalue()
        by_tag = client.get(address, HTTP_IF_NONE_MATCH=first["ETag"])
        by_time = client.get(address, HTTP_IF_MODIFIED_SINCE=first["Last-Modified"])
        assert (by_tag.status_code, by_time.status_code) == (304, 304)
        assert by_tag["Cache-Control"] == "private, no-cache"

    def test_there_is_no_other_size(self, cast, client, sheet):
        address = reverse("sheet-image", args=[cast.scheme.pk, sheet.pk, "huge"])
        assert client.get(address).status_code == 404

    def test_a_classmate_does_not_see_a_draft_even_with_its_tag(self, cast, client, sheet):
        address = reverse("sheet-image", args=[cast.scheme.pk, sheet.pk, "full"])
        answer = client.get(address)
        tag = answer.getvalue() and answer["ETag"]
        stranger = cast.client(cast.classmate)
        assert stranger.get(address, HTTP_IF_NONE_MATCH=tag).status_code == 404


class TestMissing:
    """A picture whose file is gone."""

    @pytest.fixture
    def gone(self, cast, client, settings):
        hang(client, cast, picture())
        sheet = Sheet.objects.get()
        for file in (sheet.file.image, sheet.file.preview):
            file.storage.delete(file.name)
        return sheet

    @pytest.mark.parametrize("size", ["full", "preview"])
    def test_stands_as_itself_in_words(self, cast, client, gone, size):
        answer = client.get(reverse("sheet-image", args=[cast.scheme.pk, gone.pk, size]))
        assert (answer.status_code, answer["Content-Type"]) == (404, "image/svg+xml")
        assert "The file is missing." in answer.content.decode()
        assert answer["Cache-Control"] == "no-store"

    def test_is_said_beside_its_sheet(self, cast, client, gone):
        for address in (
            reverse("edit-sheets", args=[cast.scheme.pk]),
            reverse("edit-sheet", args=[cast.scheme.pk, gone.pk]),
        ):
            assert "is missing. " in client.get(address).content.decode()

    def test_is_there_again_once_the_same_picture_is_hung(self, cast, client, gone):
        hang(client, cast, picture())
        assert Sheet.objects.get().file == gone.file
        assert not gone.file.is_missing
        answer = client.get(reverse("sheet-image", args=[cast.scheme.pk, gone.pk, "full"]))
        assert answer.getvalue().startswith(b"\xff\xd8")


class TestTitleBlock:
    def test_typing_over_what_is_proposed_confirms_it_alone(self, client, sheet):
        sheet.proposed = {"title": "file name", "scale": "file name"}
        sheet.save()
        edit(client, sheet, title="Ground plan")
        sheet.refresh_from_db()
        assert sheet.proposed == {"scale": "file name"}
        edit(client, sheet, confirm="")
        sheet.refresh_from_db()
        assert sheet.proposed == {}

    def test_kind_state_and_paper_are_kept(self, cast, client, sheet):
        Brief.objects.filter(pk=cast.studio.brief.pk).update(states=[{"state": "packed"}])
        edit(client, sheet, kind="plan", state="packed", width_mm="A1")
        sheet.refresh_from_db()
        assert (sheet.kind, sheet.state, sheet.width_mm) == ("plan", "packed", 841)
        page = text_of(client.get(reverse("edit-sheets", args=[cast.scheme.pk])))
        assert "Plan Plan packed" in page

    @pytest.mark.parametrize(
        ("sent", "said"),
        [
            ({"kind": "roof"}, "Read “roof”. Expected one of the kinds of drawing."),
            ({"state": "flying"}, "Read “flying”. Expected one of the brief’s states."),
            ({"width_mm": "12 kg"}, "Read “12 kg”. Expected a width from 50 mm to 5 m"),
            ({"width_mm": "10 km"}, "Read “10 km”. Expected a width from 50 mm to 5 m"),
        ],
    )
    def test_what_cannot_be_is_refused_in_words(self, client, sheet, sent, said):
        assert said in text_of(edit(client, sheet, **sent))
        sheet.refresh_from_db()
        assert sheet.version == 1

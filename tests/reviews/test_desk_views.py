"""The page of a scheme's desk crits: noted by a leader, ticked by its students, photo and all."""

import io
import re
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from reviews.deeds.sheet_clearing import clear_pictures
from reviews.models import DeskCrit, SheetFile
from reviews.reading.sheet_room import sheet_room
from tests import factories
from tests.test_access import put_away

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def picture(colour="white", name="overlay.jpg", kind="JPEG"):
    out = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(out, kind)
    return SimpleUploadedFile(name, out.getvalue())


def address(cast, name="show-desk", *more):
    return reverse(name, args=[cast.scheme.pk, *more])


def note(client, cast, key, version=0, **more):
    sent = {"note": key, "version": version, "words": "The stair.", "step_1": "Draw it"}
    return client.post(address(cast, "keep-desk-crit"), sent | more)


def text_of(answer):
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def test_a_note_is_kept_and_its_student_ticks_the_step(cast, leader):
    assert note(leader, cast, uuid4()).url == address(cast)
    student = cast.client(cast.student)
    page = student.get(address(cast)).content.decode()
    assert "The stair." in page
    assert 'id="desk-note"' not in page
    step = DeskCrit.objects.get().steps.get()
    student.post(address(cast, "tick-step", step.pk))
    page = text_of(student.get(address(cast)))
    assert "Every step is done." in page
    assert "Done, Stef Student" in page


def test_a_note_saves_itself_and_says_when(cast, leader):
    key = uuid4()
    answer = leader.post(
        address(cast, "keep-desk-crit"),
        {"note": key, "version": 0, "words": " A roof\r\nthat ", "step_1": ""},
        headers={"HX-Request": "true"},
    )
    part = answer.content.decode()
    assert part.lstrip().startswith('<section id="desk-note"')
    assert " A roof\nthat " in part
    assert 'name="version" value="1"' in part
    assert re.search(r'class="kept">Kept \d\d:\d\d:\d\d', part)


def test_both_are_shown_where_a_newer_note_stands(cast, leader):
    key = uuid4()
    note(leader, cast, key)
    note(leader, cast, key, 1, words="The roof.")
    answer = note(leader, cast, key, 1, words="The door.")
    assert answer.status_code == 409
    assert "The roof." in text_of(answer)
    assert "The door." in text_of(answer)
    assert DeskCrit.objects.get().words == "The roof."


def test_steps_taken_over_by_a_later_meeting_are_told_and_nothing_typed_is_lost(cast, leader):
    key = uuid4()
    note(leader, cast, key)
    note(leader, cast, uuid4(), words="Later.")
    answer = note(leader, cast, key, 1, step_1="Another")
    assert answer.status_code == 409
    assert "A later meeting has taken the steps over" in text_of(answer)
    assert 'value="Another"' in answer.content.decode()


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"words": " ", "step_1": ""}, "Read nothing. Expected words, a next step or a photo."),
        ({"words": "w" * 5_001}, "Read 5001 characters. Expected 5000 at most."),
        ({"step_2": "s" * 241}, "Read 241 characters. Expected 240 at most."),
        ({"note": "x"}, "The note’s key can’t be read."),
    ],
)
def test_what_cannot_be_kept_is_said_beside_the_box(cast, leader, sent, told):
    answer = note(leader, cast, uuid4(), **sent)
    assert told in text_of(answer)
    assert not DeskCrit.objects.exists()


def test_a_colleague_does_not_change_what_another_signed(cast, leader):
    key = uuid4()
    note(leader, cast, key)
    colleague = factories.PersonFactory()
    factories.MembershipFactory(studio=cast.studio, person=colleague, role="leader")
    assert note(cast.client(colleague), cast, key, 1, words="No.").status_code == 403
    assert DeskCrit.objects.get().words == "The stair."


def test_the_photo_is_stored_plain_counted_and_replaced(cast, leader):
    key = uuid4()
    assert note(leader, cast, key, photo=picture()).url == address(cast)
    first = DeskCrit.objects.get().photo
    assert sheet_room(cast.studio).used == first.bytes
    clear_pictures(older_than=-factories.timedelta(days=1))
    photo = {"note": key, "photo": picture("red", "again.png", "PNG")}
    assert leader.post(address(cast, "keep-desk-photo"), photo).url == address(cast)
    kept = DeskCrit.objects.get()
    assert kept.photo != first
    assert not SheetFile.objects.filter(pk=first.pk).exists()
    student = cast.client(cast.student)
    shown = student.get(address(cast, "show-desk-photo", kept.pk, "full"))
    put_away(shown)
    assert (shown.status_code, shown["Content-Type"]) == (200, "image/jpeg")
    assert "Kept" in text_of(leader.get(address(cast)))


def test_a_photo_begins_a_note(cast, leader):
    key = uuid4()
    leader.post(address(cast, "keep-desk-photo"), {"note": key, "photo": picture()})
    kept = DeskCrit.objects.get()
    assert (kept.key, kept.by, kept.words) == (key, cast.leader, "")
    assert kept.photo


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({}, "Read nothing. Expected a photo of the overlay."),
        ({"photo": SimpleUploadedFile("a.jpg", b"")}, "a.jpg, an empty file"),
        ({"photo": SimpleUploadedFile("a.jpg", b"not a picture")}, "Read “a.jpg"),
    ],
)
def test_what_is_no_photo_is_refused_in_words_and_leaves_nothing(cast, leader, sent, told):
    answer = leader.post(address(cast, "keep-desk-photo"), {"note": uuid4(), **sent})
    assert told in text_of(answer)
    assert not DeskCrit.objects.exists()
    assert not SheetFile.objects.exists()


def test_a_photo_to_another_leaders_note_is_refused(cast, leader):
    note = factories.DeskCritFactory(scheme=cast.scheme)
    sent = {"note": note.key, "photo": picture()}
    answer = leader.post(address(cast, "keep-desk-photo"), sent)
    assert "a note of somebody else’s" in text_of(answer)
    assert not SheetFile.objects.exists()
    assert DeskCrit.objects.get().photo is None


def test_a_note_without_a_photo_has_none_to_show(cast):
    note = factories.DeskCritFactory(scheme=cast.scheme)
    student = cast.client(cast.student)
    assert student.get(address(cast, "show-desk-photo", note.pk, "full")).status_code == 404


def test_another_note_is_begun_and_an_earlier_one_changed(cast, leader):
    key = uuid4()
    note(leader, cast, key)
    kept = DeskCrit.objects.get()
    assert f'value="{key}"' in leader.get(address(cast)).content.decode()
    assert f'value="{key}"' not in leader.get(address(cast) + "?note=new").content.decode()
    DeskCrit.objects.update(at=kept.at.replace(year=2020))
    assert f'value="{key}"' not in leader.get(address(cast)).content.decode()
    assert f'value="{key}"' in leader.get(f"{address(cast)}?note={kept.pk}").content.decode()

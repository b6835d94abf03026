"""A pin-up's quiet round: notes left on classmates' schemes, read by them once it is closed."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from reviews import clock
from reviews.models import AuditLine, Crit, QuietNote
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def pin_up(cast):
    return factories.CritFactory(studio=cast.studio, kind=Crit.Kind.PIN_UP, day=clock.today())


def leave(client, crit, scheme, words="The lamp.", kind="Keep", version=0, key=None, **more):
    sent = {"note": key or uuid4(), "kind": kind, "words": words, "version": version}
    return client.post(reverse("keep-quiet-note", args=[crit.pk, scheme.pk]), sent | more)


def page(client, crit):
    answer = client.get(reverse("show-quiet-round", args=[crit.pk]))
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def close(client, crit):
    return client.post(reverse("close-quiet-round", args=[crit.pk]))


def test_a_note_is_read_by_its_scheme_with_the_name_once_the_round_is_closed(cast, pin_up, leader):
    student, classmate = cast.client(cast.student), cast.client(cast.classmate)
    assert "Keel" in page(student, pin_up)
    leave(student, pin_up, cast.other_scheme)
    leave(student, pin_up, cast.other_scheme, "Why two doors?", "Ask")
    assert "The lamp." not in page(classmate, pin_up)
    assert "The lamp." in page(leader, pin_up)
    close(leader, pin_up)
    read = page(classmate, pin_up)
    assert "The lamp." in read
    assert "Why two doors?" in read
    assert "Stef Student" in read
    assert AuditLine.objects.filter(deed="released", person=cast.leader).count() == 1
    leader.post(reverse("open-quiet-round", args=[pin_up.pk]))
    assert "The lamp." not in page(classmate, pin_up)


def test_the_leader_sees_who_has_fewest_and_who_is_silent(cast, pin_up, leader):
    leave(cast.client(cast.student), pin_up, cast.other_scheme)
    shown = page(leader, pin_up)
    assert "Who has fewest 0 notes: R01" in shown
    assert "Nothing left yet by: Clem Classmate, Mira Mate." in shown
    assert "Who has fewest" not in page(cast.client(cast.mate), pin_up)


def test_the_coordinator_reads_it_closed_and_no_observer_reads_it(cast, pin_up, leader):
    leave(cast.client(cast.student), pin_up, cast.other_scheme)
    coordinator = cast.client(cast.coordinator)
    assert "The lamp." not in page(coordinator, pin_up)
    close(leader, pin_up)
    assert "The lamp." in page(coordinator, pin_up)
    for who in (cast.scribe, cast.examiner):
        address = reverse("show-quiet-round", args=[pin_up.pk])
        assert cast.client(who).get(address).status_code == 403


def test_the_own_scheme_is_never_offered_nor_written_on(cast, pin_up):
    student = cast.client(cast.student)
    assert (
        f"note-{cast.scheme.pk}-keep"
        not in student.get(reverse("show-quiet-round", args=[pin_up.pk])).content.decode()
    )
    assert leave(student, pin_up, cast.scheme).status_code == 403
    assert not QuietNote.objects.exists()


def test_a_note_sent_again_is_one_and_is_changed_by_the_version_seen(cast, pin_up):
    student, key = cast.client(cast.student), uuid4()
    for _ in range(2):
        leave(student, pin_up, cast.other_scheme, key=key)
    assert QuietNote.objects.count() == 1
    leave(student, pin_up, cast.other_scheme, "The roof.", version=1, key=key)
    met = leave(student, pin_up, cast.other_scheme, "The door.", version=1, key=uuid4())
    assert met.status_code == 409
    text = met.content.decode()
    assert "The roof." in text
    assert "The door." in text
    assert QuietNote.objects.get().words == "The roof."


def test_a_note_is_taken_off_and_an_old_save_brings_it_not_back(cast, pin_up):
    student, key = cast.client(cast.student), uuid4()
    leave(student, pin_up, cast.other_scheme, key=key)
    leave(student, pin_up, cast.other_scheme, version=1, key=key, off="yes")
    assert not QuietNote.objects.standing().exists()
    assert leave(student, pin_up, cast.other_scheme, key=key).status_code == 409
    assert leave(student, pin_up, cast.other_scheme, version=1, key=key).status_code == 409
    leave(student, pin_up, cast.other_scheme, "Again.")
    assert QuietNote.objects.standing().get().words == "Again."


def test_nothing_is_left_after_the_round_is_closed_and_what_was_typed_stands(cast, pin_up, leader):
    close(leader, pin_up)
    answer = cast.client(cast.student).post(
        reverse("keep-quiet-note", args=[pin_up.pk, cast.other_scheme.pk]),
        {"note": uuid4(), "kind": "Ask", "words": "Too late?", "version": 0},
        headers={"HX-Request": "true"},
    )
    assert answer.status_code == 409
    text = answer.content.decode()
    assert "The quiet round is closed." in text
    assert "Too late?" in text
    assert not QuietNote.objects.exists()


def test_nothing_is_left_before_the_day(cast, pin_up):
    Crit.objects.filter(pk=pin_up.pk).update(day=clock.today().replace(year=2100))
    student = cast.client(cast.student)
    assert "Opens on" in page(student, pin_up)
    assert leave(student, pin_up, cast.other_scheme).status_code == 409


def test_a_leader_takes_a_hurtful_note_off(cast, pin_up, leader):
    leave(cast.client(cast.student), pin_up, cast.other_scheme, "Lazy.")
    note = QuietNote.objects.get()
    leader.post(reverse("take-quiet-note-off", args=[pin_up.pk, note.pk]))
    close(leader, pin_up)
    assert "Lazy." not in page(cast.client(cast.classmate), pin_up)
    assert QuietNote.objects.get().words == "Lazy."
    line = AuditLine.objects.get(deed="moderated")
    assert line.of_person == cast.student
    assert "Lazy" not in line.about


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"words": "w" * 2_001}, "Read 2001 characters. Expected 2000 at most."),
        ({"kind": "Cut"}, "Read “Cut”. Expected one of: Keep, Ask."),
        ({"key": "x"}, "The note’s key can’t be read."),
    ],
)
def test_what_cannot_be_kept_is_said(cast, pin_up, sent, told):
    htmx = cast.client(cast.student).post(
        reverse("keep-quiet-note", args=[pin_up.pk, cast.other_scheme.pk]),
        {"note": uuid4(), "kind": "Keep", "words": "A", "version": 0}
        | {("note" if name == "key" else name): value for name, value in sent.items()},
        headers={"HX-Request": "true"},
    )
    assert told in htmx.content.decode()
    assert not QuietNote.objects.exists()


def test_a_final_crit_has_no_quiet_round(cast):
    address = reverse("show-quiet-round", args=[cast.crit.pk])
    assert cast.client(cast.student).get(address).status_code == 404


def test_the_wall_and_the_pin_up_lead_to_it(cast, pin_up):
    student = cast.client(cast.student)
    address = reverse("show-quiet-round", args=[pin_up.pk])
    for name, pk in (("show-pin-up", cast.studio.pk), ("show-crit", pin_up.pk)):
        assert address in student.get(reverse(name, args=[pk])).content.decode()
    assert (
        address
        not in cast.client(cast.scribe).get(reverse("show-crit", args=[pin_up.pk])).content.decode()
    )

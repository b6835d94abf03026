"""The scribe's page, the juror's own notes, and what students, leaders and classmates read."""

from uuid import uuid4

import pytest
from django.urls import reverse

from reviews import clock
from reviews.deeds import crit_spoken
from reviews.deeds.crit_releasing import release_crit
from reviews.models import ClockEntry, Comment, Duty, SpokenNote
from tests import factories
from tests.reviews.jury_steps import HTMX, lock, read, sheet_url


@pytest.fixture
def slot(cast):
    factories.issue_sheets(cast, "02", "06", schemes=[cast.scheme])
    cast.seat.name = "Marek Ostrey"
    cast.seat.save()
    return cast.crit.slots.get(scheme=cast.scheme)


def keep(cast, slot, typed="OST 6C2 prove 765kg wet?", by=None, **more):
    return crit_spoken.keep_line(slot, by or cast.scribe, uuid4(), typed, **more)


def page_url(cast):
    return reverse("scribe-slot", args=[cast.crit.pk, cast.scheme.pk])


def lines_url(cast):
    return reverse("keep-line", args=[cast.crit.pk, cast.scheme.pk])


def line_url(cast, name, note):
    return reverse(name, args=[cast.crit.pk, cast.scheme.pk, note.key])


def note_url(cast, name, note):
    return reverse(name, args=[cast.scheme.pk, note.key])


# scribe


def test_a_scribe_sees_initials_squares_and_what_was_read(cast, slot):
    keep(cast, slot, "OST 9C2 wet?")
    page = read(cast.client(cast.scribe), page_url(cast))
    assert "<b>OST</b> <span>Marek Ostrey</span>" in page
    assert 'value="06·C2"' in page
    assert "“9C2” is on no sheet: the sheets shown are 02, 06. It stays in the words." in page
    assert "As typed: OST 9C2 wet?" in page


def test_a_line_comes_back_as_it_was_read(cast, slot):
    sent = {"key": uuid4(), "line": "OST 6C2 prove 765kg wet?", "of": "x", "said_at": "1e400"}
    client = cast.client(cast.scribe)
    answer = client.post(lines_url(cast), sent, headers=HTMX).content.decode()
    assert f'id="line-{sent["key"]}"' in answer
    assert "06·C2" in answer
    client.post(lines_url(cast), sent)
    assert SpokenNote.objects.count() == 1


def test_taps_stand_before_the_line_where_there_is_no_script(cast, slot):
    sent = {"key": uuid4(), "line": "wet?", "who": "OST", "place": "06·C2"}
    response = cast.client(cast.scribe).post(lines_url(cast), sent)
    note = SpokenNote.objects.get()
    assert response.url == f"{page_url(cast)}#line-{note.key}"
    assert (note.typed, note.seat, note.place) == ("OST 06·C2 wet?", cast.seat, "06·C2")


@pytest.mark.parametrize("sent", [{"gap": "1"}, {"line": "…"}, {"line": "..."}])
def test_something_missed_is_kept_as_missed(cast, slot, sent):
    cast.client(cast.scribe).post(lines_url(cast), {"key": uuid4(), **sent})
    assert SpokenNote.objects.get().is_gap
    assert "Missed something here" in read(cast.client(cast.scribe), page_url(cast))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (" ", "Read nothing. Expected who said it"),
        ("w" * 501, "Read 501 characters. Expected 500"),
    ],
)
def test_what_is_no_line_comes_back_whole(cast, slot, line, says):
    response = cast.client(cast.scribe).post(lines_url(cast), {"key": uuid4(), "line": line})
    page = response.content.decode()
    assert response.status_code == 409
    assert says in page
    assert line.strip() in page
    assert not SpokenNote.objects.exists()


def test_put_right_over_a_newer_one_shows_both(cast, slot):
    note = keep(cast, slot)
    client = cast.client(cast.scribe)
    sent = {"seen": 1, "who": cast.seat.pk, "kind": "Ask", "place": "02 A1", "words": "Wet?"}
    client.post(line_url(cast, "put-line-right", note), sent)
    response = client.post(
        line_url(cast, "put-line-right", note), {**sent, "words": "Dry?"}, headers=HTMX
    )
    assert response.status_code == 409
    answer = response.content.decode()
    assert "OST, Ask, 02·A1: Wet?" in answer
    assert "OST, Ask, 02·A1: Dry?" in answer
    assert 'name="seen" value="2"' in answer


def test_a_line_with_a_wrong_place_is_refused_beside_it(cast, slot):
    note = keep(cast, slot)
    sent = {"seen": 1, "who": "", "kind": "", "place": "9 C2", "words": "Wet?"}
    response = cast.client(cast.scribe).post(line_url(cast, "put-line-right", note), sent)
    assert "Expected one of the sheets that were shown: 02, 06." in response.content.decode()
    note.refresh_from_db()
    assert note.version == 1


def test_a_scribe_reads_no_other_scribes_lines_but_on_the_same_duty(cast, slot):
    other = factories.PersonFactory(name="Fen Other")
    factories.MembershipFactory(studio=cast.studio, person=other, role="scribe")
    note = keep(cast, slot, "OST not for you", by=other)
    client = cast.client(cast.scribe)
    assert "not for you" not in read(client, page_url(cast))
    taken = client.post(line_url(cast, "take-line-off", note), {"seen": 1})
    assert taken.status_code == 404
    Duty.objects.create(crit=cast.crit, person=cast.scribe, kind=Duty.Kind.SCRIBE, slot=slot)
    assert "not for you" in read(client, page_url(cast))


def test_whoever_presents_takes_no_notes_of_it(cast, slot):
    Duty.objects.create(crit=cast.crit, person=cast.student, kind=Duty.Kind.SCRIBE)
    client = cast.client(cast.student)
    assert client.get(page_url(cast)).status_code == 403
    other = reverse("scribe-slot", args=[cast.crit.pk, cast.other_scheme.pk])
    assert client.get(other).status_code == 200


def test_the_slot_that_is_on_is_offered(cast, slot):
    started = ClockEntry.Deed.STARTED
    ClockEntry.objects.create(slot=slot, deed=started, at=clock.now(), by=cast.leader)
    page = read(cast.client(cast.scribe), reverse("show-scribe", args=[cast.crit.pk]))
    assert f'<a class="button main" href="{page_url(cast)}">On now' in page


# juror


def test_a_jurors_notes_stand_on_their_own_sheet_alone(cast, slot):
    keep(cast, slot)
    keep(cast, slot, "??? ramp or wish")
    other = factories.SeatFactory(crit=cast.crit, name="Pia Norrow")
    own, theirs = (read(cast.client(seat), sheet_url(cast)) for seat in (cast.seat, other))
    assert "765kg wet?" in own
    assert "765kg wet?" not in theirs
    assert "ramp or wish" in own
    assert "ramp or wish" in theirs


def test_confirming_by_hand_leads_back_to_the_sheet(cast, slot):
    note = keep(cast, slot)
    sent = {"seen": 1, "of": note.revision_id, "kind": "Prove", "place": "06·C2", "words": "Weigh."}
    response = cast.client(cast.seat).post(note_url(cast, "confirm-spoken", note), sent)
    assert response.url == f"{sheet_url(cast)}#spoken-{note.key}"
    assert Comment.objects.get().words == "Weigh."
    assert "as your comment: Prove 06·C2" in read(cast.client(cast.seat), sheet_url(cast))


def test_a_confirmation_that_is_refused_comes_back_with_what_was_sent(cast, slot):
    note = keep(cast, slot)
    sent = {"seen": 1, "of": note.revision_id, "kind": "", "place": "9 C2", "words": "Weigh it."}
    for headers in (HTMX, {}):
        response = cast.client(cast.seat).post(
            note_url(cast, "confirm-spoken", note), sent, headers=headers
        )
        assert response.status_code == 409
        assert "Weigh it." in response.content.decode()
        assert "a sheet of revision A: 02, 06" in response.content.decode()
    assert not Comment.objects.exists()


def test_claiming_taking_off_and_putting_back(cast, slot):
    note = keep(cast, slot, "??? ramp or wish")
    client = cast.client(cast.seat)
    for name, seen in (("claim-spoken", 1), ("take-spoken-off", 2), ("put-spoken-back", 3)):
        assert client.post(note_url(cast, name, note), {"seen": seen}).status_code == 302
    note.refresh_from_db()
    assert (note.seat, note.removed_at, note.version) == (cast.seat, None, 4)


def test_another_jurors_note_is_not_there(cast, slot):
    note = keep(cast, slot)
    other = factories.SeatFactory(crit=cast.crit, name="Pia Norrow")
    response = cast.client(other).post(note_url(cast, "take-spoken-off", note), {"seen": 1})
    assert response.status_code == 404


def test_nothing_new_is_answered_in_a_word(cast, slot):
    keep(cast, slot)
    client, address = cast.client(cast.seat), reverse("show-spoken", args=[cast.scheme.pk])
    tag = client.get(address, headers=HTMX)["ETag"]
    again = {**HTMX, "If-None-Match": tag}
    assert client.get(address, headers=again).status_code == 304
    keep(cast, slot, "OST another")
    fresh = client.get(address, headers=again)
    assert fresh.status_code == 200
    assert "another" in fresh.content.decode()


# students, leaders, and who must not


def test_students_read_unconfirmed_notes_labelled_after_the_release(cast, slot):
    keep(cast, slot)
    keep(cast, slot, "??? 2A1 ramp or wish")
    held = keep(cast, slot, "OST careless")
    crit_spoken.hold_note(held, cast.leader, "Tone")
    lock(cast, cast.seat)
    address = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    student = cast.client(cast.student)
    assert student.get(address).status_code == 404
    release_crit(cast.crit, cast.leader, "")
    page = read(student, address)
    assert page.count("Spoken, unconfirmed</span>") == 2
    assert "<strong>Marek Ostrey</strong>" in page
    assert "<strong>Speaker unknown</strong>" in page
    assert "careless" not in page
    assert 'id="flag-spoken-S1"' in page
    assert cast.client(cast.classmate).get(address).status_code == 404


def test_a_note_held_since_the_release_leaves_a_trace_without_words(cast, slot):
    note = keep(cast, slot)
    release_crit(cast.crit, cast.leader, "")
    crit_spoken.hold_note(note, cast.leader, "Tone")
    address = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    page = read(cast.client(cast.student), address)
    assert "Held by the studio leader since" in page
    assert "765kg" not in page
    close = reverse("show-issued-sheet", args=[note.revision_id, "06"])
    assert "765kg" not in read(cast.client(cast.student), close)
    export = cast.client(cast.student).get(
        reverse("export-annotations", args=[cast.crit.pk, cast.scheme.pk])
    )
    assert "765kg" not in export.content.decode()


def test_notes_are_exported_and_lie_on_the_close_view(cast, slot):
    note = keep(cast, slot)
    release_crit(cast.crit, cast.leader, "")
    student = cast.client(cast.student)
    export = student.get(reverse("export-annotations", args=[cast.crit.pk, cast.scheme.pk])).json()
    (item,) = export["first"]["items"]
    assert item["id"] == f"urn:uuid:{note.key}"
    assert {body["value"] for body in item["body"]} == {
        "765kg wet?",
        "Spoken, unconfirmed",
        "Prove",
    }
    close = read(student, reverse("show-issued-sheet", args=[note.revision_id, "06"]))
    assert 'data-layer="spoken"' in close
    assert "Spoken note S1" in close


def test_jurors_without_names_have_none_on_their_notes(cast, slot):
    cast.crit.names_jurors = False
    cast.crit.save()
    keep(cast, slot)
    release_crit(cast.crit, cast.leader, "")
    address = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    page = read(cast.client(cast.student), address)
    assert "<strong>Juror A</strong>" in page
    assert "Ostrey" not in page


def test_a_leader_holds_and_lets_go(cast, slot):
    note = keep(cast, slot)
    client = cast.client(cast.leader)
    table = reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk])
    assert "unconfirmed" in read(client, table)
    client.post(reverse("hold-spoken", args=[note.pk]), {"reason": "Tone"})
    assert "<strong>Held</strong>" in read(client, table)
    client.post(reverse("let-go-spoken", args=[note.pk]))
    assert "Was held: Tone" in read(client, table)


def test_a_leader_on_the_jury_reads_none_before_the_own_lock(cast, slot):
    factories.SeatFactory(crit=cast.crit, name=cast.leader.name)
    note = keep(cast, slot)
    client = cast.client(cast.leader)
    table = reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk])
    assert "765kg" not in read(client, table)
    assert client.post(reverse("hold-spoken", args=[note.pk]), {"reason": "T"}).status_code == 403

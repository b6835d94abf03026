"""Somebody's own times: whose stand, what raises their count, what is cancelled, who reads them."""

from datetime import time, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar

from reviews import clock
from reviews.deeds import calendar_following
from reviews.deeds.crit_crossing import Move, keep_crossings
from reviews.deeds.crit_running_order import keep_order, lines_of, remember, whole_of
from reviews.deeds.crit_seating import SEATS, keep_seats, renew_code
from reviews.deeds.crit_seating import lines_of as seats_of
from reviews.deeds.person_erasing import erase, find
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.record_versions import version_of
from reviews.deeds.studio_roster import PEOPLE, bring_in, join, remove_member
from reviews.models import CalendarLink, Crit, Duty, KeptOrder, Person, Seat, Slot
from reviews.reading.own_times import times_of_person, times_of_seat
from tests import factories


@pytest.fixture(autouse=True)
def hours(cast):
    Slot.objects.filter(scheme=cast.scheme).update(starts_at=time(9, 15), room="A")
    Slot.objects.filter(scheme=cast.other_scheme).update(starts_at=time(9, 42), room="B")


def _keep(cast, lines):
    keep_order(cast.crit, lines, version_of(whole_of(cast.crit)), by=cast.leader)


def _by_what(entries):
    return {entry.what: entry for entry in entries}


def test_a_student_reads_the_day_pens_down_and_the_own_slot_alone(cast):
    found = _by_what(times_of_person(cast.student))
    assert found.keys() == {"Final crit, Ridge", "Pens down, Ridge", "R01 Lee"}
    slot, day = found["R01 Lee"], found["Final crit, Ridge"]
    assert (slot.ends - slot.starts, slot.where) == (timedelta(minutes=27), "Room A")
    assert timezone.localtime(slot.starts).time() == time(9, 15)
    assert (day.starts, timezone.localtime(day.ends).time()) == (slot.starts, time(10, 9))


def test_a_crit_without_hours_is_a_whole_day(cast):
    Slot.objects.update(starts_at=None)
    found = _by_what(times_of_person(cast.student))
    assert found["Final crit, Ridge"].starts == cast.crit.day
    assert "R01 Lee" not in found


def test_a_moved_slot_keeps_its_name_and_counts_on(cast):
    _keep(cast, lines_of(cast.crit)[:1] + lines_of(cast.crit)[1:])
    lines = lines_of(cast.crit)
    lines[0] |= {"starts_at": time(11)}
    before = _by_what(times_of_person(cast.student))["R01 Lee"]
    _keep(cast, lines)
    after = _by_what(times_of_person(cast.student))["R01 Lee"]
    assert (after.uid, after.sequence) == (before.uid, before.sequence + 1)
    assert after.starts > before.starts


def test_what_leaves_the_order_is_cancelled_for_a_week(cast, monkeypatch):
    remember(cast.crit, cast.leader)
    uid = _by_what(times_of_person(cast.student))["R01 Lee"].uid
    _keep(cast, lines_of(cast.crit)[1:])
    gone = _by_what(times_of_person(cast.student))["R01 Lee"]
    assert (gone.uid, gone.is_cancelled) == (uid, True)
    later = clock.now() + timedelta(days=8)
    monkeypatch.setattr(clock, "now", lambda: later)
    assert "R01 Lee" not in _by_what(times_of_person(cast.student))


def test_a_slot_that_loses_its_hour_is_cancelled_for_whoever_was_told_of_it(cast):
    remember(cast.crit, cast.leader)
    lines = lines_of(cast.crit)
    lines[0] |= {"starts_at": None}
    _keep(cast, lines)
    for found in (times_of_person(cast.student), times_of_seat(cast.seat)):
        gone = _by_what(found)["R01 Lee"]
        assert (gone.is_cancelled, timezone.localtime(gone.starts).time()) == (True, time(9, 15))


def test_a_juror_reads_what_they_see_and_what_they_cross_away_from_as_cancelled(cast):
    Seat.objects.filter(pk=cast.seat.pk).update(room="A")
    seat = Seat.objects.get(pk=cast.seat.pk)
    before = times_of_seat(seat)
    assert {entry.what for entry in before} == {"Final crit, Ridge", "R01 Lee"}
    slot = cast.crit.slots.get(scheme=cast.scheme)
    keep_crossings(cast.crit, [Move(seat, slot, False)], cast.leader)
    after = _by_what(times_of_seat(Seat.objects.get(pk=seat.pk)))
    assert after["R01 Lee"].is_cancelled
    assert after["R01 Lee"].sequence > _by_what(before)["R01 Lee"].sequence


def test_duties_stand_and_one_taken_off_is_cancelled(cast):
    slot = cast.crit.slots.get(scheme=cast.scheme)
    duty = Duty.objects.create(crit=cast.crit, person=cast.scribe, kind="scribe", slot=slot)
    Duty.objects.create(crit=cast.crit, person=cast.scribe, kind="timekeeper", room="B")
    remember(cast.crit, cast.leader)
    found = _by_what(times_of_person(cast.scribe))
    assert found["Scribe: R01 Lee"].where == "Room A"
    assert found["Timekeeper, Final crit"].where == "Room B"
    duty.delete()
    remember(cast.crit, cast.leader)
    found = _by_what(times_of_person(cast.scribe))
    assert found["Scribe: R01 Lee"].is_cancelled
    assert not found["Timekeeper, Final crit"].is_cancelled


def _left(cast):
    place = cast.student.memberships.get(studio=cast.studio)
    remove_member(place, cast.leader)
    return last_change(cast.studio, PEOPLE.slug)


def test_whoever_leaves_reads_all_that_was_told_as_cancelled_for_a_week(cast, monkeypatch):
    Duty.objects.create(crit=cast.crit, person=cast.student, kind="timekeeper", room="B")
    remember(cast.crit, cast.leader)
    before = {entry.uid: entry for entry in times_of_person(cast.student)}
    _left(cast)
    after = {entry.uid: entry for entry in times_of_person(cast.student)}
    assert len(after) == 4
    assert after.keys() == before.keys()
    for uid, entry in after.items():
        assert entry.is_cancelled, entry.what
        assert entry.sequence > before[uid].sequence
    # of what is moved later nothing is heard
    lines = lines_of(cast.crit)
    lines[0] |= {"starts_at": time(17)}
    Duty.objects.create(crit=cast.crit, person=cast.student, kind="scribe", room="A")
    _keep(cast, lines)
    heard = _by_what(times_of_person(cast.student))
    assert not any("Scribe" in what for what in heard)
    slot = heard["R01 Lee"]
    assert timezone.localtime(slot.starts).time() == time(9, 15)
    later = clock.now() + timedelta(days=8)
    monkeypatch.setattr(clock, "now", lambda: later)
    assert times_of_person(cast.student) == []


def test_whoever_is_put_back_reads_it_as_standing_by_a_higher_count(cast):
    remember(cast.crit, cast.leader)
    change = _left(cast)
    gone = _by_what(times_of_person(cast.student))
    undo_part(cast.studio, PEOPLE, change.pk)
    back = _by_what(times_of_person(cast.student))
    assert back.keys() == gone.keys()
    for what, entry in back.items():
        assert not entry.is_cancelled
        assert entry.sequence > gone[what].sequence


def test_a_place_that_undoing_took_away_is_cancelled_too(cast):
    newcomer = factories.PersonFactory(email="noor@example.org", last_login=timezone.now())
    bring_in(cast.studio, "name,email,role\nNoor,noor@example.org,scribe", cast.leader)
    join(newcomer.memberships.get())
    assert {e.is_cancelled for e in times_of_person(newcomer)} == {False}
    undo_part(cast.studio, PEOPLE, last_change(cast.studio, PEOPLE.slug).pk)
    assert {e.is_cancelled for e in times_of_person(newcomer)} == {True}


def test_an_invitation_that_was_taken_back_was_no_place(cast):
    newcomer = factories.PersonFactory(email="noor@example.org", last_login=timezone.now())
    bring_in(cast.studio, "name,email,role\nNoor,noor@example.org,scribe", cast.leader)
    remove_member(newcomer.memberships.get(), cast.leader)
    assert times_of_person(newcomer) == []


def test_whoever_draws_another_scheme_reads_the_slot_before_as_cancelled(cast):
    other = factories.SchemeFactory(studio=cast.studio, number="R07", name="Shed")
    factories.SlotFactory(crit=cast.crit, scheme=other, starts_at=time(14))
    line = f"{cast.student.name},{cast.student.email},R07"
    bring_in(cast.studio, f"name,email,number\n{line}", cast.leader)
    found = _by_what(times_of_person(cast.student))
    told = {what: entry.is_cancelled for what, entry in found.items() if what[0] == "R"}
    assert told == {"R01 Lee": True, "R07 Shed": False}


def test_whoever_leaves_after_a_crit_was_there(cast):
    Crit.objects.filter(pk=cast.crit.pk).update(day=clock.today() - timedelta(days=1))
    _left(cast)
    assert times_of_person(cast.student) == []


def test_a_juror_whose_seat_is_taken_out_reads_that_for_a_week(cast, monkeypatch):
    seat = factories.SeatFactory(crit=cast.crit, name="Pia Norrow", room="A")
    remember(cast.crit, cast.leader)
    code = calendar_following.make_link(seat).code
    before = _read(cast, code)
    lines = seats_of(cast.crit)
    version = version_of(lines)
    keep_seats(cast.crit, [each for each in lines if each["pk"] != seat.pk], version, cast.leader)
    gone = _read(cast, code)
    assert gone.keys() == before.keys()
    assert {str(event["status"]) for event in gone.values()} == {"CANCELLED"}
    assert "Final crit, Ridge" in before
    assert not any("R02" in what for what in before)
    assert all(gone[what]["sequence"] > before[what]["sequence"] for what in gone)
    undo_part(cast.crit, SEATS, last_change(cast.crit, SEATS.slug).pk)
    back = _read(cast, code)
    assert {str(event["status"]) for event in back.values()} == {"CONFIRMED"}
    assert all(back[what]["sequence"] > gone[what]["sequence"] for what in back)
    calendar_following.end_link(seat)  # of a seat that stands the address ends at once
    assert cast.client().get(f"/calendars/{code}.ics").status_code == 404
    code = calendar_following.make_link(seat).code
    keep_seats(cast.crit, [each for each in lines if each["pk"] != seat.pk], version, cast.leader)
    assert _read(cast, code).keys() == gone.keys()
    today = clock.today()
    Crit.objects.filter(pk=cast.crit.pk).update(day=today - timedelta(days=1))
    assert _read(cast, code) == {}  # the crit was before
    Crit.objects.filter(pk=cast.crit.pk).update(day=today + timedelta(days=9))
    later = clock.now() + timedelta(days=8)
    monkeypatch.setattr(clock, "now", lambda: later)
    assert cast.client().get(f"/calendars/{code}.ics").status_code == 404


def test_what_is_kept_of_a_jurors_calendar_goes_with_the_juror(cast):
    seat = factories.SeatFactory(crit=cast.crit, name="Pia Norrow", email="pia@example.org")
    code = calendar_following.make_link(seat).code
    lines = [each | {"room": "B"} for each in seats_of(cast.crit)]
    keep_seats(cast.crit, lines, version_of(seats_of(cast.crit)), cast.leader)
    assert code in str(last_change(cast.crit, SEATS.slug).before)
    CalendarLink.objects.filter(seat=seat).update(code="another")
    assert cast.client().get(f"/calendars/{code}.ics").status_code == 404  # though a change has it
    CalendarLink.objects.filter(seat=seat).update(code=code)
    erase(find("pia@example.org"), although_a_crit_is_open=True)
    assert code not in str(last_change(cast.crit, SEATS.slug).before)
    assert cast.client().get(f"/calendars/{code}.ics").status_code == 404


def _read(cast, code):
    answer = cast.client().get(f"/calendars/{code}.ics")
    events = Calendar.from_ical(answer.content).walk("VEVENT")
    return {str(event["summary"]): event for event in events}


def test_a_crit_of_long_ago_and_another_studios_stand_in_no_calendar(cast):
    Crit.objects.filter(pk=cast.crit.pk).update(day=clock.today() - timedelta(days=90))
    assert times_of_person(cast.student) == []
    assert all("Ridge" not in entry.what for entry in times_of_person(cast.other_student))


def test_the_address_is_made_renewed_and_ended(cast):
    client, page = cast.client(cast.student), reverse("own-calendar")
    client.post(page, {"deed": "make"})
    first = CalendarLink.objects.get().code
    assert first in client.get(page).content.decode()
    answer = cast.client().get(f"/calendars/{first}.ics")
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    names = [str(event["summary"]) for event in Calendar.from_ical(answer.content).walk("VEVENT")]
    assert "R01 Lee" in names
    client.post(page, {"deed": "make"})
    assert cast.client().get(f"/calendars/{first}.ics").status_code == 404
    second = CalendarLink.objects.get().code
    client.post(page, {"deed": "end"})
    assert cast.client().get(f"/calendars/{second}.ics").status_code == 404


def test_a_jurors_address_ends_with_the_link_and_says_no_level_and_no_comment(cast):
    client = cast.client(cast.seat)
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, impression=5)
    factories.CommentFactory(jury_sheet=sheet, words="Too heavy a roof")
    client.post(reverse("jury-calendar"), {"deed": "make"})
    code = CalendarLink.objects.get(seat=cast.seat).code
    answer = cast.client().get(f"/calendars/{code}.ics")
    assert answer.content.count(b"BEGIN:VEVENT") == 3
    assert b"heavy" not in answer.content
    assert client.get(reverse("take-jury-calendar")).content.count(b"BEGIN:VEVENT") == 3
    renew_code(cast.seat)
    assert cast.client().get(f"/calendars/{code}.ics").status_code == 404


def test_nobody_reads_the_times_of_an_account_that_is_closed(cast):
    code = calendar_following.make_link(cast.student).code
    Person.objects.filter(pk=cast.student.pk).update(is_active=False)
    assert cast.client().get(f"/calendars/{code}.ics").status_code == 404


def test_an_order_remembered_names_nobody(cast):
    Duty.objects.create(crit=cast.crit, person=cast.scribe, kind="scribe")
    remember(cast.crit, cast.leader)
    kept = KeptOrder.objects.get()
    assert cast.scribe.name not in str([kept.lines, kept.plan])

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
from reviews.deeds.crit_seating import renew_code
from reviews.deeds.record_versions import version_of
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

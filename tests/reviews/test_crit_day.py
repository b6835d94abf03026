"""A crit's day: turns by the clock alone, rooms behind their plan, hours that are free."""

from datetime import datetime, time, timedelta

import pytest
from django.utils import timezone

from criteria.drawing.running_order import Turn
from reviews.models import ClockEntry, Crit, OrderBreak, Slot
from reviews.reading import crit_day
from reviews.reading.crit_clock import Part
from tests import factories

pytestmark = pytest.mark.django_db

Deed = ClockEntry.Deed


def clock_at(crit, hour: str) -> datetime:
    return timezone.make_aware(datetime.combine(crit.day, time.fromisoformat(hour)))


@pytest.fixture
def room_b(cast):
    """Room B as it stands at 11:05: one stood down, one moved up, three to come, two breaks."""
    Slot.objects.all().delete()
    hours = ["10:20", "10:47", "10:51", "11:56", "12:23", "12:50"]
    slots = [
        factories.SlotFactory(
            crit=cast.crit,
            scheme=factories.SchemeFactory(studio=cast.studio),
            room="B",
            starts_at=time.fromisoformat(hour),
        )
        for hour in hours
    ]
    OrderBreak.objects.create(crit=cast.crit, starts_at=time(11, 41), minutes=15)
    return slots


def press(cast, slot, deed, hour, **more):
    at = clock_at(cast.crit, hour)
    return ClockEntry.objects.create(slot=slot, deed=deed, at=at, by=cast.leader, **more)


def timed(cast, hour):
    now = clock_at(cast.crit, hour)
    return crit_day.timed(cast.crit, cast.crit.slots.select_related("scheme", "crit"), now), now


def test_minutes_are_the_crits_own_or_those_of_its_kind(cast):
    assert crit_day.slot_min(cast.crit) == 27
    cast.crit.discuss_min, cast.crit.change_min = 0, 5
    assert crit_day.minutes_of(cast.crit) == {Part.PRESENT: 8, Part.DISCUSS: 0, Part.WRITING: 3}
    assert crit_day.slot_min(cast.crit) == 16
    interim = Crit(kind=Crit.Kind.INTERIM)
    assert [crit_day.slot_min(Crit(kind=kind)) for kind in Crit.Kind] == [22, 27, 15, 10]
    assert crit_day.minutes_of(interim)[Part.DISCUSS] == 12


def test_nobody_is_on_before_somebody_starts_them(cast, room_b):
    now = clock_at(cast.crit, "10:50")
    assert set(crit_day.turns_of(cast.crit, room_b, now).values()) == {Turn.WAITING}
    assert crit_day.planned_now(cast.crit, room_b, now) == room_b[1]
    assert crit_day.planned_now(cast.crit, room_b, clock_at(cast.crit, "09:00")) is None
    assert crit_day.planned_now(cast.crit, room_b, clock_at(cast.crit, "14:00")) is None
    assert crit_day.planned_now(cast.crit, room_b, now + timedelta(days=1)) is None


def test_an_earlier_day_without_a_clock_is_over(cast, room_b):
    later = clock_at(cast.crit, "10:50") + timedelta(days=1)
    assert set(crit_day.turns_of(cast.crit, room_b, later).values()) == {Turn.DONE}
    press(cast, room_b[0], Deed.STARTED, "10:20")
    turns = crit_day.turns_of(cast.crit, room_b, later)
    assert turns[room_b[0].pk] is Turn.ON
    assert turns[room_b[1].pk] is Turn.WAITING


def test_a_typed_word_decides_nothing(cast, room_b):
    Slot.objects.update(state="on, minute 3")
    turns = crit_day.turns_of(cast.crit, cast.crit.slots.all(), clock_at(cast.crit, "10:50"))
    assert set(turns.values()) == {Turn.WAITING}


def test_what_is_taken_back_counts_for_nothing(cast, room_b):
    entry = press(cast, room_b[0], Deed.STARTED, "10:20")
    entry.taken_back_at = timezone.now()
    entry.save()
    now = clock_at(cast.crit, "10:30")
    assert crit_day.turns_of(cast.crit, room_b, now)[room_b[0].pk] is Turn.WAITING


def test_a_room_is_behind_by_what_is_on(cast, room_b):
    press(cast, room_b[0], Deed.STARTED, "10:23")
    assert crit_day.minutes_late(*timed(cast, "10:40")) == 3


def test_who_moved_into_the_place_of_another_is_held_to_its_hour(cast, room_b):
    press(cast, room_b[1], Deed.STOOD_DOWN_AGREED, "10:35")
    press(cast, room_b[2], Deed.MOVED, "10:49", starts_at=time(10, 51), room="B")
    press(cast, room_b[2], Deed.STARTED, "10:51")
    assert crit_day.minutes_late(*timed(cast, "11:05")) == 4


def test_a_room_where_nothing_is_on_is_late_once_its_next_is_due(cast, room_b):
    assert crit_day.minutes_late(*timed(cast, "10:10")) is None
    assert crit_day.minutes_late(*timed(cast, "10:26")) == 6
    press(cast, room_b[0], Deed.STARTED, "10:20")
    press(cast, room_b[0], Deed.ENDED, "10:45")
    assert crit_day.minutes_late(*timed(cast, "10:46")) == 0
    assert crit_day.minutes_late([], clock_at(cast.crit, "10:46")) is None


def test_the_first_free_slot_is_a_whole_one(cast, room_b):
    """The gap from 11:18 to the break at 11:41 is four minutes short of a slot of 27."""
    keeps = [room_b[0], *room_b[2:]]
    assert crit_day.first_free(cast.crit, keeps, "B", time(11, 5)) == time(13, 17)
    taken = [time(13, 17)]
    assert crit_day.first_free(cast.crit, keeps, "B", time(11, 5), taken) == time(13, 44)
    assert crit_day.first_free(cast.crit, keeps[:1], "B", time(11, 5)) == time(11, 5)
    assert crit_day.first_free(cast.crit, keeps[:1], "B", time(11, 20)) == time(11, 56)
    assert crit_day.first_free(cast.crit, keeps, "B", time(23, 50)) is None


def test_the_rest_moves_up_until_the_next_break(cast, room_b):
    Slot.objects.filter(pk=room_b[2].pk).update(starts_at=time(11, 14))
    press(cast, room_b[1], Deed.STOOD_DOWN_AGREED, "10:35")
    day, now = timed(cast, "10:40")
    freed = next(each for each in day if each.slot == room_b[1])
    assert crit_day.places_up(day, freed, now) == [(room_b[2], time(10, 47))]
    late = clock_at(cast.crit, "10:50") + timedelta(seconds=20)
    assert crit_day.places_up(day, freed, late) == [(room_b[2], time(10, 51))]
    assert crit_day.places_up(day, freed, clock_at(cast.crit, "11:15")) == []
    freed.slot.starts_at = None
    assert crit_day.places_up(day, freed, now) == []


def test_each_takes_the_hour_of_the_one_before(cast, room_b):
    press(cast, room_b[3], Deed.STOOD_DOWN_SILENT, "11:50")
    day, now = timed(cast, "11:55")
    freed = next(each for each in day if each.slot == room_b[3])
    assert crit_day.places_up(day, freed, now) == [
        (room_b[4], time(11, 56)),
        (room_b[5], time(12, 23)),
    ]
    press(cast, room_b[4], Deed.STARTED, "11:56")
    day, now = timed(cast, "11:57")
    assert crit_day.places_up(day, freed, now) == []

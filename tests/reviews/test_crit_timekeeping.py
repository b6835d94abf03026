"""What a timekeeper presses: kept once, at its moment, or refused in words."""

from datetime import time, timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from reviews.deeds import crit_timekeeping
from reviews.deeds.crit_attending import keep_attendance
from reviews.deeds.crit_timekeeping import Deed, Press, move_up, offer_free, press, take_back
from reviews.models import ClockEntry
from reviews.models.briefs import Frozen
from reviews.reading.crit_clock import State
from reviews.reading.crit_day import timed
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def slots(cast):
    """Two slots of room A, and one of room B."""
    first, second = cast.crit.slots.all()
    for slot, room, hour in ((first, "A", 10), (second, "A", 11)):
        slot.room, slot.starts_at = room, time(hour)
        slot.save()
    scheme = factories.SchemeFactory(studio=cast.studio)
    third = factories.SlotFactory(
        crit=cast.crit, scheme=scheme, room="B", starts_at=time(10), position=3
    )
    return first, second, third


def clock_of(cast, slot):
    (each,) = timed(cast.crit, [slot], timezone.now())
    return each.clock


def test_the_same_press_sent_twice_is_one(cast, slots):
    sent = Press(Deed.STARTED)
    assert press(slots[0], sent, cast.leader) == press(slots[0], sent, cast.leader)
    assert ClockEntry.objects.count() == 1
    assert clock_of(cast, slots[0]).state is State.ON


def test_two_timekeepers_at_once_press_once(cast, slots):
    press(slots[0], Press(Deed.STARTED), cast.leader)
    assert press(slots[0], Press(Deed.STARTED), cast.scribe).by == cast.leader
    assert ClockEntry.objects.count() == 1


def test_who_presses_what_was_done_is_told_since_when_and_by_whom(cast, slots):
    at = timezone.now() - timedelta(minutes=9)
    press(slots[0], Press(Deed.STARTED, at=at), cast.leader)
    discuss = {"deed": Deed.NEXT_PART, "words": "discuss"}
    press(slots[0], Press(at=at + timedelta(minutes=8), **discuss), cast.leader)
    with pytest.raises(Frozen, match=r"“Next part” doesn't fit R01 Lee: on, since .* by Lena Lead"):
        press(slots[0], Press(**discuss), cast.scribe)
    assert ClockEntry.objects.count() == 2


def test_a_moment_ahead_of_the_sites_is_bounded(cast, slots):
    ahead = timezone.now() + timedelta(hours=1)
    entry = press(slots[0], Press(Deed.STARTED, at=ahead), cast.leader)
    assert entry.at < timezone.now() + timedelta(seconds=3)


def test_a_moment_before_what_was_seen_is_that_ones(cast, slots):
    first = press(slots[0], Press(Deed.STARTED), cast.leader)
    early = first.at - timedelta(hours=1)
    entry = press(slots[0], Press(Deed.NEXT_PART, at=early, seen=first.key), cast.leader)
    assert entry.at == first.at


def test_what_comes_late_keeps_its_moment(cast, slots):
    began = timezone.now() - timedelta(minutes=20)
    press(slots[0], Press(Deed.STARTED, at=began), cast.leader)
    press(slots[0], Press(Deed.ENDED, at=began + timedelta(minutes=19)), cast.leader)
    late = Press(Deed.NEXT_PART, at=began + timedelta(minutes=8), words="discuss")
    assert press(slots[0], late, cast.scribe).at == began + timedelta(minutes=8)
    assert clock_of(cast, slots[0]).given_s == {"present": 480, "discuss": 660}


def test_one_scheme_a_room_is_on(cast, slots):
    press(slots[0], Press(Deed.STARTED), cast.leader)
    with pytest.raises(Frozen, match=r"R01 Lee is still on \(Room A\). End it before"):
        press(slots[1], Press(Deed.STARTED), cast.leader)
    press(slots[2], Press(Deed.STARTED), cast.leader)
    slots[1].room = ""
    slots[1].save()
    with pytest.raises(Frozen, match="still on"):
        press(slots[1], Press(Deed.STARTED), cast.leader)


def test_the_last_press_is_taken_back_and_stays_in_the_record(cast, slots):
    started = press(slots[0], Press(Deed.STARTED), cast.leader)
    soon = started.at + timedelta(seconds=3)
    paused = press(slots[0], Press(Deed.PAUSED, at=soon), cast.leader)
    with pytest.raises(Frozen, match=r"paused at .* came after it"):
        take_back(cast.crit, started.key, cast.leader)
    assert take_back(cast.crit, paused.key, cast.leader) == [paused]
    assert take_back(cast.crit, paused.key, cast.leader) == []
    assert not clock_of(cast, slots[0]).is_paused
    assert ClockEntry.objects.count() == 2
    with pytest.raises(Frozen, match="not known"):
        take_back(cast.crit, uuid4(), cast.leader)


def test_a_move_changes_hour_and_room_and_taking_it_back_brings_them_again(cast, slots):
    sent = Press(Deed.MOVED, starts_at=time(11), room="B")
    entry = press(slots[0], sent, cast.leader)
    slots[0].refresh_from_db()
    assert (slots[0].starts_at, slots[0].room) == (time(11), "B")
    take_back(cast.crit, entry.key, cast.leader)
    slots[0].refresh_from_db()
    assert (slots[0].starts_at, slots[0].room) == (time(10), "A")


def test_nobody_is_moved_onto_another_or_to_no_hour(cast, slots):
    with pytest.raises(Frozen, match=r"R02 Keel is at 11:00 \(Room A\) already"):
        press(slots[0], Press(Deed.MOVED, starts_at=time(11), room="A"), cast.leader)
    with pytest.raises(Frozen, match="Read no hour"):
        press(slots[0], Press(Deed.MOVED), cast.leader)


def test_the_first_free_time_is_offered_once_and_taken(cast, slots):
    cast.crit.day += timedelta(days=1)
    cast.crit.save()
    press(slots[0], Press(Deed.STOOD_DOWN_AGREED), cast.leader)
    offered = offer_free(slots[0], Press(Deed.OFFERED), cast.leader)
    assert (offered.starts_at, offered.room) == (time(0, 0), "A")
    again = offered.at + timedelta(seconds=2.5)
    ClockEntry.objects.update(at=offered.at - timedelta(seconds=3))
    with pytest.raises(Frozen, match="doesn't fit"):
        offer_free(slots[0], Press(Deed.OFFERED, at=again), cast.leader)
    press(slots[0], Press(Deed.TAKEN), cast.leader)
    slots[0].refresh_from_db()
    assert slots[0].starts_at == time(0, 0)
    assert clock_of(cast, slots[0]).state is State.MOVED


def test_an_hour_that_was_given_away_since_can_not_be_taken(cast, slots):
    press(slots[0], Press(Deed.STOOD_DOWN_AGREED), cast.leader)
    press(slots[0], Press(Deed.OFFERED, starts_at=time(12), room="A"), cast.leader)
    press(slots[1], Press(Deed.MOVED, starts_at=time(12), room="A"), cast.leader)
    with pytest.raises(Frozen, match="R02 Keel is at 12:00"):
        press(slots[0], Press(Deed.TAKEN), cast.leader)


def test_a_room_without_a_whole_slot_left_says_so(cast, slots):
    cast.crit.present_min = 24 * 60
    cast.crit.save()
    press(slots[0], Press(Deed.STOOD_DOWN_SILENT), cast.leader)
    with pytest.raises(Frozen, match="no whole slot free"):
        offer_free(slots[0], Press(Deed.OFFERED), cast.leader)


def test_the_room_moves_up_by_one_press_and_back_by_one(cast, slots, monkeypatch):
    now = timezone.make_aware(timezone.datetime.combine(cast.crit.day, time(9, 55)))
    monkeypatch.setattr(crit_timekeeping.clock, "now", lambda: now)
    slots[1].starts_at = time(10, 27)
    slots[1].save()
    with pytest.raises(Frozen, match="did not stand down"):
        move_up(slots[0], Press(Deed.MOVED), cast.leader)
    press(slots[0], Press(Deed.STOOD_DOWN_AGREED), cast.leader)
    sent = Press(Deed.MOVED)
    (moved,) = move_up(slots[0], sent, cast.leader)
    assert move_up(slots[0], sent, cast.leader) == [moved]
    slots[1].refresh_from_db()
    assert slots[1].starts_at == time(10)
    with pytest.raises(Frozen, match="Nobody comes after it"):
        move_up(slots[0], Press(Deed.MOVED), cast.leader)
    take_back(cast.crit, moved.key, cast.leader)
    slots[1].refresh_from_db()
    assert slots[1].starts_at == time(10, 27)


def test_a_released_crit_keeps_its_clock(cast, slots):
    entry = press(slots[0], Press(Deed.STARTED), cast.leader)
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    for deed in (
        lambda: press(slots[0], Press(Deed.ENDED), cast.leader),
        lambda: take_back(cast.crit, entry.key, cast.leader),
        lambda: keep_attendance(cast.seat, "late", cast.leader),
    ):
        with pytest.raises(Frozen, match="The crit is released"):
            deed()


def test_a_slot_that_left_the_order_is_not_timed(cast, slots):
    slot = slots[0]
    pk = slot.pk
    slot.delete()
    slot.pk = pk
    with pytest.raises(Frozen, match="no longer in the running order"):
        press(slot, Press(Deed.STARTED), cast.leader)


def test_who_is_there_is_kept_as_it_changes(cast):
    here = keep_attendance(cast.seat, "here", cast.leader)
    assert keep_attendance(cast.seat, "here", cast.leader) == here
    keep_attendance(cast.seat, "gone", cast.leader, words="train")
    assert [each.state for each in cast.seat.attendance.all()] == ["here", "gone"]


def test_a_projectors_link_is_made_once_a_room(cast):
    link = crit_timekeeping.link_room(cast.crit, "A")
    assert crit_timekeeping.link_room(cast.crit, "A") == link
    assert crit_timekeeping.link_room(cast.crit, "").code != link.code

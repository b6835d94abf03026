"""A juror crosses rooms for one slot: who sees what follows, and what is begun stays theirs."""

from datetime import datetime, time

import pytest
from django.utils import timezone

from reviews import access
from reviews.deeds.crit_crossing import Move, keep_crossings, replace_crossings, take_back
from reviews.models import Crit, Crossing, JurySheet, Seat, Slot
from reviews.models.briefs import Frozen
from tests import factories


@pytest.fixture
def rooms(cast):
    """The juror sits in room A; one scheme is in each room."""
    Seat.objects.filter(pk=cast.seat.pk).update(room="A")
    here, there = cast.crit.slots.all()
    Slot.objects.filter(pk=here.pk).update(room="A", starts_at=time(9, 15))
    Slot.objects.filter(pk=there.pk).update(room="B", starts_at=time(9, 15))
    cast.seat.refresh_from_db()
    return Slot.objects.get(pk=here.pk), Slot.objects.get(pk=there.pk)


def _sees(cast):
    return {slot.scheme.number for slot in access.seen_slots(Seat.objects.get(pk=cast.seat.pk))}


def _asked(cast):
    seat = Seat.objects.get(pk=cast.seat.pk)
    slots = Slot.objects.filter(crit=cast.crit).select_related("scheme", "crit")
    return {slot.scheme.number for slot in slots if slot.is_asked_of(seat)}


def test_who_crosses_sees_the_other_room_for_that_slot_alone(cast, rooms):
    here, there = rooms
    assert (_sees(cast), _asked(cast)) == ({"R01"}, {"R01"})
    moves = [Move(cast.seat, here, False), Move(cast.seat, there, True)]
    keep_crossings(cast.crit, moves, cast.leader, "Swap for one slot.")
    assert (_sees(cast), _asked(cast)) == ({"R02"}, {"R02"})
    again = keep_crossings(cast.crit, moves, cast.leader)
    assert [(one.by, one.reason) for one in again] == [(cast.leader, "Swap for one slot.")] * 2
    for crossing in again:
        take_back(crossing, cast.leader)
    assert (_sees(cast), _asked(cast)) == ({"R01"}, {"R01"})
    assert {one.taken_back_by for one in Crossing.objects.all()} == {cast.leader}


def test_a_juror_without_a_room_can_be_away_too(cast, rooms):
    Seat.objects.filter(pk=cast.seat.pk).update(room="")
    assert _sees(cast) == {"R01", "R02"}
    keep_crossings(cast.crit, [Move(cast.seat, rooms[1], False)], cast.leader)
    assert _sees(cast) == {"R01"}


def test_the_contrary_takes_the_first_back(cast, rooms):
    keep_crossings(cast.crit, [Move(cast.seat, rooms[1], True)], cast.leader)
    keep_crossings(cast.crit, [Move(cast.seat, rooms[1], False)], cast.leader)
    assert Crossing.objects.count() == 2
    assert not Crossing.objects.standing().get().comes


def test_a_sheet_begun_stays_seen_and_nobody_is_sent_away_from_it(cast, rooms):
    here, there = rooms
    keep_crossings(cast.crit, [Move(cast.seat, there, True)], cast.leader)
    for scheme in (cast.scheme, cast.other_scheme):
        factories.JurySheetFactory(seat=cast.seat, scheme=scheme)
    with pytest.raises(Frozen, match="begun the sheet of R01"):
        keep_crossings(cast.crit, [Move(cast.seat, here, False)], cast.leader)
    with pytest.raises(Frozen, match="begun the sheet of R02"):
        take_back(Crossing.objects.get(), cast.leader)
    Crossing.objects.create(
        seat=cast.seat, slot=here, comes=False, at=timezone.now(), by=cast.leader
    )
    assert _sees(cast) == {"R01", "R02"}


def test_one_that_cannot_be_kept_lets_none_be_kept(cast, rooms):
    here, there = rooms
    factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    moves = [Move(cast.seat, there, True), Move(cast.seat, here, False)]
    with pytest.raises(Frozen):
        keep_crossings(cast.crit, moves, cast.leader)
    assert not Crossing.objects.exists()


def test_whoever_steps_aside_doesnt_see_what_they_cross_for(cast, rooms):
    keep_crossings(cast.crit, [Move(cast.seat, rooms[1], True)], cast.leader)
    cast.seat.interests.create(scheme=cast.other_scheme)
    assert _sees(cast) == {"R01"}


def test_a_slot_crossed_for_is_asked_though_the_juror_came_to_the_room_later(cast, rooms):
    moment = timezone.make_aware(datetime.combine(cast.crit.day, time(12)))
    Seat.objects.filter(pk=cast.seat.pk).update(room_since=moment)
    assert _asked(cast) == set()
    keep_crossings(cast.crit, [Move(cast.seat, rooms[1], True)], cast.leader)
    assert _asked(cast) == {"R02"}


def test_a_released_crit_keeps_and_takes_back_nothing(cast, rooms):
    [crossing] = keep_crossings(cast.crit, [Move(cast.seat, rooms[1], True)], cast.leader)
    Crit.objects.update(released_at=timezone.now())
    with pytest.raises(Frozen, match="released"):
        take_back(crossing, cast.leader)
    with pytest.raises(Frozen, match="released"):
        keep_crossings(cast.crit, [], cast.leader)


def test_a_plan_replaces_the_crossings_before_it_but_of_sheets_begun(cast, rooms):
    here, there = rooms
    keep_crossings(cast.crit, [Move(cast.seat, there, True)], cast.leader)
    other = factories.SeatFactory(crit=cast.crit, name="Ann", room="B")
    keep_crossings(cast.crit, [Move(other, here, True)], cast.leader)
    factories.JurySheetFactory(seat=other, scheme=cast.scheme)
    replace_crossings(cast.crit, [Move(cast.seat, here, False)], cast.leader, "Drawn anew.")
    stand = {(one.seat_id, one.slot_id, one.comes) for one in Crossing.objects.standing()}
    assert stand == {(other.pk, here.pk, True), (cast.seat.pk, here.pk, False)}
    assert JurySheet.objects.count() == 1

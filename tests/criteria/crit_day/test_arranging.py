"""Which juror sits in which room."""

from dataclasses import replace

import pytest

from criteria.crit_day import arranging
from criteria.crit_day.arranging import arrange
from criteria.crit_day.panels import Interest, Juror, short_panels
from criteria.crit_day.timetable import lay_out
from criteria.crit_day.warnings import KINDS, warnings_of
from tests.criteria.crit_day.cases import FINAL, ORDER


def jurors(count: int) -> list[Juror]:
    return [Juror(f"J{n:02d}", kind=KINDS[n % 3]) for n in range(count)]


def rooms_of(found) -> dict[str, list[Juror]]:
    return {
        room: [juror for juror in found.sees.jurors if juror.room == room]
        for room in sorted({juror.room for juror in found.sees.jurors})
    }


HALF_TIME = replace(FINAL, opening=0, half_time_swap=True)


@pytest.mark.parametrize("plan", [FINAL, HALF_TIME], ids=["opening pair", "half-time"])
def test_rooms_are_mixed_even_and_connected(plan):
    day = lay_out(ORDER, plan)
    found = arrange(jurors(6), day, plan, lot=7)
    for here in rooms_of(found).values():
        assert {juror.kind for juror in here} == set(KINDS)
    assert found.design.is_firm
    assert found.is_whole
    assert warnings_of(found.sees, change_min=plan.parts.change_min) == ()
    assert bool(found.changes) == plan.half_time_swap


def test_rooms_apart_come_out_unconnected_and_say_so():
    plan = replace(FINAL, opening=0)
    found = arrange(jurors(6), lay_out(ORDER, plan), plan, lot=7)
    assert len(found.design.parts) == 2
    assert "without a juror in common" in found.design.sentence


def test_whoever_changes_sees_the_other_room_after_half_time_alone():
    day = lay_out(ORDER, HALF_TIME)
    found = arrange(jurors(6), day, HALF_TIME, lot=7)
    (name, to), _ = found.changes
    juror = found.sees.juror(name)
    for turn in day.placed:
        here = to if turn.starts >= day.half_time else juror.room
        assert found.sees.is_present(juror, turn) == (turn.room == here)


def test_an_interest_sends_a_juror_to_the_other_room():
    day = lay_out(ORDER, FINAL)
    in_a = [turn.number for turn in day.placed if turn.room == "A"]
    interests = [Interest("J00", in_a[0]), Interest("J03", in_a[1], may_comment=True)]
    # both of one kind, so one of them has to sit in A for its mix: one crosses for one slot
    found = arrange(jurors(6), day, FINAL, interests, lot=7)
    assert len(found.filled) == 1
    assert short_panels(found.sees) == ()
    alone = arrange(jurors(6), day, FINAL, interests[:1], lot=7)
    assert alone.sees.juror("J00").room == "B"
    assert (alone.filled, alone.crossings) == ((), ())


def test_an_interest_that_nobody_can_fill_is_left_to_be_warned_of():
    day = lay_out(ORDER, FINAL)
    everywhere = [Interest(f"J{n:02d}", "H04") for n in range(6)]
    found = arrange(jurors(6), day, FINAL, everywhere, lot=7)
    assert found.filled == ()
    assert [panel.number for panel in short_panels(found.sees)] == ["H04"]


def test_crossings_to_keep_stand_once_a_juror_and_scheme():
    plan = replace(HALF_TIME, rooms=("A", "B", "C"))
    day = lay_out([f"S{n:02d}" for n in range(30)], plan)
    interests = [Interest(f"J{n:02d}", f"S{n + 12:02d}") for n in range(9)]
    found = arrange(jurors(9), day, plan, interests, lot=3)
    keys = [(each.juror, each.number) for each in found.crossings]
    assert len(keys) == len(set(keys))
    again = replace(found.sees, crossings=found.crossings)
    assert again.panels() == found.sees.panels()


def test_the_same_lot_gives_the_same_rooms_and_another_may_not():
    day = lay_out(ORDER, FINAL)
    found = [arrange(jurors(6), day, FINAL, lot=lot).sees.jurors for lot in (7, 7, 8, 9, 10)]
    assert found[0] == found[1]
    assert arrange(reversed(jurors(6)), day, FINAL, lot=7).sees.jurors == found[0]
    assert len(set(found)) > 1


def test_seven_jurors_sit_four_and_three():
    found = arrange(jurors(7), lay_out(ORDER, FINAL), FINAL, lot=1)
    assert sorted(len(here) for here in rooms_of(found).values()) == [3, 4]


def test_of_too_many_ways_some_are_drawn(monkeypatch):
    monkeypatch.setattr(arranging, "MOST_WAYS", 50)
    found = arrange(jurors(8), lay_out(ORDER, FINAL), FINAL, lot=1)
    assert not found.is_whole
    assert found.design.is_connected
    assert sorted(len(here) for here in rooms_of(found).values()) == [4, 4]


def test_one_room_takes_all():
    for rooms, room in ((("A",), "A"), ((), "")):
        plan = replace(FINAL, rooms=rooms)
        found = arrange(jurors(3), lay_out(ORDER, plan), plan, lot=1)
        assert set(rooms_of(found)) == {room}
        assert found.design.is_the_same_panel


def test_without_jurors_nothing_is_arranged():
    found = arrange([], lay_out(ORDER, FINAL), FINAL, lot=1)
    assert (found.sees.jurors, found.design.is_connected) == ((), False)


def test_fewer_jurors_than_rooms_change_nothing_at_half_time():
    found = arrange(jurors(1), lay_out(ORDER, HALF_TIME), HALF_TIME, lot=1)
    assert found.changes == ()
    assert len(found.design.unseen) == 7

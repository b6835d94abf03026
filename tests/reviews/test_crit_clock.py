"""The clock of a slot, by timelines worked out by hand."""

from datetime import UTC, datetime, time, timedelta

from hypothesis import given
from hypothesis import strategies as st

from reviews.models import ClockEntry
from reviews.reading.crit_clock import Entry, Offer, Part, Reading, State, part_after, read

Deed = ClockEntry.Deed
FINAL = {Part.PRESENT: 8, Part.DISCUSS: 14, Part.WRITING: 3}
TEN = datetime(2026, 12, 4, 10, 0, tzinfo=UTC)


def at(minute: float) -> datetime:
    return TEN + timedelta(minutes=minute)


def pressed(*presses: tuple[Deed, float], **more: object) -> list[Entry]:
    return [Entry(deed, at(minute)) for deed, minute in presses]


def read_at(minute: float, *presses: tuple[Deed, float]) -> Reading:
    return read(pressed(*presses), FINAL, at(minute))


WHOLE = ((Deed.STARTED, 0), (Deed.NEXT_PART, 8), (Deed.NEXT_PART, 22), (Deed.ENDED, 25))


def test_without_an_entry_it_is_to_come_whatever_the_hour():
    clock = read([], FINAL, at(600))
    assert clock.state is State.TO_COME
    assert (clock.part, clock.left_s, clock.ends_at, clock.given_in_all_s) == (None, None, None, 0)


def test_a_slot_goes_through_its_parts():
    states = [
        (read_at(minute, *WHOLE[:n]).state, read_at(minute, *WHOLE[:n]).part)
        for minute, n in ((3, 1), (10, 2), (23, 3), (30, 4))
    ]
    assert states == [
        (State.ON, Part.PRESENT),
        (State.ON, Part.DISCUSS),
        (State.WRITING, Part.WRITING),
        (State.DONE, None),
    ]
    done = read_at(30, *WHOLE)
    assert done.given_s == {Part.PRESENT: 480, Part.DISCUSS: 840, Part.WRITING: 180}
    assert (done.over_s, done.began_at, done.ended_at) == (0, at(0), at(25))


def test_what_is_left_counts_down_and_then_says_by_how_much_it_is_over():
    assert read_at(3, (Deed.STARTED, 0)).left_s == 300
    assert read_at(3, (Deed.STARTED, 0)).ends_at == at(8)
    late = read_at(10.5, (Deed.STARTED, 0))
    assert (late.left_s, late.over_s, late.state) == (-150, 150, State.ON)
    assert late.is_long_over
    assert not read_at(10, (Deed.STARTED, 0)).is_long_over


def test_a_pause_inside_a_part_is_not_counted():
    presses = (Deed.STARTED, 0), (Deed.PAUSED, 3)
    paused = read_at(6, *presses)
    assert (paused.left_s, paused.is_paused, paused.ends_at, paused.paused_s) == (
        300,
        True,
        None,
        180,
    )
    went_on = read_at(9, *presses, (Deed.WENT_ON, 8))
    assert (went_on.left_s, went_on.ends_at, went_on.paused_s) == (240, at(13), 300)
    assert went_on.given_s == {Part.PRESENT: 240}
    on = read_at(9, *presses, (Deed.NEXT_PART, 8))
    assert (on.part, on.left_s, on.is_paused, on.paused_s) == (Part.DISCUSS, 780, False, 300)


def test_extra_minutes_lengthen_the_part_that_is_on():
    entries = [*pressed((Deed.STARTED, 0)), Entry(Deed.EXTRA, at(7), minutes=2)]
    clock = read(entries, FINAL, at(8))
    assert (clock.left_s, clock.length_s, clock.extra_min, clock.ends_at) == (120, 600, 2, at(10))
    assert read([*pressed((Deed.STARTED, 0), (Deed.EXTRA, 7))], FINAL, at(8)).extra_min == 1


def test_a_part_can_be_skipped_and_one_of_no_minutes_is():
    to_writing = Entry(Deed.NEXT_PART, at(5), words=Part.WRITING)
    clock = read([*pressed((Deed.STARTED, 0)), to_writing], FINAL, at(6))
    assert (clock.part, clock.state, clock.left_s) == (Part.WRITING, State.WRITING, 120)
    silent = {**FINAL, Part.DISCUSS: 0}
    assert part_after(Part.PRESENT, silent) is Part.WRITING
    assert read(pressed((Deed.STARTED, 0), (Deed.NEXT_PART, 8)), silent, at(9)).part is Part.WRITING
    assert part_after(Part.WRITING, FINAL) is None


def test_entries_count_by_their_moments_in_whatever_order_they_come():
    entries = pressed(*WHOLE)
    assert read(reversed(entries), FINAL, at(30)) == read(entries, FINAL, at(30))


@given(st.permutations(WHOLE))
def test_every_order_of_arrival_reads_alike(presses):
    assert read_at(30, *presses) == read_at(30, *WHOLE)


def test_two_timekeepers_at_once_press_once():
    twice = (Deed.STARTED, 0), (Deed.NEXT_PART, 8), (Deed.NEXT_PART, 8 + 1.9 / 60)
    clock = read_at(10, *twice)
    assert (clock.part, clock.passed_over) == (Part.DISCUSS, ())
    apart = (Deed.STARTED, 0), (Deed.NEXT_PART, 8), (Deed.NEXT_PART, 8 + 2.1 / 60)
    assert read_at(10, *apart).part is Part.WRITING


def test_a_part_that_is_named_begins_once_however_far_apart_it_was_pressed():
    discuss = [Entry(Deed.NEXT_PART, at(m), words=Part.DISCUSS) for m in (8, 9)]
    clock = read([*pressed((Deed.STARTED, 0)), *discuss], FINAL, at(10))
    assert (clock.part, clock.given_s[Part.PRESENT]) == (Part.DISCUSS, 480)
    assert clock.passed_over == (discuss[1],)


def test_a_clock_set_back_takes_nothing_away():
    clock = read_at(-30, (Deed.STARTED, 0))
    assert (clock.left_s, clock.given_in_all_s) == (480, 0)


def test_what_does_not_fit_is_passed_over_and_named():
    entries = pressed((Deed.WENT_ON, 0), (Deed.NEXT_PART, 1), (Deed.ENDED, 2), (Deed.EXTRA, 3))
    clock = read(entries, FINAL, at(5))
    assert (clock.state, clock.passed_over) == (State.TO_COME, tuple(entries))
    again = read_at(30, *WHOLE, (Deed.STARTED, 26), (Deed.CALLED, 27), (Deed.STOOD_DOWN_SILENT, 28))
    assert (again.state, len(again.passed_over)) == (State.DONE, 3)
    assert read_at(5, (Deed.STARTED, 0), (Deed.PAUSED, 1), (Deed.PAUSED, 2)).paused_s == 240


def test_who_is_called_and_does_not_come_stands_down_and_can_be_called_again():
    silent = read_at(5, (Deed.CALLED, 0), (Deed.STOOD_DOWN_SILENT, 3))
    assert silent.state is State.SILENT
    came = read_at(9, (Deed.CALLED, 0), (Deed.STOOD_DOWN_SILENT, 3), (Deed.CALLED, 8))
    assert came.state is State.CALLED
    assert read_at(9, (Deed.STOOD_DOWN_AGREED, 3)).state is State.AGREED


def test_who_stands_down_while_on_keeps_the_minutes_that_were_given():
    clock = read_at(9, (Deed.STARTED, 0), (Deed.STOOD_DOWN_AGREED, 4))
    assert (clock.state, clock.given_in_all_s, clock.ended_at) == (State.AGREED, 240, at(4))


def test_another_time_is_offered_once_and_answered():
    down = pressed((Deed.STOOD_DOWN_AGREED, 0))
    offered = Entry(Deed.OFFERED, at(1), starts_at=time(13, 17), room="B")
    clock = read([*down, offered], FINAL, at(2))
    assert (clock.state, clock.offer) == (State.OFFERED, Offer(time(13, 17), "B"))
    no = read([*down, offered, *pressed((Deed.DECLINED, 3))], FINAL, at(4))
    assert (no.state, no.offer) == (State.AGREED, Offer(time(13, 17), "B", is_taken=False))
    second = Entry(Deed.OFFERED, at(5), starts_at=time(14, 0), room="B")
    twice = [*down, offered, *pressed((Deed.DECLINED, 3)), second]
    assert read(twice, FINAL, at(6)).passed_over == (second,)
    taken = [*down, offered, *pressed((Deed.TAKEN, 3))]
    assert read(taken, FINAL, at(4)).state is State.MOVED
    on = read([*taken, *pressed((Deed.STARTED, 197))], FINAL, at(200))
    assert (on.state, on.left_s) == (State.ON, 300)


def test_who_began_and_takes_another_time_is_given_its_whole():
    entries = [
        *pressed((Deed.STARTED, 0), (Deed.STOOD_DOWN_AGREED, 6)),
        Entry(Deed.OFFERED, at(7), starts_at=time(13, 17)),
        *pressed((Deed.TAKEN, 8), (Deed.STARTED, 200)),
    ]
    assert read(entries, FINAL, at(201)).left_s == 420


def test_what_waits_can_be_moved_and_what_is_on_can_not():
    moved = Entry(Deed.MOVED, at(0), starts_at=time(10, 51))
    assert read([moved], FINAL, at(1)).state is State.MOVED
    on = [*pressed((Deed.STARTED, -1)), moved]
    assert read(on, FINAL, at(1)).passed_over == (moved,)


def test_a_slot_without_any_minutes_can_not_start():
    clock = read(pressed((Deed.STARTED, 0)), dict.fromkeys(Part, 0), at(1))
    assert (clock.state, len(clock.passed_over)) == (State.TO_COME, 1)

"""The running order: the draw, the lay-out over a day, keeping it, what asks too much."""

from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviews.deeds.crit_running_order import (
    Day,
    concerns,
    draw,
    drawn_lines,
    early_at,
    keep_order,
    lay_out,
    lines_of,
)
from reviews.deeds.record_versions import version_of
from reviews.models import Slot
from reviews.versions import Newer
from tests import factories

NUMBERS = [f"H{n:02d}" for n in range(1, 15)]
FINALS = Day(("A", "B"), 2, time(9, 15), 27, 3, 15)


@given(st.sets(st.text(min_size=1, max_size=4), max_size=30), st.integers(0, 10**6))
def test_a_draw_is_an_order_of_all_and_the_lot_decides(numbers, lot):
    order = draw(numbers, lot)
    assert sorted(order) == sorted(numbers)
    assert draw(sorted(numbers, reverse=True), lot) == order


def test_every_scheme_can_come_first():
    firsts = {draw(NUMBERS, lot)[0] for lot in range(400)}
    assert firsts == set(NUMBERS)


@given(st.sets(st.sampled_from(NUMBERS), max_size=4), st.integers(0, 1000))
def test_whoever_was_early_is_spared(early, lot):
    assert not set(draw(NUMBERS, lot, early_before=early)[:4]) & early


def test_fourteen_finals_in_two_rooms_take_four_hours():
    """Two together, then six pairs at 27 min, a break of 15 min after every three slots.

    8 slots × 27 min + 2 breaks × 15 min = 246 min, by hand: 09:15 + 246 min = 13:21.
    """
    placed = lay_out(NUMBERS, FINALS)
    assert placed[:4] == [
        ("H01", "", time(9, 15)),
        ("H02", "", time(9, 42)),
        ("H03", "A", time(10, 9)),
        ("H04", "B", time(10, 9)),
    ]
    assert placed[4][2] == time(10, 51)  # 10:36 and the break
    assert placed[-1] == ("H14", "B", time(12, 54))


def test_one_room_and_no_break():
    placed = lay_out(["a", "b"], Day((), 0, time(10), 22, 0, 15))
    assert placed == [("a", "", time(10)), ("b", "", time(10, 22))]


def test_a_drawn_order_is_proposed_and_only_kept_when_kept(cast):
    lines = drawn_lines(cast.other_crit, FINALS, 7, spare_early=True)
    assert lines == []
    lines = drawn_lines(cast.crit, FINALS, 7, spare_early=False)
    assert {line["scheme"] for line in lines} == {cast.scheme.pk, cast.other_scheme.pk}
    before = lines_of(cast.crit)
    assert before != lines
    keep_order(cast.crit, lines, version_of(before), lot=7)
    cast.crit.refresh_from_db()
    assert lines_of(cast.crit) == lines
    assert cast.crit.drawn_seed == 7


def test_a_withdrawn_scheme_is_not_drawn(cast):
    cast.scheme.withdrawn_at = cast.crit.pens_down
    cast.scheme.save()
    lines = drawn_lines(cast.crit, FINALS, 7, spare_early=False)
    assert [line["scheme"] for line in lines] == [cast.other_scheme.pk]


def test_the_first_third_of_the_crit_before_is_known(db):
    studio = factories.StudioFactory()
    interim = factories.CritFactory(studio=studio, kind="interim", day="2026-10-22")
    final = factories.CritFactory(studio=studio, day="2026-12-04")
    for n in (3, 1, 2):
        scheme = factories.SchemeFactory(studio=studio, number=f"H0{n}")
        factories.SlotFactory(crit=interim, scheme=scheme, position=n)
    final.refresh_from_db()
    assert early_at(final) == ["H01"]


def test_a_late_keep_is_refused_and_a_resend_is_not(cast):
    seen = version_of(lines_of(cast.crit))
    lines = [{"scheme": cast.scheme.pk, "position": 5, "room": "A", "starts_at": time(9)}]
    keep_order(cast.crit, lines, seen)
    keep_order(cast.crit, lines, seen)
    assert Slot.objects.filter(crit=cast.crit).count() == 1
    with pytest.raises(Newer, match="kept"):
        keep_order(cast.crit, [], seen)


def test_what_asks_too_much_is_said(cast):
    for n in range(9):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"Q{n}")
        factories.SlotFactory(crit=cast.crit, scheme=scheme, starts_at=time(9))
    factories.SchemeFactory(studio=cast.studio, number="Z9", name="Late")
    said = concerns(cast.crit)
    assert "9 schemes are on at 09:00 for all jurors." in said
    assert "Jo Juror sees 11 schemes; more than 9 tire a juror." in said
    assert "R01 Lee is seen by 1 juror; 3 or more are usual." in said
    assert "Z9 Late is not in the order." in said


def test_a_juror_who_steps_aside_leaves_a_smaller_panel(cast):
    for name in ("Ann", "Bo"):
        factories.SeatFactory(crit=cast.crit, name=name)
    assert concerns(cast.crit) == []
    cast.seat.interests.create(scheme=cast.scheme)
    assert concerns(cast.crit) == ["R01 Lee is seen by 2 jurors; 3 or more are usual."]

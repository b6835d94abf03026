"""The running order: keeping it with its breaks, what is remembered of it, what asks too much."""

from datetime import time

import pytest
from django.utils import timezone

from reviews.deeds.crit_running_order import (
    breaks_of,
    keep_order,
    lines_of,
    order_before,
    whole_of,
)
from reviews.deeds.record_versions import version_of
from reviews.models import ClockEntry, Crit, Slot
from reviews.models.briefs import Frozen
from reviews.reading.crit_panels import concerns
from reviews.versions import Newer
from tests import factories


def _line(scheme, position=5, room="A", starts_at=time(9)):
    return {"scheme": scheme.pk, "position": position, "room": room, "starts_at": starts_at}


LUNCH = {"room": "", "starts_at": time(12), "minutes": 45, "words": "lunch"}


def test_the_order_of_the_crit_before_is_known(db):
    studio = factories.StudioFactory()
    interim = factories.CritFactory(studio=studio, kind="interim", day="2026-10-22")
    final = factories.CritFactory(studio=studio, day="2026-12-04")
    for n in (3, 1, 2):
        scheme = factories.SchemeFactory(studio=studio, number=f"H0{n}")
        factories.SlotFactory(crit=interim, scheme=scheme, position=n)
    final.refresh_from_db()
    assert order_before(final) == ["H01", "H02", "H03"]


def test_a_late_keep_is_refused_and_a_resend_is_not(cast):
    seen = version_of(lines_of(cast.crit))
    lines = [_line(cast.scheme)]
    keep_order(cast.crit, lines, seen)
    keep_order(cast.crit, lines, seen)
    assert Slot.objects.filter(crit=cast.crit).count() == 1
    assert cast.crit.orders.count() == 1
    with pytest.raises(Newer, match="kept"):
        keep_order(cast.crit, [], seen)


def test_breaks_are_kept_with_the_order_and_left_where_none_are_sent(cast):
    lines = lines_of(cast.crit)
    tea = LUNCH | {"starts_at": time(10, 30), "minutes": 15, "words": "tea"}
    keep_order(cast.crit, lines, version_of(lines), breaks=[LUNCH, tea])
    assert breaks_of(cast.crit) == [tea, LUNCH]
    keep_order(cast.crit, lines[:1], version_of(whole_of(cast.crit)))
    assert breaks_of(cast.crit) == [tea, LUNCH]
    keep_order(cast.crit, lines[:1], version_of(whole_of(cast.crit)), breaks=[])
    assert breaks_of(cast.crit) == []
    assert cast.crit.orders.count() == 3


def test_every_kept_order_is_remembered_with_its_breaks_rooms_and_minutes(cast):
    lines = [_line(cast.scheme)]
    keep_order(
        cast.crit, lines, version_of(lines_of(cast.crit)), by=cast.leader, lot=7, breaks=[LUNCH]
    )
    kept = cast.crit.orders.get()
    assert (kept.by, kept.lot, kept.plan["minutes"]) == (cast.leader, 7, [8, 14, 3, 2])
    assert [(line.get("scheme"), line["starts_at"]) for line in kept.lines] == [
        (cast.scheme.pk, "09:00"),
        (None, "12:00"),
    ]
    assert [link.room for link in cast.crit.room_links.all()] == ["A"]


def test_a_slot_of_which_anything_is_kept_stays_in_the_order(cast):
    slot = cast.crit.slots.first()
    ClockEntry.objects.create(slot=slot, deed="called", at=timezone.now(), by=cast.leader)
    with pytest.raises(Frozen, match="R01 Lee was called"):
        keep_order(cast.crit, [], version_of(lines_of(cast.crit)))
    assert cast.crit.slots.count() == 2


def test_a_released_crits_order_stays(cast):
    Crit.objects.update(released_at=timezone.now())
    with pytest.raises(Frozen, match="released"):
        keep_order(cast.crit, [], version_of(lines_of(cast.crit)))


def test_what_asks_too_much_is_said(cast):
    for n in range(9):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"Q{n}")
        factories.SlotFactory(crit=cast.crit, scheme=scheme, starts_at=time(9))
    factories.SchemeFactory(studio=cast.studio, number="Z9", name="Late")
    said = concerns(cast.crit)
    assert any("Q8 are on at once for all jurors." in words for words in said)
    assert "Jo Juror sees 11 schemes; more than 9 in a day tire a juror." in said
    assert "R01 is seen by 1 juror; 3 or more are usual." in said
    assert "Z9 Late is not in the order." in said


def test_a_juror_who_steps_aside_leaves_a_smaller_panel(cast):
    for name in ("Ann", "Bo"):
        factories.SeatFactory(crit=cast.crit, name=name)
    assert not [words for words in concerns(cast.crit) if "seen by" in words]
    cast.seat.interests.create(scheme=cast.scheme)
    assert "R01 is seen by 2 jurors; 3 or more are usual." in concerns(cast.crit)


def test_what_stood_down_asks_nothing_of_anybody(cast):
    cast.crit.slots.update(starts_at=time(9))
    assert any("on at once" in words for words in concerns(cast.crit))
    slot = cast.crit.slots.first()
    ClockEntry.objects.create(slot=slot, deed="agreed", at=timezone.now(), by=cast.leader)
    said = concerns(cast.crit)
    assert not any("on at once" in words or "R01" in words for words in said)

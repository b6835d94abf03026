"""Panels page by page: who sits where, a proposal taken up, crossings by hand, duties."""

from datetime import time

import pytest
from django.utils import timezone

from reviews.deeds import crit_interest_declaring
from reviews.models import Crit, Crossing, Duty, Seat, Slot
from tests import factories
from tests.reviews.page_steps import rows_of, text_of


@pytest.fixture
def url(cast) -> str:
    return f"/crits/{cast.crit.pk}/"


@pytest.fixture
def two_rooms(cast):
    """Practice 7.9: Brannick steps aside for H04 at 12:23, Ostrey sits in the other room."""
    Seat.objects.filter(pk=cast.seat.pk).delete()
    names = {"A": ("Quill", "Norrow", "Ostrey"), "B": ("Lantry", "Brannick", "Ferro")}
    for room, jurors in names.items():
        for name, kind in zip(jurors, ("in-house", "visiting", "industry"), strict=True):
            factories.SeatFactory(crit=cast.crit, name=name, kind=kind, room=room)
    for room, scheme in (("A", cast.other_scheme), ("B", cast.scheme)):
        slot = cast.crit.slots.filter(scheme=scheme)
        slot.update(room=room, starts_at=time(12, 23))
    crit_interest_declaring.declare_interest(Seat.objects.get(name="Brannick"), cast.scheme)


def _offer(page, words):
    return next(
        offer.key
        for row in page.context["rows"]
        for offer in row.offers
        if offer.words.startswith(words)
    )


def test_a_small_panel_is_said_at_once_and_a_proposal_fills_it(cast, leader, url, two_rooms):
    assert "R01 is seen by 2 jurors; 3 or more are usual." in text_of(leader.get(url))
    page = leader.get(f"{url}panels/")
    assert "Too small: 2 of 3." in text_of(page)
    key = _offer(page, "Swap Brannick and ")
    assert leader.post(f"{url}panels/take-up/", {"proposal": key}).status_code == 302
    assert {row.count for row in leader.get(f"{url}panels/").context["rows"]} == {3}
    kept = Crossing.objects.standing()
    assert {one.by for one in kept} == {cast.leader}
    again = leader.post(f"{url}panels/take-up/", {"proposal": key}, follow=True)
    assert "That proposal does not stand any more" in text_of(again)
    assert Crossing.objects.count() == kept.count()


def test_a_coordinator_sees_panels_and_proposals_and_changes_nothing(cast, url, two_rooms):
    text = text_of(cast.client(cast.coordinator).get(f"{url}panels/"))
    assert "Too small: 2 of 3." in text
    assert "Swap Brannick" in text
    assert "Take it up" not in text
    assert "Let them cross" not in text
    assert "Panels, and who could cross rooms" in text_of(cast.client(cast.coordinator).get(url))


def test_a_student_reads_nothing_of_interests_and_panels(cast, url, two_rooms):
    text = text_of(cast.client(cast.student).get(url))
    assert "Brannick" in text
    assert "seen by 2" not in text
    assert "stepped aside" not in text


def test_a_crossing_is_kept_by_hand_and_taken_back(cast, leader, url, two_rooms):
    seat = Seat.objects.get(name="Quill")
    slot = Slot.objects.get(scheme=cast.scheme)
    sent = {"crossing-seat": seat.pk, "crossing-slot": slot.pk, "crossing-comes": "comes"}
    assert leader.post(f"{url}panels/cross/", sent).status_code == 302
    crossing = Crossing.objects.get()
    assert "Quill comes to R01 Lee, 12:23, room B." in text_of(leader.get(f"{url}panels/"))
    leader.post(f"/crossings/{crossing.pk}/take-back/")
    assert not Crossing.objects.standing().exists()
    bad = leader.post(f"{url}panels/cross/", sent | {"crossing-seat": ""})
    assert "Read nothing. Expected a juror." in text_of(bad)


def test_what_would_leave_a_sheet_behind_is_refused_in_words(cast, leader, url, two_rooms):
    seat = Seat.objects.get(name="Lantry")
    slot = Slot.objects.get(scheme=cast.scheme)
    factories.JurySheetFactory(seat=seat, scheme=cast.scheme)
    sent = {"crossing-seat": seat.pk, "crossing-slot": slot.pk, "crossing-comes": "away"}
    answer = leader.post(f"{url}panels/cross/", sent, follow=True)
    assert "Lantry has begun the sheet of R01 Lee. It stays theirs." in text_of(answer)


# duties


def test_duties_are_kept_row_by_row_and_remembered(cast, leader, url):
    page = leader.get(f"{url}duties/")
    kinds = [row["kind"].value() for row in page.context["page"].rows]
    assert kinds[:3] == ["timekeeper", "scribe", "scribe"]
    sent = rows_of(page) | {
        "rows-0-person": cast.classmate.pk,
        "rows-2-person": cast.scribe.pk,
    }
    for _ in range(2):
        assert leader.post(f"{url}duties/", sent).status_code == 302
    assert {str(duty) for duty in Duty.objects.all()} == {
        "Clem Classmate, timekeeper", "Skye Scribe, scribe"
    }  # fmt: skip
    assert [line["person"] for line in cast.crit.orders.get().plan["duties"]]
    sheet = text_of(cast.client(cast.student).get(f"{url}order/sheet/"))
    assert "Notes: Skye Scribe" in sheet
    assert "Clem Classmate" in sheet
    page = leader.get(f"{url}duties/")
    gone = rows_of(page) | {"rows-0-DELETE": "on", "rows-1-DELETE": "on"}
    leader.post(f"{url}duties/", gone)
    assert not Duty.objects.exists()


def test_nobody_writes_in_their_own_slot_and_beside_it_is_warned_of(cast, leader, url):
    Slot.objects.filter(scheme=cast.scheme).update(starts_at=time(9, 15))
    Slot.objects.filter(scheme=cast.other_scheme).update(starts_at=time(9, 42))
    sent = rows_of(leader.get(f"{url}duties/"))
    own = leader.post(f"{url}duties/", sent | {"rows-1-person": cast.student.pk})
    assert "Read “Stef Student”. Expected somebody who doesn&#x27;t present" in own.content.decode()
    assert (
        leader.post(f"{url}duties/", sent | {"rows-2-person": cast.student.pk}).status_code == 302
    )
    said = text_of(leader.get(f"{url}duties/"))
    assert "Stef Student presents R01 and has a duty at R02, in or beside the own slot." in said


def test_more_than_three_slots_a_day_are_warned_of(cast, leader, url):
    for n in range(4):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"Q{n}")
        slot = factories.SlotFactory(crit=cast.crit, scheme=scheme)
        Duty.objects.create(crit=cast.crit, person=cast.scribe, kind="scribe", slot=slot)
    assert "Skye Scribe has a duty in 4 slots; 3 in a day are enough." in text_of(
        leader.get(f"{url}duties/")
    )


def test_duties_that_somebody_else_kept_are_shown_and_a_released_crit_keeps_none(cast, leader, url):
    sent = rows_of(leader.get(f"{url}duties/")) | {"rows-1-person": cast.scribe.pk}
    Duty.objects.create(crit=cast.crit, person=cast.classmate, kind="scribe")
    late = leader.post(f"{url}duties/", sent)
    assert late.status_code == 409
    assert "Clem Classmate" in text_of(late)
    Crit.objects.update(released_at=timezone.now())
    late = leader.post(f"{url}duties/", rows_of(late) | {"rows-1-person": cast.scribe.pk})
    assert "The crit is released." in text_of(late)
    assert Duty.objects.count() == 1

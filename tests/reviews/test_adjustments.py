"""How somebody presents: who sets it, who reads what of it, and the pause that is their own."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews import clock
from reviews.deeds import person_erasing
from reviews.deeds.adjustment_setting import end_adjustment, pause_own, set_adjustment
from reviews.deeds.crit_timekeeping import Press, link_room, press
from reviews.models import Adjustment, ClockEntry
from reviews.models.briefs import Frozen
from reviews.reading.adjustments import effects_of, extra_minutes_of
from reviews.reading.crit_clock import Part
from reviews.reading.crit_day import timed
from reviews.reading.own_pause import slots_to_pause
from tests import factories

Effect = Adjustment.Effect
Deed = ClockEntry.Deed


def effects_for(slot):
    return effects_of(slot.crit, [slot]).get(slot.pk, [])


def extra_present_minutes(slot):
    return extra_minutes_of([slot]).get(slot.pk, 0)


@pytest.fixture
def slot(cast):
    held = cast.crit.slots.filter(scheme=cast.scheme).first()
    return held or factories.SlotFactory(crit=cast.crit, scheme=cast.scheme)


@pytest.fixture
def today(cast, slot):
    cast.crit.day = clock.today()
    cast.crit.save()
    slot.refresh_from_db()
    return slot


def adjust(cast, effect, *, person=None, **beside):
    return set_adjustment(
        cast.scheme, person or cast.student, effect, beside.pop("by", cast.leader), **beside
    )


def test_the_room_is_told_effects_alone(cast, slot):
    adjust(cast, Effect.WRITTEN, words="after a fall")
    adjust(cast, Effect.SEATED)
    adjust(cast, Effect.MORE_TIME, minutes=2)
    assert effects_for(slot) == ["10 minutes", "seated", "questions in writing"]
    assert extra_present_minutes(slot) == 2


def test_of_two_who_present_each_effect_is_told_once_and_the_greater_time(cast, slot):
    for person, minutes in ((cast.student, 2), (cast.mate, 5)):
        adjust(cast, Effect.SEATED, person=person)
        adjust(cast, Effect.MORE_TIME, person=person, minutes=minutes)
    assert effects_for(slot) == ["13 minutes", "seated"]
    assert extra_present_minutes(slot) == 5


def test_time_is_told_beside_the_crits_own_minutes(cast, slot):
    slot.crit.present_min = 0
    adjust(cast, Effect.MORE_TIME, minutes=4)
    assert effects_for(slot) == ["4 minutes"]


def test_without_adjustments_nothing_is_told(cast, slot):
    assert effects_for(slot) == []
    assert extra_present_minutes(slot) == 0
    assert effects_of(cast.crit, []) == {}


def test_who_left_the_scheme_leaves_no_effect(cast, slot):
    adjust(cast, Effect.SEATED)
    cast.scheme.members.remove(cast.student)
    assert effects_for(slot) == []


def test_another_schemes_adjustment_is_told_of_no_other(cast, slot):
    other = factories.SlotFactory(
        crit=cast.crit, scheme=factories.SchemeFactory(studio=cast.studio)
    )
    adjust(cast, Effect.SEATED)
    assert effects_of(cast.crit, [slot, other]) == {slot.pk: ["seated"]}


def test_the_same_twice_is_one_and_another_ends_the_one_before(cast):
    first = adjust(cast, Effect.MORE_TIME, minutes=2)
    assert adjust(cast, Effect.MORE_TIME, minutes=2) == first
    second = adjust(cast, Effect.MORE_TIME, minutes=4)
    first.refresh_from_db()
    assert first.ended_by == cast.leader
    assert list(cast.scheme.adjustments.standing()) == [second]
    assert cast.scheme.adjustments.count() == 2


def test_minutes_belong_to_more_time_alone(cast):
    assert adjust(cast, Effect.SEATED, minutes=9).minutes is None


def test_what_is_ended_stays_as_it_was_ended(cast, slot):
    held = adjust(cast, Effect.SEATED)
    first = end_adjustment(held, cast.leader)
    again = end_adjustment(held, cast.coordinator)
    assert (again.ended_at, again.ended_by) == (first.ended_at, cast.leader)
    assert effects_for(slot) == []


def test_a_leader_sets_and_ends_one(client, cast):
    client.force_login(cast.leader)
    sent = {"person": cast.student.pk, "effect": "written", "words": "asked for", "minutes": ""}
    answer = client.post(reverse("set-adjustment", args=[cast.scheme.pk]), sent, follow=True)
    assert "Questions in writing" in answer.text
    assert "questions in writing</strong>" in answer.text
    held = cast.scheme.adjustments.get()
    assert (held.person, held.set_by, held.words) == (cast.student, cast.leader, "asked for")
    answer = client.post(reverse("end-adjustment", args=[cast.scheme.pk, held.pk]), follow=True)
    assert "What was ended" in answer.text
    held.refresh_from_db()
    assert held.ended_by == cast.leader


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        ({"effect": "more time", "minutes": ""}, "Read nothing. Expected whole minutes from 1"),
        ({"effect": "more time", "minutes": "0"}, "Read “0”. Expected whole minutes from 1"),
        ({"effect": "more time", "minutes": "31"}, "Read “31”. Expected whole minutes"),
        ({"effect": "seated", "minutes": "5"}, "Read “5”. Expected no minutes"),
        ({"effect": "flying"}, "Read “flying”. Expected one of those offered"),
        ({"person": "999999"}, "Read “999999”. Expected one of the scheme"),
        ({"words": "x" * 241}, "Expected at most 240 characters"),
    ],
)
def test_what_cannot_be_set_is_said_beside_its_field_and_stays_typed(client, cast, sent, said):
    client.force_login(cast.leader)
    whole = {"person": cast.student.pk, "effect": "seated", "minutes": "", "words": "kept", **sent}
    answer = client.post(reverse("set-adjustment", args=[cast.scheme.pk]), whole)
    assert said in answer.text
    assert whole["words"] in answer.text
    assert not cast.scheme.adjustments.exists()


def test_an_adjustment_of_another_scheme_is_not_ended_here(client, cast):
    held = adjust(cast, Effect.SEATED)
    client.force_login(cast.leader)
    address = reverse("end-adjustment", args=[cast.other_scheme.pk, held.pk])
    assert client.post(address).status_code == 404
    held.refresh_from_db()
    assert held.ended_at is None


def test_a_student_reads_the_own_and_a_team_mate_does_not(client, cast, slot):
    adjust(cast, Effect.SEATED, words="after a fall")
    address = reverse("show-adjustments", args=[cast.scheme.pk])
    for person, reads in (
        (cast.student, True),
        (cast.mate, False),
        (cast.leader, True),
        (cast.coordinator, True),
    ):
        client.force_login(person)
        answer = client.get(address)
        assert ("after a fall" in answer.text) == reads, person
        assert ("Presents seated</td>" in answer.text) == reads, person


def test_words_never_reach_the_jury_or_the_classmates(client, cast, slot):
    adjust(cast, Effect.SEATED, words="after a fall")
    for person in (cast.classmate, cast.scribe):
        client.force_login(person)
        assert client.get(reverse("show-adjustments", args=[cast.scheme.pk])).status_code in (
            403,
            404,
        )
    client.logout()
    client.get(reverse("enter-jury", args=[cast.seat.code]), follow=True)
    answer = client.get(reverse("show-jury-sheet", args=[cast.scheme.pk]))
    assert "after a fall" not in answer.text
    assert str(cast.student) + " presents" not in answer.text


def test_more_time_stands_on_the_clock_from_the_start(cast, today):
    adjust(cast, Effect.MORE_TIME, minutes=2)
    other = factories.SlotFactory(
        crit=cast.crit, scheme=factories.SchemeFactory(studio=cast.studio)
    )
    own, beside = timed(today.crit, [today, other], clock.now())
    assert own.minutes[Part.PRESENT] == beside.minutes[Part.PRESENT] + 2
    assert own.minutes[Part.DISCUSS] == beside.minutes[Part.DISCUSS]


def test_jury_and_timekeeper_read_the_effect_and_the_projector_does_not(client, cast, today):
    adjust(cast, Effect.WRITTEN, words="after a fall")
    adjust(cast, Effect.SEATED)
    start(today, cast.leader)
    link = link_room(today.crit, today.room)
    client.force_login(cast.leader)
    keeping = client.get(reverse("keep-time", args=[cast.crit.pk, today.room])).text
    client.logout()
    projected = client.get(reverse("show-room", args=[link.code])).text
    client.get(reverse("enter-jury", args=[cast.seat.code]))
    judged = client.get(reverse("show-jury-sheet", args=[cast.scheme.pk])).text
    for page, reads in ((keeping, True), (judged, True), (projected, False)):
        assert ("Seated, questions in writing" in page) == reads
        assert "after a fall" not in page


def test_whoever_is_made_anonymous_leaves_no_adjustment(cast):
    adjust(cast, Effect.SEATED, words="after a fall")
    whom = person_erasing.find(cast.student.email)
    assert "1 adjustment: how they presented" in person_erasing.plan(whom).goes
    person_erasing.erase(whom, although_a_crit_is_open=True)
    assert not Adjustment.objects.filter(person=cast.student).exists()


# The student's own pause


def start(slot, by):
    press(slot, Press(Deed.STARTED, at=clock.now() - timedelta(minutes=2)), by)


def test_the_student_stops_the_clock_for_five_minutes(client, cast, today):
    adjust(cast, Effect.PAUSE)
    client.force_login(cast.student)
    assert "Stop the clock" not in client.get("/").text
    start(today, cast.leader)
    assert slots_to_pause(cast.student) == [today]
    assert "Stop the clock for five minutes" in client.get("/").text
    answer = client.post(reverse("pause-own-slot", args=[cast.scheme.pk]), follow=True)
    assert "The clock stands for five minutes." in answer.text
    entry = today.clock.get(deed=Deed.PAUSED)
    assert (entry.by, entry.words) == (
        cast.student,
        "5 minutes, asked for by whoever presents",
    )
    assert "Stop the clock" not in client.get("/").text
    assert slots_to_pause(cast.student) == []


def test_without_the_adjustment_the_clock_goes_on(client, cast, today):
    start(today, cast.leader)
    adjust(cast, Effect.PAUSE, person=cast.mate)
    client.force_login(cast.student)
    answer = client.post(reverse("pause-own-slot", args=[cast.scheme.pk]), follow=True)
    assert "no pause is set for you. The clock goes on." in answer.text
    assert not today.clock.filter(deed=Deed.PAUSED).exists()


def test_before_it_is_on_nothing_is_paused(cast, today):
    adjust(cast, Effect.PAUSE)
    with pytest.raises(Frozen, match="is not on now"):
        pause_own(cast.scheme, cast.student)


def test_an_ended_pause_or_another_day_pauses_nothing(cast, today):
    held = adjust(cast, Effect.PAUSE)
    start(today, cast.leader)
    end_adjustment(held, cast.leader)
    assert slots_to_pause(cast.student) == []
    adjust(cast, Effect.PAUSE)
    today.crit.day = timezone.localdate() + timedelta(days=1)
    today.crit.save()
    assert slots_to_pause(cast.student) == []

"""The room's pages: what each shows of the clock, what a press does, and what a poll costs."""

import html
import re
from datetime import time, timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews import worked_out
from reviews.deeds.crit_timekeeping import Deed, Press, link_room, press
from reviews.models import Attendance, ClockEntry, Duty
from reviews.views.room_address import RoomInAddress
from tests import factories

pytestmark = pytest.mark.django_db


def text_of(answer) -> str:
    """The words of a page, without what stands between them."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", answer.content.decode())).split())


@pytest.fixture
def room(cast):
    """Room A: the first scheme has been on for ten minutes, in discussion for two."""
    first, second = cast.crit.slots.all()
    for slot, hour in ((first, 10), (second, 11)):
        slot.room, slot.starts_at = "A", time(hour)
        slot.save()
    at = timezone.now() - timedelta(minutes=10)
    press(first, Press(Deed.STARTED, at=at), cast.leader)
    press(first, Press(Deed.NEXT_PART, at=at + timedelta(minutes=8)), cast.leader)
    return first, second


def address(name, cast, *more):
    return reverse(name, args=[cast.crit.pk, "A", *more])


def send(cast, slot, deed, who=None, **more):
    sent = {"slot": slot.pk, "deed": deed, "key": uuid4(), **more}
    return cast.client(who or cast.leader).post(address("press-clock", cast), sent, follow=True)


def test_the_projector_shows_what_is_on_without_an_account(cast, room):
    answer = cast.client().get(reverse("show-room", args=[link_room(cast.crit, "A").code]))
    text = text_of(answer)
    for words in ("Room A", "R01 Lee", "Discussion", "Next R02 Keel , planned 11:00"):
        assert words in text
    assert re.search(r" 1[12]:\d\d ", text)
    assert 'data-lamp="off"' in answer.content.decode()
    assert "8 min" not in text  # whoever has more time isn't told of before all
    assert cast.client().get(reverse("show-room", args=["wrongcode"])).status_code == 404


def test_a_poll_gives_nothing_where_nothing_changed(cast, room):
    live = reverse("room-live", args=[link_room(cast.crit, "A").code])
    client = cast.client()
    first = client.get(live)
    again = client.get(live, headers={"If-None-Match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    now_ms = timezone.now().timestamp() * 1000
    assert all(abs(int(each["Muntin-Clock"]) - now_ms) < 5_000 for each in (first, again))
    press(room[0], Press(Deed.PAUSED), cast.leader)
    worked_out.forget()
    changed = client.get(live, headers={"If-None-Match": first["ETag"]})
    assert (changed.status_code, "paused" in text_of(changed)) == (200, True)


def test_a_page_and_its_first_poll_tell_the_same(cast, room):
    client = cast.client(cast.leader)
    page = client.get(address("keep-time", cast)).content.decode()
    told = page.partition('data-etag="')[2].partition('"')[0]
    live = client.get(address("clock-live", cast), headers={"If-None-Match": f'"{told}"'})
    assert live.status_code == 304


def test_a_poll_asks_the_database_little(cast, room):
    live = reverse("room-live", args=[link_room(cast.crit, "A").code])
    client = cast.client()
    client.get(live)
    with CaptureQueriesContext(
        connection,
    ) as asked:
        client.get(live)
    assert len(asked) == 1  # whose link it is


def test_a_press_goes_on_to_the_next_part(cast, room):
    text = text_of(send(cast, room[0], "next part", to="writing"))
    assert "Silent writing" in text
    assert "Take back Next part, R01" in text
    assert room[0].clock.last().words == "writing"


def test_extra_minutes_want_a_reason(cast, room):
    assert "Expected why minutes are added" in text_of(send(cast, room[0], "extra", minutes="2"))
    send(cast, room[0], "extra", minutes="2", words="a fuse")
    assert (room[0].clock.last().minutes, room[0].clock.last().words) == (2, "a fuse")


def test_a_press_that_does_not_fit_is_answered_in_words(cast, room):
    text = text_of(send(cast, room[1], "started"))
    assert "R01 Lee is still on (Room A). End it before another starts." in text
    assert not room[1].clock.exists()


def test_odd_presses_change_nothing(cast, room):
    before = ClockEntry.objects.count()
    for more in ({"deed": "nonsense"}, {"key": "x"}, {"slot": "9" * 30}, {"at": "1e9"}):
        sent = {"slot": room[0].pk, "deed": "paused", "key": uuid4()} | more
        client = cast.client(cast.leader)
        assert client.post(address("press-clock", cast), sent).status_code in (302, 404)
    assert ClockEntry.objects.count() == before


def test_a_press_carries_the_devices_moment(cast, room):
    at = timezone.now() - timedelta(seconds=40)
    send(cast, room[0], "paused", at=int(at.timestamp() * 1000))
    assert abs(room[0].clock.last().at - at) < timedelta(milliseconds=2)


def test_who_stands_down_is_offered_a_time_and_the_room_moves_up(cast, room):
    send(cast, room[0], "ended")
    send(cast, room[1], "agreed")
    page = text_of(cast.client(cast.leader).get(address("keep-time", cast)))
    assert "Offer the first free time" in page
    assert "Move the rest up" in page
    assert "Nobody comes after it" in text_of(send(cast, room[1], "move up"))
    send(cast, room[1], "offered")
    if not room[1].clock.filter(deed="offered").exists():  # late at night no slot is free
        return
    assert "no answer yet" in text_of(cast.client(cast.leader).get(address("keep-time", cast)))


def test_a_timekeeper_keeps_the_own_room_alone(cast, room):
    Duty.objects.create(crit=cast.crit, person=cast.classmate, kind="timekeeper", room="B")
    assert send(cast, room[0], "paused", cast.classmate).status_code == 403
    Duty.objects.create(crit=cast.crit, person=cast.classmate, kind="timekeeper", room="A")
    assert send(cast, room[0], "paused", cast.classmate).status_code == 200
    assert room[0].clock.last().by == cast.classmate
    day = cast.client(cast.classmate).get(reverse("show-day", args=[cast.crit.pk]))
    assert "Keep the clock" in text_of(day)


def test_a_duty_opens_the_day_to_somebody_of_no_studio(cast, room):
    where = reverse("show-day", args=[cast.crit.pk])
    assert cast.client(cast.other_student).get(where).status_code == 404
    Duty.objects.create(crit=cast.crit, person=cast.other_student, kind="timekeeper")
    assert cast.client(cast.other_student).get(where).status_code == 200


def test_the_leader_sees_who_is_there_and_who_has_not_locked(cast, room):
    factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    seats = [factories.SeatFactory(crit=cast.crit, room="A") for _ in range(2)]
    where = reverse("show-day", args=[cast.crit.pk])
    text = text_of(cast.client(cast.leader).get(where))
    assert "R01 Lee , on: " in text
    assert "in hand" in text
    assert "3 or more are usual" not in text
    sent = {"state": "gone", "words": "train"}
    keep = reverse("keep-attendance", args=[cast.crit.pk, seats[0].pk])
    text = text_of(cast.client(cast.leader).post(keep, sent, follow=True))
    assert "Gone: train" in text
    assert "2 set levels; 3 or more are usual" in text
    cast.client(cast.leader).post(keep, {"state": "lost"})
    assert Attendance.objects.count() == 1


def test_levels_and_words_are_on_none_of_the_rooms_pages(cast, room):
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, impression=5)
    factories.CommentFactory(jury_sheet=sheet, words="The stair ends in the air.")
    link = link_room(cast.crit, "A").code
    for where, who in (
        (reverse("show-room", args=[link]), None),
        (address("keep-time", cast), cast.leader),
        (reverse("show-day", args=[cast.crit.pk]), cast.leader),
    ):
        text = text_of(cast.client(who).get(where))
        assert "stair" not in text
        assert "impression" not in text.casefold()


def test_a_juror_hears_what_is_on_and_is_offered_its_sheet(cast, room):
    live = reverse("jury-live")
    here = cast.client(cast.seat).get(live, {"of": cast.scheme.pk})
    assert "Discussion" in text_of(here)
    assert "To R01" not in text_of(here)
    elsewhere = cast.client(cast.seat).get(live, {"of": cast.other_scheme.pk})
    assert "To R01 Lee" in text_of(elsewhere)
    assert cast.client(cast.seat).get(live, {"of": "9" * 40}).status_code == 200
    away = factories.SeatFactory(crit=cast.crit, room="B")
    assert "R01" not in text_of(cast.client(away).get(live))


def test_a_scheme_s_students_read_their_minutes_once_it_is_released(cast, room):
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    assert "Minutes given" in text_of(cast.client(cast.leader).get(results))
    send(cast, room[0], "ended")
    cast.crit.comments_sent_at = timezone.now()
    cast.crit.save()
    assert "Minutes given" not in text_of(cast.client(cast.student).get(results))
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    text = text_of(cast.client(cast.student).get(results))
    assert re.search(r"Presenting 8:00 Discussion 2:\d\d", text)
    other = reverse("show-results", args=[cast.crit.pk, cast.other_scheme.pk])
    assert "Minutes given" not in text_of(cast.client(cast.classmate).get(other))


def test_a_room_of_any_name_has_an_address():
    both = RoomInAddress()
    for name in ("", "A", "-", "2/1", "ä%/ü ?#"):
        assert both.to_python(both.to_url(name)) == name
    with pytest.raises(ValueError, match="x"):
        both.to_python("x" * 121)


def test_a_room_that_the_order_does_not_have_is_not_there(cast, room):
    where = reverse("keep-time", args=[cast.crit.pk, "Z"])
    assert cast.client(cast.leader).get(where).status_code == 404

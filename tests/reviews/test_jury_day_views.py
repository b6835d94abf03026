"""The jury sheet on the day: seen in part, talk first, own words, what waited, the hand."""

from datetime import datetime, time, timedelta
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews import clock
from reviews.deeds import crit_jury_keeping, juror_own_words
from reviews.models import Comment, Crit, Interest, JurySheet, LevelGiven, Phrase, PrivateNote
from tests import factories
from tests.reviews.jury_steps import HTMX, comment_url, level_url, lock, read, sheet_url

pytestmark = pytest.mark.django_db


def _seen(cast, client, **sent):
    url = reverse("tell-seen", args=[cast.scheme.pk])
    return client.post(url, {"seen": "0", **sent}, follow=True).content.decode()


def test_what_was_seen_in_part_takes_comments_and_counts_for_nothing(cast, juror):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    assert "You saw this scheme in part" in _seen(cast, juror, in_part="on")
    refused = juror.post(level_url(cast), {"level": "4", "seen": "1"}, headers=HTMX)
    assert refused.status_code == 409
    assert "seen in part" in refused.content.decode()
    sent = {"key": str(uuid4()), "seen": "0", "kind": "Keep", "words": "The bench."}
    assert juror.post(comment_url(cast), sent, headers=HTMX).status_code == 200
    sheet = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert JurySheet.objects.read().get() == sheet
    assert not JurySheet.objects.counting().exists()
    assert JurySheet.objects.telling_which_count().get().counts is False
    leader = cast.client(cast.leader)
    page = read(leader, reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk]))
    assert "saw in part, no level" in page


def test_seen_in_part_is_taken_back_before_the_lock_and_not_after(cast, juror):
    _seen(cast, juror, in_part="on")
    _seen(cast, juror)
    assert not JurySheet.objects.get().is_in_part
    lock(cast, cast.seat)
    assert "The sheet is locked" in _seen(cast, juror, in_part="on")
    assert JurySheet.objects.counting().count() == 1


def test_whoever_saw_a_part_reads_no_level_of_others(cast, juror):
    lock(cast, factories.SeatFactory(crit=cast.crit, name="Ola Otherone"))
    _seen(cast, juror, in_part="on")
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert "Ola Otherone" not in read(juror, sheet_url(cast))


def test_where_talk_comes_first_no_level_is_asked(cast, juror):
    Crit.objects.update(talk=Crit.Talk.TALK_FIRST)
    page = read(juror, sheet_url(cast))
    assert "no levels are asked" in page
    assert 'name="level"' not in page
    assert juror.post(level_url(cast), {"level": "4", "seen": "0"}, headers=HTMX).status_code == 409
    cast.seat.refresh_from_db()
    assert crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).is_locked


def test_where_quiet_comes_first_the_ten_minutes_are_said(cast, juror):
    Crit.objects.update(talk=Crit.Talk.QUIET_FIRST)
    assert "ten silent minutes" in read(juror, sheet_url(cast))


@pytest.mark.parametrize(("how", "may_comment"), [("aside", False), ("comments", True)])
def test_an_interest_is_a_tap_and_a_yes(cast, juror, how, may_comment):
    page = read(juror, sheet_url(cast))
    assert f'name="how" value="{how}"' in page
    juror.post(reverse("declare-interest", args=[cast.scheme.pk]), {"how": how})
    assert Interest.objects.get().may_comment is may_comment


# what waited on a device


def _ms(moment):
    return str(int(moment.timestamp() * 1000))


def _opens(cast):
    return timezone.make_aware(datetime.combine(cast.crit.day, time(9, 30)))


@pytest.fixture
def on_the_day(cast):
    Crit.objects.update(day=clock.today())
    cast.crit.refresh_from_db()
    return cast


def test_what_waited_says_when_it_was_set_and_when_it_was_kept(on_the_day, juror):
    cast = on_the_day
    earlier = max(
        timezone.make_aware(datetime.combine(clock.today(), time())),
        clock.now() - timedelta(minutes=16),
    )
    sent = {"level": "4", "seen": "0", "set_at": _ms(earlier)}
    answer = juror.post(level_url(cast), sent, headers=HTMX).content.decode()
    assert f"Set {timezone.localtime(earlier):%H:%M:%S}, kept " in answer
    juror.post(reverse("keep-impression", args=[cast.scheme.pk]), sent)
    key = {"key": str(uuid4()), "kind": "Keep", "words": "The bench."}
    juror.post(comment_url(cast), {**key, "seen": "0", "set_at": _ms(earlier)}, headers=HTMX)
    comment = Comment.objects.get()
    assert comment.begun_at == comment.set_at == JurySheet.objects.get().impression_set_at
    juror.post(level_url(cast), {"level": "5", "seen": "1"}, headers=HTMX)
    assert LevelGiven.objects.get().set_at is None


@pytest.mark.parametrize("sent", ["", "soon", "-5", "1e12", "9" * 14, "9" * 5000, "0", "²"])
def test_a_time_that_no_clock_said_is_left_out(on_the_day, juror, sent):
    cast = on_the_day
    sent = {"level": "4", "seen": "0", "set_at": sent}
    assert juror.post(level_url(cast), sent, headers=HTMX).status_code == 200
    assert LevelGiven.objects.get().set_at is None


# own words


def _note(cast, client, **sent):
    return client.post(reverse("keep-private-note", args=[cast.scheme.pk]), sent)


def test_a_private_note_is_its_juror_s_alone(cast, juror):
    _note(cast, juror, seen="0", words="Ask about the crane.")
    assert "Ask about the crane." in read(juror, sheet_url(cast))
    other = factories.SeatFactory(crit=cast.crit, name="Ola Otherone")
    lock(cast, cast.seat)
    lock(cast, other)
    assert "crane" not in read(cast.client(other), sheet_url(cast))
    leader = cast.client(cast.leader)
    for address in (
        reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk]),
        reverse("show-table", args=[cast.crit.pk]),
    ):
        assert "crane" not in read(leader, address)


def test_a_private_note_over_a_newer_one_shows_both(cast, juror):
    _note(cast, juror, seen="0", words="One")
    answer = _note(cast, juror, seen="0", words="Another")
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "One" in page
    assert "Another" in page
    assert PrivateNote.objects.get().words == "One"


def test_a_private_note_too_long_comes_back_as_typed(cast, juror):
    answer = _note(cast, juror, seen="0", words="long " * 900)
    assert "long long" in answer.content.decode()
    assert not PrivateNote.objects.exists()


def test_a_phrase_is_kept_offered_on_each_sheet_and_removed(cast, juror):
    key = uuid4()
    for _ in range(2):
        juror.post(reverse("keep-phrase"), {"key": key, "words": "Prove it by number."})
    assert "Prove it by number." in read(juror, sheet_url(cast))
    assert Phrase.objects.get().seat == cast.seat
    stranger = cast.client(cast.other_seat)
    stranger.post(reverse("remove-phrase", args=[key]))
    assert Phrase.objects.exists()
    juror.post(reverse("remove-phrase", args=[key]), headers=HTMX)
    assert not Phrase.objects.exists()


def test_a_phrase_that_can_t_be_kept_comes_back_as_typed(cast, juror, monkeypatch):
    long = "w" * 241
    answer = juror.post(reverse("keep-phrase"), {"key": uuid4(), "words": long}, headers=HTMX)
    assert "Expected words, 240 characters at most" in answer.content.decode()
    assert long in answer.content.decode()
    monkeypatch.setattr(juror_own_words, "MOST_PHRASES", 0)
    answer = juror.post(reverse("keep-phrase"), {"key": uuid4(), "words": "Show it."})
    assert "Remove one first" in answer.content.decode()


def test_a_change_after_the_discussion_is_made_on_the_locked_sheet(cast, juror):
    lock(cast, cast.seat)
    assert "Change it once, after the discussion" in read(juror, sheet_url(cast))
    url = reverse("change-level", args=[cast.scheme.pk, cast.criterion.pk])
    blank = juror.post(url, {"level": "4", "seen": "1", "reason": " "}).content.decode()
    assert "Expected why it changes" in blank
    same = juror.post(url, {"level": "3", "seen": "1", "reason": "Sheet 04."}).content.decode()
    assert "Expected another level" in same
    assert "Sheet 04." in same
    juror.post(url, {"level": "4", "seen": "1", "reason": "Sheet 04."})
    page = read(juror, sheet_url(cast))
    assert "was 3, is 4. Sheet 04." in page
    again = juror.post(url, {"level": "5", "seen": "2", "reason": "Again."})
    assert again.status_code == 409


def test_the_left_hand_is_one_tap_away(juror):
    juror.post(reverse("switch-hand"), {"hand": "left", "next": "/jury/"})
    assert 'data-hand="left"' in read(juror, "/jury/")
    juror.post(reverse("switch-hand"), {"hand": "right"})
    assert 'data-hand="left"' not in read(juror, "/jury/")


def test_a_sheet_typed_in_says_by_whom(cast, juror):
    lock(cast, cast.seat)
    JurySheet.objects.update(typed_by=cast.scribe)
    assert "From paper, typed by Skye Scribe" in read(juror, sheet_url(cast))

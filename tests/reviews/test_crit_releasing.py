"""A release names what is missing, crosses nothing, and is called back while nobody opened it."""

from collections.abc import Callable
from datetime import timedelta
from threading import Barrier, Thread

import pytest
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.deeds.crit_releasing import CALL_BACK_WITHIN, Changed
from reviews.models import Crit, JurySheet, Opening, Slot
from reviews.models.briefs import Frozen
from reviews.reading.crit_moderation_table import moderation_table
from reviews.reading.crit_release_read import read_release
from tests import factories

TRIES = 12
"""Locks and releases at once; before the crit was held, 6 of 40 crossed."""


def _set_all(cast, seat=None, scheme=None):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(seat or cast.seat, scheme or cast.scheme, criterion, 3, 0)


@pytest.fixture
def locked(cast):
    _set_all(cast)
    sheet = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    factories.CommentFactory(jury_sheet=sheet, words="Weigh it wet.", criterion=cast.criterion)
    return sheet


def _told(cast):
    return read_release(cast.crit)


def _lines(cast):
    return {str(each.scheme): each.lines for each in _told(cast).schemes if each.lines}


def test_a_release_names_all_that_it_leaves_out_scheme_by_scheme(cast, locked):
    zoe = factories.SeatFactory(crit=cast.crit, name="Zoe")
    crit_jury_keeping.keep_level(zoe, cast.scheme, cast.criterion, 2, 0)
    crit_moderating.hold_comment(locked.comments.get(), cast.leader, "About the person.")
    factories.CommentFactory(jury_sheet=locked, kind="", words="")
    factories.CommentFactory(jury_sheet=locked, kind="Keep", words="")
    assert _lines(cast) == {
        "R01 Lee": (
            "begun and not locked, so left out: Zoe",
            "1 comment held, not released",
            "1 stub without kind or words, left out",
            "1 comment released without words",
        ),
        "R02 Keel": (
            "no locked sheet, so its students read no level",
            "no sheet from: Jo Juror, Zoe",
        ),
    }


def test_whoever_stepped_aside_is_not_missing(cast, locked):
    declare_interest(cast.seat, cast.other_scheme)
    assert _lines(cast) == {"R02 Keel": ("no locked sheet, so its students read no level",)}


def test_whoever_only_comments_is_missing_until_they_lock(cast, locked):
    zoe = factories.SeatFactory(crit=cast.crit, name="Zoe")
    for scheme in (cast.scheme, cast.other_scheme):
        declare_interest(zoe, scheme, may_comment=True)
    assert "R01 Lee" not in _lines(cast)
    sheet = factories.JurySheetFactory(seat=zoe, scheme=cast.scheme)
    factories.CommentFactory(jury_sheet=sheet)
    assert _lines(cast)["R01 Lee"] == ("begun and not locked, so left out: Zoe",)


def test_a_withdrawn_scheme_is_not_missing_and_says_that_it_is_withdrawn(cast, locked):
    cast.other_scheme.withdrawn_at = timezone.now()
    cast.other_scheme.save()
    assert _lines(cast) == {}
    rows = moderation_table(cast.crit).rows
    assert [str(row.scheme) for row in rows] == ["R01 Lee", "R02 Keel, withdrawn"]


def test_schemes_before_a_juror_came_to_a_room_are_not_missing(cast, locked):
    day = cast.crit.day
    for scheme, hour in ((cast.scheme, 9), (cast.other_scheme, 14)):
        Slot.objects.filter(scheme=scheme).update(room="B", starts_at=f"{hour:02}:00")
    zoe = factories.SeatFactory(crit=cast.crit, name="Zoe", room="B")
    assert _lines(cast)["R01 Lee"] == ("no sheet from: Zoe",)
    zoe.room_since = timezone.make_aware(timezone.datetime(day.year, day.month, day.day, 14))
    zoe.save()
    lines = _lines(cast)
    assert "R01 Lee" not in lines
    assert "no sheet from: Jo Juror, Zoe" in lines["R02 Keel"]  # at the very minute of the move
    zoe.room_since += timedelta(minutes=1)
    zoe.save()
    assert "no sheet from: Jo Juror" in _lines(cast)["R02 Keel"]


def test_a_crit_is_released_once(cast):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    crit = Crit.objects.get(pk=cast.crit.pk)
    assert (crit.release_words, crit.released_by) == ("Read the keeps first.", cast.leader)
    with pytest.raises(Frozen, match="released already"):
        crit_releasing.release_crit(cast.crit, cast.leader, "Again.")
    assert Crit.objects.get(pk=cast.crit.pk).release_words == "Read the keeps first."


@pytest.mark.parametrize(
    "what", ["a lock", "a sheet opened again", "a comment held", "an interest"]
)
def test_a_release_over_what_was_not_seen_is_refused(cast, locked, what):
    other = factories.SeatFactory(crit=cast.crit, name="Zoe")
    _set_all(cast, other)
    seen = _told(cast).seen
    if what == "a lock":
        crit_jury_keeping.lock_sheet(other, cast.scheme)
    elif what == "a sheet opened again":
        crit_moderating.reopen_sheet(locked, cast.leader, "Missed sheet 04.")
    elif what == "a comment held":
        crit_moderating.hold_comment(locked.comments.get(), cast.leader, "About the person.")
    else:
        declare_interest(cast.seat, cast.scheme)
    with pytest.raises(Changed, match="Read it again below"):
        crit_releasing.release_crit(cast.crit, cast.leader, "Words.", seen=seen)
    assert not Crit.objects.get(pk=cast.crit.pk).is_released
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.", seen=_told(cast).seen)


# calling back


@pytest.fixture
def released(cast, locked):
    return crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")


def test_a_release_is_called_back_and_jurors_and_leader_go_on(cast, locked, released):
    at = released.released_at + CALL_BACK_WITHIN
    crit = crit_releasing.call_back(cast.crit, cast.leader, at=at)
    assert not crit.is_released
    assert (crit.called_back_at, crit.called_back_by) == (at, cast.leader)
    assert crit.release_words == "Read the keeps first."
    crit_moderating.reopen_sheet(locked, cast.leader, "Missed sheet 04.")
    assert crit_releasing.release_crit(cast.crit, cast.leader, "Words.").is_released


def test_after_ten_minutes_a_release_stays(cast, released):
    late = released.released_at + CALL_BACK_WITHIN + timedelta(seconds=1)
    with pytest.raises(Frozen, match="more than ten minutes ago"):
        crit_releasing.call_back(cast.crit, cast.leader, at=late)
    assert Crit.objects.get(pk=cast.crit.pk).is_released


def test_a_release_that_somebody_opened_stays_and_says_who(cast, released):
    assert crit_releasing.open_results(cast.crit, cast.student)
    first = Opening.objects.get()
    assert crit_releasing.open_results(cast.crit, cast.student)
    assert Opening.objects.get() == first
    with pytest.raises(Frozen, match="Stef Student opened it"):
        crit_releasing.call_back(cast.crit, cast.leader)


def test_what_is_called_back_is_opened_by_nobody(cast, released):
    crit_releasing.call_back(cast.crit, cast.leader)
    assert not crit_releasing.open_results(cast.crit, cast.student)
    assert not Opening.objects.exists()
    with pytest.raises(Frozen, match="not released"):
        crit_releasing.call_back(cast.crit, cast.leader)


# two people at once


def _at_once(*deeds: Callable[[], object]) -> list[object]:
    """What each deed gave, or the exception that it raised, all begun at the same moment."""
    start, outcomes = Barrier(len(deeds)), [None] * len(deeds)

    def run(place: int, deed: Callable[[], object]) -> None:
        start.wait()
        try:
            outcomes[place] = deed()
        except Exception as refused:  # whatever it is, the test says
            outcomes[place] = refused
        finally:
            connection.close()

    threads = [Thread(target=run, args=each) for each in enumerate(deeds)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


def _fresh(cast) -> Crit:
    JurySheet.objects.update(locked_at=None)
    Crit.objects.update(released_at=None, released_by=None)
    return Crit.objects.get(pk=cast.crit.pk)


def test_a_lock_and_a_release_at_once_never_cross(transactional_db, cast):
    _set_all(cast)
    for _ in range(TRIES):
        crit, seen = _fresh(cast), _told(cast).seen
        lock, release = _at_once(
            lambda: crit_jury_keeping.lock_sheet(cast.seat, cast.scheme),
            lambda crit=crit, seen=seen: crit_releasing.release_crit(
                crit, cast.leader, "Words.", seen=seen
            ),
        )
        was_locked = JurySheet.objects.get().is_locked
        was_released = Crit.objects.get(pk=crit.pk).is_released
        assert was_locked != was_released, (lock, release)
        refused = lock if was_released else release
        assert isinstance(refused, Frozen | Changed), refused


def test_a_lock_and_a_release_from_two_browsers_answer_in_words(
    transactional_db, cast, at_a_working_hour
):
    _set_all(cast)
    juror, leader = cast.client(cast.seat), cast.client(cast.leader)
    address = reverse("release-crit", args=[cast.crit.pk])
    for _ in range(TRIES // 2):
        _fresh(cast)
        page = leader.get(address).context["form"]
        sent = {
            "seen": page["seen"].value(),
            "words": "Words.",
            **{name: "A small crit." for name in page.fields if name.startswith("why-")},
        }
        answers = _at_once(
            lambda: juror.post(reverse("lock-sheet", args=[cast.scheme.pk])).status_code,
            lambda sent=sent: leader.post(address, sent).status_code,
        )
        assert all(status in (200, 302) for status in answers), answers
        assert JurySheet.objects.get().is_locked != Crit.objects.get(pk=cast.crit.pk).is_released


def test_an_opening_and_a_call_back_at_once_never_cross(transactional_db, cast):
    for _ in range(TRIES):
        Opening.objects.all().delete()
        crit = crit_releasing.release_crit(_fresh(cast), cast.leader, "Words.")
        opened, called = _at_once(
            lambda crit=crit: crit_releasing.open_results(crit, cast.student),
            lambda crit=crit: crit_releasing.call_back(crit, cast.leader),
        )
        assert opened is Crit.objects.get(pk=crit.pk).is_released
        assert opened is isinstance(called, Frozen), (opened, called)


def test_a_comment_kept_and_a_release_at_once_are_both_kept(transactional_db, cast):
    stub = factories.CommentFactory(
        jury_sheet=factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme), words=""
    )
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    sent = crit_jury_keeping.CommentSent("Prove", words="Weigh it wet.")
    kept, _ = _at_once(
        lambda: crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub.key, sent, 1),
        lambda: crit_releasing.release_crit(cast.crit, cast.leader, "Words."),
    )
    stub.refresh_from_db()
    crit = Crit.objects.get(pk=cast.crit.pk)
    assert stub.words == "Weigh it wet."
    assert crit.is_released
    # what came before the release is read, what came after is held for the leader
    assert (stub.held_at is not None) == (kept.kept_at > crit.released_at)

"""A juror's comments and lock, and what must not be seen before locking."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from reviews.deeds import crit_jury_keeping
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import Comment, JurySheet
from reviews.places import Place
from tests import factories
from tests.reviews.jury_steps import HTMX, comment_url, level_url, lock, read, sheet_url

# comments


@pytest.mark.usefixtures("issued")
def test_kind_sheet_and_zone_make_a_stub(cast, juror):
    data = {"key": str(uuid4()), "kind": "Prove", "sheet": "02", "place": "02·C4", "seen": "0"}
    assert juror.post(comment_url(cast), data).status_code == 302
    comment = Comment.objects.get()
    assert (comment.kind, comment.place) == ("Prove", "02·C4")
    assert "stub, words to come" in read(juror, sheet_url(cast))


def test_a_comment_sent_twice_is_one(cast, juror):
    data = {"key": str(uuid4()), "kind": "Keep", "place": "", "words": "Good.", "seen": "0"}
    for _ in range(2):
        assert juror.post(comment_url(cast), data, headers=HTMX).status_code == 200
    assert Comment.objects.count() == 1


@pytest.mark.usefixtures("issued")
@pytest.mark.parametrize("headers", [{}, HTMX])
def test_a_comment_over_a_newer_one_loses_nothing(cast, juror, headers):
    key = uuid4()
    first = CommentSent("Prove", Place("02", "C4"), None, "From the tablet")
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, first, 0)
    data = {
        "key": str(key),
        "kind": "Rework",
        "place": "02 C4",
        "words": "From the phone",
        "seen": "0",
    }
    response = juror.post(comment_url(cast), data, headers=headers)
    page = response.content.decode()
    assert response.status_code == 409
    assert "From the tablet" in page
    assert "From the phone" in page
    assert Comment.objects.get().words == "From the tablet"
    data["seen"] = "1"
    assert juror.post(comment_url(cast), data, headers=HTMX).status_code == 200
    assert Comment.objects.get().words == "From the phone"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"place": "02 E9"}, "Read “02 E9”. Expected a sheet and a zone from A1 to D6"),
        ({"kind": "Praise"}, "Read “Praise”. Expected one of Keep, Rework"),
        ({"words": "x" * 4001}, "Read 4001 characters. Expected 4000 at most."),
        ({"criterion": "0"}, "Expected a criterion of this crit&#x27;s sheet."),
    ],
)
def test_a_comment_that_can_t_be_read_comes_back_as_typed(cast, juror, change, message):
    data = {
        "key": str(uuid4()),
        "kind": "Prove",
        "place": "02·C4",
        "words": "Typed with care",
        "seen": "0",
    } | change
    page = juror.post(comment_url(cast), data, headers=HTMX).content.decode()
    assert message in page
    assert data["words"] in page
    assert not Comment.objects.exists()


def test_a_comment_left_off_is_gone_from_the_sheet_and_kept(cast, juror):
    key = uuid4()
    crit_jury_keeping.keep_comment(
        cast.seat, cast.scheme, key, CommentSent("Keep", words="Hm, no."), 0
    )
    url = reverse("remove-comment", args=[cast.scheme.pk, key])
    assert juror.get(url).status_code == 405
    assert juror.post(url, {"seen": "1"}).status_code == 302
    assert "Hm, no." not in read(juror, sheet_url(cast))
    assert Comment.objects.get().words == "Hm, no."


def test_a_comment_changed_since_is_not_left_off(cast, juror):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, CommentSent("Keep", words="One"), 0)
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, CommentSent("Keep", words="Two"), 1)
    url = reverse("remove-comment", args=[cast.scheme.pk, key])
    response = juror.post(url, {"seen": "1"}, headers=HTMX)
    assert response.status_code == 409
    assert "Two" in response.content.decode()
    assert Comment.objects.get().removed_at is None


# lock


def test_a_lock_that_lacks_something_names_it_and_keeps_the_sheet_open(cast, juror):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    page = juror.post(reverse("lock-sheet", args=[cast.scheme.pk])).content.decode()
    missing = page[page.index('id="lock-state"') :]
    assert f'href="#level-{cast.other_criterion.pk}">F2 Making' in missing
    assert "F1 Light" not in missing[: missing.index("</ul>")]
    assert not JurySheet.objects.get().is_locked


def test_before_the_lock_a_quiet_note_counts_the_keeps(cast, juror):
    assert "No comment says what to keep" in read(juror, sheet_url(cast))
    crit_jury_keeping.keep_comment(
        cast.seat, cast.scheme, uuid4(), CommentSent("Keep", words="Y"), 0
    )
    assert "No comment says what to keep" not in read(juror, sheet_url(cast))


def test_a_locked_sheet_is_read_only(cast, juror):
    lock(cast, cast.seat)
    page = read(juror, sheet_url(cast))
    assert f'action="{level_url(cast)}"' not in page
    assert reverse("lock-sheet", args=[cast.scheme.pk]) not in page
    response = juror.post(level_url(cast), {"level": "5", "seen": "1"}, headers=HTMX)
    assert response.status_code == 409
    assert "The sheet is locked" in response.content.decode()


@pytest.mark.usefixtures("issued")
def test_nothing_of_another_juror_s_sheet_is_seen_before_the_own_lock(cast, juror):
    other = factories.SeatFactory(crit=cast.crit, name="Olga Otherjuror")
    crit_jury_keeping.keep_impression(other, cast.scheme, 5, 0)
    words = CommentSent("Rework", Place("03", "B2"), None, "Words of another juror")
    crit_jury_keeping.keep_comment(other, cast.scheme, uuid4(), words, 0)
    lock(cast, other, level=5)
    for address in (sheet_url(cast), reverse("show-jury"), reverse("show-jury-brief")):
        page = read(juror, address)
        assert "Olga" not in page
        assert "Words of another juror" not in page
        assert 'aria-pressed="true"' not in page
        # ids and what leads to them hold a criterion's number
        bare = re.sub(r'(?:"#|(?:id|for|name|aria-[a-z]+)=")level-[0-9-]+', "", page)
        assert "level-5" not in bare
    # a refused tap, a refused lock and a bad form don't tell either
    for url, data in (
        (level_url(cast), {"level": "9", "seen": "0"}),
        (level_url(cast), {"level": "3", "seen": "7"}),
        (reverse("lock-sheet", args=[cast.scheme.pk]), {}),
        (comment_url(cast), {"key": "x"}),
    ):
        assert "Olga" not in juror.post(url, data).content.decode()


def test_after_the_own_lock_the_locked_others_are_read_and_no_draft(cast, juror):
    locked = factories.SeatFactory(crit=cast.crit, name="Lou Locked")
    draft = factories.SeatFactory(crit=cast.crit, name="Dora Draft")
    lock(cast, locked, level=5)
    crit_jury_keeping.keep_level(draft, cast.scheme, cast.criterion, 1, 0)
    lock(cast, cast.seat)
    page = read(juror, sheet_url(cast))
    others = page[page.index("others-title") :]
    assert "Lou Locked" in others
    assert others.count("Carried to the detail") == 2
    assert "Dora Draft" not in page


def test_a_sheet_opened_again_hides_the_others_again(cast, juror):
    locked = factories.SeatFactory(crit=cast.crit, name="Lou Locked")
    lock(cast, locked)
    lock(cast, cast.seat)
    JurySheet.objects.filter(seat=cast.seat).update(locked_at=None)
    assert "Lou Locked" not in read(juror, sheet_url(cast))


def test_another_scheme_s_lock_opens_nothing_here(cast, juror):
    other = factories.SeatFactory(crit=cast.crit, name="Olga Otherjuror")
    lock(cast, other)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.other_scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.other_scheme)
    assert "Olga" not in read(juror, sheet_url(cast))


@pytest.mark.usefixtures("issued")
@pytest.mark.parametrize("headers", [{}, HTMX])
def test_an_endless_stroke_is_refused_in_words_and_nothing_is_lost(cast, juror, headers):
    data = {
        "key": str(uuid4()),
        "kind": "Draw",
        "place": "02·C4",
        "point": "0.55 0.6",
        "strokes": " ".join(["0.5"] * 40_000),
        "words": "Along here.",
        "seen": "0",
    }
    page = juror.post(comment_url(cast), data, headers=headers).content.decode()
    assert "Read “a stroke of 20000 points”. Expected at most 400" in page
    assert "Along here." in page
    assert data["strokes"] in page
    assert not Comment.objects.exists()


@pytest.mark.usefixtures("issued")
def test_a_zone_that_is_typed_counts_more_than_the_point_tapped_before(cast, juror):
    data = {"key": str(uuid4()), "kind": "Draw", "place": "02·C4", "point": "0.55 0.6"}
    juror.post(comment_url(cast), data | {"seen": "0"}, headers=HTMX)
    assert Comment.objects.get().point == (0.55, 0.6)
    juror.post(comment_url(cast), data | {"seen": "1", "place": "02·A1"}, headers=HTMX)
    comment = Comment.objects.get()
    assert (comment.place, comment.point) == ("02·A1", None)

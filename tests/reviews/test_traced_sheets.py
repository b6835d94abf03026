"""Flags and strokes over a sheet, for whoever may read the words."""

from uuid import uuid4

import pytest
from django.urls import reverse

from reviews.deeds import crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.places import Place, Point
from tests import factories
from tests.reviews.jury_steps import lock, read, sheet_url

STROKES = ((Point(0.1234, 0.6), Point(0.7, 0.6)),)
DRAWN = CommentSent("Draw", Place("02", "C1"), None, "Along.", Point(0.1234, 0.6), STROKES)


@pytest.fixture
def comment(cast, settings, tmp_path):
    """A comment with a point and a stroke, on a sheet in hand."""
    settings.MEDIA_ROOT = tmp_path
    factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    return crit_jury_keeping.keep_comment(cast.seat, cast.scheme, uuid4(), DRAWN, 0)


def _moderation(cast):
    return reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk])


def test_a_flag_leads_to_its_words_and_back_for_juror_and_leader(cast, comment):
    for locked in (False, True):
        page = read(cast.client(cast.seat), sheet_url(cast))
        flag = f'id="flag-{comment.key}" href="#comment-{comment.key}"'
        assert flag in page, locked
        assert f'id="comment-{comment.key}"' in page
        assert f'href="#flag-{comment.key}"' in page
        assert 'class="stroke" points="0.1234 0.6 0.7 0.6"' in page
        if not locked:
            lock(cast, cast.seat)
    page = read(cast.client(cast.leader), _moderation(cast))
    assert f'id="flag-{comment.pk}" href="#comment-{comment.pk}"' in page
    assert f'id="comment-{comment.pk}"' in page
    assert f'href="#flag-{comment.pk}"' in page
    assert 'class="stroke" points="0.1234 0.6 0.7 0.6"' in page


@pytest.mark.usefixtures("comment")
def test_strokes_are_read_by_those_alone_who_read_the_words(cast):
    """Before the lock by their juror; then by the leader; by other jurors never."""
    other = factories.SeatFactory(crit=cast.crit, name="Zoe Open")
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    leader = cast.client(cast.leader)
    assert "0.1234" in read(cast.client(cast.seat), sheet_url(cast))
    assert "0.1234" not in read(leader, _moderation(cast))
    assert "0.1234" not in read(leader, results)
    lock(cast, cast.seat)
    lock(cast, other)
    assert "0.1234" in read(leader, _moderation(cast))
    assert "0.1234" in read(leader, results)
    assert "0.1234" not in read(cast.client(other), sheet_url(cast))
    assert cast.client(cast.student).get(results).status_code == 404


def test_a_sheet_seen_close_shows_each_reader_what_their_page_of_words_shows(cast, comment):
    """Its juror's own, a leader's once locked, its students' once released; nobody else's."""
    sheet = comment.issued_sheet
    close = reverse("show-issued-sheet", args=[sheet.revision_id, sheet.number])
    other = factories.SeatFactory(crit=cast.crit, name="Zoe Open")
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])

    def flag(key, page, words):
        return f'id="flag-{key}" href="{page}#comment-{words}"'

    def nothing(who):
        page = read(cast.client(who), close)
        return "Along." not in page and "0.1234" not in page and "sheet-flag" not in page

    own = read(cast.client(cast.seat), close)
    assert flag(comment.key, sheet_url(cast), comment.key) in own
    assert 'points="0.1234 0.6 0.7 0.6"' in own
    assert f'href="{sheet_url(cast)}#pick-02">Back to the jury sheet' in own
    assert 'id="pick-02"' in read(cast.client(cast.seat), sheet_url(cast))
    assert '<a href="#C1">C1</a>' in own
    assert "Along." in own
    everyone = (other, cast.leader, cast.student, cast.classmate, cast.coordinator)
    assert all(nothing(who) for who in everyone)
    lock(cast, cast.seat)
    lock(cast, other)
    assert flag(comment.pk, _moderation(cast), comment.pk) in read(cast.client(cast.leader), close)
    assert all(nothing(who) for who in everyone if who != cast.leader)
    crit_releasing.release_crit(cast.crit, cast.leader, "Read them.")
    assert flag(1, results, 1) in read(cast.client(cast.student), close)
    assert flag(1, results, 1) in read(cast.client(cast.coordinator), close)
    assert all(nothing(who) for who in (other, cast.classmate))
    crit_moderating.hold_comment(comment, cast.leader, "Said elsewhere.")
    held = read(cast.client(cast.student), close)
    assert flag(1, results, 1) in held
    assert "Along." not in held
    assert "points=" not in held


def test_words_lead_to_their_square_seen_close(cast, comment):
    sheet = comment.issued_sheet
    square = reverse("show-issued-sheet", args=[sheet.revision_id, sheet.number]) + "#C1"
    assert f'href="{square}"' in read(cast.client(cast.seat), sheet_url(cast))
    lock(cast, cast.seat)
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    for who, address in (
        (cast.seat, sheet_url(cast)),
        (cast.leader, _moderation(cast)),
        (cast.leader, results),
    ):
        assert f'href="{square}"' in read(cast.client(who), address)


def test_whoever_reads_released_comments_on_a_sheet_has_opened_them(cast, comment):
    """So that a release that was read isn't called back as if nobody had."""
    lock(cast, cast.seat)
    crit_releasing.release_crit(cast.crit, cast.leader, "Read them.")
    sheet = comment.issued_sheet
    read(
        cast.client(cast.student),
        reverse("show-issued-sheet", args=[sheet.revision_id, sheet.number]),
    )
    assert cast.crit.openings.get().person == cast.student

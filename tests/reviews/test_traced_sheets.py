"""Flags and strokes over a sheet, for whoever may read the words."""

from uuid import uuid4

import pytest
from django.urls import reverse

from reviews.deeds import crit_jury_keeping
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

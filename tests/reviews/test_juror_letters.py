"""What became of their remarks: told to jurors with their students' consent, once, no level."""

import pytest
from django.core import mail as outbox
from django.urls import reverse

from reviews.deeds import (
    comment_answering,
    crit_moderating,
    crit_releasing,
    juror_letters,
)
from reviews.deeds.comment_answering import AnswerSent
from reviews.models import Closing, Consent, JurorLetter, Mail, Seat, StoredFinding, Verdict
from reviews.models.briefs import Frozen
from reviews.models.crits import LEVELS
from reviews.reading.juror_letters import letters_of
from reviews.versions import Newer
from tests import factories
from tests.reviews.jury_steps import lock, read
from tests.reviews.mail_steps import send


@pytest.fixture
def told(cast):
    """A released crit: one remark on each of two schemes, one of them answered and closed."""
    Seat.objects.filter(pk=cast.seat.pk).update(email="jo@example.org")
    sheet = lock(cast, cast.seat, 4)
    cast.remark = factories.CommentFactory(jury_sheet=sheet, kind="Hazard", words="One way out.")
    other = factories.JurySheetFactory(
        seat=cast.seat, scheme=cast.other_scheme, locked_at=sheet.locked_at
    )
    cast.other_remark = factories.CommentFactory(jury_sheet=other, words="Too many stairs.")
    Verdict.objects.create(crit=cast.crit, scheme=cast.scheme, kind="again", by=cast.leader)
    cast.crit = crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    answer = AnswerSent("Taken up", "A gable door.", "")
    comment_answering.answer_comment(cast.remark, cast.student, answer, 0)
    Closing.objects.create(comment=cast.remark, is_closed=True, by=cast.leader)
    return cast


def allow(cast, scheme=None, *, is_allowed=True):
    return juror_letters.allow_letter(
        cast.crit, scheme or cast.scheme, cast.student, is_allowed=is_allowed
    )


def go(cast):
    return juror_letters.send_letters(cast.crit, cast.leader, letters_of(cast.crit).seen)


def test_without_consent_nothing_is_told(told):
    letter = letters_of(told.crit).of(told.seat.pk)
    assert (letter.contents, letter.left_out, letter.is_to_send) == ([], 2, False)
    assert go(told) == []
    assert not Mail.objects.filter(kind=Mail.Kind.LETTER).exists()


def test_it_tells_remark_answer_verdict_and_checks_and_no_level(told):
    was, now = (
        factories.RevisionFactory(scheme=told.scheme, letter=letter, crit=crit)
        for letter, crit in (("A", told.crit), ("B", None))
    )
    StoredFinding.objects.filter(revision__in=(was, now)).delete()
    for revision, state in ((was, "Short"), (now, "Met")):
        StoredFinding.objects.create(
            revision=revision, ref="T22", check_slug="c", rule="r", title="Ways out", state=state
        )
    assert allow(told)
    assert not allow(told)
    (letter,) = go(told)
    assert (letter.left_out, letter.remarks) == (1, 1)
    send()
    (sent,) = [each for each in outbox.outbox if "became of your remarks" in each.subject]
    for words in ("One way out.", "A gable door.", "Taken up", "Show again", "Closed."):
        assert words in sent.body
    assert "T22 Ways out: short, now met" in sent.body
    assert "Too many stairs." not in sent.body
    assert str(told.other_scheme.name) not in sent.body
    assert not [word for word in LEVELS if word in sent.body]
    assert sent.to == ["jo@example.org"]


def test_it_goes_once_and_stays_as_it_went(told):
    allow(told)
    assert len(go(told)) == 1
    assert go(told) == []
    frozen = JurorLetter.objects.get().contents
    crit_moderating.hold_comment(told.remark, told.leader, "Later.")
    assert letters_of(told.crit).of(told.seat.pk).contents == frozen


def test_consent_ended_before_the_post_goes_leaves_the_scheme_out(told):
    allow(told)
    allow(told, told.other_scheme)
    go(told)
    assert allow(told, is_allowed=False)
    assert Consent.objects.get(scheme=told.scheme).ended_at
    send()
    (sent,) = [each for each in outbox.outbox if "became of your remarks" in each.subject]
    assert "Too many stairs." in sent.body
    assert "One way out." not in sent.body


def test_what_changed_since_it_was_read_does_not_go(told):
    allow(told)
    seen = letters_of(told.crit).seen
    allow(told, told.other_scheme)
    with pytest.raises(Newer):
        juror_letters.send_letters(told.crit, told.leader, seen)


def test_nothing_goes_before_the_release(cast):
    with pytest.raises(Frozen):
        juror_letters.send_letters(cast.crit, cast.leader, "")


def test_queries_do_not_grow_with_remarks_and_schemes(told, django_assert_num_queries):
    allow(told)
    allow(told, told.other_scheme)
    letters_of(told.crit)  # reads what the crit belongs to
    with django_assert_num_queries(7):
        letters_of(told.crit)
    for _ in range(3):
        seat = factories.SeatFactory(crit=told.crit)
        sheet = factories.JurySheetFactory(
            seat=seat, scheme=told.scheme, locked_at=told.remark.kept_at
        )
        factories.CommentFactory(jury_sheet=sheet, words="Again.")
    with django_assert_num_queries(7):
        assert len(letters_of(told.crit).to_send) == 4


def test_students_allow_it_and_the_leader_reads_and_sends(told):
    Seat.objects.update(email="")
    mate = told.client(told.mate)
    results = reverse("show-results", args=[told.crit.pk, told.scheme.pk])
    assert "Allow it" in read(mate, results)
    consent = reverse("allow-letter", args=[told.crit.pk, told.scheme.pk])
    assert mate.post(consent, {"allowed": "yes"}).status_code == 302
    assert "Allow it no more" in read(told.client(told.student), results)
    assert told.client(told.classmate).post(consent, {"allowed": "no"}).status_code == 403
    leader = told.client(told.leader)
    letter = read(leader, reverse("show-letter", args=[told.crit.pk, told.seat.pk]))
    assert "A gable door." in letter
    assert "One scheme that you remarked on is not told of." in letter
    assert "Too many stairs." not in letter
    url = reverse("show-letters", args=[told.crit.pk])
    page = read(leader, url)
    assert "no address: to print" in page
    sent = leader.post(url, {"seen": letters_of(told.crit).seen}, follow=True)
    assert b"print theirs" in sent.content
    assert "on paper" in read(leader, url)

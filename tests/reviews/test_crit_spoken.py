"""What is said aloud: a line once, put right over what was seen, confirmed by its juror."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.http import Http404
from django.utils import timezone

from criteria.errors import Refused
from reviews import clock
from reviews.deeds import crit_jury_keeping, crit_spoken
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.deeds.crit_releasing import release_crit
from reviews.deeds.crit_spoken import Heard, heard
from reviews.models import Comment, SpokenNote
from reviews.models.briefs import Frozen
from reviews.places import Place
from reviews.versions import Newer
from tests import factories
from tests.reviews.jury_steps import lock


@pytest.fixture
def slot(cast):
    factories.issue_sheets(cast, "02", "06", schemes=[cast.scheme])
    cast.seat.name = "Marek Ostrey"
    cast.seat.save()
    return cast.crit.slots.get(scheme=cast.scheme)


def keep(cast, slot, typed="OST 6C2 prove 765kg wet?", **more):
    more = {"key": uuid4(), **more}
    return crit_spoken.keep_line(slot, cast.scribe, more.pop("key"), typed, **more)


def test_a_line_is_kept_as_typed_with_what_is_read_of_it(cast, slot):
    note = keep(cast, slot)
    assert note.typed == "OST 6C2 prove 765kg wet?"
    assert heard(note) == Heard(cast.seat, "Prove", Place("06", "C2"), "765kg wet?")
    assert note.issued_sheet.revision == note.revision == cast.scheme.revisions.get()


def test_a_line_sent_twice_is_one(cast, slot):
    key = uuid4()
    first, again = keep(cast, slot, key=key), keep(cast, slot, key=key, typed="another")
    assert first == again
    assert SpokenNote.objects.get().typed == first.typed


def test_a_key_of_another_slot_is_refused(cast, slot):
    note = keep(cast, slot)
    other = cast.crit.slots.get(scheme=cast.other_scheme)
    with pytest.raises(Http404):
        keep(cast, other, key=note.key)


def test_a_line_is_of_the_revision_that_its_page_showed(cast, slot):
    shown = cast.scheme.revisions.get()
    factories.issue_sheets(cast, "09", letter="B", schemes=[cast.scheme])
    assert keep(cast, slot, of=shown.pk).revision == shown
    assert keep(cast, slot, of=0).revision is None
    assert keep(cast, slot, "OST 9C2 wet?").place == "09·C2"


@pytest.mark.parametrize("off", [timedelta(hours=1), timedelta(days=-2)])
def test_a_device_with_a_wrong_clock_is_not_believed(cast, slot, off):
    before = clock.now()
    note = keep(cast, slot, said_at=before + off)
    assert before <= note.said_at <= clock.now()


def test_a_line_that_waited_keeps_when_it_was_said(cast, slot):
    said = clock.now() - timedelta(seconds=30)
    if timezone.localdate(said) == cast.crit.day:
        assert keep(cast, slot, said_at=said).said_at == said


def test_nothing_is_taken_down_after_the_release(cast, slot):
    release_crit(cast.crit, cast.leader, "")
    with pytest.raises(Frozen):
        keep(cast, slot)


def test_what_was_read_wrongly_is_put_right_and_the_line_stays(cast, slot):
    note = keep(cast, slot, "who weighed it?")
    sent = Heard(cast.seat, "Prove", Place("6", "C2"), "who weighed the pallet?")
    note = crit_spoken.put_right(note, sent, 1)
    assert (note.typed, note.place, note.version) == ("who weighed it?", "06·C2", 2)
    assert crit_spoken.put_right(note, heard(note), 1).version == 2  # a resend changes nothing
    with pytest.raises(Newer):
        crit_spoken.put_right(note, sent._replace(words="else"), 1)
    with pytest.raises(Refused):
        crit_spoken.put_right(note, sent._replace(place=Place("9", "C2")), 2)


def test_a_juror_confirms_and_it_is_their_comment_once(cast, slot):
    note = keep(cast, slot)
    sent = crit_spoken.said_as(note)
    confirmed = crit_spoken.confirm(note, cast.seat, sent, 1)
    again = crit_spoken.confirm(note, cast.seat, sent._replace(words="else"), 1)
    comment = Comment.objects.get()
    assert confirmed.comment == again.comment == comment
    assert (comment.kind, comment.place, comment.words) == ("Prove", "06·C2", "765kg wet?")
    assert comment.jury_sheet.seat == cast.seat


def test_a_confirmed_note_changes_no_more(cast, slot):
    note = crit_spoken.confirm(keep(cast, slot), cast.seat, CommentSent(words="Wet?"), 1)
    for deed in (
        lambda: crit_spoken.put_right(note, Heard(None, "", Place(), "x"), 2),
        lambda: crit_spoken.take_off(note, 2),
        lambda: crit_spoken.say_whose(note, None, 2),
    ):
        with pytest.raises(Frozen):
            deed()


def test_another_jurors_note_is_not_confirmed(cast, slot):
    other = factories.SeatFactory(crit=cast.crit, name="Pia Norrow")
    note = keep(cast, slot)
    with pytest.raises(Frozen):
        crit_spoken.confirm(note, other, CommentSent(words="Wet?"), 1)
    assert not Comment.objects.exists()


def test_a_confirmation_over_a_later_change_is_refused(cast, slot):
    note = keep(cast, slot)
    crit_spoken.put_right(note, heard(note)._replace(words="wet or dry?"), 1)
    with pytest.raises(Newer):
        crit_spoken.confirm(note, cast.seat, CommentSent(words="765kg wet?"), 1)


def test_a_note_of_nobody_known_is_claimed_and_given_back(cast, slot):
    note = keep(cast, slot, "??? 2A1 is that a ramp or a wish")
    note = crit_spoken.say_whose(note, cast.seat, 1)
    assert note.seat == cast.seat
    assert crit_spoken.say_whose(note, None, 2).seat is None


def test_what_was_held_stays_held_as_a_comment(cast, slot):
    note = crit_spoken.hold_note(keep(cast, slot), cast.leader, "Tone")
    comment = crit_spoken.confirm(note, cast.seat, CommentSent(words="Lazy."), 1).comment
    lock(cast, cast.seat)
    assert (comment.held_at, comment.held_reason) == (note.held_at, "Tone")
    assert not SpokenNote.objects.standing().exists()


def test_each_side_puts_back_only_what_it_took_off(cast, slot):
    note = crit_spoken.take_off(keep(cast, slot), 1, by_juror=True)
    with pytest.raises(Frozen):
        crit_spoken.put_back(note, 2)
    assert crit_spoken.put_back(note, 2, by_juror=True).removed_at is None


def test_what_was_sent_in_the_evening_changes_no_more(cast, slot):
    note = keep(cast, slot)
    SpokenNote.objects.update(sent_at=clock.now())
    with pytest.raises(Frozen):
        crit_spoken.confirm(note, cast.seat, CommentSent(words="Wet?"), 1)
    with pytest.raises(Frozen):
        crit_spoken.take_off(note, 1)


# which of them students read


def standing():
    return set(SpokenNote.objects.standing().values_list("typed", flat=True))


def test_unconfirmed_gaps_and_drafts_never_locked_are_read_as_spoken(cast, slot):
    keep(cast, slot, "plain")
    keep(cast, slot, "", is_gap=True)
    draft = keep(cast, slot, "draft")
    crit_spoken.confirm(draft, cast.seat, CommentSent(words="draft"), 1)
    assert standing() == {"plain", "", "draft"}
    lock(cast, cast.seat)
    assert standing() == {"plain", ""}


def test_taken_off_and_left_off_are_not_read(cast, slot):
    crit_spoken.take_off(keep(cast, slot, "off"), 1)
    note = crit_spoken.confirm(keep(cast, slot, "left"), cast.seat, CommentSent(words="l"), 1)
    crit_jury_keeping.remove_comment(cast.seat, cast.scheme, note.comment.key, 1)
    assert standing() == set()


def test_of_a_juror_who_steps_aside_nothing_is_read(cast, slot):
    keep(cast, slot)
    factories.InterestFactory(seat=cast.seat, scheme=cast.scheme, may_comment=False)
    assert standing() == set()


def test_holding_and_letting_go_is_told_once(cast, slot):
    note = keep(cast, slot)
    for _ in range(2):
        crit_spoken.hold_note(note, cast.leader, "Tone")
    assert cast.studio.audit_lines.filter(about__contains="spoken note held").count() == 1
    assert crit_spoken.let_go_note(note, cast.leader).held_at is None

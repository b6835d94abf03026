"""What must be decided before a release, proofs that notice a change, and a minute that is kept."""

from datetime import datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews import background
from reviews.deeds import crit_jury_keeping, crit_moderating, crit_release_setting, crit_releasing
from reviews.deeds.crit_releasing import Changed, Undecided
from reviews.models import (
    AgreedLevel,
    AuditLine,
    ClockEntry,
    Comment,
    Crit,
    Mail,
    Membership,
    OpposedPair,
    OwnReleaseWords,
    Rewording,
    Verdict,
)
from reviews.models.briefs import Frozen
from reviews.reading.crit_release import SUGGESTED, Standing, why_not_now
from reviews.reading.crit_release_read import read_release
from tests import factories
from tests.reviews.page_steps import text_of

MONDAY = timezone.make_aware(datetime(2026, 12, 7, 9, 30))
"""A due minute: a Monday."""


def _locked(cast, seat, scheme, level=3):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(seat, scheme, criterion, level, 0)
    return crit_jury_keeping.lock_sheet(seat, scheme)


@pytest.fixture
def judged(cast, monkeypatch):
    """Both schemes locked, each with a comment; the Sunday before."""
    monkeypatch.setattr("reviews.clock.now", lambda: MONDAY - timedelta(hours=18))
    for scheme in (cast.scheme, cast.other_scheme):
        sheet = _locked(cast, cast.seat, scheme)
        factories.CommentFactory(jury_sheet=sheet, words="Weigh it wet.", kind="Keep")
    return cast


def _told(cast):
    return read_release(Crit.objects.get(pk=cast.crit.pk))


def _read_all(cast):
    for each in _told(cast).schemes:
        crit_release_setting.read_proof(cast.crit, each.scheme, cast.leader, each.seen)


def _keys(cast):
    return {item.key.partition("-")[0] for item in _told(cast).items}


def _set(cast, **more):
    told = {"reasons": {}, "seen": _told(cast).seen} | more
    return crit_release_setting.set_due(cast.crit, cast.leader, "Words.", MONDAY, **told)


def _crit(cast):
    return Crit.objects.get(pk=cast.crit.pk)


# what must be decided


def test_nothing_is_to_decide_once_every_scheme_is_read(judged):
    assert _keys(judged) == {"unread"}
    _read_all(judged)
    assert not _told(judged).items
    _read_all(judged)
    assert AuditLine.objects.filter(deed="proofed").count() == 2


def test_each_thing_that_is_open_is_named_and_only_a_hazard_takes_no_reason(judged):
    cast = judged
    first = Comment.objects.get(jury_sheet__scheme=cast.scheme)
    second = factories.CommentFactory(jury_sheet=first.jury_sheet, kind="Hazard", words="Fire.")
    zoe = factories.SeatFactory(crit=cast.crit, name="Zoe")
    crit_jury_keeping.keep_level(zoe, cast.scheme, cast.criterion, 5, 0)
    told = {"crit": cast.crit, "scheme": cast.scheme, "by": cast.leader}
    pair = OpposedPair.objects.create(first=first, second=second, **told)
    offer = Rewording.objects.create(
        comment=first, words="Weigh.", was=first.words, offered_by=cast.leader
    )
    Comment.objects.filter(pk=first.pk).update(held_at=timezone.now(), held_by=None)
    Verdict.objects.create(**(told | {"scheme": cast.other_scheme}), kind="go-on")
    _read_all(cast)
    kinds = {"hazard", "held", "pair", "rewording", "sheet", "verdict"}
    assert _keys(cast) == kinds
    assert [i.key.partition("-")[0] for i in _told(cast).items if not i.can_stay] == ["hazard"]
    reasons = {item.key: "So be it." for item in _told(cast).items}
    with pytest.raises(Undecided, match="hazard not decided"):
        _set(cast, reasons=reasons)
    Comment.objects.filter(pk=second.pk).update(decided_at=timezone.now() + timedelta(days=1))
    OpposedPair.objects.filter(pk=pair.pk).update(ruling="Argue it.")
    Rewording.objects.filter(pk=offer.pk).update(reply="refused")
    _read_all(cast)
    assert _keys(cast) == {"held", "sheet", "verdict"}
    with pytest.raises(Undecided, match="no verdict"):
        _set(cast, reasons={k: why for k, why in reasons.items() if "verdict" not in k})
    _set(cast, reasons=reasons)
    assert AuditLine.objects.filter(about__contains="let stand: sheet: So be it.").exists()


def test_a_wide_level_must_be_agreed_only_where_this_crit_agrees_levels(judged):
    cast = judged
    _locked(cast, factories.SeatFactory(crit=cast.crit, name="Zoe"), cast.scheme, level=5)
    assert _keys(cast) == {"unread"}
    assert "two levels or more apart" in " ".join(_told(cast).schemes[0].lines)
    told = {"by": cast.leader, "level": 4}
    AgreedLevel.objects.create(criterion=cast.criterion, scheme=cast.scheme, **told)
    (item,) = [i for i in _told(cast).items if i.key.startswith("levels")]
    assert "F2" in item.words
    assert "F1" not in item.words


# proofs


CHANGES = {
    "your words to them": lambda c: OwnReleaseWords.objects.create(
        crit=c.crit, scheme=c.scheme, words="To you.", by=c.leader
    ),
    "the verdict": lambda c: Verdict.objects.create(
        crit=c.crit, scheme=c.scheme, kind="go-on", by=c.leader
    ),
    "agreed levels": lambda c: AgreedLevel.objects.create(
        criterion=c.criterion, scheme=c.scheme, level=2, by=c.leader
    ),
    "jurors' levels": lambda c: _locked(
        c, factories.SeatFactory(crit=c.crit, name="Zoe"), c.scheme
    ),
    "comments": lambda c: crit_moderating.hold_comment(
        Comment.objects.get(jury_sheet__scheme=c.scheme), c.leader, "About the person."
    ),
    "spoken notes": lambda c: factories.SpokenNoteFactory(
        slot=c.crit.slots.get(scheme=c.scheme), by=c.scribe, seat=c.seat
    ),
    "names and criteria": lambda c: (
        type(c.scheme).objects.filter(pk=c.scheme.pk).update(name="Lea")
    ),
}


def test_what_changes_after_it_was_read_is_named_and_read_again(judged):
    cast = judged
    for part, change in CHANGES.items():
        _read_all(cast)
        seen = _told(cast).of(cast.scheme.pk).seen
        change(cast)
        out = _told(cast).of(cast.scheme.pk)
        assert (out.is_read, out.changed) == (False, [part])
        with pytest.raises(Changed):
            crit_release_setting.read_proof(cast.crit, cast.scheme, cast.leader, seen)
        other = _told(cast).of(cast.other_scheme.pk)
        assert other.is_read, part


def test_the_queries_of_a_release_do_not_grow_with_schemes_and_words(judged):
    cast = judged

    def queries():
        with CaptureQueriesContext(
            connection,
        ) as asked:
            _told(cast)
        return len(asked)

    few = queries()
    zoe = factories.SeatFactory(crit=cast.crit, name="Zoe")
    for n in range(4):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"R1{n}")
        factories.SlotFactory(crit=cast.crit, scheme=scheme, position=3 + n)
        sheet = _locked(cast, zoe, scheme)
        comment = factories.CommentFactory(jury_sheet=sheet)
        told = {"crit": cast.crit, "scheme": scheme, "by": cast.leader}
        other = factories.CommentFactory(jury_sheet=sheet)
        OpposedPair.objects.create(first=comment, second=other, **told)
        Verdict.objects.create(kind="go-on", **told)
        OwnReleaseWords.objects.create(words="To you.", **told)
    assert queries() == few


# words of their own


def test_whoever_is_told_something_else_is_told_ours_until_the_leader_writes(judged):
    cast = judged
    ClockEntry.objects.create(
        slot=cast.crit.slots.get(scheme=cast.scheme),
        deed="silent",
        at=timezone.now(),
        by=cast.leader,
    )
    cast.other_scheme.withdrawn_at = timezone.now()
    cast.other_scheme.save()
    assert [each.standing for each in _told(cast).schemes] == [Standing.SILENT, Standing.WITHDRAWN]
    crit_release_setting.keep_own_words(cast.crit, cast.scheme, cast.leader, "Come and see me.", 0)
    crit_releasing.release_crit(cast.crit, cast.leader, "To the class.")
    words = {own.scheme_id: own.words for own in OwnReleaseWords.objects.all()}
    assert words == {
        cast.scheme.pk: "Come and see me.",
        cast.other_scheme.pk: SUGGESTED[Standing.WITHDRAWN],
    }
    page = cast.client(cast.student).get(
        reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    )
    assert "Come and see me." in text_of(page)
    assert "To the class." not in text_of(page)


def test_whoever_was_ill_and_is_offered_another_time_was_away_as_agreed(judged):
    cast = judged
    told = {"slot": cast.crit.slots.get(scheme=cast.scheme), "by": cast.leader}
    for n, deed in enumerate(("agreed", "offered")):
        ClockEntry.objects.create(deed=deed, at=MONDAY + timedelta(minutes=n), **told)
    assert _told(cast).of(cast.scheme.pk).standing is Standing.AGREED


def test_a_scheme_that_shows_again_is_told_so(judged):
    cast = judged
    told = {"crit": cast.crit, "scheme": cast.scheme, "by": cast.leader}
    Verdict.objects.create(kind="again", criteria=["F1"], **told)
    assert _told(cast).of(cast.scheme.pk).words == SUGGESTED[Standing.AGAIN]


# the minute


@pytest.mark.parametrize(
    ("day", "hour", "minute", "is_let"),
    [(7, 8, 59, False), (7, 9, 0, True), (11, 17, 0, True), (11, 17, 1, False),
     (12, 10, 0, False), (13, 10, 0, False)],
)  # fmt: skip
def test_results_go_out_on_working_days_from_nine_to_five(day, hour, minute, is_let):
    at = timezone.make_aware(datetime(2026, 12, day, hour, minute))
    assert (why_not_now(at) == "") is is_let


def test_what_is_due_goes_out_once_and_not_before(judged):
    cast = judged
    _read_all(cast)
    _set(cast)
    background.go_round(MONDAY - timedelta(seconds=1))
    assert not _crit(cast).is_released
    for late in (40, 41):
        crit_release_setting.release_due(MONDAY + timedelta(minutes=late))
    crit = _crit(cast)
    assert (crit.released_at, crit.released_by) == (MONDAY + timedelta(minutes=40), cast.leader)
    assert (crit.release_words, crit.release_due_at) == ("Words.", None)
    assert AuditLine.objects.filter(deed="released").count() == 1


STOPS = {
    "something of R01 has changed": lambda c: crit_moderating.hold_comment(
        Comment.objects.get(jury_sheet__scheme=c.scheme), c.leader, "About the person."
    ),
    "leads the studio no more": lambda c: Membership.objects.filter(person=c.leader).update(
        role="scribe"
    ),
}


@pytest.mark.parametrize("why", STOPS)
def test_what_has_changed_since_it_was_read_does_not_go_out_and_the_leader_hears_of_it(judged, why):
    cast = judged
    second = factories.PersonFactory(name="Ada Second", email="ada2@example.org")
    factories.MembershipFactory(studio=cast.studio, person=second, role="leader")
    _read_all(cast)
    _set(cast)
    STOPS[why](cast)
    for _ in range(2):
        crit_release_setting.release_due(MONDAY)
    crit = _crit(cast)
    assert not crit.is_released
    assert crit.release_due_at is None
    assert why in crit.release_stopped
    told = Mail.objects.filter(kind="stopped", person=second)
    assert told.count() == 1
    assert why in text_of(cast.client(second).get(reverse("release-crit", args=[crit.pk])))


def test_a_server_that_was_away_for_over_an_hour_releases_nothing(judged):
    cast = judged
    _read_all(cast)
    _set(cast)
    crit_release_setting.release_due(MONDAY + timedelta(minutes=61))
    assert "away for more than an hour" in _crit(cast).release_stopped
    assert not _crit(cast).is_released


def test_a_minute_is_unset_and_one_that_is_over_or_at_night_is_not_set(judged):
    cast = judged
    _read_all(cast)
    _set(cast)
    for _ in range(2):
        crit_release_setting.unset_due(cast.crit, cast.leader)
    crit_release_setting.release_due(MONDAY)
    assert not _crit(cast).is_released
    told = {"reasons": {}, "seen": _told(cast).seen}
    for due, why in (
        (MONDAY - timedelta(days=3), "is over"),
        (MONDAY + timedelta(hours=12), "Expected a minute on a Monday to Friday"),
    ):
        with pytest.raises(Frozen, match=why):
            crit_release_setting.set_due(cast.crit, cast.leader, "Words.", due, **told)
    with pytest.raises(Frozen, match="It is Sunday"):
        crit_release_setting.release_now(cast.crit, cast.leader, "Words.", **told)


# the pages


def test_a_leader_leafs_through_the_proofs_and_sets_the_minute(judged):
    cast = judged
    leader, at = cast.client(cast.leader), reverse("release-crit", args=[cast.crit.pk])
    kept = leader.post(at, {"do": "keep", "words": "Two sentences."}, follow=True)
    assert "2 of 2 to read" in text_of(kept)
    for scheme, then in ((cast.scheme, cast.other_scheme), (cast.other_scheme, None)):
        proof = reverse("proof-scheme", args=[cast.crit.pk, scheme.pk])
        page = leader.get(proof)
        assert "Two sentences." in text_of(page)
        assert "Weigh it wet." in text_of(page)
        ticked = leader.post(proof, {"do": "read", "seen": page.context["proof"]["out"].seen})
        assert ticked.url == (reverse("proof-scheme", args=[cast.crit.pk, then.pk]) if then else at)
    page = leader.get(at)
    assert "Public holidays" in text_of(page)
    form = page.context["form"]
    sent = {"do": "due", "seen": form["seen"].value(), "words": "Two.", "due": "2026-12-07T20:00"}
    assert "Expected a minute on a Monday" in text_of(leader.post(at, sent))
    page = leader.post(at, sent | {"due": "2026-12-07T09:30"}, follow=True)
    assert "Set for" in text_of(page)
    leader.post(reverse("unset-release", args=[cast.crit.pk]))
    assert _crit(cast).release_due_at is None


def test_own_words_over_newer_ones_show_both(judged):
    cast = judged
    leader, at = (
        cast.client(cast.leader),
        reverse("proof-scheme", args=[cast.crit.pk, cast.scheme.pk]),
    )
    sent = {"do": "words", "seen": "0", "words": "To you."}
    assert leader.post(at, sent).status_code == 302
    again = leader.post(at, sent | {"words": "To you two."})
    assert again.status_code == 409
    assert "To you." in text_of(again)
    assert "To you two." in text_of(again)
    assert OwnReleaseWords.objects.get().words == "To you."


def test_a_leader_reads_who_opened_it_and_after_a_week_who_has_not(judged, monkeypatch):
    cast = judged
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.", at=MONDAY)
    cast.client(cast.student).get(reverse("show-results", args=[cast.crit.pk, cast.scheme.pk]))
    leader, at = cast.client(cast.leader), reverse("release-crit", args=[cast.crit.pk])
    page = text_of(leader.get(at))
    assert "2 of 3 students not yet" in page
    assert "A week has passed" not in page
    monkeypatch.setattr("reviews.clock.now", lambda: MONDAY + timedelta(days=7))
    page = text_of(leader.get(at))
    assert "Not opened by Mira Mate (R01), Clem Classmate (R02)" in page

"""A re-crit: what is open is shown again, levels rise to a cap, the record before it stands."""

from datetime import time, timedelta
from fractions import Fraction

import pytest
from django.http import Http404
from django.urls import reverse
from django.utils import timezone

from criteria.scoring.recrit import Outcome
from reviews.deeds import (
    comment_answering,
    crit_jury_keeping,
    crit_planning,
    crit_releasing,
    recrit_closing,
    recrit_scoping,
)
from reviews.deeds.comment_answering import AnswerSent
from reviews.deeds.crit_running_order import order_before
from reviews.deeds.recrit_closing import Decided
from reviews.deeds.revision_issuing import next_crit
from reviews.models import (
    AgreedLevel,
    ClockEntry,
    Closing,
    Comment,
    Crit,
    LevelGiven,
    SecondLook,
    Verdict,
)
from reviews.models.briefs import Frozen
from reviews.reading.crit_release_read import read_release
from reviews.reading.recrit_levels import levels_again
from reviews.reading.recrit_panels import small_panels
from reviews.reading.recrit_scope import AGREED, asked_of, open_comments, scope_of, scopes_of
from reviews.versions import Newer
from tests import factories
from tests.reviews.jury_steps import HTMX, lock, read


@pytest.fixture
def judged(cast):
    """The crit judged and released: show again, with one criterion and a hazard open."""
    sheet = lock(cast, cast.seat, 2)
    cast.hazard = factories.CommentFactory(
        jury_sheet=sheet, kind="Hazard", words="One way out.", criterion=cast.criterion
    )
    cast.keep = factories.CommentFactory(jury_sheet=sheet, kind="Keep", words="The fire.")
    Verdict.objects.create(
        crit=cast.crit,
        scheme=cast.scheme,
        kind=Verdict.Kind.AGAIN,
        criteria=[cast.criterion.code],
        words="Draw the second way out.",
        by=cast.leader,
    )
    cast.crit = crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    return cast


@pytest.fixture
def again(judged):
    """Its re-crit, laid out, with one original juror and one new."""
    day = timezone.localdate() + timedelta(days=19)
    crit = factories.CritFactory(studio=judged.studio, kind="re-crit", day=day)
    Crit.objects.filter(pk=crit.pk).update(follows=judged.crit, level_cap=3)
    crit = Crit.objects.get(pk=crit.pk)
    recrit_scoping.lay_out(
        crit, {judged.scheme.pk}, recrit_scoping.seen_of(crit), judged.leader, first_at=time(9)
    )
    judged.again = crit
    judged.old_seat = factories.SeatFactory(crit=crit, name=judged.seat.name)
    judged.new_seat = factories.SeatFactory(crit=crit, name="Nell New")
    return judged


def criterion_of(again):
    return again.again.criteria.get()


def judge(again, level=4):
    for seat in (again.old_seat, again.new_seat):
        crit_jury_keeping.keep_level(seat, again.scheme, criterion_of(again), level, 0)
        crit_jury_keeping.lock_sheet(seat, again.scheme)


def test_it_proposes_what_the_earlier_crit_asks_for(judged):
    crit = factories.CritFactory(studio=judged.studio, kind="re-crit")
    crit.follows = judged.crit
    first, second = scopes_of(crit)
    assert (first.scheme, first.why, first.comments) == (judged.scheme, "show again", 1)
    assert first.open_codes == (judged.criterion.code,)
    assert (second.scheme, second.why) == (judged.other_scheme, "nothing was issued for it by then")
    slot = judged.crit.slots.get(scheme=judged.other_scheme)
    ClockEntry.objects.create(
        slot=slot, deed=ClockEntry.Deed.STOOD_DOWN_AGREED, at=timezone.now(), by=judged.leader
    )
    scope = scope_of(crit, judged.other_scheme)
    assert (scope.why, scope.is_without_prejudice) == (AGREED, True)
    assert scope.open_codes == tuple(each.code for each in judged.crit.criteria.all())


def test_layout_gives_short_slots_and_copies_open_criteria_alone(again):
    slot = again.again.slots.get()
    assert (slot.scheme, slot.starts_at) == (again.scheme, time(9))
    assert again.again.slot_parts.slot_min == 15
    copied = criterion_of(again)
    kept = ("code", "name", "weight", "level_4")
    assert [getattr(copied, name) for name in kept] == [
        getattr(again.criterion, name) for name in kept
    ]
    seen = recrit_scoping.seen_of(again.again)
    with pytest.raises(Newer):
        recrit_scoping.lay_out(again.again, set(), seen + 1, again.leader)
    recrit_scoping.lay_out(again.again, {again.scheme.pk}, seen, again.leader)
    assert (again.again.criteria.count(), again.again.slots.count()) == (1, 1)


def test_a_crit_without_one_before_it_has_nothing_to_lay_out(cast):
    with pytest.raises(Frozen, match="follows no crit"):
        recrit_scoping.lay_out(cast.crit, set(), 0, cast.leader)


def test_levels_rise_to_the_cap_and_the_record_before_stays(again):
    before = list(LevelGiven.objects.filter(jury_sheet__seat__crit=again.crit).values())
    judge(again, 4)
    levels = levels_again(again.again, again.scheme)
    asked, kept = levels.lines
    assert (asked.shown.before, asked.shown.again, asked.shown.level) == (2, 4, 3)
    assert asked.shown.outcome is Outcome.CAPPED
    assert (kept.shown.level, kept.shown.outcome) == (2, Outcome.NOT_ASKED)
    assert asked.why == "Judged Resolved; capped at Worked through as the school sets"
    # by hand: both weigh the same
    assert levels.sheet.after.value == Fraction(5, 2)
    assert list(LevelGiven.objects.filter(jury_sheet__seat__crit=again.crit).values()) == before


def test_agreed_levels_count_before_means_and_a_level_never_falls(again):
    AgreedLevel.objects.create(
        criterion=again.criterion, scheme=again.scheme, level=3, by=again.leader
    )
    judge(again, 2)
    asked = levels_again(again.again, again.scheme).lines[0].shown
    assert (asked.before, asked.level, asked.outcome) == (3, 3, Outcome.KEPT)


def test_who_was_away_by_agreement_is_held_by_no_cap(again):
    LevelGiven.objects.all().delete()
    Comment.objects.all().delete()
    again.crit.seats.get(pk=again.seat.pk).sheets.all().delete()
    ClockEntry.objects.create(
        slot=again.crit.slots.get(scheme=again.scheme),
        deed=ClockEntry.Deed.STOOD_DOWN_AGREED,
        at=timezone.now(),
        by=again.leader,
    )
    judge(again, 5)
    levels = levels_again(again.again, again.scheme)
    assert levels.cap is None
    assert levels.lines[0].shown.level == 5


def test_a_recrit_of_a_recrit_goes_back_to_the_whole_sheet(again):
    judge(again, 3)
    crit_releasing.release_crit(again.again, again.leader, "Words.")
    after = again.again.day + timedelta(days=21)
    third = factories.CritFactory(studio=again.studio, kind="re-crit", day=after)
    third.follows = Crit.objects.get(pk=again.again.pk)
    third.save()
    factories.SlotFactory(crit=third, scheme=again.scheme)
    found = levels_again(third, again.scheme)
    assert [line.shown.before for line in found.lines] == [3, 2]
    assert [each.pk for each in open_comments(third, [again.scheme.pk])] == [again.hazard.pk]


def test_only_open_criteria_are_asked_and_taken(again):
    extra = factories.CriterionFactory(crit=again.again, code=again.other_criterion.code)
    assert asked_of(again.again, again.scheme.pk) == [
        again.again.criteria.get(code=again.criterion.code)
    ]
    with pytest.raises(Frozen, match="isn't open"):
        crit_jury_keeping.keep_level(again.new_seat, again.scheme, extra, 4, 0)
    page = read(again.client(again.new_seat), reverse("show-jury-sheet", args=[again.scheme.pk]))
    assert f"level-{extra.pk}" not in page
    crit_jury_keeping.keep_level(
        again.new_seat, again.scheme, again.again.criteria.get(code=again.criterion.code), 3, 0
    )
    assert crit_jury_keeping.lock_sheet(again.new_seat, again.scheme).is_locked


def test_the_sheet_shows_before_and_after_and_no_level_of_then(again):
    comment_answering.answer_comment(
        again.hazard, again.student, AnswerSent("Taken up", "A gable door.", ""), 0
    )
    page = read(again.client(again.new_seat), reverse("show-jury-sheet", args=[again.scheme.pk]))
    for words in ("Draw the second way out.", "One way out.", "A gable door.", "Taken up"):
        assert words in page
    assert "The fire." not in page
    assert 'aria-pressed="true"' not in page.partition('id="again"')[2].partition("</section>")[0]
    ordinary = read(again.client(again.seat), reverse("show-jury-sheet", args=[again.scheme.pk]))
    assert 'id="again"' not in ordinary


def test_what_changed_since_is_on_the_sheet(again, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    was, now = (
        factories.RevisionFactory(
            scheme=again.scheme,
            letter=letter,
            crit=crit,
            issued_by=again.student,
            contents={
                "statement": letter,
                "site": dict(again.studio.brief.site),
                "sheets": [],
                "schedules": {},
                "targets": [],
            },
        )
        for letter, crit in (("A", again.crit), ("B", again.again))
    )
    LevelGiven.objects.update(revision=was)
    page = read(again.client(again.new_seat), reverse("show-jury-sheet", args=[again.scheme.pk]))
    assert "what changed since revision A" in page
    assert reverse("show-changes", args=[now.pk]) in page


def test_a_tap_is_kept_once_and_met_by_another(again):
    client = again.client(again.new_seat)
    url = reverse("keep-second-look", args=[again.scheme.pk, again.hazard.pk])
    sent = {"said": "closed", "seen": "0", "of": "0"}
    for _ in range(2):
        assert client.post(url, sent, headers=HTMX).status_code == 200
    look = SecondLook.objects.get()
    assert (look.is_closed, look.version, look.jury_sheet.seat) == (True, 1, again.new_seat)
    refused = client.post(url, sent | {"said": "one-more"}, headers=HTMX)
    assert refused.status_code == 409
    assert b"another device" in refused.content
    assert client.post(url, sent | {"said": "one-more", "seen": "1"}).status_code == 302
    assert not SecondLook.objects.get().is_closed
    assert b"Expected closed" in client.post(url, {"said": "?", "seen": "2"}, headers=HTMX).content
    assert client.post(url, {"said": "?", "seen": "2"}).status_code == 200
    shut = reverse("keep-second-look", args=[again.scheme.pk, again.keep.pk])
    assert client.post(shut, sent).status_code == 404


def test_a_locked_sheet_takes_no_tap(again):
    judge(again)
    with pytest.raises(Frozen):
        recrit_closing.keep_second_look(again.new_seat, again.scheme, again.hazard.pk, True, 0)
    with pytest.raises(Http404):
        recrit_closing.keep_second_look(again.new_seat, again.scheme, 0, True, 0)


def test_what_a_leader_closes_is_told_at_the_release_alone(again):
    decided = {again.hazard.pk: Decided(True, "The gable door does it.")}
    assert recrit_closing.decide_comments(again.again, again.scheme, decided, again.leader) == 1
    assert recrit_closing.decide_comments(again.again, again.scheme, decided, again.leader) == 0
    assert not Closing.objects.standing().exists()
    assert Closing.objects.proposed(again.again).get().is_closed
    with pytest.raises(Newer):
        recrit_closing.decide_comments(
            again.again, again.scheme, {again.hazard.pk: Decided(False)}, again.leader
        )
    judge(again)
    crit_releasing.release_crit(again.again, again.leader, "Words.")
    assert Closing.objects.standing().get().comment == again.hazard
    with pytest.raises(Frozen):
        recrit_closing.decide_comments(again.again, again.scheme, decided, again.leader)


def test_the_leader_reads_both_and_decides(again):
    recrit_closing.keep_second_look(again.new_seat, again.scheme, again.hazard.pk, True, 0)
    judge(again)
    leader = again.client(again.leader)
    url = reverse("decide-again", args=[again.again.pk, again.scheme.pk])
    page = read(leader, url)
    assert "Capped at 3" in page or "capped at 3 as the school sets" in page
    assert "1 of 1 say closed" in page
    sent = {f"c{again.hazard.pk}-said": "closed", f"c{again.hazard.pk}-words": "Drawn."}
    assert leader.post(url, sent).status_code == 302
    assert leader.post(url, sent | {f"c{again.hazard.pk}-words": "Other."}).status_code == 409
    assert Closing.objects.proposed(again.again).get().words == "Drawn."
    earlier = reverse("decide-again", args=[again.crit.pk, again.scheme.pk])
    assert leader.get(earlier).status_code == 404


def test_the_leader_lays_it_out_on_its_page(judged):
    leader = judged.client(judged.leader)
    url = reverse("open-crit", args=[judged.studio.pk])
    eve, day, after = (timezone.localdate() + timedelta(days=n) for n in (18, 19, 20))
    sent = {"kind": "re-crit", "day": f"{day}", "pens_down": f"{eve} 18:00"}
    assert leader.post(url, sent | {"level_cap": "6"}).status_code == 200
    leader.post(url, sent | {"follows_id": judged.crit.pk, "level_cap": "3"})
    crit = Crit.objects.get(kind="re-crit")
    assert (crit.follows, crit.level_cap) == (judged.crit, 3)
    address = reverse("lay-out-recrit", args=[crit.pk])
    page = read(leader, address)
    assert "show again" in page
    sent = {
        "schemes": [judged.scheme.pk],
        "seen": recrit_scoping.seen_of(crit),
        "first_at": "10:30",
    }
    assert b"Expected an hour" in leader.post(address, sent | {"first_at": "ten"}).content
    assert leader.post(address, sent).status_code == 302
    assert crit.slots.get().starts_at == time(10, 30)
    assert "Nobody is seated yet" in read(leader, address)
    final = {"kind": "final", "day": f"{after}", "pens_down": f"{day} 18:00"}
    refused = leader.post(url, final | {"follows_id": judged.crit.pk})
    assert b"this isn" in refused.content
    assert crit_planning.followed(judged.studio, judged.crit) == []


def test_the_panel_is_warned_about(again):
    (panel,) = small_panels(again.again)
    assert (panel.original, panel.new, panel.words) == ((again.seat.name,), ("Nell New",), ())
    again.old_seat.delete()
    (panel,) = small_panels(again.again)
    assert "two or three are usual" in panel.words[0]


def test_a_recrit_turns_no_rotation(again):
    later = factories.CritFactory(studio=again.studio, day=again.again.day + timedelta(days=9))
    assert order_before(later) == [
        slot.scheme.number for slot in again.crit.slots.select_related("scheme")
    ]


def test_students_read_what_to_show_again_and_nothing_that_is_said_of_it(again):
    student = again.client(again.student)
    url = reverse("show-scope", args=[again.scheme.pk])
    page = read(student, url)
    for words in ("Draw the second way out.", "One way out.", "to 3 at most", "No answer yet"):
        assert words in page
    recrit_closing.keep_second_look(again.new_seat, again.scheme, again.hazard.pk, True, 0)
    decided = {again.hazard.pk: Decided(True, "Done.")}
    recrit_closing.decide_comments(again.again, again.scheme, decided, again.leader)
    assert "Done." not in read(student, url)
    other = read(again.client(again.leader), reverse("show-scope", args=[again.other_scheme.pk]))
    assert "Nothing is to be shown again" in other


def test_the_class_is_not_told_who_shows_again(again):
    factories.SlotFactory(crit=again.again, scheme=again.other_scheme, position=2)
    order = reverse("show-order", args=[again.again.pk])
    page = reverse("show-crit", args=[again.again.pk])
    own, other = again.scheme.name, again.other_scheme.name
    for who, seen in (
        ("student", {own}),
        ("classmate", {other}),
        ("examiner", set()),
        ("scribe", {own, other}),
        ("leader", {own, other}),
        ("coordinator", {own, other}),
    ):
        client = again.client(getattr(again, who))
        for address in (order, page):
            shown = read(client, address).partition("<main")[2].partition("<footer")[0]
            told = {name for name in (own, other) if name in shown}
            assert told == seen, (who, address)


def test_an_issue_is_for_it_only_of_who_shows_again(again):
    at, crits = timezone.now(), [again.again]
    again.again.day = timezone.localdate(at)
    assert next_crit(crits, at, again.scheme.pk) == again.again
    assert next_crit(crits, at, again.other_scheme.pk) is None


def test_results_say_before_after_and_why(again):
    judge(again, 4)
    decided = {again.hazard.pk: Decided(False, "Draw its stair.")}
    recrit_closing.decide_comments(again.again, again.scheme, decided, again.leader)
    student = again.client(again.student)
    results = reverse("show-results", args=[again.again.pk, again.scheme.pk])
    assert student.get(results).status_code == 404
    crit_releasing.release_crit(again.again, again.leader, "Words.")
    page = read(student, results)
    for words in ("Roughed out", "capped at Worked through", "Draw its stair.", "One more answer"):
        assert words in page
    before = read(student, reverse("show-results", args=[again.crit.pk, again.scheme.pk]))
    assert "Before and after" not in before


def test_what_was_open_is_decided_before_the_release(again):
    judge(again, 3)
    items = [item for each in read_release(again.again).schemes for item in each.items]
    assert f"again-{again.hazard.pk}" in [item.key for item in items]
    page = read(again.client(again.leader), reverse("release-crit", args=[again.again.pk]))
    assert reverse("decide-again", args=[again.again.pk, again.scheme.pk]) in page
    seen = read_release(again.again).schemes[0].seen
    decided = {again.hazard.pk: Decided(True)}
    recrit_closing.decide_comments(again.again, again.scheme, decided, again.leader)
    (out,) = read_release(again.again).schemes
    assert f"again-{again.hazard.pk}" not in [item.key for item in out.items]
    assert out.seen != seen

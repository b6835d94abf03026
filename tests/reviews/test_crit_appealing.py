"""Appeals: the trail as it stood, who reads what of it, a decision that corrects and erases not."""

import re
from uuid import uuid4

import pytest
from django.core import mail as outbox
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import (
    crit_appealing,
    crit_jury_keeping,
    crit_moderating,
    crit_releasing,
    mail_sending,
)
from reviews.deeds.conversation_keeping import TalkSent, keep_conversation
from reviews.deeds.crit_appealing import Decision
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import (
    AgreedLevel,
    Appeal,
    AuditLine,
    Conversation,
    Correction,
    LevelGiven,
    Person,
    Verdict,
)
from reviews.models.briefs import Frozen
from reviews.places import Place
from reviews.reading.crit_trail import trail_of
from tests import factories

HELD, INTEREST, MATE = "You gave up.", "declared an interest", "Mary Mate"


@pytest.fixture
def released(cast):
    """Two jurors on the scheme, a sheet opened again, a comment held; released."""
    other = factories.SeatFactory(crit=cast.crit, name="Zoe Zander")
    for seat, levels in ((cast.seat, (2, 4)), (other, (5, 1))):
        for criterion, level in zip((cast.criterion, cast.other_criterion), levels, strict=True):
            crit_jury_keeping.keep_level(seat, cast.scheme, criterion, level, 0)
    sent = CommentSent("Rework", Place(), None, HELD)
    said = crit_jury_keeping.keep_comment(other, cast.scheme, uuid4(), sent, 0)
    for seat in (cast.seat, other):
        crit_jury_keeping.lock_sheet(seat, cast.scheme)
    crit_moderating.reopen_sheet(cast.seat.sheets.get(), cast.leader, "F1 was set on sheet 03.")
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 1)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.other_scheme, criterion, 5, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.other_scheme)
    factories.InterestFactory(
        seat=factories.SeatFactory(crit=cast.crit, name="Ina Interest"), scheme=cast.scheme
    )
    crit_moderating.hold_comment(said, cast.leader, "About the person.")
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    cast.crit.refresh_from_db()
    return cast


@pytest.fixture
def appeal(released):
    return crit_appealing.make_appeal(
        released.crit, released.scheme, released.student, uuid4(), "reckoned", "F2 is 4, not 1."
    )


def page(cast, who, appeal):
    answer = cast.client(who).get(reverse("show-appeal", args=[appeal.pk]))
    assert answer.status_code == 200
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def test_the_trail_holds_what_the_results_rest_on_and_no_name(released):
    facts = trail_of(released.crit, released.scheme)
    kinds = {fact["what"] for fact in facts}
    assert kinds >= {"placed", "level", "locked", "reopened", "held", "interest", "released"}
    assert not any("Zander" in str(fact) or "Juror" in str(fact) for fact in facts)
    office = {fact["what"] for fact in facts if fact.get("office")}
    assert office == {"held", "interest"}


def test_its_student_reads_the_trail_without_what_is_held(released, appeal):
    told = page(released, released.student, appeal)
    assert "Jo Juror, F1: 3 Worked through" in told or "Jo Juror" in told
    assert "opened again" in told
    assert "F1 was set on sheet 03." in told
    assert HELD not in told
    assert "About the person." not in told
    assert "Ina Interest" not in told
    for who in (released.leader, released.coordinator):
        told = page(released, who, appeal)
        assert HELD in told
        assert INTEREST in told
    assert AuditLine.objects.filter(deed="read", person=released.coordinator).exists()


def test_without_names_the_trail_names_no_juror_to_its_student(released, appeal):
    released.crit.names_jurors = False
    released.crit.save()
    told = page(released, released.student, appeal)
    assert "Zander" not in told
    assert "Juror A" in told
    assert "Zander" in page(released, released.leader, appeal)


READS = {
    "student": (200, 200, 200), "mate": (404, 200, 200), "classmate": (404, 404, 404),
    "scribe": (404, 404, 404), "examiner": (404, 404, 404), "other_student": (404, 404, 404),
    "other_leader": (404, 404, 404), "leader": (200, 200, 200), "coordinator": (200, 200, 403),
}  # fmt: skip


def test_who_reads_an_appeal_the_answers_and_the_conversation_and_nobody_else(released, appeal):
    words = "Talked about the rail."
    sent = TalkSent(words, timezone.localdate())
    keep_conversation(released.crit, released.scheme, uuid4(), sent, released.student)
    of = [released.crit.pk, released.scheme.pk]
    addresses = [
        reverse("show-appeal", args=[appeal.pk]),
        reverse("show-scheme-answers", args=of),
        reverse("show-conversation", args=of),
    ]
    for role, reads in READS.items():
        client = released.client(getattr(released, role))
        answers = [client.get(address) for address in addresses]
        assert tuple(answer.status_code for answer in answers) == reads, role
        for answer, address in zip(answers, addresses, strict=True):
            body = answer.content.decode()
            is_appeal, is_talk = "appeals" in address, "conversation" in address
            assert ("F2 is 4, not 1." in body) is (is_appeal and reads[0] == 200), (role, address)
            assert (words in body) is (is_talk and reads[2] == 200), (role, address)
    for juror in (released.seat, None):
        client = released.client(juror)
        assert [client.get(address).status_code for address in addresses] == [302] * 3
    told = released.client(released.mate).get(addresses[1]).content.decode()
    assert "Appeal of" in told
    assert addresses[0] not in told


def test_twice_is_once_and_one_is_open_at_a_time(released, appeal):
    again = crit_appealing.make_appeal(
        released.crit, released.scheme, released.student, appeal.key, "other", "Else."
    )
    assert again == appeal
    with pytest.raises(Frozen, match="is open"):
        crit_appealing.make_appeal(
            released.crit, released.scheme, released.student, uuid4(), "other", "Else."
        )
    for _ in range(2):
        crit_appealing.add_words(appeal, released.leader, "Read.")
    assert appeal.added.count() == 1
    crit_appealing.withdraw(appeal)
    with pytest.raises(Frozen):
        crit_appealing.add_words(appeal, released.student, "More.")
    crit_appealing.make_appeal(
        released.crit, released.scheme, released.student, uuid4(), "other", "Else."
    )
    assert Appeal.objects.count() == 2


def decided(cast, appeal, **more):
    given = LevelGiven.objects.get(
        jury_sheet__seat__name="Zoe Zander", criterion=cast.other_criterion
    )
    sent = {
        "seen": crit_appealing.decision_seen(appeal), "outcome": "part", "words": "Read again.",
        "verdict": "go-on", f"level_{given.pk}": "4", f"agreed_{cast.other_criterion.pk}": "4",
    }  # fmt: skip
    return cast.client(more.pop("who", cast.coordinator)).post(
        reverse("decide-appeal", args=[appeal.pk]), sent | more
    )


def test_a_decision_corrects_by_rows_that_name_it_and_the_first_trail_stays(released, appeal):
    before = appeal.trail
    for _ in range(2):
        assert decided(released, appeal).status_code == 302
    appeal.refresh_from_db()
    assert (appeal.outcome, appeal.decided_by) == ("part", released.coordinator)
    assert appeal.trail == before
    correction = Correction.objects.get()
    assert (correction.was, correction.now, correction.appeal) == ("1", "4", appeal)
    agreed = AgreedLevel.objects.get()
    assert (agreed.level, agreed.reason, agreed.appeal) == (4, "Read again.", appeal)
    assert Verdict.objects.get().appeal == appeal
    told = page(released, released.student, appeal)
    assert "Since Zoe Zander, F2: 1 Not shown → 4 Resolved, corrected" in told or "Since" in told
    results = reverse("show-results", args=[released.crit.pk, released.scheme.pk])
    body = released.client(released.student).get(results).content.decode()
    assert "Corrected" in body
    assert AuditLine.objects.filter(deed__in=("appealed", "decided")).count() == 2


def test_what_changed_since_it_was_read_is_read_again_first(released, appeal):
    seen = crit_appealing.decision_seen(appeal)
    crit_appealing.add_words(appeal, released.student, "One thing more.")
    answer = decided(released, appeal, seen=seen)
    assert answer.status_code == 409
    assert "Read it again" in answer.content.decode()
    assert "Read again." in answer.content.decode()  # nothing typed is lost
    appeal.refresh_from_db()
    assert appeal.is_open
    assert not Correction.objects.exists()


def test_what_is_not_upheld_corrects_nothing(released, appeal):
    answer = decided(released, appeal, outcome="not-upheld")
    assert "Expected no correction" in answer.content.decode()
    assert not Correction.objects.exists()


def test_leaders_decide_only_where_the_site_has_no_coordinator_and_no_judge_ever_does(
    released, appeal
):
    assert decided(released, appeal, who=released.leader).status_code == 403
    assert decided(released, appeal, who=released.student).status_code == 403
    Person.objects.update(is_coordinator=False)
    assert "the site has no coordinator" in page(released, released.student, appeal)
    released.seat.email = released.leader.email
    released.seat.save()
    assert decided(released, appeal, who=released.leader).status_code == 403
    released.seat.email = ""
    released.seat.save()
    assert decided(released, appeal, who=released.leader).status_code == 302


def test_leaders_and_coordinators_are_told_then_whoever_made_it(released, appeal):
    mail_sending.send_due.call()
    to = {letter.to[0] for letter in outbox.outbox if "appeal" in letter.subject.lower()}
    assert to == {released.leader.email, released.coordinator.email}
    outbox.outbox.clear()
    crit_appealing.decide(
        appeal,
        released.coordinator,
        Decision("not-upheld", "It was seen."),
        crit_appealing.decision_seen(appeal),
    )
    mail_sending.send_due.call()
    (letter,) = (each for each in outbox.outbox if "appeal" in each.subject.lower())
    assert letter.to == [released.student.email]
    assert "It was seen." not in letter.body


def test_a_form_that_cannot_be_kept_comes_back_as_typed(released):
    address = reverse("make-appeal", args=[released.crit.pk, released.scheme.pk])
    client = released.client(released.student)
    body = client.post(address, {"key": uuid4(), "words": "Long words."}).content.decode()
    assert "Expected one of the grounds" in body
    assert "Long words." in body
    assert released.client(released.leader).get(address).status_code == 403
    kept = client.post(address, {"key": uuid4(), "ground": "other", "words": "Long words."})
    assert kept.status_code == 302


def test_a_talk_is_asked_for_held_and_written_by_each_and_not_rewritten(released):
    address = reverse("show-conversation", args=[released.crit.pk, released.scheme.pk])
    client, leader = released.client(released.student), released.client(released.leader)
    key = uuid4()
    for _ in range(2):
        client.post(address, {"ask": "yes", "key": key, "words": "The rail."})
    told = leader.get(reverse("show-answers", args=[released.crit.pk])).content.decode()
    assert "The rail." in told
    sent = {"key": uuid4(), "held_on": timezone.localdate(), "minutes": "15", "words": "It moves."}
    assert "1 to 240" in leader.post(address, sent | {"minutes": "999"}).content.decode()
    assert leader.post(address, sent).status_code == 302
    assert [(each.by, bool(each.held_on)) for each in Conversation.objects.all()] == [
        (released.student, False),
        (released.leader, True),
    ]
    told = leader.get(reverse("show-answers", args=[released.crit.pk])).content.decode()
    assert "The rail." not in told
    assert "It moves." in client.get(address).content.decode()
    assert client.post(address, {**sent, "words": "Else."}).status_code == 404


def test_an_open_appeal_waits_on_first_pages_of_who_reads_it_alone(released, appeal):
    address = reverse("show-appeal", args=[appeal.pk])
    waits = ("student", "leader", "coordinator")
    for role in READS:
        told = released.client(getattr(released, role)).get("/").content
        assert (address.encode() in told) is (role in waits), role
    crit_appealing.withdraw(appeal)
    assert address.encode() not in released.client(released.leader).get("/").content

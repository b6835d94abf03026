"""Questions on a brief: asked once, answered once, read by all; and who opened which addendum."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from reviews.models import Addendum, AddendumOpened, BriefQuestion
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def question(cast):
    return factories.BriefQuestionFactory(brief=cast.studio.brief, asked_by=cast.classmate)


@pytest.fixture
def addendum(cast):
    return Addendum.objects.create(
        brief=cast.studio.brief, number=1, text="750 kg a crate.", issued_by=cast.leader
    )


def text_of(answer):
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def page(client, cast, name="show-brief-questions"):
    return text_of(client.get(reverse(name, args=[cast.studio.pk])))


def ask(client, cast, words="Does the porch count?", key=None):
    address = reverse("ask-brief-question", args=[cast.studio.pk])
    return client.post(address, {"key": key or uuid4(), "words": words})


def answer(client, cast, question, words="It does.", version=1, **more):
    address = reverse("answer-brief-question", args=[cast.studio.pk, question.pk])
    return client.post(address, {"words": words, "version": version} | more)


def test_a_question_and_its_answer_are_read_by_all_of_the_studio(cast, leader, addendum):
    ask(cast.client(cast.student), cast)
    assert "1 not answered" in text_of(leader.get("/"))
    answer(leader, cast, BriefQuestion.objects.get(), addendum=addendum.pk)
    for who in (cast.classmate, cast.scribe, cast.examiner, cast.coordinator, cast.leader):
        read = page(cast.client(who), cast)
        assert "Stef Student asked" in read
        assert "It does." in read
        assert "Addendum 1" in read
    assert "Questions on the brief" not in text_of(leader.get("/"))
    assert "It does." in page(cast.client(cast.classmate), cast, "show-brief")


def test_a_question_sent_twice_is_asked_once_and_by_its_asker(cast):
    student, key = cast.client(cast.student), uuid4()
    for _ in range(2):
        assert ask(student, cast, key=key).status_code == 302
    assert BriefQuestion.objects.count() == 1
    assert ask(cast.client(cast.mate), cast, "Mine?", key).status_code == 403
    assert BriefQuestion.objects.get().words == "Does the porch count?"


def test_an_answer_is_added_to_and_never_rewritten(cast, leader, question):
    answer(leader, cast, question)
    answer(leader, cast, question)
    answer(leader, cast, question, "And the stair.", 2)
    question.refresh_from_db()
    assert question.answer.startswith("It does.\n\nLena Leader, ")
    assert question.answer.endswith(": And the stair.")
    assert question.version == 3


def test_two_leaders_who_answer_at_once_are_both_shown(cast, leader, question):
    colleague = factories.PersonFactory(name="Cora Colleague")
    factories.MembershipFactory(studio=cast.studio, person=colleague, role="leader")
    answer(cast.client(colleague), cast, question, "It does not.")
    met = answer(leader, cast, question)
    assert met.status_code == 409
    assert "Cora Colleague answered meanwhile." in text_of(met)
    assert "It does not." in text_of(met)
    assert ">\nIt does.</textarea>" in met.content.decode()
    question.refresh_from_db()
    assert question.answer == "It does not."


@pytest.mark.parametrize("words", ["", " ", "w" * 4_001])
def test_what_is_no_question_or_answer_is_refused_in_words(cast, leader, question, words):
    told = text_of(ask(cast.client(cast.student), cast, words))
    assert "Expected a question of 4000 characters at most." in told
    told = text_of(answer(leader, cast, question, words))
    assert "Expected an answer of 4000 characters at most." in told
    assert BriefQuestion.objects.get().answer == ""


def test_an_addendum_of_another_brief_is_not_led_to(cast, leader, question):
    other = Addendum.objects.create(
        brief=cast.other_studio.brief, number=1, text="Else.", issued_by=cast.other_leader
    )
    told = text_of(answer(leader, cast, question, addendum=other.pk))
    assert "Expected an addendum of this brief." in told
    assert BriefQuestion.objects.get().answer == ""


def test_an_addendum_alone_is_named_later(cast, leader, question, addendum):
    answer(leader, cast, question)
    answer(leader, cast, question, "", 2, addendum=addendum.pk)
    question.refresh_from_db()
    assert (question.answer, question.addendum) == ("It does.", addendum)


def test_a_brief_in_preparation_takes_no_questions(cast, draft):
    assert ask(cast.client(cast.student), cast).status_code == 403


def test_the_leader_sees_who_has_not_opened_an_addendum(cast, leader, addendum):
    assert "Opened by 0 of 3 students, not yet by Clem Classmate" in page(
        leader, cast, "show-brief"
    )
    for _ in range(2):
        read = page(cast.client(cast.student), cast, "show-brief")
        assert "750 kg a crate." in read
        assert "Opened by" not in read
    opened = AddendumOpened.objects.get()
    assert (opened.person, opened.addendum) == (cast.student, addendum)
    assert "Opened by 1 of 3 students, not yet by Clem Classmate, Mira Mate." in page(
        leader, cast, "show-brief"
    )
    for who in (cast.scribe, cast.coordinator, cast.leader):
        page(cast.client(who), cast, "show-brief")
    assert AddendumOpened.objects.count() == 1

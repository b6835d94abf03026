"""Packages as examples: nameless, for the years that follow, while all their students allow."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews.deeds.example_allowing import allow_example
from reviews.deeds.person_erasing import Somebody, make_anonymous
from reviews.models import Consent
from tests import factories
from tests.reviews.page_steps import text_of
from tests.test_access import put_away

pytestmark = pytest.mark.django_db


@pytest.fixture
def followed(cast, settings, tmp_path):
    """A scheme of two, issued for a crit that is released; the other studio is next year's."""
    settings.MEDIA_ROOT = tmp_path
    cast.other_studio.follows = cast.studio
    cast.other_studio.save()
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    for letter, crit in (("A", cast.crit), ("B", factories.CritFactory(studio=cast.studio))):
        contents = {
            "statement": f"Drawn by Stef Student. Revision {letter}.",
            "site": {"people": "4"},
            "sheets": [],
            "schedules": {"rooms": [{"mark": "R1", "room": "Mira Mate's", "floor_m2": "20"}]},
            "targets": [],
        }
        revision = factories.RevisionFactory(
            scheme=cast.scheme, letter=letter, crit=crit, contents=contents
        )
        factories.IssuedSheetFactory(revision=revision, title="Plan by Stef Student")
    return cast


def _allow(cast, *people, is_allowed=True):
    for person in people:
        allow_example(cast.scheme, person, is_allowed=is_allowed)


def _page(cast, who, name="show-example", *more):
    at = (cast.other_studio.pk, cast.scheme.pk) if name != "show-examples" else (
        cast.other_studio.pk,)  # fmt: skip
    return cast.client(who).get(reverse(name, args=[*at, *more]))


def _image(cast, who, size="preview"):
    answer = _page(cast, who, "example-image", "02", size)
    put_away(answer)
    return answer


def test_it_is_shown_while_every_student_of_the_scheme_allows_it(followed):
    cast = followed
    for allowed in ((), (cast.student,), (cast.student, cast.mate)):
        _allow(cast, *allowed)
        is_shown = len(allowed) == 2
        listed = text_of(_page(cast, cast.other_student, "show-examples"))
        assert ("R01 Lee" in listed) is is_shown
        for answer in (_page(cast, cast.other_student), _image(cast, cast.other_student)):
            assert answer.status_code == (200 if is_shown else 404)
    _allow(cast, cast.mate, is_allowed=False)
    assert _page(cast, cast.other_student).status_code == 404
    assert _image(cast, cast.other_student).status_code == 404
    assert Consent.objects.get(person=cast.mate).ended_at


def test_it_names_nobody_and_shows_what_was_released_alone(followed):
    _allow(followed, followed.student, followed.mate)
    answer = _page(followed, followed.other_student)
    text = answer.content.decode()
    for name in ("Stef", "Mira", "Jo Juror", "Revision B"):
        assert name not in text, name
    for words in ("R01 Lee", "Revision A.", "Drawn by Student ", "&#x27;s", "20"):
        assert words in text, words
    assert "no-cache" in _image(followed, followed.other_student)["Cache-Control"]
    assert _image(followed, followed.other_student, "full").status_code == 404


def test_who_left_the_team_is_asked_and_who_is_anonymous_allows_nothing(followed):
    cast = followed
    cast.scheme.revisions.first().students.add(cast.classmate)
    _allow(cast, cast.student, cast.mate)
    assert _page(cast, cast.other_student).status_code == 404
    asked = reverse("allow-example", args=[cast.scheme.pk])
    assert cast.client(cast.classmate).post(asked, {"allowed": "yes"}).status_code == 302
    assert _page(cast, cast.other_student).status_code == 200
    make_anonymous(Somebody(cast.mate))
    assert _page(cast, cast.other_student).status_code == 404


def test_it_is_read_by_the_line_that_follows_and_nobody_else(followed):
    cast = followed
    _allow(cast, cast.student, cast.mate)
    third = factories.BriefFactory(studio__follows=cast.other_studio).studio
    cast.studio.follows = third  # a line that bites its tail ends
    cast.studio.save()
    later = factories.MembershipFactory(studio=third).person
    at = reverse("show-example", args=[third.pk, cast.scheme.pk])
    assert cast.client(later).get(at).status_code == 200
    for who in (cast.other_leader, cast.coordinator):
        assert _page(cast, who).status_code == 200
    for who in (cast.student, cast.examiner, cast.leader):
        assert _page(cast, who).status_code == 404
    withdrawn = cast.scheme
    withdrawn.withdrawn_at = timezone.now()
    withdrawn.save()
    assert cast.client(later).get(at).status_code == 404


def test_each_says_so_for_themselves_and_sees_how_it_would_be_shown(followed):
    cast = followed
    at = reverse("allow-example", args=[cast.scheme.pk])
    student = cast.client(cast.student)
    for _ in range(2):
        student.post(at, {"allowed": "yes"})
    assert Consent.objects.to_examples().get().person == cast.student
    page = text_of(student.get(at))
    assert "1 of 2 allow it" in page
    assert "You allowed it" in page
    assert "Drawn by Student " in page
    assert "You haven’t allowed it" in text_of(cast.client(cast.mate).get(at))
    for who in (cast.leader, cast.coordinator):
        assert "1 of 2 allow it" in text_of(cast.client(who).get(at))
        assert cast.client(who).post(at, {"allowed": "yes"}).status_code == 403
    assert cast.client(cast.classmate).get(at).status_code == 404


def test_more_packages_take_no_more_queries(followed):
    cast = followed
    _allow(cast, cast.student, cast.mate)

    def asked():
        leader = cast.client(cast.leader)
        with CaptureQueriesContext(
            connection,
        ) as queries:
            leader.get(reverse("show-examples", args=[cast.studio.pk]))
        return len(queries)

    before = asked()
    for _ in range(3):
        scheme = factories.SchemeFactory(studio=cast.studio)
        factories.RevisionFactory(scheme=scheme, crit=cast.crit)
    assert asked() == before

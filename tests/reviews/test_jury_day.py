"""What a juror's device is told to hold, and the worker that holds it."""

import pytest
from django.urls import reverse

from reviews.models import LevelGiven
from tests import factories
from tests.conftest import Cast
from tests.test_access import put_away

pytestmark = pytest.mark.django_db


@pytest.fixture
def day(cast: Cast):
    """The list as a device of the juror gets it."""
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    factories.IssuedSheetFactory(revision=revision, number="01")
    client = cast.client(cast.seat)

    def ask(**heads: str):
        return client.get(reverse("list-jury-day"), headers=heads)

    return ask


def tags(answer) -> dict[str, str]:
    return {each["url"]: each["tag"] for each in answer.json()["held"]}


def test_every_page_and_drawing_of_the_order_is_listed_and_answers(day, cast):
    held = day().json()["held"]
    client = cast.client(cast.seat)
    assert reverse("show-jury-sheet", args=[cast.scheme.pk]) in [each["url"] for each in held]
    kinds = [each["kind"] for each in held]
    assert kinds == sorted(kinds, key=list(day().json()["kinds"]).index)
    assert {*kinds, "SMALL"} == set(
        day().json()["kinds"]
    )  # of a picture this small there is one size
    for each in held:
        answer = client.get(each["url"])
        put_away(answer)
        assert answer.status_code == 200, each


def test_nothing_of_a_scheme_that_the_juror_does_not_see_is_listed(day, cast):
    factories.InterestFactory(seat=cast.seat, scheme=cast.scheme)
    assert not any(f"/jury/{cast.scheme.pk}/" in url for url in tags(day()))


def test_a_level_changes_the_tag_of_its_own_page_and_of_the_order_alone(day, cast):
    factories.RevisionFactory(scheme=cast.other_scheme, crit=cast.crit)
    before = tags(day())
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    LevelGiven.objects.create(
        jury_sheet=sheet, criterion=cast.crit.criteria.first(), level=3, revision=None
    )
    after = tags(day())
    changed = {url for url in after if before.get(url) != after[url]}
    assert reverse("show-jury") in changed
    assert reverse("show-jury-sheet", args=[cast.scheme.pk]) in changed
    assert not any(url.endswith(".jpg") for url in changed)
    assert not any(f"/jury/{cast.other_scheme.pk}/" in url for url in changed)


def test_what_is_known_is_not_sent_again_and_no_answer_is_stored(day, cast):
    first = day()
    assert first["Cache-Control"] == "private, no-store"
    assert day(if_none_match=first["ETag"]).status_code == 304
    cast.crit.criteria.first().delete()
    assert day(if_none_match=first["ETag"]).status_code == 200


def test_the_list_costs_few_queries_for_a_scheme_more(day, cast, django_assert_max_num_queries):
    day()
    with django_assert_max_num_queries(24):
        day()


def test_the_worker_stands_before_the_whole_site(client):
    answer = client.get("/worker.js")
    assert answer["Content-Type"] == "text/javascript; charset=utf-8"
    assert answer["Service-Worker-Allowed"] == "/"
    assert "connect-src 'self'" in answer["Content-Security-Policy"]
    assert "fetch" in answer.content.decode()


def test_a_page_says_for_whom_it_is(cast):
    juror = cast.client(cast.seat).get(reverse("show-jury")).content.decode()
    assert f'data-holder="seat-{cast.seat.pk}"' in juror
    assert " data-hold>" in juror
    stranger = cast.client(None).get(reverse("sign-in")).content.decode()
    assert 'data-holder=""' in stranger
    assert " data-hold>" not in stranger
    student = cast.client(cast.student)
    package = student.get(reverse("show-package", args=[cast.scheme.pk])).content.decode()
    assert f'data-holder="person-{cast.student.pk}"' in package
    assert " data-hold>" in package

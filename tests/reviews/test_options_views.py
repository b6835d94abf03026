"""Options of a scheme: three kept, one chosen with why, by the version seen."""

import re

import pytest
from django.urls import reverse

from reviews.models import Option

pytestmark = pytest.mark.django_db

TOWER = {"title": "A tower", "words": "Two bays, one above the other.", "sheet": "03"}


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


def keep(client, cast, place=1, version=0, **more):
    address = reverse("keep-option", args=[cast.scheme.pk, place])
    return client.post(address, TOWER | {"version": version} | more)


def choose(client, cast, place=1, why="It keeps the path free.", version=0, **headers):
    address = reverse("choose-option", args=[cast.scheme.pk])
    sent = {"place": place, "why": why, "version": version}
    return client.post(address, sent, headers=headers)


def text_of(answer):
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def page(client, cast):
    return text_of(client.get(reverse("show-options", args=[cast.scheme.pk])))


def test_an_option_is_kept_chosen_and_read_by_the_leader(cast, client, leader):
    keep(client, cast)
    keep(client, cast, 2, title="A row")
    choose(client, cast, 2)
    read = page(leader, cast)
    assert "A tower" in read
    assert "It keeps the path free." in read
    assert Option.objects.get(position=2).chosen_at
    package = text_of(leader.get(reverse("show-package", args=[cast.scheme.pk])))
    assert "Chosen of 2 options: A row" in package


def test_no_juror_classmate_or_coordinator_reads_options(cast, client):
    keep(client, cast)
    address = reverse("show-options", args=[cast.scheme.pk])
    answers = [
        cast.client(who).get(address).status_code
        for who in (cast.coordinator, cast.classmate, cast.seat)
    ]
    assert answers == [403, 404, 302]
    coordinator = cast.client(cast.coordinator)
    assert "A tower" not in text_of(coordinator.get(reverse("show-package", args=[cast.scheme.pk])))


def test_an_option_saves_itself_counted(cast, client):
    answer = client.post(
        reverse("keep-option", args=[cast.scheme.pk, 3]),
        {"title": "", "words": "word " * 62, "sheet": "", "version": 0},
        headers={"HX-Request": "true"},
    )
    part = answer.content.decode()
    assert part.startswith('<section id="option-3"')
    assert "62 words: 2 over" in text_of(answer)
    assert 'name="version" value="1"' in part


def test_two_at_one_option_are_both_shown(cast, client):
    keep(client, cast)
    keep(cast.client(cast.mate), cast, 1, 1, title="A bridge")
    met = keep(client, cast, 1, 1, title="A cave")
    assert met.status_code == 409
    assert "Mira Mate changed this option meanwhile." in text_of(met)
    assert "A bridge" in text_of(met)
    assert 'value="A cave"' in met.content.decode()
    assert Option.objects.get().title == "A bridge"
    assert keep(client, cast, 1, 2, title="A cave").status_code == 302
    assert keep(client, cast, 1, 2, title="A cave").status_code == 302
    assert Option.objects.get().version == 3


def test_the_choice_needs_why_and_an_option_that_is_written(cast, client):
    keep(client, cast)
    assert "Expected why this one" in text_of(choose(client, cast, why=" "))
    assert "Expected one of the options that are written" in text_of(choose(client, cast, 2))
    assert not Option.objects.exclude(chosen_at=None).exists()


def test_another_choice_meanwhile_is_shown_and_a_resend_is_one(cast, client):
    for place in (1, 2):
        keep(client, cast, place)
    choose(client, cast)
    first = Option.objects.get(position=1).chosen_at
    choose(client, cast)
    assert Option.objects.get(position=1).chosen_at == first
    met = choose(client, cast, 2, "It is lighter.")
    assert met.status_code == 409
    assert "It keeps the path free." in text_of(met)
    assert "It is lighter." in text_of(met)
    version = re.search(r'name="version" value="(\d{9,})"', met.content.decode())[1]
    assert choose(client, cast, 2, "It is lighter.", version).status_code == 302
    chosen = Option.objects.exclude(chosen_at=None)
    assert [option.position for option in chosen] == [2]
    assert Option.objects.get(position=1).why == "It keeps the path free."


def test_there_are_three_places(cast, client):
    assert keep(client, cast, 4).status_code == 404
    assert "Read 81 characters. Expected 80 at most." in text_of(keep(client, cast, title="t" * 81))
    assert not Option.objects.exists()


def test_a_withdrawn_schemes_options_are_read_and_not_changed(cast, client):
    keep(client, cast)
    cast.scheme.withdrawn_at = cast.studio.opened_at
    cast.scheme.save()
    assert keep(client, cast, version=1, title="New").status_code == 403
    assert "A tower" in page(client, cast)

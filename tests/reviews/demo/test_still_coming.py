"""While the demo is being filled, every page says what is still to come, and nothing is taken."""

import pytest
from django.urls import reverse

from reviews import demo_mark
from reviews.models import Row
from tests.reviews.schedule_steps import KITCHEN, at


@pytest.fixture
def filling(settings, tmp_path, mark_as_demo):
    settings.DATA_DIR = tmp_path
    mark_as_demo()
    (tmp_path / demo_mark.STILL).write_text("all levels and comments\n")
    return tmp_path / demo_mark.STILL


@pytest.mark.parametrize(
    ("who", "name"), [("leader", "home"), ("student", "show-package"), ("seat", "show-jury")]
)
def test_a_page_says_what_is_still_to_come_until_all_is_there(cast, filling, who, name):
    client = cast.client(getattr(cast, who))
    page = reverse(name, args=[cast.scheme.pk] if name == "show-package" else [])
    assert b"Still to come: all levels and comments." in client.get(page).content
    filling.unlink()
    assert b"Still to come" not in client.get(page).content


def test_nothing_is_taken_until_all_is_there(cast, filling):
    client, url = cast.client(cast.student), at("add-row", cast.scheme)
    sent = {f"cell-{head}": text for head, text in KITCHEN.items()}
    answer = client.post(url, sent)
    assert (answer.status_code, answer["Retry-After"]) == (503, "10")
    assert b"Nothing was kept" in answer.content
    assert not Row.objects.filter(cells__room="Kitchen").exists()
    filling.unlink()
    assert client.post(url, sent).status_code == 302
    assert Row.objects.filter(cells__room="Kitchen").exists()


def test_people_come_in_and_go_meanwhile(cast, filling, client):
    answer = client.post(reverse("demo-sign-in", args=[cast.student.pk]))
    assert answer.url == reverse("home")
    assert client.post(reverse("sign-out")).status_code == 302


def test_a_school_s_site_is_never_held(cast, filling, settings):
    settings.DEMO_MARK = ""
    client = cast.client(cast.student)
    assert b"Still to come" not in client.get(reverse("home")).content
    sent = {f"cell-{head}": text for head, text in KITCHEN.items()}
    assert client.post(at("add-row", cast.scheme), sent).status_code == 302


def test_an_empty_word_is_not_taken_for_the_end(filling):
    filling.write_text("")
    assert demo_mark.still_coming() == "the rest"

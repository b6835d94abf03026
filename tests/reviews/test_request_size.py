"""A request that is too large is refused before it is read."""

import pytest
from django.test import RequestFactory
from django.urls import reverse

MB = 2**20


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def post(client, address: str, size: int | str, **more):
    """Say that so much is to come, and send nothing of it."""
    kind = "multipart/form-data; boundary=x"
    length = {"CONTENT_LENGTH": str(size)}
    return client.post(address, b"", content_type=kind, **length, **more)


def test_more_than_several_pictures_at_once_is_refused_unread(cast, settings):
    settings.MOST_REQUEST_MB = 100
    address = reverse("edit-sheets", args=[cast.scheme.pk])
    answer = post(cast.client(cast.student), address, 101 * MB)
    assert answer.status_code == 413
    text = answer.content.decode()
    assert "Read 101.0 MB in one request. Expected at most 100 MB" in text
    assert "Nothing of it was taken." in text


def test_as_much_as_several_pictures_is_read(cast, settings):
    settings.MOST_REQUEST_MB = 100
    address = reverse("edit-sheets", args=[cast.scheme.pk])
    answer = post(cast.client(cast.student), address, 100 * MB)
    assert "Nothing was read. Expected at least one picture." in answer.content.decode()


def test_a_request_is_looked_at_before_anything_reads_its_body(settings):
    order = settings.MIDDLEWARE
    reads = "django.middleware.csrf.CsrfViewMiddleware"
    assert order.index("reviews.request_size.RequestSizeMiddleware") < order.index(reads)


@pytest.mark.parametrize("name", ["edit-sheets", "show-package"])
def test_whoever_is_not_signed_in_sends_no_pictures(cast, name):
    answer = post(cast.client(), reverse(name, args=[cast.scheme.pk]), 6 * MB)
    assert answer.status_code == 413
    assert "Expected at most 5 MB" in answer.content.decode()


def test_what_takes_no_pictures_takes_only_what_can_be_typed(cast):
    answer = post(cast.client(cast.student), reverse("you"), 6 * MB)
    assert answer.status_code == 413


def test_a_request_that_does_not_say_its_length_is_refused(cast):
    address = reverse("edit-sheets", args=[cast.scheme.pk])
    client = cast.client(cast.student)
    answer = post(client, address, "", headers={"Transfer-Encoding": "chunked"})
    assert answer.status_code == 411
    assert "a request that doesn&#x27;t say its length" in answer.content.decode()


def test_what_is_only_asked_for_has_no_length(cast):
    address = reverse("edit-sheets", args=[cast.scheme.pk])
    assert cast.client(cast.student).get(address).status_code == 200
    assert RequestFactory().get(address).META.get("CONTENT_LENGTH") in (None, "")

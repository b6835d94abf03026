"""What is done with every request: no page is stored, and what is odd is refused."""

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from reviews.middleware import unstored
from tests import factories


@pytest.mark.parametrize(
    ("who", "name"),
    [("student", "home"), ("leader", "show-people"), ("seat", "show-jury"), ("", "sign-in")],
)
def test_a_page_is_stored_nowhere(cast, who, name):
    args = [cast.studio.pk] if name == "show-people" else []
    answer = cast.client(getattr(cast, who, None)).get(reverse(name, args=args))
    assert answer.headers["Cache-Control"] == "private, no-store"


def test_what_is_refused_is_stored_nowhere(cast):
    assert "no-store" in cast.client(cast.student).get("/nowhere/").headers["Cache-Control"]
    edit = reverse("edit-studio", args=[cast.studio.pk])
    assert "no-store" in cast.client(cast.student).get(edit).headers["Cache-Control"]
    assert "no-store" in Client().get("/").headers["Cache-Control"]


def test_a_picture_says_itself_how_its_reader_s_browser_keeps_it(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    (revision,) = factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    address = reverse("issued-sheet-image", args=[revision.pk, "02", "preview"])
    answer = cast.client(cast.seat).get(address)
    assert answer.getvalue()
    assert answer.headers["Cache-Control"] == "private, max-age=3600"
    assert "Cookie" in answer.headers["Vary"]


def test_what_says_how_it_is_stored_is_left_so(rf):
    kept = unstored(lambda request: HttpResponse(headers={"Cache-Control": "max-age=9"}))
    assert kept(rf.get("/")).headers["Cache-Control"] == "max-age=9"


def test_a_nul_sign_is_named_with_its_field(cast):
    answer = cast.client(cast.student).post(reverse("you"), {"name": "Ada\0"})
    assert answer.status_code == 400
    text = answer.content.decode()
    assert "Read a sign that is no letter (NUL) in “name”. Expected words or figures." in text


@pytest.mark.parametrize("address", ["/schemes/99999999999999999999/", "/schemes/1/checks/%00/"])
def test_an_address_beyond_any_key_is_not_there(cast, address):
    assert cast.client(cast.leader).get(address).status_code == 404


def test_an_answer_under_way_leaves_the_device_the_next_juror_s_session(cast):
    """It was asked for by the juror before, and comes after the other's link was opened."""
    device = cast.client(cast.seat)
    before = device.cookies["sessionid"].value
    other = factories.SeatFactory(crit=cast.crit)
    device.get(f"/j/{other.code}/")
    assert device.cookies["sessionid"].value != before
    late = Client()
    late.cookies["sessionid"] = before
    answer = late.get(reverse("list-jury-day"))
    assert answer.status_code == 404
    assert "sessionid" not in answer.cookies
    assert device.get(reverse("show-jury")).context["viewer"].seat == other


def test_an_answer_under_way_leaves_the_device_the_token_of_its_page(cast):
    """Asked for before another came, with the token before or none, it comes after their page."""
    device, late = cast.client(cast.leader), {"Sec-Fetch-Mode": "cors"}
    assert "csrftoken" not in device.get(reverse("you"), headers=late).cookies
    page = device.get(reverse("you"), headers={"Sec-Fetch-Mode": "navigate"})
    assert page.cookies["csrftoken"].value
    assert "csrftoken" not in device.get(reverse("you"), headers=late).cookies
    assert "csrftoken" not in device.get(reverse("you")).cookies
    assert "csrftoken" in cast.client(cast.leader).get("/nowhere/").cookies


def test_who_signs_in_has_another_token_however_it_is_asked(cast):
    cast.leader.set_password("of life and light")
    cast.leader.save()
    device = Client()
    device.get(reverse("sign-in"))
    before = device.cookies["csrftoken"].value
    told = {"username": cast.leader.email, "password": "of life and light"}
    device.post(reverse("sign-in"), told, headers={"Sec-Fetch-Mode": "cors"})
    assert device.cookies["csrftoken"].value != before


def test_signing_out_takes_the_session_off_the_device(cast):
    answer = cast.client(cast.leader).post(reverse("sign-out"))
    assert answer.cookies["sessionid"].value == ""

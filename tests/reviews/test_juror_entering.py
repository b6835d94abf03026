"""A short code opens one seat until crit day ends; wrong ones are counted, slowed and refused."""

import re
from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.urls import reverse
from django.utils import timezone

from reviews.deeds.crit_seating import renew_code
from reviews.deeds.juror_entering import MOST_WRONG, seat_of, short_code
from reviews.deeds.signing_in import REMEMBERED
from reviews.models import Seat
from reviews.models.seats import CODE_LETTERS
from tests import factories

ENTER = "/enter/"
SCHOOL, ELSEWHERE = {"REMOTE_ADDR": "192.0.2.7"}, {"REMOTE_ADDR": "198.51.100.9"}


@pytest.fixture
def today(cast):
    cast.crit.day = timezone.localdate()
    cast.crit.save()
    cast.seat.refresh_from_db()
    return cast.seat


def test_a_short_code_is_eight_signs_that_cannot_be_misread_and_tells_nothing_of_the_link(today):
    code = short_code(today)
    assert len(code) == 8
    assert set(code) <= set(CODE_LETTERS)
    assert not set("lio01") & set(CODE_LETTERS)
    assert code not in today.code
    assert Seat.objects.filter(code=code).first() is None


def test_each_seat_has_its_own(cast):
    seats = [factories.SeatFactory(crit=cast.crit) for _ in range(60)]
    assert len({short_code(seat) for seat in seats}) == 60


def test_a_code_is_read_however_it_is_spaced_and_capitalised(today):
    code = short_code(today).upper()
    assert seat_of(f" {code[:4]}-{code[4:]} ") == today
    assert seat_of("") is None
    assert seat_of(code[:7]) is None
    assert seat_of("ß" * 40) is None


def test_a_code_ends_with_crit_day_and_with_a_new_link(cast, today):
    former = short_code(today)
    new = renew_code(today)
    assert seat_of(former) is None
    assert seat_of(short_code(new)) == today
    cast.crit.day = timezone.localdate() - timedelta(days=1)
    cast.crit.save()
    assert seat_of(short_code(new)) is None


def test_a_juror_types_the_code_and_sits_down(cast, today, client):
    assert client.get(ENTER).status_code == 200
    answer = client.post(ENTER, {"code": short_code(today)})
    assert answer.headers["Location"] == "/jury/"
    assert client.get("/jury/").status_code == 200
    today.refresh_from_db()
    assert today.opened_at


def test_a_wrong_code_says_what_was_read(client, today):
    page = client.post(ENTER, {"code": "wrong<b>"}).content.decode()
    assert "Read “wrong&lt;b&gt;”" in page
    assert 'value="wrong&lt;b&gt;"' in page
    assert "Read nothing" in client.post(ENTER, {"code": " "}).content.decode()


def test_one_address_is_refused_after_many_wrong_codes_and_others_only_wait(client, today):
    for n in range(MOST_WRONG):
        assert client.post(ENTER, {"code": f"wrong{n}"}, **SCHOOL).status_code == 200
    refused = client.post(ENTER, {"code": short_code(today)}, **SCHOOL)
    assert refused.status_code == 429
    assert "Wait 15 minutes" in refused.content.decode()
    waits = client.post(ENTER, {"code": short_code(today)}, **ELSEWHERE)
    assert waits.status_code == 429
    assert re.search(r"wait \d+ s, then type again", waits.content.decode())


def test_wrong_codes_are_forgotten_after_a_while(client, today):
    for n in range(MOST_WRONG):
        client.post(ENTER, {"code": f"wrong{n}"}, **SCHOOL)
    AccessAttempt.objects.update(attempt_time=timezone.now() - REMEMBERED - timedelta(minutes=1))
    client.post(ENTER, {"code": "wrong"}, **SCHOOL)
    assert AccessAttempt.objects.get().failures_since_start == 1
    assert client.post(ENTER, {"code": short_code(today)}, **SCHOOL).status_code == 302


def test_a_printed_strip_shows_square_and_code_and_where_it_is_typed(cast, today):
    answer = cast.client(cast.leader).get(reverse("print-links", args=[cast.crit.pk]))
    text = answer.content.decode()
    code = short_code(today)
    assert f"{code[:4]} {code[4:]}" in text
    assert "http://testserver/enter/" in text
    square = re.search(r'<svg[^>]*class="strip-square".*?</svg>', text, re.S)
    assert square
    assert "style=" not in square[0]

"""Pages go compressed, and their lengths tell nothing."""

import gzip

import brotli
import pytest
from django.http import HttpResponse
from django.test import RequestFactory

from reviews.compressing import TextCompression

WORDS = b"<p>A bench by the window.</p>" * 50


def sent(content_type: str, accepts: str = "gzip") -> HttpResponse:
    answer = TextCompression(lambda request: HttpResponse(WORDS, content_type=content_type))
    return answer(RequestFactory().get("/", headers={"Accept-Encoding": accepts}))


@pytest.mark.parametrize("content_type", ["text/html; charset=utf-8", "text/csv"])
def test_text_goes_compressed(content_type):
    answer = sent(content_type)
    assert answer["Content-Encoding"] == "gzip"
    assert len(answer.content) < len(WORDS) / 5
    assert gzip.decompress(answer.content) == WORDS


def test_a_page_goes_by_brotli_where_that_is_taken():
    answer = sent("text/html", accepts="gzip, deflate, br")
    assert answer["Content-Encoding"] == "br"
    assert int(answer["Content-Length"]) == len(answer.content) < len(WORDS) / 5
    page, remark, _ = brotli.decompress(answer.content).partition(b"<!--")
    assert (page, remark) == (WORDS, b"<!--")
    lengths = {len(sent("text/html", accepts="br").content) for _ in range(30)}
    assert len(lengths) > 5


@pytest.mark.parametrize("accepts", ["gzip", "gzip, br;q=0", "gzip;q=1, br;q=0.0"])
def test_a_browser_that_takes_no_brotli_gets_none(accepts):
    assert sent("text/html", accepts=accepts)["Content-Encoding"] == "gzip"


def test_a_part_of_a_page_takes_no_remark_along():
    headers = {"Accept-Encoding": "gzip, br", "HX-Request": "true"}
    answer = TextCompression(lambda request: HttpResponse(WORDS))(
        RequestFactory().get("/", headers=headers)
    )
    assert answer["Content-Encoding"] == "gzip"
    assert gzip.decompress(answer.content) == WORDS


def test_a_table_goes_as_it_is_read():
    assert sent("text/csv", accepts="gzip, br")["Content-Encoding"] == "gzip"


def test_pictures_go_as_they_are():
    assert sent("image/jpeg").content == WORDS


def test_a_browser_that_takes_no_compressed_page_gets_a_plain_one():
    assert sent("text/html", accepts="identity").content == WORDS


def test_the_same_page_is_of_another_length_each_time():
    assert len({len(sent("text/html").content) for _ in range(30)}) > 5


def test_a_page_is_compressed_and_its_forms_token_masked_anew(cast):
    client = cast.client(cast.student)
    tokens = set()
    for _ in range(2):
        answer = client.get("/you/", headers={"Accept-Encoding": "gzip"})
        assert answer["Content-Encoding"] == "gzip"
        page = gzip.decompress(answer.content).decode()
        tokens.add(page.partition('name="csrfmiddlewaretoken" value="')[2].partition('"')[0])
    assert len(tokens) == 2
    assert all(len(token) == 64 for token in tokens)

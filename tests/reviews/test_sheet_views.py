"""Pictures on pages: in sizes for a browser to choose from, their place kept free."""

import re

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse

from reviews.models import SheetFile
from reviews.pages.sheet_views import sizes_of
from tests import factories

NAME, KEYS = "issued-sheet-image", (7, "02")


def picture(width=2480, height=1754, small="small/a.webp"):
    return SheetFile(width=width, height=height, small=small)


def widths(file):
    return re.findall(r"/(\w+)\.jpg (\d+)w", sizes_of(file, NAME, *KEYS).srcset)


def test_a_browser_chooses_by_the_true_widths():
    assert widths(picture()) == [("small", "800"), ("preview", "1600")]
    assert widths(picture(1754, 2480)) == [("small", "566"), ("preview", "1132")]
    assert widths(picture(1000, 700)) == [("small", "800"), ("preview", "1000")]


def test_one_of_an_earlier_version_has_its_preview_alone_until_a_small_one_is_made():
    sizes = sizes_of(picture(small=""), NAME, *KEYS)
    assert (sizes.src, sizes.srcset) == (reverse(NAME, args=[*KEYS, "preview"]), "")


def test_a_picture_as_small_as_a_small_one_has_one_size():
    assert sizes_of(picture(600, 400), NAME, *KEYS).srcset == ""


@pytest.fixture
def issued(cast, issued):
    """Revision A and a package, with pictures in all sizes."""
    factories.SheetFactory(package=cast.scheme.package, number="02", changed_by=cast.student)
    SheetFile.objects.update(width=2480, height=1754, small="small/a.webp")
    return issued


@pytest.mark.parametrize("address", ["/revisions/{}/", "/schemes/{}/", "/jury/{}/"])
def test_every_picture_of_a_page_keeps_its_place_and_waits_until_it_is_near(cast, issued, address):
    key = issued.pk if "revisions" in address else cast.scheme.pk
    who = cast.seat if "jury" in address else cast.student
    page = cast.client(who).get(address.format(key)).content.decode()
    pictures = re.findall(r"<img src[^>]+>", page)
    assert pictures
    for each in pictures:
        assert ' width="2480" height="1754" loading="lazy"' in each
        assert "/small.jpg 800w" in each
        assert ' sizes="' in each


def test_a_small_picture_is_sent_to_whom_the_whole_one_is(cast, issued):
    file = issued.sheets.get(number="02").file
    file.small.save("a.webp", ContentFile(b"small"))
    address = reverse(NAME, args=[issued.pk, "02", "small"])
    answer = cast.client(cast.seat).get(address)
    assert (answer.status_code, answer["Content-Type"]) == (200, "image/webp")
    assert answer["Cache-Control"] == "private, max-age=3600"
    assert answer.getvalue() == b"small"
    assert cast.client(cast.other_student).get(address).status_code == 404


def test_an_address_of_a_small_picture_that_is_not_made_yet_sends_the_preview(cast, issued):
    SheetFile.objects.update(small="")
    address = reverse(NAME, args=[issued.pk, "02", "small"])
    answer = cast.client(cast.seat).get(address)
    assert (answer["Content-Type"], answer.getvalue()[:2]) == ("image/jpeg", b"\xff\xd8")

"""What a page prints: no more sheets than it takes, and all of it wherever it was scrolled to."""

import re
import zlib

import pytest
from django.utils import timezone

from reviews import demo_mark
from reviews.models import Membership
from tests import factories
from tests.browser.conftest import sign_in

pytestmark = pytest.mark.django_db(transaction=True)

STREAM = re.compile(rb"/Filter /FlateDecode.*?stream\r?\n(.*?)\r?\nendstream", re.DOTALL)


def printed(page) -> bytes:
    return page.pdf(prefer_css_page_size=True)


def sheets(pdf: bytes) -> int:
    """How many sheets a print takes (ISO 32000-1, 7.7.3.3)."""
    return len(re.findall(rb"/Type /Page\b", pdf))


def drawn(pdf: bytes) -> list[bytes]:
    """What is drawn on the sheets of a print: its streams, unpacked (ISO 32000-1, 7.4.4)."""
    return [zlib.decompress(packed) for packed in STREAM.findall(pdf)]


def test_a_page_prints_the_same_wherever_it_was_scrolled_to(page, live_server, cast):
    """Before, zones and title block slid off the paper by as much as it was scrolled."""
    page.set_viewport_size({"width": 1280, "height": 400})
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(f"{live_server.url}/schemes/{cast.scheme.pk}/")
    at_top = printed(page)
    assert len(drawn(at_top)) > 1
    page.evaluate("scrollTo(0, 300)")
    assert drawn(printed(page)) == drawn(at_top)
    assert page.evaluate("scrollY") == 300


def test_the_sign_in_page_of_the_demo_prints_on_one_sheet(page, live_server, cast, monkeypatch):
    monkeypatch.setattr(demo_mark, "is_demo", lambda: True)
    for _ in range(24):
        factories.MembershipFactory(studio=cast.studio, role=Membership.Role.STUDENT)
    page.goto(f"{live_server.url}/sign-in/")
    assert page.get_by_text("Someone else").is_visible()
    assert sheets(printed(page)) == 1


def test_pictures_that_were_never_near_are_printed(page, live_server, cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    for n in range(24):
        factories.SheetFactory(package=cast.scheme.package, number=f"{n:02}")
    sign_in(page, cast, cast.student, live_server.url)
    page.set_viewport_size({"width": 1280, "height": 300})
    page.goto(f"{live_server.url}/schemes/{cast.scheme.pk}/")
    widths = "[...document.images].map((each) => each.naturalWidth)"
    assert page.evaluate(widths)[-1] == 0
    pdf = printed(page)
    assert page.evaluate(widths) == [30] * 24
    assert pdf.count(b"/Subtype /Image") == 24


def test_a_jury_sheet_is_printed_without_its_drawing_and_keeps_to_two_sheets(
    page, live_server, cast, settings, tmp_path
):
    """A later stylesheet had brought the drawing back, and with it a third sheet."""
    settings.MEDIA_ROOT = tmp_path
    factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    page.goto(f"{live_server.url}/j/{cast.seat.code}/")
    page.goto(f"{live_server.url}/jury/{cast.scheme.pk}/")
    assert page.locator("#drawing img").first.is_visible()
    page.emulate_media(media="print")
    assert page.locator("#drawing").is_hidden()
    assert sheets(printed(page)) <= 2


def test_an_examiners_register_needs_no_scrolling_aside_on_a_telephone(page, live_server, cast):
    factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    type(cast.crit).objects.filter(pk=cast.crit.pk).update(released_at=timezone.now())
    sign_in(page, cast, cast.examiner, live_server.url)
    page.set_viewport_size({"width": 390, "height": 800})
    page.goto(live_server.url)
    register = page.locator(".plan-chest .table-wrap").first
    assert register.evaluate("it => it.scrollWidth - it.clientWidth") == 0
    assert "crit" in register.locator("td").first.inner_text().lower()


def test_a_check_sheet_breaks_between_its_checks_and_begins_on_its_first_sheet(
    page, live_server, cast
):
    """Kept whole, the table of all checks left the first sheet empty."""
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(f"{live_server.url}/schemes/{cast.scheme.pk}/checks/")
    page.emulate_media(media="print")
    body = page.locator("table.checks tbody").first
    assert body.evaluate("it => getComputedStyle(it).breakInside") == "auto"
    assert body.locator("tr").first.evaluate("it => getComputedStyle(it).breakInside") == "avoid"
    assert page.locator(".in-order").is_hidden()


def test_a_sheet_seen_close_prints_whole_whatever_was_fetched_or_zoomed(
    page, live_server, cast, settings, tmp_path
):
    """Before, one whose picture hadn't come printed its letters alone, a zoomed one a corner."""
    settings.MEDIA_ROOT = tmp_path
    (revision,) = factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    sign_in(page, cast, cast.student, live_server.url)
    page.route("**/small.jpg", lambda route: None)
    page.goto(f"{live_server.url}/revisions/{revision.pk}/sheets/02/", wait_until="commit")
    page.locator(".zoned-view.is-open").wait_for()
    for _ in range(3):
        page.get_by_role("button", name="Larger").click()
    pdf = printed(page)
    assert pdf.count(b"/Subtype /Image") == 1
    assert sheets(pdf) == 1
    page.emulate_media(media="print")
    picture = page.locator("[data-picture]").bounding_box()
    border = page.locator(".zoned-sheet").bounding_box()
    assert picture["width"] < border["width"] <= 245 * 96 / 25.4
    assert picture["width"] / picture["height"] == pytest.approx(30 / 20, rel=0.01)

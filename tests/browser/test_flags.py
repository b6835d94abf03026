"""Flags and strokes in a real browser: put by tap and by key, drawn, found by the student."""

from uuid import uuid4

import pytest
from playwright.sync_api import Browser, expect

from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import Comment
from reviews.places import Place, Point
from reviews.strokes import read_point
from tests import factories
from tests.browser.conftest import broken_rules, sign_in
from tests.conftest import Cast

TAPPED = """(parts) => {
  const stub = document.getElementById('stub');
  let sent;
  stub.addEventListener('submit', (event) => {
    event.preventDefault();
    event.stopPropagation();
    sent = [event.submitter.value.slice(-2), stub.elements.point.value];
  });
  const picture = stub.querySelector('.zone-panel [data-picture]');
  picture.scrollIntoView({block: 'center'});
  const box = picture.getBoundingClientRect();
  return parts.map(([x, y]) => {
    const at = {clientX: box.left + x * box.width, clientY: box.top + y * box.height};
    const square = document.elementFromPoint(at.clientX, at.clientY).closest('.zone-taps button');
    const tap = {...at, bubbles: true, cancelable: true, detail: 1};
    square.dispatchEvent(new MouseEvent('click', tap));
    return sent;
  });
}"""
"""Which square and what point are sent where parts of the picture are tapped."""

EDGES = [(n / 6 + by, m / 4 + by) for n in range(6) for m in range(4) for by in (0.003, 0.08)]


@pytest.fixture
def sheet(cast: Cast) -> Cast:
    """The scheme with two issued sheets."""
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    for number in ("01", "02"):
        factories.IssuedSheetFactory(revision=revision, number=number)
    return cast


def test_flags_and_strokes_are_kept_and_the_student_finds_them(
    browser: Browser, live_server, sheet: Cast
):
    context = browser.new_context(viewport={"width": 820, "height": 1180}, has_touch=True)
    page = context.new_page()
    page.set_default_timeout(60_000)
    page.goto(f"{live_server.url}/j/{sheet.seat.code}/")
    page.goto(f"{live_server.url}/jury/{sheet.scheme.pk}/")
    page.locator(".sheet-picks > label", has_text="02").tap()
    picture = page.locator(".zone-panel:visible [data-picture]")
    picture.scroll_into_view_if_needed()

    page.locator(".stub .level-choice", has_text="Prove").tap()
    box = picture.bounding_box()
    page.touchscreen.tap(box["x"] + 0.55 * box["width"], box["y"] + 0.6 * box["height"])
    own = page.locator(".own-comment")
    expect(own.locator("[data-kept]")).to_contain_text("Kept ")
    page.locator(".zone-panel:visible button[value='02·A1']").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(own.locator("[data-kept]", has_text="Kept ")).to_have_count(2)

    context.set_offline(True)
    page.get_by_role("button", name="Freehand").tap()
    expect(page.locator(".pen-hand")).to_have_text("Strokes go with comment 2.")
    picture.scroll_into_view_if_needed()
    box = picture.bounding_box()
    page.mouse.move(box["x"] + 0.3 * box["width"], box["y"] + 0.2 * box["height"])
    page.mouse.down()
    page.mouse.move(box["x"] + 0.5 * box["width"], box["y"] + 0.4 * box["height"], steps=8)
    page.mouse.up()
    expect(page.locator(".zone-panel:visible polyline.stroke")).to_have_count(1)
    page.get_by_role("button", name="Begin another comment").tap()
    page.get_by_role("button", name="Straight").tap()
    for zone in ("D1", "D6"):
        page.locator(f".zone-panel:visible button[value='02·{zone}']").focus()
        page.keyboard.press("Enter")
    expect(own).to_have_count(3)
    expect(page.locator("[data-waiting]")).to_contain_text("with strokes")
    context.set_offline(False)
    expect(page.locator("[data-waiting]")).to_be_hidden()

    page.get_by_role("link", name="Close view of sheet 02").tap()
    expect(page.locator("a.sheet-flag")).to_have_count(3)
    expect(page.locator("polyline.stroke")).to_have_count(2)
    assert broken_rules(page) == []
    page.get_by_label("Flags", exact=True).uncheck(force=True)
    expect(page.locator("a.sheet-flag").first).to_be_hidden()
    page.evaluate("sessionStorage.clear()")
    page.get_by_role("link", name="Back to the jury sheet").tap()
    expect(page.locator(".zone-panel[data-sheet='01']")).to_be_hidden()
    expect(page.locator(".zone-panel[data-sheet='02']")).to_be_visible()
    expect(page.locator(".sheet-picks")).to_be_in_viewport()
    context.close()

    tapped, keyed, straight = Comment.objects.order_by("pk")
    assert (tapped.kind, tapped.place, tapped.strokes) == ("Prove", "02·C4", [])
    assert tapped.point == pytest.approx((0.55, 0.6), abs=0.005)
    assert (keyed.place, keyed.point, len(keyed.drawn)) == ("02·A2", None, 1)
    assert keyed.drawn[0][0] == pytest.approx((0.3, 0.2), abs=0.005)
    assert straight.drawn == ((Point(0.0833, 0.875), Point(0.9167, 0.875)),)

    for criterion in (sheet.criterion, sheet.other_criterion):
        crit_jury_keeping.keep_level(sheet.seat, sheet.scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(sheet.seat, sheet.scheme)
    Comment.objects.filter(pk=keyed.pk).update(words="Along this wall.")
    crit_releasing.release_crit(sheet.crit, sheet.leader, "Read them.")
    page = browser.new_page(viewport={"width": 390, "height": 844})
    sign_in(page, sheet, sheet.student, live_server.url)
    page.goto(f"{live_server.url}/crits/{sheet.crit.pk}/results/{sheet.scheme.pk}/")
    strokes = page.locator("polyline.stroke")
    expect(strokes).to_have_count(2)
    page.locator(".layers label", has_text="Trace").click()
    expect(strokes.first).to_be_hidden()
    page.locator(".layers label", has_text="Trace").click()
    note = page.locator(".notes .comment", has_text="Along this wall.")
    page.locator("a.sheet-flag", has_text="1").click()  # A2 stands first
    expect(note).to_be_visible()
    assert page.locator(".notes .comment:visible").count() == 1  # one at a time on a telephone
    note.locator("a.flag").click()
    expect(page.locator("a.sheet-flag", has_text="1")).to_be_in_viewport()
    page.close()


def test_a_tap_lies_in_the_square_that_the_site_finds_it_in(
    browser: Browser, live_server, sheet: Cast
):
    """The squares as they are laid, the device's own sum and the site's agree at every edge."""
    sent = CommentSent("Ask", Place("01", "B2"), None, "x", Point(0.3, 0.3))
    crit_jury_keeping.keep_comment(sheet.seat, sheet.scheme, uuid4(), sent, 0)
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto(f"{live_server.url}/j/{sheet.seat.code}/")
    page.goto(f"{live_server.url}/jury/{sheet.scheme.pk}/")
    found = page.evaluate(TAPPED, EDGES)
    assert len(found) == len(EDGES)
    for square, text in found:
        point = read_point(text)
        assert point is not None
        assert point.zone == square
    page.close()

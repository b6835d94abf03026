"""The keys under the thumb of a jury sheet: sixteen taps without a scroll, in the lower half."""

import pytest
from playwright.sync_api import Page, expect

from reviews.models import Comment, JurySheet
from tests import factories
from tests.browser.test_jury_sheet import KEPT, LEAST_PX, sheet, tablet

__all__ = ["sheet", "tablet"]  # fixtures are asked for by name

APART_PX = 8

BOXES = """() => [...document.querySelectorAll('.hand button')].filter((each) => each.offsetParent)
    .map((each) => each.getBoundingClientRect())
    .map(({x, y, right, bottom}) => [x, y, right, bottom])"""


def _tap(page: Page, *keys: str) -> int:
    for key in keys:
        expect(page.locator(f".hand {key}")).to_be_visible()
        box = page.locator(f".hand {key}").bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        assert y > page.viewport_size["height"] / 2, "in the lower half"
        page.touchscreen.tap(x, y)  # where it lies: nothing is brought into sight first
    return len(keys)


def _apart(one: list[float], two: list[float]) -> float:
    """How far two boxes lie apart, along or across [px]."""
    along = max(two[0] - one[2], one[0] - two[2])
    across = max(two[1] - one[3], one[1] - two[3])
    return max(along, across)


@pytest.mark.parametrize(("width", "height"), [(820, 1180), (1180, 820), (390, 844)])
def test_sixteen_taps_under_one_thumb_and_no_scroll(tablet, sheet, width, height):
    page = tablet(width=width, height=height)
    expect(page.locator(".hand-name")).to_have_text("Overall impression")
    boxes = page.evaluate(BOXES)
    assert min(bottom - y for _, y, _, bottom in boxes) >= LEAST_PX - 0.1
    pairs = [(one, two) for n, one in enumerate(boxes) for two in boxes[:n]]
    assert min(_apart(one, two) for one, two in pairs) >= APART_PX - 0.1
    taps = _tap(page, "[data-place='4']")
    for _ in sheet.crit.criteria.all():
        taps += _tap(page, "[data-place='3']")
    taps += _tap(page, "[data-kind='Prove']", "[data-row='C']", "[data-column='4']")
    expect(page.locator(".hand-told")).to_have_text("Prove 01·C4 begun")
    taps += _tap(page, "[data-kind='Keep']", "[data-row='A']", "[data-column='1']")
    assert page.evaluate("scrollY") == 0
    page.locator("[data-lock] button").tap()
    expect(page.locator(".state-box")).to_contain_text("Locked")
    assert taps + 1 == 16
    kept = JurySheet.objects.get()
    assert kept.impression == 4
    assert list(kept.levels.values_list("level", flat=True)) == [3] * 8
    places = {(comment.kind, comment.place) for comment in kept.comments.all()}
    assert places == {("Prove", "01·C4"), ("Keep", "01·A1")}


def test_a_station_is_gone_back_to_and_a_kind_may_be_placed_on_the_drawing(tablet, sheet):
    page = tablet()
    _tap(page, "[data-place='4']", "[data-place='not-mine']")
    expect(page.locator(".hand [data-set-here]").nth(1)).to_have_text("n")
    _tap(
        page, f"[data-station='level-{sheet.crit.criteria.get(code='F1').pk}']", "[data-place='2']"
    )
    expect(page.locator(".hand [data-set-here]").nth(1)).to_have_text("2")
    _tap(page, "[data-kind='Hazard']")
    page.locator(".zone-panel:visible button[value='01·B2']").tap()
    expect(page.locator(".hand [data-kind='Keep']")).to_be_visible()
    expect(page.locator(".own-comment [data-kept]")).to_contain_text(KEPT)
    comment = Comment.objects.get()
    assert (comment.kind, comment.place) == ("Hazard", "01·B2")


def test_keys_fold_away_and_stay_so_and_lie_at_the_hand(tablet):
    page = tablet(width=1180, height=820)
    right = page.locator(".hand-levels").bounding_box()
    page.context.add_cookies([{"name": "hand", "value": "left", "url": page.url}])
    page.reload()
    left = page.locator(".hand-levels").bounding_box()
    assert left["x"] < right["x"]
    page.get_by_role("button", name="Keys").tap()
    expect(page.locator(".hand")).to_be_hidden()
    page.reload()
    expect(page.locator(".hand")).to_be_hidden()


def test_one_tap_puts_an_own_phrase_into_the_comment_in_hand(tablet, sheet):
    factories.PhraseFactory(seat=sheet.seat, words="Prove it by number.")
    page = tablet()
    page.locator(".own-words summary").tap()
    page.locator("[data-phrase]").tap()
    words = page.locator(".own-comment textarea")
    expect(words).to_have_value("Prove it by number.")
    expect(page.locator(".own-comment [data-kept]")).to_contain_text(KEPT)
    page.locator("#private-note-words").fill("Ask about the crane.")
    page.locator("#private-note-words").blur()
    expect(page.locator("#private-note [data-kept]")).to_contain_text(KEPT)
    page.reload()
    expect(words).to_have_value("Prove it by number.")
    expect(page.locator("#private-note-words")).to_have_value("Ask about the crane.")


SWIPE = """([from, to]) => {
  const main = document.querySelector('main h1');
  const touch = (x) => new Touch({identifier: 1, target: main, clientX: x, clientY: 200});
  const tell = (name, touches, changed) => main.dispatchEvent(
    new TouchEvent(name, {bubbles: true, touches, changedTouches: changed}));
  tell('touchstart', [touch(from)], [touch(from)]);
  tell('touchend', [], [touch(to)]);
}"""


def test_a_swipe_turns_to_the_scheme_before_and_after_and_all_of_it_is_dark(tablet, sheet):
    page = tablet()
    dark = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.evaluate(SWIPE, [600, 300])
    page.wait_for_url(f"**/jury/{sheet.other_scheme.pk}/")
    assert page.locator("meta[name=color-scheme]").get_attribute("content") == "dark"
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == dark
    page.evaluate(SWIPE, [300, 600])
    page.wait_for_url(f"**/jury/{sheet.scheme.pk}/")

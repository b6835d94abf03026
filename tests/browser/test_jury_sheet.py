"""A jury sheet in a real browser: counted taps, a network that comes and goes, two devices."""

import re
from time import monotonic, sleep

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from reviews.models import Comment, JurySheet, LevelGiven
from tests import factories
from tests.browser.conftest import broken_rules
from tests.conftest import Cast

KEPT = re.compile(r"[Kk]ept \d")
"""Kept as it was set, or set and kept later."""

LEAST_PX, LEAST_TEXT_PX, LEAST_FIGURE_PX = 56, 18, 22

TARGETS = """() => [...document.querySelectorAll(
    'main button, main .button, main summary, main select, main textarea, .thumb-bar button, ' +
    '.thumb-bar a, .level-choice, .sheet-picks > label, .layers label, ' +
    'main input:not([type=hidden], [type=radio], [type=checkbox])'
  )].filter((each) => each.offsetParent && !each.closest('.visually-hidden'))
    .map((each) => [each.innerText.slice(0, 30), each.getBoundingClientRect().height])"""

PLACES = """() => [...document.querySelectorAll('.stations [role=radio]')]
    .filter((each) => each.offsetParent)
    .map((each) => [each.offsetWidth, each.offsetHeight])"""

FEET = """() => [...document.querySelectorAll('.stations [aria-checked=true]')]
    .map((each) => each.getBoundingClientRect().bottom)"""

SIZES = """(selector) => [...document.querySelectorAll(selector)]
    .filter((each) => each.offsetParent
      && [...each.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim()))
    .map((each) => [each.textContent.trim().slice(0, 30),
                    parseFloat(getComputedStyle(each).fontSize)])"""


@pytest.fixture
def sheet(cast: Cast) -> Cast:
    """The scheme with two issued sheets and the eight criteria of a final crit."""
    cast.crit.criteria.all().delete()
    for n in range(1, 9):
        factories.CriterionFactory(crit=cast.crit, code=f"F{n}", weight=10, position=n)
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    for number in ("01", "02"):
        factories.IssuedSheetFactory(revision=revision, number=number)
    return cast


@pytest.fixture
def tablet(browser: Browser, live_server, sheet: Cast):
    """Open the sheet on a device of its own; errors of a lost network are looked for there."""
    opened = []

    def open_one(width: int = 820, height: int = 1180, scripts: bool = True) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": height},
            has_touch=True,
            java_script_enabled=scripts,
            base_url=live_server.url,
            service_workers="block",
        )
        opened.append(context)
        page = context.new_page()
        page.set_default_timeout(20_000)
        page.goto(f"/j/{sheet.seat.code}/")
        page.goto(f"/jury/{sheet.scheme.pk}/")
        return page

    yield open_one
    for context in opened:
        context.close()


def _line(cast: Cast, code: str) -> str:
    return f"#level-{cast.crit.criteria.get(code=code).pk}"


def _stub(page: Page, kind: str, zone: str) -> int:
    page.locator(".stub .level-choice", has_text=kind).tap()
    page.locator(".sheet-picks > label", has_text="02").tap()
    page.locator(f".zone-panel:visible button[value='02·{zone}']").tap()
    return 3


@pytest.mark.parametrize(("scripts", "width"), [(True, 820), (False, 820), (True, 390)])
def test_sixteen_taps_and_nothing_else(tablet, sheet, scripts, width):
    """Levels are marks in one section, on a telephone a station after the other; without scripts
    they are buttons of a list.
    """
    page = tablet(scripts=scripts, width=width)
    assert (page.locator("[data-drawn]").count() == 1) is scripts
    taps = 1
    page.locator("#impression button[value='4']").tap()
    for criterion in sheet.crit.criteria.all():
        page.locator(f"#level-{criterion.pk} button[value='3']").tap()
        taps += 1
    if scripts:
        expect(page.locator(".floor-words")).to_contain_text("9 of 9 levels set")
    if scripts and width == 820:
        feet = page.evaluate(FEET)
        assert feet == [feet[0]] + [feet[1]] * 8, "a mark stands on the floor of its level"
        assert feet[0] < feet[1]
    taps += _stub(page, "Prove", "C4") + _stub(page, "Keep", "A1")
    expect(page.locator("#own-comments .own-comment")).to_have_count(2)
    page.locator("[data-lock] button").tap()
    expect(page.locator(".state-box")).to_contain_text("Locked")
    assert taps + 1 == 16
    kept = JurySheet.objects.get()
    assert kept.is_locked
    assert kept.impression == 4
    assert list(kept.levels.values_list("level", flat=True)) == [3] * 8
    places = {(c.kind, c.place) for c in kept.comments.all()}
    assert places == {("Prove", "02·C4"), ("Keep", "02·A1")}


def test_what_is_set_without_a_network_waits_and_arrives_once(tablet, sheet):
    page = tablet()
    page.context.set_offline(True)
    page.locator(f"{_line(sheet, 'F1')} button[value='2']").tap()
    for key in ("ArrowUp", "ArrowUp", "ArrowRight"):
        page.keyboard.press(key)
    expect(page.locator(f"{_line(sheet, 'F2')} button[value='1']")).to_be_focused()
    page.keyboard.press("ArrowDown")  # under the ground line
    _stub(page, "Draw", "B3")
    page.locator(".own-comment textarea").fill("Draw the second way out.")
    page.locator(".own-comment textarea").blur()
    told = page.locator("[data-waiting]")
    expect(told).to_contain_text("Waiting to be sent: ")
    expect(told).to_contain_text("Draw 02·B3: Draw the second way out.")
    expect(page.locator(f"{_line(sheet, 'F1')} [data-kept]")).to_contain_text("waiting to be sent")
    page.context.set_offline(False)
    expect(page.locator(".own-comment [data-kept]")).to_contain_text(KEPT, timeout=20_000)
    expect(page.locator("[data-waiting]")).to_be_hidden()
    expect(page.locator(f"{_line(sheet, 'F1')} [data-kept]")).to_contain_text(KEPT)
    levels = {given.criterion.code: given for given in LevelGiven.objects.all()}
    assert levels["F1"].level == 4
    assert levels["F2"].is_not_mine
    comment = Comment.objects.get()
    assert (comment.kind, comment.place) == ("Draw", "02·B3")
    assert comment.words == "Draw the second way out."


def test_a_tap_that_waits_is_set_on_the_revision_that_its_page_showed(tablet, sheet):
    """Revision B is issued while the device has no network; the juror then goes on with it."""
    page = tablet()
    page.context.set_offline(True)
    page.locator(f"{_line(sheet, 'F1')} button[value='2']").tap()
    _stub(page, "Draw", "B3")
    later = factories.RevisionFactory(scheme=sheet.scheme, crit=sheet.crit, letter="B")
    factories.IssuedSheetFactory(revision=later, number="02")
    page.context.set_offline(False)
    expect(page.locator("[data-waiting]")).to_be_hidden()
    expect(page.locator(f"{_line(sheet, 'F1')} [data-kept]")).to_contain_text("on revision A")
    comment = Comment.objects.get()
    assert comment.issued_sheet.revision.letter == "A"
    page.reload()
    page.locator("#newer button").tap()
    expect(page.locator("#newer")).to_have_count(0)
    page.locator(f"{_line(sheet, 'F2')} button[value='3']").tap()
    expect(page.locator(f"{_line(sheet, 'F2')} [data-kept]")).to_contain_text("on revision B")
    expect(page.locator(f"{_line(sheet, 'F1')} [data-kept]")).to_contain_text("on revision A")
    letters = {g.criterion.code: g.revision.letter for g in LevelGiven.objects.all()}
    assert letters == {"F1": "A", "F2": "B"}


def test_what_waits_outlives_the_page(tablet, sheet):
    page = tablet()
    page.route("**/levels/**", lambda route: route.abort())
    page.locator(f"{_line(sheet, 'F1')} button[value='5']").tap()
    expect(page.locator("[data-waiting]")).to_contain_text("Waiting to be sent: ")
    expect(page.locator("[data-waiting]")).to_contain_text("F1")
    page.unroute("**/levels/**")
    page.goto("/jury/")
    expect(page.locator("[data-waiting]")).to_be_hidden(timeout=20_000)
    assert LevelGiven.objects.get().level == 5


def test_a_level_that_gets_no_answer_is_sent_again(tablet, sheet):
    page = tablet()
    line = _line(sheet, "F1")
    met: list[Route] = []
    page.route("**/levels/**", lambda route: route.continue_() if met else met.append(route))
    page.locator(f"{line} button[value='5']").tap()
    expect(page.locator(f"{line} [data-kept]")).to_contain_text("waiting to be sent")
    expect(page.locator(f"{line} [data-kept]")).to_contain_text(KEPT, timeout=30_000)
    assert LevelGiven.objects.get().level == 5


def test_a_second_device_is_refused_with_both_shown_and_may_insist(tablet, sheet):
    first, second = tablet(), tablet()
    line = _line(sheet, "F1")
    first.locator(f"{line} button[value='4']").tap()
    expect(first.locator(f"{line} [data-kept]")).to_contain_text(KEPT)
    second.locator(f"{line} button[value='2']").tap()
    trouble = second.locator(f"{line} .trouble")
    expect(trouble).to_contain_text("4 Resolved")
    expect(trouble).to_contain_text("2 Roughed out")
    assert LevelGiven.objects.get().level == 4
    second.locator(f"{line} button[value='2']").tap()
    expect(second.locator(f"{line} [data-kept]")).to_contain_text(KEPT)
    assert LevelGiven.objects.get().level == 2


def test_the_lock_waits_for_what_is_still_on_the_device(tablet, sheet):
    page = tablet()
    page.route("**/levels/**", lambda route: route.abort())
    page.locator(f"{_line(sheet, 'F1')} button[value='5']").tap()
    page.locator("[data-lock] button").tap()
    expect(page.locator("[data-waiting]")).to_contain_text("lock")
    assert not JurySheet.objects.filter(locked_at__isnull=False).exists()


@pytest.mark.parametrize("width", [390, 820, 1180])
def test_a_thumb_finds_everything_and_eyes_read_it_in_the_dark(tablet, width):
    page = tablet(width=width)
    _stub(page, "Prove", "C4")
    assert page.locator("html").get_attribute("data-lamp") == "off"
    targets = page.evaluate(TARGETS)
    assert len(targets) > 50
    places = page.evaluate(PLACES)
    assert len(places) == (5 if width == 390 else 5 + 8 * 6)
    assert min(min(place) for place in places) >= LEAST_PX - 0.1
    assert page.locator(".stations [role=radio][tabindex='0']").count() == 9
    assert [each for each in targets if each[1] < LEAST_PX - 0.1] == []
    small = [each for each in page.evaluate(SIZES, "main *") if each[1] < LEAST_TEXT_PX - 0.1]
    assert small == []
    figures = page.evaluate(SIZES, "main .level-height *, main .figure")
    assert figures
    assert [each for each in figures if each[1] < LEAST_FIGURE_PX - 0.1] == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.evaluate("scrollTo(0, 0)")  # a button that the bar half covers is rightly called small
    assert broken_rules(page) == []


def test_scheme_and_room_stay_on_screen(tablet, sheet):
    page = tablet(width=390, height=844)
    for place in ("#levels", "#comments", "#lock"):
        page.locator(place).scroll_into_view_if_needed()
        expect(page.locator(".scheme-now")).to_be_in_viewport()
        expect(page.locator(".room-now")).to_be_in_viewport()


@pytest.mark.parametrize("way", ["address", "back", "closed"])
def test_words_with_the_focus_in_them_arrive_however_the_sheet_is_left(tablet, sheet, way):
    page = tablet()
    _stub(page, "Draw", "B3")
    words = page.locator(".own-comment textarea")
    expect(page.locator(".own-comment [data-kept]")).to_contain_text(KEPT)
    words.fill("Draw the second way out.")
    expect(words).to_be_focused()
    if way == "address":
        page.goto("/jury/")
    elif way == "back":
        page.go_back()
    else:
        page.close()
    deadline = monotonic() + 10
    while (kept := Comment.objects.get().words) == "" and monotonic() < deadline:
        sleep(0.1)
    assert kept == "Draw the second way out."


def test_a_tablet_that_stores_nothing_says_so_and_still_sends(tablet, sheet):
    page = tablet()
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('refused'); }})"
    )
    page.reload()
    expect(page.locator("[data-waiting]")).to_contain_text("This browser stores nothing")
    page.locator(f"{_line(sheet, 'F1')} button[value='4']").tap()
    expect(page.locator(f"{_line(sheet, 'F1')} [data-kept]")).to_contain_text(KEPT)
    assert LevelGiven.objects.get().level == 4

"""Every page by keys alone, at twice the size, without motion and without scripts: run by hand."""

import os

import pytest
from django.urls import reverse
from playwright.sync_api import Browser, Page

from tests.browser.test_every_page import PAGES, _become
from tests.test_access import ROWS, _args
from tests.world import World, world

__all__ = ["world"]  # the fixture is asked for by name

pytestmark = pytest.mark.skipif(
    not os.environ.get("MUNTIN_LONG"), reason="every page is for .ci/long"
)

MOVES = """() => document.getAnimations().filter((each) => each.playState === 'running').length
    + [...document.querySelectorAll('*')].filter((each) => each.offsetParent
        && getComputedStyle(each).transitionDuration.split(',').some((s) => parseFloat(s) > 0.01)
      ).length"""
ON = """() => { const on = document.activeElement;
    if (!on || on === document.body) return '';
    const box = on.getBoundingClientRect(), look = getComputedStyle(on);
    on.dataset.reached = 'yes';
    const isSeen = box.width && box.height && look.visibility === 'visible';
    return isSeen ? 'seen' : on.outerHTML.slice(0, 90); }"""
LEFT = """() => [...document.querySelectorAll('a[href], button, select, textarea, summary, ' +
      'input:not([type=hidden], [type=radio])')]
    .filter((each) => each.checkVisibility({checkVisibilityCSS: true}) && each.tabIndex >= 0
      && !each.disabled && !each.dataset.reached && !each.closest('[inert]'))
    .map((each) => each.outerHTML.slice(0, 90))"""
MOST_KEYS = 400


def _open(page: Page, world: World, url: str, name: str) -> int:
    _become(page, world, world.who(ROWS[name].ok.split()[0]), url)
    answer = page.goto(url + reverse(name, kwargs=_args(name, world)))
    return answer.status if answer else 0


def test_keys_reach_everything_at_twice_the_size_and_nothing_moves(
    browser: Browser, live_server, world
):
    context = browser.new_context(
        viewport={"width": 720, "height": 450}, reduced_motion="reduce"
    )  # 1440 px wide at 200 %
    page, found = context.new_page(), {}
    for name in PAGES:
        _open(page, world, live_server.url, name)
        wrong = [f"{moving} move" for moving in [page.evaluate(MOVES)] if moving]
        if (wide := page.evaluate("document.documentElement.scrollWidth")) > 720:
            wrong.append(f"{wide} px wide")
        rounds = 0
        for _ in range(MOST_KEYS):
            page.keyboard.press("Tab")
            on = page.evaluate(ON)
            rounds += not on
            if rounds == 2:  # some pages begin in a field: the first round is what follows it
                break
            if on not in ("seen", ""):
                wrong.append(f"focus out of sight: {on}")
        wrong += [f"no key reaches {each}" for each in page.evaluate(LEFT)]
        if wrong:
            found[name] = wrong[:6]
    context.close()
    assert found == {}


def test_every_page_stands_without_scripts(browser: Browser, live_server, world):
    context = browser.new_context(java_script_enabled=False)
    page, found = context.new_page(), {}
    for name in PAGES:
        status = _open(page, world, live_server.url, name)
        if status not in (200, 404, 410) or not page.locator("main h1").first.is_visible():
            found[name] = status
    context.close()
    assert found == {}

"""A real Chromium, where there is one; in the build there must be."""

import os
import shutil
import signal
from collections.abc import Callable, Generator, Iterator
from pathlib import Path
from threading import Event, Timer
from uuid import uuid4

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.conftest import Cast

# Playwright's own event loop makes Django think that tests are asynchronous
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

# a save that met no network is sent again after some seconds, later on a busy machine
PATIENCE_MS = 20_000
expect.set_options(timeout=PATIENCE_MS)

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
LET_GO_S = 60
"""A browser that hasn't let go of a test's pages after this is ended [s].

Now and then Chromium never answers that it closed them, and waited for it the whole run stands.
"""
OURS = f"--muntin-run={uuid4()}"
"""Which Chromium is ours, on its own command line; it passes over flags that it doesn't know."""
WHY = "no Chromium found; on Debian: apt-get install chromium, or name one in MUNTIN_CHROMIUM"


def chromium() -> str | None:
    """Return the path of a Chromium, if there is one."""
    named = os.environ.get("MUNTIN_CHROMIUM")
    return named or next((found for name in NAMES if (found := shutil.which(name))), None)


@pytest.fixture(scope="session", autouse=True)
def _a_browser_there_is() -> None:
    if chromium() is None:
        if os.environ.get("MUNTIN_REQUIRE_BROWSER"):
            pytest.fail(WHY)
        pytest.skip(WHY)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "browser" in item.path.parts:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, object]:
    return {"executable_path": chromium(), "args": [*FLAGS, OURS]}


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args: dict[str, object]) -> dict[str, object]:
    """Pages without the worker, whose own requests no test can cut; test_offline lets it in."""
    return {**browser_context_args, "service_workers": "block"}


@pytest.fixture(scope="session")
def _browsers() -> list[Browser]:
    """The browser that there is, the last; those before it were ended."""
    return []


@pytest.fixture
def browser(_browsers: list[Browser], launch_browser: Callable[[], Browser]) -> Browser:
    if not _browsers or not _browsers[-1].is_connected():
        _browsers.append(launch_browser())
    return _browsers[-1]


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item: pytest.Item) -> Generator[None, None, None]:
    """End the browser where it doesn't let go of what a test had open; the next starts another."""
    is_ended = Event()

    def end() -> None:
        is_ended.set()
        for process in Path("/proc").glob("[0-9]*/cmdline"):
            try:
                if OURS.encode() in process.read_bytes():
                    os.kill(int(process.parent.name), signal.SIGKILL)
            except OSError:  # it has gone by itself
                continue

    timer = Timer(LET_GO_S, end)
    timer.start()
    try:
        yield
    except Exception:
        if not is_ended.is_set():
            raise
        print(f"Chromium didn't let go after {item.nodeid}, and was ended")
    finally:
        timer.cancel()


@pytest.fixture
def page(page: Page) -> Iterator[Page]:
    """A page whose errors, the content policy's among them, fail the test."""
    said: list[str] = []
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("console", lambda line: said.append(line.text) if line.type == "error" else None)
    page.set_default_timeout(PATIENCE_MS)
    yield page
    # refused answers that a test asks for, and lines that it cuts
    expected = ("409", "410", "404", "403", "ERR_FAILED")
    assert [line for line in said if not any(code in line for code in expected)] == []


def sign_in(page: Page, cast: Cast, person: object, url: str) -> None:
    """Open a page as somebody, by their session's cookie."""
    cookie = cast.client(person).cookies["sessionid"]
    page.context.add_cookies([{"name": "sessionid", "value": cookie.value, "url": url}])


TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
OF_LOOKS = ("color-contrast", "target-size", "scrollable-region-focusable", "link-in-text-block")
"""Rules whose answer changes with the lamp or the width of the window, not with the page alone."""


def broken_rules(page: Page, *, of_looks: bool = False) -> list[str]:
    """Return what axe finds wrong with the page, by WCAG 2.2 A and AA, or of its looks alone."""
    page.wait_for_load_state()  # before its style is there all of it is seen
    only = {"type": "rule", "values": OF_LOOKS} if of_looks else {"type": "tag", "values": TAGS}
    found = Axe().run(page, options={"runOnly": only})
    return [
        f"{rule['id']}: {node['html'][:160]}"
        for rule in found.response["violations"]
        for node in rule["nodes"]
    ]

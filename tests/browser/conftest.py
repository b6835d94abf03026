"""A real Chromium, where there is one; in the build there must be."""

import os
import shutil
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

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
            # the threads of its server trip over what counts lines
            item.add_marker(pytest.mark.no_cover)


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, object]:
    return {"executable_path": chromium(), "args": list(FLAGS)}


@pytest.fixture
def page(page: Page) -> Iterator[Page]:
    """A page whose errors, the content policy's among them, fail the test."""
    said: list[str] = []
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("console", lambda line: said.append(line.text) if line.type == "error" else None)
    page.set_default_timeout(PATIENCE_MS)
    yield page
    expected = ("409", "410", "404", "403")  # refused answers that a test asks for
    assert [line for line in said if not any(code in line for code in expected)] == []


def sign_in(page: Page, cast: Cast, person: object, url: str) -> None:
    """Open a page as somebody, by their session's cookie."""
    cookie = cast.client(person).cookies["sessionid"]
    page.context.add_cookies([{"name": "sessionid", "value": cookie.value, "url": url}])


def broken_rules(page: Page) -> list[str]:
    """Return what axe finds wrong with the page, by WCAG 2.2 A and AA."""
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": tags}})
    return [
        f"{rule['id']}: {node['html'][:160]}"
        for rule in found.response["violations"]
        for node in rule["nodes"]
    ]

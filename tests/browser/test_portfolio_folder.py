"""A portfolio's web folder: opened from a disk, whole, and nothing is asked of a network."""

import io
import zipfile
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from criteria.units import System
from reviews.deeds import portfolio_keeping
from reviews.pages.portfolio_page import shown_portfolio
from reviews.pages.portfolio_web import portfolio_folder
from tests import factories
from tests.browser.conftest import TAGS
from tests.conftest import Cast

pytestmark = pytest.mark.django_db(transaction=True)

WHOLE = "() => [...document.images].every((each) => each.complete && each.naturalWidth > 0)"


def test_the_folder_opens_from_a_disk(cast: Cast, page: Page, tmp_path: Path, settings):
    settings.MEDIA_ROOT = tmp_path / "media"
    revision = factories.RevisionFactory(scheme=cast.scheme, letter="A")
    sheets = [factories.IssuedSheetFactory(revision=revision, number=n) for n in ("02", "03")]
    portfolio_keeping.add_sheets(cast.scheme, sheets, cast.student)
    written = b"".join(portfolio_folder(shown_portfolio(cast.scheme, System.METRIC)))
    with zipfile.ZipFile(io.BytesIO(written)) as folder:
        folder.extractall(tmp_path / "folder")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((tmp_path / "folder" / "index.html").as_uri())
    page.wait_for_function(WHOLE)
    assert len(asked) == 4
    assert all(each.startswith("file:") for each in asked)
    rules = {"runOnly": {"type": "tag", "values": TAGS}, "preload": False}
    assert Axe().run(page, options=rules).response["violations"] == []
    page.get_by_role("link", name="Sheet 02").click()
    assert page.url.endswith(".jpg")

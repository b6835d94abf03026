"""Pictures sent in a real browser: told their place in line, hung while the page stands."""

import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import expect

from reviews.deeds.sheet_line import the_line
from reviews.models import Sheet
from tests import factories
from tests.browser.conftest import broken_rules, sign_in

pytestmark = pytest.mark.django_db(transaction=True)


def test_a_picture_in_line_says_its_place_and_then_that_it_hangs(
    page, cast, live_server, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path / "media"
    pictures = [tmp_path / name for name in ("02 Plan 1-50.png", "03 Section.png")]
    for number, path in enumerate(pictures):
        Image.new("RGB", (60, 40), (number, 0, 0)).save(path)
    sign_in(page, cast, cast.student, live_server.url)
    with the_line():
        page.goto(live_server.url + reverse("edit-sheets", args=[cast.scheme.pk]))
        page.locator("input[type=file]").set_input_files(pictures)
        page.get_by_role("button", name="Hang the sheets").click()
        line = page.locator("#sheets-now .list")
        expect(line).to_contain_text("In line, 1 before it")
        assert broken_rules(page) == []
        assert not Sheet.objects.exists()
    expect(line).to_contain_text("Kept as 02 Plan")
    expect(line).to_contain_text("Kept as 03 Section")
    expect(page.locator("#sheets-now table")).to_contain_text("1:50")
    expect(page.locator("#sheets-now[hx-get]")).to_have_count(0)
    assert [sheet.number for sheet in Sheet.objects.all()] == ["02", "03"]


def test_a_missing_picture_shows_its_words_where_it_would_stand(
    page, cast, live_server, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    revision = factories.issue_sheets(cast, "02", schemes=[cast.scheme])[0]
    sheet = revision.sheets.get()
    for file in (sheet.file.image, sheet.file.preview):
        file.storage.delete(file.name)
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("show-issued-sheet", args=[revision.pk, "02"]))
    picture = page.locator("figure img").first
    expect(picture).to_be_visible()
    # the words are drawn, not a broken picture
    assert picture.evaluate("each => each.decode().then(() => each.naturalWidth)") > 60

"""Pictures sent in a real browser: told their place in line, hung while the page stands."""

from base64 import b64encode

import numpy as np
import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import expect

from reviews.deeds.sheet_line import the_line
from reviews.models import Sheet
from tests import factories
from tests.browser.conftest import broken_rules, sign_in
from tests.reviews.test_plain_picture import encoded

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
        page.locator("#id_files").set_input_files(pictures)
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


LET_FALL = """(files) => {
  const held = new DataTransfer();
  for (const [name, text] of files)
    held.items.add(new File([Uint8Array.from(atob(text), (each) => each.charCodeAt(0))], name));
  const place = document.querySelector("[data-drop]");
  place.dispatchEvent(new DragEvent("drop", {dataTransfer: held, bubbles: true, cancelable: true}));
}"""


def test_five_files_let_fall_hang_but_the_bad_one_though_the_line_is_lost_half_way(
    page, cast, live_server, settings, tmp_path
):
    """A picture of three pieces is cut off after its first: nothing of it is sent twice."""
    settings.MEDIA_ROOT = tmp_path / "media"
    pixels = np.random.default_rng(1).integers(0, 255, (900, 1000, 3), dtype=np.uint8)
    files = [("02 Plan.png", encoded(Image.fromarray(pixels))), ("bad.png", b"<svg/>")]
    files += [(f"0{n} A.png", encoded(Image.new("RGB", (60, 40), (n, 0, 0)))) for n in (3, 4, 5)]
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("edit-sheets", args=[cast.scheme.pk]))
    page.evaluate(LET_FALL, [(name, b64encode(data).decode()) for name, data in files])
    expect(page.locator("[data-files] li")).to_have_count(5)
    assert broken_rules(page) == []
    pieces = []

    def carried(route):
        if route.request.method != "PATCH":
            return route.continue_()
        pieces.append(int(route.request.headers["upload-offset"]))
        return route.abort() if len(pieces) == 2 else route.continue_()

    page.route("**/sending/**", carried)
    page.get_by_role("button", name="Hang the sheets").click()
    expect(page.locator("[data-files]")).to_contain_text("No connection. 1.0 MB of 2.6 MB")
    told = page.locator("#sheets-now .list")
    expect(told.get_by_text("receipt")).to_have_count(4, timeout=60_000)
    expect(told).to_contain_text("Read “bad.png, which is neither a picture")
    assert pieces[:4] == [0, 2**20, 2**20, 2**21]
    assert [sheet.number for sheet in Sheet.objects.all()] == ["02", "03", "04", "05"]


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

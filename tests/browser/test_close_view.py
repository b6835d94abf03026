"""A sheet seen close, in a real browser: its squares lie on the picture at every width and zoom."""

import io
import re

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse
from PIL import Image
from playwright.sync_api import expect

from reviews.deeds import package_keeping
from reviews.deeds.sheet_keeping import Came, hang_sheet
from reviews.models import IssuedSheet, SheetFile
from reviews.reading.sheet_lettering import PageText, Word
from reviews.reading.title_block import TitleBlock
from reviews.tiles import TilePack
from tests import factories
from tests.browser.conftest import broken_rules, sign_in

pytestmark = pytest.mark.django_db(transaction=True)

WIDTHS = (320, 360, 390, 600, 820, 1440, 2560)
ACROSS, HIGH = 3000, 2000
OFF = """() => {
  const picture = document.querySelector("[data-picture]"), box = picture.getBoundingClientRect();
  const image = picture.querySelector("img").getBoundingClientRect();
  const off = (a, b) => Math.abs(a - b), found = [];
  for (const side of ["left", "top", "right", "bottom"]) found.push(off(image[side], box[side]));
  for (const [strip, from, size, n] of [
    ["top", "left", "width", 6], ["bottom", "left", "width", 6],
    ["left", "top", "height", 4], ["right", "top", "height", 4],
  ]) {
    const letters = picture.parentElement.querySelectorAll(`:scope > .zones-${strip} > span`);
    letters.forEach((each, at) => {
      const letter = each.getBoundingClientRect();
      found.push(off(letter[from], box[from] + (at * box[size]) / n));
      found.push(off(letter[size], box[size] / n));
    });
  }
  const chosen = picture.querySelector(".square").getBoundingClientRect();
  found.push(off(chosen.left, box.left + box.width / 2), off(chosen.top, box.top + box.height / 2));
  found.push(off(chosen.width, box.width / 6), off(chosen.height, box.height / 4));
  const layers = picture.querySelector("[data-layers]").getBoundingClientRect();
  for (const side of ["left", "width", "height"]) found.push(off(layers[side], box[side]));
  return [Math.max(...found), box.width];
}"""
"""How far off the worst letter, square C4, or layer lies [px], and how wide the picture is."""


@pytest.fixture
def close(page, cast, live_server, settings, tmp_path):
    """The page of an issued sheet of 3000 × 2000 px in tiles, at 1:50 on 600 mm of paper."""
    settings.MEDIA_ROOT = tmp_path
    (revision,) = factories.issue_sheets(cast, "02", schemes=[cast.scheme])
    sheet = IssuedSheet.objects.get(revision=revision)
    SheetFile.objects.filter(pk=sheet.file_id).update(width=ACROSS, height=HIGH)
    sheet.file.refresh_from_db()
    tile = io.BytesIO()
    Image.new("RGB", (8, 8), "white").save(tile, "JPEG")
    pack = TilePack(ACROSS, HIGH)
    lengths = [len(tile.getvalue())] * len(pack)
    sheet.file.tiles.save("tiles", ContentFile(pack.head(lengths) + tile.getvalue() * len(pack)))
    IssuedSheet.objects.filter(pk=sheet.pk).update(scale="1:50", width_mm=600)
    sign_in(page, cast, cast.student, live_server.url)
    return live_server.url + reverse("show-issued-sheet", args=[revision.pk, "02"])


def test_squares_lie_on_the_picture_at_every_width_and_zoom(page, close):
    page.goto(f"{close}#C4")
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        wide = []
        for zoom in ("Fit", "1:1", "Larger"):
            page.get_by_role("button", name=zoom, exact=True).click()
            off, across = page.evaluate(OFF)
            assert off < 1, (width, zoom)
            wide.append(across)
        assert wide[0] < wide[1] == pytest.approx(ACROSS)
        assert wide[2] == pytest.approx(1.3 * ACROSS)
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_c4_is_reached_by_keys_and_by_plates_and_told_to_whoever_listens(page, close):
    page.set_viewport_size({"width": 1440, "height": 900})
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(close)
    told = (
        "e => document.addEventListener(e, ({detail}) => document.title = JSON.stringify(detail))"
    )
    page.evaluate(told, "muntin:zone")
    view = page.get_by_role("group", name=re.compile("in squares A1 to D6"))
    view.focus()
    view.press("c")
    view.press("4")
    expect(page).to_have_url(re.compile("#C4$"))
    expect(page).to_have_title('{"sheet":"02","zone":"C4"}')
    square, box = page.locator(".square").bounding_box(), view.bounding_box()
    assert box["x"] <= square["x"]
    assert square["x"] + square["width"] <= box["x"] + box["width"]
    expect(page.locator(".tiles img[data-level]").first).to_be_attached()
    assert any("/tiles/" in url for url in asked)
    assert not any("/full.jpg" in url for url in asked)
    page.get_by_label("A", exact=True).check(force=True)
    page.get_by_label("2", exact=True).check(force=True)
    expect(page).to_have_url(re.compile("#A2$"))
    page.get_by_label("Go to square").fill("d6")
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile("#D6$"))
    page.evaluate(told, "muntin:point")
    view.press("0")
    middle = page.locator("[data-picture]").bounding_box()
    page.mouse.click(middle["x"] + middle["width"] * 0.25, middle["y"] + middle["height"] * 0.6)
    expect(page).to_have_title(re.compile('"x":0.2.*"y":0.[56].*"zone":"C2"'))
    assert broken_rules(page) == []


def test_it_prints_within_its_border_without_the_bar_that_is_true_on_a_screen_alone(page, close):
    """Before, the picture was printed as wide as it was seen, past the border beside it."""
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(close)
    page.get_by_role("button", name="1:1").click()
    page.emulate_media(media="print")
    sheet, border = (page.locator(each).bounding_box() for each in (".zoned-sheet", ".zoned"))
    assert border["x"] <= sheet["x"]
    assert sheet["x"] + sheet["width"] <= border["x"] + border["width"] + 1
    assert page.locator(".view-bar").is_hidden()


def test_rings_hide_no_drawing_that_is_seen_small(page, cast, live_server, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    package_keeping.add_row(cast.scheme.package, "windows", {"mark": "W1"}, cast.student)
    words = tuple(Word("W1", 0.1, y, 0.02, 0.01) for y in (0.1, 0.2))
    came, said = Came(lettering=PageText(words).as_record()), TitleBlock("02", "Plan")
    file = factories.SheetFileFactory()
    sheet = hang_sheet(cast.scheme.package, file, said, cast.student, came=came)
    sign_in(page, cast, cast.student, live_server.url)
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(live_server.url + reverse("show-sheet", args=[cast.scheme.pk, sheet.pk]))
    rings, list_of = page.locator(".mark-rings"), page.locator(".squares-list a")
    expect(rings).to_be_visible()
    page.set_viewport_size({"width": 390, "height": 800})
    expect(rings).to_be_hidden()
    assert [each.inner_text() for each in list_of.all()] == ["A1", "W1"]


def test_a_wheel_a_drag_and_a_bar_of_five_metres(page, close):
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(close)
    bar = page.locator(".view-bar")
    # the paper is 30 m wide at 1:50
    for _ in range(4):
        words, width = bar.inner_text(), bar.locator(".bar-line").bounding_box()["width"]
        metres = float(re.search(r"This bar is ([\d.]+) m", words)[1])
        across = page.locator("[data-picture]").bounding_box()["width"]
        assert width == pytest.approx(across * metres / 30, abs=1)
        page.get_by_role("button", name="Larger").click()
    view = page.locator("[data-close-view]")
    box = view.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    before = view.evaluate("it => it.scrollLeft")
    page.mouse.down()
    page.mouse.move(x - 80, y, steps=3)
    page.mouse.up()
    assert view.evaluate("it => it.scrollLeft") == pytest.approx(before + 80, abs=2)
    view.focus()
    wide = page.locator("[data-picture]").bounding_box()["width"]
    page.mouse.wheel(0, -100)
    page.wait_for_timeout(100)
    assert page.locator("[data-picture]").bounding_box()["width"] > wide * 1.1


def test_slides_go_on_by_an_arrow_and_to_a_sheet_by_its_number(
    page, cast, live_server, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    (revision,) = factories.issue_sheets(cast, "01", "02", "05", schemes=[cast.scheme])
    sign_in(page, cast, cast.student, live_server.url)
    page.goto(live_server.url + reverse("show-slide", args=[revision.pk, "01"]))
    page.evaluate("window.isTheSame = true")
    page.keyboard.press("ArrowRight")
    expect(page).to_have_url(re.compile("/slides/02/$"))
    page.keyboard.press("5")
    expect(page.locator("[data-typed]")).to_have_text("Sheet 5, then Enter")
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile("/slides/05/$"))
    expect(page.locator("#slide img").last).to_have_attribute("alt", re.compile("^Sheet 05"))
    page.keyboard.press("9")
    page.keyboard.press("Enter")
    expect(page.locator("[data-typed]")).to_have_text("No such sheet")
    page.keyboard.press("ArrowLeft")
    expect(page).to_have_url(re.compile("/slides/02/$"))
    assert page.evaluate("window.isTheSame")  # the slide alone was exchanged

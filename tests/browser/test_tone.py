"""The soft note of a jury sheet: said while words are typed, without a network, and once kept."""

from pathlib import Path

from playwright.sync_api import expect

from criteria.tone import tone_of
from reviews.models import Comment
from tests.browser.test_jury_sheet import KEPT, sheet, tablet

__all__ = ["sheet", "tablet"]  # fixtures are asked for by name

LISTS = Path(__file__).parents[1] / "criteria" / "tone"

NOTED = """(lines) => {
  const area = document.querySelector('.own-comment textarea[name=words]');
  return lines.map((words) => {
    area.value = words;
    area.dispatchEvent(new Event('input', { bubbles: true }));
    const notes = area.form.querySelectorAll('.soft-note');
    return [...notes].map((each) => each.textContent.match(/“(.*?)”/)[1]);
  });
}"""


def test_words_about_the_person_are_noted_as_the_site_names_them(tablet, sheet):
    page = tablet()
    page.locator("[data-kind='Rework']:visible").first.tap()
    page.locator(".zone-panel:visible button[value='01·B2']").tap()
    expect(page.locator(".own-comment [data-kept]")).to_contain_text(KEPT)
    page.context.set_offline(True)
    names = ("personal", "plain")
    lines = [line for name in names for line in (LISTS / f"{name}.txt").read_text().splitlines()]
    assert page.evaluate(NOTED, lines) == [[each.words for each in tone_of(w)] for w in lines]
    page.locator(".own-comment textarea").fill("You gave up after the render.")
    expect(page.locator(".own-comment .soft-note")).to_contain_text("“You gave up”")
    page.context.set_offline(False)
    page.locator(".own-comment button", has_text="Save the words").tap()
    expect(page.locator(".own-comment .soft-note")).to_contain_text("nothing is stopped by it")
    expect(page.locator("#lock-state")).to_contain_text("1 comment perhaps about the person")
    assert Comment.objects.get().words == "You gave up after the render."

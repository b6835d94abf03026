"""A model and a workbook are brought in, what is guessed is confirmed: no gap they could fill."""

import zipfile
from itertools import chain
from pathlib import Path

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from criteria.schedules import BY_SLUG
from reviews.exchange.workbook_schedules import Told, schedules_workbook
from reviews.models import BroughtFile, Row
from reviews.reading.package_checking import draft
from tests import factories
from tests.browser.conftest import broken_rules, sign_in
from tests.browser.rows import table

pytestmark = pytest.mark.django_db(transaction=True)

DATA = Path(__file__).parent.parent / "reviews/exchange/data"
ASKED = {
    "daylight_ratio": ("10", "%"),
    "openable_ratio": ("5", "%"),
    "floor_per_person": ("5", "m²"),
    "floor_per_sleeper": ("4", "m²"),
    "water_days": ("3", "days"),
    "escape_window": ("0.3", "m²"),
}
REST = {
    "rooms": table(
        "mark room use sleepers private",
        "R1 | Day room | day   | 0 | no",
        "R2 | Bedroom  | sleep | 2 | yes",
        "R3 | Bedroom  | sleep | 2 | yes",
    ),
    "doors": table("mark clear_w threshold_mm role", "D1 | 850 | 15 | main exit"),
    "envelope": table(
        "part layer mm lambda",
        "wall  | Wood-fibre board | 60 | 0.045",
    ),
    "tanks": table("mark holds litres usable_share stands", "T1 | potable | 300 | 0.9 | heated"),
}


def bring(page, live_server, cast, path):
    page.goto(live_server.url + reverse("show-files", args=[cast.scheme.pk]))
    page.set_input_files("[type=file]", path)
    page.get_by_role("button", name="Read it").click()
    expect(page.get_by_role("button", name="Set it aside").last).to_be_visible()
    assert broken_rules(page) == []
    return BroughtFile.objects.first().proposal


def take(page):
    page.get_by_role("button", name="Take over what is ticked").last.click()
    expect(page.locator("main")).to_contain_text("What became of it")


def test_what_files_hold_needs_no_typing(page, cast, live_server, tmp_path, settings):
    pytest.importorskip("ifcopenshell")
    settings.MEDIA_ROOT = tmp_path / "media"
    for n, (check, (value, unit)) in enumerate(ASKED.items()):
        cells = {"id": f"T8{n}", "check": check, "rule": "at least", "value": value, "unit": unit}
        factories.TargetLineFactory(brief=cast.studio.brief, cells=cells)
    model, book = tmp_path / "tall.ifc", tmp_path / "rest.xlsx"
    model.write_bytes(zipfile.ZipFile(DATA / "tall.zip").read("tall.ifc"))
    tables = [(BY_SLUG[slug], rows) for slug, rows in REST.items()]
    book.write_bytes(schedules_workbook(tables, Told(title="The rest")))
    sign_in(page, cast, cast.student, live_server.url)

    held = list(bring(page, live_server, cast, model).rows)
    many = page.locator("input[name=cell]").count()
    assert many >= 30
    page.get_by_role("link", name="that are guessed").click()
    expect(page.locator("input[name=cell]:checked")).to_have_count(many)
    take(page)
    held += bring(page, live_server, cast, book).rows
    page.get_by_role("link", name="from what stands here").click()
    take(page)

    package = cast.scheme.package
    assert Row.objects.filter(package=package, schedule="windows").count() == 21
    room = Row.objects.get(package=package, cells__mark="R2")
    assert (room.cells["use"], room.cells["sleepers"]) == ("sleep", "2")
    gaps = set(chain.from_iterable(f.missing for f in draft(package).sheet.asked))
    could = {
        f"{row.cells['mark'].text}, {BY_SLUG[row.schedule].column(head).label}"
        for row in held
        if "mark" in row.cells
        for head in row.cells
    }
    assert could
    assert [gap for gap in gaps if any(gap.startswith(each) for each in could)] == []
    page.goto(live_server.url + reverse("show-checks", args=[cast.scheme.pk]))
    expect(page.locator("main")).to_contain_text("water", ignore_case=True)
    bring(page, live_server, cast, model)
    expect(page.locator("main")).to_contain_text("Nothing new")

"""Every word of a print stands within its border and over no other, on the reader's own paper."""

import os
import shutil
from pathlib import Path

import pytest
from django.urls import reverse

from reviews.models import Person
from tests import factories
from tests.browser.test_every_page import PAGES, _become
from tests.prints import Sheet, sheets_of, without_head
from tests.test_access import ROWS, _args
from tests.world import World, world

__all__ = ["world"]  # the fixture is asked for by name

MOST_PRINTED = ("show-checks", "show-schedule", "show-jury-sheet", "show-results", "show-brief")
PRINTED = PAGES if os.environ.get("MUNTIN_LONG") else MOST_PRINTED
SIZES: dict[str, dict[str, tuple[float, float]]] = {
    "metric": {
        "show-schedule": (420, 297),
        **dict.fromkeys(("show-table", "show-results"), (297, 210)),
    },
    "us": {
        "show-schedule": (431.8, 279.4),
        **dict.fromkeys(("show-table", "show-results"), (279.4, 215.9)),
    },
}
"""Width and height of paper across [mm]: ISO 216, and ANSI/ASME Y14.1; A4 or letter else."""
UPRIGHT = {"metric": (210, 297), "us": (215.9, 279.4)}


@pytest.fixture(scope="session", autouse=True)
def _a_reader_of_prints_there_is() -> None:
    if not shutil.which("pdftotext"):
        why = "no pdftotext found; on Debian: apt-get install poppler-utils"
        (pytest.fail if os.environ.get("MUNTIN_REQUIRE_BROWSER") else pytest.skip)(why)


def _printed(page, world: World, url: str, name: str, units: str, to: Path) -> list[Sheet]:
    _become(page, world, world.who(ROWS[name].ok.split()[0]), url)
    page.context.add_cookies([{"name": "units", "value": units, "url": url}])  # a juror's
    page.goto(url + reverse(name, kwargs=_args(name, world)))
    page.pdf(path=to, prefer_css_page_size=True)
    return sheets_of(to)


@pytest.mark.parametrize("units", ["metric", "us"])
def test_no_word_leaves_the_border_or_lies_over_another(live_server, page, world, units, tmp_path):
    Person.objects.update(units=units)
    for n in range(2, 70):
        factories.RowFactory(
            package=world.cast.scheme.package,
            changed_by=world.cast.student,
            position=n,
            cells={"mark": f"R{n}", "room": "Room of many words that needs its two lines"},
        )
    found: dict[str, object] = {}
    for name in PRINTED:
        sheets = _printed(page, world, live_server.url, name, units, tmp_path / f"{name}.pdf")
        size = SIZES[units].get(name, UPRIGHT[units])
        wrong = [
            problem
            for sheet in sheets
            for problem in (*sheet.outside(), *sheet.overprinted(), *sheet.too_small())
        ]
        if sheets and name in MOST_PRINTED and _paper(sheets[0]) != pytest.approx(size, abs=0.5):
            wrong.append(f"on paper of {_paper(sheets[0])}")
        if wrong:
            found[name] = wrong[:12]
        if name == "show-schedule":
            assert len(sheets) > 2
            assert without_head(sheets, ["Clear", "Mark"], "R69") == []
        if name == "show-jury-sheet":
            assert len(sheets) <= 2
    assert found == {}


def _paper(sheet: Sheet) -> tuple[float, float]:
    return sheet.width, sheet.height

"""What every page needs is one file once it is collected, in the order of its parts."""

import re
from pathlib import Path

from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.management import call_command
from django.urls import reverse

import reviews
from reviews.stylesheets import FOLDER, SHEETS, stylesheets

STATIC = Path(reviews.__file__).parent / "static" / "reviews"


def test_a_page_asks_for_one_stylesheet_that_holds_all(settings, tmp_path, client, db):
    backend = {"BACKEND": "reviews.stylesheets.WithOneStylesheet"}
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = {**settings.STORAGES, "staticfiles": backend}
    for _ in range(2):  # collected again, nothing is held twice
        call_command("collectstatic", interactive=False, verbosity=0)
    (address,) = stylesheets()
    assert re.fullmatch(r"/static/reviews/css/every-page\.[0-9a-f]{12}\.css", address)
    page = client.get(reverse("sign-in")).content.decode()
    asked = re.findall(r'<link rel="stylesheet" href="([^"]+)">', page)
    assert asked[0] == address
    assert not [each for each in asked[1:] if re.search(rf"/({'|'.join(SHEETS)})\.", each)]
    whole = (tmp_path / address.removeprefix("/static/")).read_text()
    ends = [0]
    for sheet in SHEETS:
        part = (tmp_path / staticfiles_storage.stored_name(f"{FOLDER}/{sheet}.css")).read_text()
        assert whole.count(part) == 1
        ends.append(whole.index(part))
    assert ends[1:] == sorted(ends[1:])
    fonts = re.findall(r'url\("\.\./fonts/([^"]+)"\)', whole)
    assert fonts
    assert all((tmp_path / "reviews/fonts" / font).exists() for font in fonts)


def test_before_that_a_page_asks_for_each():
    assert [address.split("/")[-1] for address in stylesheets()] == [f"{s}.css" for s in SHEETS]


PT = {"pt": 1.0, "px": 0.75, "mm": 72 / 25.4, "rem": 10.5, "em": 10.5}
"""Points of each unit on paper, where the page's own type is 10.5 pt."""
DRAWN = {"daylight.css", "plots.css", "marks.css"}
"""What they set in px is the lettering of drawings, in units of their own."""


def test_no_type_is_under_8_pt_on_paper_and_no_lettering_under_11_px_on_screen():
    small = []
    for sheet in sorted((STATIC / "css").glob("*.css")):
        css = sheet.read_text()
        sizes = re.findall(
            r"(?:font-size|--small|--figures|font): ([\d.]+)(pt|px|mm|rem|em)\b", css
        )
        small += [
            (sheet.name, size, unit)
            for size, unit in sizes
            if float(size) * PT[unit] < (8 if unit != "px" or sheet.name not in DRAWN else 8.25)
        ]
    assert small == []


def test_where_a_browser_has_no_has_nothing_but_an_arrangement_is_lost():
    arranges = {"grid-template-columns", "align-items", "grid-column", "flex-basis", "order"}
    hides = {"display"}  # what isn't hidden is there
    rules = [
        (selector, set(re.findall(r"([\w-]+):", body)))
        for sheet in (STATIC / "css").glob("*.css")
        for selector, body in re.findall(r"([^{}]*:has\([^{}]*)\{([^{}]*)\}", sheet.read_text())
    ]
    assert [selector for selector, sets in rules if not sets <= arranges | hides] == []

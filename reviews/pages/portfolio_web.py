"""A portfolio as a folder that opens from a disk: one page, one style sheet, its pictures.

No script, no address, nothing that is fetched from elsewhere, and no number of a row here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import NamedTuple

from django.db.models.fields.files import FieldFile
from django.template.loader import render_to_string
from django.utils.text import slugify

from reviews.models import IssuedSheet
from reviews.pages.portfolio_data import CAUTION
from reviews.pages.portfolio_page import Leaf, Shown
from reviews.reading.zip_streaming import AT_ONCE, Filed, zipped

STYLE = "look.css"


class Placed(NamedTuple):
    """Where a sheet's picture lies: as it is shown, and whole; and the shape it is shown in."""

    shown: str
    whole: str
    width: int
    height: int


class PagePlaced(NamedTuple):
    """A page of the portfolio with where its pictures lie; None where one couldn't be read."""

    leaf: Leaf
    sheet: Placed | None
    before: Placed | None


def portfolio_folder(shown: Shown) -> Iterator[bytes]:
    """The folder as a ZIP, written while it is sent; what can't be read is named on its page."""
    places = _places(shown.leaves)
    files = [*_pictures(places), _text(STYLE, render_to_string(f"portfolios/web/{STYLE}"))]
    return zipped(files, partial(_index, shown, places))


def _places(leaves: Iterable[Leaf]) -> dict[IssuedSheet, Placed]:
    found: dict[IssuedSheet, Placed] = {}
    for leaf in leaves:
        for sheet in filter(None, (leaf.before, leaf.sheet)):
            if sheet not in found:
                said = slugify(f"{sheet.number} {sheet.title} {sheet.revision.letter}")
                name = f"{len(found) + 1:02}-{said[:60]}".rstrip("-")
                file = sheet.file
                found[sheet] = Placed(
                    f"pictures/{name}.jpg", f"pictures/whole/{name}.jpg", file.width, file.height
                )
    return found


def _pictures(places: dict[IssuedSheet, Placed]) -> Iterator[Filed]:
    for sheet, placed in places.items():
        yield Filed(placed.shown, str(sheet), partial(_bytes, sheet.file.preview))
        yield Filed(placed.whole, str(sheet), partial(_bytes, sheet.file.image))


def _index(
    shown: Shown, places: dict[IssuedSheet, Placed], there: list[Filed], missing: list[Filed]
) -> Filed:
    lost = {filed.path for filed in missing}

    def placed(sheet: IssuedSheet | None) -> Placed | None:
        lies = places[sheet] if sheet else None
        if lies is None or lies.shown in lost:
            return None
        return lies._replace(whole=lies.shown) if lies.whole in lost else lies

    pages = [PagePlaced(leaf, placed(leaf.sheet), placed(leaf.before)) for leaf in shown.leaves]
    context = {"shown": shown, "pages": pages, "caution": CAUTION, "missing": missing}
    return _text("index.html", render_to_string("portfolios/web/index.html", context))


def _text(path: str, text: str) -> Filed:
    return Filed(path, "", lambda: iter([text.encode()]))


def _bytes(stored: FieldFile) -> Iterator[bytes]:
    with stored.storage.open(str(stored)) as file:
        while part := file.read(AT_ONCE):
            yield part

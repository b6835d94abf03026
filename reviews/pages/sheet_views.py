"""Sheets as pictures, alone and beside what is said of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar, NamedTuple

from django.urls import reverse

from reviews.models import IssuedSheet, Sheet, SheetFile
from reviews.picture_limits import PREVIEW_PX, SMALL_PX
from reviews.places import COLUMNS, ROWS
from reviews.reading.sheet_pictures import PREVIEW, SMALL


@dataclass(frozen=True)
class Sizes:
    """Where a picture is had in the sizes that it is kept in, for a browser to choose from.

    srcset         each address with its width; nothing where there is one size alone
    width, height  of the whole picture [px]: its place is kept free in that shape
    """

    src: str
    srcset: str
    width: int
    height: int


def sizes_of(file: SheetFile, name: str, *keys: Any) -> Sizes:
    """The sizes in which a picture stands on a page, by the name of the address that sends it."""
    longest = max(file.width, file.height)
    kept = {SMALL: SMALL_PX, PREVIEW: PREVIEW_PX}
    if not file.small:
        del kept[SMALL]
    widths = {size: round(file.width * min(1, px / longest)) for size, px in kept.items()}
    address = {size: reverse(name, args=[*keys, size]) for size in widths}
    each = [f"{address[size]} {width}w" for size, width in widths.items()]
    srcset = ", ".join(each) if len({*widths.values()}) > 1 else ""
    return Sizes(address[PREVIEW], srcset, file.width, file.height)


class Square(NamedTuple):
    """One of the 24 squares of a sheet's border, and the classes that place it."""

    zone: str
    css: str


SQUARES = tuple(
    Square(row + column, f"zone-row-{row.lower()} zone-col-{column}")
    for row in ROWS
    for column in COLUMNS
)
"""Row by row: A1 … D6."""


@dataclass(frozen=True)
class SheetView:
    """A sheet as it is pictured."""

    number: str
    title: str
    caption: str
    alt: str
    sizes: Sizes
    squares: ClassVar = SQUARES


def sheet_view(sheet: IssuedSheet) -> SheetView:
    """An issued sheet, as a picture."""
    return picture_of(sheet, "issued-sheet-image", sheet.revision_id, sheet.number)


def picture_of(sheet: Sheet | IssuedSheet, name: str, *keys: Any) -> SheetView:
    """A sheet as a picture, by the name of the address that sends it."""
    return SheetView(
        number=sheet.number,
        title=sheet.title,
        caption=" ".join(part for part in (sheet.number, sheet.title, sheet.scale) if part),
        alt=f"Sheet {sheet.number}, {sheet.title}",
        sizes=sizes_of(sheet.file, name, *keys),
    )

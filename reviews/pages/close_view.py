"""A sheet seen close: its picture at every size, its squares, and what its scale lets measure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from django.urls import reverse

from criteria.errors import Refused
from criteria.units import System
from reviews.models import IssuedSheet, Sheet
from reviews.models.pictures import TitleBlockFields
from reviews.pages.said_of_sheet import NOTHING_SAID, Remark, SaidOfSheet, remarks
from reviews.pages.sheet_views import SheetView, picture_of
from reviews.pages.traced_sheets import TracedSheet
from reviews.picture_limits import PREVIEW_PX, SMALL_PX
from reviews.places import Point, read_place
from reviews.reading.sheet_marks import MarkOnSheet, marks_on
from reviews.reading.sheet_pictures import FULL, PREVIEW, SMALL
from reviews.reading.sheet_scale import drawn_ratio
from reviews.tiles import TILE_PX, TilePack


class AskedSquare(NamedTuple):
    """A square that somebody asked for without the script: as typed, read, or why it wasn't."""

    typed: str = ""
    zone: str = ""
    error: str = ""


def asked_square(sent: Mapping[str, str]) -> AskedSquare:
    """Read a square from the field, else from the two plates.

    >>> asked_square({"at": "c4"}).zone, asked_square({"row": "B", "column": "2"}).zone
    ('C4', 'B2')
    >>> asked_square({"at": "E9"}).error
    'Read “E9”. Expected a square from A1 to D6.'
    """
    typed = sent.get("at", "").strip() or sent.get("row", "") + sent.get("column", "")
    if not typed:
        return AskedSquare()
    try:
        zone = read_place(typed).zone
    except Refused:
        zone = ""
    if not zone:
        return AskedSquare(typed, error=f"Read “{typed}”. Expected a square from A1 to D6.")
    return AskedSquare(typed, zone)


@dataclass(frozen=True)
class CloseView:
    """What the script of a close view is told.

    first      width of the small size, which is seen first on a slow line [px]
    stands     width of the middle size, which stands over it as soon as it is there [px]
    small, middle, full   addresses of the picture in three sizes
    tiles      what addresses of its tiles begin with; blank where there are none
    across_m   what the picture is wide at its scale [m]; None where that isn't known
    no_bar     why there is no bar of lengths; blank where there is
    bars       lengths are lettered in m or ft
    """

    width: int
    height: int
    first: int
    stands: int
    small: str
    middle: str
    full: str
    tiles: str
    width_mm: float | None
    across_m: float | None
    no_bar: str
    bars: str
    tile_px: int = TILE_PX

    @property
    def levels(self) -> int:
        """Sizes that there are tiles of."""
        return len(TilePack(self.width, self.height).levels) if self.tiles else 0


class Ring(NamedTuple):
    """A mark lettered on the drawing, ringed, and the way to its rows; x and y in percent."""

    mark: str
    x: str
    y: str
    zone: str
    href: str


def _ring(found: MarkOnSheet, href: str) -> Ring:
    at = Point(found.x, found.y)
    return Ring(found.mark, f"{at.x:.3%}", f"{at.y:.3%}", at.zone, href)


class AtSquare(NamedTuple):
    """A square with the marks and comments in it; a blank one is the sheet as a whole."""

    zone: str
    rings: list[Ring]
    remarks: list[Remark]


@dataclass(frozen=True)
class ClosePage:
    """One sheet seen close, with the ones before and after it, and the square asked for.

    rings   marks that were read on it, for whoever reads its schedules
    heard   what was said of it, to whoever reads it
    traced  the same as flags and strokes; None where nothing was
    """

    sheet: Sheet | IssuedSheet
    picture: SheetView
    close: CloseView
    at: AskedSquare
    sheets: Sequence[Sheet | IssuedSheet]
    rings: Sequence[Ring]
    heard: SaidOfSheet
    traced: TracedSheet | None

    @property
    def by_square(self) -> list[AtSquare]:
        """Marks, each once, and comments by their square, row by row; last those in none."""
        said = remarks(self.heard)
        zones = {ring.zone for ring in self.rings} | {remark.zone for remark in said}
        return [
            AtSquare(
                zone,
                list({ring.mark: ring for ring in self.rings if ring.zone == zone}.values()),
                [remark for remark in said if remark.zone == zone],
            )
            for zone in sorted(zones, key=lambda zone: (not zone, zone))
        ]

    @property
    def _place(self) -> int:
        return [other.pk for other in self.sheets].index(self.sheet.pk)

    @property
    def before(self) -> Sheet | IssuedSheet | None:
        """The sheet before it."""
        return self.sheets[self._place - 1] if self._place else None

    @property
    def after(self) -> Sheet | IssuedSheet | None:
        """The sheet after it."""
        return next(iter(self.sheets[self._place + 1 :]), None)


def close_page(
    sheet: Sheet | IssuedSheet,
    at: AskedSquare,
    system: System,
    *,
    reads_rows: bool = True,
    heard: SaidOfSheet = NOTHING_SAID,
) -> ClosePage:
    """What the page of one sheet shows, in preparation or issued."""
    over = heard.over(sheet) if isinstance(sheet, IssuedSheet) and heard.said else None
    marks = marks_on(sheet) if reads_rows else []
    others: Sequence[Sheet | IssuedSheet]
    keys: tuple[Any, ...]
    if isinstance(sheet, IssuedSheet):
        keys, others = (sheet.revision_id, sheet.number), list(sheet.revision.sheets.all())
        rings = [_ring(mark, _line_of(keys[0], mark)) for mark in marks]
        image, tile = "issued-sheet-image", reverse("issued-sheet-tile", args=[*keys, 0, 0, 0])
    else:
        keys, others = (sheet.package.scheme_id, sheet.pk), list(sheet.package.sheets.all())
        rings = [_ring(mark, _row_of(keys[0], mark)) for mark in marks]
        image, tile = "sheet-image", reverse("sheet-tile", args=[*keys, 0, 0, 0])
    file = sheet.file
    longest = max(file.width, file.height)
    across_m, no_bar = across(sheet)
    close = CloseView(
        width=file.width,
        height=file.height,
        first=round(file.width * min(1, SMALL_PX / longest)),
        stands=round(file.width * min(1, PREVIEW_PX / longest)),
        small=reverse(image, args=[*keys, SMALL]),
        middle=reverse(image, args=[*keys, PREVIEW]),
        full=reverse(image, args=[*keys, FULL]),
        tiles=tile.removesuffix("0/0-0.jpg") if file.tiles else "",
        width_mm=sheet.width_mm,
        across_m=across_m,
        no_bar=no_bar,
        bars="ft" if system is System.US else "m",
    )
    picture = picture_of(sheet, image, *keys)
    return ClosePage(sheet, picture, close, at, others, rings, heard, over)


def _row_of(scheme_id: int, found: MarkOnSheet) -> str:
    row = f"#row-{found.row}" if found.row else ""
    return reverse("show-schedule", args=[scheme_id, found.schedule]) + row


def _line_of(revision_id: int, found: MarkOnSheet) -> str:
    line = f"#line-{found.row}" if found.row else ""
    return reverse("show-issued-schedule", args=[revision_id, found.schedule]) + line


def across(sheet: TitleBlockFields) -> tuple[float | None, str]:
    """What a sheet's picture is wide at its scale [m], or why that isn't known."""
    if not sheet.scale.strip():
        return None, "No bar of lengths: the title block gives no scale."
    try:
        ratio = drawn_ratio(sheet.scale)
    except Refused as refused:
        said = f"Read “{refused.read}” as the scale; expected {refused.expected}."
        return None, f"No bar of lengths. {said}"
    if not sheet.width_mm:
        return None, "No bar of lengths: nobody said how wide the paper is."
    return sheet.width_mm * ratio / 1000, ""

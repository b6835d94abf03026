"""The eight sheets of a package."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

from criteria.package import Package
from reviews.demo.drawings.building import build
from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.furniture import draw_furniture
from reviews.demo.drawings.page import DrawnSheet, TitleBlock, draw_border, draw_title_block
from reviews.demo.drawings.pieces import draw_pieces, scale_for
from reviews.demo.drawings.plan import draw_plan
from reviews.demo.drawings.schedules import draw_schedules
from reviews.demo.drawings.section import draw_sections
from reviews.demo.drawings.site import draw_site
from reviews.demo.drawings.title import draw_title
from reviews.demo.drawings.views import draw_views


@dataclass(frozen=True)
class _Sheet:
    number: str
    title: str
    scale: str
    draw: Callable[[Canvas], None]


def draw_sheets(
    scheme_number: str,
    scheme_name: str,
    by: str,
    letter: str,
    date_text: str,
    statement: str,
    package: Package,
    tables: Mapping[str, list[dict[str, str]]],
    site_name: str,
    only: Collection[str] = (),
) -> list[DrawnSheet]:
    """Draw the eight sheets of one revision, or some of them, A3 landscape at 150 dpi.

    package     its schedules in SI, with the site sheet
    tables      the same records as typed, by schedule slug, for the sheet of schedules
    only        numbers of the sheets to draw; none named is all

    The same input gives the same pixels. Raises ValueError where no room is scheduled.
    """
    package = package.leniently
    b = build(package)
    sheets = (
        _Sheet("00", "Title and statement", "1:100",
               lambda c: draw_title(c, b, scheme_name, scheme_number, by, statement)),
        _Sheet("01", "Site and approach", "1:500", lambda c: draw_site(c, b)),
        _Sheet("02", "Plan", "1:50", lambda c: draw_plan(c, b)),
        _Sheet("03", "Sections", "1:50", lambda c: draw_sections(c, b)),
        _Sheet("04", "Inside views", "", lambda c: draw_views(c, b)),
        _Sheet("05", "Furniture and stowage", "1:20", lambda c: draw_furniture(c, b)),
        _Sheet("06", "Pieces, order, removal", f"1:{scale_for(package)}",
               lambda c: draw_pieces(c, b)),
        _Sheet("07", "Schedules", "", lambda c: draw_schedules(c, tables, scheme_number)),
    )  # fmt: skip
    block = TitleBlock(scheme_number, scheme_name, by, site_name, letter, date_text, len(sheets))
    return [_drawn(sheet, block) for sheet in sheets if not only or sheet.number in only]


def _drawn(sheet: _Sheet, block: TitleBlock) -> DrawnSheet:
    canvas = Canvas()
    sheet.draw(canvas)
    draw_border(canvas)
    draw_title_block(canvas, block, sheet.number, sheet.title, sheet.scale)
    return DrawnSheet(sheet.number, sheet.title, sheet.scale, canvas.finished())

"""The eight sheets of a package."""

from collections.abc import Callable, Collection, Mapping

from criteria.package import Package
from reviews.demo.drawings.building import build
from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.furniture import draw_furniture
from reviews.demo.drawings.page import DrawnSheet, TitleBlock, draw_border, draw_title_block
from reviews.demo.drawings.pieces import draw_pieces, scale_for
from reviews.demo.drawings.plan import draw_plan, placing
from reviews.demo.drawings.schedules import draw_schedules
from reviews.demo.drawings.section import draw_sections
from reviews.demo.drawings.site import draw_site
from reviews.demo.drawings.title import draw_title
from reviews.demo.drawings.views import draw_views


def draw_sheets(
    block: TitleBlock,
    package: Package,
    tables: Mapping[str, list[dict[str, str]]],
    only: Collection[str] = (),
) -> list[DrawnSheet]:
    """Draw the eight sheets of one revision, or some of them, A3 landscape at 150 dpi.

    package     its schedules in SI, with the site sheet
    tables      the same records as typed, by schedule slug, for the sheet of schedules
    only        numbers of the sheets to draw; none named is all

    The same input gives the same pixels. Raises ValueError where no room is scheduled.
    """
    b = build(package)
    plan_scale, pieces_scale = f"1:{placing(b).scale:g}", f"1:{scale_for(b.package, b.pieces)}"
    sheets: tuple[tuple[str, str, Callable[[Canvas], None]], ...] = (
        ("Title and statement", "1:100", lambda c: draw_title(c, b, block)),
        ("Site and approach", "1:500", lambda c: draw_site(c, b)),
        ("Plan", plan_scale, lambda c: draw_plan(c, b)),
        ("Sections", "1:50", lambda c: draw_sections(c, b)),
        ("Inside views", "", lambda c: draw_views(c, b)),
        ("Furniture and stowage, day and night", "1:20", lambda c: draw_furniture(c, b)),
        ("Pieces as packed, order, removal", pieces_scale, lambda c: draw_pieces(c, b)),
        ("Schedules", "", lambda c: draw_schedules(c, tables)),
    )
    drawn = []
    for n, (title, scale, draw) in enumerate(sheets):
        number = f"{n:02}"
        if not only or number in only:
            canvas = Canvas()
            draw(canvas)
            draw_border(canvas)
            draw_title_block(canvas, block, number, title, scale, len(sheets))
            drawn.append(DrawnSheet(number, title, scale, canvas.finished()))
    return drawn

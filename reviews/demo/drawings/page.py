"""The sheet that every drawing stands on: border, zones, title block; and the finished sheet."""

from dataclasses import dataclass

from PIL import Image

from reviews.demo.drawings.canvas import (
    BOLD,
    FINE,
    GRAPHITE,
    HEIGHT_MM,
    INK,
    LINE,
    THIN,
    WIDTH_MM,
    Canvas,
    Point,
)

ROWS, COLUMNS = "ABCD", "123456"
EDGE_MM, FRAME_MM, FOOT_MM = 4.0, 10.0, 19.0
"""Outer rule, inner rule and the height of the title block, from the edge of the paper [mm]."""


@dataclass(frozen=True)
class DrawnSheet:
    """One finished sheet of a package."""

    number: str
    title: str
    scale: str
    image: Image.Image


@dataclass(frozen=True)
class Field:
    """The part of a sheet that is free to draw on [mm of paper]."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Width [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height [mm]."""
        return self.bottom - self.top

    @property
    def centre(self) -> Point:
        """The middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2


FIELD = Field(
    FRAME_MM + 5, FRAME_MM + 5, WIDTH_MM - FRAME_MM - 5, HEIGHT_MM - FRAME_MM - FOOT_MM - 3
)


@dataclass(frozen=True)
class TitleBlock:
    """What the foot of each sheet says."""

    scheme_number: str
    scheme_name: str
    by: str
    site: str
    letter: str
    date: str
    sheets: int


def zone_lines() -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return where zones meet, across and down [mm of paper].

    They divide the whole picture evenly, as the page that shows it does.
    """
    across = tuple(WIDTH_MM * i / len(COLUMNS) for i in range(1, len(COLUMNS)))
    down = tuple(HEIGHT_MM * i / len(ROWS) for i in range(1, len(ROWS)))
    return across, down


def zone_field(zone: str) -> Field:
    """Return the field of a zone such as C4 [mm of paper]."""
    row, column = ROWS.index(zone[0]), COLUMNS.index(zone[1])
    wide, high = WIDTH_MM / len(COLUMNS), HEIGHT_MM / len(ROWS)
    return Field(column * wide, row * high, (column + 1) * wide, (row + 1) * high)


def draw_border(canvas: Canvas) -> None:
    """Rule the border with its zones."""
    canvas.box(EDGE_MM, EDGE_MM, WIDTH_MM - EDGE_MM, HEIGHT_MM - EDGE_MM, pen=THIN)
    canvas.box(FRAME_MM, FRAME_MM, WIDTH_MM - FRAME_MM, HEIGHT_MM - FRAME_MM, pen=BOLD)
    across, down = zone_lines()
    for x in across:
        canvas.line([(x, EDGE_MM), (x, FRAME_MM)], THIN)
        canvas.line([(x, HEIGHT_MM - FRAME_MM), (x, HEIGHT_MM - EDGE_MM)], THIN)
    for y in down:
        canvas.line([(EDGE_MM, y), (FRAME_MM, y)], THIN)
        canvas.line([(WIDTH_MM - FRAME_MM, y), (WIDTH_MM - EDGE_MM, y)], THIN)
    middle = (EDGE_MM + FRAME_MM) / 2
    for column in COLUMNS:
        x = zone_field("A" + column).centre[0]
        for y in (middle, HEIGHT_MM - middle):
            canvas.text((x, y), column, 4.2, "medium", GRAPHITE, "mm")
    for row in ROWS:
        y = zone_field(row + "1").centre[1]
        for x in (middle, WIDTH_MM - middle):
            canvas.text((x, y), row, 4.2, "medium", GRAPHITE, "mm")
    mid_x, mid_y = WIDTH_MM / 2, HEIGHT_MM / 2
    for a, b in (
        ((mid_x, FRAME_MM), (mid_x, FRAME_MM + 3)),
        ((FRAME_MM, mid_y), (FRAME_MM + 3, mid_y)),
        ((WIDTH_MM - FRAME_MM, mid_y), (WIDTH_MM - FRAME_MM - 3, mid_y)),
    ):
        canvas.line([a, b], LINE)


def draw_title_block(
    canvas: Canvas, block: TitleBlock, number: str, title: str, scale: str
) -> None:
    """Rule and letter the title block along the foot."""
    left, right = FRAME_MM, WIDTH_MM - FRAME_MM
    top, bottom = HEIGHT_MM - FRAME_MM - FOOT_MM, HEIGHT_MM - FRAME_MM
    canvas.box(left, top, right, bottom, pen=BOLD)
    cells = (
        (92.0, "Scheme", f"{block.scheme_number}  {block.scheme_name}", "title", 8.0),
        (83.0, "Sheet", title, "medium", 6.4),
        (76.0, "Drawn by", block.by, "label", 5.0),
        (40.0, "Site", block.site, "label", 5.0),
        (27.0, "Scale", scale or "–", "label", 5.0),
        (44.0, "Date", block.date, "label", 5.0),
        (16.0, "Rev.", block.letter, "strong", 7.5),
        (0.0, "No.", number, "strong", 9.0),
    )
    x = left
    for wide, label, words, face, size in cells:
        end = x + wide if wide else right
        if x > left:
            canvas.line([(x, top), (x, bottom)], THIN)
        canvas.text((x + 2.2, top + 4.8), label, 3.5, "label", GRAPHITE)
        while size > 3.6 and canvas.width_of(words, size, face) > end - x - 4:
            size -= 0.2
        canvas.text((x + 2.2, bottom - 4.2), words, size, face, INK)
        x = end
    canvas.text((right - 2.2, top + 4.8), f"of {block.sheets}", 3.5, "label", GRAPHITE, "rs")
    canvas.line([(left, top), (right, top)], BOLD, INK)


def caption(canvas: Canvas, at: Point, words: str, note: str = "") -> None:
    """Letter a drawing's title with its scale, over a rule."""
    x, y = at
    canvas.text((x, y), words, 5.2, "strong", INK)
    wide = canvas.width_of(words, 5.2, "strong")
    if note:
        canvas.text((x + wide + 3, y), note, 4.0, "label", GRAPHITE)
        wide += 3 + canvas.width_of(note, 4.0)
    canvas.line([(x, y + 1.8), (x + wide, y + 1.8)], THIN, FINE)

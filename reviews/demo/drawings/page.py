"""The sheet that every drawing stands on: border, zones, title block; and the finished sheet."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from PIL import Image

from reviews.demo.drawings.canvas import HEIGHT_MM, WIDTH_MM, Canvas, Point

Row = TypeVar("Row")
ROWS, COLUMNS = "ABCD", "123456"
EDGE_MM, FRAME_MM, FOOT_MM = 4.0, 10.0, 19.0
"""Outer rule, inner rule and the height of the title block, from the edge of the paper [mm]."""
FITTING_SCALES = (50, 75, 100, 125, 150, 200)
"""Scales of what is drawn as large as it fits."""


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


_INSET_MM = FRAME_MM + 5
FIELD = Field(_INSET_MM, _INSET_MM, WIDTH_MM - _INSET_MM, HEIGHT_MM - FRAME_MM - FOOT_MM - 3)


@dataclass(frozen=True)
class TitleBlock:
    """What the sheets of one revision say of it."""

    number: str
    name: str
    by: str
    letter: str
    day: str
    statement: str
    site: str


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
    """Rule the border with its zones and the marks at the middle of its sides."""
    for edge, pen in ((EDGE_MM, "thin"), (FRAME_MM, "bold")):
        canvas.box(edge, edge, WIDTH_MM - edge, HEIGHT_MM - edge, pen, fill=None)
    upright = canvas.seen(lambda down, across: (across, down))
    across, down = zone_lines()
    columns = {name: zone_field("A" + name).centre[0] for name in COLUMNS}
    rows = {name: zone_field(name + "1").centre[1] for name in ROWS}
    for view, ticks, names, long, deep in (
        (canvas, across, columns, WIDTH_MM, HEIGHT_MM),
        (upright, down, rows, HEIGHT_MM, WIDTH_MM),
    ):
        for outer, inner, end in (
            (EDGE_MM, FRAME_MM, FRAME_MM + 3),
            (deep - EDGE_MM, deep - FRAME_MM, deep - FRAME_MM - 3),
        ):
            view.line([(long / 2, inner), (long / 2, end)])
            for tick in ticks:
                view.line([(tick, outer), (tick, inner)], "thin")
            for name, at in names.items():
                view.text((at, (outer + inner) / 2), name, 4.2, "medium", "graphite", "mm")


def draw_title_block(
    canvas: Canvas, block: TitleBlock, number: str, title: str, scale: str, sheets: int
) -> None:
    """Rule and letter the title block along the foot."""
    left, right = FRAME_MM, WIDTH_MM - FRAME_MM
    top, bottom = HEIGHT_MM - FRAME_MM - FOOT_MM, HEIGHT_MM - FRAME_MM
    canvas.box(left, top, right, bottom, "bold")
    cells = (
        (92.0, "Scheme", f"{block.number}  {block.name}", "title", 8.0),
        (83.0, "Sheet", title, "medium", 6.4),
        (76.0, "Drawn by", block.by, "label", 5.0),
        (40.0, "Site", block.site, "label", 5.0),
        (27.0, "Scale", scale or "–", "label", 5.0),
        (44.0, "Date", block.day, "label", 5.0),
        (16.0, "Rev.", block.letter, "strong", 7.5),
        (0.0, "No.", number, "strong", 9.0),
    )
    x = left
    for wide, label, words, face, size in cells:
        end = x + wide if wide else right
        if x > left:
            canvas.line([(x, top), (x, bottom)], "thin")
        canvas.text((x + 2.2, top + 4.8), label, 3.5, ink="graphite")
        while size > 3.6 and canvas.width_of(words, size, face) > end - x - 4:
            size -= 0.2
        canvas.text((x + 2.2, bottom - 4.2), words, size, face)
        x = end
    canvas.text((right - 2.2, top + 4.8), f"of {sheets}", 3.5, ink="graphite", anchor="rs")


def caption(canvas: Canvas, at: Point, words: str, note: str = "") -> None:
    """Letter a drawing's title with its scale, over a rule."""
    x, y = at
    canvas.text((x, y), words, 5.2, "strong")
    wide = canvas.width_of(words, 5.2, "strong")
    if note:
        canvas.text((x + wide + 3, y), note, 4.0, ink="graphite")
        wide += 3 + canvas.width_of(note, 4.0)
    canvas.line([(x, y + 1.8), (x + wide, y + 1.8)], "thin", "fine")


def columns(
    canvas: Canvas, rows: Sequence[Row], top: float, bottom: float, least: int
) -> Iterator[tuple[Row, float, float]]:
    """Yield rows side by side under a caption, ruled apart, with place and width of each [mm].

    least    how many there is room for at least
    """
    if not rows:
        canvas.text((FIELD.left, top + 15), "None in the schedule.", 4, ink="graphite")
    wide = FIELD.width / max(least, len(rows))
    for i, row in enumerate(rows):
        x = FIELD.left + i * wide
        if i:
            canvas.line([(x - 4, top + 7), (x - 4, bottom)], "hair", "fine")
        yield row, x, wide

"""Drawings as a PDF whose scale and border are sure: a sheet each, in a border with zones.

A browser lays a page out as it sees fit, and not every one repeats what stands around it. Black on
white, fills left out but what is cut: a state is said by hatch and word.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path as FilePath

from fpdf import FPDF
from fpdf.enums import TextMode

from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import fitted, type_mm
from criteria.drawing.marks import (
    Box,
    Disc,
    Flat,
    Lettering,
    Patches,
    Path,
    Point,
    Ribbon,
    Strokes,
    moved,
    rectangle,
)
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.units import System

FONTS = FilePath(__file__).parents[1] / "static" / "reviews" / "fonts"
FACES = {"": "BarlowSemiCondensed-Regular.woff2", "B": "BarlowSemiCondensed-SemiBold.woff2"}
FACE = "Barlow"

PAPERS = {
    System.METRIC: ((210.0, 297.0), (297.0, 420.0)),
    System.US: ((215.9, 279.4), (279.4, 431.8)),
}
"""Sheets upright [mm], smallest first: ISO 216 A4 and A3; ANSI/ASME Y14.1 A and B."""
MARGIN, BINDING, ZONE = 10.0, 20.0, 5.0
"""From the edge to the frame, at the side that is bound, and how deep zones are (ISO 5457) [mm]."""
INSIDE, HEAD, BLOCK = 4.0, 24.0, 22.0
"""From the frame to what is drawn, and how high title and title block are [mm]."""
BAR_MM = 100.0
INK, GRAPHITE, WHITE = 0, 58, 255
HALO_PT = 2.5
PT_PER_MM = 72 / 25.4
SMALL, NAME = 2.5, 3.5
"""Heights of capitals (ISO 3098-1) [mm]."""

Cells = Sequence[tuple[str, str]]
"""Label and value of each cell of a title block."""


def as_pdf(drawings: Sequence[Drawing], title: str, cells: Cells, system: System) -> bytes:
    """Draw each drawing on a sheet of its own; without any, one sheet says so."""
    pdf = begun(title)
    for number, drawing in enumerate(drawings or (None,), start=1):
        of = f"{number} of {len(drawings) or 1}"
        _Sheet(pdf, _paper_of(drawing, system)).fill(drawing, title, [*cells, ("Page", of)])
    return bytes(pdf.output())


def as_pages(sheets: Sequence[Drawing], title: str) -> bytes:
    """Put drawings that are whole sheets, border and all, on pages of their own size."""
    pdf = begun(title)
    for drawing in sheets:
        _Sheet(pdf, (drawing.width_mm, drawing.height_mm)).draw(drawing)
    return bytes(pdf.output())


def begun(title: str, pdf: FPDF | None = None) -> FPDF:
    """A file without pages yet, with the site's faces."""
    pdf = pdf or FPDF(unit="mm")
    pdf.set_auto_page_break(False)
    pdf.set_title(title)
    for style, file in FACES.items():
        pdf.add_font(FACE, style, FONTS / file)
    return pdf


def _paper_of(drawing: Drawing | None, system: System) -> tuple[float, float]:
    """The smallest sheet that holds a drawing at its scale; the largest where none does."""
    papers = PAPERS[system]
    if drawing is None:
        return papers[0]
    wide = drawing.width_mm + BINDING + MARGIN
    high = drawing.height_mm + 2 * MARGIN + 2 * INSIDE + HEAD + BLOCK
    return next((each for each in papers if wide <= each[0] and high <= each[1]), papers[-1])


class _Sheet:
    """One sheet as it is drawn: from the upper left corner, millimetres."""

    def __init__(self, pdf: FPDF, size: tuple[float, float]) -> None:
        self._pdf, (self._wide, self._high) = pdf, size
        pdf.add_page(format=size)

    def draw(self, drawing: Drawing) -> None:
        """Draw the marks of a drawing as they lie on it."""
        for mark in drawing.flat:
            self._mark(mark)

    def fill(self, drawing: Drawing | None, title: str, cells: Cells) -> None:
        """Draw the border, then what stands in it."""
        self._border()
        left, top = BINDING + INSIDE, MARGIN + INSIDE
        self._words(title, (left, top + NAME), NAME, is_strong=True)
        said = drawing.title if drawing else "Nothing can be drawn yet"
        self._words(said, (left, top + 9.5), SMALL)
        if drawing:
            if drawing.scale:
                true = f"{drawing.scale}, true where this bar is 100 mm long"
                self._words(true, (left, top + 14.5), SMALL)
                self._line([(left, top + 17.5), (left + BAR_MM, top + 17.5)], Pen.CUT)
            across = BINDING + (self._inner - drawing.width_mm) / 2
            for mark in drawing.flat:
                self._mark(moved(mark, across, top + HEAD))
        self._block(cells)

    @property
    def _inner(self) -> float:
        return self._wide - BINDING - MARGIN

    def _border(self) -> None:
        right, foot = self._wide - MARGIN, self._high - MARGIN
        for box, pen in (
            ((BINDING - ZONE, MARGIN - ZONE, right + ZONE, foot + ZONE), Pen.FINE),
            ((BINDING, MARGIN, right, foot), Pen.CUT),
        ):
            self._path(Path(points=rectangle(box), pen=pen, is_closed=True))
        across, down = (right - BINDING) / 6, (foot - MARGIN) / 4
        for n in range(6):
            x = BINDING + across * (n + 0.5)
            for y in (MARGIN - ZONE / 2, foot + ZONE / 2):
                self._words(str(n + 1), (x, y + SMALL / 2), SMALL, anchor="middle")
            if n:
                for y in (MARGIN - ZONE, foot):
                    self._line([(BINDING + across * n, y), (BINDING + across * n, y + ZONE)])
        for n in range(4):
            y = MARGIN + down * (n + 0.5)
            for x in (BINDING - ZONE / 2, right + ZONE / 2):
                self._words("ABCD"[n], (x, y + SMALL / 2), SMALL, anchor="middle")
            if n:
                for x in (BINDING - ZONE, right):
                    self._line([(x, MARGIN + down * n), (x + ZONE, MARGIN + down * n)])

    def _block(self, cells: Cells) -> None:
        """The title block along the foot: two wide cells over the small ones (ISO 7200)."""
        top, left = self._high - MARGIN - BLOCK, BINDING
        self._line([(left, top), (left + self._inner, top)], Pen.CUT)
        for row, held in enumerate((cells[:2], cells[2:])):
            y, width = top + row * BLOCK / 2, self._inner / max(len(held), 1)
            if row:
                self._line([(left, y), (left + self._inner, y)])
            for n, (label, value) in enumerate(held):
                x = left + n * width
                if n:
                    self._line([(x, y), (x, y + BLOCK / 2)])
                self._words(label, (x + 1.5, y + 4), SMALL, tone=Tone.GRAPHITE)
                self._words(fitted(value, SMALL, width - 3), (x + 1.5, y + 9), SMALL)

    def _mark(self, mark: Flat) -> None:
        match mark:
            case Path():
                self._path(mark)
            case Strokes():
                for segment in mark.segments:
                    self._line(segment, mark.pen, mark.tone)
            case Patches():
                for box in mark.boxes:
                    self._path(_patch(box, mark))
            case Disc():
                style = self._style(mark.pen, mark.tone, mark.fill)
                self._pdf.circle(*mark.middle, mark.radius_mm, style=style)
            case Ribbon():
                self._band(mark.points, mark.width_mm, INK)
                self._band(mark.points, max(0.0, mark.width_mm - 2 * Pen.FINE.width_mm), WHITE)
            case Lettering():
                strong, tone = mark.is_strong, mark.tone
                self._words(
                    mark.words, mark.at, mark.cap_mm, mark.anchor, strong, tone, mark.is_turned
                )

    def _path(self, path: Path) -> None:
        style = self._style(path.pen, path.tone, path.fill)
        if style:
            self._pdf.polyline(list(path.points), polygon=path.is_closed, style=style)

    def _band(self, points: Sequence[Point], width_mm: float, grey: int) -> None:
        self._pdf.set_dash_pattern()
        self._pdf.set_draw_color(grey)
        self._pdf.set_line_width(width_mm)
        self._pdf.polyline(list(points))

    def _line(self, points: Sequence[Point], pen: Pen = Pen.FINE, tone: Tone = Tone.INK) -> None:
        self._style(pen, tone, Fill.NONE)
        self._pdf.polyline(list(points))

    def _style(self, pen: Pen | None, tone: Tone, fill: Fill) -> str:
        """Take up pen and fill; what is drawn of a shape: its outline, its inside, or both."""
        if pen:
            dash, gap = pen.dashes_mm[:2] or (0.0, 0.0)
            self._pdf.set_dash_pattern(dash, gap)
            self._pdf.set_line_width(pen.width_mm)
            self._pdf.set_draw_color(_grey(tone))
        self._pdf.set_fill_color(INK if fill in (Fill.CUT, Fill.INK) else WHITE)
        return ("D" if pen else "") + ("F" if fill is not Fill.NONE else "")

    def _words(
        self,
        words: str,
        at: Point,
        cap_mm: float,
        anchor: str = "start",
        is_strong: bool = False,
        tone: Tone = Tone.INK,
        is_turned: bool = False,
    ) -> None:
        """Letter on a line, with a halo of paper."""
        pdf, (x, y) = self._pdf, at
        pdf.set_font(FACE, "B" if is_strong else "", type_mm(cap_mm) * PT_PER_MM)
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * pdf.get_string_width(words)
        pdf.set_text_color(_grey(tone))
        with pdf.rotation(90 if is_turned else 0, x, y):
            with pdf.local_context():
                pdf.set_dash_pattern()
                pdf.set_draw_color(WHITE)
                pdf.set_line_width(HALO_PT)  # of letters it is taken as points
                pdf.text_mode = TextMode.STROKE
                pdf.text(x - before, y, words)
            pdf.text(x - before, y, words)


def _patch(box: Box, of: Patches) -> Path:
    return Path(points=rectangle(box), pen=None, fill=of.fill, is_closed=True)


def _grey(tone: Tone) -> int:
    return GRAPHITE if tone is Tone.GRAPHITE else INK

"""Jury sheets for paper: two sides of A4 a juror and scheme, ready before the power fails.

The first side holds head, levels and the sheets with their squares; the second has room for words.
Black on white, to be copied on anything.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import segno
from fpdf import FPDF

from criteria.drawing.lettering import fitted, type_mm, wrapped
from reviews.drawn.pdf import FACE, PT_PER_MM, begun
from reviews.places import COLUMNS, ROWS

WIDE, HIGH, MARGIN = 210.0, 297.0, 12.0
"""A4 upright and its margin, which every office printer keeps [mm]."""
INNER = WIDE - 2 * MARGIN
SMALL, WORD, NAME, BIG = 2.5, 2.9, 3.5, 5.5
"""Heights of capitals [mm]."""
BOX = 7.0
"""A box that a pencil ticks [mm]."""
HEAD, SQUARE_CODE = 36.0, 24.0
MOST_ROW, LEAST_ROW = 14.0, 7.5
MOST_SHEETS, ACROSS = 8, 4
REMARKS = 6
KINDS = ("Keep", "Rework", "Prove", "Draw", "Refer", "Ask", "Hazard")
LEVELS = (
    "Not shown",
    "Roughed out",
    "Worked through",
    "Resolved",
    "Carried to detail",
    "Not mine",
)
FINE, STRONG, FAINT = 0.18, 0.5, 0.1
INK, QUIET = 0, 90


@dataclass(frozen=True)
class Hung:
    """One issued sheet: number, title, its picture as JPEG, or none where it isn't there."""

    number: str
    title: str
    picture: bytes | None
    width: int = 420
    height: int = 297


@dataclass(frozen=True)
class PaperSheet:
    """What stands on the two sides of one juror and one scheme.

    code      what finds its page again where it is typed in; `link` is its whole address
    revision  what hangs, in words
    levels    code and name of each criterion; none where no level is asked
    why_none  why no level is asked
    """

    scheme: str
    juror: str
    place: str
    crit: str
    revision: str
    code: str
    link: str
    levels: tuple[tuple[str, str], ...]
    sheets: tuple[Hung, ...]
    why_none: str = ""


def draw_paper(sheets: Iterable[PaperSheet], title: str) -> bytes:
    """Draw all of a crit; without any, one page says so."""
    pdf = begun(title)
    pages = _Pages(pdf)
    for sheet in sheets:
        pages.front(sheet)
        pages.back(sheet)
    if not pdf.pages_count:
        pdf.add_page(format=(WIDE, HIGH))
        pages.words("No juror sees a scheme of this crit yet.", MARGIN, MARGIN + BIG, NAME)
    return bytes(pdf.output())


@lru_cache(maxsize=1)
def _cells(link: str) -> tuple[bytes, ...]:
    """The dark and light cells of a link's QR code (ISO/IEC 18004): once for both sides."""
    return tuple(bytes(row) for row in segno.make(link, error="m", micro=False).matrix)


class _Pages:
    """The two sides, millimetres from the upper left."""

    def __init__(self, pdf: FPDF) -> None:
        self._pdf = pdf

    def words(
        self,
        words: str,
        x: float,
        y: float,
        cap_mm: float,
        *,
        most: float = INNER,
        is_strong: bool = False,
        grey: int = INK,
    ) -> None:
        """Letter a line, shortened where it doesn't fit; `y` is its foot."""
        self._pdf.set_font(FACE, "B" if is_strong else "", type_mm(cap_mm) * PT_PER_MM)
        self._pdf.set_text_color(grey)
        self._pdf.text(x, y, fitted(words, cap_mm, most))

    def _line(self, x: float, y: float, to_x: float, to_y: float, width: float = FINE) -> None:
        self._pdf.set_draw_color(INK)
        self._pdf.set_line_width(width)
        self._pdf.line(x, y, to_x, to_y)

    def _box(self, x: float, y: float, wide: float, high: float, width: float = FINE) -> None:
        self._pdf.set_draw_color(INK)
        self._pdf.set_line_width(width)
        self._pdf.rect(x, y, wide, high)

    def _head(self, sheet: PaperSheet, side: str) -> None:
        self._pdf.add_page(format=(WIDE, HIGH))
        left, top, most = MARGIN, MARGIN, INNER - SQUARE_CODE - 6
        self.words(sheet.scheme, left, top + BIG, BIG, most=most, is_strong=True)
        self.words(sheet.juror, left, top + 14, NAME + 0.5, most=most, is_strong=True)
        self.words(sheet.place, left, top + 20.5, NAME, most=most)
        told = f"{sheet.crit}. {sheet.revision}. {side}"
        self.words(told, left, top + 26, SMALL, most=most, grey=QUIET)
        self._code(sheet.link, WIDE - MARGIN - SQUARE_CODE, top)
        self.words(sheet.code, WIDE - MARGIN - SQUARE_CODE, top + 28.5, WORD, is_strong=True)
        self._line(left, top + 31, WIDE - MARGIN, top + 31, STRONG)

    def _code(self, link: str, x: float, y: float) -> None:
        """The QR code, each run of dark cells one bar."""
        rows = _cells(link)
        cell = SQUARE_CODE / len(rows)
        self._pdf.set_fill_color(INK)
        for down, row in enumerate(rows):
            begin = None
            for across, dark in enumerate([*row, 0]):
                if dark and begin is None:
                    begin = across
                elif not dark and begin is not None:
                    left = x + begin * cell
                    self._pdf.rect(left, y + down * cell, (across - begin) * cell, cell, style="F")
                    begin = None

    def front(self, sheet: PaperSheet) -> None:
        """Levels as lines, then the sheets with their squares."""
        self._head(sheet, "Side 1: levels")
        top = MARGIN + HEAD
        if sheet.levels:
            top = self._levels(sheet, top)
        else:
            self.words(sheet.why_none or "No level is asked.", MARGIN, top + 4, NAME)
            top += 10
        self._sheets(sheet.sheets, top)

    def _levels(self, sheet: PaperSheet, top: float) -> float:
        lines = [("", "Overall impression, before the criteria"), *sheet.levels]
        row = max(LEAST_ROW, min(MOST_ROW, 138.0 / len(lines)))
        step = 17.5
        boxes = WIDE - MARGIN - len(LEVELS) * step
        for n, word in enumerate(LEVELS):
            x = boxes + n * step
            figure = str(n + 1) if n < len(LEVELS) - 1 else "–"
            self.words(figure, x + step / 2 - 1, top + 3.5, NAME, is_strong=True)
            for line, part in enumerate(wrapped(word, 2.0, step - 1, 2)):
                self.words(part, x + 0.8, top + 7 + line * 3, 2.0, most=step - 1, grey=QUIET)
        y = top + 11.5
        for n, (code, name) in enumerate(lines):
            self._line(MARGIN, y, WIDE - MARGIN, y, FINE)
            middle = y + row / 2
            self.words(code, MARGIN, middle + 1.4, NAME, is_strong=True, most=12)
            start = MARGIN + (12 if code else 0)
            named = wrapped(name, WORD, boxes - start - 2, 2)
            for line, part in enumerate(named):
                down = middle + 1.2 + (line - (len(named) - 1) / 2) * 4.2
                self.words(part, start, down, WORD, most=boxes - start - 2)
            for box in range(len(LEVELS) - (n == 0)):
                x = boxes + box * step + (step - BOX) / 2
                high = min(BOX, row - 1.5)
                self._box(x, middle - high / 2, BOX, high)
            y += row
        self._line(MARGIN, y, WIDE - MARGIN, y, FINE)
        return y + 5

    def _sheets(self, sheets: tuple[Hung, ...], top: float) -> None:
        if not sheets:
            self.words("No sheet was issued for this crit.", MARGIN, top + 4, WORD)
            return
        shown = sheets[:MOST_SHEETS]
        gap, label = 4.0, 4.5
        wide = (INNER - gap * (ACROSS - 1)) / ACROSS
        rows = -(-len(shown) // ACROSS)
        high = min(wide * 0.72, (HIGH - MARGIN - top - 4) / rows - label - 2)
        for n, hung in enumerate(shown):
            x = MARGIN + (n % ACROSS) * (wide + gap)
            y = top + (n // ACROSS) * (high + label + 2)
            self.words(f"{hung.number} {hung.title}", x, y + 3, SMALL, most=wide)
            self._hung(hung, x, y + label, wide, high)
        if left := sheets[MOST_SHEETS:]:
            more = f"Without a picture here: {', '.join(each.number for each in left)}"
            self.words(more, MARGIN, HIGH - MARGIN, SMALL, grey=QUIET)

    def _hung(self, hung: Hung, x: float, y: float, most_wide: float, most_high: float) -> None:
        """One sheet in its box, its squares over it with letters and figures at the edge."""
        scale = min((most_wide - 3) / hung.width, (most_high - 3) / hung.height)
        wide, high = hung.width * scale, hung.height * scale
        left, top = x + 3, y + 3
        if hung.picture:
            self._pdf.image(hung.picture, left, top, wide, high)
        else:
            self.words("The picture is missing", left + 1, top + high / 2, 2.0, most=wide - 2)
        self._box(left, top, wide, high)
        for n, name in enumerate(COLUMNS):
            across = left + wide * n / len(COLUMNS)
            self.words(name, across + wide / len(COLUMNS) / 2 - 0.6, y + 2.4, 1.8, grey=QUIET)
            if n:
                self._line(across, top, across, top + high, FAINT)
        for n, name in enumerate(ROWS):
            down = top + high * n / len(ROWS)
            self.words(name, x + 0.6, down + high / len(ROWS) / 2 + 0.9, 1.8, grey=QUIET)
            if n:
                self._line(left, down, left + wide, down, FAINT)

    def back(self, sheet: PaperSheet) -> None:
        """Room to write: kind, sheet and square, words."""
        self._head(sheet, "Side 2: comments")
        top = MARGIN + HEAD
        told = "What I see – why it matters – what to do or show. One kind each; sheet and square."
        self.words(told, MARGIN, top, SMALL, grey=QUIET)
        top += 4
        block = (HIGH - MARGIN - top) / REMARKS
        for n in range(REMARKS):
            y = top + n * block
            self._line(MARGIN, y, WIDE - MARGIN, y, STRONG)
            self._remark(y + 3, block - 3)

    def _remark(self, top: float, high: float) -> None:
        step, box = 18.5, 4.5
        for n, kind in enumerate(KINDS):
            x = MARGIN + n * step
            self._box(x, top, box, box)
            self.words(kind, x + box + 0.8, top + 3.5, SMALL, most=step - box - 1)
        x = MARGIN + len(KINDS) * step + 2
        for name, before in (("Sheet", 9.0), ("Square", 11.5)):
            self.words(name, x, top + 3.5, SMALL, grey=QUIET)
            self._box(x + before, top - 1, 12.0, 6.5)
            x += before + 15
        y = top + 14
        while y < top + high - 1:
            self._line(MARGIN, y, WIDE - MARGIN, y, FAINT)
            y += 8

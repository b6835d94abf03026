"""Draw the pages of a PDF, apart from the site, each by a process of its own.

    python plain_pdf.py pages SENT                            how many, and what each is called
    python plain_pdf.py page SENT N IMAGE PREVIEW SMALL       one of them, plain, and what it says

A page is drawn as a picture, and its letters are read: no script of it is run, no file of it
opened. This file imports PDFium beside what `plain_picture` imports, and is bounded as that is.
"""

from __future__ import annotations

import ctypes
import math
from typing import Any, NamedTuple

import pypdfium2
import pypdfium2.raw as pdfium
import pyvips

from reviews import picture_limits as limits
from reviews.picture_limits import NotTaken
from reviews.plain_picture import main, told_apart, write_plain

DPI = 200
"""Dots an inch that a page is drawn at, where it isn't too large for it."""
MOST_DRAWN_PX, LONGEST_DRAWN_PX = 60_000_000, 16_000
LARGEST_PT = 14_400
"""Longest side of a page [pt]: 200 in, what ISO 32000-1 annex C.2 says a reader bears."""
LEAST_PT = 3
MOST_LETTERS, MOST_WORDS, MOST_MARKS = 40_000, 3000, 50_000
"""So many letters, words and drawn things of a page are looked at, and no more."""
MM_A_PT = 25.4 / 72
LONGEST_WORD = 60
GAP, SUNK, SMALLER, TURNED = 0.28, 0.35, 0.66, 0.1
"""Letters of a word are less far apart, lie no more apart in height, are no smaller beside each
other, in heights of letters, and are turned no further from each other [rad]. Ours."""
PARTS = 1_000_000
"""Places are asked for on a page so many dots wide and high."""

_WHY = {
    pdfium.FPDF_ERR_PASSWORD: (
        "a PDF that asks for a password",
        "one that is open; save it without a password",
    ),
    pdfium.FPDF_ERR_SECURITY: ("a PDF that is locked", "one that is open"),
}
_DAMAGED = ("a PDF that breaks off or is damaged", limits.WHOLE)


def pages(sent: str) -> dict[str, Any]:
    """How many pages a PDF has, as what each is called; raises NotTaken."""
    with _opened(sent) as pdf:
        return {"labels": [_label(pdf, n) for n in range(len(pdf))]}


def page(sent: str, number: str, image: str, preview: str, small: str) -> dict[str, Any]:
    """Draw one page, counted from 1, and read its letters; raises NotTaken."""
    at = int(number) - 1
    with _opened(sent) as pdf:
        try:
            opened = pdf[at]
            drawn = _drawn(opened)
            words = _words(opened)
        except pypdfium2.PdfiumError:
            raise NotTaken("a page that is damaged", limits.WHOLE) from None
        with told_apart():
            made = write_plain(drawn, image, preview, small)
        return {
            **made,
            "width_mm": round(opened.get_width() * MM_A_PT, 1),
            "words": words,
            "paths": _paths(opened),
            "label": _label(pdf, at),
        }


def _opened(sent: str) -> pypdfium2.PdfDocument:
    try:
        pdf = pypdfium2.PdfDocument(sent)
    except pypdfium2.PdfiumError as error:
        raise NotTaken(*_WHY.get(error.err_code, _DAMAGED)) from None
    if not len(pdf):
        raise NotTaken("a PDF without a page", limits.WHOLE)
    if len(pdf) > limits.MOST_PAGES:
        raise NotTaken(f"a PDF of {len(pdf):,} pages", f"at most {limits.MOST_PAGES} in one file")
    return pdf


def _drawn(page: pypdfium2.PdfPage) -> pyvips.Image:
    """The page as a picture, at as many dots as may be; raises NotTaken."""
    width, height = page.get_size()
    if not LEAST_PT <= min(width, height) <= max(width, height) <= LARGEST_PT:
        read = f"a page of {width * MM_A_PT:,.0f} × {height * MM_A_PT:,.0f} mm"
        raise NotTaken(read, f"one of at most {LARGEST_PT * MM_A_PT:,.0f} mm a side")
    by_area = (MOST_DRAWN_PX / (width * height)) ** 0.5
    scale = min(DPI / 72, by_area, LONGEST_DRAWN_PX / max(width, height))
    bitmap = page.render(scale=scale, rev_byteorder=True, prefer_bgrx=True)
    size = bitmap.width, bitmap.height
    whole = pyvips.Image.new_from_memory(bitmap.buffer, *size, bitmap.n_channels, "uchar")
    return whole[0:3].copy(interpretation="srgb")


def _words(page: pypdfium2.PdfPage) -> list[tuple[str, float, float, float, float]]:
    """Its words, each with its box in parts of the page as seen, from the upper left."""
    text = page.get_textpage()
    words: list[tuple[str, float, float, float, float]] = []
    read = []
    for n in range(min(text.count_chars(), MOST_LETTERS)):
        # a space that the file doesn't have tells nothing: place alone parts words
        if pdfium.FPDFText_IsGenerated(text, n) != 1:
            letter = chr(pdfium.FPDFText_GetUnicode(text, n))
            is_drawn = letter.isprintable() and not letter.isspace()
            read.append((_Place.of(text, n), letter if is_drawn else "", text.get_charbox(n)))
    read.sort(key=lambda each: each[0].in_order)
    letters, sides, before = "", _Sides(), None
    for place, letter, box in read:
        if letters and not (letter and before and place.follows(before)):
            words.append((letters[:LONGEST_WORD], *sides.box))
            letters, sides = "", _Sides()
        if letter:
            letters += letter
            sides.stretch(page, box)
        before = place
        if len(words) == MOST_WORDS:
            return words
    return [*words, (letters[:LONGEST_WORD], *sides.box)] if letters else words


class _Place(NamedTuple):
    """Where a letter stands on its line: from the text matrix, in the page's own points.

    turn         of its line, anticlockwise [rad]
    start, end   along the line
    foot         of the line itself, across it
    size         of its face
    """

    turn: float
    start: float
    end: float
    foot: float
    size: float

    @classmethod
    def of(cls, text: pypdfium2.PdfTextPage, n: int) -> _Place:
        """Read where a letter stands."""
        matrix, x, y = pdfium.FS_MATRIX(), ctypes.c_double(), ctypes.c_double()
        pdfium.FPDFText_GetMatrix(text, n, matrix)
        pdfium.FPDFText_GetCharOrigin(text, n, x, y)
        turn = math.atan2(matrix.b, matrix.a)
        cos, sin = math.cos(turn), math.sin(turn)
        left, low, right, high = text.get_charbox(n)
        ends = (cos * across + sin * up for across in (left, right) for up in (low, high))
        size = pdfium.FPDFText_GetFontSize(text, n) * math.hypot(matrix.c, matrix.d)
        start, foot = cos * x.value + sin * y.value, cos * y.value - sin * x.value
        return cls(turn, start, max(ends), foot, size)

    @property
    def in_order(self) -> tuple[float, int, float]:
        """By which letters stand in their lines, whatever order a file draws them in."""
        return round(self.turn, 1), round(self.foot), self.start

    def follows(self, before: _Place) -> bool:
        """Whether it goes on with a word: on the same line, near, and about as large."""
        most, least = max(self.size, before.size), min(self.size, before.size)
        is_alike = abs(self.turn - before.turn) < TURNED and least > SMALLER * most
        is_level = abs(self.foot - before.foot) < SUNK * most
        return is_alike and is_level and abs(self.start - before.end) < GAP * most


class _Sides:
    """The box about some letters, as the page is seen."""

    def __init__(self) -> None:
        self.across: list[float] = []
        self.down: list[float] = []

    def stretch(self, page: pypdfium2.PdfPage, box: tuple[float, float, float, float]) -> None:
        """Take a letter in: left, bottom, right and top in the page's own points."""
        for x, y in (box[:2], box[2:]):
            across, down = ctypes.c_int(), ctypes.c_int()
            pdfium.FPDF_PageToDevice(page, 0, 0, PARTS, PARTS, 0, x, y, across, down)
            self.across.append(across.value / PARTS)
            self.down.append(down.value / PARTS)

    @property
    def box(self) -> tuple[float, float, float, float]:
        left, top = min(self.across), min(self.down)
        sides = (left, top, max(self.across) - left, max(self.down) - top)
        return tuple(round(side, 4) for side in sides)  # type: ignore[return-value]


def _paths(page: pypdfium2.PdfPage) -> int:
    """How many lines and shapes it draws by itself."""
    most = min(pdfium.FPDFPage_CountObjects(page), MOST_MARKS)
    kinds = (pdfium.FPDFPageObj_GetType(pdfium.FPDFPage_GetObject(page, n)) for n in range(most))
    return sum(kind == pdfium.FPDF_PAGEOBJ_PATH for kind in kinds)


def _label(pdf: pypdfium2.PdfDocument, at: int) -> str:
    """What the file calls a page."""
    return "".join(filter(str.isprintable, pdf.get_page_label(at)))[:LONGEST_WORD]


if __name__ == "__main__":
    main({"pages": pages, "page": page})

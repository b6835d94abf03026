"""Draw the pages of a PDF, apart from the site, each by a process of its own.

    python plain_pdf.py pages SENT                            how many, and what each is called
    python plain_pdf.py page SENT N IMAGE PREVIEW SMALL       one of them, plain, and what it says

A page is drawn as a picture, and its letters are read: no script of it is run, no file of it
opened. This file imports PDFium beside what `plain_picture` imports, and is bounded as that is.
"""

from __future__ import annotations

import ctypes
from typing import Any

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
    letters, sides = "", _Sides()
    for n in range(min(text.count_chars(), MOST_LETTERS)):
        letter = chr(pdfium.FPDFText_GetUnicode(text, n))
        if letter.isprintable() and not letter.isspace():
            letters += letter
            sides.stretch(page, text.get_charbox(n))
        elif letters:
            words.append((letters[:LONGEST_WORD], *sides.box))
            letters, sides = "", _Sides()
        if len(words) == MOST_WORDS:
            return words
    return [*words, (letters[:LONGEST_WORD], *sides.box)] if letters else words


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

"""A portfolio on paper: broad sheets of A3 or 11 × 17, a drawing a page, words in columns.

With title, language, an outline, and words for each picture. Pictures are laid in as they are kept:
nothing is decoded.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from fpdf import FPDF
from fpdf.enums import XPos, YPos

from criteria.units import System
from reviews.drawn.pdf import FACE, PAPERS, begun

LANGUAGE = "en-GB"
MARGIN, FOOT, GAP = 15.0, 12.0, 10.0
"""From the edge, of the line at the foot, and between columns [mm]."""
TITLE, NAME, HEAD, WORDS, SMALL = 30.0, 16.0, 12.0, 11.0, 9.0
"""Sizes of letters [pt]."""
LEAD = 1.35 / 72 * 25.4
"""From one line to the next, of a point of its letters [mm]."""
UNDER = 4.0
"""From a picture to the words below it [mm]."""
INK, QUIET, EDGE = 20, 90, 160
COLUMNS = 3


@dataclass(frozen=True)
class Picture:
    """A sheet as a JPEG, or without where it couldn't be read; its shape; what it is in words."""

    jpeg: bytes | None
    width: int
    height: int
    alt: str


@dataclass(frozen=True)
class Words:
    """A paragraph: its size [pt], whether strong or quiet, and the room over it [mm]."""

    text: str
    size: float = WORDS
    is_strong: bool = False
    is_quiet: bool = False
    over: float = 0.0


@dataclass(frozen=True)
class Page:
    """One page: one or two pictures side by side, and what stands below in columns."""

    name: str
    pictures: tuple[Picture, ...]
    under: tuple[tuple[Words, ...], ...] = ()


@dataclass(frozen=True)
class Book:
    """A portfolio as it is drawn; `texts` are pages of words alone, each with its name."""

    title: str
    by: str
    made_in: str
    words: tuple[Words, ...]
    pages: tuple[Page, ...]
    texts: tuple[tuple[str, tuple[Words, ...]], ...] = ()


def draw_portfolio(book: Book, system: System) -> bytes:
    """Draw a portfolio as a PDF."""
    pdf = begun(book.title)
    pdf.set_lang(LANGUAGE)
    pdf.set_author(book.by)
    pdf.set_subject(book.made_in)
    _Sheets(pdf, book, system).draw()
    return bytes(pdf.output())


class _Sheets:
    """The sheets, from the upper left [mm]."""

    def __init__(self, pdf: FPDF, book: Book, system: System) -> None:
        high, wide = PAPERS[system][1]
        self._pdf, self._book = pdf, book
        self._wide, self._high = wide, high
        self._inner = wide - 2 * MARGIN
        self._foot = high - MARGIN - FOOT

    def draw(self) -> None:
        self._cover()
        for page in self._book.pages:
            self._page(page)
        for name, words in self._book.texts:
            self._turn(name)
            self._flow(words, self._headed(name), COLUMNS, name)

    def _turn(self, name: str = "") -> None:
        """Begin a sheet, with its line at the foot, and its name in the outline."""
        pdf = self._pdf
        pdf.add_page(format=(self._wide, self._high))
        told = ". ".join(filter(None, (self._book.title, self._book.by)))
        self._lines(Words(told, SMALL, is_quiet=True), MARGIN, self._foot + 6, self._inner - 20, 1)
        number = Words(str(pdf.page_no()), SMALL, is_quiet=True)
        self._lines(number, self._wide - MARGIN - 12, self._foot + 6, 12, 1)
        if name:
            pdf.start_section(name)

    def _headed(self, name: str) -> float:
        """Letter a page's name; return where it goes on below."""
        down = self._lines(Words(name, NAME, is_strong=True), MARGIN, MARGIN, self._inner, 1)
        return MARGIN + down + 3

    def _cover(self) -> None:
        book = self._book
        self._turn(book.title)
        column = (self._inner - GAP * 2) / 3
        head = (
            Words(book.title, TITLE, is_strong=True),
            Words(book.by, HEAD, over=4),
            Words(book.made_in, SMALL, is_quiet=True, over=2),
            *book.words,
        )
        first = next((page.pictures[-1] for page in book.pages if len(page.pictures) == 1), None)
        if first:
            left = MARGIN + column + GAP
            self._picture(first, left, MARGIN, self._wide - MARGIN - left, self._foot - MARGIN)
        rest = self._fill(list(head), MARGIN, MARGIN, column if first else 2 * column)
        if rest:
            self._turn()
            self._flow(rest, MARGIN, COLUMNS, "")

    def _page(self, page: Page) -> None:
        self._turn(page.name)
        top = self._headed(page.name)
        under = [words for words in page.under if words]
        across = (self._inner - GAP * (COLUMNS - 1)) / COLUMNS
        across = across if len(under) > 1 else 2 * across
        needs = max((self._height(words, across) for words in under), default=0.0)
        least = (self._foot - top) * (0.5 if len(page.pictures) > 1 else 0.72)
        room = max(least, self._foot - top - needs - UNDER - 1)
        each = (self._inner - GAP * (len(page.pictures) - 1)) / max(len(page.pictures), 1)
        foot = top
        for n, picture in enumerate(page.pictures):
            used = self._picture(picture, MARGIN + n * (each + GAP), top, each, room)
            foot = max(foot, top + used)
        left_over: list[Words] = []
        for n, words in enumerate(under):
            x = MARGIN + n * (across + GAP)
            left_over += self._fill(list(words), x, foot + UNDER, across)
        if left_over:
            self._turn()
            self._flow(left_over, MARGIN, COLUMNS, page.name)

    def _picture(self, picture: Picture, x: float, y: float, wide: float, high: float) -> float:
        """Lay a picture in a box, whole; return how high it became."""
        share = min(wide / max(picture.width, 1), high / max(picture.height, 1))
        across, down = picture.width * share, picture.height * share
        self._pdf.set_draw_color(EDGE)
        self._pdf.set_line_width(0.18)
        if picture.jpeg is None:
            self._pdf.rect(x, y, across, down)
            self._lines(Words(f"{picture.alt}: not read", SMALL), x + 3, y + 3, across - 6, 3)
            return down
        self._pdf.image(
            io.BytesIO(picture.jpeg), x, y, across, down, alt_text=picture.alt, title=picture.alt
        )
        self._pdf.rect(x, y, across, down)
        return down

    def _flow(self, words: Iterable[Words], top: float, columns: int, name: str) -> None:
        """Set paragraphs in columns, on as many sheets as they take."""
        wide = (self._inner - GAP * (columns - 1)) / columns
        rest, place = list(words), 0
        while rest:
            if place == columns:
                self._turn()
                top, place = MARGIN, 0
            rest = self._fill(rest, MARGIN + place * (wide + GAP), top, wide)
            place += 1

    def _fill(self, words: list[Words], x: float, top: float, wide: float) -> list[Words]:
        """Set paragraphs one under another to the foot; return what had no room."""
        y = top
        for n, each in enumerate(words):
            over = each.over if y > top else 0.0
            most = int((self._foot - y - over) / (each.size * LEAD))
            lines = self._split(each, wide)
            if most < min(len(lines), 2):
                return words[n:]
            told = Words("\n".join(lines[:most]), each.size, each.is_strong, each.is_quiet)
            y += over + self._lines(told, x, y + over, wide, most)
            if len(lines) > most:
                rest = Words("\n".join(lines[most:]), each.size, each.is_strong, each.is_quiet)
                return [rest, *words[n + 1 :]]
        return []

    def _height(self, words: Sequence[Words], wide: float) -> float:
        return sum(len(self._split(each, wide)) * each.size * LEAD + each.over for each in words)

    def _split(self, words: Words, wide: float) -> list[str]:
        """The lines that a paragraph takes."""
        self._letters(words)
        told: Any = self._pdf.multi_cell(
            wide, words.size * LEAD, words.text or " ", align="L", dry_run=True, output="LINES"
        )
        return [str(line) for line in told]

    def _lines(self, words: Words, x: float, y: float, wide: float, most: int) -> float:
        """Letter the first lines of a paragraph; return how high they are."""
        lines = self._split(words, wide)[:most]
        self._letters(words)
        high = words.size * LEAD
        for n, line in enumerate(lines):
            self._pdf.set_xy(x, y + n * high)
            self._pdf.cell(wide, high, line, align="L", new_x=XPos.LEFT, new_y=YPos.NEXT)
        return len(lines) * high

    def _letters(self, words: Words) -> None:
        self._pdf.set_font(FACE, "B" if words.is_strong else "", words.size)
        self._pdf.set_text_color(QUIET if words.is_quiet else INK)

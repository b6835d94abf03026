"""A portfolio made ready for paper: the words of its page, and its pictures as they are kept."""

from __future__ import annotations

import logging
from collections.abc import Iterator

from criteria.units import System
from reviews.drawn.portfolio_sheets import HEAD, SMALL, Book, Page, Picture, Words, draw_portfolio
from reviews.models import IssuedSheet
from reviews.pages.portfolio_data import CAUTION, Data
from reviews.pages.portfolio_page import Leaf, Shown, alt_of

MOST_PX, MOST_BYTES, MOST_OF_ALL = 6_000, 4_000_000, 40_000_000
"""Up to which a picture is laid in whole, and all of them together; else smaller [px, bytes]."""

LOG = logging.getLogger(__name__)


def portfolio_pdf(shown: Shown, system: System) -> bytes:
    """Draw a portfolio as a PDF in a reader's units."""
    pictures = _Pictures()
    pages = tuple(_page(leaf, pictures) for leaf in shown.leaves)
    texts = (("Project data", tuple(_data(shown.data))),) if shown.data else ()
    words = (*_paragraphs(shown.words, over=4), *_credits(shown))
    book = Book(shown.title, shown.by, shown.made_in, words, pages, texts)
    return draw_portfolio(book, system)


def _credits(shown: Shown) -> Iterator[Words]:
    if shown.credits:
        yield Words("Credits", is_strong=True, over=6)
    for line in shown.credits:
        yield Words(line, over=1)


class _Pictures:
    """Reads pictures, whole while there is room for them."""

    def __init__(self) -> None:
        self._held: dict[int, Picture] = {}
        self._room = MOST_OF_ALL

    def of(self, sheet: IssuedSheet) -> Picture:
        if sheet.pk not in self._held:
            file = sheet.file
            self._held[sheet.pk] = Picture(
                self._read(sheet), file.width, file.height, alt_of(sheet)
            )
        return self._held[sheet.pk]

    def _read(self, sheet: IssuedSheet) -> bytes | None:
        file = sheet.file
        stored = file.image if max(file.width, file.height) <= MOST_PX else file.preview
        try:
            if stored.size > min(MOST_BYTES, self._room):
                stored = file.preview
            with stored.storage.open(str(stored)) as opened:
                read = bytes(opened.read())
        except OSError as error:
            LOG.warning("%s stands in a portfolio without its picture: %s", sheet, error)
            return None
        self._room -= len(read)
        return read


def _page(leaf: Leaf, pictures: _Pictures) -> Page:
    if leaf.before is None:
        under = tuple(_paragraphs(leaf.caption))
        return Page(leaf.name, (pictures.of(leaf.sheet),), (under,) if under else ())
    said = tuple(_remark(leaf))
    moved = [Words(f"{each.name}: from {each.before} to {each.after}") for each in leaf.moved]
    figures = (Words("Figures that moved", is_strong=True), *moved) if moved else ()
    both = (pictures.of(leaf.before), pictures.of(leaf.sheet))
    places = [f"sheet {each.number}, revision {each.revision.letter}" for each in _both(leaf)]
    stands = Words(f"Left: {places[0]}. Right: {places[1]}.", SMALL, is_quiet=True)
    first = (stands, *_paragraphs(leaf.caption, over=2))
    return Page(leaf.name, both, (first, said, figures))


def _both(leaf: Leaf) -> list[IssuedSheet]:
    return [sheet for sheet in (leaf.before, leaf.sheet) if sheet]


def _remark(leaf: Leaf) -> Iterator[Words]:
    remark = leaf.remark
    if remark is None:
        return
    kind = ", ".join(filter(None, (remark.kind or "Remark", remark.place)))
    yield Words(kind, is_strong=True)
    yield Words(f"{remark.at}, {remark.by}", SMALL, is_quiet=True)
    yield from _paragraphs(remark.words)
    if remark.answer:
        yield Words(f"Answer: {remark.answer}", is_strong=True, over=3)
        yield from _paragraphs(remark.answer_words)


def _data(data: Data) -> Iterator[Words]:
    for n, (name, lines) in enumerate(data.groups):
        yield Words(name, HEAD, is_strong=True, over=5 if n else 0)
        for line in lines:
            yield Words(f"{line.name}: {line.value}", over=1)
            beside = [f"asked {line.asked}" if line.asked else "", line.state, line.about]
            if told := "; ".join(filter(None, beside)):
                yield Words(told, SMALL, is_quiet=True)
    yield Words(f"{data.source}. {CAUTION}", SMALL, is_quiet=True, over=5)


def _paragraphs(text: str, over: float = 0.0) -> Iterator[Words]:
    for n, part in enumerate(filter(None, (each.strip() for each in text.split("\n")))):
        yield Words(part, over=over if n == 0 else 1.5)

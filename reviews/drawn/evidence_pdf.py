"""A book of evidence as one PDF: plain pages of A4 with its receipt at the foot of each."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fpdf import FPDF
from fpdf.enums import XPos, YPos
from fpdf.fonts import TTFFont

from criteria.drawing.lettering import type_mm
from reviews.drawn.pdf import FACE, FACES, FONTS, PT_PER_MM

Told = Mapping[str, Any]
MARGIN, FOOT = 18.0, 16.0
"""From the edge of A4, and the strip for the receipt [mm]."""
BIG, HEAD, WORD, SMALL = 5.0, 3.5, 2.5, 2.1
"""Heights of capitals (ISO 3098-1) [mm]."""
ACROSS, GAP, HIGH = 2, 6.0, 66.0
"""Pictures a row, between them, and the height kept for one [mm]."""
INK, QUIET = 0, 90
INSTEAD = "?"


@dataclass(frozen=True)
class Shown:
    """A sheet's picture, as JPEG: of which revision, and what it is called."""

    letter: str
    title: str
    picture: bytes


def draw_book(book: Told, shown: Mapping[str, list[Shown]], receipt: str) -> bytes:
    """Draw all of it; `shown` are the pictures by the number of their scheme."""
    pdf = _Book(book["title"], receipt)
    pdf.cover(book)
    pdf.studio(book["studio"])
    for scheme in book["schemes"]:
        pdf.scheme(scheme, shown.get(scheme["number"], []))
    return bytes(pdf.output())


class _Book(FPDF):
    """The pages, with the receipt and the page's number at the foot of each."""

    def __init__(self, title: str, receipt: str) -> None:
        super().__init__(unit="mm", format="A4")
        self.set_title(title)
        self.set_lang("en-GB")
        self.set_margin(MARGIN)
        self.set_auto_page_break(True, margin=MARGIN + FOOT)
        for style, file in FACES.items():
            self.add_font(FACE, style, FONTS / file)
        self._signs = set.intersection(
            *(set(f.cmap) for f in self.fonts.values() if isinstance(f, TTFFont))
        )
        self._named, self._receipt = self.lettered(title), receipt

    def lettered(self, text: str) -> str:
        """A text with what the faces lack written as ?; the pages of the book have it as typed."""
        return "".join(c if ord(c) in self._signs or c == "\n" else INSTEAD for c in text)

    def footer(self) -> None:
        """Title, receipt and page."""
        self.set_y(-MARGIN - 4)
        self._face(SMALL, grey=QUIET)
        self.cell(0, 4, self._named[:90], new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        self.cell(0, 4, f"Receipt {self._receipt}", new_x=XPos.LMARGIN)
        self.cell(0, 4, f"Page {self.page_no()}", align="R")

    def _face(self, cap_mm: float, *, is_strong: bool = False, grey: int = INK) -> None:
        self.set_font(FACE, "B" if is_strong else "", type_mm(cap_mm) * PT_PER_MM)
        self.set_text_color(grey)

    def line_of(
        self, text: str, cap_mm: float = WORD, *, is_strong: bool = False, grey: int = INK
    ) -> None:
        """Letter words, on as many lines as they take."""
        if text:
            self._face(cap_mm, is_strong=is_strong, grey=grey)
            high = cap_mm * 1.9
            self.multi_cell(
                0, high, self.lettered(text), align="L", new_x=XPos.LMARGIN, new_y=YPos.NEXT
            )

    def head(self, text: str, cap_mm: float = HEAD) -> None:
        """A heading, never the last line of a page."""
        if self.get_y() > self.h - MARGIN - FOOT - 24:
            self.add_page()
        self.ln(cap_mm)
        self.line_of(text, cap_mm, is_strong=True)

    def lines(self, heads: Iterable[str], rows: Iterable[Iterable[str]]) -> None:
        """A table as lines, each cell named: read aloud it says the same."""
        names = list(heads)
        for row in rows:
            cells = [f"{n}: {cell}" for n, cell in zip(names, row, strict=False) if cell]
            self.line_of("; ".join(cells), SMALL)

    def cover(self, book: Told) -> None:
        """What the book is, and how its schemes were chosen."""
        self.add_page()
        self.line_of(book["title"], BIG, is_strong=True)
        studio = book["studio"]
        self.line_of(f"{studio['title']}, {studio['cohort']}. {studio['year_line']}", HEAD)
        self.line_of(f"Frozen {book['frozen']}. Receipt number {self._receipt}: the SHA-256 of "
                     "contents.json, which names every file of the book with its own.")  # fmt: skip
        self.line_of(book["teaching"])
        if book["is_anonymous"]:
            self.line_of("Names nobody in words. Pictures may show names as drawn.")
        drawn = book["drawn_from"]
        self.head("How its schemes were chosen")
        self.line_of(f"{book['choice']}: {drawn.get('rule', '')}.")
        if "lot" in drawn:
            self.line_of(f"Lot {drawn['lot']}, of {', '.join(drawn['passed'])}.")
        rows = drawn.get("list", [])
        self.lines(rows[0] if rows else (), [row.values() for row in rows])

    def studio(self, studio: Told) -> None:
        """Brief, criteria sheets, standards, figures and register."""
        brief, standards = studio["brief"], studio["standards"]
        self.head("The brief")
        self.line_of(f"Issued {brief['issued']}.", grey=QUIET)
        self.line_of(brief["text"])
        self.lines(brief["target_heads"], brief["targets"])
        for each in brief["addenda"]:
            self.line_of(f"Addendum {each['number']}, {each['issued']}: {each['text']}")
        for crit in studio["crits"]:
            self.head(f"Criteria sheet, {crit['crit']}")
            for each in crit["criteria"]:
                self.line_of(f"{each['code']} {each['name']}, {each['weight']}", is_strong=True)
                for n, words in enumerate(each["levels"], start=1):
                    self.line_of(f"{n}: {words}" if words else "", SMALL)
        self.head("Standards")
        self.lines(standards["heads"], standards["lines"])
        self.line_of(f"Criteria that meet nothing: {', '.join(standards['idle']) or 'none'}.")
        self.line_of(f"Standards that nothing meets: {'; '.join(standards['unmet']) or 'none'}.")
        self.head("Figures of the cohort")
        self.lines(studio["cohort_heads"], studio["cohort_figures"])
        self.head("Summary of the jurors")
        self.lines(studio["juror_heads"], studio["jurors"])
        self.head("Register")
        self.lines(studio["register_heads"], studio["register"])

    def scheme(self, scheme: Told, shown: list[Shown]) -> None:
        """Each revision, then what was said and became of it."""
        self.add_page()
        self.start_section(self.lettered(f"{scheme['number']} {scheme['name']}"))
        self.line_of(f"{scheme['number']} {scheme['name']}", BIG, is_strong=True)
        self.line_of(f"Drawn by {', '.join(scheme['by']) or 'nobody now'}.")
        self.line_of(f"Withdrawn {scheme['withdrawn']}." if scheme["withdrawn"] else "")
        for revision in scheme["revisions"]:
            self._revision(revision, [each for each in shown if each.letter == revision["letter"]])
        if not scheme["revisions"]:
            self.line_of("Nothing was issued.")
        for crit in scheme["crits"]:
            self._crit(crit)

    def _revision(self, revision: Told, shown: list[Shown]) -> None:
        late = f", {revision['late']} late" if revision["late"] else ""
        self.head(f"Revision {revision['letter']}, for {revision['for']}")
        self.line_of(f"Issued {revision['issued']}{late}. Receipt {revision['receipt']}.", SMALL)
        self.line_of(f"Lacked: {'; '.join(revision['lacks'])}." if revision["lacks"] else "")
        self.line_of(revision["statement"])
        for ref, what, value, asked, state, where in revision["checks"]:
            held = f"{value}, asked {asked}" if asked else value
            self.line_of(f"{ref} {what}: {held}. {state}. {where}".strip(), SMALL)
        for n, each in enumerate(shown):
            self._picture(n, each, is_last=n == len(shown) - 1)

    def _picture(self, n: int, shown: Shown, *, is_last: bool) -> None:
        wide = (self.epw - GAP) / ACROSS
        if n % ACROSS == 0 and self.get_y() + HIGH > self.h - MARGIN - FOOT:
            self.add_page()
        x, y = MARGIN + (n % ACROSS) * (wide + GAP), self.get_y() + 2
        self.image(
            io.BytesIO(shown.picture), x=x, y=y, w=wide, h=HIGH - 10, keep_aspect_ratio=True,
            alt_text=self.lettered(f"Sheet {shown.title}"),
        )  # fmt: skip
        self._face(SMALL)
        self.text(x, y + HIGH - 6, self.lettered(shown.title)[:60])
        if n % ACROSS == ACROSS - 1 or is_last:
            self.set_y(y + HIGH)

    def _crit(self, crit: Told) -> None:
        self.head(crit["crit"])
        if verdict := crit["verdict"]:
            self.line_of(f"Verdict: {verdict['kind']}. {verdict['words']}")
        for each in crit["criteria"]:
            agreed = f", agreed {each['agreed']} {each['agreed_word']}" if each["agreed"] else ""
            self.line_of(f"{each['code']} {each['name']}{agreed}", is_strong=True)
            self.line_of(f"Reason: {each['reason']}" if each["reason"] else "", SMALL)
            for level in each["levels"]:
                words = " ".join(filter(None, (level["word"], level["descriptor"])))
                self.line_of(f"{level['juror']}: {level['level']} {words}", SMALL)
                for put in level["corrections"]:
                    was = f"{put['was']} to {put['now']}, {put['at']}: {put['reason']}"
                    self.line_of(f"Put right from {was} {put['appeal']}", SMALL)
        for each in crit.get("again", ()):  # books made before it was told hold none
            was = f"before {each['before']}, after {each['after']}"
            self.line_of(f"{each['criterion']}: {was}. {each['why']}.", SMALL)
        for n, each in enumerate(crit["comments"], start=1):
            self._comment(n, each)
        for each in crit["spoken"]:
            said = f"Spoken, not confirmed: {each['juror']}, {each['place']}: {each['words']}"
            self.line_of(said, SMALL)
        for each in crit["appeals"]:
            told = f"Appeal, {each['made']}, {each['ground']}: {each['outcome']}."
            self.line_of(f"{told} {each['decision']}")

    def _comment(self, n: int, told: Told) -> None:
        if "held" in told:
            self.line_of(f"{n}. {told['place']}: {told['held']}", SMALL, grey=QUIET)
            return
        head = ", ".join(filter(None, (told["kind"], told["place"], told["juror"])))
        self.line_of(f"{n}. {head}: {told['words']}")
        for each in told.get("opposed", ()):  # books made before it was told hold neither
            until = f" To be argued by {each['argue_by']}." if each["argue_by"] else ""
            ruled = f" Ruling: {each['ruling']}" if each["ruling"] else ""
            self.line_of(f"Opposed by {each['by']}.{ruled}{until}", SMALL)
        if alike := told.get("alike"):
            heading = alike["heading"] and f", on {alike['heading']}"
            others = ", ".join(map(str, alike["comments"]))
            self.line_of(f"Said by {alike['jurors']}{heading}: also in {others}.", SMALL)
        if answer := told["answer"]:
            self.line_of(f"Answer: {answer['kind']}. {answer['words']} {answer['place']}", SMALL)
        for each in told["closings"]:
            self.line_of(f"{each['state'].capitalize()}, {each['at']}. {each['words']}", SMALL)

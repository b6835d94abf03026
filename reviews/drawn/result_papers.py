"""One scheme's results on paper: A4 upright, the leader's words first, levels last.

Tagged as far as the maker lets it: title, language, outline, headings and paragraphs in reading
order, pictures with words for whoever doesn't see them; border and page numbers are artefacts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime

from fpdf import FPDF
from fpdf.enums import MethodReturnValue
from fpdf.prefs import ViewerPreferences

from criteria.drawing.lettering import fitted, type_mm
from reviews.drawn.pdf import FACE, PT_PER_MM, begun

WIDE, HIGH, MARGIN, FOOT = 210.0, 297.0, 18.0, 18.0
"""A4 upright, its margins, and what is kept free at its foot [mm]."""
INNER = WIDE - 2 * MARGIN
SMALL, WORD, NAME, HEADING, BIG = 2.3, 2.6, 3.0, 3.8, 6.0
"""Heights of capitals [mm]."""
LINE = 2.0
"""From line to line, in heights of capitals."""
PICTURE_HIGH, FLAG = 96.0, 2.7
"""Most that a sheet's picture is high, and the radius of a flag [mm]."""
NOTE, TWO_HEADINGS, WAYS_ON = 10.0, 30.0, 46.0
"""What stays on one page: a picture and its first note, a heading and its first line with the
first of what follows, and the whole of the last part [mm]."""
INK, QUIET, RED = (0, 0, 0), (84, 84, 84), (168, 32, 22)
LANGUAGE = "en-GB"
STAND_IN = "¤"
"""What is printed for a sign that the face lacks, so that none is left out unseen."""

Points = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class Note:
    """One comment or spoken note; lines are what the leader made of it."""

    number: str
    head: str
    words: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class NotedSheet:
    """One sheet with its notes; flags and strokes as parts of its width and height.

    picture   as JPEG; None where it isn't there, or where there is no sheet
    """

    title: str
    notes: tuple[Note, ...]
    picture: bytes | None = None
    width: int = 0
    height: int = 0
    flags: tuple[tuple[str, float, float], ...] = ()
    strokes: tuple[Points, ...] = ()


@dataclass(frozen=True)
class Line:
    """A line of the check sheet, or of the levels: what it is of, what it came to, and more."""

    name: str
    value: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True)
class ResultPaper:
    """Everything that one scheme's students read, in the order in which it is printed."""

    scheme: str
    facts: tuple[str, ...]
    made_for: datetime
    leader: str
    words: str
    verdict: str
    verdict_lines: tuple[str, ...]
    sheets: tuple[NotedSheet, ...]
    checks_title: str
    checks: tuple[Line, ...]
    levels_title: str
    levels: tuple[Line, ...]
    ways_on: tuple[str, ...]


def draw_results(paper: ResultPaper) -> bytes:
    """Draw one scheme's results."""
    title = f"{paper.scheme}: {paper.facts[0]}"
    pdf = _Paper(title)
    pdf.set_creation_date(paper.made_for)
    begun(title, pdf)
    pdf.set_lang(LANGUAGE)
    pdf.viewer_preferences = ViewerPreferences(display_doc_title=True)
    flow = _Flow(pdf)
    flow.say(paper.scheme, BIG, tag="H1", is_strong=True)
    for fact in paper.facts:
        flow.say(fact, WORD, colour=QUIET)
    if paper.words:
        flow.heading("From the studio leader")
        flow.say(paper.leader, SMALL, colour=QUIET)
        flow.say(paper.words, NAME)
    if paper.verdict:
        flow.heading("Verdict")
        flow.say(paper.verdict, HEADING, is_strong=True)
        for line in paper.verdict_lines:
            flow.say(line, WORD)
    first = _picture_size(paper.sheets[0])[1] if paper.sheets else 0.0
    flow.heading("Notes on the sheets", keep=TWO_HEADINGS + first)
    for sheet in paper.sheets:
        flow.sheet(sheet)
    if not paper.sheets:
        flow.say("No comment was made.", WORD)
    flow.lines(paper.checks_title, paper.checks)
    flow.lines(paper.levels_title, paper.levels)
    flow.heading("What you can do now", keep=WAYS_ON)
    for way in paper.ways_on:
        flow.say(way, WORD)
    if flow.lacking:
        flow.say(f"{STAND_IN} stands for a sign that this face lacks: the page has it.", WORD)
    return bytes(pdf.output())


def _picture_size(sheet: NotedSheet) -> tuple[float, float]:
    """How wide and high a sheet's picture is drawn [mm]; none where there is none."""
    if not (sheet.picture and sheet.width and sheet.height):
        return 0.0, 0.0
    scale = min(INNER / sheet.width, PICTURE_HIGH / sheet.height)
    return sheet.width * scale, sheet.height * scale


class _Paper(FPDF):
    """Pages with what they are of at their foot."""

    def __init__(self, foot: str) -> None:
        super().__init__(unit="mm", format="A4")
        self._foot = foot

    def footer(self) -> None:
        """What stands at the foot of each page; no part of what is read."""
        self._out("/Artifact BMC")
        self.set_font(FACE, "", type_mm(SMALL) * PT_PER_MM)
        self.set_text_color(*QUIET)
        self.text(MARGIN, HIGH - 10, fitted(self._foot, SMALL, INNER - 20))
        self.text(WIDE - MARGIN - 14, HIGH - 10, f"Page {self.page_no()}")
        self._out("EMC")


class _Flow:
    """Words and pictures one below the other, page after page."""

    def __init__(self, pdf: _Paper) -> None:
        self._pdf = pdf
        self._y = HIGH
        self.lacking: set[str] = set()
        self._turn()

    def _turn(self) -> None:
        self._pdf.add_page()
        self._y = MARGIN

    def _room(self, high: float) -> None:
        if self._y + high > HIGH - FOOT:
            self._turn()

    @contextmanager
    def _tagged(self, tag: str, alt: str | None = None) -> Iterator[None]:
        """Let what is drawn be one element of what is read."""
        pdf = self._pdf
        key = pdf.struct_builder.next_mcid_for_page(pdf.page)
        pdf._add_marked_content(struct_type=f"/{tag}", mcid=key, alt_text=alt)
        pdf._out(f"/{tag} <</MCID {key}>> BDC")
        yield
        pdf._out("EMC")

    def heading(self, words: str, *, tag: str = "H2", keep: float = 16.0) -> None:
        """A heading, never alone at the foot of a page, and its place in the outline."""
        self._y += 5 if tag == "H2" else 3
        self._room(keep)
        self._pdf.set_y(self._y)
        self._pdf.start_section(words, level=int(tag[1]) - 2)
        if tag == "H2":
            self._rule()
        self.say(words, HEADING if tag == "H2" else NAME, tag=tag, is_strong=True)

    def _rule(self) -> None:
        self._pdf._out("/Artifact BMC")
        self._pdf.set_draw_color(*INK)
        self._pdf.set_line_width(0.3)
        self._pdf.line(MARGIN, self._y, WIDE - MARGIN, self._y)
        self._pdf._out("EMC")
        self._y += 2.2

    def say(
        self,
        words: str,
        cap: float,
        *,
        tag: str = "P",
        is_strong: bool = False,
        colour: tuple[int, int, int] = INK,
        left: float = 0.0,
    ) -> None:
        """Set words in lines of the width that is left; what goes over a page goes on there."""
        step = cap * LINE
        for paragraph in words.splitlines():
            lines = self._broken(paragraph, cap, is_strong, INNER - left)
            while lines:
                self._room(step)
                fit = max(1, int((HIGH - FOOT - self._y) / step))
                with self._tagged(tag):
                    self._face(cap, is_strong, colour)
                    for line in lines[:fit]:
                        self._y += step
                        self._pdf.text(MARGIN + left, self._y - step * 0.25, line)
                lines = lines[fit:]
        self._y += cap * 0.5

    def _face(self, cap: float, is_strong: bool, colour: tuple[int, int, int]) -> None:
        self._pdf.set_font(FACE, "B" if is_strong else "", type_mm(cap) * PT_PER_MM)
        self._pdf.set_text_color(*colour)

    def _printable(self, words: str, is_strong: bool) -> str:
        """The same words, with a stand-in for each sign that the face lacks."""
        known = self._pdf.fonts[f"{FACE.lower()}{'B' if is_strong else ''}"].cmap  # type: ignore[union-attr]
        words = words.replace("\t", " ")
        lacking = {sign for sign in words if ord(sign) not in known}
        self.lacking |= lacking
        return "".join(STAND_IN if sign in lacking else sign for sign in words)

    def _broken(self, words: str, cap: float, is_strong: bool, wide: float) -> list[str]:
        if not words.strip():
            return []
        self._face(cap, is_strong, INK)
        pdf, words = self._pdf, self._printable(words, is_strong)
        pdf.set_xy(MARGIN, MARGIN)
        lines = pdf.multi_cell(
            wide, text=words, align="L", dry_run=True, output=MethodReturnValue.LINES
        )
        return list(lines) if isinstance(lines, list) else [words]

    def sheet(self, sheet: NotedSheet) -> None:
        """A sheet, small, with its flags and strokes, and what was said of it."""
        wide, high = _picture_size(sheet)
        self.heading(sheet.title, tag="H3", keep=16 + high + NOTE)
        if sheet.picture and high:
            self._picture(sheet, sheet.picture, wide, high)
        elif sheet.width:
            self.say("The picture of this sheet is missing.", SMALL, colour=QUIET)
        for note in sheet.notes:
            self._note(note)

    def _picture(self, sheet: NotedSheet, picture: bytes, wide: float, high: float) -> None:
        pdf, top = self._pdf, self._y + 1
        flags = ", ".join(number for number, _, _ in sheet.flags)
        alt = f"{sheet.title}, with flags {flags}" if flags else sheet.title
        with self._tagged("Figure", alt):
            pdf.image(picture, MARGIN, top, wide, high)
            pdf.set_draw_color(*INK)
            pdf.set_line_width(0.2)
            pdf.rect(MARGIN, top, wide, high)
            pdf.set_draw_color(*RED)
            pdf.set_line_width(0.5)
            for stroke in sheet.strokes:
                pdf.polyline([(MARGIN + x * wide, top + y * high) for x, y in stroke])
            for number, x, y in sheet.flags:
                self._flag(number, MARGIN + x * wide, top + y * high)
        self._y = top + high + 2

    def _flag(self, number: str, x: float, y: float) -> None:
        pdf = self._pdf
        pdf.set_draw_color(255)
        pdf.set_fill_color(*RED)
        pdf.set_line_width(0.3)
        pdf.circle(x, y, FLAG, style="DF")
        self._face(2.0, True, (255, 255, 255))
        pdf.text(x - pdf.get_string_width(number) / 2, y + 1, number)

    def _note(self, note: Note) -> None:
        self._y += 1.5
        self._room(WORD * LINE * 3)
        self.say(f"{note.number}  {note.head}", SMALL, is_strong=True, colour=RED)
        self.say(note.words, NAME, left=6)
        for line in note.lines:
            self.say(line, WORD, left=6, colour=QUIET)

    def lines(self, title: str, lines: Sequence[Line]) -> None:
        """Lines under a heading; without any, nothing."""
        if not lines:
            return
        self.heading(title, keep=TWO_HEADINGS)
        for line in lines:
            self._room(WORD * LINE * 2)
            self.say(
                f"{line.name}: {line.value}" if line.value else line.name, WORD, is_strong=True
            )
            for more in line.more:
                self.say(more, WORD, left=6)

"""Propose a sheet's title block from what is at hand: its lettering, its file's name, the brief.

Each field proposed says what it was read from; a person confirms it or types over it.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from statistics import median
from typing import NamedTuple

from reviews.models import DrawingKind
from reviews.reading.sheet_lettering import PageText, Word
from reviews.reading.sheet_names import said_by_name, two_digits
from reviews.reading.title_block import (
    LONGEST_SCALE,
    LONGEST_TITLE,
    Asked,
    AskedSheet,
    TitleBlock,
)

BLOCK, NAME, LABEL = "title block", "file name", "page label"
NEXT, LIST, TITLE, PAGE = "next on the hand-in list", "hand-in list", "title", "page size"
AFTER, NUMBER = "next after the last sheet", "number"
"""What a field can be read from, in words."""

BLOCK_LEFT, BLOCK_TOP = 0.5, 0.6
"""Where title blocks stand: right of and below these parts of the page [1]."""
GAP, UNDER, ALIGNED, ABOVE = 2.0, 4.0, 0.03, 0.16
"""Between words of a line and from a label to what stands under it, in heights of letters; how far
a title's beginning is from its number's, and how far above it stands, in parts of the page [1]."""
LARGE = 1.4
"""How much larger than the lettering about it a number is that nothing labels."""
ALIKE = 0.75
"""From which on two titles are one, of 1: “Sections” and “Section A–A” aren't."""

_SHEET = re.compile(r"((?:[A-Z]{1,2}[-.]?)?\d{1,3}[a-z]?)(?:\s*(?:of|/)\s*\d+)?")
_SCALE = re.compile(
    r"""(1\s*:\s*\d{1,5}) | ((?:\d+\s+)?\d+(?:/\d+)?\s*["”]\s*=\s*1['’]\s*-?\s*0["”]?)
    | \b(NTS|not\s+to\s+scale|as\s+shown)\b""",
    re.VERBOSE | re.IGNORECASE,
)
_LABELS = {
    "number": {"sheet", "sheet no", "sheet number", "drawing no", "drawing number", "number", "no"},
    "title": {"title", "sheet title", "drawing title", "drawing"},
    "scale": {"scale"},
}
_OTHERS = re.compile(
    r"\b(rev(ision)?\s*[a-z]?|date|drawn|checked|scheme|site|project)\b", re.IGNORECASE
)

_KINDS = {
    DrawingKind.SITE: ("site", "situation", "approach"),
    DrawingKind.SEQUENCE: ("pieces", "sequence", "moving", "transport", "removal", "packed"),
    DrawingKind.FURNITURE: ("furniture", "stowage"),
    DrawingKind.SCHEDULE: ("schedule", "schedules"),
    DrawingKind.DETAIL: ("detail", "details"),
    DrawingKind.SECTION: ("section", "sections"),
    DrawingKind.ELEVATION: ("elevation", "elevations"),
    DrawingKind.VIEW: ("view", "views", "axonometric", "perspective"),
    DrawingKind.DIAGRAM: ("diagram", "diagrams"),
    DrawingKind.MODEL: ("model",),
    DrawingKind.PLAN: ("plan", "plans"),
    DrawingKind.TITLE: ("title", "statement", "cover"),
}
"""Words of a title that say what a sheet shows; the first kind that is named is proposed."""


class Line(NamedTuple):
    """Words that stand beside each other."""

    text: str
    x: float
    y: float
    height: float


@dataclass
class Proposed:
    """A title block, and of each field that nobody said what it was read from."""

    values: dict[str, str | float] = field(default_factory=dict)
    read_from: dict[str, str] = field(default_factory=dict)

    def say(self, name: str, value: str | float | None, source: str) -> None:
        """Take a value for a field that has none yet."""
        if value and name not in self.values:
            self.values[name] = value
            self.read_from[name] = source

    def has(self, name: str) -> bool:
        """Whether a field is proposed by now."""
        return name in self.values

    def text(self, name: str) -> str:
        """What is proposed for a field; blank where nothing is."""
        return str(self.values.get(name, ""))


def proposals(
    name: str, page: PageText, asked: Asked, taken: Collection[str], drawn_by: str
) -> tuple[TitleBlock, dict[str, str]]:
    """Return a title block for a picture, and for each field proposed what it was read from.

    name       of the file, as the sender's device called it
    page       its lettering; an empty one of a picture
    taken      the numbers that hang already
    drawn_by   as its sender says, so it isn't a proposal

    >>> sheets = {"01": AskedSheet("Site"), "02": AskedSheet("Plan", "plan", "day")}
    >>> block, read_from = proposals("plan.png", PageText(), Asked(sheets), (), "Ada")
    >>> block.number, block.title, read_from["number"], read_from["kind"]
    ('02', 'Plan', 'file name', 'hand-in list')
    >>> proposals("final.png", PageText(), Asked(sheets), (), "Ada")[1]["number"]
    'next on the hand-in list'
    >>> read_from = proposals("", PageText(), Asked(sheets), sheets, "Ada")[1]
    >>> read_from["number"], read_from["title"]
    ('next after the last sheet', 'number')
    """
    found = Proposed()
    _from_block(found, page, asked)
    _from_name(found, name, asked, taken)
    label = _SHEET.fullmatch(page.label.strip())
    # a label of digits alone counts pages, from 1: it numbers no sheet
    if label and not page.label.strip().isdigit():
        found.say("number", label[1], LABEL)
    number = next_number(asked, taken)
    found.say("number", number, NEXT if number in asked.sheets else AFTER)
    item = asked.sheets.get(found.text("number"), AskedSheet())
    found.say("title", item.title, NEXT if found.read_from["number"] == NEXT else LIST)
    found.say("title", said_by_name(name).title[:LONGEST_TITLE], NAME)
    found.say("title", f"Sheet {found.text('number')}", NUMBER)
    found.say("kind", item.kind, LIST)
    found.say("state", item.state, LIST)
    found.say("kind", kind_of(found.text("title")), TITLE)
    found.say("state", state_of(found.text("title"), asked.states), TITLE)
    found.say("width_mm", page.width_mm and round(page.width_mm, 1), PAGE)
    return TitleBlock(drawn_by=drawn_by, **found.values), found.read_from  # type: ignore[arg-type]


def next_number(asked: Asked, taken: Collection[str]) -> str:
    """The first sheet that is asked for and not there, else the number after the highest."""
    for code in asked.sheets:
        if code not in taken:
            return code
    numbers = [int(number) for number in taken if number.isdigit()]
    return f"{max(numbers, default=0) + 1:02}"


def kind_of(title: str) -> str:
    """The kind of drawing that a title names; blank where it names none.

    >>> kind_of("Plan, night"), kind_of("Sections and details"), kind_of("Lantern")
    ('plan', 'detail', '')
    """
    words = _words(title)
    return next((str(kind) for kind, named in _KINDS.items() if words & {*named}), "")


def state_of(title: str, states: Collection[str]) -> str:
    """The one state of the brief that a title names; blank where it names none, or several.

    >>> state_of("Plan, night", ("day", "night")), state_of("Day and night", ("day", "night"))
    ('night', '')
    """
    words = _words(title)
    named = [state for state in states if _words(state) and _words(state) <= words]
    return named[0] if len(named) == 1 else ""


def nearest(title: str, asked: Asked) -> str:
    """The number of the sheet that is asked for under such a title; blank where none is.

    >>> asked = Asked({"02": AskedSheet("Plan"), "03": AskedSheet("Sections")})
    >>> nearest("PLAN", asked), nearest("section", asked), nearest("", asked)
    ('02', '03', '')
    """
    folded = title.casefold().strip()
    alike = {
        number: SequenceMatcher(None, folded, item.title.casefold()).ratio()
        for number, item in asked.sheets.items()
        if item.title
    }
    best = max(alike, key=alike.__getitem__, default="")
    return best if folded and best and alike[best] >= ALIKE else ""


def _words(text: str) -> set[str]:
    return {*re.findall(r"[\w-]+", text.casefold())}


def _from_name(found: Proposed, name: str, asked: Asked, taken: Collection[str]) -> None:
    """Take number, title and scale of a file's name; of a title alone, the number asked for it."""
    said = said_by_name(name)
    if found.has("number") and said.number not in ("", found.text("number")):
        return  # the name is that of another sheet, or of a set of them
    found.say("scale", said.scale, NAME)
    found.say("number", said.number, NAME)
    like = nearest(said.title, asked)
    if like and (like not in taken or asked.sheets[like].title.casefold() == said.title.casefold()):
        found.say("number", like, NAME)
    if said.number and said.number not in asked.sheets:
        found.say("title", said.title[:LONGEST_TITLE], NAME)


def _from_block(found: Proposed, page: PageText, asked: Asked) -> None:
    """Read the title block in the lower right: by its labels, else by place and size."""
    lines = list(_lines(page.words))
    number = _labelled("number", lines) or _largest_number(lines, asked)
    match = _SHEET.search(number.text) if number else None
    if number is None or match is None:
        return
    code = two_digits(match[1])
    found.say("number", code, BLOCK)
    scale = _labelled("scale", lines) or _scale_near(number, lines)
    if scale and (read := _SCALE.search(scale.text)):
        found.say("scale", _scale_words(read[0])[:LONGEST_SCALE], BLOCK)
    if title := _labelled("title", lines) or _title_over(number, lines):
        like = nearest(title.text, asked)
        words = asked.sheets[like].title if like else title.text
        found.say("title", words[:LONGEST_TITLE], BLOCK)


def _lines(words: tuple[Word, ...]) -> Iterator[Line]:
    """Set the words of the lower right in lines."""
    there = [word for word in words if word.middle[0] > BLOCK_LEFT and word.middle[1] > BLOCK_TOP]
    rows: list[list[Word]] = []
    for word in sorted(there, key=lambda word: word.x):
        for row in rows:
            last = row[-1]
            apart = word.x - (last.x + last.width)
            tall = max(word.height, last.height)
            is_level = abs(word.middle[1] - last.middle[1]) < 0.5 * tall
            if is_level and -0.2 * tall < apart < GAP * tall:
                row.append(word)
                break
        else:
            rows.append([word])
    for row in rows:
        text = " ".join(word.text for word in row)
        yield Line(text, row[0].x, min(w.y for w in row), max(w.height for w in row))


def _labelled(name: str, lines: list[Line]) -> Line | None:
    """What stands under a label or behind it; None where nothing that it could mean does."""
    for label in lines:
        head, _, behind = label.text.partition(":")
        folded = head.casefold().rstrip(". ")
        if folded not in _LABELS[name]:
            continue
        if behind.strip():
            return label._replace(text=behind.strip())
        for line in sorted(lines, key=lambda line: line.y):
            under = line.y - label.y
            is_under = 0 < under < UNDER * max(label.height, line.height)
            if is_under and abs(line.x - label.x) < ALIGNED and _may_be(name, line.text):
                return line
    return None


def _may_be(name: str, text: str) -> bool:
    if name == "number":
        return _SHEET.fullmatch(text) is not None
    if name == "scale":
        return _SCALE.search(text) is not None
    return _is_title(text)


def _is_title(text: str) -> bool:
    folded = text.casefold().strip(" .:")
    is_label = any(folded in labels for labels in _LABELS.values())
    said = _SCALE.search(text) or _SHEET.fullmatch(text) or _OTHERS.search(text)
    return not (is_label or said) and any(sign.isalpha() for sign in text)


def _largest_number(lines: list[Line], asked: Asked) -> Line | None:
    """The largest that reads like a number of a sheet: asked for, or larger than what is there."""
    usual = median([line.height for line in lines] or [0.0])
    able = [
        line
        for line in lines
        if _SHEET.fullmatch(line.text)
        and (line.text in asked.sheets or (line.text.isdigit() and line.height > LARGE * usual))
    ]
    return max(able, key=lambda line: (round(line.height, 3), line.y), default=None)


def _scale_near(number: Line, lines: list[Line]) -> Line | None:
    near = [line for line in lines if _SCALE.search(line.text)]
    return min(near, key=lambda s: abs(s.x - number.x) + abs(s.y - number.y), default=None)


def _title_over(number: Line, lines: list[Line]) -> Line | None:
    """The largest line over a number that begins where it does."""
    over = [
        line
        for line in lines
        if 0 < number.y - line.y < ABOVE
        and abs(line.x - number.x) < ALIGNED
        and (_is_title(line.text) or line.text.casefold() in ("title", "site"))
    ]
    return max(over, key=lambda line: (round(line.height, 3), line.y), default=None)


def _scale_words(read: str) -> str:
    """A scale as it is written: 1 : 50 is 1:50.

    >>> _scale_words("1 : 50"), _scale_words("1/4” = 1’-0”"), _scale_words("nts")
    ('1:50', '1/4" = 1\\'-0"', 'NTS')
    """
    if ":" in read:
        return read.replace(" ", "")
    straight = read.replace("”", '"').replace("’", "'")
    return straight.upper() if straight.casefold() == "nts" else straight

"""The list of a set's sheets, lettered as a drawing office does: a line a sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass
from itertools import accumulate

from criteria.drawing.drawing import MIDDLE_MM, Drawing
from criteria.drawing.lettering import LEAST_MM, wrapped
from criteria.drawing.marks import Lettering, Mark, Path
from criteria.drawing.pens import Pen, Tone

TALLEST_MM = 200.0
"""How tall a list may be: within the border of the smallest paper of either system [mm]."""
LINE_MM, PAD_MM, GAP_MM = 4.2, 2.6, 2.0
"""From line to line, kept above and below the words of a sheet together, and between columns."""
HEADS = ("No.", "Title", "Kind", "State", "Scale", "Drawn", "Checked", "Rev")
WIDE_MM = (10.0, 42.0, 21.0, 17.0, 23.0, 26.5, 26.5, 9.0)
NOT_SAID = "–"


@dataclass(frozen=True, kw_only=True)
class Listed:
    """What the list says of a sheet; what nobody said is empty."""

    number: str
    title: str
    kind: str = ""
    state: str = ""
    scale: str = ""
    drawn_by: str = ""
    checked_by: str = ""
    revision: str = ""


def draw_sheet_list(sheets: Sequence[Listed]) -> list[Drawing]:
    """Draw the list in the order of its sheets: on several papers where one can't hold it."""
    papers: list[list[Listed]] = []
    y = TALLEST_MM
    for sheet in sheets:
        if y + _tall(sheet) > TALLEST_MM:
            papers.append([])
            y = LINE_MM + PAD_MM
        papers[-1].append(sheet)
        y += _tall(sheet)
    return [_paper(listed, len(sheets)) for listed in papers]


def _paper(listed: Sequence[Listed], of: int) -> Drawing:
    marks: list[Mark] = [*_words(HEADS, 0.0, Tone.GRAPHITE), _ruled(LINE_MM + PAD_MM, Pen.CUT)]
    y = LINE_MM + PAD_MM
    for sheet in listed:
        marks += _words(astuple(sheet), y, Tone.INK)
        y += _tall(sheet)
        marks.append(_ruled(y, Pen.FINE))
    sheets = f"{of} sheet{'s' * (of != 1)}"
    return Drawing(
        title=f"Sheet list, {sheets}",
        says=f"{sheets}: " + ", ".join(f"{each.number} {each.title}" for each in listed) + ".",
        width_mm=MIDDLE_MM,
        height_mm=round(y, 2),
        marks=tuple(marks),
    )


def _set(words: str, wide_mm: float) -> list[str]:
    return wrapped(words or NOT_SAID, LEAST_MM, wide_mm - GAP_MM)


def _tall(sheet: Listed) -> float:
    pairs = zip(astuple(sheet), WIDE_MM, strict=True)
    return PAD_MM + LINE_MM * max(len(_set(words, wide)) for words, wide in pairs)


def _words(cells: Sequence[str], top_mm: float, tone: Tone) -> Iterator[Lettering]:
    """Letter a line: its number strong, long words folded in their columns."""
    places = accumulate(WIDE_MM, initial=0.0)
    for n, (words, wide, x) in enumerate(zip(cells, WIDE_MM, places, strict=False)):
        for line, said in enumerate(_set(words, wide)):
            at = (x, top_mm + PAD_MM / 2 + LINE_MM * line + LEAST_MM + 0.6)
            yield Lettering(words=said, at=at, tone=tone, is_strong=n == 0 and tone is Tone.INK)


def _ruled(y_mm: float, pen: Pen) -> Path:
    return Path(points=((0.0, y_mm), (MIDDLE_MM, y_mm)), pen=pen)

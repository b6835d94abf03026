"""The sheet that drawings hang on: its frame, zones, centring marks and title block.

ISO 5457 for margins, frame and centring marks, ISO 7200 for what a title block says, both from
memory. Zones divide the whole paper evenly, so that a place has one name on paper and on a page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, width_mm
from criteria.drawing.marks import Box, Lettering, Mark, Path, flat, moved, rectangle
from criteria.drawing.pens import Pen, Tone

A3_MM = (420.0, 297.0)
BINDING_MM, MARGIN_MM, EDGE_MM = 20.0, 10.0, 5.0
"""Kept at the left, at the other sides, and from the paper's edge to the zones [mm]."""
CENTRING_MM = 5.0
"""How far a centring mark reaches into the frame [mm]."""
ROWS, COLUMNS = "ABCD", "123456"
BLOCK_MM = 180.0
"""How wide a title block is at most [mm]."""
ROWS_MM = (13.5, 11.0, 11.0)
LARGE_MM, INSET_MM, LABEL_MM, BASE_MM = 5.0, 1.8, 3.8, 2.2
"""Capitals of whose it is; kept beside words; from a cell's top to its label's line, and from the
line of its words to its foot [mm]."""


@dataclass(frozen=True, kw_only=True)
class TitleBlock:
    """What a sheet says of itself.

    owner     whose it is: number and name of the scheme
    scale     its name; empty of what has none
    of        how many sheets there are
    """

    owner: str
    title: str
    creator: str
    site: str
    day: str
    scale: str
    number: str
    of: int
    revision: str


def frame_of(paper_mm: tuple[float, float] = A3_MM) -> Box:
    """Return the frame, within which all is drawn.

    >>> left, top, right, bottom = frame_of()
    >>> right - left, bottom - top
    (390.0, 277.0)
    """
    return BINDING_MM, MARGIN_MM, paper_mm[0] - MARGIN_MM, paper_mm[1] - MARGIN_MM


def zone_lines(paper_mm: tuple[float, float] = A3_MM) -> tuple[list[float], list[float]]:
    """Return where zones meet, across and down [mm].

    >>> zone_lines()[0]
    [70.0, 140.0, 210.0, 280.0, 350.0]
    """
    across, down = (
        [length * n / len(names) for n in range(1, len(names))]
        for length, names in zip(paper_mm, (COLUMNS, ROWS), strict=True)
    )
    return across, down


def border(paper_mm: tuple[float, float] = A3_MM) -> Iterator[Mark]:
    """Rule the frame with its zones and the marks at the middle of its sides."""
    wide, high = paper_mm
    left, top, right, bottom = frame = frame_of(paper_mm)
    edge = (left - EDGE_MM, top - EDGE_MM, right + EDGE_MM, bottom + EDGE_MM)
    yield Path(points=rectangle(edge), pen=Pen.FINE, is_closed=True)
    yield Path(points=rectangle(frame), pen=Pen.CUT, is_closed=True)
    across, down = zone_lines(paper_mm)
    for outer, inner, into in (
        (edge[1], top, top + CENTRING_MM),
        (edge[3], bottom, bottom - CENTRING_MM),
    ):
        yield Path(points=((wide / 2, outer), (wide / 2, into)), pen=Pen.CUT)
        for x in across:
            yield Path(points=((x, outer), (x, inner)), pen=Pen.FINE)
        for name, x in zip(COLUMNS, _middles(across, left, right), strict=True):
            yield _zone(name, x, (outer + inner) / 2)
    for outer, inner, into in (
        (edge[0], left, left + CENTRING_MM),
        (edge[2], right, right - CENTRING_MM),
    ):
        yield Path(points=((outer, high / 2), (into, high / 2)), pen=Pen.CUT)
        for y in down:
            yield Path(points=((outer, y), (inner, y)), pen=Pen.FINE)
        for name, y in zip(ROWS, _middles(down, top, bottom), strict=True):
            yield _zone(name, (outer + inner) / 2, y)


def _middles(lines: Sequence[float], low: float, high: float) -> list[float]:
    """Return the middles of what lies between lines and both ends."""
    ends = [low, *lines, high]
    return [(one + other) / 2 for one, other in pairwise(ends)]


def _zone(name: str, x: float, y: float) -> Lettering:
    at = (x, y + NAME_MM / 2)
    return Lettering(words=name, at=at, anchor="middle", cap_mm=NAME_MM, tone=Tone.GRAPHITE)


def block_of(paper_mm: tuple[float, float] = A3_MM) -> Box:
    """Return the paper that a title block takes, in the lower right corner."""
    left, _, right, bottom = frame_of(paper_mm)
    return right - min(BLOCK_MM, right - left), bottom - sum(ROWS_MM), right, bottom


def title_block(block: TitleBlock, paper_mm: tuple[float, float] = A3_MM) -> Iterator[Mark]:
    """Rule and letter a title block: labels small, what they say large, fitted to its cell."""
    left, top, right, _ = box = block_of(paper_mm)
    yield Path(points=rectangle(box), pen=Pen.CUT, is_closed=True)
    per_mm = (right - left) / BLOCK_MM
    sheets = f"{block.number} of {block.of}"
    rows = (
        (
            (126.0, "Scheme", block.owner),
            (20.0, "Revision", block.revision),
            (34.0, "Sheet", sheets),
        ),
        ((90.0, "Title", block.title), (36.0, "Scale", block.scale), (54.0, "Date", block.day)),
        ((90.0, "Drawn by", block.creator), (90.0, "Site", block.site)),
    )
    y = top
    for tall, cells in zip(ROWS_MM, rows, strict=True):
        if y > top:
            yield Path(points=((left, y), (right, y)), pen=Pen.FINE)
        x = left
        for wide, label, words in cells:
            if x > left:
                yield Path(points=((x, y), (x, y + tall)), pen=Pen.FINE)
            yield from _cell((x, y, x + wide * per_mm, y + tall), label, words, y == top)
            x += wide * per_mm
        y += tall


def _cell(box: Box, label: str, words: str, is_large: bool) -> Iterator[Mark]:
    x, most = box[0] + INSET_MM, box[2] - box[0] - 2 * INSET_MM
    yield Lettering(words=label, at=(x, box[1] + LABEL_MM), tone=Tone.GRAPHITE)
    sizes = (LARGE_MM, NAME_MM, LEAST_MM) if is_large else (NAME_MM, LEAST_MM)
    cap_mm = next((each for each in sizes if width_mm(words, each) <= most), LEAST_MM)
    at = (x, box[3] - BASE_MM)
    yield Lettering(words=fitted(words, cap_mm, most), at=at, cap_mm=cap_mm, is_strong=is_large)


def hung(
    block: TitleBlock,
    placed: Sequence[tuple[Drawing, tuple[float, float]]],
    paper_mm: tuple[float, float] = A3_MM,
) -> Drawing:
    """Return a sheet: drawings within its frame, each by its upper left corner, and title block."""
    marks = [moved(mark, *at) for drawing, at in placed for mark in flat(drawing.marks)]
    return Drawing(
        title=f"{block.number} {block.title}",
        says=". ".join(drawing.says for drawing, _ in placed if drawing.says),
        width_mm=paper_mm[0],
        height_mm=paper_mm[1],
        marks=(*marks, *border(paper_mm), *title_block(block, paper_mm)),
        figures=tuple(figure for drawing, _ in placed for figure in drawing.figures),
        scale=block.scale,
        left_out=tuple(gap for drawing, _ in placed for gap in drawing.left_out),
        key=tuple(words for drawing, _ in placed for words in drawing.key),
    )

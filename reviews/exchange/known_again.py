"""Which row that is here is which row of a file: by its source, its outline, its name, its mark.

Rows of a model have ids, of which those of rooms change with each export while the building
stays; a room is then known by where it lies, and only then by what it is called.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any

import numpy as np
from numpy.typing import NDArray

from criteria.typed.rows import Schedule, folded
from reviews.exchange.proposed import How, ProposedRow, Shape

ALIKE = 0.8
"""Part of two outlines, of the larger one, that has to lie in both for them to be one room."""
CELLS = 120
"""Two outlines are laid on a grid of so many cells a side."""

Json = dict[str, Any]
Box = tuple[float, float, float, float]


@dataclass(frozen=True, kw_only=True)
class Standing:
    """A row that is here.

    origin  of the row, empty where it is typed alone: what brought it in knew it by ("source",
            "floor", "shape", "kind"), the text that each kind of file last had of each cell
            ("last"), and where cells come from ("cells")
    """

    pk: int
    schedule: str
    cells: Mapping[str, str]
    origin: Json


def known_again(
    schedule: Schedule,
    kind: str,
    rows: Sequence[tuple[int, ProposedRow]],
    there: Sequence[Standing],
) -> dict[int, Standing]:
    """Return the standing row of each proposed row that has one, by the proposed row's number.

    rows   numbers and proposed rows of one schedule
    there  the rows of it that are here
    """
    found: dict[int, Standing] = {}
    for pairs in (_by_source, _by_shape, _by_name):
        left = [(n, row) for n, row in rows if n not in found]
        taken = {standing.pk for standing in found.values()}
        free = [standing for standing in there if standing.pk not in taken]
        for number, standing in pairs(schedule, kind, left, free):
            if number not in found and standing.pk not in taken:
                found[number] = standing
                taken.add(standing.pk)
    return found


Pairs = Iterator[tuple[int, Standing]]
Left = Sequence[tuple[int, ProposedRow]]


def _by_source(schedule: Schedule, kind: str, rows: Left, there: Sequence[Standing]) -> Pairs:
    by = {s.origin["source"]: s for s in there if s.origin.get("source") and _of(s, kind)}
    return ((n, by[row.source]) for n, row in rows if row.source in by)


def _by_shape(schedule: Schedule, kind: str, rows: Left, there: Sequence[Standing]) -> Pairs:
    drawn = [
        (box_of(s.origin["shape"]), s) for s in there if s.origin.get("shape") and _of(s, kind)
    ]
    near = (
        (overlap(row.shape, s.origin["shape"]), n, s)
        for n, row, box in ((n, row, box_of(row.shape)) for n, row in rows if row.shape)
        for other, s in drawn
        if s.origin.get("floor", "") == row.floor and _meet(box, other)
    )
    best = sorted((each for each in near if each[0] >= ALIKE), key=lambda each: -each[0])
    return ((n, standing) for _, n, standing in best)


def _by_name(schedule: Schedule, kind: str, rows: Left, there: Sequence[Standing]) -> Pairs:
    if schedule.is_single:
        return ((n, there[0]) for n, _ in rows if there)
    if any(row.source for _, row in rows):
        head = schedule.mark_head
        written = [(n, r) for n, r in rows if head in r.cells and r.cells[head].how is How.WRITTEN]
        return chain(_by_mark(schedule, written, there), _by_words(schedule, rows, there))
    if schedule.keys:
        return _by_mark(schedule, rows, there)
    return _by_order(schedule, rows, there)


def _by_mark(schedule: Schedule, rows: Left, there: Sequence[Standing]) -> Pairs:
    by = {schedule.name_of(s.cells): s for s in there}
    named = ((n, schedule.name_of(texts_of(row))) for n, row in rows)
    return ((n, by[name]) for n, name in named if name and name in by)


def _by_words(schedule: Schedule, rows: Left, there: Sequence[Standing]) -> Pairs:
    """Rows of a model by what they are called: marks of its reader's tell nothing."""
    heads = [c.head for c in schedule.columns if c.required and c.scale is None and not c.is_key]
    heads = [head for head in heads if head in ("room", "part", "layer", "name")]
    if not heads or schedule.slug not in ("rooms", "envelope"):
        return iter(())
    words = [(s, _folded(s.cells, heads)) for s in there if not s.origin.get("source")]
    return (
        (n, standing)
        for n, row in rows
        for standing, said in words
        if said and said == _folded(texts_of(row), heads)
    )


def _by_order(schedule: Schedule, rows: Left, there: Sequence[Standing]) -> Pairs:
    """Rows without a mark: those that are equal, and between them those in the same order."""
    here = [_texts(schedule, s.cells) for s in there]
    come = [_texts(schedule, texts_of(row)) for _, row in rows]
    for tag, i, i_end, j, j_end in difflib.SequenceMatcher(
        None, here, come, autojunk=False
    ).get_opcodes():
        if tag in ("equal", "replace"):
            for standing, (number, _) in zip(there[i:i_end], rows[j:j_end], strict=False):
                yield number, standing


def texts_of(row: ProposedRow) -> dict[str, str]:
    """The text of each cell of a proposed row, by head."""
    return {head: cell.text for head, cell in row.cells.items()}


def _texts(schedule: Schedule, cells: Mapping[str, str]) -> tuple[str, ...]:
    return tuple((cells.get(head) or "").strip() for head in schedule.heads)


def _folded(cells: Mapping[str, str], heads: Iterable[str]) -> str:
    return "/".join(folded(cells.get(head) or "") for head in heads).strip("/")


def _of(standing: Standing, kind: str) -> bool:
    return standing.origin.get("kind") == kind


def overlap(first: Shape, second: Shape) -> float:
    """Part of the larger of two outlines that lies in both [1], each with its corners in order.

    >>> overlap(((0, 0), (4, 0), (4, 5), (0, 5)), ((0, 0), (4, 0), (4, 4), (0, 4)))
    0.8
    """
    corners = np.array([*first, *second], dtype=float)
    low, high = corners.min(axis=0), corners.max(axis=0)
    if not _meet(box_of(first), box_of(second)):
        return 0.0
    steps = (np.arange(CELLS) + 0.5) / CELLS
    x, y = np.meshgrid(*(low[k] + steps * (high[k] - low[k]) for k in (0, 1)))
    one, other = _inside(first, x, y), _inside(second, x, y)
    larger = max(one.sum(), other.sum())
    return round(float((one & other).sum() / larger), 3) if larger else 0.0


def box_of(shape: Sequence[Sequence[float]]) -> Box:
    """The box about an outline: least x and y, then most."""
    across, up = zip(*shape, strict=True)
    return min(across), min(up), max(across), max(up)


def _meet(one: Box, other: Box) -> bool:
    return (
        max(one[0], other[0]) < min(one[2], other[2])
        and max(one[1], other[1]) < min(one[3], other[3])
    )  # fmt: skip


def _inside(shape: Shape, x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether each point lies within an outline: a ray to the right crosses it oddly often."""
    inside = np.zeros(x.shape, dtype=bool)
    for (x0, y0), (x1, y1) in zip(shape, (*shape[1:], shape[0]), strict=True):
        if y0 != y1:
            crosses = ((y0 > y) != (y1 > y)) & (x < (x1 - x0) * (y - y0) / (y1 - y0) + x0)
            inside ^= crosses
    return inside

"""Windows and doors of a plan: blocks by their names or marks, their widths by their scale."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ezdxf import bbox
from ezdxf.document import Drawing

from reviews.exchange.plan_drawing_outlines import Point

WORDS = {
    "windows": "window win fenster fen glaz fenetre fenêtre ventana",
    "doors": "door tür tuer tur porte puerta",
}
"""How names of blocks begin or what they hold. From memory."""
PREFIX = {"windows": "W", "doors": "D"}
TAGS = {
    "mark": "MARK NO NR NUMBER TAG ID POS",
    "sill": "SILL SILL_HEIGHT SILLHEIGHT BRH",
    "height": "HEIGHT H HOEHE HÖHE",
    "width": "WIDTH W BREITE",
}
"""Tags of attributes, and what each says. From memory."""
MARK = re.compile(r"([A-Z]{1,2})[-.]?0*\d{1,3}[a-z]?", re.ASCII)
NOT_MEASURED = frozenset({"INSERT", "TEXT", "MTEXT", "ATTDEF", "ATTRIB", "POINT", "DIMENSION"})
"""What a block holds that isn't its width: words, and blocks, one of which may hold itself."""


@dataclass(frozen=True)
class Opening:
    """A block that stands for a window or a door.

    kind    slug of its schedule
    middle  of what it draws
    width, height  of that, along the block's own sides, by its scale
    told    what its attributes say: mark, sill, height, width
    """

    kind: str
    block: str
    middle: Point
    width: float
    height: float
    told: Mapping[str, str]


def openings_of(drawing: Drawing) -> tuple[list[Opening], int]:
    """Return what stands for windows and doors, and how many other blocks there are."""
    sizes: dict[str, tuple[float, float, float, float]] = {}
    found, others = [], 0
    inserts: Iterable[Any] = drawing.modelspace().query("INSERT")
    for insert in inserts:
        told = _told(insert.attribs)
        kind = _kind(f"{insert.dxf.name} {insert.dxf.layer}", told.get("mark", ""))
        if not kind:
            others += 1
            continue
        name = insert.dxf.name
        if name not in sizes:
            sizes[name] = _extents(drawing, name)
        opening = _opening(insert, kind, sizes[name], told)
        if all(map(math.isfinite, (*opening.middle, opening.width, opening.height))):
            found.append(opening)
    return found, others


def _opening(
    insert: Any, kind: str, box: tuple[float, float, float, float], told: dict[str, str]
) -> Opening:
    left, low, right, high = box
    across, up = insert.dxf.xscale, insert.dxf.yscale
    x, y = (left + right) / 2 * across, (low + high) / 2 * up
    turn = math.radians(insert.dxf.rotation)
    return Opening(
        kind=kind,
        block=insert.dxf.name,
        middle=(
            insert.dxf.insert.x + x * math.cos(turn) - y * math.sin(turn),
            insert.dxf.insert.y + x * math.sin(turn) + y * math.cos(turn),
        ),
        width=abs((right - left) * across),
        height=abs((high - low) * up),
        told=told,
    )


def _extents(drawing: Drawing, name: str) -> tuple[float, float, float, float]:
    block = drawing.blocks.get(name)
    drawn = [each for each in block or () if each.dxftype() not in NOT_MEASURED]
    box = bbox.extents(drawn, fast=True)
    if not box.has_data:
        return 0.0, 0.0, 0.0, 0.0
    return box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y


def _told(attributes: Iterable[Any]) -> dict[str, str]:
    known = {tag: what for what, tags in TAGS.items() for tag in tags.split()}
    told: dict[str, str] = {}
    for each in attributes:
        what, text = known.get(each.dxf.tag.upper()), each.dxf.text.strip()
        if what and text:
            told.setdefault(what, text)
    return told


def _kind(name: str, mark: str) -> str:
    """The schedule of a block by its mark, else by its name and layer; nothing of any other."""
    if is_mark := MARK.fullmatch(mark):
        by_mark = [kind for kind, prefix in PREFIX.items() if prefix == is_mark[1]]
        if by_mark:
            return by_mark[0]
    words = re.findall(r"[^\W\d_]+", name.casefold())
    for kind, known in WORDS.items():
        if any(said.startswith(word) for said in words for word in known.split()):
            return kind
    return ""

"""Sheets of two revisions beside each other: what became of each, its clouds, and three looks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Any

from django.urls import reverse

from criteria.drawing.border import A3_MM, block_of
from reviews.models import IssuedSheet, Revision, SheetFile
from reviews.places import COLUMNS, ROWS
from reviews.reading.sheet_changes import SheetPair
from reviews.reading.sheet_pictures import FULL, PREVIEW

UNITS = 1000.0
"""Longest side of a sheet as it is drawn here."""
ARC, TRIANGLE, ABOUT = 13.0, 22.0, 70.0
"""An arc of a cloud, a revision triangle, and what is shown about a cloud that is looked at."""
MOST_WHOLE_PX = 24_000_000
"""Largest picture that is sent whole, to look at one cloud [px]."""
WHAT = {"new": "drawn", "gone": "taken out", "redrawn": "drawn otherwise"}
LOOKS = {
    "side": "Side by side",
    "over": "One over the other",
    "difference": "Difference",
}

Numbers = tuple[float, ...]


@dataclass(frozen=True)
class Cloud:
    """A place of a sheet that changed, as a revision cloud.

    place   its zones: C4, or from one to another
    box     left, top, right, bottom in units of the drawing
    scale   of its triangle and number: smaller where a part is looked at closely
    """

    number: int
    place: str
    what: str
    box: Numbers
    is_in_block: bool
    scale: float = 1.0

    @property
    def says(self) -> str:
        """Where and what, in words."""
        return f"{self.place} {self.what}{', title block’s corner' if self.is_in_block else ''}"

    @property
    def outline(self) -> str:
        """Its arcs, all bulging outwards, as a path."""
        left, top, right, bottom = self.box
        corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]
        path = [f"M{left:.1f} {top:.1f}"]
        for (x, y), (to_x, to_y) in pairwise(corners):
            many = max(2, round((abs(to_x - x) + abs(to_y - y)) / ARC))
            dx, dy = (to_x - x) / many, (to_y - y) / many
            radius = 0.55 * (dx * dx + dy * dy) ** 0.5
            path += [f"a{radius:.1f} {radius:.1f} 0 0 1 {dx:.2f} {dy:.2f}"] * many
        return "".join(path) + "z"

    @property
    def triangle(self) -> Mapping[str, float]:
        """Where its triangle stands: at its upper right, within the sheet."""
        high = TRIANGLE * self.scale
        wide = high * 58 / 32  # its number stands before it
        x = min(self.box[2] - wide / 3, UNITS - wide)
        y = max(self.box[1] - 0.8 * high, 0)
        return {"x": round(x, 2), "y": round(y, 2), "wide": round(wide, 2), "high": round(high, 2)}


@dataclass(frozen=True)
class Drawn:
    """A picture as it is placed on the present's sheet."""

    address: str
    width: float
    height: float
    transform: str = ""


@dataclass(frozen=True)
class SheetChange:
    """What became of a sheet from one revision to another.

    letter   the later revision's
    """

    pair: SheetPair
    letter: str
    clouds: tuple[Cloud, ...]

    @property
    def sheet(self) -> IssuedSheet:
        """The latest there is."""
        return self.pair.sheet

    @property
    def whole(self) -> Mapping[str, float]:
        """The whole of the present's picture, as clouds lie on it."""
        width, height = _size(self.sheet.file)
        return {"x": 0, "y": 0, "w": round(width, 2), "h": round(height, 2)}

    @property
    def is_changed(self) -> bool:
        """Whether anything about it changed, or may have."""
        return not self.pair.is_same or bool(self.pair.block_changes)

    @property
    def is_laid(self) -> bool:
        """Whether one can be looked at over the other."""
        return bool(self.pair.found and self.pair.found.get("lies"))

    @property
    def says(self) -> str:
        """What became of its picture, in words."""
        pair, found = self.pair, self.pair.found
        if pair.before is None:
            return "added"
        if pair.after is None:
            return "left out"
        if pair.is_same:
            return "the same picture" if not pair.block_changes else "title block changed"
        if self.clouds and all(each.is_in_block for each in self.clouds):
            return "a new picture, on which only the title block’s corner changed"
        return _says(found) if found is not None else "another picture; being compared"

    @property
    def notes(self) -> tuple[str, ...]:
        """What else is to be known of a comparison."""
        found = self.pair.found or {}
        notes = []
        if found.get("more"):
            notes.append(f"{found['more']} more places changed and aren’t outlined.")
        if self.is_laid and found.get("covered", 1) < 0.97:
            share = round(100 * found["covered"])
            notes.append(f"The former reaches {share} % of this picture; the rest isn’t compared.")
        return tuple(notes)


def _says(found: Mapping[str, Any]) -> str:
    if lack := found.get("lack"):
        return f"drawn anew; not compared, for {lack}"
    if blank := found.get("is_blank"):
        whose = "both pictures are" if all(blank) else f"the {('former', 'present')[blank[1]]} is"
        return f"drawn anew; {whose} blank, so there is nothing to lay over the other"
    if not found.get("lies"):
        return "drawn anew; these two can’t be laid over each other, so nothing is outlined"
    if found.get("is_anew"):
        return "drawn anew as a whole: most of its lines lie elsewhere, so nothing is outlined"
    clouds = len(found["clouds"]) + found.get("more", 0)
    if clouds:
        return f"drawn anew; {clouds} place{'s' if clouds > 1 else ''} changed"
    return "a new picture, on which no change was found"


def sheet_changes(pairs: Sequence[SheetPair], letter: str) -> list[SheetChange]:
    """What became of each pair of sheets."""
    return [SheetChange(pair, letter, tuple(_clouds(pair))) for pair in pairs]


def _clouds(pair: SheetPair) -> Iterator[Cloud]:
    if pair.after is None or pair.found is None:
        return
    width, height = _size(pair.after.file)
    for number, each in enumerate(pair.found.get("clouds", ()), start=1):
        left, top, right, bottom = each["box"]
        yield Cloud(
            number=number,
            place=_zones(left, top, right, bottom),
            what=WHAT[each["what"]],
            box=(left * width, top * height, right * width, bottom * height),
            is_in_block=_is_in_block(left, top),
        )


def _size(file: SheetFile) -> tuple[float, float]:
    longest = max(file.width, file.height)
    return UNITS * file.width / longest, UNITS * file.height / longest


def _zones(left: float, top: float, right: float, bottom: float) -> str:
    first, last = (_zone(*at) for at in ((left, top), (right, bottom)))
    return first if first == last else f"{first} to {last}"


def _zone(x: float, y: float) -> str:
    return "".join(
        names[max(0, min(len(names) - 1, int(share * len(names))))]
        for names, share in ((ROWS, y), (COLUMNS, x))
    )


def _is_in_block(left: float, top: float) -> bool:
    """Whether a box lies where sheets of this studio's kind have their title block."""
    x, y, _, _ = block_of()
    return left > (x - 8) / A3_MM[0] and top > (y - 8) / A3_MM[1]


@dataclass(frozen=True)
class WhatChanged:
    """All sheets of two revisions, in pairs."""

    before: Revision | None
    after: Revision
    sheets: Sequence[SheetChange]
    earlier: Sequence[Revision]

    @property
    def is_waited_for(self) -> bool:
        """Whether any are still to be compared."""
        return any(each.pair.is_waited_for for each in self.sheets)

    @cached_property
    def drawn(self) -> Sequence[SheetChange]:
        """Those that have two pictures to look at."""
        return [each for each in self.sheets if each.pair.pictures]

    @cached_property
    def others(self) -> Sequence[SheetChange]:
        """Those added, left out, or left as they were."""
        return [each for each in self.sheets if not each.pair.pictures]


@dataclass(frozen=True)
class Look:
    """Two pictures of one sheet, to be looked at in one of three ways.

    cloud   the one that is looked at closely; None is the whole sheet
    """

    change: SheetChange
    kind: str
    cloud: Cloud | None

    @property
    def clouds(self) -> list[Cloud]:
        """Its clouds, their triangles as large as they are read."""
        scale = min(1.0, max(0.4, 1.6 * self.box["w"] / UNITS))
        return [replace(each, scale=scale) for each in self.change.clouds]

    @property
    def kinds(self) -> Mapping[str, str]:
        """The ways that there are for these two."""
        return LOOKS if self.change.is_laid else {"side": LOOKS["side"]}

    @property
    def present(self) -> Drawn:
        """The present, as it is."""
        return self._drawn(self.change.pair.after)

    @property
    def former(self) -> Drawn:
        """The former, as it lies on the present where it can be laid."""
        return self._drawn(self.change.pair.before, self._lies())

    def _drawn(self, sheet: IssuedSheet | None, transform: str = "") -> Drawn:
        assert sheet is not None
        file = sheet.file
        is_whole = self.cloud is not None and file.width * file.height <= MOST_WHOLE_PX
        keys = [sheet.revision_id, sheet.number, FULL if is_whole else PREVIEW]
        return Drawn(reverse("issued-sheet-image", args=keys), *_size(file), transform)

    def _lies(self) -> str:
        pair = self.change.pair
        if not (self.change.is_laid and pair.before and pair.after and pair.found):
            return ""
        a, b, c, d, x, y = pair.found["lies"]
        (fw, fh), (pw, ph) = _size(pair.before.file), _size(pair.after.file)
        e = UNITS * x + pw / 2 - (a * fw + c * fh) / 2
        f = UNITS * y + ph / 2 - (b * fw + d * fh) / 2
        return f"matrix({a} {b} {c} {d} {e:.3f} {f:.3f})"

    @property
    def box(self) -> Mapping[str, float]:
        """What of the present's sheet is shown."""
        return self._box(self.present)

    @property
    def former_box(self) -> Mapping[str, float]:
        """What is shown of the former: the same, where it is laid on the present."""
        return self.box if self.change.is_laid else self._box(self.former)

    @property
    def half(self) -> float:
        """Half of how wide what is shown is: where the edge stands to begin with."""
        return self.box["w"] / 2

    @property
    def middle(self) -> float:
        """Where the edge stands to begin with."""
        return self.box["x"] + self.half

    @property
    def foot(self) -> float:
        """Where what is shown ends."""
        return self.box["y"] + self.box["h"]

    def _box(self, drawn: Drawn) -> Mapping[str, float]:
        x, y, width, height = 0.0, 0.0, drawn.width, drawn.height
        if self.cloud:
            left, top, right, bottom = self.cloud.box
            width = min(width, max(right - left + 2 * ABOUT, 1.4 * (bottom - top + 2 * ABOUT)))
            height = min(height, max(bottom - top + 2 * ABOUT, width / 1.4))
            x = min(max(0.0, (left + right - width) / 2), drawn.width - width)
            y = min(max(0.0, (top + bottom - height) / 2), drawn.height - height)
        return {key: round(v, 2) for key, v in zip("xywh", (x, y, width, height), strict=True)}


def look_at(change: SheetChange, kind: str, cloud: str) -> Look:
    """One pair of pictures in one of the ways there are, whatever an address asks for."""
    chosen = next((each for each in change.clouds if str(each.number) == cloud), None)
    is_there = change.is_laid and kind in LOOKS
    return Look(change, kind if is_there else "side", chosen)

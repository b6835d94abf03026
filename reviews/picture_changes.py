"""Find where a picture of a sheet differs: `python picture_changes.py FORMER PRESENT`.

Both are laid over each other first, however they were scanned: moved, turned, larger, greyer, a
little uneven. What has no line near it on the other is a change; changes near each other are one
cloud. Where the two can't be laid over each other nothing is said of changes.

Runs apart from the site, as `reviews.plain_picture` does and within the same bounds. Lengths are
shares of the longest side: a 420th of it is called a part, which on A3 is a millimetre.
"""

from __future__ import annotations

import json
import sys
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from reviews.picture_laying import Grey, Laid, ink_of, lay, matrix_of, read_grey, warp
from reviews.picture_limits import bound

Box = tuple[float, float, float, float]

PARTS = 420
BLUR_PX = 1.0
NEAR_PARTS = 0.35
"""How far a line may lie from its like and be the same [parts]."""
APART_PARTS = 5.0
"""How far changes lie from each other that are two [parts]."""
MARGIN_PARTS = 2.0
LEAST_PARTS2 = 0.25
LEAST_PX = 10
"""Ink that a change takes at the least [parts²; px]."""
SHARE, DARKER = 0.65, 0.12
"""How much of its ink is enough on the other, and how much darker it is at the least where not."""
LEAST_LIKE = 0.4
"""Correlation under which two are no revisions of one drawing."""
MOST_CHANGED = 0.4
"""Share of all ink that changed over which a sheet is drawn anew as a whole."""
LEAST_SIDE_PX = 48
INK = 0.3
MOST_CLOUDS = 40


def find_changes(former: str, present: str) -> dict[str, Any]:
    """Compare two pictures by their paths.

    like     how well they lie over each other, None where one is blank
    lies     of the former's picture on the present's: a, b, c, d, e, f as SVG's matrix has them,
             in shares of each one's longest side; nothing where they can't be laid
    covered  share of the present that the former reaches
    is_anew  whether most of the ink changed: then no cloud is drawn
    clouds   left, top, right, bottom as shares of the present's width and height, and what: new,
             gone or redrawn; in reading order
    more     how many further clouds were left out
    """
    inks = ink_of(read_grey(former)), ink_of(read_grey(present))
    if min(min(ink.shape) for ink in inks) < LEAST_SIDE_PX:
        return {"like": 0.0, "lies": None, "clouds": []}
    blank = [bool((ink > INK).mean() < 1e-5) for ink in inks]
    if any(blank):
        return {"is_blank": blank, "like": None, "lies": None, "clouds": []}
    laid = lay(*inks)
    if laid is None or laid.like < LEAST_LIKE:
        return {"like": round(laid.like, 3) if laid else 0.0, "lies": None, "clouds": []}
    return _compared(*inks, laid)


def _compared(former: Grey, present: Grey, laid: Laid) -> dict[str, Any]:
    over = warp(former, present.shape, laid.terms, outside=-1.0)
    there = ndimage.minimum_filter(over >= 0, 9)
    part = max(present.shape) / PARTS
    # thin lines are as dark on both, wherever they lie between pixels
    over, present = (
        ndimage.gaussian_filter(np.clip(ink, 0, 1), BLUR_PX) for ink in (over, present)
    )
    gone = _without_like(over, present, part) & there
    new = _without_like(present, over, part) & there
    changed = float(
        (gone | new).sum() / max(1, ((np.maximum(over, present) > DARKER) & there).sum())
    )
    boxes = _boxes(gone, new, part) if changed <= MOST_CHANGED else []
    height, width = present.shape
    clouds = [
        {"box": [round(v, 4) for v in (l / width, t / height, r / width, b / height)], "what": what}
        for (l, t, r, b), what in boxes
    ]
    return {
        "like": round(laid.like, 3),
        "lies": matrix_of(laid.terms),
        "covered": round(float(there.mean()), 3),
        "is_anew": changed > MOST_CHANGED,
        "clouds": clouds[:MOST_CLOUDS],
        "more": max(0, len(clouds) - MOST_CLOUDS),
    }


def _without_like(ink: Grey, other: Grey, part: float) -> NDArray[np.bool_]:
    """Where there is ink that has no like near it on the other."""
    reach = max(2, round(NEAR_PARTS * part))
    y, x = np.ogrid[-reach : reach + 1, -reach : reach + 1]
    near = ndimage.maximum_filter(other, footprint=x * x + y * y <= reach * reach + 0.5)
    alone = (near < SHARE * ink) & (ink - near > DARKER)
    # a speck is no line: what is left of it once thinned by one
    return alone & (ndimage.uniform_filter(alone.astype(np.float32), 3) > 0.3)


def _boxes(gone: NDArray[np.bool_], new: NDArray[np.bool_], part: float) -> list[tuple[Box, str]]:
    """What lies near each other as one box, in reading order."""
    either = gone | new
    apart = ndimage.distance_transform_edt(~either) if either.any() else np.full(either.shape, 9e9)
    labels, _ = ndimage.label(apart <= APART_PARTS * part / 2)
    found: list[tuple[Box, float, float]] = []
    for n, where in enumerate(ndimage.find_objects(labels), start=1):
        own = (labels[where] == n) & either[where]
        rows, columns = np.nonzero(own)
        if own.sum() < max(LEAST_PX, LEAST_PARTS2 * part * part):
            continue
        top, left = where[0].start, where[1].start
        m = MARGIN_PARTS * part
        box = (
            left + columns.min() - m,
            top + rows.min() - m,
            left + columns.max() + m,
            top + rows.max() + m,
        )
        found.append((box, float((own & gone[where]).sum()), float((own & new[where]).sum())))
    return [(box, _what(g, n)) for box, g, n in _joined(found, either.shape)]


def _joined(
    found: list[tuple[Box, float, float]], shape: tuple[int, ...]
) -> list[tuple[Box, float, float]]:
    """Boxes of which none lies over another, within the sheet, in reading order."""
    kept: list[tuple[Box, float, float]] = []
    for each in found:
        met = each
        while over := [k for k in kept if _meet(k[0], met[0])]:
            for k in over:
                kept.remove(k)
            alike = [met, *over]
            sides = list(zip(*(box for box, _, _ in alike), strict=True))
            box = min(sides[0]), min(sides[1]), max(sides[2]), max(sides[3])
            met = box, sum(g for _, g, _ in alike), sum(n for _, _, n in alike)
        kept.append(met)
    height, width = shape
    within = [
        ((max(0.0, l), max(0.0, t), min(float(width), r), min(float(height), b)), g, n)
        for (l, t, r, b), g, n in kept
    ]
    return sorted(within, key=lambda each: (round(each[0][1] / height * 4), each[0][0]))


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _what(gone: float, new: float) -> str:
    share = new / (gone + new)
    return "new" if share > 0.85 else "gone" if share < 0.15 else "redrawn"


def main() -> None:
    """Compare two pictures, within the bounds."""
    bound()
    print(json.dumps(find_changes(*sys.argv[1:])))


if __name__ == "__main__":
    main()

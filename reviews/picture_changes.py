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
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import fft, ndimage

from reviews.picture_limits import bound

Grey = NDArray[np.float32]
Points = NDArray[np.float64]
Box = tuple[float, float, float, float]

WORK_PX = 2400
"""Longest side at which pictures are compared [px]."""
COARSE_PX = 512
LEVELS_PX = (300, 600, 1200, 2400)
"""Longest sides at which two are laid over each other, each more closely [px]."""
PARTS = 420
BLUR_PX = 1.0
NEAR_PARTS = 0.35
"""How far a line may lie from its like and be the same [parts]."""
APART_PARTS = 5.0
"""How far changes lie from each other that are two [parts]."""
MARGIN_PARTS = 2.0
LEAST_PARTS2 = 0.4
LEAST_PX = 10
"""Ink that a change takes at the least [parts²; px]."""
SHARE, DARKER = 0.45, 0.18
"""How much of its ink is enough on the other, and how much darker it is at the least where not."""
LEAST_LIKE = 0.4
"""Correlation under which two are no revisions of one drawing."""
MOST_CHANGED = 0.4
"""Share of all ink that changed over which a sheet is drawn anew as a whole."""
LEAST_SIDE_PX = 48
INK = 0.3
MOST_CLOUDS = 40
FORMATS = ("JPEG", "PNG", "WEBP")


@dataclass(frozen=True)
class Laid:
    """How the former lies on the present.

    terms   displacement from the present's places to the former's, two by six (see `_terms`) [px]
    like    correlation of the two where both are, 1 being the same
    """

    terms: Points
    like: float


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


def read_grey(path: str) -> Grey:
    """A picture in grey, 0 to 1, its longest side no longer than WORK_PX."""
    Image.MAX_IMAGE_PIXELS = None
    with Image.open(path, formats=FORMATS) as image:
        image.draft("L", (WORK_PX, WORK_PX))
        grey = image.convert("L")
    grey.thumbnail((WORK_PX, WORK_PX), Image.Resampling.BILINEAR, reducing_gap=3)
    return np.asarray(grey, np.float32) / np.float32(255)


def ink_of(grey: Grey) -> Grey:
    """How dark each place is beside the paper about it: 0 paper, 1 as dark as its darkest lines."""
    step = max(8, max(grey.shape) // 40)
    rows, columns = (np.arange(0, n, step) for n in grey.shape)
    paper = np.array(
        [[np.percentile(grey[r : r + step, c : c + step], 85) for c in columns] for r in rows]
    )
    # a block that is dark all over has no paper of its own
    paper = ndimage.maximum_filter(paper, 3)
    paper = ndimage.gaussian_filter(np.maximum(paper, np.median(paper) * 0.7), 1.0)
    at = np.meshgrid(*((np.arange(n) - step / 2) / step for n in grey.shape), indexing="ij")
    about = ndimage.map_coordinates(paper, at, order=1, mode="nearest", output=np.float32)
    ink = np.clip(1 - grey / np.maximum(about, 0.05), 0, 1)
    inked = ink[ink > 0.15]
    dark = float(np.percentile(inked, 90)) if inked.size else 1.0
    return np.clip(ink / max(dark, 0.2), 0, 1).astype(np.float32)


def lay(former: Grey, present: Grey) -> Laid | None:
    """Lay one over the other; None where no way to begin is found."""
    one, other = (_shrunk(ink, LEVELS_PX[0]) for ink in (former, present))
    tried = [_closer(one, other, terms) for terms in _beginnings(former, present)]
    laid = max(tried, key=lambda each: each.like)
    for px in LEVELS_PX[1:]:
        if px == LEVELS_PX[1] or px <= max(*former.shape, *present.shape):
            one, other = (_shrunk(ink, px) for ink in (former, present))
            laid = _closer(one, other, laid.terms)
    return laid


def _shrunk(ink: Grey, px: int) -> Grey:
    """A smaller picture, a little blurred."""
    zoom = px / max(ink.shape)
    if zoom >= 1:
        return ndimage.gaussian_filter(ink, 1.0)
    size = [max(1, round(n * zoom)) for n in reversed(ink.shape)]
    small = Image.fromarray(ink).resize(size, Image.Resampling.BILINEAR)
    return ndimage.gaussian_filter(np.asarray(small), 1.0)


def _beginnings(former: Grey, present: Grey) -> list[Points]:
    """Ways to begin: as they are, and turned and scaled as their spectra say.

    Turn and scale are a shift of log-polar magnitudes, which phase correlation finds; half a turn
    more looks alike in them. Reddy and Chatterji, IEEE Trans. Image Process. 5(8), 1996.
    """
    squares = [_square(ink) for ink in (former, present)]
    turns = [(0.0, 1.0), *_turns(*(_log_polar(each) for each in squares))]
    begun = []
    for turn, scale in turns:
        moved = _warp(squares[0], squares[0].shape, _similar(turn, scale, (0.0, 0.0)))
        (y, x), _ = _shift(moved, squares[1])[0]
        # what lies at u on the present lies at turned(u) + shift on the former
        cos, sin = scale * np.cos(turn), scale * np.sin(turn)
        dx, dy = -x / COARSE_PX, -y / COARSE_PX
        begun.append(_similar(turn, scale, (cos * dx - sin * dy, sin * dx + cos * dy)))
    return begun


def _square(ink: Grey) -> Grey:
    """A picture in the middle of a square."""
    small = _shrunk(ink, COARSE_PX)
    square = np.zeros((COARSE_PX, COARSE_PX), np.float32)
    top, left = ((COARSE_PX - n) // 2 for n in small.shape)
    square[top : top + small.shape[0], left : left + small.shape[1]] = small[:COARSE_PX, :COARSE_PX]
    return square


ANGLES, RADII, LEAST_RADIUS = 720, 256, 12.0


def _log_polar(square: Grey) -> Grey:
    window = np.hanning(COARSE_PX).astype(np.float32)
    seen = np.abs(fft.fftshift(fft.fft2(square * np.sqrt(np.outer(window, window)))))
    middle = COARSE_PX / 2
    angles = np.linspace(0, np.pi, ANGLES, endpoint=False)[:, None]
    radii = LEAST_RADIUS * (middle / LEAST_RADIUS) ** (np.arange(RADII) / RADII)
    at = middle + radii * np.sin(angles), middle + radii * np.cos(angles)
    polar: Grey = ndimage.map_coordinates(np.log1p(seen), at, order=1, output=np.float32)
    return polar - ndimage.uniform_filter(polar, 41)


def _turns(former: Grey, present: Grey) -> list[tuple[float, float]]:
    """The two likeliest turns, each with half a turn more, and scales."""
    ratio = (COARSE_PX / 2 / LEAST_RADIUS) ** (1 / RADII)
    found = []
    for (by_angle, by_radius), _ in _shift(former, present, 2):
        turn, scale = -by_angle * np.pi / ANGLES, ratio**by_radius
        if 0.75 < scale < 1.34:
            found += [(turn, scale), (turn + np.pi, scale)]
    return found


def _shift(former: Grey, present: Grey, most: int = 1) -> list[tuple[Points, float]]:
    """By how much the present lies further down and right than the former: the likeliest first."""
    crossed = np.conj(fft.rfft2(former)) * fft.rfft2(present)
    peaks = fft.irfft2(crossed / np.maximum(np.abs(crossed), 1e-6), former.shape)
    peaks = ndimage.gaussian_filter(peaks, 1.0, mode="wrap")
    found = []
    for _ in range(most):
        at = np.unravel_index(int(np.argmax(peaks)), peaks.shape)
        signed = [i - n if i > n // 2 else i for i, n in zip(at, peaks.shape, strict=True)]
        found.append((np.array(signed, float), float(peaks[at])))
        peaks[
            tuple(
                np.ix_(
                    *((np.arange(i - 4, i + 5) % n) for i, n in zip(at, peaks.shape, strict=True))
                )
            )
        ] = 0
    return found


def _similar(turn: float, scale: float, shift: tuple[float, float]) -> Points:
    """Terms of a turn, a scale and a shift."""
    cos, sin = scale * np.cos(turn), scale * np.sin(turn)
    return np.array([[shift[0], cos - 1, -sin, 0, 0, 0], [shift[1], sin, cos - 1, 0, 0, 0]])


def _terms(x: Points, y: Points, most: int = 6) -> Points:
    """What a displacement is a sum of, of places from the middle in longest sides."""
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y][:most])


def _to_px(shape: tuple[int, ...], u: Points) -> Points:
    """Rows and columns of places from the middle [px]."""
    return u[::-1] * max(shape) + (np.array(shape).reshape(2, *[1] * (u.ndim - 1)) - 1) / 2


def _from_px(shape: tuple[int, ...], at: Points) -> Points:
    return ((at - (np.array(shape).reshape(2, *[1] * (at.ndim - 1)) - 1) / 2) / max(shape))[::-1]


def _warp(former: Grey, shape: tuple[int, ...], terms: Points, outside: float = 0.0) -> Grey:
    """The former as it lies on the present, in strips so that little is held at once."""
    warped = np.empty(shape, np.float32)
    for top in range(0, shape[0], 256):
        rows = np.mgrid[top : min(top + 256, shape[0]), 0 : shape[1]].astype(float)
        u = _from_px(shape, rows)
        v = u + np.tensordot(terms, _terms(*u), 1)
        at = _to_px(former.shape, v)
        ndimage.map_coordinates(
            former, at, output=warped[top : top + 256], order=1, cval=outside, prefilter=False
        )
    return warped


MOST_PLACES = 120_000


def _closer(former: Grey, present: Grey, terms: Points) -> Laid:
    """Lay one over the other more closely, by least squares of what differs at edges.

    Gauss and Newton's steps with Tukey's weights: what changed doesn't pull. An even scan is a
    turn, a scale and a shear; terms of the second degree take up paper that was drawn in unevenly.
    """
    down, across = (np.asarray(each) for each in np.gradient(former))
    steep = np.hypot(*np.gradient(present))
    rows, columns = np.nonzero(
        steep > 0.5 * steep[steep > 0.02].mean() if (steep > 0.02).any() else steep > 0
    )
    if rows.size > MOST_PLACES:
        chosen = np.random.default_rng(0).choice(rows.size, MOST_PLACES, replace=False)
        rows, columns = rows[chosen], columns[chosen]
    wanted = present[rows, columns]
    u = _from_px(present.shape, np.stack([rows, columns]).astype(float))
    most = 6 if max(present.shape) > LEVELS_PX[0] else 3
    basis = _terms(u[0], u[1], most)
    side = max(former.shape)
    for _ in range(12):
        v = u + np.tensordot(terms, _terms(*u), 1)
        at = _to_px(former.shape, v)
        read, gy, gx = (
            ndimage.map_coordinates(each, at, order=1, prefilter=False)
            for each in (former, down, across)
        )
        off = read - wanted
        bound_at = 4.7 * max(0.03, 1.48 * float(np.median(np.abs(off))))
        weight = np.clip(1 - (off / bound_at) ** 2, 0, None) ** 2
        slopes = np.concatenate([basis * gx, basis * gy]) * side
        leant = slopes * weight
        matrix = leant @ slopes.T
        matrix[np.diag_indices_from(matrix)] *= 1 + 1e-4
        matrix[np.diag_indices_from(matrix)] += 1e-9
        step = np.linalg.solve(matrix, -(leant @ off)).reshape(2, most)
        terms = terms.copy()
        terms[:, :most] += step
        if np.abs(step).max() * max(present.shape) < 0.02:
            break
    return Laid(terms, _likeness(former, present, terms))


def _likeness(former: Grey, present: Grey, terms: Points) -> float:
    """Correlation of two where both are."""
    blurred = [_shrunk(ink, LEVELS_PX[1]) for ink in (former, present)]
    laid = _warp(blurred[0], blurred[1].shape, terms, outside=-1.0)
    both = laid >= 0
    if both.mean() < 0.3:
        return 0.0
    one, other = laid[both], blurred[1][both]
    if min(one.std(), other.std()) < 1e-4:
        return 0.0
    return float(np.corrcoef(one, other)[0, 1])


def _compared(former: Grey, present: Grey, laid: Laid) -> dict[str, Any]:
    over = _warp(former, present.shape, laid.terms, outside=-1.0)
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
        "lies": _matrix(laid.terms),
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


def _matrix(terms: Points) -> list[float]:
    """How the former's places from its middle come to the present's, as SVG's matrix is written."""
    back = np.linalg.inv(np.eye(2) + terms[:, 1:3])
    shift = -back @ terms[:, 0]
    return [round(float(v), 6) for v in (*back.T.ravel(), *shift)]


def main() -> None:
    """Compare two pictures, within the bounds."""
    bound()
    print(json.dumps(find_changes(*sys.argv[1:])))


if __name__ == "__main__":
    main()

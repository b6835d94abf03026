"""Lay one picture of a sheet over another: moved, turned, larger, greyer, a little uneven.

Apart from the site: what compares pictures imports this, in a process of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import fft, ndimage

Grey = NDArray[np.float32]
Points = NDArray[np.float64]

WORK_PX = 2400
"""Longest side at which pictures are compared [px]."""
COARSE_PX = 512
LEVELS_PX = (300, 600, 1200, 2400)
"""Longest sides at which two are laid over each other, each more closely [px]."""
FORMATS = ("JPEG", "PNG", "WEBP")


@dataclass(frozen=True)
class Laid:
    """How the former lies on the present.

    terms   displacement from the present's places to the former's, two by six (see `_terms`) [px]
    like    correlation of the two where both are, 1 being the same
    """

    terms: Points
    like: float


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
        moved = warp(squares[0], squares[0].shape, _similar(turn, scale, (0.0, 0.0)))
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


def warp(former: Grey, shape: tuple[int, ...], terms: Points, outside: float = 0.0) -> Grey:
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
    laid = warp(blurred[0], blurred[1].shape, terms, outside=-1.0)
    both = laid >= 0
    if both.mean() < 0.3:
        return 0.0
    one, other = laid[both], blurred[1][both]
    if min(one.std(), other.std()) < 1e-4:
        return 0.0
    return float(np.corrcoef(one, other)[0, 1])


def matrix_of(terms: Points) -> list[float]:
    """How the former's places from its middle come to the present's, as SVG's matrix is written."""
    back = np.linalg.inv(np.eye(2) + terms[:, 1:3])
    shift = -back @ terms[:, 0]
    return [round(float(v), 6) for v in (*back.T.ravel(), *shift)]

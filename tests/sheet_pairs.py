"""Made-up pairs of a sheet: drawn, changed in one way, scanned anew. What changed is known."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from random import Random

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from criteria.drawing.border import TitleBlock, hung
from criteria.drawing.drawing import Drawing
from criteria.drawing.marks import Box, Lettering, Mark, Path, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from reviews.demo.raster import as_picture

KINDS = ("moved window", "new wall", "removed dimension", "changed lettering")
UNCHANGED = "unchanged"
WALL_MM = 5.0
ROOMS = ("Living", "Bunks", "Kitchen", "Porch", "Stove", "Wash", "Store", "Drying")


@dataclass(frozen=True)
class Plan:
    """A made-up plan on A3.

    rooms    from left to right: name and where its right wall stands, as a share
    windows  side (0 top, 1 bottom), middle as a share, width [mm]
    walls    extra ones: from, to [mm]
    dims     which of the dimension lines are drawn
    notes    words and where [mm]
    """

    box: Box
    rooms: tuple[tuple[str, float], ...]
    windows: tuple[tuple[int, float, float], ...]
    walls: tuple[Box, ...]
    dims: tuple[tuple[int, float, float, str], ...]
    notes: tuple[tuple[str, float, float], ...]
    hatched: int


def made_up(draw: Random) -> Plan:
    """A plan by chance."""
    left, top = draw.uniform(60, 110), draw.uniform(70, 95)
    wide, high = draw.uniform(170, 260), draw.uniform(70, 110)
    many = draw.randint(2, 4)
    names = draw.sample(ROOMS, many)
    at = sorted((n + draw.uniform(0.8, 1.2)) / many for n in range(many - 1))
    at = [share - 0.1 for share in at] + [1.0]
    sides = [
        (side, (n + draw.uniform(0.35, 0.65)) / 3, draw.uniform(14, 28))
        for side in (0, 1)
        for n in range(3)
    ]
    windows = tuple(draw.sample(sides, draw.randint(3, 6)))
    cuts = [0.0, *at]
    dims = tuple(
        (side, one, other, str(round((other - one) * wide * 50 / 10) * 10))
        for side, (one, other) in ((s, pair) for s in (0, 1) for pair in pairwise(cuts))
    )
    notes = tuple(
        (
            draw.choice(
                (
                    "Larch boards 22 mm",
                    "Ridge beam over",
                    "Water tank 400 l",
                    "Floor +2.10",
                    "Vent under",
                    "Fold-down table",
                )
            ),
            draw.uniform(left + 4, left + wide - 60),
            top + high * draw.choice((0.3, 0.72)),
        )
        for _ in range(3)
    )
    return Plan(
        (left, top, left + wide, top + high),
        tuple(zip(names, at, strict=True)),
        windows,
        (),
        dims,
        notes,
        draw.randrange(many),
    )


def marks_of(plan: Plan) -> Iterator[Mark]:
    """Draw a plan."""
    left, top, right, bottom = plan.box
    wide = right - left
    w = WALL_MM
    for box in (
        (left, top, right, top + w),
        (left, bottom - w, right, bottom),
        (left, top, left + w, bottom),
        (right - w, top, right, bottom),
        *plan.walls,
    ):
        yield Path(points=rectangle(box), pen=Pen.CUT, fill=Fill.CUT, is_closed=True)
    before = 0.0
    for n, (name, share) in enumerate(plan.rooms):
        x, end = left + before * wide, left + share * wide
        if share < 1:
            yield Path(
                points=rectangle((end - w / 2, top, end + w / 2, bottom - 28)),
                pen=Pen.CUT,
                fill=Fill.CUT,
                is_closed=True,
            )
            yield Path(
                points=tuple(
                    (end + 22 * np.sin(a), bottom - 6 - 22 * np.cos(a))
                    for a in np.linspace(0, np.pi / 2, 12)
                ),
                pen=Pen.FINE,
            )
        yield Lettering(
            words=name,
            at=((x + end) / 2, (top + bottom) / 2),
            anchor="middle",
            cap_mm=4.0,
            is_strong=True,
        )
        yield Lettering(
            words=f"{(share - before) * wide * (bottom - top) / 400:.1f} m²",
            at=((x + end) / 2, (top + bottom) / 2 + 7),
            anchor="middle",
            cap_mm=2.5,
        )
        if n == plan.hatched:
            for y in np.arange(top + w + 2, bottom - w, 3.0):
                yield Path(points=((x + w, y), (end - w, y)), pen=Pen.FINE, tone=Tone.GRAPHITE)
        before = share
    for side, share, width in plan.windows:
        y = top if side == 0 else bottom - w
        x = left + share * wide
        yield Path(
            points=rectangle((x - width / 2, y - 0.2, x + width / 2, y + w + 0.2)),
            pen=Pen.CUT,
            fill=Fill.PAPER,
            is_closed=True,
        )
        for part in (0.35, 0.65):
            yield Path(
                points=((x - width / 2, y + part * w), (x + width / 2, y + part * w)), pen=Pen.FINE
            )
    for dim in plan.dims:
        side, one, other, words = dim
        y = top - 16 if side == 0 else bottom + 16
        a, b = left + one * wide, left + other * wide
        yield Path(points=((a, y), (b, y)), pen=Pen.FINE)
        for x in (a, b):
            yield Path(points=((x - 1.2, y + 1.2), (x + 1.2, y - 1.2)), pen=Pen.CUT)
            yield Path(points=((x, y - 3), (x, y + 3)), pen=Pen.FINE)
        yield Lettering(words=words, at=((a + b) / 2, y - 1.5), anchor="middle", cap_mm=2.5)
    for words, x, y in plan.notes:
        yield Lettering(words=words, at=(x, y), cap_mm=2.5)


def change(plan: Plan, kind: str, draw: Random) -> tuple[Plan, list[Box]]:
    """A plan changed in one way, and where [mm]."""
    left, top, right, bottom = plan.box
    wide, w = right - left, WALL_MM
    if kind == "moved window":
        n = draw.randrange(len(plan.windows))
        side, share, width = plan.windows[n]
        by = draw.choice((-1, 1)) * draw.uniform(6, 14) / wide
        moved = (*plan.windows[:n], (side, share + by, width), *plan.windows[n + 1 :])
        y = top if side == 0 else bottom - w
        xs = sorted((left + share * wide, left + (share + by) * wide))
        return replace(plan, windows=moved), [(xs[0] - width / 2, y, xs[1] + width / 2, y + w)]
    if kind == "new wall":
        y = top + draw.uniform(0.35, 0.65) * (bottom - top)
        x = left + draw.uniform(0.1, 0.6) * wide
        box = (x, y, x + draw.uniform(20, 50), y + 3.0)
        return replace(plan, walls=(box,)), [box]
    if kind == "removed dimension":
        n = draw.randrange(len(plan.dims))
        side, one, other, _ = plan.dims[n]
        y = top - 16 if side == 0 else bottom + 16
        where = (left + one * wide, y - 5, left + other * wide, y + 3)
        return replace(plan, dims=plan.dims[:n] + plan.dims[n + 1 :]), [where]
    if draw.random() < 0.5:  # a figure of a dimension
        n = draw.randrange(len(plan.dims))
        side, one, other, words = plan.dims[n]
        written = str(int(words) + draw.choice((-30, -20, 50, 80, 120)))
        y = top - 16 if side == 0 else bottom + 16
        x = left + (one + other) / 2 * wide
        dims = (*plan.dims[:n], (side, one, other, written), *plan.dims[n + 1 :])
        return replace(plan, dims=dims), [(x - 6, y - 5, x + 6, y - 1)]
    n = draw.randrange(len(plan.rooms))
    name, share = plan.rooms[n]
    other = draw.choice([each for each in ROOMS if each != name])
    before = plan.rooms[n - 1][1] if n else 0.0
    x, y = left + (before + share) / 2 * wide, (top + bottom) / 2
    rooms = (*plan.rooms[:n], (other, share), *plan.rooms[n + 1 :])
    return replace(plan, rooms=rooms), [(x - 10, y - 5, x + 10, y + 1)]


def sheet(plan: Plan, letter: str = "A") -> Image.Image:
    """A plan on its sheet, as pixels at 150 to an inch."""
    drawing = Drawing(
        title="Plan", says="", width_mm=420, height_mm=297, marks=tuple(marks_of(plan))
    )
    block = TitleBlock(
        owner="H00 Made up",
        title="Plan",
        creator="Nobody",
        site="Nowhere",
        day="1 May",
        scale="1:50",
        number="02",
        of=8,
        revision=letter,
    )
    return as_picture(hung(block, [(drawing, (0.0, 0.0))]))


@dataclass(frozen=True)
class Scan:
    """How a sheet comes back from paper."""

    turn_deg: float = 0.0
    scale: float = 1.0
    shift_mm: tuple[float, float] = (0.0, 0.0)
    noise: float = 0.0
    quality: int = 90
    grey: float = 1.0
    blur_px: float = 0.0
    wobble_px: float = 0.0


def a_scan(draw: Random) -> Scan:
    """A scan by chance: turned by up to 0.5°, moved by some millimetres, half a percent larger."""
    return Scan(
        turn_deg=draw.uniform(-0.5, 0.5),
        scale=1 + draw.uniform(-0.005, 0.005),
        shift_mm=(draw.uniform(-4, 4), draw.uniform(-4, 4)),
        noise=draw.uniform(0, 6),
        quality=draw.choice((60, 70, 80, 90)),
        grey=draw.uniform(0.8, 1.0),
        blur_px=draw.uniform(0.0, 0.9),
        wobble_px=draw.uniform(0.0, 1.0),
    )


def scanned(image: Image.Image, scan: Scan, seed: int = 0) -> tuple[bytes, NDArray[np.float64]]:
    """A picture scanned, as JPEG, and the matrix from its places [px] to the scan's."""
    w, h = image.size
    a = np.radians(scan.turn_deg)
    px = w / 420
    turned = scan.scale * np.array([[np.cos(a), -np.sin(a)], [np.sin(a), np.cos(a)]])
    middle = np.array([w / 2, h / 2])
    shift = middle - turned @ middle + px * np.array(scan.shift_mm)
    there = np.column_stack([turned, shift])
    back = np.linalg.inv(np.vstack([there, [0, 0, 1]]))[:2]
    out = image.transform(
        (w, h),
        Image.Transform.AFFINE,
        tuple(back.ravel()),
        Image.Resampling.BICUBIC,
        fillcolor="#FBFAF3",
    )
    if scan.blur_px:
        out = out.filter(ImageFilter.GaussianBlur(scan.blur_px))
    pixels = np.asarray(out, np.float32)
    if scan.wobble_px:  # the paper isn't drawn in evenly
        rows = np.arange(h) + scan.wobble_px * np.sin(np.arange(h) / h * 9)
        low = np.clip(np.floor(rows).astype(int), 0, h - 2)
        part = np.clip(rows - low, 0, 1)[:, None, None].astype(np.float32)
        pixels = pixels[low] * (1 - part) + pixels[low + 1] * part
    chance = np.random.default_rng(seed)
    light = scan.grey * (1 - 0.06 * np.linspace(0, 1, w))[None, :, None] if scan.grey < 1 else 1.0
    pixels = pixels * light + chance.normal(0, scan.noise, pixels.shape[:2])[..., None]
    kept = io.BytesIO()
    Image.fromarray(np.clip(pixels, 0, 255).astype(np.uint8)).save(
        kept, "JPEG", quality=scan.quality
    )
    return kept.getvalue(), there


@dataclass(frozen=True)
class MadePair:
    """Two scans of a sheet as JPEG, what was changed between them, and where, as shares."""

    kind: str
    former: bytes
    present: bytes
    where: list[Box]


def made_pair(seed: int, kind: str, crop: tuple[int, int, int, int] | None = None) -> MadePair:
    """A pair by chance. `kind` is one of KINDS, or "unchanged" for a scan of the same sheet.

    crop   what of the sheet is kept [px]
    """
    draw = Random(seed)
    plan = made_up(draw)
    then, where = (plan, []) if kind == UNCHANGED else change(plan, kind, draw)
    pictures = [sheet(plan), sheet(then)]
    left, top, right, bottom = crop or (0, 0, *pictures[0].size)
    former, present = (each.crop((left, top, right, bottom)) for each in pictures)
    kept = io.BytesIO()
    former.save(kept, "JPEG", quality=90)
    scan, there = scanned(present, a_scan(draw), seed)
    px = pictures[0].width / 420
    shares = []
    for x0, y0, x1, y1 in where:
        corners = np.array([(x * px - left, y * px - top, 1) for x in (x0, x1) for y in (y0, y1)])
        at = corners @ there.T / np.array(present.size)
        shares.append((*map(float, at.min(0)), *map(float, at.max(0))))
    return MadePair(kind, kept.getvalue(), scan, shares)


def told_apart(clouds: list[dict], where: list[Box]) -> tuple[bool, int]:
    """Whether a cloud lies on what was changed, and how many lie elsewhere."""
    on = [any(_meet(each["box"], box) for box in where) for each in clouds]
    return any(on), on.count(False)


def _meet(one: Box, other: Box, by: float = 0.012) -> bool:
    return all(one[n] - by < other[n + 2] and other[n] - by < one[n + 2] for n in (0, 1))

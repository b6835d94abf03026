"""Shapes of a building model as triangles, and what is measured of them [SI]."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon

Figures = NDArray[np.float64]

HEADROOM_M = 1.5
"""Floor under less is “of which low” in the room schedule."""
LEVEL_WITHIN_M = 0.005
"""Floor faces this near to the lowest lie on the same level. Ours."""
FLAT = 0.999
"""Of a face's normal, how much of it is upright where the face is level [1]: within 2.6°. Ours."""
WELDED_M = 1e-4
"""Corners nearer than this are one. Ours."""
OVERLAPS = 0.999
"""Faces that cover less than so much of their sum lie over one another [1]. Ours."""
LARGER = 1.01
"""The back of a pane is taken for its glass where it is so much larger than its front [1]. Ours."""
SPECK_M2 = 1e-4
"""Less is left by rounding. Ours."""
FURTHEST_M = 1e7
"""No building's corner is further from its origin: a model may be placed by its country's grid."""


@dataclass(frozen=True)
class Body:
    """A closed body, or several.

    corners   n × 3 [m], in the model's axes
    faces     m × 3, places in corners; anticlockwise seen from outside
    is_clear  of each face, whether its material lets light through
    is_glass  of each face, whether its material is named as glass
    axes      3 × 3, a column for each of its own axes
    """

    corners: Figures
    faces: NDArray[np.int64]
    is_clear: NDArray[np.bool_]
    is_glass: NDArray[np.bool_]
    axes: Figures

    def __post_init__(self) -> None:
        """Raise ValueError for what can't be measured."""
        if not len(self.faces) or not np.isfinite(self.corners).all():
            raise ValueError("no shape")
        if np.abs(self.corners).max() > FURTHEST_M:
            raise ValueError("out of the world")

    @cached_property
    def triangles(self) -> Figures:
        """Corners of each face, m × 3 × 3 [m]."""
        return self.corners[self.faces]

    @cached_property
    def _crossed(self) -> Figures:
        a, b, c = (self.triangles[:, k] for k in range(3))
        return _crossed(b - a, c - a) / 2

    @cached_property
    def areas(self) -> Figures:
        """Area of each face [m²]."""
        return np.asarray(np.linalg.norm(self._crossed, axis=1))

    @cached_property
    def normals(self) -> Figures:
        """Outward direction of each face, m × 3 [1]; 0 of one without area."""
        areas = np.where(self.areas > 0, self.areas, 1)
        return np.asarray(self._crossed / areas[:, None])

    @cached_property
    def volume_m3(self) -> float:
        """Volume by the divergence theorem [m³]."""
        return abs(float(np.linalg.det(self.triangles - self.corners[0]).sum())) / 6

    @cached_property
    def foot_m(self) -> float:
        """Height of the lowest corner [m]."""
        return float(self.corners[:, 2].min())

    @cached_property
    def top_m(self) -> float:
        """Height of the highest corner [m]."""
        return float(self.corners[:, 2].max())

    def along(self, direction: Sequence[float] | Figures) -> tuple[float, float]:
        """Where it begins and ends along a direction [m]."""
        reached = self.corners @ np.asarray(direction)
        return float(reached.min()), float(reached.max())

    @cached_property
    def middle(self) -> Figures:
        """Middle of the box about it [m]."""
        return np.asarray((self.corners.min(axis=0) + self.corners.max(axis=0)) / 2)

    def facing(self, faces: NDArray[np.bool_] | None = None) -> Figures:
        """The direction that most of its faces look along, of either sense [1]."""
        chosen = np.ones(len(self.faces), bool) if faces is None else faces
        normals, areas = self.normals[chosen], self.areas[chosen]
        spread = np.einsum("i,ij,ik->jk", areas, normals, normals)
        return np.asarray(np.linalg.eigh(spread)[1][:, 2])


def _crossed(a: Figures, b: Figures) -> Figures:
    """Cross products of rows, which numpy's own takes five times as long for."""
    x, y, z = (a[:, k - 2] * b[:, k - 1] - a[:, k - 1] * b[:, k - 2] for k in range(3))
    return np.stack((x, y, z), axis=1)


@dataclass(frozen=True)
class Floor:
    """The floor of a room, and what is over it.

    level_m     height of the floor [m]
    area_m2     down-facing faces at the lowest level [m²]
    low_m2      of which under HEADROOM_M [m²]
    height_m    floor to ceiling, the mean by area [m]
    least_m     floor to the lowest of the ceiling [m]
    higher_m2   floor on other levels, which isn't in area_m2 [m²]
    outline     corners on the plan, anticlockwise, without the first again [m]
    """

    level_m: float
    area_m2: float
    low_m2: float
    height_m: float
    least_m: float
    higher_m2: float
    outline: tuple[tuple[float, float], ...]

    @cached_property
    def polygon(self) -> Polygon:
        """The outline as a polygon."""
        outline = Polygon(self.outline)
        shapely.prepare(outline)
        return outline


def floor_of(body: Body) -> Floor | None:
    """Measure the floor of a room's body; None where it has no level floor.

    A face of a room that looks down is floor: the room's air lies over it.
    """
    upright = body.normals[:, 2]
    down = upright < -FLAT
    if not down.any():
        return None
    heights = body.triangles[:, :, 2].mean(axis=1)
    level = float(heights[down].min())
    lowest = down & (heights < level + LEVEL_WITHIN_M)
    area = float(body.areas[lowest].sum())
    plan_of = np.round(body.triangles[lowest][:, :, :2], 6)
    joined = _joined(plan_of)
    if joined.area < OVERLAPS * area:  # parts of the body lie in one another
        area = float(joined.area)
    largest = _largest(joined)
    if area < SPECK_M2 or largest is None:
        return None
    over = upright > 1e-6
    plan = body.areas * upright
    ceiling = float(plan[over].sum())
    height = float((plan[over] * (heights[over] - level)).sum()) / ceiling if ceiling else 0.0
    low = sum(
        _below(corners - np.array([0, 0, level]), HEADROOM_M) for corners in body.triangles[over]
    )
    tops = body.triangles[over][:, :, 2]
    return Floor(
        level_m=level,
        area_m2=area,
        low_m2=min(low, area) if low > SPECK_M2 else 0.0,
        height_m=height,
        least_m=float(tops.min()) - level if len(tops) else 0.0,
        higher_m2=float(-plan[down & ~lowest].sum()),
        outline=_ring(largest),
    )


def _joined(faces: Figures) -> shapely.Geometry:
    """Faces as one shape, n × 3 × 2 [m]; those that rounding parts by a hair hang together."""
    joined = shapely.union_all(shapely.polygons(faces), grid_size=WELDED_M)
    if isinstance(joined, MultiPolygon):
        wider = joined.buffer(WELDED_M, join_style="mitre")
        joined = wider.buffer(-WELDED_M, join_style="mitre")
    return joined


def _below(triangle: Figures, height_m: float) -> float:
    """The area on the plan of that part of a triangle that lies below a height [m²]."""
    kept: list[tuple[float, float]] = []
    for here, there in zip(triangle, np.roll(triangle, -1, axis=0), strict=True):
        if here[2] < height_m:
            kept.append((float(here[0]), float(here[1])))
        if (here[2] < height_m) != (there[2] < height_m):
            cut = here + (there - here) * (height_m - here[2]) / (there[2] - here[2])
            kept.append((float(cut[0]), float(cut[1])))
    return float(Polygon(kept).area) if len(kept) > 2 else 0.0


def _largest(shape: shapely.Geometry) -> Polygon | None:
    parts = shape.geoms if isinstance(shape, MultiPolygon) else [shape]
    polygons = [part for part in parts if isinstance(part, Polygon) and part.area > SPECK_M2]
    return max(polygons, key=lambda part: float(part.area), default=None)


def _ring(polygon: Polygon) -> tuple[tuple[float, float], ...]:
    """Corners of a polygon, those in a straight line left out, from the lowest left on."""
    tidy = shapely.normalize(polygon.simplify(0.002))
    corners = [(round(x, 4), round(y, 4)) for x, y in tidy.exterior.coords[:-1]]
    if tidy.exterior.is_ccw is False:
        corners.reverse()
    first = corners.index(min(corners))
    return tuple(corners[first:] + corners[:first])


@dataclass(frozen=True)
class Panes:
    """The clear glass of a window.

    width_m, height_m  of one pane that is as large; of several side by side the sum of widths [m]
    n                  how many panes
    is_exact           whether each pane is a rectangle and all together are rows and columns
    is_named           whether it is known by the name of its material alone
    low, high          corners of the box about them along across and up of the window [m]
    out_m              where its plane lies along the way out [m]
    """

    width_m: float
    height_m: float
    n: int
    is_exact: bool
    is_named: bool
    low: tuple[float, float]
    high: tuple[float, float]
    out_m: float

    @property
    def area_m2(self) -> float:
        """Area of clear glass [m²]."""
        return self.width_m * self.height_m


def panes_of(body: Body, across: Figures, up: Figures, out: Figures) -> Panes | None:
    """Measure the clear glass of a window, or None where none of its faces is of glass.

    across, up, out   directions along the window's plane and away from it [1]
    """
    is_named = not body.is_clear.any()
    chosen = body.is_glass if is_named else body.is_clear
    looks = body.normals @ out
    fronts, backs = chosen & (looks > 0.98), chosen & (looks < -0.98)
    if body.areas[backs].sum() > LARGER * body.areas[fronts].sum():
        fronts = backs
    if not fronts.any():
        return None
    flat = np.stack((body.triangles[fronts] @ across, body.triangles[fronts] @ up), axis=-1)
    joined = _joined(flat)
    parts = joined.geoms if isinstance(joined, MultiPolygon) else [joined]
    panes = [part for part in parts if isinstance(part, Polygon) and part.area > SPECK_M2]
    if not panes:
        return None
    area = sum(float(pane.area) for pane in panes)
    boxes = [pane.bounds for pane in panes]
    height = _covered([(low, high) for _, low, _, high in boxes])
    width = _covered([(left, right) for left, _, right, _ in boxes])
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return Panes(
        width_m=area / height,
        height_m=height,
        n=len(panes),
        is_exact=math.isclose(area, width * height, rel_tol=0.002),
        is_named=is_named,
        low=(min(lefts), min(lows)),
        high=(max(rights), max(highs)),
        out_m=float((body.triangles[fronts] @ out).mean()),
    )


def _covered(spans: Sequence[tuple[float, float]]) -> float:
    """How much of a line is covered by spans that may overlap."""
    covered, reached = 0.0, -math.inf
    for begins, ends in sorted(spans):
        covered += max(0.0, ends - max(begins, reached))
        reached = max(reached, ends)
    return covered

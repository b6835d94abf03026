"""The room's surfaces cut into cells, and the configuration factors between them.

Floor, ceiling and walls are lattices cut along the edges of openings, so that no cell straddles
one; cells inside an opening are dropped. The four sides of each reveal, and the glass where it
reflects, belong to their opening and are seen only through its inner edge.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from criteria.daylight.direct import Aperture, apertures
from criteria.daylight.moments import Axis, Floats, corner_first, over_rectangles
from criteria.daylight.room import Room
from criteria.daylight.sky import GLASS_REFLECTANCE_INSIDE

CELL_M = 0.5
"""Longest side of a cell of the room's surfaces [m]."""
REVEAL_ALONG_M = 0.25
"""Longest side of a reveal cell along the wall [m]."""
REVEAL_DEEP_M = 0.10
"""Longest side of a reveal cell through the wall [m]."""
GAUSS = 3
"""Points along each side of a cell at which its first light is taken."""
MOST_CELLS = 1400
"""Cells above which they are made larger, so that a hall is as quick as a hut."""
ON_PLANE_M = 1e-9
"""Closer to a plane than this is on it [m]."""


@dataclass(frozen=True, kw_only=True)
class Lattice:
    """One plane surface in rectangular cells.

    axis, at_m, facing      room axis of the normal, coordinate of the plane, +1 or −1
    u_axis, v_axis          the two room axes in the plane
    u_m, v_m                nodes along them [m]
    kept                    (nu × nv) which cells are there
    reflectance             (nu × nv) of each cell [1]
    opening                 index of the aperture that it belongs to, −1 for the room's own
    """

    axis: int
    at_m: float
    facing: int
    u_axis: int
    v_axis: int
    u_m: Floats
    v_m: Floats
    kept: NDArray[np.bool_]
    reflectance: float
    opening: int = -1


@dataclass(frozen=True, kw_only=True)
class Cells:
    """Cells of many lattices in one row: the order of every vector and matrix of radiosity.

    centres, half_u, half_v     (n, 3) room coordinates and half-sides [m]
    area                        (n,) [m²]
    axis, facing, opening       (n,) as in Lattice
    """

    centres: Floats
    half_u: Floats
    half_v: Floats
    area: Floats
    axis: NDArray[np.int_]
    facing: NDArray[np.int_]
    opening: NDArray[np.int_]
    reflectance: Floats

    def __len__(self) -> int:
        return len(self.area)

    @property
    def normals(self) -> Floats:
        """(n, 3) unit normals into the room."""
        return np.eye(3)[self.axis] * self.facing[:, None]

    def gauss_points(self) -> tuple[Floats, Floats]:
        """Return points (k, n, 3) spread over each cell [m], and their weights (k,) of sum 1.

        Gauss and Legendre's: at the middles of quarters the mean light on a ceiling cell beside a
        window comes out some per cent high.
        """
        nodes, weights = np.polynomial.legendre.leggauss(GAUSS)
        u, v = (pair.ravel()[:, None, None] for pair in np.meshgrid(nodes, nodes))
        return self.centres + u * self.half_u + v * self.half_v, np.outer(
            weights, weights
        ).ravel() / 4


def _cuts(low: float, high: float, edges: Sequence[float], cell_m: float) -> Floats:
    """Return nodes from low to high through every edge between them, at most cell_m apart."""
    inner = sorted(edge for edge in edges if low + ON_PLANE_M < edge < high - ON_PLANE_M)
    stops = [low]
    for edge in (*inner, high):
        if edge - stops[-1] > ON_PLANE_M:
            stops.append(edge)
    nodes = [np.array([low])]
    for start, end in pairwise(stops):
        count = max(1, math.ceil((end - start) / cell_m - 1e-9))
        nodes.append(np.linspace(start, end, count + 1)[1:])
    return np.concatenate(nodes)


def room_lattices(room: Room, openings: Sequence[Aperture]) -> list[Lattice]:
    """Return floor, ceiling and four walls, cells inside openings left out."""
    cell_m = max(CELL_M, math.sqrt(room.surface_m2 / MOST_CELLS))
    sides = (room.length_m, room.width_m, room.height_m)
    lattices = []
    for axis in (2, 1, 0):
        u_axis, v_axis = [other for other in (0, 1, 2) if other != axis]
        for at, facing in ((0.0, 1), (sides[axis], -1)):
            mine = [
                opening for opening in openings if opening.axis == axis and opening.inward == facing
            ]
            reflectance = room.wall_reflectance
            if axis == 2:
                reflectance = room.floor_reflectance if facing > 0 else room.ceiling_reflectance
            u = _cuts(0.0, sides[u_axis], [e for o in mine for e in o.a_m], cell_m)
            v = _cuts(0.0, sides[v_axis], [e for o in mine for e in o.b_m], cell_m)
            kept = np.ones((len(u) - 1, len(v) - 1), dtype=bool)
            middle_u, middle_v = (u[1:] + u[:-1]) / 2, (v[1:] + v[:-1]) / 2
            for opening in mine:
                in_u = (middle_u > opening.a_m[0]) & (middle_u < opening.a_m[1])
                in_v = (middle_v > opening.b_m[0]) & (middle_v < opening.b_m[1])
                kept &= ~(in_u[:, None] & in_v[None, :])
            lattices.append(
                Lattice(
                    axis=axis,
                    at_m=at,
                    facing=facing,
                    u_axis=u_axis,
                    v_axis=v_axis,
                    u_m=u,
                    v_m=v,
                    kept=kept,
                    reflectance=reflectance,
                )
            )
    return lattices


def opening_lattices(room: Room, opening: Aperture, index: int, *, glass: bool) -> list[Lattice]:
    """Return the four sides of a reveal, where the wall has depth, and the glass if it reflects."""
    outer = opening.face_m - opening.inward * opening.depth_m
    low, high = sorted((outer, opening.face_m))
    surfaces: list[tuple[int, float, int, int, Floats, int, Floats, float]] = []
    if opening.depth_m > ON_PLANE_M:
        deep, lining = _cuts(low, high, (), REVEAL_DEEP_M), room.wall_reflectance
        for own, other, edges, span in (
            (opening.a_axis, opening.b_axis, opening.a_m, opening.b_m),
            (opening.b_axis, opening.a_axis, opening.b_m, opening.a_m),
        ):
            along = _cuts(*span, (), REVEAL_ALONG_M)
            for edge, facing in zip(edges, (1, -1), strict=True):
                surfaces.append((own, edge, facing, other, along, opening.axis, deep, lining))
    if glass:
        a, b = _cuts(*opening.a_m, (), CELL_M), _cuts(*opening.b_m, (), CELL_M)
        pane = (opening.axis, outer, opening.inward, opening.a_axis, a, opening.b_axis, b)
        surfaces.append((*pane, GLASS_REFLECTANCE_INSIDE))
    return [
        Lattice(
            axis=axis,
            at_m=at,
            facing=facing,
            u_axis=u_axis,
            v_axis=v_axis,
            u_m=u,
            v_m=v,
            kept=np.ones((len(u) - 1, len(v) - 1), dtype=bool),
            reflectance=reflectance,
            opening=index,
        )
        for axis, at, facing, u_axis, u, v_axis, v, reflectance in surfaces
    ]


def cells_of(lattices: Sequence[Lattice]) -> Cells:
    """Lay the kept cells of lattices out in one row."""
    parts = [vars(_cells(lattice)) for lattice in lattices]
    return Cells(**{name: np.concatenate([part[name] for part in parts]) for name in parts[0]})


def _cells(lattice: Lattice) -> Cells:
    count, unit = int(lattice.kept.sum()), np.eye(3)
    middle_u, middle_v = np.meshgrid(
        (lattice.u_m[1:] + lattice.u_m[:-1]) / 2,
        (lattice.v_m[1:] + lattice.v_m[:-1]) / 2,
        indexing="ij",
    )
    size_u, size_v = np.meshgrid(np.diff(lattice.u_m), np.diff(lattice.v_m), indexing="ij")
    where = np.full((count, 3), float(lattice.at_m))
    where[:, lattice.u_axis] = middle_u[lattice.kept]
    where[:, lattice.v_axis] = middle_v[lattice.kept]
    return Cells(
        centres=where,
        half_u=size_u[lattice.kept][:, None] / 2 * unit[lattice.u_axis],
        half_v=size_v[lattice.kept][:, None] / 2 * unit[lattice.v_axis],
        area=(size_u * size_v)[lattice.kept],
        axis=np.full(count, lattice.axis),
        facing=np.full(count, lattice.facing),
        opening=np.full(count, lattice.opening),
        reflectance=np.full(count, lattice.reflectance),
    )


def lattice_factors(points: Floats, axis: int, sign: int, lattice: Lattice) -> Floats:
    """Configuration factors from points to every kept cell of a lattice, exactly [1].

    The corner functions are taken once at each node, not four times for each cell.

    points      (n, 3) all facing `sign` along room axis `axis`
    returns     (n, kept cells)
    """
    count = int(lattice.kept.sum())
    D = lattice.facing * (points[:, lattice.axis] - lattice.at_m)
    if axis == lattice.axis and sign == lattice.facing:
        return np.zeros((len(points), count))
    ahead = D > ON_PLANE_M
    D = np.where(ahead, D, 1.0)[:, None, None]
    u = lattice.u_m[None, :] - points[:, lattice.u_axis, None]
    v = lattice.v_m[None, :] - points[:, lattice.v_axis, None]
    facing: Axis = "n"
    flip = 1
    if axis == lattice.u_axis:
        facing, flip = "a", sign
        u = np.maximum(u, 0) if sign > 0 else np.minimum(u, 0)
    elif axis == lattice.v_axis:
        facing, flip = "b", sign
        v = np.maximum(v, 0) if sign > 0 else np.minimum(v, 0)
    corners = corner_first(facing, D, u[:, :, None], v[:, None, :])
    factors = over_rectangles(corners)[:, lattice.kept] * (flip / math.pi)
    return np.where(ahead[:, None], factors, 0.0)


def centre_factors(points: Floats, normals: Floats, cells: Cells) -> Floats:
    """Configuration factors from points to small cells, centre to centre [1].

        F = cos θ_i cos θ_j A_j / (π r² + A_j)

    Exact for a disc on the axis, and close wherever a cell is no larger than its distance:
    reveal cells from the room. Common practice in radiosity.
    """
    ray = cells.centres[None, :, :] - points[:, None, :]
    r2 = np.einsum("ijk,ijk->ij", ray, ray)
    r2 = np.maximum(r2, ON_PLANE_M)
    leaving = np.maximum(np.einsum("ijk,ik->ij", ray, normals), 0.0)
    arriving = np.maximum(-np.einsum("ijk,jk->ij", ray, cells.normals), 0.0)
    factors: Floats = leaving * arriving / r2 * cells.area / (math.pi * r2 + cells.area)
    return factors


def seen_through(opening: Aperture, points: Floats, beyond: Floats) -> NDArray[np.bool_]:
    """Tell which points of the room see which points in a reveal through its inner edge.

    points (n, 3) in the room, beyond (m, 3) between the faces; returns (n, m).
    """
    inside = opening.inward * (points[:, opening.axis] - opening.face_m)[:, None]
    depth = opening.inward * (opening.face_m - beyond[:, opening.axis])[None, :]
    far = inside + depth
    # of two points on the inner face the far one is taken: nothing lies between
    share = np.where(far > ON_PLANE_M, inside / np.where(far > ON_PLANE_M, far, 1), 1.0)
    through = np.ones(share.shape, dtype=bool)
    for axis, (low, high) in ((opening.a_axis, opening.a_m), (opening.b_axis, opening.b_m)):
        start = points[:, axis, None]
        crossing = start + share * (beyond[None, :, axis] - start)
        through &= (crossing > low - ON_PLANE_M) & (crossing < high + ON_PLANE_M)
    return through


@dataclass(frozen=True, kw_only=True)
class Mesh:
    """A room cut up: its apertures, its own lattices and those of its openings, and all cells."""

    openings: tuple[Aperture, ...]
    lattices: tuple[Lattice, ...]
    room_cells: Cells
    opening_cells: Cells | None
    cells: Cells


def mesh_of(room: Room, *, glass: bool) -> Mesh:
    """Cut a room into cells; `glass` says whether the glass reflects."""
    openings = apertures(room)
    own = room_lattices(room, openings)
    theirs = [
        lattice
        for index, opening in enumerate(openings)
        for lattice in opening_lattices(room, opening, index, glass=glass)
    ]
    return Mesh(
        openings=openings,
        lattices=tuple(own),
        room_cells=cells_of(own),
        opening_cells=cells_of(theirs) if theirs else None,
        cells=cells_of([*own, *theirs]),
    )

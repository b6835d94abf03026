"""Light that has been reflected inside the room: radiosity.

    B_i = ρ_i (E0_i + Σ_j F_ij B_j)         E_p = Σ_j F_pj B_j

    E0  light on a cell straight through the openings, over horizontal illuminance   [1]
    F   configuration factor from the centre of cell i, or a point p, to cell j      [1]
    B   exitance of a cell over horizontal illuminance                               [1]

The equations are solved at once, for every opening by itself, so that what each window brings
is known with its reflections. Source: radiosity of diffuse enclosures (textbook).
"""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from criteria.daylight.direct import Aperture, light_through
from criteria.daylight.mesh import (
    Cells,
    Mesh,
    centre_factors,
    lattice_factors,
    mesh_of,
    seen_through,
)
from criteria.daylight.moments import Floats
from criteria.daylight.room import Room
from criteria.daylight.sky import diffuse_transmittance_ratio

AT_A_TIME = 1000
"""Points gathered at once: a hall's factors need not all be held in memory."""


def factors_to(mesh: Mesh, points: Floats, axis: int, sign: int) -> Floats:
    """Configuration factors from points in the room to every cell of the mesh (n, cells) [1]."""
    blocks = [lattice_factors(points, axis, sign, lattice) for lattice in mesh.lattices]
    if mesh.opening_cells is not None:
        normals = np.zeros((len(points), 3))
        normals[:, axis] = sign
        blocks.append(_through_openings(mesh, mesh.opening_cells, points, normals))
    return np.concatenate(blocks, axis=1)


def _through_openings(mesh: Mesh, cells: Cells, points: Floats, normals: Floats) -> Floats:
    factors = centre_factors(points, normals, cells)
    for index, opening in enumerate(mesh.openings):
        mine = cells.opening == index
        factors[:, mine] *= seen_through(opening, points, cells.centres[mine])
    return factors


def _groups(cells: Cells) -> Iterator[tuple[int, int, NDArray[np.int_]]]:
    """Yield (axis, sign, index array) of cells that face the same way."""
    for axis in (0, 1, 2):
        for sign in (1, -1):
            (which,) = np.nonzero((cells.axis == axis) & (cells.facing == sign))
            if len(which):
                yield axis, sign, which


def factor_matrix(mesh: Mesh) -> Floats:
    """Configuration factors between all cells (cells, cells) [1]."""
    room, theirs = mesh.room_cells, mesh.opening_cells
    count = len(mesh.cells)
    own = len(room)
    factors = np.zeros((count, count))
    for axis, sign, which in _groups(room):
        factors[which] = factors_to(mesh, room.centres[which], axis, sign)
    if theirs is None:
        return factors
    to_room = np.zeros((len(theirs), own))
    for axis, sign, which in _groups(theirs):
        to_room[which] = np.concatenate(
            [
                lattice_factors(theirs.centres[which], axis, sign, lattice)
                for lattice in mesh.lattices
            ],
            axis=1,
        )
    for index, opening in enumerate(mesh.openings):
        (mine,) = np.nonzero(theirs.opening == index)
        to_room[mine] *= seen_through(opening, room.centres, theirs.centres[mine]).T
    factors[own:, :own] = to_room
    among = centre_factors(theirs.centres, theirs.normals, theirs)
    among *= theirs.opening[:, None] == theirs.opening[None, :]
    factors[own:, own:] = among
    return factors


def first_light(room: Room, mesh: Mesh) -> Floats:
    """Light on each cell straight through each opening, glass left out (cells, openings) [1].

    The mean over each cell. What a reveal or a pane receives from another opening is
    weighed with the share of that opening that shows through the reveal's own inner edge.
    """
    light = np.zeros((len(mesh.cells), len(mesh.openings)))
    points, weights = mesh.cells.gauss_points()
    for axis, sign, which in _groups(mesh.cells):
        owner = mesh.cells.opening[which]
        for index, opening in enumerate(mesh.openings):
            for some, in_reveal in ((which[owner != index], False), (which[owner == index], True)):
                if not len(some):
                    continue
                flat = points[:, some].reshape(-1, 3)
                lit = light_through(room, opening, flat, axis, sign, in_reveal=in_reveal)
                light[some, index] = weights @ lit.reshape(len(weights), -1)
    for index, opening in enumerate(mesh.openings):
        (mine,) = np.nonzero(mesh.cells.opening == index)
        for other, target in enumerate(mesh.openings):
            if other != index and len(mine):
                shown = seen_through(opening, _spread_over(target), mesh.cells.centres[mine])
                light[mine, other] *= shown.mean(axis=0)
    return light


def _spread_over(opening: Aperture, parts: int = 4) -> Floats:
    """Return the middles of parts × parts tiles of an opening's inner edge (parts², 3) [m]."""
    middles = (np.arange(parts) + 0.5) / parts
    points = np.full((parts * parts, 3), opening.face_m)
    for axis, (low, high), share in (
        (opening.a_axis, opening.a_m, np.repeat(middles, parts)),
        (opening.b_axis, opening.b_m, np.tile(middles, parts)),
    ):
        points[:, axis] = low + (high - low) * share
    return points


def exitances(room: Room, mesh: Mesh, transmittances: Floats) -> Floats:
    """Exitance of each cell due to each opening, all reflections in it (cells, openings) [1]."""
    reflectance = mesh.cells.reflectance[:, None]
    matrix = np.eye(len(mesh.cells)) - reflectance * factor_matrix(mesh)
    direct = reflectance * first_light(room, mesh) * transmittances
    return np.asarray(np.linalg.solve(matrix, direct), dtype=np.float64)


@lru_cache(maxsize=8)
def solved(room: Room, angular: bool) -> tuple[Mesh, Floats]:
    """Return a room's mesh and exitances, kept for the next plane asked of the same room."""
    mesh = mesh_of(room, glass=angular)
    transmittances = np.array(
        [
            opening.transmittance
            * (diffuse_transmittance_ratio(opening.normal_transmittance) if angular else 1.0)
            for opening in mesh.openings
        ]
    )
    leaving = exitances(room, mesh, transmittances)
    leaving.setflags(write=False)
    return mesh, leaving


def reflected_light(room: Room, points: Floats, *, angular: bool = False) -> Floats:
    """Reflected light on an upward plane at points of the room, by opening (openings, n) [1].

    angular     take the glass at its transmittance for light from all sides, and let it reflect
    """
    if not room.openings:
        return np.zeros((0, len(points)))
    mesh, leaving = solved(room, angular)
    arriving = [
        factors_to(mesh, points[start : start + AT_A_TIME], 2, 1) @ leaving
        for start in range(0, len(points), AT_A_TIME)
    ]
    return np.concatenate(arriving).T

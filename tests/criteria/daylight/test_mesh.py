"""Cells and configuration factors: a closed room sees nothing but itself."""

import numpy as np
import pytest

from criteria.daylight import Rooflight, Room, Window
from criteria.daylight.direct import apertures
from criteria.daylight.mesh import mesh_of, seen_through
from criteria.daylight.reflected import exitances, factor_matrix, factors_to, first_light
from tests.criteria.daylight.open_cases import CASES, room_of
from tests.criteria.daylight.overcast import vertical_sky_component


def box(**changes):
    return Room(**({"length_m": 4.0, "width_m": 3.0, "height_m": 2.5} | changes))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_cells_cover_the_surfaces_less_the_openings(case):
    room = room_of(case)
    mesh = mesh_of(room, glass=False)
    openings = sum(opening.opening_m2 for opening in room.openings)
    assert mesh.room_cells.area.sum() == pytest.approx(room.surface_m2 - openings)
    assert mesh.cells.area.min() > 0


def test_a_room_without_openings_is_closed():
    factors = factor_matrix(mesh_of(box(), glass=False))
    assert np.allclose(factors.sum(axis=1), 1.0, atol=1e-12)
    assert factors.min() >= -1e-12


def test_factors_obey_reciprocity():
    # A_i F_ij = A_j F_ji holds for whole cells; from centres it holds to some per cent
    mesh = mesh_of(box(), glass=False)
    exchange = mesh.cells.area[:, None] * factor_matrix(mesh)
    assert np.abs(exchange - exchange.T).max() < 0.15 * exchange.max()
    assert exchange.sum() == pytest.approx(exchange.T.sum())


def test_light_is_neither_made_nor_lost():
    room = box(
        floor_reflectance=0.6,
        wall_reflectance=0.6,
        ceiling_reflectance=0.6,
        windows=[Window(wall="south", offset_m=1, sill_m=1, width_m=1, height_m=1)],
    )
    mesh = mesh_of(room, glass=False)
    B = exitances(room, mesh, np.array([1.0]))[:, 0]
    area, rho = mesh.cells.area, mesh.cells.reflectance
    absorbed = (area * (1 - rho) * B / rho).sum()
    put_in = (area * first_light(room, mesh)[:, 0]).sum()
    # what falls on the cells is what falls on the glass from outside: 1 m² × (sky + ½ ρ ground)
    assert put_in == pytest.approx(vertical_sky_component(0) + 0.5 * 0.2, rel=1e-3)
    # and it ends absorbed, or out of the window again; factors taken from centres cost 0.4 %
    to_window = 1 - factor_matrix(mesh).sum(axis=1)
    lost = (area * B * to_window).sum()
    assert absorbed + lost == pytest.approx(put_in, rel=6e-3)


@pytest.mark.parametrize(
    "opening",
    [
        {"windows": [Window(wall="west", offset_m=0.8, sill_m=0.7, width_m=1.4, height_m=1.4)]},
        {"rooflights": [Rooflight(x_m=1.2, y_m=0.9, size_x_m=1.4, size_y_m=1.1)]},
    ],
)
def test_what_a_thick_wall_shows_is_its_reveal_and_its_glass(opening):
    # with reflecting glass in place the room is closed again, reveals and panes in it
    room = box(wall_thickness_m=0.3, roof_thickness_m=0.3, **opening)
    mesh = mesh_of(room, glass=True)
    own = len(mesh.room_cells)
    sums = factor_matrix(mesh)[:own].sum(axis=1)
    weighed = (sums * mesh.room_cells.area).sum() / mesh.room_cells.area.sum()
    assert weighed == pytest.approx(1.0, abs=0.003)
    assert sums.min() > 0.95
    assert sums.max() < 1.03
    points = np.array([[x, 1.6, 0.85] for x in (0.6, 2.0, 3.4)])
    plane = factors_to(mesh, points, 2, 1).sum(axis=1)
    assert np.allclose(plane, 1.0, atol=0.02)


def test_a_reveal_is_seen_only_past_its_inner_edge():
    room = box(
        wall_thickness_m=0.4,
        windows=[Window(wall="south", offset_m=1.0, sill_m=1.0, width_m=1.0, height_m=1.0)],
    )
    (opening,) = apertures(room)
    jamb = np.array([[1.0, -0.35, 1.5]])
    before, beside, along = [1.5, 1.0, 1.5], [0.2, 0.4, 1.5], [1.0, 1.0, 1.5]
    assert seen_through(opening, np.array([before, along]), jamb).all()
    assert not seen_through(opening, np.array([beside]), jamb).any()
    # two points on the inner face: nothing lies between them
    assert seen_through(opening, np.array([[1.5, 0.0, 1.5]]), np.array([[1.5, 0.0, 1.5]])).all()


def test_reveals_are_lit_through_other_windows_too():
    corner = box(
        wall_thickness_m=0.15,
        windows=[
            Window(wall="south", offset_m=0.1, sill_m=0.8, width_m=1.6, height_m=1.4),
            Window(wall="west", offset_m=0.1, sill_m=0.8, width_m=1.4, height_m=1.4),
        ],
    )
    mesh = mesh_of(corner, glass=False)
    light = first_light(corner, mesh)
    first = mesh.cells.opening == 0
    assert light[first, 1].max() > 0.05
    # the jamb nearer to the corner faces away from the west window
    near = first & (mesh.cells.axis == 0) & (mesh.cells.facing == 1)
    assert light[near, 1].max() == 0

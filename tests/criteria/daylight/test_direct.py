"""The direct component against printed check values, quadrature and ray-counting."""

import math

import numpy as np
import pytest
from scipy.integrate import dblquad

from criteria.daylight import Obstruction, Rooflight, Room, Window
from criteria.daylight.direct import apertures, light_through
from criteria.daylight.sky import ZENITH
from tests.criteria.daylight.overcast import sky_luminance, vertical_sky_component

UP = (2, 1)


def small_room(**changes):
    return Room(**({"length_m": 3.6, "width_m": 3.0, "height_m": 2.4} | changes))


def sky_component_pct(room, *point):
    return 100 * float(light_through(room, apertures(room)[0], np.array([point]), *UP)[0])


# Check values handed to the project with the method (daylight factor hand-out, section 2):
# black room, transmittance 1, sky only. Printed to four places.


@pytest.mark.parametrize(
    ("point", "printed_pct"),
    [
        ((0.6, 0.5, 0.85), 7.1970),
        ((1.8, 0.5, 0.85), 25.1512),
        ((1.8, 1.5, 0.85), 5.1986),
        ((3.1, 2.5, 0.85), 0.9878),
        ((1.8, 2.8, 0.01), 2.1314),
    ],
)
def test_a_window_in_a_thin_wall_has_its_printed_values(point, printed_pct):
    room = small_room(
        windows=[Window(wall="south", offset_m=0.9, sill_m=0.9, width_m=1.8, height_m=1.2)]
    )
    assert sky_component_pct(room, *point) == pytest.approx(printed_pct, abs=6e-5)


@pytest.mark.parametrize(
    ("point", "printed_pct"), [((0.6, 0.5, 0.85), 6.7474), ((1.8, 0.5, 0.85), 0.5506)]
)
def test_a_window_in_a_thick_obstructed_wall_has_its_printed_values(point, printed_pct):
    room = small_room(
        wall_thickness_m=0.3,
        obstructions=[Obstruction(wall="west", angle_deg=25)],
        obstruction_luminance_factor=0.0,
        windows=[Window(wall="west", offset_m=0.4, sill_m=0.6, width_m=1.2, height_m=1.5)],
    )
    assert sky_component_pct(room, *point) == pytest.approx(printed_pct, abs=6e-5)


@pytest.mark.parametrize(
    ("point", "printed_pct"),
    [((0.6, 0.5, 0.85), 2.1175), ((1.8, 0.5, 0.85), 6.3819), ((1.8, 1.5, 0.85), 10.0304)],
)
def test_a_rooflight_over_a_shaft_has_its_printed_values(point, printed_pct):
    room = small_room(
        roof_thickness_m=0.25,
        rooflights=[Rooflight(x_m=1.5, y_m=0.9, size_x_m=1.2, size_y_m=0.8)],
    )
    assert sky_component_pct(room, *point) == pytest.approx(printed_pct, abs=6e-5)


WINDOW = Window(wall="south", offset_m=0.7, sill_m=0.6, width_m=1.7, height_m=1.3)


@pytest.mark.parametrize("wall_thickness_m", [0.0, 0.4])
@pytest.mark.parametrize("point", [(0.5, 0.4, 0.85), (2.0, 1.1, 0.0), (3.2, 2.6, 1.7)])
def test_a_window_in_a_black_room_is_its_integral(point, wall_thickness_m):
    room = small_room(wall_thickness_m=wall_thickness_m, windows=[WINDOW])
    x, y, z = point
    distance = y + wall_thickness_m

    def brightness(b, a):
        R = math.sqrt(distance**2 + (a - x) ** 2 + (b - z) ** 2)
        sine = (b - z) / R
        # through the inner edge of the wall, or not at all
        at_face = y / distance
        inside = (
            WINDOW.offset_m <= x + (a - x) * at_face <= WINDOW.offset_m + WINDOW.width_m
            and WINDOW.sill_m <= z + (b - z) * at_face <= WINDOW.head_m
        )
        if not inside or sine <= 0:
            return 0.0
        return sky_luminance(math.asin(sine)) * sine * distance / R**3

    # a grid of 1500 × 1500 middles: the integrand jumps at the reveal's shadow
    n = 1500
    a = WINDOW.offset_m + (np.arange(n) + 0.5) / n * WINDOW.width_m
    b = WINDOW.sill_m + (np.arange(n) + 0.5) / n * WINDOW.height_m
    A, B = np.meshgrid(a - x, b - z)
    R = np.sqrt(distance**2 + A**2 + B**2)
    share = y / distance
    through = (
        (x + A * share >= WINDOW.offset_m)
        & (x + A * share <= WINDOW.offset_m + WINDOW.width_m)
        & (z + B * share >= WINDOW.sill_m)
        & (z + B * share <= WINDOW.head_m)
        & (B > 0)
    )
    light = np.where(through, ZENITH / 3 * (1 + 2 * B / R) * (B / R) * distance / R**3, 0.0)
    tile = WINDOW.width_m * WINDOW.height_m / n**2
    assert sky_component_pct(room, *point) == pytest.approx(100 * light.sum() * tile, rel=2e-3)
    if wall_thickness_m == 0:
        edges = (WINDOW.offset_m, WINDOW.offset_m + WINDOW.width_m)
        exact, _ = dblquad(brightness, *edges, max(WINDOW.sill_m, z), WINDOW.head_m, epsrel=1e-8)
        assert sky_component_pct(room, *point) == pytest.approx(100 * exact, rel=1e-6)


def directions(count=1500):
    """Return unit vectors over the upper half of the sky and their solid angles."""
    sine = (np.arange(count) + 0.5) / count
    bearing = (np.arange(count) + 0.5) / count * 2 * np.pi
    S, P = np.meshgrid(sine, bearing)
    C = np.sqrt(1 - S**2)
    return np.stack([C * np.cos(P), C * np.sin(P), S], axis=-1), 2 * np.pi / count**2


OUTSIDE = [
    Obstruction(wall="south", angle_deg=20),
    Obstruction(wall="west", angle_deg=50),
    Obstruction(wall="east", top_m=6.0, distance_m=4.0),
]


def traced(room, point, opening):
    """Follow straight rays from a point: what each meets outside, weighed and summed."""
    rays, each = directions()
    dx, dy, dz = rays[..., 0], rays[..., 1], rays[..., 2]
    through = opening(point, rays)
    hidden = np.zeros(dx.shape, dtype=bool)
    for item in room.obstructions:
        outward = {"south": -dy, "north": dy, "west": -dx, "east": dx}[item.wall]
        if item.angle_deg is not None:
            slope = math.tan(math.radians(item.angle_deg))
        else:
            away = {"east": room.length_m - point[0]}[item.wall] + item.distance_m
            slope = (item.top_m - point[2]) / (away + room.wall_thickness_m)
        hidden |= (outward > 0) & (dz < slope * outward)
    luminance = np.where(
        hidden, room.obstruction_luminance_factor / np.pi, ZENITH / 3 * (1 + 2 * dz)
    )
    return float((luminance * dz * through).sum() * each)


def test_a_skyline_outside_another_wall_is_seen_aslant():
    room = small_room(
        wall_thickness_m=0.1,
        obstructions=OUTSIDE,
        windows=[Window(wall="south", offset_m=0.1, sill_m=0.5, width_m=3.2, height_m=1.8)],
    )
    window = room.windows[0]

    def opening(point, rays):
        x, y, z = point
        seen = rays[..., 1] < 0
        run = np.where(seen, -rays[..., 1], 1.0)
        for reach in (y, y + room.wall_thickness_m):
            across, up = x + rays[..., 0] / run * reach, z + rays[..., 2] / run * reach
            seen = seen & (across > window.offset_m) & (across < window.offset_m + window.width_m)
            seen = seen & (up > window.sill_m) & (up < window.head_m)
        return seen

    for point in ((0.5, 1.0, 0.85), (1.8, 0.8, 0.85), (3.1, 1.6, 0.85)):
        ours = sky_component_pct(room, *point)
        assert ours == pytest.approx(100 * traced(room, point, opening), rel=0.01)


def test_skylines_cut_a_rooflight_from_every_side():
    room = small_room(
        obstructions=OUTSIDE,
        rooflights=[Rooflight(x_m=0.4, y_m=0.3, size_x_m=2.8, size_y_m=2.4)],
    )
    rooflight = room.rooflights[0]

    def opening(point, rays):
        run = np.where(rays[..., 2] > 0, rays[..., 2], 1.0)
        rise = room.height_m - point[2]
        x, y = point[0] + rays[..., 0] / run * rise, point[1] + rays[..., 1] / run * rise
        return (
            (x > rooflight.x_m)
            & (x < rooflight.x_m + rooflight.size_x_m)
            & (y > rooflight.y_m)
            & (y < rooflight.y_m + rooflight.size_y_m)
        )

    for point in ((0.6, 0.5, 2.0), (1.8, 1.5, 0.85), (3.2, 2.6, 2.2)):
        ours = sky_component_pct(room, *point)
        assert ours == pytest.approx(100 * traced(room, point, opening), rel=0.005)


def test_a_wall_of_glass_lights_a_facing_plane_with_sky_and_half_the_ground():
    # a plane 1 mm from a wide window, facing it: 39.62 % of sky and 50 ρ % of ground
    room = Room(
        length_m=30.0,
        width_m=3.0,
        height_m=12.0,
        ground_reflectance=0.2,
        windows=[Window(wall="south", offset_m=0, sill_m=0, width_m=30, height_m=12)],
    )
    light = light_through(room, apertures(room)[0], np.array([[15.0, 1e-3, 6.0]]), 1, -1)
    assert light[0] == pytest.approx(vertical_sky_component(0) + 0.5 * 0.2, rel=2e-3)


def test_an_obstruction_at_a_distance_is_lower_from_higher_up():
    far = small_room(
        obstructions=[Obstruction(wall="south", top_m=4.0, distance_m=6.0)], windows=[WINDOW]
    )
    even = small_room(obstructions=[Obstruction(wall="south", angle_deg=20)], windows=[WINDOW])
    # the skyline stands at atan((4 − z)/(6 + y)): 20° where (4 − z) = (6 + y) tan 20°
    y = 1.0
    z = 4.0 - (6.0 + y) * math.tan(math.radians(20))
    assert sky_component_pct(far, 1.5, y, z) == pytest.approx(sky_component_pct(even, 1.5, y, z))


def test_a_surface_that_faces_away_gets_nothing():
    room = small_room(windows=[WINDOW])
    assert light_through(room, apertures(room)[0], np.array([[1.5, 1.0, 1.0]]), 1, 1) == 0


def test_the_ceiling_is_lit_by_the_ground_alone():
    def ceiling_light(ground):
        room = small_room(ground_reflectance=ground, windows=[WINDOW])
        return light_through(room, apertures(room)[0], np.array([[1.5, 1.0, 2.4]]), 2, -1)[0]

    assert ceiling_light(0.0) == 0
    assert ceiling_light(0.4) == pytest.approx(2 * ceiling_light(0.2))
    assert ceiling_light(0.2) > 0

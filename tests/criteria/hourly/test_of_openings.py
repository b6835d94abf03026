"""Windows from rows: glass, what shades it, what opens."""

import math

import numpy as np
import pytest

from criteria.hourly import of_openings
from criteria.hourly.assumed import Taking
from criteria.hourly.building import Opening
from criteria.hourly.sun import normal
from tests.criteria.hourly.hut import hut


def window(**cells):
    package = hut(windows=cells)
    return of_openings.window(package, package.windows[0], Taking())


def test_a_window_as_its_row_says():
    found = window(shutter_r="0.3", sky_angle="60", sun_share="0.5")
    assert (found.name, found.tilt_deg, found.bearing_deg) == ("window W1", 90, 180)
    assert found.area_m2 == pytest.approx(2 * 1.2)
    assert found.glass_m2 == pytest.approx(2 * 0.8)
    assert found.glass.between_m2k_w == pytest.approx(1 / 0.9 - 0.17)
    assert (found.glass.panes, found.glass.solar_factor) == (3, 0.5)
    assert (found.shutter_m2k_w, found.sky_deg, found.sun_share) == (0.3, 60, 0.5)
    assert (found.pane, found.shades) == (None, ())
    assert (found.blind_share, found.blind_is_inside) == (1.0, False)


@pytest.mark.parametrize(
    ("u", "panes", "factor"),
    [("5.7", 1, 0.85), ("3.7", 1, 0.85), ("2.8", 2, 0.75), ("1.2", 2, 0.6), ("0.8", 3, 0.5)],
)
def test_glass_that_says_no_solar_factor_is_taken_by_its_u(u, panes, factor):
    taking, package = Taking(), hut(windows={"u": u, "solar_factor": ""})
    found = of_openings.window(package, package.windows[0], taking)
    assert (found.glass.panes, found.glass.solar_factor) == (panes, factor)
    assert taking.found[0].cells[0].value == f"{factor:g}"


def test_glass_resists_something_whatever_its_u():
    assert window(u="7").glass.between_m2k_w == 0.004


@pytest.mark.parametrize(("blind", "share"), [("none", 1.0), ("outside", 0.4), ("inside", 0.7)])
def test_blinds(blind, share):
    found = window(blind=blind)
    assert (found.blind_share, found.blind_is_inside) == (share, blind == "inside")


def corners(rectangle):
    corner, one, two = map(np.array, (rectangle.corner_m, rectangle.edge_m, rectangle.edge2_m))
    return np.array([corner, corner + one, corner + two, corner + one + two])


def spans(rectangle):
    """Least and most along east, north and up, in millimetres."""
    found = corners(rectangle)
    return [
        (round(1000 * low), round(1000 * high))
        for low, high in zip(found.min(axis=0), found.max(axis=0), strict=True)
    ]


def test_a_window_to_the_south_with_eaves():
    found = window(overhang="600", overhang_up="300", sun_share="0.4")
    assert found.sun_share == 1.0
    assert spans(found.pane) == [(-500, 500), (0, 0), (-400, 400)]
    (eaves,) = found.shades
    # south of the pane, 300 mm over the glass, 600 mm past it at either side
    assert spans(eaves) == [(-1100, 1100), (-600, 0), (700, 700)]


def test_a_window_to_the_east_with_fins_and_a_reveal():
    found = window(faces="E", fins="500", fins_off="100", reveal="150")
    head, *sides = map(spans, found.shades)
    assert head == [(0, 150), (-600, 600), (500, 500)]
    assert sorted(sides) == [
        [(0, 150), (-600, -600), (-400, 500)],
        [(0, 150), (600, 600), (-400, 500)],
        [(0, 500), (-600, -600), (-400, 400)],
        [(0, 500), (600, 600), (-400, 400)],
    ]


def test_a_pane_lies_square_to_the_way_it_looks():
    found = window(faces="SW", tilt="40", reveal="100")
    looks = normal(40, 225)
    one, two = np.array(found.pane.edge_m), np.array(found.pane.edge2_m)
    assert np.allclose([one @ looks, two @ looks], 0, atol=1e-12)
    assert two[2] == pytest.approx(0.8 * math.sin(math.radians(40)))
    deep = np.array(found.shades[0].edge2_m)
    assert np.allclose(deep, 0.1 * looks)


def test_what_opens_to_the_air():
    package = hut()
    found = of_openings.opening(package, package.windows[0], Taking())
    assert found == Opening(area_m2=0.8, height_m=0.8, middle_m=1.1, bearing_deg=180.0)


@pytest.mark.parametrize("cells", [{"open_share": "0"}, {"opens": "fixed", "open_share": ""}])
def test_what_doesnt_open(cells):
    package = hut(windows=cells)
    assert of_openings.opening(package, package.windows[0], Taking()) is None


def test_a_sill_that_nothing_says_is_taken():
    taking, package = Taking(), hut(windows={"sill": ""})
    found = of_openings.opening(package, package.windows[0], taking)
    assert found.middle_m == pytest.approx(1.3)
    assert taking.found[0].cells[0].value == "900 mm"

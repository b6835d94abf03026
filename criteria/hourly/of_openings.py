"""Windows of a package as the year knows them: glass, what shades it, what opens to the air."""

import math

from criteria.hourly.assumed import Taking
from criteria.hourly.building import Glass, Opening, Point, Rectangle, Window
from criteria.hourly.facing import plane_deg
from criteria.hourly.of_envelope import FILMS_M2K_W, LEAST_M2K_W
from criteria.measures.light import clear_glass
from criteria.package import Package
from criteria.schedules.openings import Window as WindowRow

PANES = ((3.7, 1, 0.85), (1.8, 2, 0.75), (1.1, 2, 0.6), (0.0, 3, 0.5))
"""From which U of a window up [W/m²K] it has how many panes, and what of the sun they let in [1].

Single, clear double, coated double, coated triple: handbook values, from memory."""
BLIND_SHARE = {"none": 1.0, "outside": 0.4, "inside": 0.7}
"""Part of the sun that a drawn blind lets past [1]. Handbook values, from memory."""
SILL_M = 0.9
"""Height of a sill that nothing says [m]. Common practice."""

Vector = Point
Across = tuple[Vector, Vector, Vector]
"""Along a window, up it, and out of it: east, north, up, each of length 1."""


def window(package: Package, row: WindowRow, taking: Taking) -> Window:
    """Return a row of windows alike. Raises Lacking with what the row lacks."""
    tilt, bearing = plane_deg(package, row, taking)
    glass = _glass(row, taking)
    shades = _shades(row, tilt, bearing)
    return Window(
        name=f"window {row.mark}",
        area_m2=row.n * row.frame_w_m * row.frame_h_m,
        glass_m2=clear_glass(row.n, row.glass_w_m, row.glass_h_m),
        glass=glass,
        tilt_deg=tilt,
        bearing_deg=bearing,
        pane=_pane(row, tilt, bearing) if shades else None,
        shades=shades,
        sky_deg=row.sky_deg,
        sun_share=1.0 if shades else row.sun_share,
        shutter_m2k_w=row.shutter_m2k_w,
        blind_share=BLIND_SHARE[row.blind],
        blind_is_inside=row.blind == "inside",
    )


def _glass(row: WindowRow, taking: Taking) -> Glass:
    u = row.u_w_m2k
    panes, lets_in = next((n, g) for least, n, g in PANES if u >= least)
    words = "{} is taken to let in {} of the sun's heat, as glass of its U does"
    source = "handbook values, from memory"
    factor = taking.of(row, "solar_factor", lets_in, words, source)
    return Glass(
        panes=panes,
        between_m2k_w=max(1 / u - FILMS_M2K_W, LEAST_M2K_W),
        solar_factor=factor,
    )


def opening(package: Package, row: WindowRow, taking: Taking) -> Opening | None:
    """Return what a row of windows opens to the air; None where it doesn't. Raises Lacking."""
    if row.is_fixed or not row.open_share:
        return None
    _, bearing = plane_deg(package, row, taking)
    words = "{}: its glass is taken to begin {} above the floor"
    sill = taking.of(row, "sill_m", SILL_M, words, "common practice")
    return Opening(
        area_m2=clear_glass(row.n, row.glass_w_m, row.glass_h_m) * row.open_share,
        height_m=row.glass_h_m,
        middle_m=sill + row.glass_h_m / 2,
        bearing_deg=bearing,
    )


# What throws shade: thin rectangles about a pane whose middle is where its frame begins


def _axes(tilt_deg: float, bearing_deg: float) -> Across:
    tilt, bearing = math.radians(tilt_deg), math.radians(bearing_deg)
    east, north = math.sin(bearing), math.cos(bearing)
    along = (north, -east, 0.0)
    up = (-math.cos(tilt) * east, -math.cos(tilt) * north, math.sin(tilt))
    out = (math.sin(tilt) * east, math.sin(tilt) * north, math.cos(tilt))
    return along, up, out


def _at(axes: Across, along: float, up: float, out: float) -> Point:
    one, two, three = axes
    x, y, z = (along * a + up * b + out * c for a, b, c in zip(one, two, three, strict=True))
    return x, y, z


def _rectangle(axes: Across, corner: Point, edge: Point, edge2: Point) -> Rectangle:
    return Rectangle(
        corner_m=_at(axes, *corner), edge_m=_at(axes, *edge), edge2_m=_at(axes, *edge2)
    )


def _pane(row: WindowRow, tilt_deg: float, bearing_deg: float) -> Rectangle:
    wide, high = row.glass_w_m, row.glass_h_m
    axes = _axes(tilt_deg, bearing_deg)
    return _rectangle(axes, (-wide / 2, -high / 2, 0), (wide, 0, 0), (0, high, 0))


def _shades(row: WindowRow, tilt_deg: float, bearing_deg: float) -> tuple[Rectangle, ...]:
    """Return eaves, fins and reveal.

    Eaves run past the glass on either side as far as they stand out. Fins reach from the foot of
    the glass to the eaves. A reveal stands about the frame, above it and beside it.
    """
    axes = _axes(tilt_deg, bearing_deg)
    half, top = row.glass_w_m / 2, row.glass_h_m / 2
    found = []
    if row.overhang_m > 0:
        up, past = top + row.overhang_up_m, half + row.overhang_m
        found.append(_rectangle(axes, (-past, up, 0), (2 * past, 0, 0), (0, 0, row.overhang_m)))
    sides = []
    if row.fins_m > 0:
        sides.append((half + row.fins_off_m, top + row.overhang_up_m, row.fins_m))
    if row.reveal_m > 0:
        frame, head = row.frame_w_m / 2, row.frame_h_m / 2
        found.append(_rectangle(axes, (-frame, head, 0), (2 * frame, 0, 0), (0, 0, row.reveal_m)))
        sides.append((frame, head, row.reveal_m))
    for beside, up, deep in sides:
        for side in (-beside, beside):
            found.append(_rectangle(axes, (side, -top, 0), (0, top + up, 0), (0, 0, deep)))
    return tuple(found)

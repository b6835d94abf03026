"""Which way walls, roof and glass look: as rows give it, else as the plan lies, else taken."""

from collections.abc import Iterable
from dataclasses import dataclass

from criteria.checks.envelope import gross_area, layers_of
from criteria.hourly.assumed import Taking
from criteria.package import Package
from criteria.plans.of_package import outline, turned_deg
from criteria.plans.plan import face_letters
from criteria.schedules.envelope import FACES, FACES_ADD_UP, Layer
from criteria.schedules.openings import BEARINGS_DEG, Window
from criteria.schedules.rooms import Room
from criteria.schedules.structure import ROOF_FACES
from criteria.typed.cells import Lacking, lacking

TURNED_DEG = 45.0
"""Walls turned so far look between the compass points."""
LEVEL_DEG = 1.0
"""A roof less steep than this looks up, whichever way it drains [°]. Ours."""


@dataclass(frozen=True, kw_only=True)
class Opening:
    """What is cut out of a wall or roof: its plane [°] and its area by frame or leaf [m²]."""

    tilt_deg: float
    bearing_deg: float
    area_m2: float
    is_in_roof: bool = False


@dataclass(frozen=True, kw_only=True)
class Face:
    """A plane part of wall or roof: the way it looks [°] and its area without openings [m²]."""

    name: str
    tilt_deg: float
    bearing_deg: float
    net_m2: float


def walls(package: Package, openings: Iterable[Opening], taking: Taking) -> tuple[Face, ...]:
    """Return the walls that look four ways, without their openings.

    As the wall's outermost row gives them; else spread over the sides of the plan where its rooms
    say where they lie, else equally. Spread so, no wall has less than its openings.

    Raises Lacking where they don't add up to the gross wall, or openings leave nothing of one.
    """
    outermost, gross = layers_of(package, "wall")[0], gross_area(package, "wall")
    cut = [each for each in openings if not each.is_in_roof]
    if (whole := gross - sum(each.area_m2 for each in cut)) <= 0:
        raise lacking("wall, a gross area larger than its openings (envelope layers)")
    turned = walls_turned_deg(package)
    bearings = [(turned + 90 * quarter) % 360 for quarter in range(4)]
    taken_out = [0.0] * 4
    for each in cut:
        taken_out[_nearest(each.bearing_deg, bearings)] += each.area_m2
    given = [outermost.unless_blank(face) for face in FACES]
    if any(area is not None for area in given):
        net = _given([area or 0.0 for area in given], gross, taken_out)
    else:
        net = _spread(package, outermost, gross, whole, taken_out, turned, taking)
    return tuple(
        Face(name=f"wall {letters(bearing)}", tilt_deg=90.0, bearing_deg=bearing, net_m2=area)
        for bearing, area in zip(bearings, net, strict=True)
        if area > 0
    )


def letters(bearing_deg: float) -> str:
    """Return the compass letters of a bearing, or its degrees where it has none."""
    return f"{bearing_deg:.0f}°" if bearing_deg % 45 else face_letters(bearing_deg)


def _nearest(bearing_deg: float, bearings: list[float]) -> int:
    def apart(index: int) -> float:
        return abs((bearing_deg - bearings[index] + 180) % 360 - 180)

    return min(range(4), key=apart)


def _given(by_face: list[float], gross: float, taken_out: list[float]) -> list[float]:
    if abs(sum(by_face) - gross) > FACES_ADD_UP * gross:
        raise lacking("walls by the way they face that add up to the gross wall (envelope layers)")
    net = [area - out for area, out in zip(by_face, taken_out, strict=True)]
    if min(net) < 0:
        raise lacking("walls that are larger than their windows and doors (envelope layers)")
    return net


def _spread(
    package: Package,
    outermost: Layer,
    gross: float,
    whole: float,
    taken_out: list[float],
    turned: float,
    taking: Taking,
) -> list[float]:
    sides = sides_m(package)
    across, up = sides or (1.0, 1.0)
    shares = [each / (2 * (across + up)) for each in (across, up, across, up)]
    free = [max(0.0, share * gross - out) for share, out in zip(shares, taken_out, strict=True)]
    net = [whole * each / sum(free) for each in free]
    by_face = [area + out for area, out in zip(net, taken_out, strict=True)]
    how = "by the sides of its plan" if sides else "no plan says how long each side is"
    words = "{}, clockwise from {}: {}, {}, {} and {}; " + how
    values = dict(zip(FACES, by_face, strict=True))
    taking.take(outermost, values, words, "common practice", letters(turned % 360))
    return net


def sides_m(package: Package) -> tuple[float, float] | None:
    """Return how wide and deep the plan of the ground floor is [m]; None where rooms don't say.

    The rectangle about all rooms that say where they lie, or the one room there is. Raises Lacking
    where a cell of them can't be read.
    """
    low = [room for room in package.rooms if room.level == 0]
    placed = [room for room in low if room.unless_blank("at_x_m") is not None]
    try:
        boxes = [_box(package, room, low) for room in placed or low]
    except Lacking as bare:
        if any(cell.refusal for cell in bare.cells):
            raise
        return None
    if not boxes or (len(boxes) > 1 and not placed):
        return None
    west, south, east, north = zip(*boxes, strict=True)
    return max(east) - min(west), max(north) - min(south)


def _box(package: Package, room: Room, beside: list[Room]) -> tuple[float, float, float, float]:
    drawn = outline(package, room, *beside)
    x, y = (room.at_x_m, room.at_y_m) if len(beside) > 1 else (0.0, 0.0)
    return x, y, x + drawn.across_m, y + drawn.up_m


def roof(package: Package, openings: Iterable[Opening], taking: Taking) -> tuple[Face, ...]:
    """Return the slopes of the roof, without their roof lights; of two, each has half of it.

    Raises Lacking where roof lights leave nothing of it.
    """
    tilt = slope_deg(package, taking)
    net = gross_area(package, "roof") - sum(each.area_m2 for each in openings if each.is_in_roof)
    if net <= 0:
        raise lacking("roof, a gross area larger than its roof lights (envelope layers)")
    bearings = roof_bearings_deg(package, taking)
    return tuple(
        Face(name="roof", tilt_deg=tilt, bearing_deg=bearing, net_m2=net / len(bearings))
        for bearing in bearings
    )


def slope_deg(package: Package, taking: Taking) -> float:
    """Return the slope of the roof [°], taken as level where nothing says it."""
    words = "The roof is taken as level"
    slope: float = taking.of(package.supports, "roof_deg", 0.0, words, "common practice")
    return slope


def roof_bearings_deg(package: Package, taking: Taking) -> tuple[float, ...]:
    """Return the ways that the roof's slopes look [°]; a level one looks nowhere, said as 0."""
    if slope_deg(package, taking) < LEVEL_DEG:
        return (0.0,)
    words = "{}: half of the roof is taken to slope to each long side, {}"
    said = taking.of(package.supports, "roof_faces", _long_sides(package), words, "common practice")
    return tuple(float(BEARINGS_DEG[letters]) for letters in said.split(" and "))


def _long_sides(package: Package) -> str:
    """Return the two ways that the long sides of the plan look, as the roof's column says them."""
    across, up = sides_m(package) or (1.0, 1.0)
    turned = walls_turned_deg(package)
    straight, slanted = ROOF_FACES[-4:-2], ROOF_FACES[-2:]
    return (slanted if turned == TURNED_DEG else straight)[across < up]


def walls_turned_deg(package: Package) -> float:
    """Return how far walls are turned clockwise of north, east, south and west [°]."""
    turned = layers_of(package, "wall")[0].unless_blank("turned_deg")
    return float(turned_deg(package.windows) if turned is None else turned)


def plane_deg(package: Package, window: Window, taking: Taking) -> tuple[float, float]:
    """Return tilt and bearing of a window's glass [°]; one in the roof lies in its slope.

    Raises Lacking where nothing says which way it looks.
    """
    tilt, bearing = window.unless_blank("tilt_deg"), window.unless_blank("bearing_deg")
    if tilt is None:
        tilt = slope_deg(package, taking) if window.is_rooflight else 90.0
    if bearing is None:
        looks_up = window.is_rooflight and window.unless_blank("faces") in (None, "up")
        up = roof_bearings_deg(package, taking)[0] if looks_up else None
        bearing = BEARINGS_DEG[window.faces] if up is None else up
    return float(tilt), float(bearing) % 360

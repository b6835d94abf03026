"""A building on its ground, for a hung sheet, of the same rows as the drawings that pages have.

Which way the ground falls no row says: it is drawn falling away from the main door, as the ramp
rises to it.
"""

from __future__ import annotations

from collections.abc import Iterator

from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.hatching import hatched
from criteria.drawing.marks import Box, Lettering, Mark, Path, around, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.plan_in_states import is_placed
from criteria.drawing.plan_parts import Sheet, north, scale_bar
from criteria.drawing.scales import DrawnScale, largest
from criteria.package import Package
from criteria.schedules.rooms import Room
from criteria.typed.cells import Lacking
from criteria.walking.of_package import storeys_of
from criteria.walking.pictured import Pictured, pictured

AROUND_M, STEP_M = 4.0, 0.1
"""How far about a building its ground is drawn, and from contour to contour [m]."""
BEARINGS = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0}
WALL_M = 0.3
FOOT_MM, HEAD_MM = 14.0, 8.0
TILT_DEG = 23.44
"""Tilt of the earth's axis: the sun at noon stands by so much higher and lower than in March."""


def storeys(package: Package) -> list[Pictured]:
    """The storeys of a package whose rooms say where they lie, the lowest first."""
    try:
        found = storeys_of(package)
        placed = [room for room in package.rows_of(Room) if is_placed(room)]
        each = dict.fromkeys(found.of(room.mark) for room in placed)
        return [pictured(package, it) for it in sorted(each, key=lambda storey: storey.level)]
    except Lacking:
        return []


def box_m(shown: Pictured) -> Box:
    """The outside of a storey on plan: least x and y, most x and y [m]."""
    thick = shown.wall_m or WALL_M
    corners = [corner for place in shown.storey.places for corner in (place.low, place.high)]
    low_x, low_y, x, y = around(corners)
    return low_x - thick, low_y - thick, x + thick, y + thick


def site_map(package: Package, field: Field) -> Drawing:
    """Draw the building on its ground: contours, ramp, doors, drift, wind, sun and north."""
    shown = storeys(package)[0]
    box = box_m(shown)
    around_m = _around_m(package, shown, box)
    size = around_m[2] - around_m[0], around_m[3] - around_m[1]
    tall = (field.tallest_mm or field.width_mm) - HEAD_MM - FOOT_MM
    scale = largest(size, (field.width_mm, tall), field.system, ratio=100)
    # the ground goes on as far as the paper is wide
    more = (field.width_mm / scale.mm(1.0) - size[0]) / 2
    around_m = (around_m[0] - more, around_m[1], around_m[2] + more, around_m[3])
    sheet = Sheet(scale, around_m[0], around_m[3], 0.0, HEAD_MM)
    foot = HEAD_MM + scale.mm(size[1])
    marks = [
        *_ground(package, shown, sheet, around_m, scale),
        *_building(shown, sheet, box),
        *_weather(package, shown, sheet, box),
        *_foot(package, shown, field, scale, foot + 6.0),
    ]
    return Drawing(
        title="Site",
        says="The building on its ground, with ramp, doors, drift and wind",
        width_mm=field.width_mm,
        height_mm=foot + FOOT_MM,
        marks=tuple(marks),
        scale=scale.name,
    )


def _around_m(package: Package, shown: Pictured, box: Box) -> Box:
    """The ground that is drawn about a building: more where its ramp leads [m]."""
    main, length = _main_out(shown), package.leniently.ramp.drawn_m or 0.0
    out = main[1] if main else (0.0, 0.0)
    left, low, right, high = (
        AROUND_M + max(0.0, length + 2.0 - AROUND_M) * way
        for way in (float(out[0] < 0), float(out[1] < 0), float(out[0] > 0), float(out[1] > 0))
    )
    return box[0] - left, box[1] - low, box[2] + right, box[3] + high


def _main_out(shown: Pictured) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Where the main door stands, and the way out of it."""
    outside = [hung.gate for hung in shown.doors if hung.gate.is_outside]
    gate = next((gate for gate in outside if gate.is_main), outside[0] if outside else None)
    return (gate.middle, gate.out) if gate else None


def _ground(
    package: Package, shown: Pictured, sheet: Sheet, box: Box, scale: DrawnScale
) -> Iterator[Mark]:
    """Contours across the fall, and the ramp up to the main door."""
    main, slope = _main_out(shown), package.leniently.site.slope
    _, out = main or ((0.0, 0.0), (0.0, 1.0))
    if slope:
        over = STEP_M
        while scale.mm(over / slope) < 8.0:
            over *= 2
        middle = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
        far = (box[2] - box[0]) / 2 if out[0] else (box[3] - box[1]) / 2
        count = int(far / (over / slope))
        for n in range(-count, count + 1):
            by = n * over / slope
            if out[0]:
                x = middle[0] + by * out[0]
                ends = (x, box[1]), (x, box[3])
            else:
                y = middle[1] + by * out[1]
                ends = (box[0], y), (box[2], y)
            line = sheet.all(*ends)
            yield Path(points=line, pen=Pen.HATCH, tone=Tone.GRAPHITE)
            words = f"{-n * over:+.1f}" if n else "0.0"
            at = (line[0][0] + 0.8, line[0][1] + (3.6 if out[0] else -0.8))
            yield Lettering(words=words, at=at, tone=Tone.GRAPHITE)
    ramp = package.leniently.ramp
    if main and ramp.drawn_m:
        half, (x, y) = (ramp.clear_w_m or 1.0) / 2, main[0]
        across = (out[1] * half, -out[0] * half)
        start = shown.wall_m or WALL_M
        near = x + out[0] * start, y + out[1] * start
        end = near[0] + out[0] * ramp.drawn_m, near[1] + out[1] * ramp.drawn_m
        corners = sheet.all(
            (near[0] - across[0], near[1] - across[1]),
            (near[0] + across[0], near[1] + across[1]),
            (end[0] + across[0], end[1] + across[1]),
            (end[0] - across[0], end[1] - across[1]),
        )
        yield Path(points=corners, pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)
        yield Path(points=sheet.all(end, near), pen=Pen.FINE)
        tip, wing = sheet.at(near), 1.2
        down = -out[1], out[0]
        yield Path(
            points=(
                (tip[0] + out[0] * 3 + down[1] * wing, tip[1] - out[1] * 3 + down[0] * wing),
                tip,
                (tip[0] + out[0] * 3 - down[1] * wing, tip[1] - out[1] * 3 - down[0] * wing),
            ),
            pen=Pen.FINE,
        )
        foot = sheet.at(end)
        words = f"ramp 1:{ramp.slope_run:g}, up" if ramp.slope_run else "ramp, up"
        yield Lettering(words=words, at=(foot[0] + 4.0, foot[1] + 1.2))


def _building(shown: Pictured, sheet: Sheet, box: Box) -> Iterator[Mark]:
    """The building as it is seen from above, with the rooms under its roof and its doors."""
    thick = shown.wall_m or WALL_M
    for place in shown.storey.places:
        (x, y), (to_x, to_y) = place.low, place.high
        corners = sheet.all(*rectangle((x - thick, y - thick, to_x + thick, to_y + thick)))
        yield Path(points=corners, pen=Pen.CUT, is_closed=True)
    for place in shown.storey.places:
        (x, y), (to_x, to_y) = place.low, place.high
        grown = (x - thick, y - thick, to_x + thick, to_y + thick)
        yield Path(points=sheet.all(*rectangle(grown)), pen=None, fill=Fill.TRACE, is_closed=True)
        yield Path(points=sheet.all(*rectangle((x, y, to_x, to_y))), pen=Pen.HATCH, is_closed=True)
    for hung in shown.doors:
        if hung.gate.is_outside:
            x, y = sheet.at(hung.gate.middle)
            out = hung.gate.out
            at = x + 4.0 * out[0], y - 4.0 * out[1]
            side = out[1] * 1.5, out[0] * 1.5
            tip = x + 1.6 * out[0], y - 1.6 * out[1]
            corners = ((at[0] - side[0], at[1] - side[1]), (at[0] + side[0], at[1] + side[1]), tip)
            yield Path(points=corners, pen=Pen.FINE, fill=Fill.INK, is_closed=True)
            yield Lettering(words=hung.gate.mark, at=(at[0] - 3.0, at[1] + 1.0), anchor="end")


def _weather(package: Package, shown: Pictured, sheet: Sheet, box: Box) -> Iterator[Mark]:
    """The drift on its side, and the gust against the other."""
    site = package.leniently.site
    if site.drift_side not in BEARINGS or not site.drift_m:
        return
    turned = (BEARINGS[site.drift_side] - shown.storey.turned_deg) % 360
    deep = 2.0 * site.drift_m
    sides = {
        0: (box[0], box[3], box[2], box[3] + deep),
        90: (box[2], box[1], box[2] + deep, box[3]),
        180: (box[0], box[1] - deep, box[2], box[1]),
        270: (box[0] - deep, box[1], box[0], box[3]),
    }
    quarter = round(turned / 90) * 90 % 360
    corners = sheet.all(*rectangle(sides[quarter]))
    yield Path(points=corners, pen=Pen.DATUM, tone=Tone.GRAPHITE, is_closed=True)
    yield hatched(corners, 4.0, Tone.GRAPHITE)
    left, top, right, foot = around(corners)
    words = f"drift {site.drift_m:.2f} m deep"
    if quarter in (90, 270):
        y = (top + foot) / 2
        yield Lettering(words=words, at=((left + right) / 2 + 1.2, y + 12), is_turned=True)
    else:
        yield Lettering(words=words, at=((left + right) / 2, foot - 1.5), anchor="middle")
    yield from _gust(package, around(sheet.all((box[0], box[1]), (box[2], box[3]))), quarter)


def _gust(package: Package, box: Box, quarter: int) -> Iterator[Mark]:
    """Three arrows that blow to the drift's side, from the other."""
    gust = package.leniently.site.gust_m_s
    ways = {0: (0, -1), 90: (1, 0), 180: (0, 1), 270: (-1, 0)}
    to_x, to_y = ways[quarter]
    middle = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    half = (box[2] - box[0]) / 2 if to_x else (box[3] - box[1]) / 2
    for n in (-1, 0, 1):
        x = middle[0] - to_x * (half + 4.0) + abs(to_y) * n * 7.0
        y = middle[1] - to_y * (half + 4.0) + abs(to_x) * n * 7.0
        tail = x - to_x * 12.0, y - to_y * 12.0
        yield Path(points=(tail, (x, y)), pen=Pen.SEEN, tone=Tone.GRAPHITE)
        wing = to_y * 1.2, to_x * 1.2
        back = x - to_x * 2.6, y - to_y * 2.6
        corners = ((x, y), (back[0] + wing[0], back[1] + wing[1]))
        head = (*corners, (back[0] - wing[0], back[1] - wing[1]))
        yield Path(points=head, pen=Pen.FINE, tone=Tone.GRAPHITE, fill=Fill.INK, is_closed=True)
        if n == -1 and gust:
            at = (max(tail[0], x) - 1.0, min(tail[1], y) - 2.0)
            yield Lettering(words=f"gust {gust:.0f} m/s", at=at, anchor="end")


def _foot(
    package: Package, shown: Pictured, field: Field, scale: DrawnScale, y: float
) -> Iterator[Mark]:
    """Scale bar, north, and how high the sun stands at noon."""
    bar = scale_bar((2.0, y), scale, 60.0, field.system)
    yield from bar.marks
    yield Lettering(words=bar.says, at=(bar.length_mm + 5.0, y + 1.9))
    yield from north((field.width_mm - 6.0, y), shown.storey.turned_deg, 4.0)
    latitude = package.leniently.site.latitude_deg
    if latitude is not None:
        high, low = (90 - abs(latitude) + by for by in (TILT_DEG, -TILT_DEG))
        words = f"sun at noon: June {high:.0f}°, December {low:.0f}°"
        yield Lettering(words=words, at=(field.width_mm - 14.0, y + 1.2), anchor="end")

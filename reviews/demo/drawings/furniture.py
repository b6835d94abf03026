"""Sheet 05: the beds with their stowage at 1:20, what is stowed, and what changes use."""

from collections.abc import Sequence

from criteria.schedules.stowage import Stowage
from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    BOLD,
    CUT,
    FINE,
    GLASS,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    THIN,
    TRACE,
    Canvas,
    Point,
)
from reviews.demo.drawings.fittings import BED_M, MATTRESS_M, Fitting
from reviews.demo.drawings.geometry import PlannedRoom
from reviews.demo.drawings.heights import clear_height_m
from reviews.demo.drawings.moves import draw_moves
from reviews.demo.drawings.names import speaks_of
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.symbols import Placing, dimension, grouped, person, scale_bar

SCALE = 20
BOX_SCALE, LARGEST_BOX_MM = 40, 26.0
LOW_TIER_M, HIGH_TIER_M, FLAT_TIER_M, MATTRESS_DEEP_M = 0.5, 1.52, 0.45, 0.12
"""Heights of lying surfaces above the floor: common practice."""
TOP = FIELD.top + 5
LOWER = FIELD.top + 166.0
SHOWN_HIGH_M = 2.6


def draw_furniture(canvas: Canvas, building: Building) -> None:
    """Draw the fullest bed room's beds, the stowage and the changes of use."""
    room = _bed_room(building)
    right = FIELD.left
    if room is not None:
        right = _beds(canvas, building, room)
    _stowage(canvas, building.package.stowage, right + 14)
    draw_moves(canvas, building.package.moves, LOWER)
    scale_bar(canvas, (FIELD.right - 130, FIELD.bottom - 2), SCALE, 0.5)


def _bed_room(building: Building) -> PlannedRoom | None:
    rooms = [r for r in building.plan.rooms if r.room.sleepers]
    ground = [r for r in rooms if not r.is_upper] or rooms
    return max(ground, key=lambda r: r.room.sleepers or 0) if ground else None


def _beds(canvas: Canvas, building: Building, room: PlannedRoom) -> float:
    """Draw beds from their foot and from their side; return where the drawing ends."""
    beds = [
        f for f in building.fittings if f.room is room and f.kind in ("bed", "bunk", "mattress")
    ]
    if not beds:
        return FIELD.left
    high = min(clear_height_m(room.room), SHOWN_HIGH_M)
    kind = beds[0].kind
    shown = beds[: 3 if kind == "mattress" else 2]
    base = TOP + 11 + 1000 * SHOWN_HIGH_M / SCALE
    place = Placing(SCALE, FIELD.left + 12, base)
    wide = MATTRESS_M if kind == "mattress" else BED_M[0]
    gap = _gap(beds)
    long = len(shown) * wide + (len(shown) - 1) * gap
    name = room.room.name or room.room.mark
    caption(canvas, (FIELD.left, TOP), f"{name}, beds from the foot", "1:20")
    _floor_line(canvas, place, -0.15, long + 0.42, high)
    _windows_behind(canvas, building, place, beds, len(shown))
    lockers = _at_beds(building.package.stowage)
    for i in range(len(shown)):
        x = i * (wide + gap)
        _bed_front(canvas, place, x, wide, kind, lockers, i)
    dimension(canvas, place.up(0, -0.24), place.up(wide, -0.24), grouped(wide))
    if gap > 0.2:
        dimension(canvas, place.up(wide, -0.24), place.up(wide + gap, -0.24), grouped(gap))
    dimension(canvas, place.up(long + 0.32, 0), place.up(long + 0.32, high), grouped(high))
    side = Placing(SCALE, place.up(long + 0.62, 0)[0], base)
    x = side.left
    caption(canvas, (x, TOP), "From the side", "1:20")
    _floor_line(canvas, side, -0.1, BED_M[1] + 0.75, high)
    _bed_side(canvas, side, kind, lockers)
    dimension(canvas, side.up(0, -0.24), side.up(BED_M[1], -0.24), grouped(BED_M[1]))
    person(canvas, side.up(BED_M[1] + 0.4, 0), side.mm(1.7))
    return side.up(BED_M[1] + 0.75, 0)[0]


def _at_beds(rows: Sequence[Stowage]) -> list[Stowage]:
    """Return what is stowed under a bed, at its foot and on its wall, in that order."""
    ours = [row for row in rows if row.is_for_guests]
    found = []
    for words in (("under", "drawer"), ("foot",), ("net", "shelf and")):
        found += [row for row in ours if speaks_of(row.what, words) and row not in found][:1]
    return found


def _windows_behind(
    canvas: Canvas, building: Building, place: Placing, beds: Sequence[Fitting], shown: int
) -> None:
    """Draw the windows over the beds' heads, where they lie behind the beds that are shown."""
    first, last = beds[0], beds[min(shown, len(beds)) - 1]
    level = first.head in ("top", "bottom")
    start = first.rect.x0 if level else first.rect.y0
    end = last.rect.x1 if level else last.rect.y1
    for window in building.openings.windows:
        w = window.window
        if window.room is not first.room or window.side != first.head or window.is_roof_light:
            continue
        a, b = window.start_m - start, window.start_m + window.wide_m - start
        if first.head in ("bottom", "left"):
            a, b = end - start - b, end - start - a
        if w.sill_m is None or not w.frame_h_m or a < -0.05 or b > end - start + 0.4:
            continue
        edge = (w.frame_h_m - (w.glass_h_m or w.frame_h_m)) / 2
        side = (window.wide_m - (w.glass_w_m or window.wide_m)) / 2
        low, top = w.sill_m - edge, w.sill_m - edge + w.frame_h_m
        canvas.shape(_rect(place, a, low, b, top), PAPER, LINE, GRAPHITE)
        glass = _rect(place, a + side, low + edge, b - side, top - edge)
        canvas.shape(glass, GLASS, THIN, GRAPHITE)
        x, y = place.up((a + b) / 2, top - edge)
        canvas.text((x, y + 5), w.mark, 3.6, "medium", GRAPHITE, "ms")


def _gap(beds: Sequence[Fitting]) -> float:
    if len(beds) < 2:
        return 0.3
    a, b = beds[0].rect, beds[1].rect
    apart = max(b.x0 - a.x1, b.y0 - a.y1, a.x0 - b.x1, a.y0 - b.y1)
    return min(max(apart, 0.02), 0.6)


def _tiers(kind: str) -> tuple[float, ...]:
    return {"bunk": (LOW_TIER_M, HIGH_TIER_M), "bed": (LOW_TIER_M,)}.get(kind, (FLAT_TIER_M,))


def _floor_line(canvas: Canvas, place: Placing, left: float, right: float, high: float) -> None:
    floor = [place.up(left, 0), place.up(right, 0), place.up(right, -0.08), place.up(left, -0.08)]
    canvas.hatch(floor, 1.6, 45, HAIR, OCHRE)
    canvas.line([place.up(left, 0), place.up(right, 0)], CUT)
    canvas.line([place.up(left, high), place.up(right, high)], BOLD)
    canvas.line([place.up(left, 0), place.up(left, high)], HAIR, FINE)


def _rect(place: Placing, x0: float, z0: float, x1: float, z1: float) -> list[Point]:
    return [place.up(x0, z0), place.up(x1, z0), place.up(x1, z1), place.up(x0, z1)]


def _bed_front(
    canvas: Canvas,
    place: Placing,
    x: float,
    wide: float,
    kind: str,
    lockers: Sequence[Stowage],
    index: int,
) -> None:
    post = 0.06
    for number, tier in enumerate(_tiers(kind)):
        canvas.shape(_rect(place, x, tier - 0.1, x + wide, tier), PAPER, LINE)
        canvas.shape(
            _rect(place, x + 0.03, tier, x + wide - 0.03, tier + MATTRESS_DEEP_M),
            TRACE,
            THIN,
            GRAPHITE,
        )
        pillow = _rect(
            place, x + 0.12, tier + MATTRESS_DEEP_M, x + wide - 0.12, tier + MATTRESS_DEEP_M + 0.08
        )
        canvas.shape(pillow, PAPER, HAIR, FINE)
        if number < len(lockers):
            _locker_front(canvas, place, x + post, x + wide - post, tier, lockers[number], number)
    if kind == "bunk":
        for side in (x, x + wide - post):
            canvas.shape(_rect(place, side, 0, side + post, HIGH_TIER_M + 0.32), PAPER, LINE)
        for rung in range(5):
            z = 0.3 + rung * 0.26
            canvas.line([place.up(x + wide - 0.02, z), place.up(x + wide + 0.2, z)], THIN, GRAPHITE)
        canvas.line(
            [place.up(x + wide + 0.2, 0), place.up(x + wide + 0.2, HIGH_TIER_M + 0.1)],
            THIN,
            GRAPHITE,
        )
    if len(lockers) > 2 and index == 0:
        shelf = lockers[2]
        z = LOW_TIER_M + 0.62
        canvas.line([place.up(x + post, z), place.up(x + wide - post, z)], LINE, OCHRE)
        canvas.text(place.up(x + wide / 2, z + 0.05), shelf.mark, 3.6, "medium", OCHRE, "ms")


def _locker_front(
    canvas: Canvas, place: Placing, x0: float, x1: float, tier: float, locker: Stowage, number: int
) -> None:
    """Draw a locker's front: under the lower tier, or a box at the foot of the upper."""
    if number == 0:
        low, high = 0.06, tier - 0.12
    else:
        low, high = tier + MATTRESS_DEEP_M + 0.02, tier + MATTRESS_DEEP_M + 0.3
    front = _rect(place, x0, low, x1, high)
    canvas.shape(front, PAPER, LINE)
    canvas.hatch(front, 2.0, 90, HAIR, PALE)
    x, y = place.up((x0 + x1) / 2, (low + high) / 2)
    volume = f"{(locker.volume_m3 or 0) * 1000:.0f} L" if locker.volume_m3 else ""
    canvas.text((x, y), f"{locker.mark}  {volume}".strip(), 3.8, "medium", INK, "mm", True)


def _bed_side(canvas: Canvas, place: Placing, kind: str, lockers: Sequence[Stowage]) -> None:
    long = BED_M[1]
    for number, tier in enumerate(_tiers(kind)):
        canvas.shape(_rect(place, 0, tier - 0.1, long, tier), PAPER, LINE)
        canvas.shape(
            _rect(place, 0.03, tier, long - 0.03, tier + MATTRESS_DEEP_M), TRACE, THIN, GRAPHITE
        )
        canvas.shape(
            _rect(place, 0.05, tier + MATTRESS_DEEP_M, 0.42, tier + MATTRESS_DEEP_M + 0.09),
            PAPER,
            THIN,
            GRAPHITE,
        )
        if number == 0 and lockers:
            n = 2
            for i in range(n):
                a, b = long * i / n + 0.04, long * (i + 1) / n - 0.04
                box = _rect(place, a, 0.06, b, tier - 0.12)
                canvas.shape(box, PAPER, THIN)
                canvas.hatch(box, 2.0, 0, HAIR, PALE)
                x, y = place.up((a + b) / 2, tier / 2 - 0.03)
                canvas.text((x, y), lockers[0].mark, 3.8, "medium", INK, "mm", True)
        if number == 1 and len(lockers) > 1:
            box = _rect(
                place, long - 0.36, tier + MATTRESS_DEEP_M, long, tier + MATTRESS_DEEP_M + 0.36
            )
            canvas.shape(box, PAPER, THIN)
            x, y = place.up(long - 0.18, tier + MATTRESS_DEEP_M + 0.18)
            canvas.text((x, y), lockers[1].mark, 3.6, "medium", INK, "mm", True)
    if kind == "bunk":
        for x in (0.0, long - 0.06):
            canvas.shape(_rect(place, x, 0, x + 0.06, HIGH_TIER_M + 0.32), PAPER, LINE)
        canvas.line(
            [place.up(0.06, HIGH_TIER_M + 0.28), place.up(long - 0.06, HIGH_TIER_M + 0.28)], LINE
        )
        room = HIGH_TIER_M - 0.1 - LOW_TIER_M - MATTRESS_DEEP_M
        dimension(
            canvas,
            place.up(1.2, LOW_TIER_M + MATTRESS_DEEP_M),
            place.up(1.2, HIGH_TIER_M - 0.1),
            grouped(room),
        )


def _stowage(canvas: Canvas, rows: Sequence[Stowage], left: float) -> None:
    """Draw each place to stow as a box of its volume, to scale."""
    wide = FIELD.right - left
    caption(canvas, (left, TOP), "Stowage", "boxes of their volume, 1:40")
    if not rows or wide < 40:
        return
    y = TOP + 13
    for row in rows:
        if y > LOWER - 14:
            break
        volume = row.volume_m3 or 0.0
        side = volume ** (1 / 3) * 1000 / BOX_SCALE if volume else 0.0
        size = min(side, LARGEST_BOX_MM)
        canvas.text((left, y + 4), row.mark, 4.0, "strong", OCHRE)
        text_x = left + 12 + max(size * 1.3, 26.0) + 4
        if size:
            x = left + 12
            d = size * 0.3
            canvas.box(x, y + d, x + size, y + d + size, PAPER, LINE)
            canvas.shape(
                [(x, y + d), (x + d, y), (x + size + d, y), (x + size, y + d)], PAPER, THIN
            )
            edge = [
                (x + size, y + d),
                (x + size + d, y),
                (x + size + d, y + size),
                (x + size, y + d + size),
            ]
            canvas.shape(edge, PAPER, THIN)
            canvas.hatch(edge, 1.2, 45, HAIR, OCHRE)
            if side > size:
                canvas.text(
                    (x + size / 2, y + d + size / 2), "not to scale", 3.2, "italic", GRAPHITE, "mm"
                )
        else:
            for i in range(4):
                x = left + 14 + i * 6
                canvas.line([(x, y), (x, y + 4)], LINE)
                canvas.arc((x + 1.2, y + 4), 1.2, 0, 180, LINE, INK)
        room = FIELD.right - text_x
        litres = f"{row.n or 1} × {volume * 1000:.0f} L" if volume else f"{row.n or 1} no."
        bottom = canvas.paragraph((text_x, y + 4), row.what or "", room, 4.0, "medium", leading=1.2)
        canvas.text(
            (text_x, bottom),
            f"{litres}, for {row.used_by or 'nobody named'}",
            3.7,
            "label",
            GRAPHITE,
        )
        if row.also_used_as:
            bottom = canvas.paragraph(
                (text_x, bottom + 4.6), row.also_used_as, room, 3.6, "italic", GRAPHITE
            )
        y = max(y + size * 1.3 + 6, bottom + 9)

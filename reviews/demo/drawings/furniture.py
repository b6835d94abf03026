"""Sheet 05: the beds with their stowage at 1:20, what is stowed, and what changes use."""

from collections.abc import Sequence

from criteria.schedules.stowage import Stowage
from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas, quad
from reviews.demo.drawings.fittings import BEDS, Fitting
from reviews.demo.drawings.geometry import is_level
from reviews.demo.drawings.heights import clear_height_m
from reviews.demo.drawings.moves import draw_moves
from reviews.demo.drawings.names import speaks_of
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.symbols import Placing, dimension, person, scale_bar

SCALE = 20
BOX_SCALE, LARGEST_BOX_MM = 40, 26.0
LOW_TIER_M, HIGH_TIER_M, FLAT_TIER_M, MATTRESS_DEEP_M, POST_M = 0.5, 1.52, 0.45, 0.12, 0.06
"""Heights of lying surfaces above the floor, depth of a mattress, thickness of a bunk's post:
common practice."""
TIERS_M = {
    "bunk": (LOW_TIER_M, HIGH_TIER_M),
    "bed": (LOW_TIER_M,),
    "mattress": (FLAT_TIER_M,),
}
TOP = FIELD.top + 5
LOWER = FIELD.top + 166.0
SHOWN_HIGH_M = 2.6


def draw_furniture(canvas: Canvas, building: Building) -> None:
    """Draw the fullest bed room's beds, the stowage and the changes of use."""
    beds = _beds(building)
    right = _draw_beds(canvas, building, beds) if beds else FIELD.left
    _stowage(canvas, building.package.stowage, right + 14)
    draw_moves(canvas, building.package.moves, LOWER)
    scale_bar(canvas, (FIELD.right - 130, FIELD.bottom - 2), SCALE, 0.5)


def _beds(building: Building) -> list[Fitting]:
    """Return the beds of the room with most sleepers, of the entrance level where one is."""
    rooms = [r for r in building.plan.rooms if r.room.sleepers]
    ground = [r for r in rooms if not r.is_upper] or rooms
    fullest = max(ground, key=lambda r: r.room.sleepers or 0, default=None)
    return [f for f in building.at_night if f.room is fullest and f.kind in BEDS]


def _draw_beds(canvas: Canvas, building: Building, beds: Sequence[Fitting]) -> float:
    """Draw beds from their foot and from their side; return where the drawing ends."""
    room, kind = beds[0].room.room, beds[0].kind
    high = min(clear_height_m(room), SHOWN_HIGH_M)
    shown = beds[: 3 if kind == "mattress" else 2]
    place = Placing(SCALE, FIELD.left + 12, TOP + 11 + 1000 * SHOWN_HIGH_M / SCALE)
    front = place.upright_on(canvas)
    wide, deep = sorted((beds[0].rect.width, beds[0].rect.height))
    gap = _gap(beds)
    long = len(shown) * (wide + gap) - gap
    lockers = _at_beds(building.package.stowage)
    caption(canvas, (FIELD.left, TOP), f"{room.name or room.mark}, beds from the foot", "1:20")
    _floor_line(front, -0.15, long + 0.42, high)
    _windows_behind(front, building, beds[0], shown[-1])
    for i in range(len(shown)):
        _bed_front(front, i * (wide + gap), wide, kind, lockers, i)
    dimension(front, [(0, -0.24), (wide, -0.24)])
    if gap > 0.2:
        dimension(front, [(wide, -0.24), (wide + gap, -0.24)])
    dimension(front, [(long + 0.32, 0), (long + 0.32, high)])
    left, foot = front.at(long + 0.62, 0)
    side = Placing(SCALE, left, foot).upright_on(canvas)
    caption(canvas, (left, TOP), "From the side", "1:20")
    _floor_line(side, -0.1, deep + 0.75, high)
    _bed_side(side, kind, deep, lockers)
    dimension(side, [(0, -0.24), (deep, -0.24)])
    person(side, (deep + 0.4, 0), side.mm(1.7))
    return side.at(deep + 0.75, 0)[0]


def _at_beds(rows: Sequence[Stowage]) -> list[Stowage]:
    """Return what is stowed under a bed, at its foot and on its wall, in that order."""
    ours = [row for row in rows if row.is_for_guests]
    found: list[Stowage] = []
    for words in (("under", "drawer"), ("foot",), ("net", "shelf and")):
        found += [row for row in ours if speaks_of(row.what, words) and row not in found][:1]
    return found


def _windows_behind(view: Canvas, building: Building, first: Fitting, last: Fitting) -> None:
    """Draw the windows over the beds' heads, where they lie behind the beds that are shown."""
    level = is_level(first.head)
    start, end = first.rect.span(level)[0], last.rect.span(level)[1]
    for window in building.openings.windows:
        if window.room is not first.room or window.side != first.head or window.frame_m is None:
            continue
        a, b = window.start_m - start, window.end_m - start
        if first.head in ("bottom", "left"):
            a, b = end - start - b, end - start - a
        if a < -0.05 or b > end - start + 0.4:
            continue
        (low, high), edge, jamb = window.frame_m, window.edge_m, window.jamb_m
        view.box(a, low, b, high, ink="graphite")
        view.box(a + jamb, low + edge, b - jamb, high - edge, "thin", "graphite", "glass")
        at, mark = ((a + b) / 2, high - edge), window.window.mark
        view.text(at, mark, 3.6, "medium", "graphite", "ms", off=(0, 5))


def _gap(beds: Sequence[Fitting]) -> float:
    if len(beds) < 2:
        return 0.3
    return min(max(-min(beds[0].rect.shared(beds[1].rect)), 0.02), 0.6)


def _floor_line(view: Canvas, left: float, right: float, high: float) -> None:
    view.hatch(quad(left, 0, right, -0.08), 1.6)
    view.line([(left, 0), (right, 0)], "cut")
    view.line([(left, high), (right, high)], "bold")
    view.line([(left, 0), (left, high)], "hair", "fine")


def _tier(view: Canvas, x0: float, x1: float, tier: float) -> float:
    """Draw a frame with its mattress; return the height of the mattress [m]."""
    top = tier + MATTRESS_DEEP_M
    view.box(x0, tier - 0.1, x1, tier)
    view.box(x0 + 0.03, tier, x1 - 0.03, top, "thin", "graphite", "trace")
    return top


def _posts(view: Canvas, x0: float, x1: float) -> None:
    for x in (x0, x1 - POST_M):
        view.box(x, 0, x + POST_M, HIGH_TIER_M + 0.32)


def _bed_front(
    view: Canvas, x: float, wide: float, kind: str, lockers: Sequence[Stowage], index: int
) -> None:
    """Draw a bed from its foot, a locker under the lower tier and one on the upper."""
    inside = (x + POST_M, x + wide - POST_M)
    for number, tier in enumerate(TIERS_M[kind]):
        top = _tier(view, x, x + wide, tier)
        view.box(x + 0.12, top, x + wide - 0.12, top + 0.08, "hair", "fine")
        if number < len(lockers):
            low, high = (top + 0.02, top + 0.3) if number else (0.06, tier - 0.12)
            mark, volume = lockers[number].mark, lockers[number].volume_m3
            words = f"{mark}  {volume * 1000:.0f} L" if volume else mark
            _locker(view, (inside[0], low, inside[1], high), words, 90)
    if kind == "bunk":
        _posts(view, x, x + wide)
        for rung in range(5):
            z = 0.3 + rung * 0.26
            view.line([(x + wide - 0.02, z), (x + wide + 0.2, z)], "thin", "graphite")
        rail = [(x + wide + 0.2, 0), (x + wide + 0.2, HIGH_TIER_M + 0.1)]
        view.line(rail, "thin", "graphite")
    if len(lockers) > 2 and index == 0:
        z = LOW_TIER_M + 0.62
        view.line([(inside[0], z), (inside[1], z)], ink="ochre")
        at = (x + wide / 2, z + 0.05)
        view.text(at, lockers[2].mark, 3.6, "medium", "ochre", "ms")


def _locker(
    view: Canvas, front: tuple[float, float, float, float], words: str, boards_deg: float
) -> None:
    """Draw a locker's front with its words."""
    x0, low, x1, high = front
    view.box(*front, hatch=(2.0, boards_deg, "pale"))
    at = ((x0 + x1) / 2, (low + high) / 2)
    view.text(at, words, 3.8, "medium", anchor="mm", halo=True)


def _bed_side(view: Canvas, kind: str, long: float, lockers: Sequence[Stowage]) -> None:
    for number, tier in enumerate(TIERS_M[kind]):
        top = _tier(view, 0, long, tier)
        view.box(0.05, top, 0.42, top + 0.09, "thin", "graphite")
        for i in range(2 if number == 0 and lockers else 0):
            front = (long * i / 2 + 0.04, 0.06, long * (i + 1) / 2 - 0.04, tier - 0.12)
            _locker(view, front, lockers[0].mark, 0)
        if number == 1 and len(lockers) > 1:
            _locker(view, (long - 0.36, top, long, top + 0.36), lockers[1].mark, 0)
    if kind == "bunk":
        _posts(view, 0, long)
        z = HIGH_TIER_M + 0.28
        view.line([(POST_M, z), (long - POST_M, z)])
        dimension(view, [(1.2, LOW_TIER_M + MATTRESS_DEEP_M), (1.2, HIGH_TIER_M - 0.1)])


def _stowage(canvas: Canvas, rows: Sequence[Stowage], left: float) -> None:
    """Draw each place to stow as a box of its volume, to scale."""
    caption(canvas, (left, TOP), "Stowage", "boxes of their volume, 1:40")
    y = TOP + 13
    for row in rows if FIELD.right - left >= 40 else ():
        if y > LOWER - 14:
            break
        volume = row.volume_m3 or 0.0
        side = volume ** (1 / 3) * 1000 / BOX_SCALE
        size = min(side, LARGEST_BOX_MM)
        canvas.text((left, y + 4), row.mark, 4.0, "strong", "ochre")
        x, top, d = left + 12, y + size * 0.3, size * 0.3
        if size:
            canvas.box(x, top, x + size, top + size)
            canvas.shape([(x, top), (x + d, y), (x + size + d, y), (x + size, top)], "thin")
            edge = [(x + size, top), (x + size + d, y), (x + size + d, y + size)]
            hatch = (1.2, 45, "ochre")
            canvas.shape([*edge, (x + size, top + size)], "thin", hatch=hatch)
        if side > size:
            at = (x + size / 2, top + size / 2)
            canvas.text(at, "not to scale", 3.2, "italic", "graphite", "mm")
        x += max(size * 1.3, 26.0) + 4
        room, n = FIELD.right - x, row.n or 1
        litres = f"{n} × {volume * 1000:.0f} L" if volume else f"{n} no."
        bottom = canvas.paragraph((x, y + 4), row.what or "", room, 4.0, "medium", leading=1.2)
        words = f"{litres}, for {row.used_by or 'nobody named'}"
        canvas.text((x, bottom), words, 3.7, ink="graphite")
        if row.also_used_as:
            at = (x, bottom + 4.6)
            bottom = canvas.paragraph(at, row.also_used_as, room, 3.6, "italic", "graphite")
        y = max(y + size * 1.3 + 6, bottom + 9)

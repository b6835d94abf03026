"""Sheet 02: the plan at 1:50."""

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    BOLD,
    CUT,
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    REDLINE,
    SPRUCE,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.fittings import Fitting
from reviews.demo.drawings.layout import Plan, PlannedRoom, Rect
from reviews.demo.drawings.openings import Openings, PlacedDoor, PlacedWindow
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.symbols import (
    Placing,
    arrow,
    centre_line,
    dimension,
    disc,
    grouped,
    lozenge,
    north_arrow,
    scale_bar,
    section_mark,
)

SCALE = 50


def corners(place: Placing, rect: Rect) -> list[Point]:
    """Return a rectangle's corners on paper."""
    return [
        place.at(rect.x0, rect.y0), place.at(rect.x1, rect.y0),
        place.at(rect.x1, rect.y1), place.at(rect.x0, rect.y1),
    ]  # fmt: skip


def placing(building: Building) -> Placing:
    """Stand the plan in the field: the building and all outside it in the middle."""
    plan, ramp = building.plan, building.ramp
    left, right, top, bottom = plan.outer.x0, plan.outer.x1, plan.outer.y0, plan.outer.y1
    if ramp:
        left, right = min(left, ramp.run.x0), max(right, ramp.run.x1)
        top, bottom = min(top, ramp.run.y0), max(bottom, ramp.run.y1)
    side = 0.0
    if plan.upper:
        side = max(r.main.x1 for r in plan.upper) - min(r.main.x0 for r in plan.upper) + 2.6
    per_m = 1000 / SCALE
    free_w = FIELD.width - (right - left + side) * per_m
    free_h = FIELD.height - (bottom - top) * per_m
    x = FIELD.left + min(max(free_w / 2, 0.0), 34.0) - left * per_m
    if not plan.upper:
        x = FIELD.left + max(free_w / 2, 0.0) - left * per_m
    y = FIELD.top + max(20.0, free_h * 0.52) - top * per_m
    return Placing(SCALE, x, y)


def draw_plan(canvas: Canvas, building: Building) -> None:
    """Draw the entrance level, and upper rooms beside it."""
    plan, place = building.plan, placing(building)
    _outside(canvas, building, place)
    draw_walls(canvas, place, plan, plan.ground, building.openings)
    for fitting in building.fittings:
        if not fitting.room.is_upper:
            draw_fitting(canvas, place, fitting)
    _upper_outline(canvas, building, place)
    for room in plan.ground:
        _name(canvas, place, room, building)
    _marks(canvas, place, building, upper=False)
    _dimensions(canvas, place, building)
    _section_lines(canvas, place, plan)
    if plan.upper:
        _upper_level(canvas, building, place)
    caption(canvas, (FIELD.left, FIELD.top + 5), "Plan of the entrance level", "1:50")
    north_arrow(canvas, (FIELD.right - 16, FIELD.top + 19), -plan.turn_deg)
    scale_bar(canvas, (FIELD.right - 106, FIELD.bottom - 2), SCALE, 1.0)
    floor = sum(room.floor_m2 for room in plan.rooms)
    words = f"{len(plan.rooms)} rooms, {floor:.1f} m² of floor inside the walls. Walls are cut at 1.1 m."
    canvas.text((FIELD.left, FIELD.bottom - 2), words, 3.8, "label", GRAPHITE)


def draw_walls(
    canvas: Canvas,
    place: Placing,
    plan: Plan,
    rooms: tuple[PlannedRoom, ...],
    openings: Openings,
    upper: bool = False,
) -> None:
    """Draw walls cut through, with the openings in them."""
    if upper:
        x0, x1 = min(r.main.x0 for r in rooms), max(r.main.x1 for r in rooms)
        inner = Rect(x0, plan.inner.y0, x1, plan.inner.y1)
    else:
        inner = plan.inner
    outer = inner.grown(plan.wall_m)
    canvas.shape(corners(place, outer), PAPER, pen=CUT, ink=None)
    for strip in (
        Rect(outer.x0, outer.y0, outer.x1, inner.y0), Rect(outer.x0, inner.y1, outer.x1, outer.y1),
        Rect(outer.x0, inner.y0, inner.x0, inner.y1), Rect(inner.x1, inner.y0, outer.x1, inner.y1),
    ):  # fmt: skip
        canvas.hatch(corners(place, strip), 1.05, 45, HAIR, OCHRE)
    canvas.shape(corners(place, outer), None, CUT, INK)
    canvas.shape(corners(place, inner), INK, CUT, INK)
    for room in rooms:
        for part in room.parts:
            canvas.shape(corners(place, part), PAPER, LINE, INK)
    for room in rooms:
        if room.lobby:
            join = (
                room.lobby.grown(0.02) if room.lobby.x0 > room.main.x0 else room.lobby.grown(0.02)
            )
            join = Rect(
                max(join.x0, plan.inner.x0 + 0.02), room.lobby.y0 + 0.012,
                min(join.x1, plan.inner.x1 - 0.02), room.lobby.y1 - 0.012,
            )  # fmt: skip
            canvas.shape(corners(place, join), PAPER, ink=None)
    for window in openings.windows:
        if window.room in rooms:
            _window(canvas, place, window)
    for door in openings.doors:
        if door.room in rooms:
            _door(canvas, place, door)


def _window(canvas: Canvas, place: Placing, window: PlacedWindow) -> None:
    hole = window.hole
    if window.is_roof_light:
        canvas.shape(corners(place, hole), None, THIN, GRAPHITE, (2.2, 1.1))
        a, _, c, _ = corners(place, hole)
        canvas.line([a, c], HAIR, GRAPHITE)
        return
    canvas.shape(corners(place, hole), PAPER, LINE, INK)
    level = window.side in ("top", "bottom")
    thick = hole.height if level else hole.width
    frame = 0.07
    middle = (hole.y0 + hole.y1) / 2 if level else (hole.x0 + hole.x1) / 2
    out = -0.18 if window.side in ("top", "left") else 0.18
    middle += out * thick
    strip = (
        Rect(hole.x0, middle - frame / 2, hole.x1, middle + frame / 2)
        if level
        else Rect(middle - frame / 2, hole.y0, middle + frame / 2, hole.y1)
    )
    canvas.shape(corners(place, strip), PAPER, THIN, INK)
    glass = (
        [place.at(strip.x0, middle), place.at(strip.x1, middle)]
        if level
        else [place.at(middle, strip.y0), place.at(middle, strip.y1)]
    )
    canvas.line(glass, THIN, INK)
    for end in (0, 1):
        block = (
            Rect(strip.x0, strip.y0, strip.x0 + 0.08, strip.y1) if end == 0 and level else
            Rect(strip.x1 - 0.08, strip.y0, strip.x1, strip.y1) if level else
            Rect(strip.x0, strip.y0, strip.x1, strip.y0 + 0.08) if end == 0 else
            Rect(strip.x0, strip.y1 - 0.08, strip.x1, strip.y1)
        )  # fmt: skip
        canvas.shape(corners(place, block), INK, HAIR, INK)


def _door(canvas: Canvas, place: Placing, door: PlacedDoor) -> None:
    hole = door.hole
    level = door.side in ("top", "bottom")
    grown = (
        Rect(hole.x0, hole.y0 - 0.02, hole.x1, hole.y1 + 0.02)
        if level
        else Rect(hole.x0 - 0.02, hole.y0, hole.x1 + 0.02, hole.y1)
    )
    canvas.shape(corners(place, grown), PAPER, ink=None)
    for a, b in (
        ((hole.x0, hole.y0), (hole.x0, hole.y1) if level else (hole.x1, hole.y0)),
        ((hole.x1, hole.y0) if level else (hole.x0, hole.y1), (hole.x1, hole.y1)),
    ):
        canvas.line([place.at(*a), place.at(*b)], BOLD, INK)
    if door.door is None:
        for offset in (0.0, 1.0):
            if level:
                y = hole.y0 + offset * hole.height
                canvas.line([place.at(hole.x0, y), place.at(hole.x1, y)], HAIR, FINE)
            else:
                x = hole.x0 + offset * hole.width
                canvas.line([place.at(x, hole.y0), place.at(x, hole.y1)], HAIR, FINE)
        return
    into = {"top": 1, "bottom": -1, "left": 1, "right": -1}[door.side] * (1 if door.inward else -1)
    wide = door.wide_m
    r = place.mm(wide)
    if level:
        y = hole.y1 if into > 0 else hole.y0
        hinge, tip = (hole.x0, y), (hole.x0, y + into * wide)
        start, end = (0, 90) if into > 0 else (270, 360)
        leaf = Rect(hinge[0], min(y, tip[1]), hinge[0] + 0.045, max(y, tip[1]))
    else:
        x = hole.x1 if into > 0 else hole.x0
        hinge, tip = (x, hole.y0), (x + into * wide, hole.y0)
        start, end = (0, 90) if into > 0 else (90, 180)
        leaf = Rect(min(x, tip[0]), hinge[1], max(x, tip[0]), hinge[1] + 0.045)
    canvas.arc(place.at(*hinge), r, start, end, THIN, GRAPHITE)
    canvas.shape(corners(place, leaf), PAPER, THIN, INK)
    if door.is_outside:
        edge = {"top": hole.y0, "bottom": hole.y1, "left": hole.x0, "right": hole.x1}[door.side]
        line = (
            [place.at(hole.x0, edge), place.at(hole.x1, edge)]
            if level
            else [place.at(edge, hole.y0), place.at(edge, hole.y1)]
        )
        canvas.line(line, THIN, INK)


def draw_fitting(canvas: Canvas, place: Placing, fitting: Fitting) -> None:
    """Draw one piece of furniture on plan."""
    r, kind = fitting.rect, fitting.kind
    shape = corners(place, r)
    if kind in ("bed", "bunk", "mattress"):
        canvas.shape(shape, PAPER, THIN, GRAPHITE)
        inset = 0.07
        head = {
            "top": Rect(r.x0 + inset, r.y0 + inset, r.x1 - inset, r.y0 + 0.38),
            "bottom": Rect(r.x0 + inset, r.y1 - 0.38, r.x1 - inset, r.y1 - inset),
            "left": Rect(r.x0 + inset, r.y0 + inset, r.x0 + 0.38, r.y1 - inset),
            "right": Rect(r.x1 - 0.38, r.y0 + inset, r.x1 - inset, r.y1 - inset),
        }[fitting.head or "top"]
        canvas.shape(corners(place, head), None, HAIR, GRAPHITE)
        if kind == "bunk":
            canvas.line([shape[0], shape[2]], HAIR, FINE, (2, 1))
        return
    if kind in ("hearth", "stove"):
        canvas.shape(shape, PAPER, LINE, INK)
        canvas.hatch(shape, 0.9, 45, HAIR, REDLINE)
        canvas.hatch(shape, 0.9, -45, HAIR, REDLINE)
        x, y = place.at(*r.centre)
        d = place.mm(0.14)
        canvas.circle((x, y), d, PAPER, THIN, INK)
        return
    pen = THIN if kind in ("table", "counter", "lab", "tank") else HAIR
    canvas.shape(shape, PAPER, pen, GRAPHITE)
    if kind in ("counter", "lab"):
        _worktop(canvas, place, fitting)
    elif kind == "tray":
        canvas.line([shape[0], shape[2]], HAIR, FINE)
        canvas.line([shape[1], shape[3]], HAIR, FINE)
    elif kind == "pan":
        x, y = place.at(*r.centre)
        canvas.circle((x, y), place.mm(min(r.width, r.height) * 0.36), PAPER, THIN, GRAPHITE)
    elif kind == "tank":
        canvas.hatch(shape, 1.5, -45, HAIR, SPRUCE)
        x, y = place.at(*r.centre)
        canvas.text((x, y), fitting.words, 3.4, "medium", INK, "mm", halo=True)
    elif kind == "hooks":
        level = r.width > r.height
        n = int((r.width if level else r.height) / 0.18)
        for i in range(n):
            at = 0.09 + i * 0.18
            p = (r.x0 + at, r.centre[1]) if level else (r.centre[0], r.y0 + at)
            canvas.circle(place.at(*p), 0.35, GRAPHITE, HAIR, GRAPHITE)


def _worktop(canvas: Canvas, place: Placing, fitting: Fitting) -> None:
    r = fitting.rect
    level = r.width > r.height
    long = r.width if level else r.height

    def spot(at: float, half: float) -> Rect:
        cx, cy = r.centre
        if level:
            return Rect(r.x0 + at - half, cy - half * 0.75, r.x0 + at + half, cy + half * 0.75)
        return Rect(cx - half * 0.75, r.y0 + at - half, cx + half * 0.75, r.y0 + at + half)

    if long > 0.8:
        canvas.shape(corners(place, spot(long * 0.28, 0.22)), None, HAIR, GRAPHITE)
    if fitting.kind == "counter" and long > 1.3:
        hob = spot(long * 0.74, 0.26)
        for dx in (0.27, 0.73):
            for dy in (0.27, 0.73):
                p = place.at(hob.x0 + hob.width * dx, hob.y0 + hob.height * dy)
                canvas.circle(p, place.mm(0.075), None, HAIR, GRAPHITE)


def _name(canvas: Canvas, place: Placing, room: PlannedRoom, building: Building) -> None:
    """Letter mark, name and floor where there's room for them."""
    rect = room.main
    x, y = place.at(*_quiet_spot(room, building))
    wide = place.mm(rect.width) - 3
    name = room.room.name or ""
    lines = canvas.lines(name, wide, 3.9, "medium")
    size = 3.9 if len(lines) <= 2 else 3.5
    lines = canvas.lines(name, wide, size, "medium")[:3]
    step = size * 1.12
    top = y - step * (len(lines) + 1) / 2
    block = max(canvas.width_of(line, size, "medium") for line in lines) / 2 + 1.2
    canvas.box(
        x - block, top - step * 0.05, x + block, top + step * (len(lines) + 2.1), PAPER, ink=None
    )
    canvas.text((x, top + step * 0.8), room.room.mark, 3.5, "strong", OCHRE, "ms")
    for i, line in enumerate(lines):
        canvas.text((x, top + step * (i + 1.8)), line, size, "medium", INK, "ms")
    floor = f"{room.floor_m2:.1f} m²" if room.room.floor_m2 else "floor blank"
    canvas.text((x, top + step * (len(lines) + 1.8)), floor, 3.6, "label", GRAPHITE, "ms")


def _quiet_spot(room: PlannedRoom, building: Building) -> tuple[float, float]:
    """Return where a room's name crosses least furniture."""
    rect = room.main
    best: tuple[float, tuple[float, float]] | None = None
    half_w, half_h = min(0.75, rect.width / 2 - 0.05), min(0.45, rect.height / 2 - 0.05)
    doors = [d.hole.grown(0.45) for d in building.openings.doors]
    for i in range(9):
        for j in range(9):
            x = rect.x0 + half_w + (rect.width - 2 * half_w) * i / 8
            y = rect.y0 + half_h + (rect.height - 2 * half_h) * j / 8
            label = Rect(x - half_w, y - half_h, x + half_w, y + half_h)
            hits = 0.0
            for fitting in building.fittings:
                if fitting.room is room and fitting.rect.meets(label):
                    a, b = fitting.rect, label
                    hits += (min(a.x1, b.x1) - max(a.x0, b.x0)) * (
                        min(a.y1, b.y1) - max(a.y0, b.y0)
                    )
            hits += sum(0.15 for door in doors if door.meets(label))
            cx, cy = rect.centre
            hits += 0.01 * ((x - cx) ** 2 + (y - cy) ** 2)
            if best is None or hits < best[0] - 1e-9:
                best = hits, (x, y)
    assert best is not None
    return best[1]


def _marks(canvas: Canvas, place: Placing, building: Building, upper: bool) -> None:
    wall = building.plan.wall_m
    for window in building.openings.windows:
        if window.room.is_upper is not upper:
            continue
        hole = window.hole
        x, y = hole.centre
        off = wall / 2 + 0.28
        at = {
            "top": (x, y - off), "bottom": (x, y + off),
            "left": (x - off - 0.06, y), "right": (x + off + 0.06, y),
        }[window.side]  # fmt: skip
        if window.is_roof_light:
            at = (x, hole.y1 + 0.24)
        lozenge(canvas, place.at(*at), window.window.mark)
    for door in building.openings.doors:
        if door.door is None or door.room.is_upper is not upper:
            continue
        _door_mark(canvas, place, door)


def _door_mark(canvas: Canvas, place: Placing, door: PlacedDoor) -> None:
    hole = door.hole
    x, y = hole.centre
    into = {"top": 1, "bottom": -1, "left": 1, "right": -1}[door.side] * (1 if door.inward else -1)
    level = door.side in ("top", "bottom")
    off = (hole.height if level else hole.width) / 2 + 0.2
    at = (x, y - into * off) if level else (x - into * off, y)
    if door.is_outside:
        at = (x, y + (hole.height / 2 + 0.24) * (1 if door.side == "top" else -1)) if level else (
            x + (hole.width / 2 + 0.24) * (1 if door.side == "left" else -1), y)  # fmt: skip
    disc(canvas, place.at(*at), door.mark)
    clear = door.door.clear_w_m if door.door else None
    words = f"clear {grouped(clear)}" if clear else "clear –"
    reach = 0.16 if level else 0.2
    spot = (at[0], at[1] + reach) if level else at
    px, py = place.at(*spot)
    if level:
        canvas.text(
            (px + 3.8, py - place.mm(reach) + 1.2), words, 3.2, "label", GRAPHITE, "ls", True
        )
    else:
        canvas.text((px, py + 6.3), words, 3.2, "label", GRAPHITE, "ms", True)


def _outside(canvas: Canvas, building: Building, place: Placing) -> None:
    ramp, package = building.ramp, building.package
    for door in building.openings.doors:
        if door.is_outside and not door.room.is_upper and (ramp is None or door is not ramp.door):
            _platform(canvas, place, door, building)
    if ramp is None:
        return
    canvas.shape(corners(place, ramp.run), PAPER, LINE, INK)
    for landing in ramp.landings:
        canvas.shape(corners(place, landing), PAPER, LINE, INK)
        canvas.hatch(corners(place, landing), 2.4, 0, HAIR, PALE)
    r = ramp.run
    if ramp.is_level:
        y = r.centre[1]
        a, b = place.at(r.x0 + 0.3, y), place.at(r.x1 - 0.3, y)
    else:
        x = r.centre[0]
        a, b = place.at(x, r.y0 + 0.3), place.at(x, r.y1 - 0.3)
    if not ramp.foot_first:
        a, b = b, a
    arrow(canvas, a, b, THIN, INK, 3.4)
    canvas.circle(a, 0.7, PAPER, THIN, INK)
    slope = f"ramp up, 1:{package.ramp.slope_run:g}" if package.ramp.slope_run else "ramp up"
    n = package.ramp.landings
    words = f"{slope}, {n or 'no'} landing{'' if n == 1 else 's'}"
    mid = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    if ramp.is_level:
        wide = canvas.width_of(words, 3.7) / 2 + 1
        canvas.box(mid[0] - wide, mid[1] - 2.4, mid[0] + wide, mid[1] + 2.4, PAPER, ink=None)
        canvas.text(mid, words, 3.7, "label", INK, "mm")
        y_mm = place.at(0, r.y0)[1] - 5 if ramp.side == "top" else place.at(0, r.y1)[1] + 8
        dimension(canvas, (place.at(r.x0, 0)[0], y_mm), (place.at(r.x1, 0)[0], y_mm),
                  grouped(r.width), INK)  # fmt: skip
    else:
        canvas.upright_text((mid[0] - 3, mid[1]), words, 3.7)


def _platform(canvas: Canvas, place: Placing, door: PlacedDoor, building: Building) -> None:
    """Draw what a second door leads on to: boards as deep as the leaf is wide."""
    hole, deep = door.hole, max(1.2, door.wide_m + 0.3)
    side = {
        "top": Rect(hole.x0 - 0.3, hole.y0 - deep, hole.x1 + 0.3, hole.y0),
        "bottom": Rect(hole.x0 - 0.3, hole.y1, hole.x1 + 0.3, hole.y1 + deep),
        "left": Rect(hole.x0 - deep, hole.y0 - 0.2, hole.x0, hole.y1 + 0.2),
        "right": Rect(hole.x1, hole.y0 - 0.2, hole.x1 + deep, hole.y1 + 0.2),
    }[door.side]
    shape = corners(place, side)
    canvas.shape(shape, PAPER, THIN, GRAPHITE)
    canvas.hatch(shape, 2.4, 0 if door.side in ("left", "right") else 90, HAIR, PALE)


def _upper_outline(canvas: Canvas, building: Building, place: Placing) -> None:
    for room in building.plan.upper:
        r = room.main
        canvas.shape(corners(place, r), None, THIN, INK, (4, 1.6))
        x = r.x0 + 0.12 if r.x0 > building.plan.inner.x0 + 0.1 else r.x1 - 0.12
        px, py = place.at(x, r.y1 - 0.15)
        canvas.text(
            (px, py), f"{(room.room.name or '').lower()} over", 3.4, "label", GRAPHITE, "ls", True
        )


def _upper_level(canvas: Canvas, building: Building, place: Placing) -> None:
    plan = building.plan
    x0 = min(r.main.x0 for r in plan.upper)
    edge = max(plan.outer.x1, building.ramp.run.x1 if building.ramp else 0.0)
    there = Placing(SCALE, place.at(edge + 2.1 - x0, 0)[0], place.top)
    draw_walls(canvas, there, plan, plan.upper, building.openings, upper=True)
    for fitting in building.fittings:
        if fitting.room.is_upper:
            draw_fitting(canvas, there, fitting)
    for room in plan.upper:
        _name(canvas, there, room, building)
        low = room.room.low_headroom_m2
        if low:
            deep = low / room.main.width / 2
            for y in (room.main.y0 + deep, room.main.y1 - deep):
                line = [there.at(room.main.x0, y), there.at(room.main.x1, y)]
                canvas.line(line, THIN, GRAPHITE, (3, 1.2))
            px, py = there.at(room.main.centre[0], room.main.y1 - deep)
            canvas.text((px, py - 1), "1.5 m headroom", 3.3, "label", GRAPHITE, "ms", True)
    _marks(canvas, there, building, upper=True)
    left, top = there.at(x0 - plan.wall_m, plan.outer.y0)
    caption(canvas, (left, top - 14), "Upper level", "1:50")


def _dimensions(canvas: Canvas, place: Placing, building: Building) -> None:
    plan = building.plan
    outer, inner = plan.outer, plan.inner
    y = place.at(0, outer.y1)[1] + 15
    lower = [r.main for r in plan.ground if abs(r.main.y1 - inner.y1) < 1e-6]
    _chain(canvas, place, sorted({v for r in lower for v in (r.x0, r.x1)}), y, True)
    dimension(canvas, (place.at(outer.x0, 0)[0], y + 8), (place.at(outer.x1, 0)[0], y + 8),
              grouped(outer.width), INK)  # fmt: skip
    x = place.at(outer.x1, 0)[0] + 15
    right = [r.main for r in plan.ground if abs(r.main.x1 - inner.x1) < 1e-6]
    _chain(canvas, place, sorted({v for r in right for v in (r.y0, r.y1)}), x, False)
    dimension(canvas, (x + 8, place.at(0, outer.y0)[1]), (x + 8, place.at(0, outer.y1)[1]),
              grouped(outer.height), INK)  # fmt: skip


def _chain(canvas: Canvas, place: Placing, stops: list[float], at: float, level: bool) -> None:
    for a, b in zip(stops, stops[1:], strict=False):
        if b - a < 0.3:
            continue
        if level:
            ends = (place.at(a, 0)[0], at), (place.at(b, 0)[0], at)
        else:
            ends = (at, place.at(0, a)[1]), (at, place.at(0, b)[1])
        dimension(canvas, *ends, grouped(b - a))


def _section_lines(canvas: Canvas, place: Placing, plan: Plan) -> None:
    """Draw where the two sections of sheet 03 are cut."""
    y, x = section_cuts(plan)
    left, right = place.at(plan.outer.x0, y), place.at(plan.outer.x1, y)
    for end, step in ((left, -1), (right, 1)):
        spot = (end[0] + step * 12 + (step > 0) * 16, end[1])
        centre_line(canvas, (end[0] + step * 1, end[1]), (spot[0] - step * 4.6, end[1]), INK)
        section_mark(canvas, spot, "A", "03", (0, -1))
    top, bottom = place.at(x, plan.outer.y0), place.at(x, plan.outer.y1)
    for end, step in ((top, -1), (bottom, 1)):
        spot = (end[0], end[1] + step * 12 + (step > 0) * 20 - (step < 0) * 20)
        centre_line(canvas, (end[0], end[1] + step), (spot[0], spot[1] - step * 4.6), INK)
        section_mark(canvas, spot, "B", "03", (1, 0))


def section_cuts(plan: Plan) -> tuple[float, float]:
    """Return where section A is cut (down the plan) and section B (along it) [m]."""
    top = [r for r in plan.ground if abs(r.main.y0 - plan.inner.y0) < 1e-6]
    deepest = max(top, key=lambda r: r.main.width)
    return deepest.main.y0 + deepest.main.height * 0.55, plan.day.main.centre[0]

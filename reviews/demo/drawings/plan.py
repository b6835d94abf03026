"""Sheet 02: the plan at 1:50."""

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import GRAPHITE, HAIR, INK, LINE, PALE, PAPER, THIN, Canvas
from reviews.demo.drawings.geometry import Rect
from reviews.demo.drawings.openings import PlacedDoor
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.plan_marks import (
    MARKER_ABOVE_RAMP_MM,
    WHOLE_BELOW_MM,
    WHOLE_MM,
    draw_dimensions,
    draw_section_marks,
    letter_room,
    mark_openings,
)
from reviews.demo.drawings.plan_parts import corners, draw_fitting, draw_walls
from reviews.demo.drawings.symbols import (
    Placing,
    arrow,
    break_line,
    dimension,
    grouped,
    north_arrow,
    scale_bar,
)

SCALE = 50
BRIDGE_M = 1.0
"""A door whose threshold is higher than this leads on to a bridge, not a step."""


def dimensions_left(building: Building) -> bool:
    """Whether upright dimensions stand at the left: where there's no room for them at the right."""
    plan, ramp = building.plan, building.ramp
    if ramp is None or plan.upper:
        return False
    left = min(plan.outer.x0, ramp.extent.x0)
    right = max(plan.outer.x1 + (WHOLE_MM + 6) / 20, ramp.extent.x1)
    return (right - left) * 1000 / SCALE > FIELD.width


def placing(building: Building) -> Placing:
    """Stand the plan and all outside it in the middle of the field."""
    plan, ramp = building.plan, building.ramp
    per_m = 1000 / SCALE
    outer = plan.outer
    reach = ramp.extent if ramp else outer
    at_left = dimensions_left(building)
    spare = (WHOLE_MM + 6) / per_m
    platforms = [
        d.hole.x0 - 2.3
        for d in building.openings.doors
        if d.side == "left" and d.is_outside and not d.room.is_upper
    ]
    left = min(outer.x0 - (spare if at_left else 0.8), reach.x0, *platforms)
    right = max(outer.x1 + (0.75 if at_left else spare), reach.x1)
    if plan.upper:
        x0, x1 = upper_bounds(building)
        right = max(outer.x1, reach.x1) + spare + (x1 - x0) + 2 * plan.wall_m + 1.7
    top = min(outer.y0, reach.y0) - (MARKER_ABOVE_RAMP_MM + 5) / per_m
    bottom = max(outer.y1 + (WHOLE_BELOW_MM + 1) / per_m, reach.y1)
    x = FIELD.left + (FIELD.width - (right - left) * per_m) / 2 - left * per_m
    free = FIELD.height - 8 - (bottom - top) * per_m
    y = FIELD.top + 8 + max(0.0, min(free / 2, 22.0)) - top * per_m
    return Placing(SCALE, x, y)


def upper_bounds(building: Building) -> tuple[float, float]:
    """Return the left and right inside of the upper rooms [m]."""
    rooms = building.plan.upper
    return min(r.main.x0 for r in rooms), max(r.main.x1 for r in rooms)


def draw_plan(canvas: Canvas, building: Building) -> None:
    """Draw the entrance level, and upper rooms beside it."""
    plan, place = building.plan, placing(building)
    at_left = dimensions_left(building)
    _outside(canvas, building, place)
    draw_walls(canvas, place, plan, plan.ground, building.openings)
    for fitting in building.fittings:
        if not fitting.room.is_upper:
            draw_fitting(canvas, place, fitting)
    _upper_outline(canvas, building, place)
    for room in plan.ground:
        letter_room(canvas, place, room, building)
    draw_dimensions(canvas, place, plan, at_left)
    draw_section_marks(canvas, place, building, at_left)
    mark_openings(canvas, place, building, upper=False)
    if plan.upper:
        _upper_level(canvas, building, place)
    floor = sum(room.floor_m2 for room in plan.rooms)
    note = f"1:50   {len(plan.rooms)} rooms, {floor:.1f} m² inside the walls, cut 1.1 m above floor"
    caption(canvas, (FIELD.left, FIELD.top + 5), "Plan of the entrance level", note)
    north_arrow(canvas, (FIELD.right - 12, FIELD.top + 14), -plan.turn_deg, 7.5)
    scale_bar(canvas, (FIELD.left, FIELD.bottom - 1), SCALE, 1.0)


def _boards(canvas: Canvas, place: Placing, rect: Rect, across: bool) -> None:
    shape = corners(place, rect)
    canvas.shape(shape, PAPER, THIN, GRAPHITE)
    canvas.hatch(shape, 2.4, 90 if across else 0, HAIR, PALE)


def _outside(canvas: Canvas, building: Building, place: Placing) -> None:
    ramp = building.ramp
    for door in building.openings.doors:
        is_ramped = ramp is not None and (door is ramp.door or door.side == ramp.side)
        if door.is_outside and not door.room.is_upper and not is_ramped:
            _platform(canvas, place, door)
    if ramp is None:
        return
    if ramp.deck:
        _boards(canvas, place, ramp.deck, ramp.is_level)
    canvas.shape(corners(place, ramp.run), PAPER, LINE, INK)
    for landing in ramp.landings:
        _boards(canvas, place, landing, not ramp.is_level)
    r = ramp.run
    x, y = r.centre
    if ramp.is_level:
        a, b = place.at(r.x0 + 0.3, y), place.at(r.x1 - 0.3, y)
    else:
        a, b = place.at(x, r.y0 + 0.3), place.at(x, r.y1 - 0.3)
    if not ramp.foot_first:
        a, b = b, a
    arrow(canvas, a, b, THIN, INK, 3.4)
    canvas.circle(a, 0.7, PAPER, THIN, INK)
    words = ramp_words(building)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    long = grouped(r.width if ramp.is_level else r.height)
    if ramp.is_level:
        half = canvas.width_of(words, 3.7) / 2 + 1.2
        canvas.box(
            middle[0] - half, middle[1] - 2.2, middle[0] + half, middle[1] + 2.2, PAPER, ink=None
        )
        canvas.text(middle, words, 3.7, "label", INK, "mm")
        line = place.at(0, r.y0)[1] - 6 if ramp.side == "top" else place.at(0, r.y1)[1] + 8
        ends = (place.at(r.x0, 0)[0], line), (place.at(r.x1, 0)[0], line)
    else:
        canvas.upright_text((middle[0] - 3, middle[1]), words, 3.7)
        line = place.at(r.x0, 0)[0] - 6 if ramp.side == "left" else place.at(r.x1, 0)[0] + 8
        ends = (line, place.at(0, r.y0)[1]), (line, place.at(0, r.y1)[1])
    dimension(canvas, *ends, long, INK)


def ramp_words(building: Building) -> str:
    """Say the ramp's slope and landings as the schedule has them."""
    ramp = building.package.ramp
    slope = f"ramp up 1:{ramp.slope_run:g}" if ramp.slope_run else "ramp up, slope blank"
    n = ramp.landings or 0
    return f"{slope}, {n or 'no'} landing{'' if n == 1 else 's'}"


def _platform(canvas: Canvas, place: Placing, door: PlacedDoor) -> None:
    """Draw the step or bridge that a second door leads on to."""
    threshold = (door.door.threshold_m if door.door else None) or 0.0
    is_bridge = threshold > BRIDGE_M
    hole, deep, spare = door.hole, 2.3 if is_bridge else 1.2, 0.12
    rect = {
        "top": Rect(hole.x0 - spare, hole.y0 - deep, hole.x1 + spare, hole.y0),
        "bottom": Rect(hole.x0 - spare, hole.y1, hole.x1 + spare, hole.y1 + deep),
        "left": Rect(hole.x0 - deep, hole.y0 - spare, hole.x0, hole.y1 + spare),
        "right": Rect(hole.x1, hole.y0 - spare, hole.x1 + deep, hole.y1 + spare),
    }[door.side]
    level = door.side in ("top", "bottom")
    _boards(canvas, place, rect, not level)
    if not is_bridge:
        return
    far = {"top": (0, 1), "bottom": (3, 2), "left": (0, 3), "right": (1, 2)}[door.side]
    shape = corners(place, rect)
    a, b = shape[far[0]], shape[far[1]]
    if level:
        break_line(canvas, (a[0] - 1.5, a[1]), (b[0] + 1.5, b[1]))
    else:
        break_line(canvas, (a[0], a[1] - 1.5), (b[0], b[1] + 1.5))
    under = (place.at(*rect.centre)[0], place.at(0, rect.y1)[1] + 4.6)
    words = f"bridge, {grouped(threshold)} up"
    canvas.text(under, words, 3.3, "label", GRAPHITE, "ms", halo=True)


def _upper_outline(canvas: Canvas, building: Building, place: Placing) -> None:
    """Show with a broken line where upper rooms lie over."""
    inner = building.plan.inner
    for room in building.plan.upper:
        r = room.main
        at_right = r.x0 > inner.x0 + 0.1
        x = r.x0 if at_right else r.x1
        canvas.line([place.at(x, inner.y0), place.at(x, inner.y1)], THIN, INK, (4, 1.6))
        words = f"{(room.room.name or '').lower()} over"
        px, py = place.at(x, inner.y1 - 0.16)
        anchor = "ls" if at_right else "rs"
        canvas.text(
            (px + (1.5 if at_right else -1.5), py), words, 3.4, "label", GRAPHITE, anchor, halo=True
        )


def _upper_level(canvas: Canvas, building: Building, place: Placing) -> None:
    plan, ramp = building.plan, building.ramp
    x0, _ = upper_bounds(building)
    edge = max(plan.outer.x1, ramp.extent.x1 if ramp else plan.outer.x1)
    shift = edge + WHOLE_MM / 20 + 1.0 + plan.wall_m - x0
    there = Placing(SCALE, place.left + place.mm(shift), place.top)
    draw_walls(canvas, there, plan, plan.upper, building.openings)
    for fitting in building.fittings:
        if fitting.room.is_upper:
            draw_fitting(canvas, there, fitting)
    for room in plan.upper:
        letter_room(canvas, there, room, building)
        low = room.room.low_headroom_m2
        if low:
            deep = low / room.main.width / 2
            for y in (room.main.y0 + deep, room.main.y1 - deep):
                ends = [there.at(room.main.x0, y), there.at(room.main.x1, y)]
                canvas.line(ends, THIN, GRAPHITE, (3, 1.2))
            x, y = there.at(room.main.x1 + plan.wall_m, room.main.y1 - deep)
            canvas.text((x + 1.5, y), "1.5 m", 3.4, "label", GRAPHITE, "lm")
            canvas.text((x + 1.5, y + 4.2), "headroom", 3.4, "label", GRAPHITE, "lm")
    mark_openings(canvas, there, building, upper=True)
    left, top = there.at(x0 - plan.wall_m, plan.outer.y0)
    caption(canvas, (left, top - 14), "Upper level", "1:50")

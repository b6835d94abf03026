"""Sheet 02: the plan at 1:50."""

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas, quad
from reviews.demo.drawings.geometry import ENDS, Rect, bounds, is_level
from reviews.demo.drawings.openings import PlacedDoor
from reviews.demo.drawings.page import FIELD, FITTING_SCALES, caption
from reviews.demo.drawings.plan_marks import (
    MARKER_ABOVE_RAMP_MM,
    WHOLE_BELOW_MM,
    WHOLE_MM,
    draw_dimensions,
    draw_section_marks,
    letter_room,
    mark_openings,
)
from reviews.demo.drawings.plan_parts import draw_at_night, draw_fitting, draw_walls
from reviews.demo.drawings.symbols import (
    Placing,
    arrow,
    dimension,
    grouped,
    north_arrow,
    scale_bar,
)

BRIDGE_M = 1.0
"""A door whose threshold is higher than this leads on to a bridge, not a step."""
BRIDGE_LONG_M, STEP_LONG_M = 2.3, 1.2
BESIDE_MM = WHOLE_MM + 6
"""What upright dimensions take beside the plan [mm]."""


def _with_ramp(building: Building) -> Rect:
    outer = bounds(building.plan.outer, *(bay.rect for bay in building.terrace))
    return bounds(outer, building.ramp.extent) if building.ramp else outer


def _dimensioned_side(building: Building, scale: float) -> str:
    """Return where upright dimensions stand: at the left where the right has no room for them."""
    reach, plan = _with_ramp(building), building.plan
    wide = max(plan.outer.x1 + BESIDE_MM * scale / 1000, reach.x1) - reach.x0
    is_tight = building.ramp and not plan.upper and wide * 1000 / scale > FIELD.width
    return "left" if is_tight else "right"


def placing(building: Building) -> Placing:
    """Stand the plan and all outside it in the middle of the field, as large as they fit."""
    for scale in FITTING_SCALES:
        reach, per_m = _reach(building, scale), 1000 / scale
        if reach.width * per_m <= FIELD.width:
            break
    x = FIELD.left + (FIELD.width - reach.width * per_m) / 2 - reach.x0 * per_m
    free = FIELD.height - 8 - reach.height * per_m
    y = FIELD.top + 8 + max(0.0, min(free / 2, 22.0)) - reach.y0 * per_m
    return Placing(scale, x, y)


def _reach(building: Building, scale: float) -> Rect:
    """Return what the plan takes with its ramp, bridges, dimensions and upper rooms [m]."""
    plan, outer, reach, m = building.plan, building.plan.outer, _with_ramp(building), scale / 1000
    at_left = _dimensioned_side(building, scale) == "left"
    platforms = [
        d.hole.x0 - BRIDGE_LONG_M
        for d in building.openings.doors
        if d.side == "left" and d.is_outside and not d.room.is_upper
    ]
    left = min(outer.x0 - (BESIDE_MM * m if at_left else 0.8), reach.x0, *platforms)
    right = max(outer.x1 + (0.75 if at_left else BESIDE_MM * m), reach.x1)
    if plan.upper:
        upper = bounds(*(room.main for room in plan.upper))
        right = reach.x1 + BESIDE_MM * m + upper.width + 2 * plan.wall_m + 1.7
    top = reach.y0 - (MARKER_ABOVE_RAMP_MM + 5) * m
    return Rect(left, top, right, max(outer.y1 + (WHOLE_BELOW_MM + 1) * m, reach.y1))


def draw_plan(canvas: Canvas, building: Building) -> None:
    """Draw the entrance level, and upper rooms beside it."""
    plan, place = building.plan, placing(building)
    side, view = _dimensioned_side(building, place.scale), place.on(canvas)
    _outside(view, building)
    _level(view, building, upper=False)
    _upper_outline(view, building)
    draw_dimensions(view, plan, side)
    draw_section_marks(view, building, side)
    if plan.upper:
        _upper_level(canvas, building, place)
    floor = sum(room.floor_m2 for room in plan.rooms)
    note = f"1:{place.scale:g}   {len(plan.rooms)} rooms, {floor:.1f} m² inside the walls, "
    note += "cut 1.1 m above floor"
    note += "; broken lines: at night" if building.moved_at_night or building.folded else ""
    caption(canvas, (FIELD.left, FIELD.top + 5), "Plan of the entrance level", note)
    north_arrow(canvas, (FIELD.right - 12, FIELD.top + 14), -plan.turn_deg, 7.5)
    scale_bar(canvas, (FIELD.left, FIELD.bottom - 1), place.scale, 1.0)


def _level(view: Canvas, building: Building, *, upper: bool) -> None:
    """Draw the rooms of one level with furniture, names and marks."""
    rooms = building.plan.upper if upper else building.plan.ground
    draw_walls(view, building.plan, rooms, building.openings)
    for fitting in building.fittings:
        if fitting.room.is_upper is upper:
            draw_fitting(view, fitting)
    for fitting in building.moved_at_night:
        if fitting.room.is_upper is upper:
            draw_at_night(view, fitting)
    for room in rooms:
        letter_room(view, room, building)
    mark_openings(view, building, upper)


def _boards(view: Canvas, rect: Rect, across: bool) -> None:
    view.shape(rect.corners, "thin", "graphite", hatch=(2.4, 90 if across else 0, "pale"))


def _outside(view: Canvas, building: Building) -> None:
    ramp = building.ramp
    for bay in building.terrace:
        _boards(view, bay.rect, True)
    for bay in building.folded:
        corners = bay.rect.corners
        view.line([*corners, corners[0]], "bold", "spruce", (2.6, 1.2))
    for door in building.openings.doors:
        is_ramped = ramp is not None and door.side == ramp.side
        if door.is_outside and not door.room.is_upper and not is_ramped:
            _platform(view, door)
    if ramp is None:
        return
    run, level = ramp.run, ramp.is_level
    if ramp.deck:
        _boards(view, ramp.deck, level)
    view.shape(run.corners)
    for landing in ramp.landings:
        _boards(view, landing, not level)
    middle = run.grown(*((-0.3, -run.height / 2) if level else (-run.width / 2, -0.3)))
    foot, head = sorted(middle.corners[::2], reverse=not ramp.foot_first)
    arrow(view, foot, head, head=3.4)
    view.circle(foot, 0.7, "thin")
    words = ramp_words(building)
    if level:
        (x, y), half = view.at(*run.centre), view.width_of(words, 3.7) / 2 + 1.2
        view.paper.wipe(quad(x - half, y - 2.2, x + half, y + 2.2))
        view.text(run.centre, words, 3.7, anchor="mm")
        off = (0, -6 if ramp.side == "top" else 8)
    else:
        view.upright_text(run.centre, words, 3.7, off=(-3, 0))
        off = (-6 if ramp.side == "left" else 8, 0)
    dimension(view, run.line(ramp.side), "ink", off)


def ramp_words(building: Building) -> str:
    """Say the ramp's slope and landings as the schedule has them."""
    ramp = building.package.ramp
    slope = f"ramp up 1:{ramp.slope_run:g}" if ramp.slope_run else "ramp up, slope blank"
    n = ramp.landings or 0
    return f"{slope}, {n or 'no'} landing{'' if n == 1 else 's'}"


def _platform(view: Canvas, door: PlacedDoor) -> None:
    """Draw the step or bridge that a second door leads on to."""
    threshold = (door.door.threshold_m if door.door else None) or 0.0
    is_bridge, level, spare = threshold > BRIDGE_M, is_level(door.side), 0.12
    start, end = door.start_m - spare, door.end_m + spare
    deep = BRIDGE_LONG_M if is_bridge else STEP_LONG_M
    rect = door.hole.beside(door.side, deep, start, end)
    _boards(view, rect, not level)
    if is_bridge:  # open at its end: it goes on
        view.line(rect.line(door.side), "bold", "paper")
        words = f"bridge, {grouped(threshold)} up"
        under = (rect.centre[0], rect.y1)
        view.text(under, words, 3.3, "label", "graphite", "ms", True, (0, 4.6))


def _upper_outline(view: Canvas, building: Building) -> None:
    """Show with a broken line where upper rooms lie over."""
    inner = building.plan.inner
    for room in building.plan.upper:
        at_right = room.main.x0 > inner.x0 + 0.1
        x, anchor, off = (room.main.x0, "ls", 1.5) if at_right else (room.main.x1, "rs", -1.5)
        view.line([(x, inner.y0), (x, inner.y1)], "thin", dash=(4, 1.6))
        words, at = f"{(room.room.name or '').lower()} over", (x, inner.y1 - 0.16)
        view.text(at, words, 3.4, "label", "graphite", anchor, True, (off, 0))


def _upper_level(canvas: Canvas, building: Building, place: Placing) -> None:
    plan = building.plan
    inside = bounds(*(room.main for room in plan.upper))
    shift = _with_ramp(building).x1 + WHOLE_MM / place.mm(1.0) + 1.0 + plan.wall_m - inside.x0
    view = Placing(place.scale, *place.at(shift, 0.0)).on(canvas)
    _level(view, building, upper=True)
    for room in plan.upper:
        main, deep = room.main, (room.room.low_headroom_m2 or 0.0) / room.main.width / 2
        if deep:
            for side in ENDS[False]:
                line = main.layer(side, deep, deep).corners[::2]
                view.line(line, "thin", "graphite", (3, 1.2))
            for words, down in (("1.5 m", 0.0), ("headroom", 4.2)):
                at = (main.x1 + plan.wall_m, main.y1 - deep)
                view.text(at, words, 3.4, ink="graphite", anchor="lm", off=(1.5, down))
    left, top = view.at(inside.x0 - plan.wall_m, plan.outer.y0)
    caption(canvas, (left, top - 14), "Upper level", f"1:{place.scale:g}")

"""Daylight by the closed formulas, view, sun and electric light."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import lamps
from criteria.package import Package
from criteria.schedules.lighting import Lamp
from criteria.schedules.openings import Window
from criteria.schedules.rooms import LIVED_IN, SAT_IN, Room
from criteria.sources import ADF, LIMITING_DEPTH, PRACTICE, SUN_HOURS, SUN_POSITION, TASK_LIGHT
from criteria.units import (
    AREA,
    FLOOR,
    HOURS,
    ILLUMINANCE,
    LENGTH,
    LUMENS,
    RATIO,
    ROOM_LENGTH,
    SHARE_PERCENT,
)

# Plans bring numpy, which a package without rooms needn't wait for: they are imported where asked.


def _lit(
    measure: Callable[[Package, Room], Measured],
    package: Package,
    uses: tuple[str, ...],
    *,
    unlit: bool = True,
) -> list[Measured]:
    """Measure the rooms of some uses; those without a window in a wall only where `unlit`."""
    rooms = package.rooms_used_for(uses or LIVED_IN)
    lit = [room for room in rooms if unlit or any(_in_walls(package, room))]
    return of_each(lit, partial(measure, package))


def _in_walls(package: Package, room: Room) -> list[Window]:
    return [window for window in package.windows_of(room) if not window.is_rooflight]


def _adf_of(package: Package, room: Room) -> Measured:
    from criteria.plans.by_formula import average_daylight
    from criteria.plans.of_package import drawn

    windows = package.windows_of(room)
    sides = (room.depth_m, room.width_m, room.clear_height_m)
    found = average_daylight(drawn(package, room))
    steps = [Step("room {} × {} × {}", tuple(Amount(side, ROOM_LENGTH) for side in sides))]
    for mark, pane in found.panes:
        glass, angle = Amount(pane.glass_m2, AREA), f"{pane.sky_angle_deg:.4g}"
        parts = (mark, f"{pane.transmittance:g}", glass, angle, f"{pane.maintenance:g}")
        steps.append(Step("{}: {} × {} × {}° × {}", parts))
    value, surface = Amount(found.value, SHARE_PERCENT), Amount(found.surface_m2, AREA)
    last = (surface, f"{found.reflectance:.2f}", value)
    steps.append(Step("together ÷ ({} × (1 − {}²)) = {}", last))
    blank = [w.unless_blank(x) is None for w in windows for x in ("transmittance", "sky_deg")]
    pale = [room.unless_blank(f"{x}_light") is None for x in ("floor", "wall", "ceiling")]
    notes = []
    if any(blank):
        notes.append(Step("clear double glass and open sky taken where a window says none"))
    if any(pale):
        notes.append(Step("surfaces of a pale room taken where the room says none"))
    return Measured(values=(found.value,), steps=tuple(steps), notes=tuple(notes))


def _depth_of(package: Package, room: Room) -> Measured:
    from criteria.plans.by_formula import ask_what_was_proposed, best_depth
    from criteria.plans.of_package import drawn

    sides = (Amount(side, ROOM_LENGTH) for side in (room.depth_m, room.width_m))
    plan = drawn(package, room)
    ask_what_was_proposed(plan, ("faces", "sill"))
    best = best_depth(plan)
    assert best is not None
    value = best.depth_m / best.deepest_m
    lengths = (best.width_m, best.head_m, best.deepest_m, best.depth_m)
    width, head, limit, depth = (Amount(each, ROOM_LENGTH) for each in lengths)
    reflectance = f"{best.rear_reflectance:.2f}"
    steps = (
        Step("room {} × {}", tuple(sides)),
        Step("2 ÷ (1 − {}) ÷ (1 ÷ {} + 1 ÷ {}) = {}", (reflectance, width, head, limit)),
        Step("{} ÷ {} = {}", (depth, limit, Amount(value, RATIO))),
    )
    return Measured(values=(value,), steps=steps)


def _sill_of(package: Package, room: Room) -> Measured:
    sills = gathered(_in_walls(package, room), lambda window: (window.sill_m, window.mark))
    value, mark = min(sills)
    step = Step("lowest sill, {}: {}", (mark, Amount(value, LENGTH)))
    return Measured(values=(value,), steps=(step,))


def _sun_in(package: Package, room: Room) -> Measured:
    from criteria.plans.by_formula import ask_what_was_proposed, possible_sun
    from criteria.plans.of_package import drawn

    site, windows = package.site, package.windows_of(room)
    plan = drawn(package, room)
    if windows:
        ask_what_was_proposed(plan, ("faces", "sill", "wall_mm"))
    suns = possible_sun(plan, site.latitude_deg, site.least_sun_deg)
    steps = tuple(Step("{}: {}", (mark, Amount(3600 * sun.hours, HOURS))) for mark, sun in suns)
    value = max((3600 * sun.hours for _, sun in suns), default=0.0)
    return Measured(values=(value,), steps=steps)


def _sun(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = _lit(_sun_in, package, uses)
    unknown = [each for each in found if not each.values]
    return unknown or [max(found, key=lambda each: each.values)] if found else []


def _lamp_light(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    read_by = [lamp for lamp in package.lights if lamp.task == "reading"]
    in_rooms = [lamp for lamp in package.lights if lamp.task != "reading"]
    lit = {lamp.room for lamp in in_rooms}
    rooms = [room for room in package.rooms if room.mark in lit]
    return [
        *of_each(rooms, lambda room: _room_lit(room, [x for x in in_rooms if x.room == room.mark])),
        *of_each(read_by, _page_lit),
    ]


def _on_plane(lamp: Lamp, n: int, area_m2: float) -> tuple[float, Step]:
    lux = lamps.lux_on_plane(n, lamp.lumens, lamp.used_share, lamp.kept_share, area_m2)
    lit = (Amount(lamp.lumens, LUMENS), f"{lamp.used_share:g}", f"{lamp.kept_share:g}")
    figures = (lamp.mark, n, *lit, Amount(area_m2, FLOOR), Amount(lux, ILLUMINANCE))
    return lux, Step("{}: {} × {} × {} × {} ÷ {} = {}", figures)


def _over_wanted(lux: float, wanted_lx: float, steps: tuple[Step, ...]) -> Measured:
    value = lux / wanted_lx
    figures = (Amount(lux, ILLUMINANCE), Amount(wanted_lx, ILLUMINANCE), Amount(value, RATIO))
    return Measured(values=(value,), steps=(*steps, Step("{} ÷ {} = {}", figures)))


def _room_lit(room: Room, lights: list[Lamp]) -> Measured:
    """Sum the lamps of a room, and hold them to the highest level that one of them is for."""
    found = gathered(lights, lambda lamp: _on_plane(lamp, lamp.n, room.floor_m2))
    wanted = max(gathered(lights, lambda lamp: lamp.wanted_lx))
    lux, lamp = sum(each for each, _ in found), lights[0]
    lit = _over_wanted(lux, wanted, tuple(step for _, step in found))
    if lux >= wanted:
        return lit
    like = (lamp.lumens, lamp.used_share, lamp.kept_share, room.floor_m2)
    more = (lamps.lamps_for(wanted - lux, *like), lamp.mark)
    return replace(lit, notes=(Step("{} more like {} would give it", more),))


def _page_lit(lamp: Lamp) -> Measured:
    """Hold one reading lamp to what it lights: others alike light other pages."""
    lux, step = _on_plane(lamp, 1, lamp.lit_m2)
    return _over_wanted(lux, lamp.wanted_lx, (step,))


DAYLIGHT_CHECKS = (
    Check(
        slug="average_daylight_factor",
        title="Average daylight factor",
        topic="Light and view",
        scales=(SHARE_PERCENT,),
        measure=partial(_lit, _adf_of),
        is_monotone=True,
        schedules=("rooms", "windows", "envelope"),
        uses=LIVED_IN,
        formula="D = Σ(T · A_g · θ · M) ÷ (A · (1 − R²))",
        meaning="T transmittance [1]; A_g glass [m²]; θ sky angle [°]; M what dirt leaves, 0.9 if "
        "not said; A all surfaces of the room [m²]; R their mean reflectance, glass 0.1 [1]; D [%]",
        citations=(ADF,),
        limits="A superseded UK method, good early on: overcast sky, plain box, one mean over the "
        "room. It can't show what EN 17037 asks; the daylight plan can.",
        question="{name} comes to {value} on a grey day, against {target}. Is the lamp on at noon?",
    ),
    Check(
        slug="limiting_depth",
        title="Depth / limiting depth",
        topic="Light and view",
        scales=(RATIO,),
        measure=partial(_lit, _depth_of, unlit=False),
        is_monotone=True,
        schedules=("rooms", "windows"),
        uses=LIVED_IN,
        rule=Rule.AT_MOST,
        formula="r = L ÷ (2 ÷ (1 − R_b) ÷ (1 ÷ W + 1 ÷ H))",
        meaning="L depth and W width of the room [m]; H head of the highest window [m]; R_b mean "
        "reflectance of the rear half [1]",
        citations=(LIMITING_DEPTH,),
        limits="A room lit from one wall; the best wall counts. Rooms without a window are left "
        "to the daylight ratio.",
        question="{name} is {value} of the depth that light reaches, against {target}. Who sits "
        "at the back?",
    ),
    Check(
        slug="lowest_sill",
        title="Lowest sill in rooms sat in",
        topic="Light and view",
        scales=(LENGTH,),
        measure=lambda package, uses: _lit(_sill_of, package, uses or SAT_IN, unlit=False),
        is_monotone=True,
        schedules=("rooms", "windows"),
        uses=SAT_IN,
        rule=Rule.AT_MOST,
        formula="h = min(h_sill)",
        meaning="h_sill finished floor to the underside of the glass [mm]",
        citations=(PRACTICE,),
        limits="A seated eye is near 1,200 mm, lying near 600 mm (common practice). A low sill "
        "over a drop needs a guard.",
        question="The lowest sill of {name} is {value}, against {target}. Can a person at the "
        "table see the ground?",
        caution="Low glass near a drop needs a guard and safety glass as local codes ask.",
    ),
    Check(
        slug="possible_sun",
        title="Possible sun on 21 March",
        topic="Light and view",
        scales=(HOURS,),
        measure=_sun,
        schedules=("rooms", "windows", "envelope", "site"),
        uses=LIVED_IN,
        formula="t = time in which the sun stands before the glass, over its least height",
        meaning="best window or roof light of the best room, solar time, clear sky; least height "
        "of the site sheet",
        citations=(SUN_HOURS, SUN_POSITION),
        limits="The standard asks one room of a dwelling. The reveal and the sky angle are in it, "
        "as an even skyline; eaves and fins are not: draw them in section. South of the equator "
        "it is 21 September.",
        question="{name} can have {value} of sun in March, against {target}. When is it sat in?",
    ),
    Check(
        slug="lamp_light",
        title="Electric light / level wanted",
        topic="Light and view",
        scales=(RATIO,),
        measure=_lamp_light,
        schedules=("lights", "rooms"),
        formula="r = Σ(n · Φ · UF · MF) ÷ A ÷ E",
        meaning="n lamps; Φ light of each [lm]; UF, MF shares that arrive and last [1]; A floor, "
        "or what one reading lamp lights [m²]; E highest level wanted in the room [lx]",
        citations=(TASK_LIGHT,),
        limits="A mean over the room. EN 12464-1's levels are for workplaces and are used by "
        "analogy.",
        question="The lamps of {name} give {value} of what is wanted, against {target}. What do "
        "you read by?",
    ),
)

"""Daylight by the closed formulas, view, sun and electric light."""

from datetime import date

from criteria.checks.check import Check, blank
from criteria.checks.reading import rows_missing
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import lamps, light
from criteria.package import Package
from criteria.schedules.lighting import Lamp
from criteria.schedules.openings import BEARINGS_DEG, Window
from criteria.schedules.rooms import LIVED_IN, Room
from criteria.schedules.site import Site
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

REFLECTANCE = 0.5
"""Mean reflectance of white ceiling and light walls [1]. Common practice."""
KEPT = 0.9
"""Part of the light that dirt leaves on upright glass [1]. BRE practice, quoted."""
CLEAR_DOUBLE = 0.7
"""Transmittance taken where a window's is blank: clear double glass [1]. BRE practice, quoted."""


def _about(room: Room) -> dict[str, str]:
    return {"subject": room.mark, "name": room.name, "use": room.use or ""}


def _glazed(package: Package, room: Room, *heads: str) -> tuple[str, ...]:
    """Return what is blank of a room's windows."""
    if not package.windows:
        return ("rows of the window schedule",)
    windows = package.windows_of(room)
    return tuple(cell for window in windows for cell in blank(Window.schedule, window, *heads))


def _adf(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for room in package.rooms_used_for(uses or LIVED_IN):
        missing = (
            *blank(Room.schedule, room, "depth_m", "width_m", "clear_height_m"),
            *_glazed(package, room, "n", "glass_w", "glass_h"),
        )
        if missing:
            found.append(Measured(missing=missing, **_about(room)))
            continue
        found.append(_adf_of(package, room))
    return found


def _adf_of(package: Package, room: Room) -> Measured:
    # brings numpy, which a package without room depths needn't wait for
    from criteria.daylight.hand import Pane, average_daylight_factor_pct

    l, w, h = room.depth_m or 0, room.width_m or 0, room.clear_height_m or 0
    surface = 2 * (l * w + l * h + w * h)
    panes, steps, assumed = [], [], False
    for window in package.windows_of(room):
        area = light.clear_glass(window.n or 1, window.glass_w_m or 0, window.glass_h_m or 0)
        through = window.transmittance if window.transmittance is not None else CLEAR_DOUBLE
        sky = window.sky_deg if window.sky_deg is not None else 90.0
        assumed = assumed or window.transmittance is None or window.sky_deg is None
        panes.append(
            Pane(glass_m2=area, transmittance=through, sky_angle_deg=sky, maintenance=KEPT)
        )
        figures = (window.mark, f"{through:g}", Amount(area, AREA), f"{sky:g}°", f"{KEPT:g}")
        steps.append(Step("{}: {} × {} × {} × {}", figures))
    value = average_daylight_factor_pct(panes, surface_m2=surface, reflectance=REFLECTANCE) / 100
    last = (Amount(surface, AREA), f"{REFLECTANCE:g}", Amount(value, SHARE_PERCENT))
    steps.append(Step("together ÷ ({} × (1 − {}²)) = {}", last))
    taken = Step("clear double glass and open sky taken where a window says none")
    return Measured(
        values=(value,), steps=tuple(steps), notes=(taken,) if assumed else (), **_about(room)
    )


def _heads_of(package: Package, room: Room) -> float | None:
    tops = [
        w.sill_m + w.glass_h_m
        for w in package.windows_of(room)
        if w.sill_m is not None and w.glass_h_m is not None
    ]
    return max(tops, default=None)


def _reach(width_m: float, head_m: float) -> float:
    from criteria.daylight.depth import limiting_depth_m  # as above

    return limiting_depth_m(width_m=width_m, head_m=head_m, rear_reflectance=REFLECTANCE)


def _depth(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for room in package.rooms_used_for(uses or LIVED_IN):
        if not package.windows_of(room) and package.windows:
            continue
        missing = (
            *blank(Room.schedule, room, "depth_m", "width_m"),
            *_glazed(package, room, "sill", "glass_h"),
        )
        head = _heads_of(package, room)
        if missing or head is None:
            found.append(Measured(missing=missing, **_about(room)))
            continue
        depth, width = room.depth_m or 0, room.width_m or 0
        limit = _reach(width, head)
        value = depth / limit
        figures = (
            f"{REFLECTANCE:g}", Amount(width, ROOM_LENGTH), Amount(head, ROOM_LENGTH),
            Amount(limit, ROOM_LENGTH),
        )  # fmt: skip
        steps = (
            Step("2 ÷ (1 − {}) ÷ (1 ÷ {} + 1 ÷ {}) = {}", figures),
            Step("{} ÷ {} = {}", (Amount(depth, ROOM_LENGTH), figures[-1], Amount(value, RATIO))),
        )
        found.append(Measured(values=(value,), steps=steps, **_about(room)))
    return found


def _lowest_sill(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for room in package.rooms_used_for(uses or ("day", "kitchen", "lab", "work")):
        windows = package.windows_of(room)
        if not windows and package.windows:
            continue
        if missing := _glazed(package, room, "sill"):
            found.append(Measured(missing=missing, **_about(room)))
            continue
        lowest = min(windows, key=lambda window: (window.sill_m or 0, window.mark))
        value = lowest.sill_m or 0
        step = Step("lowest sill, {}: {}", (lowest.mark, Amount(value, LENGTH)))
        found.append(Measured(values=(value,), steps=(step,), **_about(room)))
    return found


EQUINOX = date(2023, 3, 21)
"""21 March of a year in the middle of the leap-year cycle."""


def sunny_s(latitude_deg: float, bearing_deg: float, on: date = EQUINOX) -> float:
    """Return how long the sun can stand before an upright face with nothing outside [s].

    At the equinox a face to the south has the sun all twelve hours, one to the north none:

    >>> round(sunny_s(46.7, 180) / 3600, 1), sunny_s(46.7, 0) < 600
    (12.0, True)
    """
    import numpy as np

    from criteria.daylight.sun import declination_deg, sun_position_deg

    hours = (np.arange(24 * 60) + 0.5) / 60
    altitude, bearing = sun_position_deg(
        latitude_deg=latitude_deg, declination=declination_deg(on), solar_hour=hours
    )
    before = np.cos(np.radians(bearing - bearing_deg)) > 0
    return float(np.count_nonzero(before & (altitude > 0)) * 60)


def _sun(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    latitude = package.site.latitude_deg
    missing = blank(Site.schedule, package.site, "latitude")
    found = []
    for room in package.rooms_used_for(uses or ("day",)):
        cells = (*missing, *_glazed(package, room, "faces"))
        if cells or latitude is None:
            found.append(Measured(missing=cells, **_about(room)))
            continue
        faces = sorted({w.faces for w in package.windows_of(room) if w.faces and w.faces != "up"})
        each_face = [(face, sunny_s(latitude, BEARINGS_DEG[face])) for face in faces]
        value = max((time for _, time in each_face), default=0.0)
        steps = tuple(Step("facing {}: {}", (face, Amount(t, HOURS))) for face, t in each_face)
        found.append(Measured(values=(value,), steps=steps, **_about(room)))
    return found


def _lamp_light(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.lights:
        return rows_missing(Lamp.schedule)
    rooms = {room.mark: room for room in package.rooms}
    found = []
    for lamp in package.lights:
        room = rooms.get(lamp.room or "")
        about = {"subject": lamp.mark, "name": room.name if room else ""}
        missing = blank(Lamp.schedule, lamp, *_LAMP_HEADS)
        missing += blank(Room.schedule, room, "floor_m2") if room else (f"the room of {lamp.mark}",)
        if missing or room is None:
            found.append(Measured(missing=missing, **about))
        else:
            found.append(_lit(lamp, room.floor_m2 or 0, about))
    return found


_LAMP_HEADS = ("n", "lumens", "used_share", "kept_share", "wanted_lx")


def _lit(lamp: Lamp, floor_m2: float, about: dict[str, str]) -> Measured:
    n, lumens, wanted = lamp.n or 0, lamp.lumens or 0, lamp.wanted_lx or 0
    used, kept = lamp.used_share or 0, lamp.kept_share or 0
    lux = lamps.lux_on_plane(n, lumens, used, kept, floor_m2)
    value = lux / wanted
    light_on = Amount(lux, ILLUMINANCE)
    figures = (n, Amount(lumens, LUMENS), f"{used:g}", f"{kept:g}", Amount(floor_m2, FLOOR))
    steps = (
        Step("{} × {} × {} × {} ÷ {} = {}", (*figures, light_on)),
        Step("{} ÷ {} = {}", (light_on, Amount(wanted, ILLUMINANCE), Amount(value, RATIO))),
    )
    return Measured(values=(value,), steps=steps, **about)


AVERAGE_DAYLIGHT_FACTOR = Check(
    slug="average_daylight_factor",
    title="Average daylight factor",
    topic="Light and view",
    scales=(SHARE_PERCENT,),
    measure=_adf,
    schedules=("rooms", "windows"),
    uses=LIVED_IN,
    formula="D = Σ(T · A_g · θ · M) ÷ (A · (1 − R²))",
    meaning="T transmittance [1]; A_g glass [m²]; θ sky angle [°]; M 0.9 for dirt; A all surfaces "
    "of the room [m²]; R 0.5, mean reflectance [1]; D [%]",
    citations=(ADF,),
    limits="A superseded UK method, good early on: overcast sky, plain box, one mean over the "
    "room. It can't show what EN 17037 asks; the daylight plan can.",
    question="{name} comes to {value} on a grey day, against {target}. Is the lamp on at noon?",
)

LIMITING_DEPTH_RATIO = Check(
    slug="limiting_depth",
    title="Depth / limiting depth",
    topic="Light and view",
    scales=(RATIO,),
    measure=_depth,
    schedules=("rooms", "windows"),
    uses=LIVED_IN,
    rule=Rule.AT_MOST,
    formula="r = L ÷ (2 ÷ (1 − R_b) ÷ (1 ÷ W + 1 ÷ H))",
    meaning="L depth and W width of the room [m]; H head of the highest window [m]; R_b 0.5 at the "
    "back",
    citations=(LIMITING_DEPTH,),
    limits="A room lit from one wall. Rooms without a window are left to the daylight ratio.",
    question="{name} is {value} of the depth that light reaches, against {target}. Who sits at the "
    "back?",
)

LOWEST_SILL = Check(
    slug="lowest_sill",
    title="Lowest sill in rooms sat in",
    topic="Light and view",
    scales=(LENGTH,),
    measure=_lowest_sill,
    schedules=("rooms", "windows"),
    uses=("day", "kitchen", "lab", "work"),
    rule=Rule.AT_MOST,
    formula="h = min(h_sill)",
    meaning="h_sill finished floor to the underside of the glass [mm]",
    citations=(PRACTICE,),
    limits="A seated eye is near 1,200 mm, lying near 600 mm (common practice). A low sill over a "
    "drop needs a guard.",
    question="The lowest sill of {name} is {value}, against {target}. Can a person at the table "
    "see the ground?",
    caution="Low glass near a drop needs a guard and safety glass as local codes ask.",
)

POSSIBLE_SUN = Check(
    slug="possible_sun",
    title="Possible sun on 21 March",
    topic="Light and view",
    scales=(HOURS,),
    measure=_sun,
    schedules=("rooms", "windows", "site"),
    uses=("day",),
    formula="t = time in which the sun stands before the glass",
    meaning="best window of the room, solar time, clear sky",
    citations=(SUN_HOURS, SUN_POSITION),
    limits="Hills, trees, eaves and reveals are not in it: draw them in section.",
    question="{name} can have {value} of sun in March, against {target}. When is it sat in?",
)

LAMP_LIGHT = Check(
    slug="lamp_light",
    title="Electric light / level wanted",
    topic="Light and view",
    scales=(RATIO,),
    measure=_lamp_light,
    schedules=("lights", "rooms"),
    formula="r = n · Φ · UF · MF ÷ A ÷ E",
    meaning="n lamps; Φ light of each [lm]; UF, MF shares that arrive and last [1]; A floor [m²]; "
    "E level wanted [lx]",
    citations=(TASK_LIGHT,),
    limits="A mean over the room. EN 12464-1's levels are for workplaces and are used by analogy.",
    question="The lamps of {name} give {value} of what is wanted, against {target}. What do you "
    "read by?",
)

DAYLIGHT_CHECKS = (
    AVERAGE_DAYLIGHT_FACTOR,
    LIMITING_DEPTH_RATIO,
    LOWEST_SILL,
    POSSIBLE_SUN,
    LAMP_LIGHT,
)

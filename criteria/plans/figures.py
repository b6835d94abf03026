"""What a room's daylight comes to, figure by figure, each with its working, source and limits."""

from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

from criteria.daylight import (
    Field,
    Level,
    View,
    daylight_field,
    daylight_provision,
    depth_limits,
    is_within_depth,
    least_average_pct,
    room_average_daylight_factor_pct,
    room_reflectance,
    sunlight_level,
    view_field,
    views_from,
    window_sunlight,
)
from criteria.daylight.field import CELL_M, INSET_M, PLANE_HEIGHT_M
from criteria.daylight.rules import (
    AVERAGE_DAYLIGHT,
    DAYLIGHT_PROVISION,
    LEAST_SHARE,
    SIGHT_ANGLE_DEG,
    SUNLIGHT,
    TARGET_SHARE,
    VIEW_OUT,
)
from criteria.measures import heat, light
from criteria.plans.plan import Placed, RoomPlan
from criteria.schedules.site import Site
from criteria.sources import (
    COOLING,
    HEAT_TRANSFER,
    IRC_LIGHT,
    LIMITING_DEPTH,
    Certainty,
    Citation,
    Source,
)
from criteria.units import HOURS, PERCENT, POWER, RATIO, SHARE_PERCENT, Scale

DAYLIGHT_FACTOR = Scale(PERCENT, PERCENT, 2, 2)
LEVEL_PCT = 2.0
"""Daylight factor over which the share of the plane is shown [%]. Common practice."""
STANDARD_DATE = date(2025, 3, 21)
"""The last of the dates that EN 17037 offers; of the year only the day counts."""
SUN_W_M2 = 500.0
"""Sun on the glass where the site sheet gives none [W/m²]. Common practice."""
SOLAR_FACTOR = 0.5
"""Solar factor where a window gives none: clear double glass with a coating [1]. Practice."""
USES = {"kitchen": ("kitchen",), "day": ("living",), "sleep": ("bedroom",)}
"""Uses as BS 8206-2 names them; it speaks of no others."""

SHUTTERS = Citation(
    Source("ISO 10077-1", "2017", "nobody by itself; building codes refer to it"),
    "windows with closed shutters",
    Certainty.MEMORY,
)
_METHOD = (
    "Sky, ground and what stands outside in closed form; reflections by radiosity; CIE overcast "
    "sky. Against ray tracing of six open cases the mean is within 0.3 %, the minimum within 1.5 %"
)
_EMPTY = "An empty rectangular room under an overcast sky: no furniture, no sun, no overhang."


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One figure of a room.

    value       in SI (shares as fractions), None where it is in words or can't be had
    words       what it is in words, where a number says less
    working     the formula with this room's numbers
    missing     the cells that are blank
    note        what a reader must know of this figure
    """

    key: str
    name: str
    scale: Scale
    value: float | None = None
    words: str = ""
    working: str = ""
    source: str = ""
    limits: str = ""
    missing: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False)
class RoomLight:
    """A room's daylight: the field it is judged by, the field that is drawn, and the figures.

    drawn       from wall to wall
    shares      part of the light that each opening brings, as `plan.in_order` [1]
    heat_w      lost through each opening on the coldest night [W]; None where a cell is blank
    sun_w       sun let in by each opening [W]
    """

    plan: RoomPlan
    field: Field
    drawn: Field
    figures: tuple[Figure, ...]
    views: tuple[View, ...]
    heat_w: tuple[float | None, ...]
    sun_w: tuple[float, ...]

    @property
    def shares(self) -> tuple[float, ...]:
        return self.field.opening_shares

    def figure(self, key: str) -> Figure:
        """Return one figure."""
        return next(figure for figure in self.figures if figure.key == key)


def inset_of(plan: RoomPlan) -> float:
    """Band along the walls that is left out: 0.5 m, less in a room too narrow for it [m]."""
    return min(INSET_M, min(plan.shell.length_m, plan.shell.width_m) / 4)


@lru_cache(maxsize=64)
def room_light(plan: RoomPlan, site: Site) -> RoomLight:
    """Compute everything that is shown of a room's daylight; kept for rooms asked of lately.

    Raises ImpossibleInput where the openings can't stand as they are given.
    """
    room = plan.room
    field = daylight_field(room, inset_m=inset_of(plan))
    views = views_from(room, plan.seats)
    heat_w = tuple(heat_lost_w(placed, site) for placed in plan.in_order)
    sun_w = tuple(sun_let_in_w(placed, site) for placed in plan.in_order)
    groups = (
        _field_figures(plan, field),
        _held_to(plan, field, site),
        _depth(plan, field),
        _view(plan, views),
        _sun_and_glass(plan, site),
        _heat(plan, site, heat_w, sun_w),
    )
    return RoomLight(
        plan=plan,
        field=field,
        drawn=daylight_field(room, inset_m=0, cell_m=CELL_M),
        figures=tuple(figure for group in groups for figure in group),
        views=views,
        heat_w=heat_w,
        sun_w=sun_w,
    )


def heat_lost_w(placed: Placed, site: Site) -> float | None:
    """Heat through one window on the coldest night: U · A · ΔT, the frame in its area [W]."""
    inside, outside = site.design_inside_k, site.design_outside_k
    if placed.frame_m2 is None or placed.u_w_m2k is None or inside is None or outside is None:
        return None
    return heat.heat_loss(placed.u_w_m2k * placed.frame_m2, 0.0, inside, outside)


def shuttered(placed: Placed) -> Placed:
    """The window with its shutter closed: U_ws = 1 / (1 / U_w + ΔR)  [W/m²K].

    U_w   of the window alone               [W/m²K]
    ΔR    of the shutter and its air space  [m²K/W]

    Source: ISO 10077-1 (from memory). Without a shutter, the window as it is.
    """
    if placed.u_w_m2k is None or not placed.shutter_m2k_w:
        return placed
    return replace(placed, u_w_m2k=1 / (1 / placed.u_w_m2k + placed.shutter_m2k_w))


def sun_let_in_w(placed: Placed, site: Site) -> float:
    """Sun through one window on a bright afternoon: A · g · I, none through one to the north [W].

    Common practice where the site or the window gives no figure: SUN_W_M2, SOLAR_FACTOR.
    """
    if placed.face == "N":
        return 0.0
    sun = SUN_W_M2 if site.sun_w_m2 is None else site.sun_w_m2
    factor = SOLAR_FACTOR if placed.solar_factor is None else placed.solar_factor
    return heat.solar_gain(placed.glass_m2, factor, sun)


def _field_figures(plan: RoomPlan, field: Field) -> tuple[Figure, ...]:
    grid = f"{len(field.x_m)} × {len(field.y_m)} points"
    plane = f"{PLANE_HEIGHT_M:g} m above the floor, {field.inset_m:.2g} m in from the walls"
    common = {
        "scale": DAYLIGHT_FACTOR,
        "source": f"EN 17037 (plane), CIE S 011 (sky). {_METHOD}",
        "limits": f"{_EMPTY} Without the band left out the mean is 6 to 40 % higher.",
    }
    bright = field.share_at_or_over(LEVEL_PCT)
    return (
        Figure(
            key="median", name="Median daylight factor", value=field.median_pct / 100,
            working=f"half of {grid} have it or more; {plane}", **common,
        ),
        Figure(
            key="mean", name="Mean", value=field.mean_pct / 100,
            working=f"mean of {grid}; {plane}", **common,
        ),
        Figure(
            key="minimum", name="Minimum", value=field.minimum_pct / 100,
            working=f"lowest of {grid}", **common,
        ),
        Figure(
            key="uniformity", name="Uniformity", value=field.uniformity,
            words="" if field.uniformity is not None else "no light",
            working="" if field.uniformity is None
            else f"{field.minimum_pct:.2f} % ÷ {field.mean_pct:.2f} % = {field.uniformity:.2f}",
            **{**common, "scale": RATIO},
        ),
        Figure(
            key="bright", name=f"Floor at {LEVEL_PCT:g} % or over", value=bright,
            working=f"{bright * field.df_pct.size:.0f} of {field.df_pct.size} points",
            **{**common, "scale": SHARE_PERCENT},
        ),
    )  # fmt: skip


def _held_to(plan: RoomPlan, field: Field, site: Site) -> tuple[Figure, ...]:
    room = plan.room
    value = room_average_daylight_factor_pct(room)
    uses = USES.get(plan.use)
    asked = f"; it asked {least_average_pct(uses):g} % of such a room" if uses else ""
    reflectance = room_reflectance(room)
    return (
        _provision(field, site),
        Figure(
            key="average", name="Average by formula, superseded", scale=DAYLIGHT_FACTOR,
            value=value / 100,
            working=f"Σ(T · A_g · θ · M) ÷ ({room.surface_m2:.1f} m² × (1 − {reflectance:.2f}²)) "
            f"= {value:.2f} %{asked}",
            source=str(AVERAGE_DAYLIGHT),
            limits="One mean by hand, withdrawn: never held against EN 17037's shares of the "
            "floor.",
        ),
    )  # fmt: skip


def _provision(field: Field, site: Site) -> Figure:
    about = {
        "key": "provision", "name": "Daylight provision", "scale": SHARE_PERCENT,
        "source": str(DAYLIGHT_PROVISION),
        "limits": "By daylight factors, one median sky for the year. Levels of EN 17037: minimum, "
        "medium, high.",
    }  # fmt: skip
    if site.median_diffuse_lx is None:
        return Figure(missing=("Median daylight outdoors (site sheet)",), **about)
    found = daylight_provision(field, median_diffuse_lx=site.median_diffuse_lx)
    first = found.steps[0]
    level = "below minimum" if found.level is Level.NONE else str(found.level)
    parts = [
        f"minimum asks {first.target_pct:.2f} % over {100 * TARGET_SHARE:.0f} % of the floor, "
        f"had over {100 * first.target_share:.0f} %"
    ]
    if first.least_pct is not None and first.least_share is not None:
        parts.append(
            f"and {first.least_pct:.2f} % over {100 * LEAST_SHARE:.0f} %, had over "
            f"{100 * first.least_share:.0f} %"
        )
    outdoors = f"{site.median_diffuse_lx:,.0f} lx outdoors: "
    return Figure(words=level, working=outdoors + " ".join(parts), **about)


def _depth(plan: RoomPlan, field: Field) -> tuple[Figure, ...]:
    room = plan.room
    limits = depth_limits(room)
    best = min(limits, key=lambda limit: limit.sum / limit.limit, default=None)
    depth = Figure(
        key="depth", name="Depth / limiting depth", scale=RATIO,
        value=None if best is None else best.depth_m / best.deepest_m,
        words="" if best else "no window in a wall",
        note="" if best is None else "within" if is_within_depth(room) else "over",
        working="" if best is None
        else f"{best.depth_m:.2f} m behind the {plan.face_of(best.wall)} wall; "
        f"2 ÷ (1 − {best.rear_reflectance:.2f}) ÷ (1 ÷ {best.width_m:.2f} m + "
        f"1 ÷ {best.head_m:.2f} m) = {best.deepest_m:.2f} m",
        source=str(LIMITING_DEPTH), limits="For rooms lit from one wall; the best wall is shown.",
    )  # fmt: skip
    dark = Figure(
        key="no_sky", name="Floor that sees no sky", scale=SHARE_PERCENT, value=field.no_sky_share,
        working=f"counted over the whole plane at {PLANE_HEIGHT_M:g} m, wall to wall",
        source="BR 209 (no-sky line). From memory",
        limits="Sky through the clear glass as placed; what stands outside as the sky angle says.",
    )  # fmt: skip
    return dark, depth


def _view(plan: RoomPlan, views: tuple[View, ...]) -> tuple[Figure, ...]:
    field = view_field(plan.room, inset_m=inset_of(plan))
    least = SIGHT_ANGLE_DEG[Level.MINIMUM]
    share = field.share_with_angle(least)
    layers = field.level_of_layers
    figures = [
        Figure(
            key="view", name=f"Floor with a view at least {least:g}° wide", scale=SHARE_PERCENT,
            value=share, note=f"layers seen over 75 %: {_layer_words(layers)}",
            working=f"{share * field.sight_angle_deg.size:.0f} of {field.sight_angle_deg.size} "
            f"points, eye at {field.eye_height_m:g} m",
            source=str(VIEW_OUT),
            limits="Width and layers (sky, landscape, ground); nothing of what is worth seeing.",
        )
    ]  # fmt: skip
    for view in views:
        level = "distance not given" if view.level is None else str(view.level)
        figures.append(
            Figure(
                key=f"view-{view.mark}", name=f"View from {view.mark}", scale=RATIO, words=level,
                working=f"{view.sight_angle_deg:.0f}° wide, {view.layers} of 3 layers, eye at "
                f"{view.eye_height_m:.2f} m",
                source=str(VIEW_OUT), limits="From one place, looking straight at the glass.",
            )
        )  # fmt: skip
    return tuple(figures)


def _layer_words(level: Level) -> str:
    return {
        Level.NONE: "none for sure",
        Level.MINIMUM: "landscape",
        Level.MEDIUM: "landscape and one more",
        Level.HIGH: "sky, landscape and ground",
    }[level]


def _sun_and_glass(plan: RoomPlan, site: Site) -> tuple[Figure, ...]:
    room = plan.room
    glass = sum(placed.glass_m2 for placed in plan.openings)
    ratio = Figure(
        key="ratio", name="Daylight ratio", scale=SHARE_PERCENT,
        value=light.daylight_ratio(glass, plan.floor_m2),
        working=f"{glass:.2f} m² of clear glass ÷ {plan.floor_m2:.1f} m² of floor",
        source=str(IRC_LIGHT), limits="Says nothing of where the glass is.",
    )  # fmt: skip
    about = {
        "key": "sun", "name": "Possible sun on 21 March", "scale": HOURS, "source": str(SUNLIGHT),
        "limits": "Clear sky, solar time, the best window; reveals and skyline in it, eaves not.",
    }  # fmt: skip
    if not room.windows:
        return ratio, Figure(words="no window in a wall", **about)
    if site.latitude_deg is None:
        return ratio, Figure(missing=("Latitude (site sheet)",), **about)
    suns = [
        window_sunlight(room, each, latitude_deg=site.latitude_deg, on=STANDARD_DATE)
        for each in room.windows
    ]
    best = max(range(len(suns)), key=lambda which: suns[which].hours)
    level = sunlight_level(suns[best].hours)
    spells = ", ".join(f"{_clock(a)} to {_clock(b)}" for a, b in suns[best].spells) or "none"
    return ratio, Figure(
        value=3600 * suns[best].hours, working=f"{room.windows[best].mark}: {spells}, solar time",
        note="under 1.5 h" if level is Level.NONE else f"EN 17037: {level}", **about,
    )  # fmt: skip


def _clock(hour: float) -> str:
    minutes = round(60 * hour)
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _heat(
    plan: RoomPlan, site: Site, heat_w: tuple[float | None, ...], sun_w: tuple[float, ...]
) -> tuple[Figure, ...]:
    missing = []
    if site.design_inside_k is None or site.design_outside_k is None:
        missing.append("Design inside and Design outside (site sheet)")
    for placed in plan.in_order:
        if placed.frame_m2 is None:
            missing.append(f"{placed.mark}, Frame w and Frame h (window schedule)")
        if placed.u_w_m2k is None:
            missing.append(f"{placed.mark}, U (window schedule)")
    known = [loss for loss in heat_w if loss is not None]
    across = (site.design_inside_k or 0) - (site.design_outside_k or 0)
    lost = Figure(
        key="heat", name="Heat lost through its windows", scale=POWER,
        value=None if missing else sum(known), missing=tuple(dict.fromkeys(missing)),
        working=_sum_words(known, f"U · A · {across:.0f} K"), source=str(HEAT_TRANSFER),
        limits="Coldest night, frame in the area, joints left out.",
    )  # fmt: skip
    taken = []
    if site.sun_w_m2 is None:
        taken.append(f"sun {SUN_W_M2:g} W/m² taken, the site sheet gives none")
    if any(placed.solar_factor is None for placed in plan.openings):
        taken.append(f"solar factor {SOLAR_FACTOR:g} taken where a window gives none")
    gain = Figure(
        key="gain", name="Sun let in at most", scale=POWER, value=sum(sun_w),
        working=_sum_words(list(sun_w), "A · g · I"), note="; ".join(taken), source=str(COOLING),
        limits="All windows in full sun at once but those to the north; no shade.",
    )  # fmt: skip
    return lost, _shut(plan, site, lost), gain


def _shut(plan: RoomPlan, site: Site, lost: Figure) -> Figure:
    """The night: the same loss with every shutter closed that there is."""
    have = [placed.mark for placed in plan.in_order if placed.shutter_m2k_w]
    about = {
        "key": "shut", "name": "The same, shutters closed", "scale": POWER,
        "source": str(SHUTTERS), "limits": "Shutters that close tight, with still air behind them.",
    }  # fmt: skip
    if not have:
        return Figure(words="no shutter", working="no window gives what a shutter adds", **about)
    if lost.missing:
        return Figure(missing=lost.missing, **about)
    each = [heat_lost_w(shuttered(placed), site) or 0.0 for placed in plan.in_order]
    return Figure(
        value=sum(each), note=f"shutters on {', '.join(have)}",
        working=_sum_words(each, "A · ΔT ÷ (1 ÷ U + ΔR)"), **about,
    )  # fmt: skip


def _sum_words(parts: list[float], formula: str) -> str:
    each = " + ".join(f"{part:.0f}" for part in parts) or "0"
    return f"{formula}: {each} = {sum(parts):.0f} W"

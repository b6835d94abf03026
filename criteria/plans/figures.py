"""What a room's daylight comes to, figure by figure, each with its working, source and limits."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from criteria.daylight import (
    Field,
    Level,
    View,
    daylight_field,
    daylight_provision,
    least_average_pct,
    sunlight_level,
    view_field,
    views_from,
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
from criteria.measures import light
from criteria.plans.by_formula import average_daylight, best_depth, possible_sun
from criteria.plans.figure import Figure
from criteria.plans.plan import RoomPlan
from criteria.plans.window_heat import heat_figures, heat_lost_w, sun_let_in_w
from criteria.schedules.site import Site
from criteria.sources import IRC_LIGHT, LIMITING_DEPTH
from criteria.units import HOURS, ILLUMINANCE, PERCENT, RATIO, SHARE_PERCENT, Scale

DAYLIGHT_FACTOR = Scale(PERCENT, PERCENT, 2, 2)
LEVEL_PCT = 2.0
"""Daylight factor over which the share of the plane is shown [%]. Common practice."""
USES = {"kitchen": ("kitchen",), "day": ("living",), "sleep": ("bedroom",)}
"""Uses as BS 8206-2 names them; it speaks of no others."""

_METHOD = (
    "Sky, ground and what stands outside in closed form; reflections by radiosity; CIE overcast "
    "sky. Against ray tracing of six open cases the mean is within 0.3 %, the minimum within 1.5 %"
)
_EMPTY = "An empty rectangular room under an overcast sky: no furniture, no sun, no overhang."


@dataclass(frozen=True, kw_only=True, eq=False)
class RoomLight:
    """A room's daylight: the field it is judged by, the field that is drawn, and the figures.

    drawn       from wall to wall
    shares      part of the light that each opening brings, as `plan.in_order` [1]
    heat_w      lost through each opening on the coldest night [W]; None where a cell is blank
    sun_w       sun let in by each opening [W]; None where the site's was refused
    """

    plan: RoomPlan
    field: Field
    drawn: Field
    figures: tuple[Figure, ...]
    views: tuple[View, ...]
    heat_w: tuple[float | None, ...]
    sun_w: tuple[float | None, ...]

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
        heat_figures(plan, site, heat_w, sun_w),
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


def _field_figures(plan: RoomPlan, field: Field) -> tuple[Figure, ...]:
    grid = f"{len(field.x_m)} × {len(field.y_m)} points"
    plane = f"{PLANE_HEIGHT_M:g} m above the floor, {field.inset_m:.2g} m in from the walls"
    common: dict[str, Any] = {
        "scale": DAYLIGHT_FACTOR,
        "source": f"EN 17037 (plane), CIE S 011 (sky). {_METHOD}",
        "limits": f"{_EMPTY} Without the band left out the mean is 6 to 40 % higher.",
    }

    def of(key: str, name: str, value: float | None, working: str, **other: Any) -> Figure:
        return Figure(key=key, name=name, value=value, working=working, **{**common, **other})

    uniformity, words, even = field.uniformity, "no light", ""
    if uniformity is not None:
        words = ""
        even = f"{field.minimum_pct:.2f} % ÷ {field.mean_pct:.2f} % = {uniformity:.2f}"
    bright, points = field.share_at_or_over(LEVEL_PCT), field.df_pct.size
    counted = f"{bright * points:.0f} of {points} points"
    half = f"half of {grid} have it or more; {plane}"
    return (
        of("median", "Median daylight factor", field.median_pct / 100, half),
        of("mean", "Mean", field.mean_pct / 100, f"mean of {grid}; {plane}"),
        of("minimum", "Minimum", field.minimum_pct / 100, f"lowest of {grid}"),
        of("uniformity", "Uniformity", uniformity, even, words=words, scale=RATIO),
        of("bright", f"Floor at {LEVEL_PCT:g} % or over", bright, counted, scale=SHARE_PERCENT),
    )


def _held_to(plan: RoomPlan, field: Field, site: Site) -> tuple[Figure, ...]:
    found, uses = average_daylight(plan), USES.get(plan.use)
    asked = f"; it asked {least_average_pct(uses):g} % of such a room" if uses else ""
    return (
        _provision(field, site),
        Figure(
            key="average",
            name="Average by formula, superseded",
            scale=DAYLIGHT_FACTOR,
            value=found.value,
            working=f"Σ(T · A_g · θ · M) ÷ ({found.surface_m2:.1f} m² × "
            f"(1 − {found.reflectance:.2f}²)) = {100 * found.value:.2f} %{asked}",
            source=str(AVERAGE_DAYLIGHT),
            limits="One mean by hand, withdrawn: never held against EN 17037's shares of the "
            "floor.",
        ),
    )


def _provision(field: Field, site: Site) -> Figure:
    about: dict[str, Any] = {
        "key": "provision",
        "name": "Daylight provision",
        "scale": SHARE_PERCENT,
        "source": str(DAYLIGHT_PROVISION),
        "limits": "By daylight factors, one median sky for the year. Levels of EN 17037: minimum, "
        "medium, high.",
    }
    outdoors_lx = site.typed("median_diffuse_lx")
    if outdoors_lx is None:
        return Figure(missing=(str(site.cell("median_diffuse_lx")),), **about)
    found = daylight_provision(field, median_diffuse_lx=outdoors_lx)
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
    outdoors = f"{ILLUMINANCE.write(outdoors_lx)} outdoors: "
    return Figure(words=level, working=outdoors + " ".join(parts), **about)


def _depth(plan: RoomPlan, field: Field) -> tuple[Figure, ...]:
    best = best_depth(plan)
    depth = Figure(
        key="depth",
        name="Depth / limiting depth",
        scale=RATIO,
        value=None if best is None else best.depth_m / best.deepest_m,
        words="" if best else "no window in a wall",
        note="" if best is None else "within" if best.is_within else "over",
        working=""
        if best is None
        else f"{best.depth_m:.2f} m behind the {plan.face_of(best.wall)} wall; "
        f"2 ÷ (1 − {best.rear_reflectance:.2f}) ÷ (1 ÷ {best.width_m:.2f} m + "
        f"1 ÷ {best.head_m:.2f} m) = {best.deepest_m:.2f} m",
        source=str(LIMITING_DEPTH),
        limits="For rooms lit from one wall; the best wall is shown.",
    )
    dark = Figure(
        key="no_sky",
        name="Floor that sees no sky",
        scale=SHARE_PERCENT,
        value=field.no_sky_share,
        working=f"counted over the whole plane at {PLANE_HEIGHT_M:g} m, wall to wall",
        source="BR 209 (no-sky line). From memory",
        limits="Sky through the clear glass as placed; what stands outside as the sky angle says.",
    )
    return dark, depth


def _view(plan: RoomPlan, views: tuple[View, ...]) -> tuple[Figure, ...]:
    field = view_field(plan.room, inset_m=inset_of(plan))
    least = SIGHT_ANGLE_DEG[Level.MINIMUM]
    share = field.share_with_angle(least)
    layers = field.level_of_layers
    figures = [
        Figure(
            key="view",
            name=f"Floor with a view at least {least:g}° wide",
            scale=SHARE_PERCENT,
            value=share,
            note=f"layers seen over 75 %: {_layer_words(layers)}",
            working=f"{share * field.sight_angle_deg.size:.0f} of {field.sight_angle_deg.size} "
            f"points, eye at {field.eye_height_m:g} m",
            source=str(VIEW_OUT),
            limits="Width and layers (sky, landscape, ground); nothing of what is worth seeing.",
        )
    ]
    for view in views:
        level = "distance not given" if view.level is None else str(view.level)
        figures.append(
            Figure(
                key=f"view-{view.mark}",
                name=f"View from {view.mark}",
                scale=RATIO,
                words=level,
                working=f"{view.sight_angle_deg:.0f}° wide, {view.layers} of 3 layers, eye at "
                f"{view.eye_height_m:.2f} m",
                source=str(VIEW_OUT),
                limits="From one place, looking straight at the glass.",
            )
        )
    return tuple(figures)


def _layer_words(level: Level) -> str:
    return {
        Level.NONE: "none for sure",
        Level.MINIMUM: "landscape",
        Level.MEDIUM: "landscape and one more",
        Level.HIGH: "sky, landscape and ground",
    }[level]


def _sun_and_glass(plan: RoomPlan, site: Site) -> tuple[Figure, ...]:
    glass = sum(placed.glass_m2 for placed in plan.openings)
    ratio = Figure(
        key="ratio",
        name="Daylight ratio",
        scale=SHARE_PERCENT,
        value=light.daylight_ratio(glass, plan.floor_m2),
        working=f"{glass:.2f} m² of clear glass ÷ {plan.floor_m2:.1f} m² of floor",
        source=str(IRC_LIGHT),
        limits="Says nothing of where the glass is.",
    )
    return ratio, _sun(plan, site)


def _sun(plan: RoomPlan, site: Site) -> Figure:
    about: dict[str, Any] = {
        "key": "sun",
        "name": "Possible sun on 21 March",
        "scale": HOURS,
        "source": str(SUNLIGHT),
        "limits": "Clear sky, solar time, the best window or roof light; reveals and skyline in "
        "it, eaves not. South of the equator, 21 September.",
    }
    if not plan.openings:
        return Figure(words="no window", **about)
    latitude, least = site.typed("latitude_deg"), site.typed("least_sun_deg")
    if latitude is None or least is None:
        given = {"latitude_deg": latitude, "least_sun_deg": least}
        missing = (str(site.cell(name)) for name, value in given.items() if value is None)
        return Figure(missing=tuple(missing), **about)
    mark, best = possible_sun(plan, latitude, least)[0]
    level = sunlight_level(best.hours)
    spells = ", ".join(f"{_clock(a)} to {_clock(b)}" for a, b in best.spells) or "none"
    return Figure(
        value=3600 * best.hours,
        working=f"{mark}: {spells}, solar time, over {least:g}°",
        note="under 1.5 h" if level is Level.NONE else f"EN 17037: {level}",
        **about,
    )


def _clock(hour: float) -> str:
    minutes = round(60 * hour)
    return f"{minutes // 60:02}:{minutes % 60:02}"

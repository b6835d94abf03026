"""Heat lost and sun let in through each window of a room, and what they come to."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from criteria.findings import Amount, Step, listed
from criteria.measures import heat
from criteria.plans.figure import Figure
from criteria.plans.plan import Placed, RoomPlan
from criteria.schedules.openings import Window
from criteria.schedules.site import Site
from criteria.sources import COOLING, HEAT_TRANSFER, Certainty, Citation, Source
from criteria.units import POWER

SUN_W_M2 = 500.0
"""Sun on the glass where the site sheet gives none [W/m²]. Common practice."""
SOLAR_FACTOR = 0.5
"""Solar factor where a window gives none: clear double glass with a coating [1]. Practice."""

SHUTTERS = Citation(
    Source("ISO 10077-1", "2017", "nobody by itself; building codes refer to it"),
    "windows with closed shutters",
    Certainty.MEMORY,
)


def heat_lost_w(placed: Placed, site: Site) -> float | None:
    """Heat through one window on the coldest night: U · A · ΔT, the frame in its area [W]."""
    inside, outside = site.typed("design_inside_k"), site.typed("design_outside_k")
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


def sun_let_in_w(placed: Placed, site: Site) -> float | None:
    """Sun through one window on a bright afternoon: A · g · F · I [W].

    As the cooling load counts it, but for common practice where the site or the window says
    nothing: SUN_W_M2, SOLAR_FACTOR. None where the site's sun or latitude was refused.
    """
    if {"sun_w_m2", "latitude_deg"} & set(site.refused):
        return None
    given = site.typed("sun_w_m2")
    design = SUN_W_M2 if given is None else given
    sun = heat.sun_on_glass(design, placed.face, site.typed("latitude_deg"), placed.sun_share)
    factor = SOLAR_FACTOR if placed.solar_factor is None else placed.solar_factor
    return heat.solar_gain(placed.glass_m2, factor, sun)


def heat_figures(
    plan: RoomPlan, site: Site, heat_w: Sequence[float | None], sun_w: Sequence[float | None]
) -> tuple[Figure, ...]:
    """Return what its windows lose with and without shutters, and the sun that they let in."""
    missing = _lacking(site, "design_inside_k", "design_outside_k")
    for placed in plan.in_order:
        heads = [] if placed.frame_m2 is not None else ["frame_w", "frame_h"]
        heads += [] if placed.u_w_m2k is not None else ["u"]
        labels = (Window.schedule.column(head).label for head in heads)
        missing += [f"{placed.mark}, {label} (window schedule)" for label in labels]
    known = [loss for loss in heat_w if loss is not None]
    across = "" if missing else f"{site.design_inside_k - site.design_outside_k:.0f} K"
    lost = Figure(
        key="heat",
        name="Heat lost through its windows",
        scale=POWER,
        value=None if missing else sum(known),
        missing=tuple(dict.fromkeys(missing)),
        working=_sum_words(known, f"U · A · {across}"),
        source=str(HEAT_TRANSFER),
        limits="Coldest night, frame in the area, joints left out.",
    )
    return lost, _shut(plan, site, lost), _gain(plan, site, sun_w)


def _lacking(site: Site, *attributes: str) -> list[str]:
    return [str(site.cell(name)) for name in attributes if site.typed(name) is None]


def _shut(plan: RoomPlan, site: Site, lost: Figure) -> Figure:
    """The night: the same loss with every shutter closed that there is."""
    have = [placed.mark for placed in plan.in_order if placed.shutter_m2k_w]
    about: dict[str, Any] = {
        "key": "shut",
        "name": "The same, shutters closed",
        "scale": POWER,
        "source": str(SHUTTERS),
        "limits": "Shutters that close tight, with still air behind them.",
    }
    if not have:
        return Figure(words="no shutter", working="no window gives what a shutter adds", **about)
    if lost.missing:
        return Figure(missing=lost.missing, **about)
    losses = (heat_lost_w(shuttered(placed), site) for placed in plan.in_order)
    each = [loss for loss in losses if loss is not None]
    return Figure(
        value=sum(each),
        note=f"shutters on {', '.join(have)}",
        working=_sum_words(each, "A · ΔT ÷ (1 ÷ U + ΔR)"),
        **about,
    )


def _gain(plan: RoomPlan, site: Site, sun_w: Sequence[float | None]) -> Figure:
    known = [sun for sun in sun_w if sun is not None]
    refused = [str(site.cell(x)) for x in ("sun_w_m2", "latitude_deg") if x in site.refused]
    taken = []
    if site.typed("sun_w_m2") is None:
        taken.append(f"sun {SUN_W_M2:g} W/m² taken, the site sheet gives none")
    if any(placed.solar_factor is None for placed in plan.openings):
        taken.append(f"solar factor {SOLAR_FACTOR:g} taken where a window gives none")
    if site.typed("latitude_deg") is None:
        taken.append("no latitude given: sun is counted on every face")
    return Figure(
        key="gain",
        name="Sun let in at most",
        scale=POWER,
        missing=tuple(refused),
        value=None if refused else sum(known),
        working=_sum_words(known, "A · g · F · I"),
        note="" if refused else "; ".join(taken),
        source=str(COOLING),
        limits="All windows in full sun at once but those that look to the nearer pole; roof "
        "lights take 1.8 times the sun of walls; shade as the rows say.",
    )


def _sum_words(parts: Sequence[float], formula: str) -> Step:
    each = listed([Amount(part, POWER) for part in parts or [0.0]], " + ")
    return Step("{}: {} = {}", (formula, each, Amount(sum(parts), POWER)))

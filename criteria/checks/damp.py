"""Damp: mould on inside surfaces, and wetting between layers, in the site's design cold."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial

from criteria.checks.check import Check
from criteria.checks.envelope import layers_of, part_resistance
from criteria.checks.heat import TEMPERATURE_DIFFERENCE
from criteria.checks.reading import gathered, measured
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import condensation as damp
from criteria.measures.envelope import SURFACES_M2K_W, layer_resistance
from criteria.package import Package
from criteria.schedules.air import Vent
from criteria.schedules.envelope import PARTS, Layer
from criteria.schedules.openings import Window
from criteria.schedules.states import NIGHT
from criteria.sources import BETWEEN_LAYERS, PRACTICE, SURFACE_FACTOR
from criteria.typed.cells import lacking, require_some
from criteria.units import (
    AIR_FLOW,
    AIR_LAYER,
    DAYS,
    FT3,
    LB,
    MASS_ON_AREA,
    ONE,
    RATIO,
    RESISTANCE,
    SHARE_PERCENT,
    TEMPERATURE,
    THICKNESS,
    U_VALUE,
    Scale,
    Unit,
)

FACTOR = Scale(ONE, ONE, 3, 3)
"""Temperature factors are written to the third place, as the trade does."""
ZERO_C_K = 273.15
INSIDE_HUMIDITY, OUTSIDE_HUMIDITY = 0.5, 0.8
"""Taken of the air [1]. ISO 13788 and common practice, from memory."""
VAPOUR = Scale(
    Unit("g/m³", "vapour in air", Fraction(1, 1000)),
    Unit("gr/ft³", "vapour in air", LB.factor / 7000 / FT3.factor),
    1,
    2,
)
GIVEN = Scale(
    Unit("g/h", "water given off", Fraction(1, 3_600_000)),
    Unit("lb/h", "water given off", LB.factor / 3600),
    0,
    3,
)
"""Both are shown in working and never read."""
WINTER_S = 30 * 86_400.0
"""So long the design cold is taken to last [s]. Common practice: long for a snap, steady."""

_CAUTION = (
    "A first look: corners, steel frames and other bridges are colder and wetter than their layers "
    "say. Whoever knows the local climate and codes decides what a wall is made of."
)


def _weather(package: Package) -> tuple[float, float]:
    """Return the site's design temperatures, inside and outside [°C]."""
    inside, outside = package.site.design_inside_k, package.site.design_outside_k
    if inside <= outside:
        raise lacking("Design inside, warmer than outside (site sheet)")
    return inside - ZERO_C_K, outside - ZERO_C_K


def _celsius(celsius: float) -> Amount:
    return Amount(celsius + ZERO_C_K, TEMPERATURE)


@dataclass(frozen=True)
class Face:
    """An inside surface: what stands behind it, and what is asked of it.

    resistance      as its U-value has it, of which `inside` is the surface's own [m²K/W]
    at              resistance at the surface where it is asked about [m²K/W]
    at_surface      most humidity there [1]: 0.8 against mould, 1 against water that runs
    """

    name: str
    resistance: float
    inside: float
    at: float
    at_surface: float
    steps: tuple[Step, ...] = ()


def _part(package: Package, part: str) -> Face:
    known, inside = part_resistance(package, part), SURFACES_M2K_W[part][0]
    return Face(
        part,
        known.resistance,
        inside,
        damp.SURFACE_INSIDE_M2K_W,
        damp.MOULD_HUMIDITY,
        known.steps,
    )


def _window(row: Window) -> Face:
    resistance = 1 / row.u_w_m2k
    figures = (Amount(row.u_w_m2k, U_VALUE), Amount(resistance, RESISTANCE))
    glass = damp.GLASS_INSIDE_M2K_W
    return Face(row.mark, resistance, glass, glass, 1.0, (Step("1 ÷ {} = {}", figures),))


@dataclass(frozen=True)
class Air:
    """Air of a building in the design cold.

    inside, outside   temperatures [°C]
    humidity          inside [1]
    """

    inside: float
    outside: float
    humidity: float
    steps: tuple[Step, ...]
    notes: tuple[Step, ...]


def _air(package: Package) -> Air:
    """Return the air that people in it make of what vents bring; as aired rooms where none is."""
    inside, outside = _weather(package)
    vents = package.rows_of(Vent)
    if not vents:
        assumed = Step("assumed {}: no air is given", (Amount(INSIDE_HUMIDITY, SHARE_PERCENT),))
        return Air(inside, outside, INSIDE_HUMIDITY, (), (assumed,))
    flow = sum(gathered(vents, lambda vent: vent.n * vent.flow_m3_s))
    people, each = package.sleepers, damp.ASLEEP_KG_S
    if not flow:
        raise lacking("fresh air, without which it never settles (vent schedule)")
    given = damp.given_kg_m3(people, each, flow)
    comes = damp.vapour_kg_m3(outside, OUTSIDE_HUMIDITY)
    humidity = min(1.0, (comes + given) / damp.vapour_kg_m3(inside, 1.0))
    amounts = (people, Amount(each, GIVEN), Amount(flow, AIR_FLOW), Amount(given, VAPOUR))
    share, held = Amount(humidity, SHARE_PERCENT), Amount(comes, VAPOUR)
    wet = (held, Amount(given, VAPOUR), _celsius(inside), share)
    steps = (
        Step("asleep: {} × {} ÷ {} = {}", amounts),
        Step("{} from outside + {}, at {}: {}", wet),
    )
    notes = (Step("{} asleep with {}: {} inside", (people, amounts[2], share)),)
    return Air(inside, outside, humidity, steps, notes)


def _mould(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    air = _air(package)
    faces: list[tuple[str, Callable[[], Face]]] = [
        *((part, partial(_part, package, part)) for part in PARTS),
        *((row.mark, partial(_window, row)) for row in package.rows_of(Window)),
    ]
    found = []
    for name, face in faces:
        figures = measured(lambda face=face: _surface(face(), air))  # type: ignore[misc]
        found += [replace(figure, subject=name) for figure in figures]
    return found


def _surface(face: Face, air: Air) -> list[Measured]:
    inside, outside = air.inside, air.outside
    need = damp.least_factor(inside, outside, air.humidity, face.at_surface)
    if need <= 0:  # outside is warmer than what the surface must be
        return []
    has = damp.temperature_factor(face.resistance, face.inside, face.at)
    value = has / need
    behind = (Amount(face.resistance, RESISTANCE), Amount(face.inside, RESISTANCE))
    at = Amount(face.at, RESISTANCE)
    wanted, stands = (damp.surface_c(f, inside, outside) for f in (need, has))
    factor, least = Amount(has, FACTOR), Amount(need, FACTOR)
    apart = Amount(inside - outside, TEMPERATURE_DIFFERENCE)
    above = Amount(wanted - outside, TEMPERATURE_DIFFERENCE)
    needed = (_celsius(wanted), above, apart, least)
    steps = (
        *face.steps,
        *air.steps,
        Step("1 − {} ÷ ({} − {} + {}) = {}", (at, *behind, at, factor)),
        Step("needed: {} at the surface, {} of the {} that are between: {}", needed),
        Step("{} ÷ {} = {}", (factor, least, Amount(value, RATIO))),
    )
    words = "{} at the surface with {} outside, {} and {} inside; {} needs {}"
    why = "mould" if face.at_surface < 1 else "water that runs"
    humid = Amount(air.humidity, SHARE_PERCENT)
    kept = Step("to stay free of {} it", (why,))
    figures = (_celsius(stands), _celsius(outside), _celsius(inside), humid, kept)
    says = Step(words, (*figures, _celsius(wanted)))
    return [Measured(values=(value,), steps=steps, notes=(says, *air.notes))]


def _wetting(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    inside, outside = _weather(package)
    found = []
    for part in PARTS:
        figures = measured(lambda part=part: _between(package, part, inside, outside))  # type: ignore[misc]
        found += [replace(figure, subject=part) for figure in figures]
    return found


def _vapour(layer: Layer) -> damp.VapourLayer | None:
    """Return a layer as it lets vapour by; None of one behind a vented cavity."""
    if layer.lambda_w_mk is None:
        return None
    resistance = layer_resistance(layer.thickness_m, layer.lambda_w_mk)
    return damp.VapourLayer(resistance, layer.thickness_m * layer.vapour_factor)


def _between(package: Package, part: str, inside: float, outside: float) -> list[Measured]:
    rows = layers_of(package, part)[::-1]  # from inside out
    pairs = zip(rows, gathered(rows, _vapour), strict=True)
    kept = [(row, layer) for row, layer in pairs if layer is not None]
    require_some(kept, f"layers of the {part} with λ (envelope layers)")
    air = ((inside, INSIDE_HUMIDITY), (outside, OUTSIDE_HUMIDITY))
    wet = damp.wetting([layer for _, layer in kept], *air)
    value = wet.kg_m2s * WINTER_S
    steps = [
        Step(
            "{}, as still air: {} × {} = {}",
            (
                str(row.layer),
                Amount(row.thickness_m, THICKNESS),
                Amount(row.vapour_factor, RATIO),
                Amount(layer.sd_m, AIR_LAYER),
            ),
        )
        for row, layer in kept
    ]
    if wet.between is None:
        steps.append(Step("vapour stays under saturation in every layer"))
    else:
        names = [str(row.layer) for row, _ in kept]
        between = (names[wet.between - 1], names[wet.between], _celsius(wet.c))
        steps.append(Step("condenses between {} and {}, at {}", between))
        steps.append(Step("{} in {}", (Amount(value, MASS_ON_AREA), Amount(WINTER_S, DAYS))))
    words = "{} and {} inside, {} and {} outside, for {}"
    weather = (
        _celsius(inside),
        Amount(INSIDE_HUMIDITY, SHARE_PERCENT),
        _celsius(outside),
        Amount(OUTSIDE_HUMIDITY, SHARE_PERCENT),
        Amount(WINTER_S, DAYS),
    )
    return [
        Measured(values=(value,), steps=tuple(steps), notes=(*steps[-2:], Step(words, weather)))
    ]


DAMP_CHECKS = (
    Check(
        slug="surface_mould",
        title="Inside surface, temperature factor / needed",
        topic="Heat",
        scales=(RATIO,),
        kinds=(NIGHT,),
        by_people=True,
        measure=_mould,
        schedules=("envelope", "windows", "vents", "site"),
        formula="r = f ÷ f_min,  f = 1 − R_s ÷ (R − R_si + R_s),  f_min = (θ_s − θ_e) ÷ (θ_i − "
        "θ_e)",
        meaning="R of the part, R_si the inside surface's in it, R_s 0.25 m²K/W in corners and "
        "behind furniture, 0.13 m²K/W of glass; θ_i, θ_e design temperatures [°C]; θ_s the "
        "temperature at which the air inside stands at 80 % at a surface, at 100 % on glass; it "
        "holds what air of 80 % brings from outside, and n · G ÷ q of n asleep with q fresh air, G "
        "40 g/h",
        citations=(SURFACE_FACTOR, PRACTICE),
        limits="The mean of a part: corners, steel and fixings are colder. Breath and skin alone "
        "(from memory), settled: cooking, wet clothes and a gas flame add to it. Where no vent is "
        "typed 50 % is assumed, an aired room's. All share the air of the house: a closed room "
        "with less of it is wetter. By day each gives some 50 g/h, as windows open.",
        question="{name}: {value} of the temperature factor that it needs, against {target}. Where "
        "does it run when everybody breathes?",
        caution=_CAUTION,
    ),
    Check(
        slug="inside_wetting",
        title="Wetting between layers in a cold month",
        topic="Heat",
        scales=(MASS_ON_AREA,),
        measure=_wetting,
        schedules=("envelope", "site"),
        rule=Rule.AT_MOST,
        formula="m = δ_0 · (Δp_in ÷ s_d,in − Δp_out ÷ s_d,out) · t,  s_d = μ · d",
        meaning="δ_0 2 · 10⁻¹⁰ kg/m·s·Pa of still air; Δp of vapour to where it condenses; s_d "
        "still air that lets as much by [m]; t 30 days of design cold",
        citations=(BETWEEN_LAYERS, PRACTICE),
        limits="Glaser's way: steady cold, no rain, sun, drying, framing, or air moving through "
        "gaps, which carries more than all of it. Up to 0.2 kg/m² a winter that dries by summer is "
        "borne (from memory).",
        question="{name}: {value} between its layers, against {target}. Where does it dry to?",
        caution=_CAUTION,
    ),
)

"""Heat to take out on a hot afternoon, and whether the plant and the panels can."""

from dataclasses import dataclass

from criteria.checks.check import Check
from criteria.checks.envelope import layers_of
from criteria.checks.heat import (
    TEMPERATURE_DIFFERENCE,
    Surface,
    air_heat,
    air_step,
    balance,
    fabric,
    recovery_notes,
)
from criteria.checks.reading import gathered
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import heat
from criteria.measures.light import clear_glass
from criteria.package import Package
from criteria.schedules.envelope import SUN_TAKEN_UP
from criteria.schedules.openings import Window
from criteria.schedules.power import Load
from criteria.sources import COOLING, PRACTICE
from criteria.units import AREA, ELECTRIC_POWER, HEAT_LOSS_RATE, POWER, RATIO, SUN

PALE = dict(SUN_TAKEN_UP)["pale"]


@dataclass(frozen=True)
class Term:
    """A part of the heat that comes in [W], with its working."""

    name: str
    heat_w: float
    steps: tuple[Step, ...]


def _driven(package: Package, part: str, absorptance: float | None = None) -> float:
    """Return by how much air and sun outside a part are warmer than the inside [K]."""
    site, outermost = package.site, layers_of(package, part)[0]
    if part == "floor":
        return site.summer_outside_k - site.summer_inside_k
    sun = site.sun_w_m2 * outermost.sun_share * (heat.ROOF_SUN if part == "roof" else 1.0)
    takes = outermost.absorptance if absorptance is None else absorptance
    sky = heat.SKY_K if part == "roof" else 0.0
    outside = heat.sol_air(site.summer_outside_k, sun, heat.taken_up(takes), sky)
    return outside - site.summer_inside_k


def _conducted(package: Package, surfaces: tuple[Surface, ...]) -> Term:
    site = package.site
    plain = site.summer_outside_k - site.summer_inside_k
    heats = []
    for each in surfaces:
        is_part = each.name in ("wall", "roof", "floor")
        apart = _driven(package, each.name) if is_part else plain
        heats.append((each.rate_w_k * apart, each, apart))
    steps = tuple(
        Step(
            "{}: {} × {} = {}",
            (each.name, Amount(each.rate_w_k, HEAT_LOSS_RATE),
             Amount(apart, TEMPERATURE_DIFFERENCE), Amount(watts, POWER)),
        )
        for watts, each, apart in sorted(heats, key=lambda one: -one[0])
    )  # fmt: skip
    return Term("surfaces", sum(watts for watts, _, _ in heats), steps)


def _sun_on(package: Package, window: Window) -> float:
    """Return the design sun on a window's glass [W/m²]."""
    site, face = package.site, "up" if window.is_rooflight else window.faces
    latitude = site.latitude_deg if face in ("N", "S") else None
    return heat.sun_on_glass(site.sun_w_m2, face, latitude, window.sun_share)


def _through_glass(package: Package) -> Term:
    def of(window: Window) -> tuple[float, Step]:
        glass = clear_glass(window.n, window.glass_w_m, window.glass_h_m)
        sun = _sun_on(package, window)
        gain = heat.solar_gain(glass, window.solar_factor, sun)
        figures = (window.mark, Amount(glass, AREA), f"{window.solar_factor:g}", Amount(sun, SUN),
                   Amount(gain, POWER))  # fmt: skip
        return gain, Step("{}: {} × {} × {} = {}", figures)

    each = sorted(gathered(package.windows, of), key=lambda one: -one[0])
    return Term("sun through glass", sum(w for w, _ in each), tuple(step for _, step in each))


def _equipment(package: Package) -> Term:
    def of(load: Load) -> tuple[float, Step]:
        runs = load.run_s > 0 and not load.stands_outside
        watts = load.n * load.power_w if runs else 0.0
        figures = (load.mark, load.n, Amount(load.power_w, ELECTRIC_POWER), Amount(watts, POWER))
        return watts, Step("{}: {} × {} = {}" if runs else "{}: not indoors or not on", figures)

    each = sorted(gathered(package.loads, of), key=lambda one: -one[0])
    return Term("equipment", sum(w for w, _ in each), tuple(step for _, step in each))


def _terms(package: Package) -> tuple[Term, ...]:
    known, site = fabric(package), package.site
    outside, inside = site.summer_outside_k, site.summer_inside_k
    held = air_heat(package, inside, outside)
    apart = outside - inside
    rate = heat.air_loss_rate(known.air, held, known.recovery)
    people = site.people * heat.PERSON_SENSIBLE_W
    by_people = (site.people, Amount(heat.PERSON_SENSIBLE_W, POWER), Amount(people, POWER))
    by_air = (Amount(rate, HEAT_LOSS_RATE), Amount(apart, TEMPERATURE_DIFFERENCE),
              Amount(rate * apart, POWER))  # fmt: skip
    return (
        _conducted(package, known.surfaces),
        _through_glass(package),
        Term("people", people, (Step("people: {} × {} = {}", by_people),)),
        _equipment(package),
        Term("air", rate * apart, (air_step(known.air, held, known.recovery),
                                   Step("air: {} × {} = {}", by_air))),
    )  # fmt: skip


def _notes(package: Package) -> tuple[Step, ...]:
    """Say what a pale coating would take off, and what damp would add."""
    off = 0.0
    for each in fabric(package).parts:
        saved = _driven(package, each.name) - _driven(package, each.name, PALE)
        off += each.rate_w_k * saved
    damp = package.site.people * heat.PERSON_LATENT_W
    said = [Step("damp isn't counted: people add {} of it, humid air more", (Amount(damp, POWER),))]
    if off > 0:
        said.insert(0, Step("pale outside, it would be {} less", (Amount(off, POWER),)))
    return tuple(said)


def _cooling_load(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    terms = _terms(package)
    total = sum(term.heat_w for term in terms)
    largest = max(terms, key=lambda term: term.heat_w)
    words = " + ".join(f"{term.name} {{}}" for term in terms) + " = {}"
    last = Step(words, tuple(Amount(x, POWER) for x in (*(t.heat_w for t in terms), total)))
    return [Measured(values=(total,), steps=(*largest.steps, last), notes=_notes(package))]


def _load(package: Package) -> tuple[float, tuple[Step, ...]]:
    (load,) = _cooling_load(package, ())
    return require_positive("heat to take out", load.values[0], "W"), load.steps


def _cooling_plant(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    given = package.plant.cooling_w
    need, steps = _load(package)
    value = given / need
    figures = (Amount(given, POWER), Amount(need, POWER), Amount(value, RATIO))
    return [Measured(values=(value,), steps=(*steps, Step("{} ÷ {} = {}", figures)))]


def _panels(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    cop = package.plant.cooling_cop
    made = package.power.panels_w * package.site.system_factor
    load, steps = _load(package)
    electric = load / cop
    value = made / electric
    need, at_noon = Amount(electric, POWER), Amount(made, POWER)
    last = (
        Step("{} ÷ COP {} = {}", (Amount(load, POWER), f"{cop:g}", need)),
        Step("{} ÷ {} = {}", (at_noon, need, Amount(value, RATIO))),
    )
    return [Measured(values=(value,), steps=(*steps, *last))]


def _heat_plant(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    given = package.plant.heat_w
    loss = balance(package).loss_w()
    value = given / require_positive("heat loss", loss, "W")
    figures = (Amount(given, POWER), Amount(loss, POWER), Amount(value, RATIO))
    step, notes = Step("{} ÷ {} = {}", figures), recovery_notes(package)
    return [Measured(values=(value,), steps=(step,), notes=notes)]


_HEAT_SCHEDULES = ("envelope", "windows", "doors", "rooms", "plant", "site")
_SCHEDULES = (*_HEAT_SCHEDULES, "loads")
_CAUTION = "Plant is sized, wired and filled by licensed people."

COOLING_LOAD = Check(
    slug="cooling_load",
    title="Heat to take out at the hottest hour",
    topic="Heat",
    scales=(POWER,),
    measure=_cooling_load,
    schedules=_SCHEDULES,
    rule=Rule.AT_MOST,
    formula="Q = Σ(U · A · (T_sol-air − T_in)) + Σ(A_g · g · F · I) + 75 W · n + Σ W + "
    "c · (q − η · q_people) · ΔT",
    meaning="T_sol-air outside air with the sun that walls and roof take up, by absorptance and "
    "shade [°C]; g solar factor [1]; F sun that shade lets past [1]; I sun [W/m²], 1.8 times it "
    "on roofs and roof lights; n people; W equipment that runs indoors [W]; air as in the heat "
    "loss, at summer temperatures",
    citations=(COOLING, PRACTICE),
    limits="An upper bound: all sun at once, no weight to delay it. Dry heat alone: the damp of "
    "people and humid air, which a cooling plant takes out as well, is not counted and in a damp "
    "climate is much. Windows to the north, south of the equator to the south, count no sun.",
    question="At its hottest {value} must go out, against {target}. What shades the glass?",
    caution=_CAUTION,
)

COOLING_PLANT = Check(
    slug="cooling_plant",
    title="Cooling given / heat to take out",
    topic="Heat",
    scales=(RATIO,),
    measure=_cooling_plant,
    schedules=_SCHEDULES,
    formula="r = Q_plant ÷ Q",
    meaning="Q_plant output of the cooling [W]; Q heat to take out [W]",
    citations=(COOLING,),
    limits="Of the upper bound above, dry heat alone: damp takes part of the plant's output.",
    question="The cooling takes out {value} of the heat, against {target}. How hot does it get?",
    caution=_CAUTION,
)

PANELS_FOR_COOLING = Check(
    slug="panels_for_cooling",
    title="Panels at noon / power that cooling takes",
    topic="Power",
    scales=(RATIO,),
    measure=_panels,
    schedules=(*_SCHEDULES, "power"),
    formula="r = P · f ÷ (Q ÷ COP)",
    meaning="P peak power of panels [W]; f system factor [1]; Q heat to take out [W]; COP of the "
    "cooling [1]",
    citations=(COOLING, PRACTICE),
    limits="One hour of full sun. After sunset the battery carries it.",
    question="The panels give {value} of what the cooling takes, against {target}. What is "
    "switched off?",
    caution="Batteries, panels and wiring can burn and kill: a licensed electrician designs them.",
)

HEAT_PLANT = Check(
    slug="heat_plant",
    title="Heat given / design heat loss",
    topic="Heat",
    scales=(RATIO,),
    measure=_heat_plant,
    is_monotone=True,
    schedules=_HEAT_SCHEDULES,
    formula="r = Q_stove ÷ Q_loss",
    meaning="Q_stove output of stove and heaters [W]; Q_loss design heat loss [W]",
    citations=(PRACTICE,),
    limits="Steady. Warming up from cold takes more, and is a check of its own.",
    question="Stove and heaters give {value} of the loss, against {target}. How long until it is "
    "warm?",
    caution="A stove and its flue are designed and fitted by licensed people.",
)

COOLING_CHECKS = (COOLING_LOAD, COOLING_PLANT, HEAT_PLANT)

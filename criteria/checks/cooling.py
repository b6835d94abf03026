"""Heat to take out on a hot afternoon, and whether the plant and the panels can."""

from collections.abc import Iterable
from dataclasses import dataclass

from criteria.checks.check import Check
from criteria.checks.envelope import layers_of
from criteria.checks.heat import (
    HEAT_SCHEDULES,
    TEMPERATURE_DIFFERENCE,
    Fabric,
    Surface,
    air_heat,
    air_step,
    balance,
    fabric,
    recovery_notes,
)
from criteria.checks.power import how_many
from criteria.checks.reading import gathered
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import heat
from criteria.measures.light import clear_glass
from criteria.package import Package
from criteria.schedules.envelope import PARTS, SUN_TAKEN_UP
from criteria.schedules.openings import Window
from criteria.schedules.power import Load
from criteria.sources import COOLING, PRACTICE
from criteria.units import AREA, ELECTRIC_POWER, HEAT_LOSS_RATE, POWER, RATIO, SUN

PALE = dict(SUN_TAKEN_UP)["pale"]


Line = tuple[float, Step]
"""Heat of one thing [W] and its working."""


@dataclass(frozen=True)
class Term:
    """A part of the heat that comes in, by what it is made of, the largest first."""

    name: str
    lines: tuple[Line, ...]

    @property
    def heat_w(self) -> float:
        """All of it [W]."""
        return sum(watts for watts, _ in self.lines)


def _term(name: str, lines: Iterable[Line]) -> Term:
    return Term(name, tuple(sorted(lines, key=lambda line: -line[0])))


def _line(watts: float, words: str, *figures: Amount | float | str) -> Line:
    return watts, Step(words + " = {}", (*figures, Amount(watts, POWER)))


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


def _conducted(package: Package, surfaces: Iterable[Surface]) -> Term:
    plain = package.site.summer_outside_k - package.site.summer_inside_k

    def of(each: Surface) -> Line:
        apart = _driven(package, each.name) if each.name in PARTS else plain
        across = Amount(apart, TEMPERATURE_DIFFERENCE)
        rate = Amount(each.rate_w_k, HEAT_LOSS_RATE)
        return _line(each.rate_w_k * apart, "{}: {} × {}", each.name, rate, across)

    return _term("surfaces", map(of, surfaces))


def _sun_on(package: Package, window: Window) -> float:
    """Return the design sun on a window's glass [W/m²]."""
    site, face = package.site, "up" if window.is_rooflight else window.faces
    latitude = site.latitude_deg if face in ("N", "S") else None
    return heat.sun_on_glass(site.sun_w_m2, face, latitude, window.sun_share)


def _through_glass(package: Package) -> Term:
    def of(window: Window) -> Line:
        glass = clear_glass(window.n, window.glass_w_m, window.glass_h_m)
        sun, factor = _sun_on(package, window), window.solar_factor
        figures = (window.mark, Amount(glass, AREA), f"{factor:g}", Amount(sun, SUN))
        return _line(heat.solar_gain(glass, factor, sun), "{}: {} × {} × {}", *figures)

    return _term("sun through glass", gathered(package.windows, of))


def _equipment(package: Package) -> Term:
    def of(load: Load) -> Line:
        runs = load.run_s > 0 and not load.stands_outside
        if not runs:
            return _line(0.0, "{}: not on, or not indoors", load.mark)
        power = Amount(load.power_w, ELECTRIC_POWER)
        n = how_many(package, load)
        return _line(n * load.power_w, "{}: {} × {}", load.mark, n, power)

    return _term("equipment", gathered(package.loads, of))


def _people(package: Package) -> Term:
    n, each = package.people, heat.PERSON_SENSIBLE_W
    return _term("people", [_line(n * each, "people: {} × {}", n, Amount(each, POWER))])


def _air(package: Package, known: Fabric) -> Term:
    inside, outside = package.site.summer_inside_k, package.site.summer_outside_k
    held = air_heat(package, inside, outside)
    rate = heat.air_loss_rate(known.air, held, known.recovery)
    apart = Amount(outside - inside, TEMPERATURE_DIFFERENCE)
    watts, step = _line(rate * apart.si, "air: {} × {}", Amount(rate, HEAT_LOSS_RATE), apart)
    return Term("air", ((0.0, air_step(known.air, held, known.recovery)), (watts, step)))


def _notes(package: Package, known: Fabric) -> tuple[Step, ...]:
    """Say what a pale coating would take off, and what damp would add."""
    off = sum(
        each.rate_w_k * (_driven(package, each.name) - _driven(package, each.name, PALE))
        for each in known.parts
    )
    pale = Step("pale outside, it would be {} less", (Amount(off, POWER),))
    damp = Amount(package.people * heat.PERSON_LATENT_W, POWER)
    said = Step("damp isn't counted: people add {} of it, humid air more", (damp,))
    return (pale, said) if off > 0 else (said,)


def terms_of(package: Package, known: Fabric) -> tuple[Term, ...]:
    """Return the heat to take out by what it comes from. Raises Lacking."""
    return (
        _conducted(package, known.surfaces),
        _through_glass(package),
        _people(package),
        _equipment(package),
        _air(package, known),
    )


def _cooling_load(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    known = fabric(package)
    terms = terms_of(package, known)
    heats = [term.heat_w for term in terms]
    largest = max(terms, key=lambda term: term.heat_w)
    words = " + ".join(f"{term.name} {{}}" for term in terms) + " = {}"
    last = Step(words, tuple(Amount(x, POWER) for x in (*heats, sum(heats))))
    steps = (*(step for _, step in largest.lines), last)
    return [Measured(values=(sum(heats),), steps=steps, notes=_notes(package, known))]


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


_SCHEDULES = (*HEAT_SCHEDULES, "loads")
_CAUTION = "Plant is sized, wired and filled by licensed people."

PANELS_FOR_COOLING = Check(
    slug="panels_for_cooling",
    title="Panels at noon / power that cooling takes",
    topic="Power",
    by_people=True,
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

COOLING_CHECKS = (
    Check(
        slug="cooling_load",
        title="Heat to take out at the hottest hour",
        topic="Heat",
        by_people=True,
        scales=(POWER,),
        measure=_cooling_load,
        schedules=_SCHEDULES,
        rule=Rule.AT_MOST,
        formula="Q = Σ(U · A · (T_sol-air − T_in)) + Σ(A_g · g · F · I) + 75 W · n + Σ W + c · (q "
        "− η · q_people) · ΔT",
        meaning="T_sol-air outside air with the sun that walls and roof take up, by absorptance "
        "and shade [°C]; g solar factor [1]; F sun that shade lets past [1]; I sun [W/m²], 1.8 "
        "times it on roofs and roof lights; n people; W equipment that runs indoors [W]; air as "
        "in the heat loss, at summer temperatures",
        citations=(COOLING, PRACTICE),
        limits="An upper bound: all sun at once, no weight to delay it. Dry heat alone: the damp "
        "of people and humid air, which a cooling plant takes out as well, is not counted and in "
        "a damp climate is much. Windows to the north, south of the equator to the south, count "
        "no sun.",
        question="At its hottest {value} must go out, against {target}. What shades the glass?",
        caution=_CAUTION,
    ),
    Check(
        slug="cooling_plant",
        title="Cooling given / heat to take out",
        topic="Heat",
        by_people=True,
        scales=(RATIO,),
        measure=_cooling_plant,
        schedules=_SCHEDULES,
        formula="r = Q_plant ÷ Q",
        meaning="Q_plant output of the cooling [W]; Q heat to take out [W]",
        citations=(COOLING,),
        limits="Of the upper bound above, dry heat alone: damp takes part of the plant's output.",
        question="The cooling takes out {value} of the heat, against {target}. How hot does it "
        "get?",
        caution=_CAUTION,
    ),
    Check(
        slug="heat_plant",
        title="Heat given / design heat loss",
        topic="Heat",
        by_people=True,
        scales=(RATIO,),
        measure=_heat_plant,
        is_monotone=True,
        schedules=HEAT_SCHEDULES,
        formula="r = Q_stove ÷ Q_loss",
        meaning="Q_stove output of stove and heaters [W]; Q_loss design heat loss [W]",
        citations=(PRACTICE,),
        limits="Steady. Warming up from cold takes more, and is a check of its own.",
        question="Stove and heaters give {value} of the loss, against {target}. How long until it "
        "is warm?",
        caution="A stove and its flue are designed and fitted by licensed people.",
    ),
)

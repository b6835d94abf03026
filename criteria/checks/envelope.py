"""U-values of wall, roof and floor, and what a claimed resistance implies."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.measures import envelope as measure
from criteria.package import Package
from criteria.schedules.envelope import PARTS, Layer
from criteria.sources import R_CLAIMS, U_BRIDGED, U_SERIES, Citation
from criteria.typed.cells import lacking, require_some
from criteria.units import CONDUCTIVITY, RESISTANCE, SHARE, THICKNESS, U_VALUE


@dataclass(frozen=True)
class PartResistance:
    """Resistance of one part of the envelope [m²K/W], its working and what to know of it."""

    resistance: float
    steps: tuple[Step, ...]
    notes: tuple[Step, ...] = ()


def _named(layer: Layer) -> str:
    return layer.if_given("layer") or f"a layer of the {layer.part}"


def layers_of(package: Package, part: str) -> list[Layer]:
    """Return the layers of a part, outside to inside. Raises Lacking where it has none."""
    layers = [layer for layer in package.envelope if layer.part == part]
    require_some(layers, f"layers of the {part} (envelope layers)")
    return layers


def gross_area(package: Package, part: str) -> float:
    """Return the gross area of a part [m²]. Raises Lacking where its rows differ or none says."""
    rows = layers_of(package, part)
    given = gathered(rows, lambda layer: layer.unless_blank("gross_area_m2"))
    areas = {area for area in given if area is not None}
    if len(areas) > 1:
        words = f"{part}, one gross area in place of {len(areas)} that differ (envelope layers)"
        raise lacking(words)
    area: float = areas.pop() if areas else rows[0].gross_area_m2
    return area


def _slab(layer: Layer) -> measure.Slab | None:
    """Return a layer as it counts; None of one without λ, behind a vented cavity."""
    if layer.lambda_w_mk is None:
        return None
    own = measure.layer_resistance(layer.thickness_m, layer.lambda_w_mk)
    if layer.bridge_w_mk is None or not layer.bridge_share:
        return measure.Slab(own)
    framing = measure.layer_resistance(layer.thickness_m, layer.bridge_w_mk)
    return measure.Slab(own, framing, layer.bridge_share)


def part_resistance(package: Package, part: str) -> PartResistance:
    """Return the resistance of wall, roof or floor. Raises Lacking with all that it lacks."""
    layers = layers_of(package, part)
    counted = zip(layers, gathered(layers, _slab), strict=True)
    pairs = [(layer, slab) for layer, slab in counted if slab is not None]
    require_some(pairs, f"layers of the {part} with λ (envelope layers)")
    slabs = [slab for _, slab in pairs]
    steps = tuple(_layer_step(layer, slab) for layer, slab in pairs)
    surfaces = Amount(sum(measure.SURFACES_M2K_W[part]), RESISTANCE)
    if all(slab.bridge is None for slab in slabs):
        total = measure.series_resistance(slabs, part)
        notes = (Step("no framing is said: studs and joists would make it worse"),)
        each = listed([Amount(slab.resistance, RESISTANCE) for slab in slabs], " + ")
        last = Step("surfaces {} + {} = {}", (surfaces, each, Amount(total, RESISTANCE)))
        return PartResistance(total, (*steps, last), notes)
    return _bridged(slabs, part, steps, surfaces)


def _layer_step(layer: Layer, slab: measure.Slab) -> Step:
    assert layer.lambda_w_mk is not None
    length, conducts = Amount(layer.thickness_m, THICKNESS), Amount(layer.lambda_w_mk, CONDUCTIVITY)
    figures = (_named(layer), length, conducts, Amount(slab.resistance, RESISTANCE))
    if slab.bridge is None:
        return Step("{}: {} ÷ {} = {}", figures)
    framing = (Amount(slab.share, SHARE), Amount(slab.bridge, RESISTANCE))
    return Step("{}: {} ÷ {} = {}; framing {} of it, {}", (*figures, *framing))


def _bridged(
    slabs: Sequence[measure.Slab], part: str, steps: tuple[Step, ...], surfaces: Amount
) -> PartResistance:
    upper = measure.parallel_resistance(slabs, part)
    lower = measure.isothermal_resistance(slabs, part)
    notes: tuple[Step, ...] = ()
    words = "surfaces {}; side by side {}, in series {}, mean {}"
    try:
        total = measure.combined_resistance(slabs, part)
    except InputError:
        total = lower
        why = "the two limits are more than 1.5 apart: the lower is taken, and metal through "
        notes = (Step(why + "insulation needs a numerical method"),)
        words = "surfaces {}; side by side {}, in series {}; taken {}"
    bounds = (Amount(x, RESISTANCE) for x in (upper, lower, total))
    return PartResistance(total, (*steps, Step(words, (surfaces, *bounds))), notes)


def _u_value(part: str, package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = part_resistance(package, part)
    value = measure.u_value(found.resistance)
    last = Step("1 ÷ {} = {}", (Amount(found.resistance, RESISTANCE), Amount(value, U_VALUE)))
    return [Measured(values=(value,), steps=(*found.steps, last), notes=found.notes)]


def _u_check(part: str) -> Check:
    inside, outside = measure.SURFACES_M2K_W[part]
    return Check(
        slug=f"{part}_u",
        title=f"{part.capitalize()} U-value",
        topic="Heat",
        scales=(U_VALUE,),
        measure=partial(_u_value, part),
        schedules=("envelope",),
        rule=Rule.AT_MOST,
        formula=f"U = 1 ÷ ({inside + outside:.2f} + Σ(d ÷ λ))",
        meaning="d thickness [m]; λ conductivity [W/mK]; surfaces inside and outside "
        f"{inside:.2f} and {outside:.2f} m²K/W; layers with framing take the mean of paths side by "
        "side and layers in series",
        citations=(U_SERIES, U_BRIDGED),
        limits="Layers whose λ is left blank are not counted. Studs and joists count only where "
        "their share is filled in; fixings, corners, air leaks and damp never do. Metal framing "
        "needs a numerical method.",
        question=f"The {part} computes to {{value}}, against {{target}}. Is each conductivity "
        "right, or one of them ten times out?",
    )


def verdict_on(layer: Layer, conductivity: float) -> Step:
    """Say what an apparent conductivity would have to be, in words."""
    if layer.claim_covers in _EXEMPT:
        return Step(_EXEMPT[layer.claim_covers])
    if conductivity >= measure.ORDINARY_W_MK:
        return Step("within the range of ordinary insulation")
    if conductivity >= measure.BEST_OPEN_W_MK:
        return Step("only aerogel, phenolic or gas-filled foam reaches this: ask for a test report")
    if conductivity >= measure.BEST_EVACUATED_W_MK:
        return Step(
            "only an evacuated panel reaches this, uncut: does the claim take in an air space?"
        )
    most = Amount(measure.best_resistance(layer.thickness_m), RESISTANCE)
    return Step("no layer conducts so little: at this thickness the most is about {}", (most,))


_EXEMPT = {
    "air space included": "an air space is counted in: give it a row of its own",
    "evacuated glazing": "a gap without air is bound by radiation, not by its thickness",
    "reflectance as R": "reflecting sun isn't resistance: it belongs to the sun's heat",
}


def _implied(layer: Layer) -> Measured:
    assert layer.claimed_m2k_w is not None
    value = measure.apparent_conductivity(layer.thickness_m, layer.claimed_m2k_w)
    name, length = _named(layer), Amount(layer.thickness_m, THICKNESS)
    amounts = (length, Amount(layer.claimed_m2k_w, RESISTANCE), Amount(value, CONDUCTIVITY))
    steps = (Step("{} ÷ {} = {}", amounts),)
    notes = (Step("{}: {}", (name, verdict_on(layer, value))),)
    subject = f"{layer.part} {layer.number}"
    return Measured(subject=subject, name=name, values=(value,), steps=steps, notes=notes)


def _claimed(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    head = "claimed_m2k_w"
    return of_each([x for x in package.envelope if x.typed(head) or head in x.refused], _implied)


ENVELOPE_CHECKS = (
    *map(_u_check, PARTS),
    Check(
        slug="apparent_conductivity",
        title="Conductivity that a claimed R implies",
        topic="Heat",
        scales=(CONDUCTIVITY,),
        measure=_claimed,
        is_monotone=True,
        schedules=("envelope",),
        formula="λ = d ÷ R",
        meaning="d thickness [m]; R resistance claimed for the layer [m²K/W]; λ [W/mK]",
        citations=(
            R_CLAIMS,
            Citation(U_SERIES.source, "definition of resistance", U_SERIES.certainty),
        ),
        limits="Still air is 0.025 W/mK, aerogel blanket 0.013 W/mK, a new vacuum panel "
        "0.004 W/mK. A claim that takes in an air space, evacuated glazing or reflectance can't be "
        "held to thickness.",
        question="{name} would conduct {value} by the R claimed for it, against {target}. Which "
        "test says so, and of the layer alone?",
    ),
)

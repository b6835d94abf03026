"""U-values of wall, roof and floor, and what a claimed resistance implies."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from criteria.checks.check import Check
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import envelope as measure
from criteria.package import Package
from criteria.schedules.envelope import PARTS, Layer
from criteria.sources import R_CLAIMS, U_BRIDGED, U_SERIES, Citation
from criteria.units import CONDUCTIVITY, LENGTH, RESISTANCE, SHARE, U_VALUE


@dataclass(frozen=True)
class PartResistance:
    """Resistance of one part of the envelope [m²K/W], None where data are missing."""

    resistance: float | None
    steps: tuple[Step, ...]
    missing: tuple[str, ...]
    notes: tuple[Step, ...] = ()


def _named(layer: Layer) -> str:
    return f"{layer.layer}" if layer.layer else f"a layer of the {layer.part}"


def _layer_missing(layer: Layer) -> tuple[str, ...]:
    wanted = {"Thickness": layer.thickness_m}
    if layer.bridge_w_mk is not None:
        wanted["Framing share"] = layer.bridge_share
    if layer.bridge_share:
        wanted["λ of framing"] = layer.bridge_w_mk
    return tuple(
        f"{layer.part}, {_named(layer)}, {label} (envelope layers)"
        for label, value in wanted.items()
        if value is None
    )


def _slab(layer: Layer) -> measure.Slab:
    assert layer.thickness_m and layer.lambda_w_mk
    own = measure.layer_resistance(layer.thickness_m, layer.lambda_w_mk)
    if layer.bridge_w_mk is None or not layer.bridge_share:
        return measure.Slab(own)
    framing = measure.layer_resistance(layer.thickness_m, layer.bridge_w_mk)
    return measure.Slab(own, framing, layer.bridge_share)


def part_resistance(package: Package, part: str) -> PartResistance:
    """Return the resistance of wall, roof or floor, its working and what is blank."""
    layers = [layer for layer in package.envelope if layer.part == part and layer.counts]
    if not layers:
        return PartResistance(None, (), (f"layers of the {part} with λ (envelope layers)",))
    missing = tuple(cell for layer in layers for cell in _layer_missing(layer))
    if missing:
        return PartResistance(None, (), missing)
    slabs = [_slab(layer) for layer in layers]
    steps = tuple(_layer_step(la, sl) for la, sl in zip(layers, slabs, strict=True))
    surfaces = Amount(sum(measure.SURFACES_M2K_W[part]), RESISTANCE)
    if all(slab.bridge is None for slab in slabs):
        total = measure.series_resistance(slabs, part)
        words = "surfaces {} + layers = {}"
        notes = (Step("no framing is said: studs and joists would make it worse"),)
        last = Step(words, (surfaces, Amount(total, RESISTANCE)))
        return PartResistance(total, (*steps, last), (), notes)
    return _bridged(slabs, part, steps, surfaces)


def _layer_step(layer: Layer, slab: measure.Slab) -> Step:
    assert layer.thickness_m and layer.lambda_w_mk
    figures: tuple[Amount | str, ...] = (
        _named(layer),
        Amount(layer.thickness_m, LENGTH),
        Amount(layer.lambda_w_mk, CONDUCTIVITY),
        Amount(slab.resistance, RESISTANCE),
    )
    if slab.bridge is None:
        return Step("{}: {} ÷ {} = {}", figures)
    framing = (Amount(slab.share, SHARE), Amount(slab.bridge, RESISTANCE))
    return Step("{}: {} ÷ {} = {}; framing {} of it, {}", (*figures, *framing))


def _bridged(
    slabs: Sequence[measure.Slab], part: str, steps: tuple[Step, ...], surfaces: Amount
) -> PartResistance:
    upper = measure.parallel_resistance(slabs, part)
    lower = measure.isothermal_resistance(slabs, part)
    bounds = (surfaces, Amount(upper, RESISTANCE), Amount(lower, RESISTANCE))
    try:
        total, notes = measure.combined_resistance(slabs, part), ()
        words = "surfaces {}; side by side {}, in series {}, mean {}"
    except InputError:
        total = lower
        notes = (
            Step(
                "the two limits are more than 1.5 apart: the lower is taken, and metal through "
                "insulation needs a numerical method"
            ),
        )
        words = "surfaces {}; side by side {}, in series {}; taken {}"
    last = Step(words, (*bounds, Amount(total, RESISTANCE)))
    return PartResistance(total, (*steps, last), (), notes)


def _u_value(part: str, package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = part_resistance(package, part)
    if found.resistance is None:
        return [Measured(missing=found.missing)]
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
        limits="Layers without λ are not counted. Studs and joists count only where their share "
        "is filled in; fixings, corners, air leaks and damp never do. Metal framing needs a "
        "numerical method.",
        question=f"The {part} computes to {{value}}, against {{target}}. Is each conductivity "
        "right, or one of them ten times out?",
    )


U_VALUES: tuple[Check, ...] = tuple(_u_check(part) for part in PARTS)


def verdict_on(layer: Layer, conductivity: float) -> Step:
    """Say what an apparent conductivity would have to be, in words."""
    if layer.claim_covers and layer.claim_covers != "layer alone":
        return Step(_EXEMPT[layer.claim_covers])
    if conductivity >= measure.ORDINARY_W_MK:
        return Step("within the range of ordinary insulation")
    if conductivity >= measure.BEST_OPEN_W_MK:
        return Step("only aerogel, phenolic or gas-filled foam reaches this: ask for a test report")
    if conductivity >= measure.BEST_EVACUATED_W_MK:
        return Step(
            "only an evacuated panel reaches this, uncut: does the claim take in an air space?"
        )
    assert layer.thickness_m
    most = Amount(measure.best_resistance(layer.thickness_m), RESISTANCE)
    return Step("no layer conducts so little: at this thickness the most is about {}", (most,))


_EXEMPT = {
    "air space included": "an air space is counted in: give it a row of its own",
    "evacuated glazing": "a gap without air is bound by radiation, not by its thickness",
    "reflectance as R": "reflecting sun isn't resistance: it belongs to the sun's heat",
}


def _claimed(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for number, layer in enumerate(package.envelope, start=1):
        if not layer.claimed_m2k_w:
            continue
        subject, name = f"{layer.part} {number}", _named(layer)
        if layer.thickness_m is None:
            found.append(Measured(subject=subject, name=name, missing=_layer_missing(layer)))
            continue
        value = measure.apparent_conductivity(layer.thickness_m, layer.claimed_m2k_w)
        amounts = (
            Amount(layer.thickness_m, LENGTH),
            Amount(layer.claimed_m2k_w, RESISTANCE),
            Amount(value, CONDUCTIVITY),
        )
        notes = (Step("{}: {}", (name, verdict_on(layer, value))),)
        step = Step("{} ÷ {} = {}", amounts)
        found.append(
            Measured(subject=subject, name=name, values=(value,), steps=(step,), notes=notes)
        )
    return found


CLAIMED_RESISTANCE = Check(
    slug="apparent_conductivity",
    title="Conductivity that a claimed R implies",
    topic="Heat",
    scales=(CONDUCTIVITY,),
    measure=_claimed,
    schedules=("envelope",),
    formula="λ = d ÷ R",
    meaning="d thickness [m]; R resistance claimed for the layer [m²K/W]; λ [W/mK]",
    citations=(
        R_CLAIMS,
        Citation(U_SERIES.source, "definition of resistance", U_SERIES.certainty),
    ),
    limits="Still air is 0.025, aerogel blanket 0.013, a new vacuum panel 0.004 W/mK. A claim "
    "that takes in an air space, evacuated glazing or reflectance can't be held to thickness.",
    question="{name} would conduct {value} by the R claimed for it, against {target}. Which test "
    "says so, and of the layer alone?",
)

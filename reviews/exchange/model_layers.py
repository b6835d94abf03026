"""Layers of a building model's walls, roof and floor, outside to inside.

Kept is the largest build-up of each part; the gross area is that of the whole part.
"""

from __future__ import annotations

from collections.abc import Sequence

from reviews.exchange.model_bodies import Thing
from reviews.exchange.model_cells import RowMade
from reviews.exchange.model_envelope import ALL, NONE, OUTSIDE_WALL, BuildUp, Envelope
from reviews.exchange.model_file import ModelFile, Said
from reviews.exchange.proposed import How, Question

ORDER = "order-"
"""Begins the name of the question from which side a part's layers are listed."""


def layers_of(envelope: Envelope, said: list[str], questions: list[Question]) -> list[RowMade]:
    """Read the largest build-up of each part, outside to inside."""
    rows: list[RowMade] = []
    is_open = _ask_for_walls(envelope, said, questions)
    for part, things in envelope.parts():
        how = How.GUESSED if is_open and part == "wall" else How.MEASURED
        rows += _part(envelope, part, things, how, said, questions)
    bare = [row.cells["layer"].text for row in rows if "lambda" not in row.cells]
    if bare:
        said.append(
            "The model gives no conductivity of "
            + ", ".join(dict.fromkeys(bare))
            + ": type their λ, for a layer without one isn't counted."
        )
    if rows:
        said.append("No model says which share of a layer is framing: type it where there is any.")
    return rows


def _part(
    envelope: Envelope,
    part: str,
    things: Sequence[Thing],
    area_how: How,
    said: list[str],
    questions: list[Question],
) -> list[RowMade]:
    areas: dict[tuple[str, ...], float] = {}
    first: dict[tuple[str, ...], tuple[Thing, BuildUp]] = {}
    bare = 0
    for thing in things:
        made, body = envelope.build_up(thing), envelope.model.body(thing, whole=True)
        if made is None or body is None:
            bare += 1
            continue
        areas[made.key] = areas.get(made.key, 0.0) + body.volume_m3 / made.thickness_m
        first.setdefault(made.key, (thing, made))
    if bare:
        said.append(f"{part.capitalize()}: {bare} of {len(things)} have no layers, or no shape.")
    if not areas:
        return []
    largest = max(areas, key=lambda key: (areas[key], key))
    thing, made = first[largest]
    if len(areas) > 1:
        said.append(
            f"{part.capitalize()}: {made.called}, is the largest of {len(areas)} build-ups "
            f"({areas[largest]:.1f} of {sum(areas.values()):.1f} m²); the others aren't taken."
        )
    gross = None if bare else sum(areas.values())
    if bare:
        said.append(f"{part.capitalize()}: the gross area is left blank, for some have none.")
    is_first = envelope.is_first_outside(part, thing, made)
    layers = list(made.layers)
    how = How.WRITTEN
    if is_first is None and len(layers) > 1:
        how = How.GUESSED
        is_first = _asked_order(envelope, part, made, questions)
    if is_first is False:
        layers.reverse()
    known = envelope.wall_known(thing) if part == "wall" else None
    rows = []
    for place, (material, thickness) in enumerate(layers, 1):
        row = RowMade("envelope", source=f"{part} {made.name} {place}")
        where = known.place if known else f"{thing.is_a()} {thing.Name or ''}".strip()
        row.words("part", part, known.how if known else How.RECKONED, where)
        row.words("layer", str((material and material.Name) or "unnamed"), how, "IfcMaterial")
        row.figure("mm", thickness, How.WRITTEN, "IfcMaterialLayer, LayerThickness")
        row.figure("gross_area_m2", gross, area_how, "volume over thickness, openings uncut")
        _figures(envelope.model, material, row)
        rows.append(row)
    return rows


def _asked_order(envelope: Envelope, part: str, made: BuildUp, questions: list[Question]) -> bool:
    first, last = (str(m.Name) if m else "the first" for m, _ in (made.layers[0], made.layers[-1]))
    chosen = envelope.answers.get(ORDER + part, "")
    questions.append(
        Question(
            name=ORDER + part,
            asked=f"Which is the outermost layer of the {part} ({made.called})?",
            choices=(("first", first), ("last", last)),
            chosen=chosen if chosen in ("first", "last") else "",
        )
    )
    return chosen != "last"


def _figures(model: ModelFile, material: Thing | None, row: RowMade) -> None:
    for head, name in (
        ("lambda", "ThermalConductivity"),
        ("density", "MassDensity"),
        ("specific_heat", "SpecificHeatCapacity"),
    ):
        if material is not None and (found := _of_material(model, material, name)):
            row.figure(head, found.value, How.WRITTEN, found.place)


def _of_material(model: ModelFile, material: Thing, name: str) -> Said | None:
    """A property of a material: of its sets, or of the entities of IFC 2x3."""
    if found := model.figure(material, name):
        return found
    for kind, unit in (
        ("IfcThermalMaterialProperties", "THERMALCONDUCTANCEUNIT"),
        ("IfcGeneralMaterialProperties", "MASSDENSITYUNIT"),
    ):
        for each in model.of(kind):
            written = getattr(each, name, None)
            if each.Material == material and isinstance(written, float) and written > 0:
                kept = "SPECIFICHEATCAPACITYUNIT" if name.startswith("Specific") else unit
                return Said(written * model.unit(kept), f"{kind}, {name}")
    return None


def _ask_for_walls(envelope: Envelope, said: list[str], questions: list[Question]) -> bool:
    """Ask which build-up is outside where the file doesn't say it, or says what can't be."""
    areas: dict[str, float] = {}
    doubted: dict[str, None] = {}
    for wall in envelope.model.of("IfcWall"):
        made, body = envelope.build_up(wall), envelope.model.body(wall, whole=True)
        if made is None or body is None:
            continue
        known = envelope.known(wall)
        is_doubted = made.key in envelope.doubted and known is not None and known.is_outside
        if known is None or is_doubted:
            areas[made.called] = areas.get(made.called, 0.0) + body.volume_m3 / made.thickness_m
        if is_doubted:
            doubted[made.called] = None
    if doubted:
        said.append(
            f"Written as outside, but between rooms or named as inside: {'; '.join(doubted)}. "
            "Such walls are taken only where you say so."
        )
    if not areas:
        return False
    chosen = envelope.answers.get(OUTSIDE_WALL, "")
    chosen = chosen if chosen in (*areas, ALL, NONE) else ""
    each = tuple((name, f"{name}: {areas[name]:.1f} m²") for name in sorted(areas))
    questions.append(
        Question(
            name=OUTSIDE_WALL,
            asked="The model leaves open whether these walls are outside. Which of them are?",
            choices=(*each, (ALL, "all of them"), (NONE, "none of them")),
            chosen=chosen,
        )
    )
    return not chosen

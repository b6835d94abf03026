"""Layers of an energy model's walls, roof and floor, outside to inside, and their gross areas."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from xml.etree.ElementTree import Element

from reviews.exchange.gbxml_file import EnergyFile, child, children
from reviews.exchange.gbxml_surfaces import PARTS, Surface, name_or_id
from reviews.exchange.model_cells import RowMade
from reviews.exchange.proposed import How


def layers_of(file: EnergyFile, surfaces: Sequence[Surface], said: list[str]) -> list[RowMade]:
    """Read the largest build-up of each part; the gross area is that of the whole part."""
    rows: list[RowMade] = []
    for part in dict.fromkeys(PARTS.values()):
        found = [surface for surface in surfaces if PARTS.get(surface.kind) == part]
        rows += _part(file, part, found, said)
    if bare := [row.cells["layer"].text for row in rows if "lambda" not in row.cells]:
        said.append(
            f"The file gives no conductivity of {', '.join(dict.fromkeys(bare))}: type their λ, "
            "for a layer without one isn't counted."
        )
    if rows:
        said.append("No file says which share of a layer is framing: type it where there is any.")
    if airs := sum(surface.kind == "Air" for surface in surfaces):
        said.append(f"Air surfaces are no walls: {airs} are left out.")
    return rows


def _part(
    file: EnergyFile, part: str, surfaces: Sequence[Surface], said: list[str]
) -> list[RowMade]:
    areas: dict[str, float] = {}
    unmeasured = 0
    for surface in surfaces:
        area = surface.area_m2
        if area is None:
            unmeasured += 1
            continue
        id_ = surface.element.get("constructionIdRef", "")
        areas[id_] = areas.get(id_, 0.0) + area
    if unmeasured:
        said.append(
            f"{part.capitalize()}: {unmeasured} surfaces have no size; the gross area is blank."
        )
    known = {
        id_: area for id_, area in areas.items() if file.referred("Construction", id_) is not None
    }
    if areas and not known:
        said.append(f"{part.capitalize()}: no construction is given.")
    if not known:
        return []
    largest = max(known, key=lambda id_: (known[id_], id_))
    made = file.referred("Construction", largest)
    assert made is not None
    if len(areas) > 1:
        said.append(
            f"{part.capitalize()}: {name_or_id(made)} is the largest of {len(areas)} build-ups "
            f"({areas[largest]:.1f} of {sum(areas.values()):.1f} m²); the others aren't taken."
        )
    gross = None if unmeasured else sum(areas.values())
    rows = []
    for place, material in enumerate(_materials(file, made), 1):
        row = RowMade("envelope", source=f"{part} {largest} {place}")
        row.words("part", part, How.WRITTEN, "Surface, surfaceType")
        row.words("layer", name_or_id(material), How.WRITTEN, "Material, Name")
        row.figure("gross_area_m2", gross, How.MEASURED, "surfaces of the part, openings included")
        _figures(file, material, row)
        rows.append(row)
    if not rows:
        said.append(f"{part.capitalize()}: {name_or_id(made)} has no layers.")
    return rows


def _materials(file: EnergyFile, made: Element) -> Iterator[Element]:
    """Materials of a construction as they are listed: from outside to inside.

    Source: gbXML schema, of LayerId (0.37 to 6.01) and of MaterialId (0.37 to 5.12).
    """
    for layer_id in children(made, "LayerId"):
        layer = file.referred("Layer", layer_id.get("layerIdRef"))
        for material_id in children(layer, "MaterialId"):
            material = file.referred("Material", material_id.get("materialIdRef"))
            if material is not None:
                yield material


def _figures(file: EnergyFile, material: Element, row: RowMade) -> None:
    thickness = file.figure(child(material, "Thickness"), "lengthUnit")
    row.figure("mm", thickness, How.WRITTEN, "Material, Thickness")
    conductivity = file.figure(child(material, "Conductivity"))
    resistance = file.figure(child(material, "R-value"))
    if conductivity is not None:
        row.figure("lambda", conductivity, How.WRITTEN, "Material, Conductivity")
    elif thickness is not None and resistance is not None:
        place = "Material, Thickness over R-value"
        row.figure("lambda", thickness / resistance, How.RECKONED, place)
    density = file.figure(child(material, "Density"))
    row.figure("density", density, How.WRITTEN, "Material, Density")
    heat = file.figure(child(material, "SpecificHeat"))
    row.figure("specific_heat", heat, How.WRITTEN, "Material, SpecificHeat")


def thickness_of(file: EnergyFile, surface: Surface) -> float | None:
    """Of all layers of a surface [m]; None where one gives none."""
    made = file.referred("Construction", surface.element.get("constructionIdRef"))
    if made is None:
        return None
    found = [
        file.figure(child(material, "Thickness"), "lengthUnit")
        for material in _materials(file, made)
    ]
    return sum(t for t in found if t) if found and all(found) else None

"""Small building models written for tests, in units and habits as they are asked for.

Every length that is given is in metres, whatever unit the file is in. Needs ifcopenshell.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.guid

Point = tuple[float, ...]
FOOT_M = 0.3048


class Model:
    """A model in the making: one storey at first, without north unless it is given."""

    properties_of_materials = True

    def __init__(
        self,
        schema: str = "IFC4",
        unit: str = "MILLI",
        north: Point | None = None,
    ) -> None:
        self.file = ifcopenshell.file(schema=schema)
        self.metre = {"MILLI": 1000.0, "": 1.0, "FOOT": 1 / FOOT_M}[unit]
        self._number = 0
        at = self.placement()
        north_at = self.make("IfcDirection", north) if north else None
        self.context = self.make(
            "IfcGeometricRepresentationContext", None, "Model", 3, 1e-5, at, north_at
        )
        units = self.make("IfcUnitAssignment", [self._length(unit)])
        self.project = self.rooted("IfcProject", Name="Cabin")
        self.project.RepresentationContexts = [self.context]
        self.project.UnitsInContext = units
        self.storeys: list[Any] = []
        self.storey("Ground floor", 0.0)

    def _length(self, unit: str) -> Any:
        if unit != "FOOT":
            return self.make("IfcSIUnit", None, "LENGTHUNIT", unit or None, "METRE")
        metre = self.make("IfcSIUnit", None, "LENGTHUNIT", None, "METRE")
        exponents = self.make("IfcDimensionalExponents", 1, 0, 0, 0, 0, 0, 0)
        ratio = self.make("IfcMeasureWithUnit", self.measure("IfcRatioMeasure", FOOT_M), metre)
        return self.make("IfcConversionBasedUnit", exponents, "LENGTHUNIT", "FOOT", ratio)

    def make(self, kind: str, *values: Any, **named: Any) -> Any:
        """An entity."""
        return self.file.create_entity(kind, *values, **named)

    def rooted(self, kind: str, **named: Any) -> Any:
        """An entity with a GlobalId, the same in each writing of the same model."""
        self._number += 1
        id_ = ifcopenshell.guid.compress(f"{self._number:032x}")
        return self.make(kind, GlobalId=id_, **named)

    def measure(self, kind: str, value: Any) -> Any:
        """A value with its kind of measure."""
        return self.file.create_entity(kind, value)

    def storey(self, name: str, elevation: float) -> Any:
        """A storey, on which what follows stands."""
        self.at = self.rooted("IfcBuildingStorey", Name=name)
        self.at.Elevation = elevation * self.metre
        self.storeys.append(self.at)
        return self.at

    def point(self, *at: float) -> Any:
        """A point [m]."""
        return self.make("IfcCartesianPoint", [float(part) * self.metre for part in at])

    def placement(self, at: Point = (0, 0, 0), x: Point = (1, 0, 0)) -> Any:
        """Axes at a point, upright, turned so that their x looks along a direction."""
        directions = [self.make("IfcDirection", way) for way in ((0.0, 0.0, 1.0), x)]
        return self.make("IfcAxis2Placement3D", self.point(*at), *directions)

    def box(self, size: Point, at: Point = (0, 0, 0)) -> Any:
        """A box from its lower left corner [m]."""
        width, depth, height = size
        middle = self.make("IfcAxis2Placement2D", self.point(width / 2, depth / 2))
        profile = self.make(
            "IfcRectangleProfileDef",
            "AREA",
            None,
            middle,
            width * self.metre,
            depth * self.metre,
        )
        return self._extruded(profile, self.placement(at), height)

    def prism(self, section: Sequence[Point], length: float) -> Any:
        """A section of y and z, drawn out along x from 0 [m]."""
        corners = [self.point(*corner) for corner in (*section, section[0])]
        outline = self.make("IfcPolyline", corners)
        profile = self.make("IfcArbitraryClosedProfileDef", "AREA", None, outline)
        ways = [self.make("IfcDirection", way) for way in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))]
        axes = self.make("IfcAxis2Placement3D", self.point(0, 0, 0), *ways)
        return self._extruded(profile, axes, length)

    def _extruded(self, profile: Any, axes: Any, length: float) -> Any:
        up = self.make("IfcDirection", (0.0, 0.0, 1.0))
        return self.make("IfcExtrudedAreaSolid", profile, axes, up, length * self.metre)

    def clear(self, item: Any, transparency: float = 0.8, name: str = "Clear") -> Any:
        """Give an item a style that light comes through."""
        colour = self.make("IfcColourRgb", None, 0.8, 0.9, 1.0)
        shading = self.make("IfcSurfaceStyleRendering", colour)
        shading.Transparency = transparency
        shading.ReflectanceMethod = "NOTDEFINED"
        style = self.make("IfcSurfaceStyle", name, "BOTH", [shading])
        styles = [style]
        if self.file.schema == "IFC2X3":
            styles = [self.make("IfcPresentationStyleAssignment", [style])]
        self.make("IfcStyledItem", item, styles, None)
        return item

    def thing(
        self,
        kind: str,
        name: str,
        items: Sequence[Any],
        at: Point = (0, 0, 0),
        x: Point = (1, 0, 0),
    ) -> Any:
        """A thing with a body, which stands on the storey."""
        made = self.rooted(kind, Name=name)
        made.ObjectPlacement = self.make("IfcLocalPlacement", None, self.placement(at, x))
        if items:
            body = self.make(
                "IfcShapeRepresentation", self.context, "Body", "SolidModel", list(items)
            )
            made.Representation = self.make("IfcProductDefinitionShape", None, None, [body])
        if made.is_a("IfcSpace"):
            self.relate("IfcRelAggregates", RelatingObject=self.at, RelatedObjects=[made])
        elif made.is_a("IfcElement") and not made.is_a("IfcOpeningElement"):
            self.relate(
                "IfcRelContainedInSpatialStructure",
                RelatingStructure=self.at,
                RelatedElements=[made],
            )
        return made

    def relate(self, kind: str, **named: Any) -> Any:
        """A relation."""
        return self.rooted(kind, **named)

    def room(self, name: str, size: Point, at: Point = (0, 0, 0)) -> Any:
        """A room as a box of its inner faces."""
        return self.thing("IfcSpace", name, [self.box(size)], at)

    def opening_in(self, wall: Any, filler: Any) -> None:
        """Put a window or door into a wall, through a hole that cuts nothing off."""
        hole = self.thing("IfcOpeningElement", "Hole", [])
        self.relate("IfcRelVoidsElement", RelatingBuildingElement=wall, RelatedOpeningElement=hole)
        self.relate(
            "IfcRelFillsElement", RelatingOpeningElement=hole, RelatedBuildingElement=filler
        )

    def properties(self, thing: Any, set_name: str, **values: Any) -> None:
        """Write properties of a thing; a pair names the kind of measure."""
        made = []
        for name, value in values.items():
            kind, figure = value if isinstance(value, tuple) else ("IfcBoolean", value)
            made.append(
                self.make("IfcPropertySingleValue", name, None, self.measure(kind, figure), None)
            )
        if thing.is_a("IfcMaterial") and not self.properties_of_materials:
            return
        if thing.is_a("IfcMaterial"):
            self.make("IfcMaterialProperties", set_name, None, made, thing)
            return
        told = self.rooted("IfcPropertySet", Name=set_name)
        told.HasProperties = made
        self.relate(
            "IfcRelDefinesByProperties", RelatedObjects=[thing], RelatingPropertyDefinition=told
        )

    def quantity(self, thing: Any, kind: str, name: str, value: float) -> None:
        """Write a quantity, in the file's own units."""
        one = self.make(kind, name, None, None, value)
        told = self.rooted("IfcElementQuantity", Name="Qto_SpaceBaseQuantities")
        told.Quantities = [one]
        self.relate(
            "IfcRelDefinesByProperties", RelatedObjects=[thing], RelatingPropertyDefinition=told
        )

    def layers(
        self,
        things: Sequence[Any],
        name: str,
        layers: Sequence[tuple[str, float, float | None]],
        sense: str | None = "POSITIVE",
        way: str = "AXIS2",
    ) -> None:
        """Give things a build-up: name, thickness [m] and conductivity [W/mK] of each layer."""
        made = []
        for called, thickness, conductivity in layers:
            material = self.make("IfcMaterial", called)
            if conductivity is not None:
                measure = ("IfcThermalConductivityMeasure", conductivity)
                self.properties(material, "Pset_MaterialThermal", ThermalConductivity=measure)
            made.append(self.make("IfcMaterialLayer", material, thickness * self.metre, None))
        told = self.make("IfcMaterialLayerSet", made, name)
        if sense:
            told = self.make("IfcMaterialLayerSetUsage", told, way, sense, 0.0)
        self.relate("IfcRelAssociatesMaterial", RelatedObjects=list(things), RelatingMaterial=told)

    def boundary(self, space: Any, element: Any, side: str) -> None:
        """Say that an element bounds a space."""
        self.relate(
            "IfcRelSpaceBoundary",
            RelatingSpace=space,
            RelatedBuildingElement=element,
            PhysicalOrVirtualBoundary="PHYSICAL",
            InternalOrExternalBoundary=side,
        )

    def save(self, path: Path) -> str:
        """Write the file; its path."""
        self.file.write(str(path))
        return str(path)


def window(
    model: Model,
    at: Point,
    x: Point = (1, 0, 0),
    panes: Sequence[float] = (0.5, 0.5),
    transparency: float = 0.8,
    name: str = "Window",
) -> Any:
    """A window 1.2 × 1.0 m in a frame of 60 mm, its panes 0.88 m high and as wide as is said [m].

    at   its lower left corner; its depth lies along its own y, 60 mm
    """
    frame = [
        model.box((1.2, 0.06, 0.06)),
        model.box((1.2, 0.06, 0.06), (0, 0, 0.94)),
        model.box((0.06, 0.06, 0.88), (0, 0, 0.06)),
        model.box((0.06, 0.06, 0.88), (1.14, 0, 0.06)),
    ]
    left, glass = 0.06, []
    for pane in panes:
        item = model.box((pane, 0.02, 0.88), (left, 0.02, 0.06))
        glass.append(model.clear(item, transparency))
        left += pane + 0.08
    made = model.thing("IfcWindow", name, frame + glass, at, x)
    made.OverallWidth, made.OverallHeight = 1.2 * model.metre, 1.0 * model.metre
    return made


def cabin(
    schema: str = "IFC4", unit: str = "MILLI", north: Point | None = (0.0, 1.0), **more: Any
) -> Model:
    """A room of 5 × 4 × 2.5 m, a window in its south wall 1 m from the left, a door in its east.

    Walls are 0.3 m thick: board 20 mm outside, fibre 200 mm, board 80 mm inside.
    """
    model = Model(schema, unit, north)
    room = model.room("Day room", (5, 4, 2.5))
    south = model.thing("IfcWall", "South", [model.box((5.6, 0.3, 2.5))], (-0.3, -0.3, 0))
    east = model.thing(
        "IfcWall", "East", [model.box((4, 0.3, 2.5))], (5.3, 0, 0), x=(0.0, 1.0, 0.0)
    )
    pieces = window(model, (1, -0.2, 0.8), **more)
    model.opening_in(south, pieces)
    door = model.thing(
        "IfcDoor", "Door", [model.box((0.9, 0.1, 2.1))], (5.1, 1, 0), (0.0, 1.0, 0.0)
    )
    door.OverallWidth, door.OverallHeight = 0.9 * model.metre, 2.1 * model.metre
    model.opening_in(east, door)
    boards = [("Cladding", 0.02, 0.13), ("Wood fibre", 0.2, 0.04), ("Lining", 0.08, 0.0)]
    model.layers([south], "Timber wall", boards, "POSITIVE")
    model.layers([east], "Timber wall", boards[::-1], "POSITIVE")
    model.parts = {"room": room, "south": south, "east": east, "window": pieces, "door": door}
    return model

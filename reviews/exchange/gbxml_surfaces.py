"""Surfaces and openings of an energy model as polygons in space [SI]."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from xml.etree.ElementTree import Element

import numpy as np
from numpy.typing import NDArray

from reviews.exchange.gbxml_file import EnergyFile, child, children, number_of, words

Figures = NDArray[np.float64]

OUTSIDE = ("ExteriorWall", "UndergroundWall")
PARTS = {
    **dict.fromkeys(OUTSIDE, "wall"),
    "Roof": "roof",
    "SlabOnGrade": "floor",
    "UndergroundSlab": "floor",
    "ExposedFloor": "floor",
    "RaisedFloor": "floor",
}
"""Of which part of the envelope a surface is; air surfaces and shades are of none."""
TOPS = ("Roof", "Ceiling", "UndergroundCeiling", "InteriorFloor")
"""What lies over a room; an inner floor is the ceiling of what is below."""


@dataclass(frozen=True)
class Face:
    """A polygon: corners in order, n × 3 [m]."""

    corners: Figures

    @cached_property
    def crossed(self) -> Figures:
        """Half the sum of cross products: as long as the area, along the normal [m²]."""
        at = self.corners - self.corners[0]
        return np.asarray(np.cross(at, np.roll(at, -1, axis=0)).sum(axis=0) / 2)

    @property
    def area_m2(self) -> float:
        """Area [m²]."""
        return float(np.linalg.norm(self.crossed))

    @property
    def out(self) -> Figures:
        """The way it looks by the order of its corners [1]; 0 of one without area."""
        return self.crossed / (self.area_m2 or 1.0)

    @property
    def middle(self) -> Figures:
        """Mean of its corners [m]."""
        return np.asarray(self.corners.mean(axis=0))

    def along(self, way: Figures) -> tuple[float, float]:
        """Where it begins and ends along a direction [m]."""
        reached = self.corners @ way
        return float(reached.min()), float(reached.max())


@dataclass(frozen=True)
class Surface:
    """A surface of the model.

    kind      as the schema names it
    spaces    ids of the rooms that it bounds, one or two
    face      its polygon; None where it has none that can be read
    size_m    width and height as written of a rectangle [m]
    azimuth   as written of a rectangle, clockwise from the model's y axis [°]
    """

    element: Element
    kind: str
    spaces: tuple[str, ...]
    face: Face | None
    size_m: tuple[float | None, float | None]
    azimuth: float | None

    @property
    def area_m2(self) -> float | None:
        """Gross area: openings lie in it [m²]."""
        if self.face is not None and self.face.area_m2 > 0:
            return self.face.area_m2
        width, height = self.size_m
        return width * height if width and height else None


def surfaces_of(file: EnergyFile) -> list[Surface]:
    """Every surface, in the order of the file."""
    return [surface_of(file, element) for element in file.of("Surface")]


def surface_of(file: EnergyFile, element: Element) -> Surface:
    """A surface, or an opening, of its element."""
    rectangle = child(element, "RectangularGeometry")
    sizes = (
        file.figure(child(rectangle, "Width"), "lengthUnit"),
        file.figure(child(rectangle, "Height"), "lengthUnit"),
    )
    spaces = (each.get("spaceIdRef", "") for each in children(element, "AdjacentSpaceId"))
    corners = file.points(child(element, "PlanarGeometry"))
    return Surface(
        element=element,
        kind=element.get("surfaceType") or element.get("openingType") or "",
        spaces=tuple(dict.fromkeys(id_ for id_ in spaces if id_)),
        face=Face(np.array(corners)) if corners else None,
        size_m=sizes,
        azimuth=number_of(child(rectangle, "Azimuth")),
    )


def out_of(surface: Surface, inside: Figures | None) -> Figures | None:
    """The way a surface looks out [1]: away from its room, else as its corners or azimuth say."""
    face = surface.face
    if face is not None and face.area_m2 > 0:
        is_inwards = inside is not None and float((face.middle - inside) @ face.out) < 0
        return -face.out if is_inwards else face.out
    if surface.azimuth is None or surface.kind not in (*OUTSIDE, "InteriorWall"):
        return None
    turned = math.radians(surface.azimuth)
    return np.array([math.sin(turned), math.cos(turned), 0.0])


def place_in(surface: Surface, opening: Surface, out: Figures) -> tuple[float, float] | None:
    """From the left end and the foot of a wall to an opening, seen from inside [m]."""
    right, up = np.array([out[1], -out[0], 0.0]), np.array([0.0, 0.0, 1.0])
    if surface.face is not None and opening.face is not None:
        left = opening.face.along(right)[0] - surface.face.along(right)[0]
        return left, opening.face.along(up)[0] - surface.face.along(up)[0]
    return None


def name_or_id(element: Element) -> str:
    """What people call an element."""
    return words(child(element, "Name")) or element.get("id", "")


def source_of(element: Element) -> str:
    """What the program that drew it knows an element by, else its id in the file."""
    return words(child(element, "CADObjectId")) or element.get("id", "")

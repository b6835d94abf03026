"""Bodies of a building model, as triangles.

The library makes them twice: exactly, of whatever a model holds, and quickly, of flat faces alone.
The quick way takes a seventh of the time, but leaves out what it can't make without a word; so it
is asked for plain solids only, and taken where every one of them came, closed.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import ifcopenshell
import ifcopenshell.geom
import numpy as np
from numpy.typing import NDArray

from reviews.exchange.model_shapes import Body, Figures

Thing = Any
"""An entity of the file."""

_ifc: Any = ifcopenshell

DEEPEST = 12
"""So many steps from a part to its whole are followed; a file may go in a ring."""
IS_CLEAR = 0.1
"""A material is clear from this transparency on [1]. Ours."""
GLASS = ("glas", "glaz", "verre", "vidrio", "vetro")
"""Names of materials that are glass. Common practice."""


class Bodies:
    """What makes the bodies of one file."""

    def __init__(self, file: Any) -> None:
        """Make ready; nothing is measured yet."""
        self._quick = _kernel(file, "cgal-simple", is_whole=True)
        self._whole = _kernel(file, "opencascade", is_whole=True)
        self._cut = _kernel(file, "opencascade", is_whole=False)
        self._made: dict[tuple[int, bool], Body | None] = {}
        self._plain: dict[int, bool] = {}

    def of(self, thing: Thing, *, whole: bool) -> Body | None:
        """The body of a thing, of its parts where it has none of its own; None without one.

        whole   openings aren't cut out of it
        """
        key = (thing.id(), whole)
        if key not in self._made:
            shapes = [
                shape
                for part in _with_shape(thing)
                if (shape := self._shape(part, whole)) is not None
            ]
            try:
                self._made[key] = _joined(shapes) if shapes else None
            except ValueError:
                self._made[key] = None
        return self._made[key]

    def _shape(self, part: Thing, whole: bool) -> Any:
        is_cut = not whole and bool(getattr(part, "HasOpenings", None))
        if not is_cut and (solids := self._solids(part)):
            shape = _tried(self._quick, part)
            if shape is not None and _is_all(shape.geometry, solids):
                return shape
        return _tried(self._whole if whole else self._cut, part)

    def _solids(self, part: Thing) -> set[int]:
        """Keys of the solids that a part is made of; none where one isn't plain."""
        try:
            bodies = [
                each
                for each in part.Representation.Representations
                if each.RepresentationIdentifier == "Body"
            ]
            solids = list(_items(bodies[0])) if len(bodies) == 1 else []
            is_plain = all(map(self._is_plain, solids))
        except (AttributeError, TypeError):  # an entity, or none, where the schema has another
            return set()
        return {each.id() for each in solids} if is_plain else set()

    def _is_plain(self, solid: Thing) -> bool:
        if solid.id() not in self._plain:
            self._plain[solid.id()] = _is_plain(solid)
        return self._plain[solid.id()]


def _kernel(file: Any, library: str, *, is_whole: bool) -> Any:
    settings = _ifc.geom.settings()
    # else what has no material of its own gets one that light comes through
    settings.set("apply-default-materials", False)
    settings.set("use-material-names", True)
    settings.set("disable-opening-subtractions", is_whole)
    return _ifc.geom.kernel(settings, file, library)


def _tried(kernel: Any, part: Thing) -> Any:
    try:
        return kernel.create_shape(part)
    except (RuntimeError, ValueError):
        return None


def _with_shape(thing: Thing, depth: int = 0) -> Iterator[Thing]:
    if getattr(thing, "Representation", None) is not None:
        yield thing
    elif depth < DEEPEST:
        for relation in getattr(thing, "IsDecomposedBy", None) or ():
            for part in relation.RelatedObjects:
                yield from _with_shape(part, depth + DEEPEST // 3)


def _items(representation: Thing, depth: int = 0) -> Iterator[Thing]:
    """What a representation holds, through what is mapped into it."""
    for item in representation.Items:
        if item.is_a("IfcMappedItem") and depth < DEEPEST:
            yield from _items(item.MappingSource.MappedRepresentation, depth + 1)
        else:
            yield item


def _is_plain(solid: Thing) -> bool:
    """Whether all its faces are flat and nothing is cut off it."""
    kind = solid.is_a()
    if kind != "IfcExtrudedAreaSolid":
        return kind in ("IfcFacetedBrep", "IfcPolygonalFaceSet", "IfcTriangulatedFaceSet")
    profile = solid.SweptArea
    if profile.is_a() == "IfcRectangleProfileDef":
        return True
    outlines = [getattr(profile, "OuterCurve", None), *getattr(profile, "InnerCurves", ())]
    return all(outline is not None and outline.is_a("IfcPolyline") for outline in outlines)


def _is_all(geometry: Any, solids: set[int]) -> bool:
    """Whether a shape holds all of some solids, and each edge of it joins two faces."""
    faces = np.frombuffer(geometry.faces_buffer, np.int32).astype(int).reshape(-1, 3)
    if not solids <= set(np.frombuffer(geometry.item_ids_buffer, np.int32).tolist()):
        return False
    begins, ends = faces.ravel(), faces[:, (1, 2, 0)].ravel()
    size = int(faces.max()) + 1
    return bool((np.sort(begins * size + ends) == np.sort(ends * size + begins)).all())


def _joined(shapes: list[Any]) -> Body:
    corners: list[Figures] = []
    faces: list[NDArray[np.int64]] = []
    clear: list[NDArray[np.bool_]] = []
    glass: list[NDArray[np.bool_]] = []
    placed = np.array(shapes[0].transformation.matrix, float).reshape(4, 4).T
    for shape in shapes:
        matrix = np.array(shape.transformation.matrix, float).reshape(4, 4).T
        points = np.frombuffer(shape.geometry.verts_buffer, float).reshape(-1, 3)
        found = np.frombuffer(shape.geometry.faces_buffer, np.int32).astype(int).reshape(-1, 3)
        found = found if _is_outward(points, found) else found[:, ::-1]
        faces.append(found + sum(len(each) for each in corners))
        corners.append(points @ matrix[:3, :3].T + matrix[:3, 3])
        materials = list(shape.geometry.materials)
        # a face without a material has the place before the first, which is the last here
        of_face = np.frombuffer(shape.geometry.material_ids_buffer, np.int32)
        clear.append(np.array([*map(_is_clear, materials), False])[of_face])
        glass.append(np.array([*map(_is_glass, materials), False])[of_face])
    with np.errstate(all="ignore"):
        return Body(
            corners=np.concatenate(corners),
            faces=np.concatenate(faces),
            is_clear=np.concatenate(clear),
            is_glass=np.concatenate(glass),
            axes=placed[:3, :3],
        )


def _is_outward(points: Figures, faces: NDArray[np.int64]) -> bool:
    """Whether a body's faces look out of it; some programs write them inside out."""
    if not len(faces):
        return True
    with np.errstate(all="ignore"):
        return not float(np.linalg.det(points[faces] - points[0]).sum()) < 0


def _is_clear(material: Any) -> bool:
    return bool(material.transparency >= IS_CLEAR)


def _is_glass(material: Any) -> bool:
    return any(word in str(material.name).casefold() for word in GLASS)

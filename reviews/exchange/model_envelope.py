"""The envelope of a building model: which walls are outside, and what its parts are made of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from reviews.exchange.model_bodies import Thing
from reviews.exchange.model_file import ModelFile
from reviews.exchange.model_rooms import Rooms
from reviews.exchange.model_shapes import Body, Figures
from reviews.exchange.proposed import How

OUTSIDE_WALL = "outside-wall"
"""Name of the question which build-up is that of the outside walls."""
ALL = "all"
"""The answer that all of them are."""
NONE = "none"
"""The answer that none of them are."""

_OUTSIDE = ("outside", "external", "exterior", "outer", "außen", "aussen", "extérieur", "facade")
_INSIDE = ("inside", "internal", "interior", "inner", "innen", "partition", "intérieur")
STRAIGHT_M = 1.0
"""A wall that is deeper across an opening than this isn't straight there. Ours."""
_BASE_WITHIN_M = 0.3
"""Slabs this near to the lowest are the floor of the building. Ours."""
_PARTS = tuple((along, up) for along in (0.5, 0.15, 0.3, 0.7, 0.85) for up in (0.5, 0.15, 0.85))
"""Where along and up a wall rooms are looked for [1]. Ours."""


@dataclass(frozen=True)
class Known:
    """Whether something is outside, how that is known, and where it stands."""

    is_outside: bool
    how: How
    place: str


@dataclass(frozen=True)
class BuildUp:
    """Layers of one element as they are listed.

    name       of the set
    layers     each material's entity, or None, with its thickness [m]
    low_first  whether the first lies on the lower side of the element's own axis; None unknown
    axis       that axis: 1 is y, 2 is z
    """

    name: str
    layers: tuple[tuple[Thing | None, float], ...]
    low_first: bool | None
    axis: int

    @property
    def thickness_m(self) -> float:
        """Of all layers [m]."""
        return sum(thickness for _, thickness in self.layers)

    @property
    def key(self) -> tuple[str, ...]:
        """What tells it from others, from whichever side its layers are listed."""
        layers = [f"{m.Name if m else ''} {t:.5f}" for m, t in self.layers]
        return (self.name, *min(layers, layers[::-1]))

    @property
    def called(self) -> str:
        """Its name and thickness."""
        return f"{self.name or 'without a name'}, {self.thickness_m * 1000:.0f} mm"


@dataclass
class Envelope:
    """What is known of the elements round a building."""

    model: ModelFile
    rooms: Rooms
    answers: Mapping[str, str]
    boundaries: dict[int, list[tuple[int, str]]] = field(init=False)
    _built: dict[int, BuildUp | None] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.boundaries = {}
        for one in self.model.of("IfcRelSpaceBoundary"):
            element, space = one.RelatedBuildingElement, one.RelatingSpace
            if element is not None and space is not None:
                told = (space.id(), str(one.InternalOrExternalBoundary or ""))
                self.boundaries.setdefault(element.id(), []).append(told)

    def known(self, thing: Thing) -> Known | None:
        """Whether a thing is outside: as the file says, by its boundaries, by its names."""
        flag = self.model.flag(thing, "IsExternal")
        if flag is not None:
            return Known(flag.value, How.WRITTEN, flag.place)
        sides = [side for _, side in self.boundaries.get(thing.id(), ())]
        if any(side.startswith("EXTERNAL") for side in sides):
            return Known(True, How.WRITTEN, "IfcRelSpaceBoundary, EXTERNAL")
        if "INTERNAL" in sides:
            return Known(False, How.WRITTEN, "IfcRelSpaceBoundary, INTERNAL")
        return self._by_name(thing)

    def wall_known(self, wall: Thing) -> Known | None:
        """The same of a wall: None where the file contradicts itself; then as answered."""
        known, made = self.known(wall), self.build_up(wall)
        if known is not None and known.is_outside and made and made.key in self.doubted:
            known = None
        answer = self.answers.get(OUTSIDE_WALL)
        if known is None and answer:
            is_chosen = answer == ALL or (made is not None and made.called == answer)
            return Known(is_chosen, How.WRITTEN, "as answered")
        return known

    @cached_property
    def doubted(self) -> frozenset[tuple[str, ...]]:
        """Build-ups of walls that are said to be outside, but stand between rooms or are named so.

        Programs write each wall as outside whose type wasn't told otherwise.
        """
        found = set()
        for wall in self.model.of("IfcWall"):
            made, known = self.build_up(wall), self.known(wall)
            if made is None or known is None or not known.is_outside or made.key in found:
                continue
            named = self._by_name(wall)
            if (named is not None and not named.is_outside) or self._is_between_rooms(wall):
                found.add(made.key)
        return frozenset(found)

    def _is_between_rooms(self, wall: Thing) -> bool:
        """Whether rooms lie on both sides of a wall wherever one lies on either."""
        body = self.model.body(wall, whole=True)
        if body is None:
            return False
        here, there = (self._beside(body, body.axes[:, 1] * sign) for sign in (-1, 1))
        return bool(here) and here == there

    def _by_name(self, thing: Thing) -> Known | None:
        kind, made = self.model.type_of(thing), self.build_up(thing)
        names = [thing.Name, thing.ObjectType, kind and kind.Name, made and made.name]
        function = self.model.said_of(thing).get("Function")
        said = " ".join(str(name) for name in (*names, function and function.value) if name)
        words = said.casefold()
        is_outside, is_inside = (
            any(word in words for word in known) for known in (_OUTSIDE, _INSIDE)
        )
        if is_outside == is_inside:
            return None
        return Known(is_outside, How.GUESSED, f"of the name “{thing.Name or said}”")

    def build_up(self, thing: Thing) -> BuildUp | None:
        """The layers of an element, of its type where it has none of its own."""
        if thing.id() not in self._built:
            self._built[thing.id()] = self._build_up(thing)
        return self._built[thing.id()]

    def _build_up(self, thing: Thing) -> BuildUp | None:
        kind = self.model.type_of(thing)
        for owner in (thing, kind):
            for relation in getattr(owner, "HasAssociations", None) or ():
                if relation.is_a("IfcRelAssociatesMaterial"):
                    made = self._layers(relation.RelatingMaterial)
                    if made is not None:
                        return made
        return None

    def _layers(self, material: Thing) -> BuildUp | None:
        low_first, axis, sets = None, 1, material
        if material.is_a("IfcMaterialLayerSetUsage"):
            sets = material.ForLayerSet
            low_first = material.DirectionSense == "POSITIVE"
            axis = 2 if material.LayerSetDirection == "AXIS3" else 1
        if not sets.is_a("IfcMaterialLayerSet"):
            return None
        layers = tuple(
            (layer.Material, thickness)
            for layer in sets.MaterialLayers or ()
            if (thickness := self.model.metres(layer.LayerThickness)) is not None
        )
        name = str(sets.LayerSetName or "")
        return BuildUp(name, layers, low_first, axis) if layers else None

    def thickness_of(self, wall: Thing, out: Figures) -> float | None:
        """Thickness of a straight wall across a direction, by its layers or its shape [m]."""
        if made := self.build_up(wall):
            return made.thickness_m
        body = self.model.body(wall, whole=True)
        if body is None:
            return None
        low, high = body.along(out)
        return high - low if high - low < STRAIGHT_M else None

    def parts(self) -> Iterator[tuple[str, list[Thing]]]:
        """Walls, roof and floor of the envelope, each with its elements."""
        yield (
            "wall",
            [
                wall
                for wall in self.model.of("IfcWall")
                if (known := self.wall_known(wall)) is not None and known.is_outside
            ],
        )
        slabs = [slab for slab in self.model.of("IfcSlab") if slab.PredefinedType != "LANDING"]
        covering = [slab for slab in slabs if slab.PredefinedType == "ROOF" or _is_of_roof(slab)]
        roofs = [roof for roof in self.model.of("IfcRoof") if roof.Representation is not None]
        yield "roof", covering + roofs
        others = [slab for slab in slabs if slab not in covering]
        bases = [slab for slab in others if slab.PredefinedType == "BASESLAB"] or others
        feet = {slab.id(): b.foot_m for slab in bases if (b := self.model.body(slab)) is not None}
        lowest = min(feet.values(), default=0.0)
        yield (
            "floor",
            [s for s in bases if s.id() in feet and feet[s.id()] < lowest + _BASE_WITHIN_M],
        )

    def is_first_outside(self, part: str, thing: Thing, made: BuildUp) -> bool | None:
        """Whether the first layer is the outermost; None where that isn't known."""
        body = self.model.body(thing, whole=True)
        if made.low_first is None or body is None:
            return None
        axis = body.axes[:, made.axis]
        if part != "wall":
            outwards = axis[2] if part == "roof" else -axis[2]
            return None if abs(outwards) < 0.1 else made.low_first == bool(outwards < 0)
        inside = {sign for sign in (-1, 1) if self._beside(body, axis * sign)}
        return made.low_first == (inside == {1}) if len(inside) == 1 else None

    def _beside(self, body: Body, way: Figures) -> set[tuple[float, float]]:
        """Where along and up a wall a room lies on one side of it [parts]."""
        _, high = body.along(way)
        low, size = body.corners.min(axis=0), np.ptp(body.corners, axis=0)
        near = self.rooms.near(low + size / 2, float(size.max()) / 2 + 0.5)
        points = low + size * [(along, along, up) for along, up in _PARTS]
        points += np.outer(high - points @ way, way)
        held = np.zeros(len(_PARTS), bool)
        for room in near:
            held |= room.holds(points + way * 0.1) | room.holds(points + way * 0.4)
        return {part for part, is_held in zip(_PARTS, held, strict=True) if is_held}


def _is_of_roof(slab: Thing) -> bool:
    return any(relation.RelatingObject.is_a("IfcRoof") for relation in slab.Decomposes or ())

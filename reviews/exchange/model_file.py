"""A building model (IFC, ISO 16739-1) as it lies in its file: units, properties, storeys, bodies.

What is unset is None, and so is a figure of 0: programs write it where nothing was given.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import ifcopenshell

from criteria.errors import Refused
from reviews.exchange.model_bodies import DEEPEST, Bodies, Thing
from reviews.exchange.model_shapes import Body

_ifc: Any = ifcopenshell

READABLE = ("IFC2X3", "IFC4")
"""Editions that are read: IFC 4.3 begins like IFC 4, and says these things alike."""
MOST_OF_A_KIND = 1000
"""As many rows as a schedule takes."""

_PREFIXES = {
    **{"EXA": 18, "PETA": 15, "TERA": 12, "GIGA": 9, "MEGA": 6, "KILO": 3, "HECTO": 2, "DECA": 1},
    **{"DECI": -1, "CENTI": -2, "MILLI": -3, "MICRO": -6, "NANO": -9, "PICO": -12},
}
_POWERS = {"SQUARE_METRE": 2, "CUBIC_METRE": 3}
_UNIT_OF = {
    "IfcThermalTransmittanceMeasure": "THERMALTRANSMITTANCEUNIT",
    "IfcThermalConductivityMeasure": "THERMALCONDUCTANCEUNIT",
    "IfcMassDensityMeasure": "MASSDENSITYUNIT",
    "IfcSpecificHeatCapacityMeasure": "SPECIFICHEATCAPACITYUNIT",
    "IfcLengthMeasure": "LENGTHUNIT",
    "IfcPositiveLengthMeasure": "LENGTHUNIT",
    "IfcNonNegativeLengthMeasure": "LENGTHUNIT",
    "IfcQuantityLength": "LENGTHUNIT",
    "IfcQuantityArea": "AREAUNIT",
    "IfcQuantityVolume": "VOLUMEUNIT",
}


@dataclass(frozen=True)
class Said:
    """A property as the file writes it.

    value   as written; a figure in SI
    place   the set and the property, in words
    """

    value: Any
    place: str


class ModelFile:
    """An opened file."""

    def __init__(self, path: str) -> None:
        """Open a file. Raises Refused for what isn't a model that is read here."""
        _refuse_cut(path)
        _ifc.get_log()  # which empties it
        try:
            self.file = ifcopenshell.open(path)
        except (OSError, RuntimeError, UnicodeError, ValueError) as broken:
            raise Refused("no building model that can be read", _EXPECTED) from broken
        except ifcopenshell.Error as broken:
            raise Refused("no building model that can be read", _EXPECTED) from broken
        if not self.file.schema.startswith(READABLE):
            raise Refused(f"a model of {self.file.schema}", _EXPECTED)
        self.complaints = _complaints(_ifc.get_log())
        self._bodies = Bodies(self.file)
        self._said: dict[int, dict[str, Said]] = {}

    @property
    def made_by(self) -> str:
        """The program that wrote it, as it says itself."""
        for program in self.of("IfcApplication"):
            if program.ApplicationFullName:
                return str(program.ApplicationFullName)
        return str(self.file.header.file_name.originating_system or "")

    def of(self, kind: str) -> list[Thing]:
        """Everything of a kind, in the order of the file; nothing where its edition has none.

        Raises Refused for more than a schedule has rows.
        """
        try:
            found = self.file.by_type(kind)
        except RuntimeError:
            return []
        if len(found) > MOST_OF_A_KIND and kind in _COUNTED:
            many = f"a model of {len(found):,} {_COUNTED[kind]}"
            raise Refused(many, f"one small building, with at most {MOST_OF_A_KIND:,} of them")
        return list(found)

    # units

    @cached_property
    def _units(self) -> dict[str, float]:
        found: dict[str, float] = {}
        for project in self.of("IfcProject")[:1]:
            for unit in getattr(project.UnitsInContext, "Units", None) or ():
                kind = getattr(unit, "UnitType", None)
                if kind:
                    found[kind] = _factor(unit)
        return found

    def unit(self, kind: str) -> float:
        """SI units in one of the file's own; 1 where it names none."""
        factor = self._units.get(kind, 1.0)
        return factor if math.isfinite(factor) and factor > 0 else 1.0

    @property
    def names_length(self) -> bool:
        """Whether it says in which unit its lengths are."""
        return "LENGTHUNIT" in self._units

    def metres(self, written: Any) -> float | None:
        """A length of the file [m]; None of 0 and of what is no length."""
        if not isinstance(written, int | float) or isinstance(written, bool) or not written > 0:
            return None
        return float(written) * self.unit("LENGTHUNIT")

    # properties

    def said_of(self, thing: Thing) -> dict[str, Said]:
        """Properties and quantities of a thing and its type by name; its own come first.

        A name that stands in several sets is that of a standard set first.
        """
        if thing.id() not in self._said:
            sets = list(self._sets_of(thing))
            sets.sort(key=lambda each: not _is_standard(str(each.Name or "")))
            found: dict[str, Said] = {}
            for each in sets:
                for name, value in self._written(each):
                    found.setdefault(name, Said(value, f"{each.Name}, {name}"))
            for kind in map(self.type_of, (thing,)):
                if kind is not None and kind.id() != thing.id():
                    found = {**self.said_of(kind), **found}
            self._said[thing.id()] = found
        return self._said[thing.id()]

    def _sets_of(self, thing: Thing) -> Iterator[Thing]:
        for relation in getattr(thing, "IsDefinedBy", None) or ():
            if relation.is_a("IfcRelDefinesByProperties"):
                told = relation.RelatingPropertyDefinition
                yield from told if isinstance(told, tuple) else (told,)
        yield from getattr(thing, "HasPropertySets", None) or ()
        yield from getattr(thing, "HasProperties", None) or () if thing.is_a("IfcMaterial") else ()

    def _written(self, each: Thing) -> Iterator[tuple[str, Any]]:
        properties = getattr(each, "HasProperties", None) or getattr(each, "Properties", None)
        for one in properties or ():
            if one.is_a("IfcPropertySingleValue") and one.NominalValue is not None:
                measure = one.NominalValue
                own = _factor(one.Unit) if getattr(one, "Unit", None) else None
                yield str(one.Name), self._figure(measure.wrappedValue, measure.is_a(), own)
        for one in getattr(each, "Quantities", None) or ():
            for key, value in one.get_info(recursive=False).items():
                if key.endswith("Value") and value is not None:
                    own = _factor(one.Unit) if one.Unit else None
                    yield str(one.Name), self._figure(value, one.is_a(), own)

    def _figure(self, value: Any, measure: str, own: float | None) -> Any:
        if isinstance(value, bool) or not isinstance(value, int | float):
            return value
        return value * (self.unit(_UNIT_OF.get(measure, "")) if own is None else own)

    def figure(self, thing: Thing, *names: str) -> Said | None:
        """The first of some properties that is written as a figure above 0 [SI]."""
        said = self.said_of(thing)
        for name in names:
            found = said.get(name)
            if found is None or isinstance(found.value, bool):
                continue
            if isinstance(found.value, int | float) and 0 < found.value < math.inf:
                return Said(float(found.value), found.place)
        return None

    def flag(self, thing: Thing, name: str) -> Said | None:
        """A property that is written as true or false."""
        found = self.said_of(thing).get(name)
        return found if found is not None and isinstance(found.value, bool) else None

    def parts_said(self, thing: Thing, kind: str) -> list[Thing]:
        """Sets of a fixed kind, such as IfcDoorLiningProperties, of a thing and its type."""
        own = [each for each in self._sets_of(thing) if each.is_a(kind)]
        typed = self.type_of(thing)
        return own or ([] if typed is None else [e for e in self._sets_of(typed) if e.is_a(kind)])

    def type_of(self, thing: Thing) -> Thing | None:
        """The type that a thing is of."""
        for relation in getattr(thing, "IsTypedBy", None) or ():
            return relation.RelatingType
        for relation in getattr(thing, "IsDefinedBy", None) or ():
            if relation.is_a("IfcRelDefinesByType"):
                return relation.RelatingType
        return None

    # places

    def storey_of(self, thing: Thing) -> tuple[str, float]:
        """Name and elevation [m] of the storey that a thing stands in."""
        here = thing
        for _ in range(DEEPEST):
            if here is None or here.is_a("IfcBuildingStorey"):
                break
            here = _whole_of(here)
        if here is None or not here.is_a("IfcBuildingStorey"):
            return "", 0.0
        raised = here.Elevation
        height = float(raised) * self.unit("LENGTHUNIT") if isinstance(raised, float) else 0.0
        return str(here.Name or here.LongName or ""), height if math.isfinite(height) else 0.0

    def body(self, thing: Thing, *, whole: bool = False) -> Body | None:
        """The body of a thing, of its parts where it has none of its own; None without one.

        whole   openings aren't cut out of it
        """
        return self._bodies.of(thing, whole=whole)

    @cached_property
    def north(self) -> tuple[float, float] | None:
        """Direction of north on the plan, in the model's axes [1]; None where it isn't said."""
        for context in self.of("IfcGeometricRepresentationContext"):
            if context.is_a("IfcGeometricRepresentationSubContext") or not context.TrueNorth:
                continue
            x, y = (float(part) for part in context.TrueNorth.DirectionRatios[:2])
            size = math.hypot(x, y)
            if math.isfinite(size) and size > 0:
                return x / size, y / size
        for turned in self.of("IfcMapConversion"):
            along, beside = turned.XAxisAbscissa, turned.XAxisOrdinate
            if isinstance(along, float) and isinstance(beside, float):
                size = math.hypot(along, beside)
                if math.isfinite(size) and size > 0:
                    return beside / size, along / size
        return None


_EXPECTED = "a model in IFC 4 or IFC 2x3, as a STEP file (.ifc)"
_COUNTED = {"IfcSpace": "rooms", "IfcWindow": "windows", "IfcDoor": "doors", "IfcWall": "walls"}


def _refuse_cut(path: str) -> None:
    """Raise Refused for a file that breaks off: what is missing would be left out in silence."""
    with open(path, "rb") as file:
        begins = file.read(64)
        file.seek(0, 2)
        file.seek(max(0, file.tell() - 4096))
        is_whole = b"END-ISO-10303-21" in file.read()
    if begins.lstrip().startswith(b"ISO-10303-21") and not is_whole:
        raise Refused("a model that breaks off before its end", "the whole file: export it again")


def _complaints(log: str) -> list[str]:
    """What the library couldn't read of a file: entities that are unknown, or missing."""
    unknown = re.findall(r"Entity with name '(\w+)' not found", log)
    missing = re.findall(r"Instance reference (#\d+) used by", log)
    return list(dict.fromkeys((*unknown, *missing)))


def _is_standard(name: str) -> bool:
    return name.startswith(("Pset_", "Qto_", "BaseQuantities"))


def _factor(unit: Thing, depth: int = 0) -> float:
    """SI units in one of a unit; the kilogram is the unit of mass, not the gram."""
    if depth > DEEPEST:
        return 1.0
    if unit.is_a("IfcSIUnit"):
        tenths = _PREFIXES.get(unit.Prefix or "", 0) * _POWERS.get(unit.Name, 1)
        return float(10.0 ** (tenths - 3 if unit.Name == "GRAM" else tenths))
    if unit.is_a("IfcConversionBasedUnit"):
        held = unit.ConversionFactor
        return float(held.ValueComponent.wrappedValue) * _factor(held.UnitComponent, depth + 1)
    if unit.is_a("IfcDerivedUnit"):
        parts = [(_factor(part.Unit, depth + 1), part.Exponent) for part in unit.Elements]
        return float(math.prod(factor**exponent for factor, exponent in parts))
    return 1.0


def _whole_of(thing: Thing) -> Thing | None:
    for relation in getattr(thing, "ContainedInStructure", None) or ():
        return relation.RelatingStructure
    for relation in getattr(thing, "Decomposes", None) or ():
        return relation.RelatingObject
    for relation in getattr(thing, "FillsVoids", None) or ():
        return relation.RelatingOpeningElement
    for relation in getattr(thing, "VoidsElements", None) or ():
        return relation.RelatingBuildingElement
    return None

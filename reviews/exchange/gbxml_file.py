"""An energy model (gbXML, openly published schema) as it lies in its file: elements and units.

A DTD and entities are refused; every figure is turned to SI by the unit that stands at it, else by
that of the header. What is unset is None, and so is a figure of 0.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from xml.etree.ElementTree import Element, ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import parse

from criteria.errors import Refused
from criteria.units import BTU_PER_H, FOOT, INCH, POUND, RANKINE

MOST_OF_A_KIND = 1000
"""As many rows as a schedule takes."""
LENGTH_UNIT = "length-unit"
"""Name of the question which unit lengths are in."""

_MILE, _YARD = 5280 * FOOT, 3 * FOOT
LENGTHS: dict[str, Fraction] = {
    "Kilometers": Fraction(1000),
    "Meters": Fraction(1),
    "Centimeters": Fraction(1, 100),
    "Millimeters": Fraction(1, 1000),
    "Miles": _MILE,
    "Yards": _YARD,
    "Feet": FOOT,
    "Inches": INCH,
}
UNITS: dict[str, Fraction] = {
    **LENGTHS,
    **{f"Square{name}": factor**2 for name, factor in LENGTHS.items()},
    **{f"Cubic{name}": factor**3 for name, factor in LENGTHS.items()},
    "WPerSquareMeterK": Fraction(1),
    "BtuPerHourSquareFtF": BTU_PER_H / (FOOT**2 * RANKINE),
    "SquareMeterKPerW": Fraction(1),
    "HrSquareFtFPerBTU": FOOT**2 * RANKINE / BTU_PER_H,
    "WPerMeterK": Fraction(1),
    "WPerCmC": Fraction(100),
    "BtuPerHourFtF": BTU_PER_H / (FOOT * RANKINE),
    "KgPerCubicM": Fraction(1),
    "GramsPerCubicCm": Fraction(1000),
    "LbsPerCubicFt": POUND / FOOT**3,
    "LbsPerCubicIn": POUND / INCH**3,
    "JPerKgK": Fraction(1),
    "BTUPerLbF": BTU_PER_H * 3600 / (POUND * RANKINE),
    "Fraction": Fraction(1),
    "Percent": Fraction(1, 100),
    "NumberOfPeople": Fraction(1),
}
"""SI units in one of what the schema names (gbXML 6.01, simple types)."""


@dataclass
class EnergyFile:
    """A file that is read.

    root      its outermost element
    unknown   units that it names and nobody knows, in order
    """

    root: Element
    answered: str = ""
    unknown: dict[str, None] = field(default_factory=dict)

    @cached_property
    def _by_kind(self) -> dict[str, list[Element]]:
        found: dict[str, list[Element]] = {}
        for each in self.root.iter():
            found.setdefault(name_of(each), []).append(each)
        return found

    def of(self, kind: str) -> list[Element]:
        """Every element of a kind. Raises Refused for more than a schedule has rows."""
        found = self._by_kind.get(kind, [])
        if kind in _COUNTED and len(found) > MOST_OF_A_KIND:
            many = f"a model of {len(found):,} {_COUNTED[kind]}"
            raise Refused(many, f"one small building, with at most {MOST_OF_A_KIND:,} of them")
        return found

    @cached_property
    def _by_id(self) -> dict[tuple[str, str], Element]:
        return {
            (kind, each.get("id", "")): each
            for kind, found in self._by_kind.items()
            for each in found
            if each.get("id")
        }

    def referred(self, kind: str, id_: str | None) -> Element | None:
        """The element of a kind that is referred to."""
        return self._by_id.get((kind, id_ or ""))

    def unit(self, name: str) -> float | None:
        """SI units in one of a named one; None of one that nobody knows, which is told."""
        factor = UNITS.get(name)
        if factor is None:
            self.unknown[name] = None
            return None
        return float(factor)

    @property
    def length_unit(self) -> str:
        """The header's unit of length, or the one that was answered; nothing where neither is."""
        return self.root.get("lengthUnit") or self.answered

    def figure(self, element: Element | None, header: str = "", bare: str = "") -> float | None:
        """A figure above 0 [SI]; None where it is unset, or in no unit that is known.

        header   attribute of the file's head that says the unit where the element doesn't
        bare     unit of a figure that has none
        """
        number = number_of(element)
        if number is None or element is None or number <= 0:
            return None
        named = element.get("unit") or (self.root.get(header, "") if header else "") or bare
        if not named and header and self.length_unit:
            power = {"areaUnit": "Square", "volumeUnit": "Cubic"}.get(header, "")
            named = power + self.length_unit
        factor = self.unit(named or "none")
        return None if factor is None else number * factor

    def points(self, geometry: Element | None) -> list[tuple[float, float, float]]:
        """Corners of the first loop of a geometry [m]; nothing where one can't be read."""
        factor = self.unit(self.length_unit) if self.length_unit else None
        loop = child(geometry, "PolyLoop")
        if loop is None or factor is None:
            return []
        found = []
        for point in children(loop, "CartesianPoint"):
            parts = [number_of(each) for each in children(point, "Coordinate")]
            if len(parts) != 3 or None in parts:
                return []
            x, y, z = (float(part or 0.0) * factor for part in parts)
            found.append((x, y, z))
        return found if len(found) > 2 else []


_COUNTED = {"Space": "rooms", "Opening": "openings", "Surface": "surfaces"}


def opened(path: str, answered: str) -> EnergyFile:
    """Open a file. Raises Refused for what is no gbXML, or could harm who reads it."""
    expected = "an energy model as gbXML, an XML file whose outermost element is gbXML"
    try:
        root = parse(path, forbid_dtd=True).getroot()
    except DefusedXmlException as harmful:
        raise Refused("XML that defines entities, or has a DTD", expected) from harmful
    except (ParseError, UnicodeError, LookupError, ValueError) as broken:
        raise Refused("XML that breaks off or contradicts itself", expected) from broken
    if root is None or name_of(root) != "gbXML":
        raise Refused(f"XML of another kind, {name_of(root)}" if root is not None else "", expected)
    return EnergyFile(root, answered if answered in LENGTHS else "")


def name_of(element: Element) -> str:
    """The name of an element, without its namespace."""
    return str(element.tag).rpartition("}")[2]


def children(element: Element | None, kind: str) -> Iterator[Element]:
    """The children of a kind."""
    for each in element if element is not None else ():
        if name_of(each) == kind:
            yield each


def child(element: Element | None, *path: str) -> Element | None:
    """The first child of a kind, its first of the next, and so on."""
    for kind in path:
        element = next(children(element, kind), None)
    return element


def words(element: Element | None) -> str:
    """The text of an element."""
    return " ".join((element.text or "").split()) if element is not None else ""


def number_of(element: Element | None) -> float | None:
    """The number in an element; None of what is none, or has no end."""
    try:
        number = float(words(element))
    except ValueError:
        return None
    return number if math.isfinite(number) and abs(number) < 1e12 else None

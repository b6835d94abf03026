"""Small energy models written for tests by the published schema (gbXML 6.01), in SI or US units.

Every length that is given is in metres, whatever unit the file is in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float, float]


@dataclass(frozen=True)
class Units:
    """What the head and the elements call their units, and how many of each are one of SI.

    Factors: NIST Special Publication 811 (2008), appendix B.8, turned round.
    """

    length: str
    area: str
    volume: str
    u: tuple[str, float]
    r: tuple[str, float]
    conductivity: tuple[str, float]
    density: tuple[str, float]
    heat: tuple[str, float]
    metre: float


SI = Units(
    "Meters",
    "SquareMeters",
    "CubicMeters",
    ("WPerSquareMeterK", 1.0),
    ("SquareMeterKPerW", 1.0),
    ("WPerMeterK", 1.0),
    ("KgPerCubicM", 1.0),
    ("JPerKgK", 1.0),
    1.0,
)
US = Units(
    "Feet",
    "SquareFeet",
    "CubicFeet",
    ("BtuPerHourSquareFtF", 1 / 5.678263),
    ("HrSquareFtFPerBTU", 1 / 0.1761102),
    ("BtuPerHourFtF", 1 / 1.730735),
    ("LbsPerCubicFt", 1 / 16.01846),
    ("BTUPerLbF", 1 / 4186.8),
    1 / 0.3048,
)
INCHES = Units(
    "Inches",
    "SquareFeet",
    "CubicFeet",
    US.u,
    US.r,
    US.conductivity,
    US.density,
    US.heat,
    1 / 0.0254,
)


def loop(units: Units, corners: Sequence[Point]) -> str:
    """A polygon of corners [m]."""
    points = "".join(
        "<CartesianPoint>"
        + "".join(f"<Coordinate>{part * units.metre:.9f}</Coordinate>" for part in corner)
        + "</CartesianPoint>"
        for corner in corners
    )
    return f"<PlanarGeometry><PolyLoop>{points}</PolyLoop></PlanarGeometry>"


def wall(
    units: Units,
    id_: str,
    start: Point,
    end: Point,
    height: float,
    inner: str = "",
    *,
    kind: str = "ExteriorWall",
    spaces: Sequence[str] = ("sp1",),
) -> str:
    """A wall seen from outside, from its left foot to its right one."""
    (x, y, z), (x2, y2, _) = start, end
    corners = [(x, y, z), (x2, y2, z), (x2, y2, z + height), (x, y, z + height)]
    return surface(units, id_, kind, corners, inner, spaces=spaces, made="wall")


def surface(
    units: Units,
    id_: str,
    kind: str,
    corners: Sequence[Point],
    inner: str = "",
    *,
    spaces: Sequence[str] = ("sp1",),
    made: str = "",
) -> str:
    """A surface of corners [m], anticlockwise seen from outside."""
    beside = "".join(f'<AdjacentSpaceId spaceIdRef="{space}"/>' for space in spaces)
    refers = f' constructionIdRef="{made}"' if made else ""
    return (
        f'<Surface id="{id_}" surfaceType="{kind}"{refers}>{beside}'
        f"{loop(units, corners)}{inner}</Surface>"
    )


def opening(
    units: Units,
    id_: str,
    kind: str,
    corners: Sequence[Point],
    size: tuple[float, float],
    refers: str = 'windowTypeIdRef="triple"',
    cad: str = "",
) -> str:
    """An opening of corners and of width and height [m]."""
    width, height = (part * units.metre for part in size)
    named = f"<CADObjectId>{cad}</CADObjectId>" if cad else ""
    return (
        f'<Opening id="{id_}" openingType="{kind}" {refers}><RectangularGeometry>'
        f"<Height>{height:.9f}</Height><Width>{width:.9f}</Width></RectangularGeometry>"
        f"{loop(units, corners)}{named}</Opening>"
    )


def material(
    units: Units, id_: str, mm: float, conductivity: float = 0.0, resistance: float = 0.0
) -> str:
    """A material, with its layer; a figure of 0 is written where there is none."""
    figures = [f'<Thickness unit="{units.length}">{mm / 1000 * units.metre:.9f}</Thickness>']
    if resistance:
        name, factor = units.r
        figures.append(f'<R-value unit="{name}">{resistance * factor:.9f}</R-value>')
    else:
        name, factor = units.conductivity
        figures.append(f'<Conductivity unit="{name}">{conductivity * factor:.9f}</Conductivity>')
    name, factor = units.density
    figures.append(f'<Density unit="{name}">{160 * factor:.9f}</Density>')
    name, factor = units.heat
    figures.append(f'<SpecificHeat unit="{name}">{2000 * factor:.9f}</SpecificHeat>')
    return (
        f'<Layer id="layer-{id_}"><MaterialId materialIdRef="{id_}"/></Layer>'
        f'<Material id="{id_}"><Name>{id_}</Name>{"".join(figures)}</Material>'
    )


def construction(id_: str, materials: Sequence[str]) -> str:
    """A construction of layers, outside to inside."""
    layers = "".join(f'<LayerId layerIdRef="layer-{each}"/>' for each in materials)
    return f'<Construction id="{id_}"><Name>{id_}</Name>{layers}</Construction>'


def document(units: Units, rooms: str, surfaces: str, more: str = "", azimuth: str = "0") -> str:
    """A whole file."""
    head = (
        f'temperatureUnit="C" lengthUnit="{units.length}" areaUnit="{units.area}" '
        f'volumeUnit="{units.volume}" useSIUnitsForResults="false"'
    )
    return (
        f'<gbXML xmlns="http://www.gbxml.org/schema" version="6.01" {head}>'
        f'<Campus id="campus"><Location><Name>Fellside</Name><Latitude>54.5</Latitude>'
        f"<Longitude>-3.1</Longitude><CADModelAzimuth>{azimuth}</CADModelAzimuth></Location>"
        f'<Building id="b" buildingType="SingleFamily">{rooms}'
        '<BuildingStorey id="ground"><Name>Ground floor</Name></BuildingStorey></Building>'
        f"{surfaces}</Campus>{more}"
        "<DocumentHistory><ProgramInfo id='p'><ProductName>Own hand</ProductName></ProgramInfo>"
        "</DocumentHistory></gbXML>"
    )


def space(units: Units, id_: str, name: str, area: float, volume: float, corners: str) -> str:
    """A room."""
    is_si = units.length == "Meters"
    return (
        f'<Space id="{id_}" buildingStoreyIdRef="ground"><Name>{name}</Name>'
        f"<Area>{area if is_si else area / 0.3048**2:.9f}</Area>"
        f"<Volume>{volume if is_si else volume / 0.3048**3:.9f}</Volume>{corners}</Space>"
    )


MATERIALS = ("Cladding", "Wood fibre", "Plaster")


def cabin(units: Units = SI, azimuth: str = "0", kind: str = "NonSlidingDoor") -> str:
    """A room of 5 × 4 × 2.5 m, a window in its south wall, a door in its east.

    The window is 1.2 × 1.0 m, 1 m from the west end, 0.8 m over the floor; its glass has g 0.5,
    light 0.7, U 0.85 W/m²K.
    """
    box = [(0.0, 0.0, 0.0), (5.0, 0.0, 0.0), (5.0, 4.0, 0.0), (0.0, 4.0, 0.0)]
    pane = [(1.0, 0.0, 0.8), (2.2, 0.0, 0.8), (2.2, 0.0, 1.8), (1.0, 0.0, 1.8)]
    leaf = [(5.0, 1.0, 0.0), (5.0, 1.9, 0.0), (5.0, 1.9, 2.1), (5.0, 1.0, 2.1)]
    top = [(x, y, 2.5) for x, y, _ in box]
    surfaces = [
        wall(
            units,
            "south",
            box[0],
            box[1],
            2.5,
            opening(units, "o1", "FixedWindow", pane, (1.2, 1.0), cad="4711"),
        ),
        wall(
            units,
            "east",
            box[1],
            box[2],
            2.5,
            opening(units, "o2", kind, leaf, (0.9, 2.1), 'constructionIdRef="wall"'),
        ),
        wall(units, "north", box[2], box[3], 2.5),
        wall(units, "west", box[3], box[0], 2.5),
        surface(units, "floor", "SlabOnGrade", box[::-1], made="wall"),
        surface(units, "roof", "Roof", top, made="roof"),
        surface(units, "gap", "Air", [box[0], box[1], top[1], top[0]]),
    ]
    name, factor = units.u
    more = "".join(
        (
            construction("wall", MATERIALS),
            construction("roof", ("Wood fibre",)),
            material(units, "Cladding", 20, 0.13),
            material(units, "Wood fibre", 200, 0.04),
            material(units, "Plaster", 15, resistance=0.03),
            f'<WindowType id="triple"><U-value unit="{name}">{0.85 * factor:.9f}</U-value>'
            '<SolarHeatGainCoeff unit="Fraction" solarIncidentAngle="60">0.4</SolarHeatGainCoeff>'
            '<SolarHeatGainCoeff unit="Fraction" solarIncidentAngle="0">0.5</SolarHeatGainCoeff>'
            '<Transmittance unit="Fraction" type="Solar">0.45</Transmittance>'
            '<Transmittance unit="Fraction" type="Visible">0.7</Transmittance></WindowType>',
        )
    )
    room = space(units, "sp1", "Day room", 20, 50, loop(units, box))
    return document(units, room, "".join(surfaces), more, azimuth)

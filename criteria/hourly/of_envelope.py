"""Walls, roof, floor, doors and what is heavy inside, made of a package's rows.

Framing makes a part into paths beside each other, which share a name. Each has its own layers, and
together they lose exactly what the envelope check says: framed layers conduct so much better as
the mean of its two limits asks.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from scipy.optimize import brentq

from criteria.checks.envelope import gross_area, layers_of, part_resistance
from criteria.findings import Amount, Step
from criteria.hourly.assumed import Taking
from criteria.hourly.building import Element, Layer, Outside
from criteria.hourly.facing import Face, Opening, roof, sides_m, walls
from criteria.hourly.ground import layers_on_ground, under_soil_k
from criteria.hourly.materials import Material, material_of
from criteria.hourly.weather import Weather
from criteria.measures.envelope import SURFACES_M2K_W
from criteria.measures.heat import STONE_J_KGK, TIMBER_J_KGK
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.envelope import DARK
from criteria.schedules.envelope import Layer as LayerRow
from criteria.typed.cells import require_some
from criteria.units import ROOM_LENGTH

FILMS_M2K_W = 0.17
"""Of windows and doors, inside and outside [m²K/W]. ISO 6946:2017, Table 7, quoted."""
LEAST_M2K_W = 0.004
"""Resistance of a pane or a leaf between its faces, whatever is typed: 4 mm of glass [m²K/W]."""
METAL_W_MK = 5.0
"""Framing that conducts more is taken for steel, other for timber [W/mK]. Ours."""
TIMBER, STEEL = material_of("timber", 0.13), material_of("steel", 50.0)
CONTENTS_J_M2K = 10_000.0
"""Heat that furniture and things hold, a square metre of floor [J/m²K]. ISO 52016-1, quoted."""
TIMBER_KG_M3, STONE_KG_M3 = 500.0, 2000.0
"""Of what is heavy inside [kg/m³]. ISO 10456:2007, Table 3, from memory."""
AS_TIMBER_J_KGK = 1300.0
"""What holds more a kilogram counts as timber, other as stone [J/kgK]. Ours."""


@dataclass(frozen=True)
class Path:
    """One way through a part: its share of the area [1] and its layers, outside to inside."""

    share: float
    layers: tuple[Layer, ...]


def paths(package: Package, part: str, taking: Taking) -> tuple[Path, ...]:
    """Return the paths through wall, roof or floor, whose U together is that of its check.

    All framing is taken to stand in line, one stud behind the other, as the check takes it.
    Raises Lacking as the check does.
    """
    whole = part_resistance(package, part).resistance
    rows = [row for row in layers_of(package, part) if row.lambda_w_mk is not None]
    framed = [row for row in rows if _is_framed(row)]
    edges = sorted({0.0, 1.0, *(row.bridge_share for row in framed)})
    strips = [(high - low, high) for low, high in pairwise(edges)]
    between = [_between(row, taking) for row in rows]
    layered = [
        [
            _framing(row) if _is_framed(row) and row.bridge_share >= high else layer
            for row, layer in zip(rows, between, strict=True)
        ]
        for _, high in strips
    ]
    films = sum(SURFACES_M2K_W[part])
    always = films + sum(
        layer.resistance_m2k_w
        for row, layer in zip(rows, between, strict=True)
        if row not in framed
    )
    apart = [sum(layer.resistance_m2k_w for layer in each) + films - always for each in layered]
    shares = [share for share, _ in strips]

    def missed(scale: float) -> float:
        loss = zip(shares, apart, strict=True)
        return sum(share / (always + scale * own) for share, own in loss) - 1 / whole

    scale = float(brentq(missed, 0.0, 1.0, xtol=1e-14)) if framed else 1.0
    return tuple(
        Path(
            share,
            tuple(
                _scaled(layer, scale) if row in framed else layer
                for row, layer in zip(rows, layers, strict=True)
            ),
        )
        for share, layers in zip(shares, layered, strict=True)
    )


def _is_framed(row: LayerRow) -> bool:
    return row.bridge_w_mk is not None and row.bridge_share > 0


def _between(row: LayerRow, taking: Taking) -> Layer:
    """Return the layer as it is where no framing stands, weighed by its words if need be."""
    words, conducts = row.layer or "", row.lambda_w_mk
    assert conducts is not None
    material = material_of(words, conducts)
    known = (row.unless_blank("density_kg_m3"), row.unless_blank("heat_j_kgk"))
    if material.is_air and None in known:
        return Layer(name=words, without_mass_m2k_w=row.thickness_m / conducts)
    density, held = known
    blank: dict[str, float] = {}
    if density is None:
        density = blank["density_kg_m3"] = material.density_kg_m3
    if held is None:
        held = blank["heat_j_kgk"] = material.heat_j_kgk
    if blank:
        words_of = "{} is taken as {}: " + " and ".join("{}" for _ in blank)
        taking.take(row, blank, words_of, material.source, material.name)
    return Layer(
        name=words,
        thickness_m=row.thickness_m,
        lambda_w_mk=conducts,
        density_kg_m3=density,
        heat_j_kgk=held,
    )


def _framing(row: LayerRow) -> Layer:
    assert row.bridge_w_mk is not None
    made: Material = STEEL if row.bridge_w_mk > METAL_W_MK else TIMBER
    return Layer(
        name=f"framing in {row.if_given('layer') or row.part}",
        thickness_m=row.thickness_m,
        lambda_w_mk=row.bridge_w_mk,
        density_kg_m3=made.density_kg_m3,
        heat_j_kgk=made.heat_j_kgk,
    )


def _scaled(layer: Layer, scale: float) -> Layer:
    if layer.without_mass_m2k_w is not None:
        return replace(layer, without_mass_m2k_w=layer.without_mass_m2k_w * scale)
    return replace(layer, lambda_w_mk=layer.lambda_w_mk / scale)


def on_posts(package: Package, taking: Taking) -> bool:
    """Tell whether the floor stands over air, and not on the ground. Raises Lacking."""
    clear = package.supports.unless_blank("clear_m")
    value = "ground" if clear == 0 else "posts"
    words = "{}: the floor is taken to stand on {}"
    says = taking.of(package.supports, "floor_on", value, words, "common practice")
    return bool(says == "posts")


def floor(
    package: Package, weather: Weather, taking: Taking
) -> tuple[tuple[Element, ...], tuple[Step, ...]]:
    """Return the floor, over air or on the ground, and what to know of it. Raises Lacking.

    On the ground soil and what lies under it are in its layers (ISO 13370:2017), which its U-value
    check, of a floor over air, doesn't know.
    """
    area, ways = gross_area(package, "floor"), paths(package, "floor", taking)
    is_vented = layers_of(package, "floor")[0].lambda_w_mk is None
    over_air = Element(
        name="floor",
        kind="floor",
        area_m2=area,
        layers=(),
        tilt_deg=180.0,
        outside=Outside.VENTED if is_vented else Outside.UNDER,
    )
    if on_posts(package, taking):
        return tuple(
            replace(over_air, area_m2=area * way.share, layers=way.layers) for way in ways
        ), ()
    sides = sides_m(package)
    edge = 4 * area**0.5 if sides is None else 2 * sum(sides)
    held = replace(over_air, outside=Outside.HELD, held_k=under_soil_k(weather.air_k))
    how = "as of a square, for no plan says it" if sides is None else "by the sides of the plan"
    note = Step("on the ground, with an edge of {}, " + how, (Amount(edge, ROOM_LENGTH),))
    return tuple(
        replace(
            held,
            area_m2=area * way.share,
            layers=layers_on_ground(way.layers, area, edge),
        )
        for way in ways
    ), (note,)


def walls_and_roof(
    package: Package, openings: Sequence[Opening], taking: Taking
) -> tuple[Element, ...]:
    """Return walls and roof, face by face and path by path. Raises Lacking."""
    return (
        *_faced(package, "wall", walls(package, openings, taking), taking),
        *_faced(package, "roof", roof(package, openings, taking), taking),
    )


def _faced(package: Package, part: str, faces: Iterable[Face], taking: Taking) -> Iterable[Element]:
    outermost = layers_of(package, part)[0]
    words = "{} is taken as {} for the sun, the hot side in summer"
    takes_up = taking.of(outermost, "absorptance", DARK, words, "common practice")
    ways = paths(package, part, taking)
    is_vented = outermost.lambda_w_mk is None
    for face in faces:
        for way in ways:
            yield Element(
                name=face.name,
                kind="roof" if part == "roof" else "wall",
                area_m2=face.net_m2 * way.share,
                layers=way.layers,
                tilt_deg=face.tilt_deg,
                bearing_deg=face.bearing_deg,
                outside=Outside.VENTED if is_vented else Outside.AIR,
                absorptance=takes_up,
                sun_share=outermost.sun_share,
            )


def outside_doors(package: Package) -> list[Door]:
    """Return the doors that lead out. Raises Lacking where there is none, as the heat loss does."""
    outside = [door for door in package.doors if door.is_outside]
    require_some(outside, "an outside door (door schedule)")
    return outside


def door_element(door: Door, bearing_deg: float) -> Element:
    """Return an outside door, which holds no heat to speak of. Raises Lacking."""
    between = max(1 / door.u_w_m2k - FILMS_M2K_W, LEAST_M2K_W)
    return Element(
        name=f"door {door.mark}",
        kind="wall",
        area_m2=door.leaf_w_m * door.height_m,
        layers=(Layer(name="leaf", without_mass_m2k_w=between),),
        bearing_deg=bearing_deg,
    )


def heavy_inside(
    package: Package, floor_m2: float, taking: Taking
) -> tuple[tuple[Element, ...], float]:
    """Return what is heavy inside beyond the linings, and what furniture holds [J/K].

    The plant row gives all timber and stone within the insulation; what its layers hold already is
    taken off. The rest hangs as a slab over twice the floor, its back to its like. Where the row
    gives neither, furniture is taken by the floor. Raises Lacking.
    """
    plant = package.plant
    given = [plant.unless_blank(name) for name in ("timber_kg", "stone_kg")]
    if given == [None, None]:
        kg = CONTENTS_J_M2K * floor_m2 / TIMBER_J_KGK
        words = "{}: furniture and things are taken by the floor, as much as {} of timber"
        taking.take(plant, {"timber_kg": kg, "stone_kg": 0.0}, words, "ISO 52016-1, quoted")
        return (), CONTENTS_J_M2K * floor_m2
    timber = taking.of(plant, "timber_kg", 0.0, "{}: no timber is taken to be warmed", "ours")
    stone = taking.of(plant, "stone_kg", 0.0, "{}: no stone is taken to be warmed", "ours")
    lining_timber, lining_stone = _linings_kg(package, taking)
    slabs = (
        _slab("timber inside", timber - lining_timber, floor_m2, TIMBER_KG_M3, TIMBER_J_KGK, 0.13),
        _slab("stone inside", stone - lining_stone, floor_m2, STONE_KG_M3, STONE_J_KGK, 1.5),
    )
    return tuple(slab for slab in slabs if slab is not None), 0.0


def _slab(
    name: str, kg: float, floor_m2: float, density: float, heat: float, conducts: float
) -> Element | None:
    if kg <= 0:
        return None
    area = 2 * floor_m2
    layer = Layer(
        name=name,
        thickness_m=kg / (density * area),
        lambda_w_mk=conducts,
        density_kg_m3=density,
        heat_j_kgk=heat,
    )
    return Element(
        name="things inside", kind="mass", area_m2=area, layers=(layer,), outside=Outside.ROOM
    )


def _linings_kg(package: Package, taking: Taking) -> tuple[float, float]:
    """Return what the layers within the best insulation of each part weigh: timber, and stone."""
    timber = stone = 0.0
    for part in ("wall", "roof", "floor"):
        area = gross_area(package, part)
        way = paths(package, part, taking)[-1]
        resists = [layer.resistance_m2k_w for layer in way.layers]
        for layer in way.layers[resists.index(max(resists)) + 1 :]:
            kg = area * layer.thickness_m * layer.density_kg_m3
            if layer.heat_j_kgk > AS_TIMBER_J_KGK:
                timber += kg
            else:
                stone += kg
    return timber, stone

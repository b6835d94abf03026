"""Walls, roof, floor and what is heavy, from rows."""

import numpy as np
import pytest

from criteria.checks.envelope import part_resistance
from criteria.hourly import of_envelope
from criteria.hourly.assumed import Taking
from criteria.hourly.building import Outside
from criteria.hourly.facing import Opening
from criteria.hourly.ground import u_on_ground
from criteria.measures.envelope import SURFACES_M2K_W
from criteria.typed.cells import Lacking
from tests.criteria.hourly.hut import HUT, hut
from tests.criteria.hourly.weather_still import still

STUDS = {"bridge_lambda": "0.13", "bridge_share": "0.15"}


def layered(*rows, part="wall"):
    """The hut with other layers of a part."""
    others = [row for row in HUT["envelope"] if row["part"] != part]
    area = {"wall": "50", "roof": "30", "floor": "28"}[part]
    return hut(envelope=[{"part": part, "gross_area_m2": area, **row} for row in rows] + others)


def u_of(ways, part="wall"):
    films = sum(SURFACES_M2K_W[part])
    return sum(
        way.share / (films + sum(layer.resistance_m2k_w for layer in way.layers)) for way in ways
    )


@pytest.mark.parametrize("part", ["wall", "roof", "floor"])
@pytest.mark.parametrize(
    "rows",
    [
        [{"layer": "Fibre", "mm": "160", "lambda": "0.04"}],
        [{"layer": "Fibre", "mm": "160", "lambda": "0.04", **STUDS}],
        [
            {"layer": "Fibre", "mm": "160", "lambda": "0.04", **STUDS},
            {"layer": "Air space", "mm": "40", "lambda": "0.25", **STUDS, "bridge_share": "0.1"},
            {"layer": "Panel", "mm": "60", "lambda": "0.13"},
        ],
        # metal: the check takes the lower limit alone
        [{"layer": "Fibre", "mm": "160", "lambda": "0.04", **STUDS, "bridge_lambda": "50"}],
        # framing that insulates better than what it interrupts
        [{"layer": "Concrete", "mm": "200", "lambda": "2", **STUDS}],
    ],
)
def test_paths_together_lose_what_the_check_says(part, rows):
    package = layered(*rows, part=part)
    ways = of_envelope.paths(package, part, Taking())
    assert sum(way.share for way in ways) == pytest.approx(1)
    wanted = 1 / part_resistance(package, part).resistance
    assert u_of(ways, part) == pytest.approx(wanted, rel=1e-12)


def test_framing_stands_beside_what_it_interrupts():
    package = layered({"layer": "Sheep wool", "mm": "160", "lambda": "0.04", **STUDS})
    stud, wool = of_envelope.paths(package, "wall", Taking())
    assert (stud.share, wool.share) == (0.15, 0.85)
    assert (stud.layers[0].density_kg_m3, wool.layers[0].density_kg_m3) == (500, 25)
    assert stud.layers[0].lambda_w_mk / wool.layers[0].lambda_w_mk == pytest.approx(0.13 / 0.04)
    metal = layered(
        {"layer": "Sheep wool", "mm": "160", "lambda": "0.04", **STUDS, "bridge_lambda": "50"}
    )
    assert of_envelope.paths(metal, "wall", Taking())[0].layers[0].density_kg_m3 == 7800


def test_what_a_layer_says_of_itself_stands():
    taking = Taking()
    row = {"layer": "Concrete", "mm": "100", "lambda": "2", "density": "2000"}
    (way,) = of_envelope.paths(layered(row), "wall", taking)
    assert (way.layers[0].density_kg_m3, way.layers[0].heat_j_kgk) == (2000, 1000)
    (taken,) = taking.found
    assert [cell.head for cell in taken.cells] == ["specific_heat"]
    assert taken.write() == "wall, Concrete is taken as concrete: 1\u202f000 J/kgK"
    taking = Taking()
    of_envelope.paths(layered({**row, "specific_heat": "900"}), "wall", taking)
    assert taking.found == ()
    heated = {**row, "density": "", "specific_heat": "900"}
    (way,) = of_envelope.paths(layered(heated), "wall", Taking())
    assert (way.layers[0].density_kg_m3, way.layers[0].heat_j_kgk) == (2300, 900)


def test_still_air_is_a_resistance_unless_it_says_what_it_weighs():
    air = {"layer": "Air space", "mm": "45", "lambda": "0.25"}
    taking = Taking()
    (way,) = of_envelope.paths(layered(air), "wall", taking)
    assert way.layers[0].without_mass_m2k_w == pytest.approx(0.18)
    assert taking.found == ()
    (way,) = of_envelope.paths(
        layered({**air, "density": "1.2", "specific_heat": "1008"}), "wall", Taking()
    )
    assert way.layers[0].without_mass_m2k_w is None


def test_walls_and_roof_by_face():
    package = layered(
        {"layer": "Larch on battens", "mm": "24", "outside_absorptance": "0.4", "sun_share": "0.7"},
        {"layer": "Fibre", "mm": "160", "lambda": "0.04", **STUDS},
    )
    taking = Taking()
    window = Opening(tilt_deg=90, bearing_deg=180, area_m2=2.0)
    found = of_envelope.walls_and_roof(package, [window], taking)
    walls = [each for each in found if each.kind == "wall"]
    assert sum(each.area_m2 for each in walls) == pytest.approx(48.0)
    south = [each for each in walls if each.name == "wall S"]
    assert [each.area_m2 for each in south] == pytest.approx([0.15 * 13, 0.85 * 13])
    assert {each.outside for each in walls} == {Outside.VENTED}
    assert {(each.absorptance, each.sun_share) for each in walls} == {(0.4, 0.7)}
    slopes = [each for each in found if each.kind == "roof"]
    assert [(each.tilt_deg, each.bearing_deg, each.area_m2) for each in slopes] == [
        (30, 0, 15),
        (30, 180, 15),
    ]
    assert {(each.outside, each.absorptance) for each in slopes} == {(Outside.AIR, 0.9)}
    dark = next(a for a in taking.found if a.cells[0].head == "outside_absorptance")
    assert (dark.cells[0].value, dark.row) == ("0.9", 3)


@pytest.mark.parametrize(
    ("cells", "outside"),
    [
        ({}, Outside.UNDER),
        ({"clear_under_m": ""}, Outside.UNDER),
        ({"clear_under_m": "0"}, Outside.HELD),
        ({"floor_on": "ground"}, Outside.HELD),
        ({"clear_under_m": "0", "floor_on": "posts"}, Outside.UNDER),
    ],
)
def test_what_the_floor_stands_on(cells, outside):
    taking = Taking()
    (floor,), said = of_envelope.floor(hut(supports=cells), still(), taking)
    assert (floor.outside, floor.tilt_deg, floor.area_m2) == (outside, 180, 28)
    assert bool(said) == (outside is Outside.HELD)
    assert ("floor_on" in cells) != any(c.head == "floor_on" for a in taking.found for c in a.cells)


def test_a_floor_on_the_ground_has_the_slabs_u_and_its_edge_is_said():
    package = hut(supports={"floor_on": "ground"})
    (floor,), (said,) = of_envelope.floor(package, still(), Taking())
    own = 0.2 / 0.04 + 0.03 / 0.13
    resists = 0.17 + sum(layer.resistance_m2k_w for layer in floor.layers)
    assert 1 / resists == pytest.approx(u_on_ground(28, 20, 0.3, own))
    assert np.allclose(floor.held_k, 283.15)
    assert said.write() == "on the ground, with an edge of 20.00 m, by the sides of the plan"
    bare = hut(supports={"floor_on": "ground"}, rooms={"depth_m": ""})
    _, (said,) = of_envelope.floor(bare, still(), Taking())
    assert "21.17 m, as of a square" in said.write()


def test_a_floor_over_a_vented_layer():
    package = layered(
        {"layer": "Mesh", "mm": "2"}, {"layer": "Fibre", "mm": "99", "lambda": "0.04"}, part="floor"
    )
    (floor,), _ = of_envelope.floor(package, still(), Taking())
    assert floor.outside is Outside.VENTED


def test_doors_keep_their_u_and_no_heat():
    (row,) = of_envelope.outside_doors(hut())
    door = of_envelope.door_element(row, 90.0)
    assert (door.name, door.area_m2, door.bearing_deg) == ("door D1", 2.0, 90.0)
    assert door.layers[0].resistance_m2k_w == pytest.approx(1 / 1.25 - 0.17)
    (thin,) = of_envelope.outside_doors(hut(doors={"u": "7"}))
    assert of_envelope.door_element(thin, 0.0).layers[0].resistance_m2k_w == 0.004
    with pytest.raises(Lacking, match="an outside door"):
        of_envelope.outside_doors(hut(doors={"outside": "no"}))


def test_what_is_heavy_beyond_the_linings():
    # linings within the insulation: 60 mm on 50 and 30 m² and 30 mm on 28 m² of 500 kg/m³
    linings = 500 * (0.06 * 50 + 0.06 * 30 + 0.03 * 28)
    package = hut(plant={"timber_kg": f"{linings + 240:g}", "stone_kg": "480"})
    (timber, stone), contents = of_envelope.heavy_inside(package, 24.0, Taking())
    assert contents == 0
    assert {each.outside for each in (timber, stone)} == {Outside.ROOM}
    assert {(each.kind, each.area_m2) for each in (timber, stone)} == {("mass", 48.0)}
    assert timber.layers[0].thickness_m == pytest.approx(240 / 500 / 48)
    assert stone.layers[0].thickness_m == pytest.approx(480 / 2000 / 48)


def test_what_linings_hold_already_isnt_counted_twice():
    taking = Taking()
    package = hut(plant={"timber_kg": "300", "stone_kg": ""})
    assert of_envelope.heavy_inside(package, 24.0, taking) == ((), 0.0)
    assert any(a.cells[0].head == "stone_kg" for a in taking.found)
    gypsum = layered(
        {"layer": "Fibre", "mm": "160", "lambda": "0.04"},
        {"layer": "Gypsum board", "mm": "25", "lambda": "0.25"},
    )
    package = hut(
        envelope=[
            {c.head: row.schedule.record(row)[c.head] for c in row.schedule.columns}
            for row in gypsum.envelope
        ],
        plant={"timber_kg": "9000", "stone_kg": "1480"},
    )
    timber, stone = of_envelope.heavy_inside(package, 24.0, Taking())[0]
    assert stone.layers[0].thickness_m * 48 * 2000 == pytest.approx(1480 - 0.025 * 50 * 800)
    assert timber.layers[0].thickness_m * 48 * 500 == pytest.approx(9000 - 500 * (1.8 + 0.84))


def test_furniture_is_taken_by_the_floor_where_nothing_is_said():
    taking = Taking()
    package = hut(plant={"timber_kg": "", "stone_kg": ""})
    assert of_envelope.heavy_inside(package, 24.0, taking) == ((), 240_000.0)
    assert [cell.value for cell in taking.found[0].cells] == ["150 kg", "0 kg"]


def test_a_layer_whose_name_cant_be_read_isnt_weighed():
    package = layered({"layer": "", "mm": "160", "lambda": "0.04"})
    with pytest.raises(Lacking, match="Layer"):
        of_envelope.paths(package, "wall", Taking())

"""Build-ups of a model: outside to inside, the largest of each part; nought is unset."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("ifcopenshell")

from reviews.exchange import model
from reviews.exchange.proposed import How, Proposal, ProposedRow
from tests.reviews.exchange.written_models import Model

BOARDS = [("Cladding", 0.02, 0.13), ("Wood fibre", 0.2, 0.04), ("Lining", 0.08, 0.0)]


def read(made: Model, tmp_path: Path, **answers: str) -> Proposal:
    named = {name.replace("_", "-"): answer for name, answer in answers.items()}
    return model.read(made.save(tmp_path / "made.ifc"), named)


def layers(proposal: Proposal, part: str = "wall") -> list[ProposedRow]:
    return [
        row
        for row in proposal.rows
        if row.schedule == "envelope" and row.cells["part"].text == part
    ]


def names(rows: list[ProposedRow]) -> list[str]:
    return [row.cells["layer"].text for row in rows]


def house(sense: str | None, external: bool | None = True) -> Model:
    """A room of 5 × 4 × 2.5 m with a south wall, whose own y axis looks into the room."""
    made = Model(north=(0.0, 1.0))
    made.room("Day room", (5, 4, 2.5))
    south = made.thing("IfcWall", "South", [made.box((5.6, 0.3, 2.5))], (-0.3, -0.3, 0))
    made.layers([south], "Timber wall", BOARDS, sense)
    if external is not None:
        made.properties(south, "Pset_WallCommon", IsExternal=external)
    made.parts = {"south": south}
    return made


def test_layers_run_from_outside_whichever_side_they_are_listed_from(tmp_path: Path):
    """y looks in: listed along it the first is outermost, against it the last."""
    along = layers(read(house("POSITIVE"), tmp_path))
    against = layers(read(house("NEGATIVE"), tmp_path))
    assert names(along) == ["Cladding", "Wood fibre", "Lining"]
    assert names(against) == ["Lining", "Wood fibre", "Cladding"]
    assert [row.cells["mm"].text for row in along] == ["20", "200", "80"]
    assert {row.cells["gross_area_m2"].text for row in along} == {"14"}  # 5.6 × 2.5 m
    assert {row.cells["layer"].how for row in along} == {How.WRITTEN}


def test_nought_is_no_conductivity(tmp_path: Path):
    proposal = read(house("POSITIVE"), tmp_path)
    found = [
        row.cells["lambda"].text if "lambda" in row.cells else None for row in layers(proposal)
    ]
    assert found == ["0.13", "0.04", None]
    assert any("no conductivity of Lining" in said for said in proposal.said)


def test_layers_listed_from_no_side_are_asked_about(tmp_path: Path):
    first = read(house(None), tmp_path)
    (asked,) = [q for q in first.questions if q.name == "order-wall"]
    assert asked.choices == (("first", "Cladding"), ("last", "Lining"))
    assert asked.chosen == ""
    assert {row.cells["layer"].how for row in layers(first)} == {How.GUESSED}
    turned = read(house(None), tmp_path, order_wall="last")
    assert names(layers(turned)) == ["Lining", "Wood fibre", "Cladding"]


def test_the_largest_build_up_is_taken_and_the_area_is_of_all(tmp_path: Path):
    made = house("POSITIVE")
    west = made.thing("IfcWall", "West", [made.box((2, 0.3, 2.5))], (-0.3, 2, 0), (0.0, 1.0, 0.0))
    made.layers([west], "Stone wall", [("Stone", 0.3, 2.3)])
    made.properties(west, "Pset_WallCommon", IsExternal=True)
    proposal = read(made, tmp_path)
    assert names(layers(proposal)) == ["Cladding", "Wood fibre", "Lining"]
    assert layers(proposal)[0].cells["gross_area_m2"].text == "19"
    assert any("largest of 2 build-ups (14.0 of 19.0 m²)" in said for said in proposal.said)


def test_openings_are_in_the_gross_area(tmp_path: Path):
    made = house("POSITIVE")
    hole = made.thing("IfcOpeningElement", "Hole", [made.box((1, 0.3, 1))], (1, -0.3, 1))
    made.relate(
        "IfcRelVoidsElement",
        RelatingBuildingElement=made.parts["south"],
        RelatedOpeningElement=hole,
    )
    assert layers(read(made, tmp_path))[0].cells["gross_area_m2"].text == "14"


def test_a_wall_without_layers_leaves_the_area_blank(tmp_path: Path):
    made = house("POSITIVE")
    bare = made.thing("IfcWall", "Bare", [made.box((2, 0.3, 2.5))], (9, 0, 0))
    made.properties(bare, "Pset_WallCommon", IsExternal=True)
    proposal = read(made, tmp_path)
    assert "gross_area_m2" not in layers(proposal)[0].cells
    assert any("1 of 2 have no layers" in said for said in proposal.said)


def test_walls_of_which_nothing_is_said_are_asked_about(tmp_path: Path):
    made = house("POSITIVE", external=None)
    first = read(made, tmp_path)
    (asked,) = [q for q in first.questions if q.name == "outside-wall"]
    assert asked.choices[0] == ("Timber wall, 300 mm", "Timber wall, 300 mm: 14.0 m²")
    assert not layers(first)
    answered = read(made, tmp_path, outside_wall="Timber wall, 300 mm")
    assert layers(answered)[0].cells["part"].place == "as answered"
    assert not layers(read(made, tmp_path, outside_wall="none"))


@pytest.mark.parametrize(("name", "found"), [("Außenwand", 3), ("Innenwand", 0), ("Wall", 0)])
def test_a_walls_name_is_only_a_guess(name: str, found: int, tmp_path: Path):
    made = house("POSITIVE", external=None)
    made.parts["south"].Name = name
    rows = layers(read(made, tmp_path))
    assert len(rows) == found
    assert {row.cells["part"].how for row in rows} <= {How.GUESSED}


def test_a_wall_between_rooms_isnt_outside_because_its_file_says_so(tmp_path: Path):
    made = house("POSITIVE")
    made.room("Porch", (5, 2, 2.5), (0, -2.3, 0))
    first = read(made, tmp_path)
    assert not layers(first)
    assert any(said.startswith("Written as outside, but between rooms") for said in first.said)
    assert len(layers(read(made, tmp_path, outside_wall="all"))) == 3


def test_roof_and_floor_run_from_outside_too(tmp_path: Path):
    """Both listed upwards: the roof's outermost is the last, the floor's the first."""
    made = house("POSITIVE")
    base = made.thing("IfcSlab", "Base", [made.box((5.6, 4.6, 0.25))], (-0.3, -0.3, -0.25))
    base.PredefinedType = "BASESLAB"
    upper = made.thing("IfcSlab", "Deck", [made.box((5.6, 4.6, 0.2))], (-0.3, -0.3, 2.5))
    upper.PredefinedType = "FLOOR"
    roof = made.thing("IfcSlab", "Roof", [made.box((6, 5, 0.2))], (-0.3, -0.3, 3))
    roof.PredefinedType = "ROOF"
    made.layers([base], "Slab", [("Boards", 0.05, 0.5), ("Screed", 0.2, 1.4)], way="AXIS3")
    made.layers([roof], "Rafters", [("Lining", 0.05, 0.1), ("Shingles", 0.15, 0.2)], way="AXIS3")
    proposal = read(made, tmp_path)
    assert names(layers(proposal, "floor")) == ["Boards", "Screed"]
    assert names(layers(proposal, "roof")) == ["Shingles", "Lining"]
    assert layers(proposal, "roof")[0].cells["gross_area_m2"].text == "30"
    assert layers(proposal, "floor")[0].cells["gross_area_m2"].text == "25.76"

"""Rooms of a model: measured, for what is written may leave out, or mean, something else."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("ifcopenshell")

from reviews.exchange import model
from reviews.exchange.proposed import How, Proposal, ProposedRow
from tests.reviews.exchange.written_models import Model, cabin

ATTIC = [(0.0, 0.0), (6.0, 0.0), (6.0, 0.5), (3.0, 3.5), (0.0, 0.5)]
"""Section of an attic 6 m wide: knee 0.5 m, roof of 45°: 1.5 m is reached 1 m from either side."""


def read(made: Model, tmp_path: Path) -> Proposal:
    return model.read(made.save(tmp_path / "made.ifc"), {})


def rooms(proposal: Proposal) -> list[ProposedRow]:
    return [row for row in proposal.rows if row.schedule == "rooms"]


def test_an_attic_is_cut_at_the_headroom_that_counts(tmp_path: Path):
    made = Model()
    attic = made.thing("IfcSpace", "Attic", [made.prism(ATTIC, 4.0)])
    made.quantity(attic, "IfcQuantityArea", "NetFloorArea", 16.0)
    proposal = read(made, tmp_path)
    cells = rooms(proposal)[0].cells
    assert float(cells["floor_m2"].text) == pytest.approx(24)
    assert float(cells["low_headroom_m2"].text) == pytest.approx(8)
    assert float(cells["clear_height_m"].text) == pytest.approx(2)  # 48 m³ over 24 m²
    assert "lowest 0.50 m" in cells["clear_height_m"].beside
    assert "the file writes 16.00 m²" in cells["floor_m2"].beside
    assert any("leaves out what is under 1.5 m" in said for said in proposal.said)


def test_a_crawl_space_is_low_all_over(tmp_path: Path):
    made = Model()
    made.quantity(made.room("Void", (5, 4, 1.2)), "IfcQuantityArea", "NetFloorArea", 10.0)
    cells = rooms(read(made, tmp_path))[0].cells
    assert (cells["floor_m2"].text, cells["low_headroom_m2"].text) == ("20", "20")


def test_a_written_floor_that_is_another_is_told_and_never_taken(tmp_path: Path):
    made = Model()
    room = made.room("Bad", (3, 4, 2.5))
    made.quantity(room, "IfcQuantityArea", "NetFloorArea", 11.64)
    proposal = read(made, tmp_path)
    assert rooms(proposal)[0].cells["floor_m2"].text == "12"
    assert any("R1 isn't that of its shape" in said for said in proposal.said)


@pytest.mark.parametrize(
    ("volume", "told"), [(30_000.0, "in litres"), (33.0, "differs by more than 5 %"), (30.5, "")]
)
def test_geometry_wins_over_a_written_volume(volume: float, told: str, tmp_path: Path):
    made = Model()
    made.quantity(made.room("Bad", (3, 4, 2.5)), "IfcQuantityVolume", "NetVolume", volume)
    proposal = read(made, tmp_path)
    assert rooms(proposal)[0].cells["clear_height_m"].text == "2.5"
    found = [said for said in proposal.said if "volume" in said]
    assert [told in said for said in found] == ([True] if told else [])


def test_a_raised_floor_is_told_and_not_counted(tmp_path: Path):
    made = Model()
    steps = [(0.0, 0.0), (4.0, 0.0), (4.0, 0.4), (5.0, 0.4), (5.0, 2.5), (0.0, 2.5)]
    made.thing("IfcSpace", "Hall", [made.prism(steps, 3.0)])
    proposal = read(made, tmp_path)
    assert float(rooms(proposal)[0].cells["floor_m2"].text) == pytest.approx(12)
    assert any("3.00 m² of floor above its lowest level" in said for said in proposal.said)


def test_a_room_without_level_floor_or_shape_has_blanks_not_figures(tmp_path: Path):
    made = Model()
    tilted = [(0.0, 0.0), (4.0, 1.0), (4.0, 3.5), (0.0, 2.5)]
    made.thing("IfcSpace", "Ramp", [made.prism(tilted, 3.0)])
    made.thing("IfcSpace", "Nowhere", [])
    proposal = read(made, tmp_path)
    assert all("floor_m2" not in row.cells for row in rooms(proposal))
    assert any("No level floor is found in R1" in said for said in proposal.said)
    assert any("No shape can be measured of R2" in said for said in proposal.said)


def test_reading_order_is_storey_by_storey_from_the_top_left(tmp_path: Path):
    made = Model()
    made.room("below right", (3, 3, 2.5), (4, 0, 0))
    made.room("below left", (3, 3, 2.5), (0, 0, 0))
    made.room("above left", (3, 3, 2.5), (0, 4, 0))
    made.storey("Upper floor", 3.0)
    made.room("upstairs", (3, 3, 2.5), (0, 4, 3))
    found = [
        (r.cells["mark"].text, r.cells["room"].text, r.floor) for r in rooms(read(made, tmp_path))
    ]
    assert found == [
        ("R1", "above left", "Ground floor"),
        ("R2", "below left", "Ground floor"),
        ("R3", "below right", "Ground floor"),
        ("R4", "upstairs", "Upper floor"),
    ]


def test_what_is_no_room_is_left_out_and_told(tmp_path: Path):
    made = Model()
    whole = made.room("All of it", (9, 9, 2.5))
    part = made.room("Part", (3, 3, 2.5))
    made.relate("IfcRelAggregates", RelatingObject=whole, RelatedObjects=[part])
    terrace = made.room("Terrace", (3, 3, 2.5))
    terrace.PredefinedType = "EXTERNAL"
    proposal = read(made, tmp_path)
    assert [row.cells["room"].text for row in rooms(proposal)] == ["Part"]
    assert any("made of others are left out" in said for said in proposal.said)
    assert any("no rooms: 1 left out" in said for said in proposal.said)


def test_the_use_is_guessed_and_sleepers_are_of_rooms_to_sleep_in(tmp_path: Path):
    made = Model()
    for name, people in (("Schlafzimmer", 2), ("Küche", 3), ("Raum 7", 1)):
        room = made.room(name, (3, 4, 2.5))
        told = {"OccupancyNumber": ("IfcCountMeasure", people)}
        made.properties(room, "Pset_SpaceOccupancyRequirements", **told)
    found = {
        row.cells["room"].text: (
            row.cells["use"].text if "use" in row.cells else "",
            row.cells["sleepers"].text if "sleepers" in row.cells else "",
        )
        for row in rooms(read(made, tmp_path))
    }
    assert found == {"Schlafzimmer": ("sleep", "2"), "Küche": ("kitchen", ""), "Raum 7": ("", "")}
    assert all(
        row.cells["use"].how is How.GUESSED
        for row in rooms(read(made, tmp_path))
        if "use" in row.cells
    )


def test_an_angled_room_has_no_depth(tmp_path: Path):
    """Depth and width are those of a rectangle: an L would be larger than it is."""
    made = cabin()
    made.parts["room"].Representation.Representations[0].Items = [
        made.box((5, 2, 2.5)),
        made.box((2, 4, 2.5)),
    ]
    proposal = read(made, tmp_path)
    room = rooms(proposal)[0]
    assert any("No rectangle along their windows are R1" in said for said in proposal.said)
    assert not {"depth_m", "width_m"} & room.cells.keys()
    assert len(room.shape) == 6
    assert room.cells["floor_m2"].text == "14"  # what both parts hold is counted once


def test_a_model_that_names_no_unit_says_what_is_taken(tmp_path: Path):
    made = Model(unit="")
    made.room("Day room", (5, 4, 2.5))
    assert not any("no unit of length" in said for said in read(made, tmp_path).said)
    made.project.UnitsInContext = None
    proposal = read(made, tmp_path)
    assert any("no unit of length: metres" in said for said in proposal.said)
    assert rooms(proposal)[0].cells["floor_m2"].text == "20"


def test_a_model_without_rooms_says_so(tmp_path: Path):
    proposal = read(Model(), tmp_path)
    assert any("holds no rooms" in said for said in proposal.said)
    assert "Nothing in the model can stand in a schedule." in proposal.said
    assert not proposal.questions

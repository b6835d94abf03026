"""Windows of a model: glass is what is clear, and what can't be told from the frame stays blank."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("ifcopenshell")

from reviews.exchange import model
from reviews.exchange.proposed import How, Proposal, ProposedRow
from tests.reviews.exchange.written_models import Model, cabin, window


def read(made: Model, tmp_path: Path, **answers: str) -> Proposal:
    return model.read(made.save(tmp_path / "made.ifc"), answers)


def windows(proposal: Proposal) -> list[ProposedRow]:
    return [row for row in proposal.rows if row.schedule == "windows"]


def only(proposal: Proposal) -> ProposedRow:
    (row,) = windows(proposal)
    return row


def test_two_panes_are_one_glass_as_wide_as_both(tmp_path: Path):
    """Panes of 0.5 m with 80 mm between them; lining alone would say 1.08 × 0.88 m."""
    cells = only(read(cabin(), tmp_path)).cells
    assert (cells["glass_w"].text, cells["glass_h"].text) == ("1000", "880")
    assert cells["glass_w"].how is How.RECKONED
    assert "2 panes as one" in cells["glass_w"].place
    assert cells["glass_w"].beside == "0.880 m² of glass"
    assert cells["n"].text == "1"
    one = only(read(cabin(panes=[1.08]), tmp_path)).cells
    assert (one["glass_w"].text, one["glass_w"].how) == ("1080", How.MEASURED)


def test_panes_in_rows_and_columns_keep_their_area(tmp_path: Path):
    made = cabin(panes=[])
    panes = [
        made.clear(made.box((0.5, 0.02, 0.4), (left, 0.02, low)))
        for left in (0.06, 0.64)
        for low in (0.06, 0.54)
    ]
    made.parts["window"].Representation.Representations[0].Items += tuple(panes)
    cells = only(read(made, tmp_path)).cells
    assert (cells["glass_w"].text, cells["glass_h"].text) == ("1000", "800")
    assert "rectangle of the same area" not in cells["glass_w"].beside
    made.parts["window"].Representation.Representations[0].Items += (
        made.clear(made.box((0.1, 0.02, 0.1), (1.18, 0.02, 1.0))),
    )
    odd = only(read(made, tmp_path)).cells
    area = float(odd["glass_w"].text) * float(odd["glass_h"].text) / 1e6
    assert area == pytest.approx(0.81, rel=2e-3)
    assert "rectangle of the same area" in odd["glass_w"].beside


def test_a_window_that_doesnt_tell_glass_from_frame_has_none(tmp_path: Path):
    """Opaque panes, and a body without any material at all."""
    for made in (cabin(transparency=0.0), cabin(panes=[])):
        proposal = read(made, tmp_path)
        cells = only(proposal).cells
        assert not {"glass_w", "glass_h", "sill", "left", "reveal"} & cells.keys()
        assert (cells["frame_w"].text, cells["faces"].text) == ("1200", "S")
        assert any("tell glass from frame in W1" in said for said in proposal.said)


def test_glass_that_is_only_named_so_is_guessed(tmp_path: Path):
    made = cabin(panes=[])
    pane = made.clear(made.box((1.08, 0.02, 0.88), (0.06, 0.02, 0.06)), 0.0, "Isolierglas")
    made.parts["window"].Representation.Representations[0].Items += (pane,)
    cells = only(read(made, tmp_path)).cells
    heads = ("glass_w", "glass_h", "sill", "left", "reveal")
    assert [cells[head].how for head in heads] == [How.GUESSED] * 5
    assert (cells["glass_w"].text, cells["sill"].text) == ("1080", "860")


def test_a_written_frame_stands_and_one_that_differs_says_so(tmp_path: Path):
    made = cabin()
    made.parts["window"].OverallWidth = 1400.0
    made.parts["window"].OverallHeight = 0.0
    cells = only(read(made, tmp_path)).cells
    assert (cells["frame_w"].text, cells["frame_w"].how) == ("1400", How.WRITTEN)
    assert cells["frame_w"].beside == "its shape measures 1200 mm"
    assert (cells["frame_h"].text, cells["frame_h"].how) == ("1000", How.MEASURED)


def _thermal(made: Model, thing: Any, **figures: float) -> None:
    told = {
        name: (
            "IfcThermalTransmittanceMeasure" if name.startswith("Thermal") else "IfcReal",
            figure,
        )
        for name, figure in figures.items()
    }
    made.properties(thing, "Pset_WindowCommon", **told)


def test_figures_of_the_glass_are_taken_and_nought_means_unset(tmp_path: Path):
    made = cabin()
    _thermal(
        made,
        made.parts["window"],
        ThermalTransmittance=0.8,
        SolarHeatGainTransmittance=0.5,
        VisibleLightTransmittance=0.7,
    )
    cells = only(read(made, tmp_path)).cells
    found = {head: cells[head].text for head in ("u", "solar_factor", "transmittance")}
    assert found == {"u": "0.8", "solar_factor": "0.5", "transmittance": "0.7"}
    assert cells["u"].place == "Pset_WindowCommon, ThermalTransmittance"
    bare = cabin()
    _thermal(bare, bare.parts["window"], ThermalTransmittance=0.0)
    assert "u" not in only(read(bare, tmp_path)).cells


def test_a_figure_that_no_column_takes_is_left_out_and_told(tmp_path: Path):
    made = cabin()
    _thermal(made, made.parts["window"], ThermalTransmittance=80.0)
    proposal = read(made, tmp_path)
    assert "u" not in only(proposal).cells
    assert any(said.startswith("W1: left out as beyond") for said in proposal.said)


@pytest.mark.parametrize(
    ("ways", "opens", "share"),
    [
        (["FIXEDCASEMENT"], "fixed", "0"),
        (["SIDEHUNGLEFTHAND", "SIDEHUNGRIGHTHAND"], "side-hung", None),
        (["FIXEDCASEMENT", "SIDEHUNGLEFTHAND"], "half side-hung", None),
        (["TOPHUNG", "SIDEHUNGLEFTHAND"], None, None),
        (["NOTDEFINED"], None, None),
    ],
)
def test_how_it_opens_is_of_its_panels(
    ways: list[str], opens: str | None, share: str | None, tmp_path: Path
):
    made = cabin(name="Fixed, says its name")
    for way in ways:
        panel = made.rooted("IfcWindowPanelProperties", Name="Panel")
        panel.OperationType, panel.PanelPosition = way, "LEFT"
        made.relate(
            "IfcRelDefinesByProperties",
            RelatedObjects=[made.parts["window"]],
            RelatingPropertyDefinition=panel,
        )
    cells = only(read(made, tmp_path)).cells
    assert cells["opens"].text == opens if opens else "opens" not in cells
    assert cells["open_share"].text == share if share else "open_share" not in cells


def test_fixed_by_its_name_alone_is_guessed(tmp_path: Path):
    cells = only(read(cabin(name="Fixed, 1200"), tmp_path)).cells
    assert (cells["opens"].how, cells["open_share"].how) == (How.GUESSED, How.GUESSED)


def test_alike_windows_of_one_wall_are_one_row_where_asked_for(tmp_path: Path):
    made = Model(north=(0.0, 1.0))
    made.room("Day room", (9, 4, 2.5))
    for left in (0.5, 2.5, 4.5, 7.5):
        window(made, (left, -0.2, 0.8))
    window(made, (0.5, -0.2, 0.9))
    proposal = read(made, tmp_path)
    assert len(windows(proposal)) == 5
    (asked,) = [q for q in proposal.questions if q.name == "group-windows"]
    assert (asked.choices[1][1], asked.chosen) == ("one row: 2 rows", "no")
    first, second = windows(read(made, tmp_path, **{"group-windows": "yes"}))
    assert (first.cells["n"].text, second.cells["n"].text) == ("4", "1")
    assert first.cells["left"].text == "360"  # the last one to the east: 9 − 7.5 − 1.14 m
    assert "gap" not in first.cells  # they stand at 3 and at 2 m
    even = Model(north=(0.0, 1.0))
    even.room("Day room", (9, 4, 2.5))
    for left in (0.5, 2.5, 4.5):
        window(even, (left, -0.2, 0.8))
    row = only(read(even, tmp_path, **{"group-windows": "yes"}))
    assert (row.cells["n"].text, row.cells["gap"].text) == ("3", "1000")


def test_a_window_between_two_rooms_names_the_first_and_says_so(tmp_path: Path):
    made = cabin()
    made.room("Porch", (5, 2, 2.5), (0, -2.3, 0))
    proposal = read(made, tmp_path)
    assert only(proposal).cells["room"].text == "R1"
    assert only(proposal).cells["room"].beside == "also on R2"
    assert any("Between two rooms stand W1" in said for said in proposal.said)


def test_a_window_that_only_a_boundary_ties_to_a_room_is_of_that_room(tmp_path: Path):
    made = Model(north=(0.0, 1.0))
    room = made.room("Day room", (5, 4, 2.5))
    far = window(made, (1, -3, 0.8))
    made.boundary(room, far, "EXTERNAL")
    row = only(read(made, tmp_path))
    assert row.cells["room"].text == "R1"
    assert (row.cells["faces"].text, row.cells["faces"].how) == ("S", How.GUESSED)


def test_a_roof_light_has_its_slope_and_no_sill(tmp_path: Path):
    made = Model(north=(0.0, 1.0))
    made.room("Loft", (5, 4, 2.5))
    light = made.thing("IfcWindow", "Roof light", [made.clear(made.box((1, 1, 0.02)))], (2, 1, 2.6))
    cells = only(read(made, tmp_path)).cells
    assert (cells["faces"].text, cells["tilt"].text) == ("up", "0")
    assert "sill" not in cells
    turned = math.radians(30)
    axes = made.file.by_id(light.ObjectPlacement.RelativePlacement.id())
    axes.Axis = made.make("IfcDirection", (0.0, -math.sin(turned), math.cos(turned)))
    sloped = only(read(made, tmp_path)).cells
    assert (sloped["tilt"].text, sloped["faces"].text, sloped["bearing"].text) == ("30", "S", "180")
    assert (sloped["glass_w"].text, sloped["glass_h"].text) == ("1000", "1000")


def test_curtain_walls_and_windows_without_shape_are_told(tmp_path: Path):
    made = cabin()
    made.thing("IfcCurtainWall", "Front", [made.box((3, 0.1, 2.5))], (0, 9, 0))
    made.thing("IfcWindow", "Shapeless", [])
    proposal = read(made, tmp_path)
    assert any(said.startswith("Curtain walls aren't read: 1") for said in proposal.said)
    assert any("No shape can be measured of W2" in said for said in proposal.said)

"""A building model read whole: held to figures measured elsewhere, and to hands of every kind.

The `tall` model is public (bim-whale-ifc-samples, MIT, licence beside it); its figures were
measured by another program of ours with the same library, rooms by their down-facing faces.
"""

from __future__ import annotations

import builtins
import json
import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from reviews.exchange.proposed import How, Proposal
from reviews.exchange.read import read as read_kind

pytest.importorskip("ifcopenshell")

from reviews.exchange import model
from tests.reviews.exchange.written_models import Model, cabin

IS_LONG = bool(os.environ.get("MUNTIN_LONG"))
DATA = Path(__file__).parent / "data"
ROOMS = [(29.64, 118.56), (14.44, 57.76), (14.44, 57.76)]
"""Floor [m²] and volume [m³] of the tall model's rooms."""
WINDOWS_WITH_ROOMS = {("R1", "N"), ("R1", "S"), ("R1", "W"), ("R2", "N"), ("R3", "S")}


@pytest.fixture(scope="module")
def tall(tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("tall")
    with zipfile.ZipFile(DATA / "tall.zip") as zipped:
        return zipped.extract("tall.ifc", folder)


@pytest.fixture(scope="module")
def proposal(tall: str) -> Proposal:
    return model.read(tall, {})


def cells(proposal: Proposal, schedule: str) -> list[dict[str, str]]:
    return [
        {head: cell.text for head, cell in row.cells.items()}
        for row in proposal.rows
        if row.schedule == schedule
    ]


def test_the_tall_models_floors_agree_within_a_thousandth(proposal: Proposal):
    rooms = [row for row in proposal.rows if row.schedule == "rooms"]
    assert len(rooms) == len(ROOMS)
    for row, (floor, volume) in zip(rooms, ROOMS, strict=True):
        assert float(row.cells["floor_m2"].text) == pytest.approx(floor, rel=1e-3)
        height = float(row.cells["clear_height_m"].text)
        assert height * floor == pytest.approx(volume, rel=1e-3)
        assert row.cells["clear_height_m"].beside.startswith(f"{volume:.2f} m³ in all")
        assert row.cells["low_headroom_m2"].text == "0"
        assert row.cells["floor_m2"].how is How.MEASURED
        assert f"the file writes {floor:.2f} m²" in row.cells["floor_m2"].beside
        assert row.floor == "Level 1"
        assert len(row.shape) == 4


def test_the_tall_models_volumes_are_told_to_be_in_litres(proposal: Proposal):
    assert any("R1, R2 and R3 a thousand times too large" in said for said in proposal.said)


def test_each_window_of_the_tall_model_has_its_room_and_its_foot(proposal: Proposal):
    windows = [row for row in proposal.rows if row.schedule == "windows"]
    assert len(windows) == 21
    with_room = [row for row in windows if "room" in row.cells]
    assert len(with_room) == 6
    assert {(r.cells["room"].text, r.cells["faces"].text) for r in with_room} == WINDOWS_WITH_ROOMS
    for row in with_room:
        assert "foot of the frame is 305 mm" in row.cells["sill"].beside
        assert int(row.cells["sill"].text) > 305  # to the glass, not to the frame
        assert row.cells["u"].text == "3.6886"
        assert (row.cells["frame_w"].text, row.cells["frame_h"].text) == ("915", "1830")
        assert int(row.cells["glass_w"].text) < 915
    assert any(said.startswith("15 windows have no room") for said in proposal.said)


def test_glass_begins_where_the_frame_does_and_a_little_further(proposal: Proposal):
    """Left end of the wall to the frame, as measured elsewhere; the frame is 63 mm wide."""
    found = sorted(
        int(row["left"]) - 63
        for row in cells(proposal, "windows")
        if row.get("room") == "R1" and "left" in row
    )
    assert found == [900, 1200, 1685, 5780]


def test_what_is_guessed_of_the_tall_model_says_so(proposal: Proposal):
    for row in proposal.rows:
        if row.schedule == "windows" and "room" not in row.cells:
            assert row.cells["faces"].how is How.GUESSED
        if row.schedule == "doors":
            assert "leaf_w" not in row.cells
            assert "clear_w" not in row.cells
            assert row.cells["height"].how is How.GUESSED


def test_walls_between_rooms_that_are_written_as_outside_are_asked_about(
    tall: str, proposal: Proposal
):
    asked = {q.name: q for q in proposal.questions}["outside-wall"]
    assert [value for value, _ in asked.choices] == ["Basic Wall:Inside, 200 mm", "all", "none"]
    wall = next(row for row in proposal.rows if row.schedule == "envelope")
    assert wall.cells["gross_area_m2"].text == "507.2"
    assert wall.cells["gross_area_m2"].how is How.GUESSED
    answered = model.read(tall, {"outside-wall": "all"})
    assert cells(answered, "envelope")[0]["gross_area_m2"] == "692.8"


def test_doors_in_outside_walls_that_are_written_as_inside_are_left_open(proposal: Proposal):
    doors = cells(proposal, "doors")
    assert ["outside" in door for door in doors] == [True, False, True, False, False]
    assert any("D2, D4 and D5: written as inside doors" in said for said in proposal.said)


def test_reading_twice_gives_the_same(tall: str, proposal: Proposal):
    assert model.read(tall, {}) == proposal
    assert Proposal.of_json(json.loads(json.dumps(proposal.as_json()))) == proposal


def test_every_proposed_cell_is_what_its_column_takes(proposal: Proposal):
    for row in proposal.rows:
        for head, cell in row.cells.items():
            BY_SLUG[row.schedule].column(head).read(cell.text)


def test_marks_and_references_hold(proposal: Proposal):
    rooms = {row["mark"] for row in cells(proposal, "rooms")}
    for schedule in ("windows", "doors", "furniture"):
        rows = cells(proposal, schedule)
        assert len({row["mark"] for row in rows}) == len(rows)
        assert {row["room"] for row in rows if "room" in row} <= rooms


@pytest.mark.parametrize("schema", ["IFC4", "IFC2X3"])
@pytest.mark.parametrize("unit", ["MILLI", "", "FOOT"])
def test_a_model_reads_alike_in_every_unit_and_edition(schema: str, unit: str, tmp_path: Path):
    made = cabin("IFC4", unit) if schema == "IFC4" else _older(unit)
    proposal = model.read(made.save(tmp_path / "cabin.ifc"), {"outside-wall": "all"})
    room, window = cells(proposal, "rooms")[0], cells(proposal, "windows")[0]
    assert {
        h: room[h] for h in ("floor_m2", "clear_height_m", "depth_m", "width_m", "wall_mm")
    } == {
        "floor_m2": "20",
        "clear_height_m": "2.5",
        "depth_m": "4",
        "width_m": "5",
        "wall_mm": "300",
    }
    assert {h: window[h] for h in ("frame_w", "glass_w", "glass_h", "sill", "left", "reveal")} == {
        "frame_w": "1200",
        "glass_w": "1000",
        "glass_h": "880",
        "sill": "860",
        "left": "2860",
        "reveal": "120",
    }
    assert [row["mm"] for row in cells(proposal, "envelope")] == ["20", "200", "80"]


def _older(unit: str) -> Model:
    """The same cabin in IFC 2x3, whose materials have no sets of properties."""
    Model.properties_of_materials = False
    try:
        return cabin("IFC2X3", unit)
    finally:
        Model.properties_of_materials = True


def test_no_north_is_asked_for_and_the_answer_turns_what_windows_face(tmp_path: Path):
    path = cabin(north=None).save(tmp_path / "cabin.ifc")
    first = model.read(path, {})
    assert next(q.name for q in first.questions if not q.chosen) == "north"
    assert "faces" not in cells(first, "windows")[0]
    turned = cells(model.read(path, {"north": "E"}), "windows")[0]
    assert (turned["faces"], turned["bearing"]) == ("W", "270")
    assert "faces" not in cells(model.read(path, {"north": "up"}), "windows")[0]


def test_north_of_the_model_turns_what_windows_face(tmp_path: Path):
    """Where true north is 50° anticlockwise of the plan's y axis, y looks to 50°: south to 230°."""
    path = cabin(north=(-0.76604444, 0.64278761)).save(tmp_path / "cabin.ifc")
    window = cells(model.read(path, {}), "windows")[0]
    assert (window["faces"], window["bearing"]) == ("SW", "230")


@pytest.mark.parametrize(
    ("written", "told"),
    [
        (b"", "no building model"),
        (b"ISO-10303-21;\n", "breaks off"),
        (b"\x00\xff" * 4000, "no building model"),
        (b"ISO-10303-21;" + bytes(range(256)) * 99 + b"END-ISO-10303-21;", "no building model"),
    ],
)
def test_what_is_no_model_is_refused_in_words(written: bytes, told: str, tmp_path: Path):
    path = tmp_path / "noise.ifc"
    path.write_bytes(written)
    with pytest.raises(Refused, match=told):
        model.read(str(path), {})


def test_a_model_that_breaks_off_is_refused_not_read_in_part(tall: str, tmp_path: Path):
    path = tmp_path / "cut.ifc"
    path.write_bytes(Path(tall).read_bytes()[:100_000])
    with pytest.raises(Refused, match="breaks off"):
        model.read(str(path), {})


def test_what_the_library_skips_is_told(tall: str, tmp_path: Path):
    path = tmp_path / "skipped.ifc"
    path.write_text(Path(tall).read_text().replace("#11266= IFCDOOR(", "#11266= IFCDOR("))
    proposal = model.read(str(path), {})
    assert len(cells(proposal, "doors")) == 4
    assert "IFCDOR and #11266" in proposal.said[0]


def test_a_model_of_too_many_rooms_is_refused(tmp_path: Path):
    made = Model()
    for number in range(1001):
        made.thing("IfcSpace", f"s{number}", [])
    with pytest.raises(Refused, match="1,001 rooms"):
        model.read(made.save(tmp_path / "many.ifc"), {})


def test_an_entity_where_its_schema_has_none_is_refused_in_words(tmp_path: Path):
    path = tmp_path / "broken.ifc"
    text = Path(cabin().save(tmp_path / "cabin.ifc")).read_text()
    path.write_text(re.sub(r"(IFCRELVOIDSELEMENT\([^#]*#\d+),#\d+\)", r"\1,'hole')", text))
    proposal = model.read(str(path), {})
    assert any(row.schedule == "windows" for row in proposal.rows)
    path.write_text(re.sub(r"(IFCRELFILLSELEMENT\([^#]*)#\d+,", r"\1'hole',", text))
    with pytest.raises(Refused, match="fit its own schema"):
        model.read(str(path), {})


def test_another_edition_is_refused(tmp_path: Path):
    path = tmp_path / "other.ifc"
    text = Path(cabin().save(tmp_path / "cabin.ifc")).read_text()
    path.write_text(text.replace("FILE_SCHEMA(('IFC4'))", "FILE_SCHEMA(('IFC9'))"))
    with pytest.raises(Refused, match="IFC 4"):
        model.read(str(path), {})


def test_without_the_library_the_page_learns_which_extra_brings_it(monkeypatch: pytest.MonkeyPatch):
    for name in [
        n for n in sys.modules if n.startswith(("ifcopenshell", "reviews.exchange.model"))
    ]:
        monkeypatch.delitem(sys.modules, name)
    brought = builtins.__import__

    def without(name: str, *more: object, **named: object) -> object:
        if name.split(".")[0] == "ifcopenshell":
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
        return brought(name, *more, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", without)
    told = read_kind("model", "cabin.ifc", {})
    assert told["expected"] == "whoever runs the server to install muntin[models]"


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hostile")
    with zipfile.ZipFile(DATA / "hostile-models.zip") as zipped:
        zipped.extractall(folder)
    return folder


@pytest.mark.parametrize("name", ["absurd", "cyclic_decomp", "deep_list"])
def test_an_impossible_model_gives_no_figure_and_says_so(name: str, hostile: Path):
    told = model.read(str(hostile / f"{name}.ifc"), {})
    assert told.said
    assert not [row for row in told.rows if "floor_m2" in row.cells]


ENDLESS = [pytest.param("doubling_map", marks=pytest.mark.skipif(not IS_LONG, reason="20 s"))]


@pytest.mark.parametrize("name", ["cyclic_placement", "cyclic_map", *ENDLESS])
def test_what_kills_the_library_kills_its_own_process_alone(name: str, hostile: Path):
    """Placements and shapes that hold themselves end it by a signal: segmentation, or its time."""
    done = subprocess.run(
        [sys.executable, "-m", "reviews.exchange.read", "model", str(hostile / f"{name}.ifc")],
        capture_output=True,
        stdin=subprocess.DEVNULL,
        timeout=120,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
        check=False,
    )
    assert done.returncode < 0
    assert not done.stdout

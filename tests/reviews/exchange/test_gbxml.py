"""Energy models read whole: in each unit and encoding the same figures, and what would mislead.

The files are ours, written by the published schema (gbXML 6.01); the figures are those that they
were drawn with.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from reviews.exchange import gbxml
from reviews.exchange.proposed import How, Proposal, ProposedRow
from tests.reviews.exchange import written_gbxml as written
from tests.reviews.exchange.written_gbxml import INCHES, SI, US, Units

INNER = {"floor-to": "inner"}


def proposed(
    tmp_path: Path, text: str, answers: dict[str, str] | None = None, encoding: str = "utf-8"
) -> Proposal:
    path = tmp_path / "model.xml"
    path.write_bytes(f'<?xml version="1.0" encoding="{encoding}"?>{text}'.encode(encoding))
    return gbxml.read(str(path), INNER if answers is None else answers)


def rows(proposal: Proposal, schedule: str) -> list[ProposedRow]:
    return [row for row in proposal.rows if row.schedule == schedule]


def texts(row: ProposedRow) -> dict[str, str]:
    return {head: cell.text for head, cell in row.cells.items()}


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
@pytest.mark.parametrize("units", [SI, US, INCHES], ids=["SI", "feet", "inches"])
def test_the_cabin_reads_alike_in_every_unit_and_encoding(
    units: Units, encoding: str, tmp_path: Path
):
    proposal = proposed(tmp_path, written.cabin(units), encoding=encoding)
    (room,), (window,), (door,) = (rows(proposal, s) for s in ("rooms", "windows", "doors"))
    assert texts(room) == {
        "mark": "R1",
        "room": "Day room",
        "use": "day",
        "floor_m2": "20",
        "low_headroom_m2": "0",
        "clear_height_m": "2.5",
        "depth_m": "4",
        "width_m": "5",
        "wall_mm": "235",
    }
    assert texts(window) == {
        "mark": "W1",
        "room": "R1",
        "n": "1",
        "frame_w": "1200",
        "frame_h": "1000",
        "sill": "800",
        "left": "2800",
        "faces": "S",
        "bearing": "180",
        "opens": "fixed",
        "open_share": "0",
        "u": "0.85",
        "solar_factor": "0.5",
        "transmittance": "0.7",
    }
    assert texts(door) == {
        "mark": "D1",
        "room": "R1",
        "place": "Day room to outside",
        "outside": "yes",
        "faces": "E",
        "left": "2100",
        "height": "2100",
    }
    layers = [texts(row) for row in rows(proposal, "envelope") if row.cells["part"].text == "wall"]
    assert [(r["layer"], r["mm"], r["lambda"], r["gross_area_m2"]) for r in layers] == [
        ("Cladding", "20", "0.13", "45"),
        ("Wood fibre", "200", "0.04", "45"),
        ("Plaster", "15", "0.5", "45"),
    ]
    assert {(r["density"], r["specific_heat"]) for r in layers} == {("160", "2000")}
    assert proposal.made_by == "Own hand"
    assert proposal.about == {"place": "Fellside", "latitude_deg": 54.5, "longitude_deg": -3.1}
    assert (window.source, window.floor, room.source) == ("4711", "Ground floor", "sp1")
    assert room.shape == ((0.0, 0.0), (5.0, 0.0), (5.0, 4.0), (0.0, 4.0))


def test_every_proposed_cell_is_what_its_column_takes(tmp_path: Path):
    for row in proposed(tmp_path, written.cabin(US)).rows:
        for head, cell in row.cells.items():
            BY_SLUG[row.schedule].column(head).read(cell.text)


def test_what_is_of_the_opening_and_not_of_the_glass_is_guessed(tmp_path: Path):
    window = rows(proposed(tmp_path, written.cabin()), "windows")[0]
    assert {"sill", "left"} == {h for h, c in window.cells.items() if c.how is How.GUESSED}
    assert not {"glass_w", "glass_h"} & window.cells.keys()


@pytest.mark.parametrize(("kind", "slides"), [("SlidingDoor", "slides"), ("NonSlidingDoor", None)])
def test_only_a_sliding_door_slides(kind: str, slides: str | None, tmp_path: Path):
    door = rows(proposed(tmp_path, written.cabin(kind=kind)), "doors")[0]
    assert texts(door).get("swing") == slides
    assert not {"leaf_w", "clear_w"} & door.cells.keys()


def test_a_turned_model_is_asked_about_and_guessed_until_answered(tmp_path: Path):
    text = written.cabin(azimuth="30")
    window = rows(proposed(tmp_path, text), "windows")[0]
    assert (window.cells["faces"].text, window.cells["faces"].how) == ("SW", How.GUESSED)
    for answer, faces, bearing in (("clockwise", "SW", "210"), ("anticlockwise", "SE", "150")):
        proposal = proposed(tmp_path, text, {**INNER, "turned": answer})
        window = rows(proposal, "windows")[0]
        assert (texts(window)["faces"], texts(window)["bearing"]) == (faces, bearing)
        assert window.cells["faces"].how is How.MEASURED
        assert {q.name: q.chosen for q in proposal.questions}["turned"] == answer


def test_floors_to_the_middle_of_walls_are_left_blank(tmp_path: Path):
    first = rows(proposed(tmp_path, written.cabin(), {}), "rooms")[0]
    assert first.cells["floor_m2"].how is How.GUESSED
    assert first.cells["depth_m"].how is How.GUESSED
    room = rows(proposed(tmp_path, written.cabin(), {"floor-to": "middle"}), "rooms")[0]
    assert not {"floor_m2", "low_headroom_m2", "depth_m", "width_m"} & room.cells.keys()


def test_an_opening_as_large_as_its_wall_is_no_window(tmp_path: Path):
    corners = [(0.0, 0.0, 0.0), (5.0, 0.0, 0.0), (5.0, 0.0, 2.5), (0.0, 0.0, 2.5)]
    whole = written.opening(SI, "o1", "FixedWindow", corners, (5, 2.5))
    south = written.wall(SI, "south", corners[0], corners[1], 2.5, whole)
    proposal = proposed(tmp_path, written.document(SI, _room(), south))
    window = rows(proposal, "windows")[0]
    assert (window.cells["frame_w"].text, window.cells["frame_w"].how) == ("5000", How.GUESSED)
    assert (texts(window)["sill"], texts(window)["left"]) == ("0", "0")
    assert any("As large as their wall are W1" in said for said in proposal.said)


def _room(name: str = "Loft", id_: str = "sp1", across: float = 0.0) -> str:
    corners = [(across + x, y, 0.0) for x, y in ((0, 0), (5, 0), (5, 4), (0, 4))]
    return written.space(SI, id_, name, 20, 40, written.loop(SI, corners))


def test_floor_under_a_sloping_roof_is_told_apart_as_low(tmp_path: Path):
    """A ridge along the middle of 4 m, knee 0.5 m, ridge 2.5 m: 1.5 m is reached 1 m in."""
    slopes = [
        [(0.0, 0.0, 0.5), (5.0, 0.0, 0.5), (5.0, 2.0, 2.5), (0.0, 2.0, 2.5)],
        [(5.0, 4.0, 0.5), (0.0, 4.0, 0.5), (0.0, 2.0, 2.5), (5.0, 2.0, 2.5)],
    ]
    roof = "".join(
        written.surface(SI, f"roof{n}", "Roof", corners) for n, corners in enumerate(slopes)
    )
    proposal = proposed(tmp_path, written.document(SI, _room(), roof))
    assert texts(rows(proposal, "rooms")[0])["low_headroom_m2"] == "10"
    bare = proposed(tmp_path, written.document(SI, _room(), ""))
    assert "low_headroom_m2" not in rows(bare, "rooms")[0].cells
    assert any("R1 is under 1.5 m isn't known" in said for said in bare.said)


def test_a_door_between_two_rooms_leads_from_one_to_the_other(tmp_path: Path):
    leaf = [(5.0, 1.0, 0.0), (5.0, 1.9, 0.0), (5.0, 1.9, 2.1), (5.0, 1.0, 2.1)]
    door = written.opening(SI, "o", "NonSlidingDoor", leaf, (0.9, 2.1))
    between = written.wall(
        SI, "w", (5, 0, 0), (5, 4, 0), 2.5, door, kind="InteriorWall", spaces=("sp2", "sp1")
    )
    rooms = _room("Day room") + _room("Bunk room", "sp2", 5.0)
    proposal = proposed(tmp_path, written.document(SI, rooms, between))
    found = texts(rows(proposal, "doors")[0])
    assert found["place"] == "Day room to Bunk room"
    assert (found["room"], found["faces"], found["outside"], found["role"]) == (
        "R1",
        "E",
        "no",
        "internal",
    )
    assert "u" not in found


def test_one_element_drawn_as_two_openings_has_two_sources(tmp_path: Path):
    panes = "".join(
        written.opening(
            SI,
            f"o{x}",
            "OperableWindow",
            [(x, 0.0, 1.0), (x + 1, 0.0, 1.0), (x + 1, 0.0, 2.0), (x, 0.0, 2.0)],
            (1, 1),
            cad="4711",
        )
        for x in (1.0, 3.0)
    )
    south = written.wall(SI, "south", (0, 0, 0), (5, 0, 0), 2.5, panes)
    windows = rows(proposed(tmp_path, written.document(SI, _room(), south)), "windows")
    assert [row.source for row in windows] == ["4711 o3.0", "4711 o1.0"]
    assert all("opens" not in row.cells and "open_share" not in row.cells for row in windows)


def test_a_figure_of_nought_or_in_no_known_unit_is_left_out_and_told(tmp_path: Path):
    text = written.cabin().replace(">0.130000000<", ">0<").replace("WPerSquareMeterK", "WPerRoodK")
    proposal = proposed(tmp_path, text)
    layer = next(r for r in rows(proposal, "envelope") if r.cells["layer"].text == "Cladding")
    assert "lambda" not in layer.cells
    assert "u" not in rows(proposal, "windows")[0].cells
    assert any("no conductivity of Cladding" in said for said in proposal.said)
    assert any(said.endswith("left out: WPerRoodK.") for said in proposal.said)


def test_a_head_without_a_unit_is_asked_for_it(tmp_path: Path):
    text = written.cabin(US)
    for said in (' lengthUnit="Feet"', ' areaUnit="SquareFeet"', ' volumeUnit="CubicFeet"'):
        text = text.replace(said, "")
    bare = proposed(tmp_path, text)
    assert {q.name: q.chosen for q in bare.questions}["length-unit"] == ""
    assert "floor_m2" not in rows(bare, "rooms")[0].cells
    answered = rows(proposed(tmp_path, text, {**INNER, "length-unit": "Feet"}), "rooms")[0]
    assert texts(answered)["floor_m2"] == "20"
    wrong = proposed(tmp_path, text, {**INNER, "length-unit": "Cubits"})
    assert "floor_m2" not in rows(wrong, "rooms")[0].cells


def test_air_is_no_wall_and_an_unbounded_surface_no_size(tmp_path: Path):
    proposal = proposed(tmp_path, written.cabin())
    assert any(said == "Air surfaces are no walls: 1 are left out." for said in proposal.said)
    shapeless = '<Surface id="w" surfaceType="ExteriorWall" constructionIdRef="wall"/>'
    blank = proposed(tmp_path, written.cabin().replace("</Campus>", f"{shapeless}</Campus>"))
    wall = next(r for r in rows(blank, "envelope") if r.cells["part"].text == "wall")
    assert "gross_area_m2" not in wall.cells


HARMFUL = (
    '<!DOCTYPE g [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><gbXML>&b;</gbXML>',
    '<!DOCTYPE g [<!ENTITY a SYSTEM "file:///etc/passwd">]><gbXML>&a;</gbXML>',
    '<!DOCTYPE gbXML SYSTEM "http://example.invalid/g.dtd"><gbXML/>',
)


@pytest.mark.parametrize("text", HARMFUL)
def test_entities_and_dtds_are_refused_in_words(text: str, tmp_path: Path):
    with pytest.raises(Refused, match="entities"):
        proposed(tmp_path, text)


@pytest.mark.parametrize(
    "text", ["", "<gbXML>", "<gbXML></other>", "\x00", "<gbXML a=1/>", "no XML at all"]
)
def test_what_breaks_off_is_refused_in_words(text: str, tmp_path: Path):
    with pytest.raises(Refused, match="breaks off"):
        proposed(tmp_path, text)


def test_xml_of_another_kind_and_too_much_of_it_are_refused(tmp_path: Path):
    with pytest.raises(Refused, match="another kind, html"):
        proposed(tmp_path, "<html><gbXML/></html>")
    with pytest.raises(Refused, match="1,001 rooms"):
        proposed(tmp_path, f"<gbXML>{'<Space/>' * 1001}</gbXML>")


@pytest.mark.parametrize(
    "text",
    [
        "<gbXML/>",
        '<gbXML lengthUnit="Meters"><Space/><Surface><Opening/></Surface></gbXML>',
        "<gbXML>" + "<a>" * 5000 + "</a>" * 5000 + "</gbXML>",
        '<gbXML lengthUnit="Meters"><Space id="s"><Area>1e999</Area><Volume>NaN</Volume>'
        "<PlanarGeometry><PolyLoop><CartesianPoint><Coordinate>x</Coordinate></CartesianPoint>"
        "</PolyLoop></PlanarGeometry></Space></gbXML>",
    ],
)
def test_what_holds_nothing_gives_no_figure(text: str, tmp_path: Path):
    proposal = proposed(tmp_path, text)
    assert proposal.said
    figures = {"floor_m2", "clear_height_m", "frame_w", "sill"}
    assert not [row for row in proposal.rows if figures & row.cells.keys()]


def test_reading_twice_gives_the_same(tmp_path: Path):
    first = proposed(tmp_path, written.cabin())
    assert proposed(tmp_path, written.cabin()) == first
    assert Proposal.of_json(first.as_json()) == first

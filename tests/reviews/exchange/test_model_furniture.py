"""Furniture of a model: what it is by the standard's word or a guess, in which room, how large."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("ifcopenshell")

from reviews.exchange import model
from reviews.exchange.proposed import How
from tests.reviews.exchange.written_models import cabin


def test_pieces_have_their_kind_room_and_size(tmp_path: Path):
    made = cabin()
    table = made.thing("IfcFurniture", "Long one", [made.box((1.6, 0.7, 0.74))], (1, 1, 0))
    table.PredefinedType = "TABLE"
    turned = (0.0, 1.0, 0.0)
    made.thing("IfcFurniture", "Bench by the wall", [made.box((1.2, 0.4, 0.9))], (4, 1, 0), turned)
    made.thing("IfcFurniture", "Thing", [made.box((0.3, 0.3, 0.3))], (9, 9, 0))
    basin = made.thing("IfcSanitaryTerminal", "Small", [made.box((0.5, 0.4, 0.2))], (2, 3, 0.7))
    basin.PredefinedType = "WASHHANDBASIN"
    proposal = model.read(made.save(tmp_path / "made.ifc"), {})
    rows = {r.cells["item"].text: r.cells for r in proposal.rows if r.schedule == "furniture"}
    long, bench = rows["Long one"], rows["Bench by the wall"]
    assert (long["kind"].text, long["kind"].how) == ("table", How.WRITTEN)
    assert {h: long[h].text for h in ("room", "n", "l", "w", "height_mm")} == {
        "room": "R1",
        "n": "1",
        "l": "1600",
        "w": "700",
        "height_mm": "740",
    }
    assert (bench["kind"].text, bench["kind"].how) == ("seat", How.GUESSED)
    assert (bench["l"].text, bench["w"].text) == ("1200", "400")
    assert "height_mm" not in bench  # its highest point is its back
    assert rows["Small"]["kind"].text == "basin"
    assert not {"kind", "room"} & rows["Thing"].keys()
    assert rows["Thing"]["mark"].text == "U4"
    assert any("What U4 mainly are" in said for said in proposal.said)

"""Plans in DXF: rooms and what stands in them, out of drawings made here."""

import json
import subprocess
import sys
from functools import cache

import pytest

from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from reviews.exchange.kinds import kind_of
from reviews.exchange.proposed import How

ezdxf = pytest.importorskip("ezdxf")

from ezdxf.enums import TextEntityAlignment  # noqa: E402

from reviews.exchange import plan_drawing  # noqa: E402
from tests.criteria.variants import IS_LONG  # noqa: E402
from tests.reviews.exchange.drawn_plans import (  # noqa: E402
    HABITS,
    ROOMS,
    UNITS_M,
    WINDOWS,
    plan,
    text_of,
)

MM = {"layer": "ROOMS", "unit": "mm"}


@pytest.fixture
def read(tmp_path):
    def told(drawing, answers=MM):
        path = tmp_path / "plan.dxf"
        path.write_text(drawing if isinstance(drawing, str) else text_of(drawing))
        return plan_drawing.read(str(path), answers)

    return told


def _rows(proposal, slug):
    return {
        row.cells["mark"].text: {head: cell.text for head, cell in row.cells.items()}
        for row in proposal.rows
        if row.schedule == slug
    }


@cache
def _drawn(unit, habit):
    return text_of(plan(unit, habit, has_attributes=habit != "repeated"))


@pytest.mark.parametrize("unit", UNITS_M)
@pytest.mark.parametrize("habit", HABITS)
def test_every_room_and_window_is_found_in_any_unit_and_by_any_habit(read, unit, habit):
    """48 of 48 rooms within 2 %, 64 of 64 windows; 48 with mark, sill and height."""
    told = read(_drawn(unit, habit), MM | {"unit": "mm" if unit == "none" else unit})
    rooms, windows = _rows(told, "rooms"), _rows(told, "windows")
    assert rooms.keys() == ROOMS.keys()
    for mark, (name, (left, low, right, high)) in ROOMS.items():
        assert rooms[mark]["room"] == name
        floor = (right - left) * (high - low)
        assert float(rooms[mark]["floor_m2"]) == pytest.approx(floor, rel=0.02)
        assert float(rooms[mark]["at_x"]) == pytest.approx(left, abs=0.01)
    widths = {mark: width * 1000 for mark, (_, width, _) in WINDOWS.items()}
    assert {m: float(w["frame_w"]) for m, w in windows.items()} == pytest.approx(widths, abs=1)
    assert [w["room"] for w in windows.values()] == ["R1", "R1", "R2", "R3"]
    if habit != "repeated":
        sills = {mark: float(sill) * 1000 for mark, (*_, (sill, _)) in WINDOWS.items()}
        assert {m: float(w["sill"]) for m, w in windows.items()} == pytest.approx(sills, abs=1)
        assert windows["W3"]["frame_h"] == "1000"


def test_every_cell_is_one_that_its_column_takes(read):
    for row in read(plan()).rows:
        for head, cell in row.cells.items():
            BY_SLUG[row.schedule].column(head).read(cell.text)


def test_the_unit_is_asked_with_the_size_that_follows_whatever_the_header_says(read):
    layer, unit = read(plan("mm"), {}).questions
    assert (layer.chosen, unit.chosen) == ("ROOMS", "")
    sizes = dict(unit.choices)
    assert sizes["mm"] == "mm, as its header says: 5.00 × 4.00 m"
    assert sizes["cm"] == "cm: 50.00 × 40.00 m"
    assert "m" not in sizes  # five kilometres
    assert read(plan("mm"), {}).rows == ()


def test_a_header_that_says_otherwise_is_told(read):
    drawing = plan("mm")
    drawing.header["$INSUNITS"] = 1
    assert read(drawing).said[0] == "The header says in; mm was answered and holds."


def test_of_several_layers_with_outlines_one_is_asked_for_first(read):
    drawing = plan()
    drawing.modelspace().add_circle((0, 0), 900, dxfattribs={"layer": "TREES"})
    (layer,) = read(drawing, {}).questions
    assert layer.choices == (
        ("ROOMS", "ROOMS: 3 closed outlines"),
        ("TREES", "TREES: 1 closed outline"),
    )
    assert layer.chosen == ""
    with pytest.raises(Refused, match="a layer of this plan"):
        read(drawing, {"layer": "WALLS"})
    with pytest.raises(Refused, match="one of mm, cm, m"):
        read(drawing, {"layer": "ROOMS", "unit": "mile"})


def test_a_round_room_is_as_large_as_its_circle(read):
    drawing = ezdxf.new()
    drawing.modelspace().add_circle((3000, 3000), 2500, dxfattribs={"layer": "ROOMS"})
    (room,) = _rows(read(drawing), "rooms").values()
    assert float(room["floor_m2"]) == pytest.approx(19.635, rel=0.005)
    assert "at_x" not in room


def test_what_is_too_small_too_large_or_crosses_itself_is_left_out_and_said(read):
    drawing = plan()
    space, at = drawing.modelspace(), {"layer": "ROOMS"}
    space.add_lwpolyline(
        [(0, 9e3), (500, 9e3), (500, 9.5e3), (0, 9.5e3)], close=True, dxfattribs=at
    )
    bow = [(20e3, 0), (24e3, 4e3), (24e3, 0), (20e3, 2e3)]
    space.add_lwpolyline(bow, close=True, dxfattribs=at)
    house = [(-300, -300), (8500, -300), (8500, 6500), (-300, 6500)]
    space.add_lwpolyline(house, close=True, dxfattribs=at)
    told = read(drawing)
    assert len(_rows(told, "rooms")) == 3
    said = " ".join(told.said)
    assert "1 closed outline smaller than 1 m² or larger than 900 m² is left out." in said
    assert "1 outline whose sides cross is left out" in said
    assert "which others fill, is taken for the building’s and left out" in said


def test_a_room_without_words_is_marked_in_reading_order_and_its_name_is_asked(read):
    drawing = ezdxf.new()
    for left in (0, 6000):
        corners = [(left, 0), (left + 5000, 0), (left + 5000, 4000), (left, 4000)]
        drawing.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "ROOMS"})
    drawing.modelspace().add_mtext(
        "R1\\PDay room\\P20.4 m²", dxfattribs={"insert": (8000, 2000), "char_height": 200}
    )
    told = read(drawing)
    rooms = _rows(told, "rooms")
    assert rooms["R1"]["room"] == "Day room"
    assert rooms["R1"]["at_x"] == "6"
    assert rooms["R2"]["at_x"] == "0"
    assert "room" not in rooms["R2"]
    assert "No name stands inside R2: type it." in told.said
    cells = {row.cells["mark"].text: row.cells for row in told.rows}
    assert cells["R2"]["mark"].how is How.RECKONED
    assert cells["R1"]["floor_m2"].beside == "the plan writes 20.4 m²"
    assert cells["R1"]["use"].how is How.GUESSED


def test_a_window_between_two_rooms_or_far_from_all_has_no_room(read):
    drawing = plan(has_attributes=False)
    for at in ((5100, 2000), (90e3, 90e3)):
        drawing.modelspace().add_blockref(
            "WINDOW_1", at, dxfattribs={"xscale": 600, "yscale": 1000, "rotation": 90}
        )
    told = read(drawing)
    assert [w.get("room") for w in _rows(told, "windows").values()][-2:] == [None, None]
    assert "W5 and W6 stand in no one room’s wall: type the room." in told.said


def test_doors_are_blocks_whose_width_is_only_guessed(read):
    drawing = plan()
    block = drawing.blocks.new("TÜR 90")
    block.add_line((0, 0), (0.9, 0))
    block.add_arc((0, 0), 0.9, 0, 90)
    drawing.modelspace().add_blockref(
        "TÜR 90", (2000, 4100), dxfattribs={"xscale": 1000, "yscale": 1000}
    ).add_attrib("HEIGHT", "2.1 m")
    drawing.modelspace().add_blockref("TREE", (0, 0))
    told = read(drawing)
    (door,) = (row for row in told.rows if row.schedule == "doors")
    assert door.cells["leaf_w"].text == "900"
    assert door.cells["leaf_w"].how is How.GUESSED
    assert door.cells["height"].text == "2.1 m"
    assert "clear_w" not in door.cells
    assert "1 block by no name or mark of a window or door: not read." in told.said


def test_an_opening_without_a_mark_is_known_again_by_where_it_stands(read):
    here = [r.source for r in read(plan(has_attributes=False)).rows if r.schedule == "windows"]
    assert here[0] == "WINDOW_1 1.6 -0.1"
    moved = plan(has_attributes=False)
    for each in moved.modelspace():
        each.translate(5000, 7000, 0)
    there = [r.source for r in read(moved).rows if r.schedule == "windows"]
    assert there == here
    assert {r.source for r in read(plan()).rows if r.schedule == "windows"} == {""}


def test_words_that_are_centred_stand_where_they_are_centred(read):
    drawing = ezdxf.new()
    corners = [(0, 0), (5000, 0), (5000, 4000), (0, 4000)]
    drawing.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "ROOMS"})
    text = drawing.modelspace().add_text("Day room", height=250)
    text.set_placement((2500, 2000), align=TextEntityAlignment.MIDDLE_CENTER)
    text.dxf.insert = (-9000, -9000)
    assert _rows(read(drawing), "rooms")["R1"]["room"] == "Day room"


# what means harm


def test_noise_and_halves_are_refused(read):
    whole = _drawn("mm", "closed")
    for text in (
        "  0\nSECTION\n" + "\x01\x7f?" * 999,
        "  0\nSECTION\n  2\n",
        whole[:900],
        "no plan",
    ):
        with pytest.raises(Refused):
            read(text)


def test_a_plan_without_an_outline_is_refused(read):
    drawing = ezdxf.new()
    drawing.modelspace().add_line((0, 0), (5000, 0))
    with pytest.raises(Refused, match="closed polylines, or lines that meet"):
        read(drawing)
    drawing.modelspace().add_circle((0, 0), 1e-3, dxfattribs={"layer": "DOTS"})
    with pytest.raises(Refused, match="no rooms in any unit"):
        read(drawing, {"layer": "DOTS"})


def test_what_stands_nowhere_is_left_out(read):
    drawing = plan(has_attributes=False)
    drawing.modelspace().add_blockref("WINDOW_1", (0, 0), dxfattribs={"xscale": 1e308})
    text = text_of(drawing).replace("1e+308", "1e999")
    assert len(_rows(read(text), "windows")) == len(WINDOWS)


def test_a_block_within_itself_is_harmless(read):
    drawing = plan()
    block = drawing.blocks.get("WINDOW_1")
    block.add_blockref("WINDOW_1", (0, 0))
    assert _rows(read(drawing), "windows")["W1"]["frame_w"] == "1200"


def test_many_lines_are_read_within_the_bounds_of_a_reader(tmp_path):
    """60,000 in the long run: so many that a page of hatching drawn as lines has."""
    line = "  0\nLINE\n  5\n{:X}\n100\nAcDbEntity\n  8\nHATCHED\n100\nAcDbLine\n"
    ends = " 10\n{}\n 20\n{}\n 11\n{}\n 21\n{}\n"
    lines = "".join(
        line.format(0x10000 + n) + ends.format(x, y, x + 30, y + 11)
        for n in range(60_000 if IS_LONG else 6_000)
        for x, y in [(n % 300 * 40, n // 300 * 40)]
    )
    before, entities, after = _drawn("mm", "loose").rpartition("  2\nENTITIES\n")
    path = tmp_path / "plan.dxf"
    path.write_text(before + entities + lines + after)
    command = [sys.executable, "-m", "reviews.exchange.read", "plan", str(path), json.dumps(MM)]
    done = subprocess.run(command, capture_output=True, timeout=120)
    assert done.returncode == 0, done.stderr
    rows = json.loads(done.stdout)["rows"]
    assert len([row for row in rows if row["schedule"] == "rooms"]) == 3


def test_a_plan_is_told_by_what_is_inside_and_says_what_is_missing_without_its_library(tmp_path):
    path = tmp_path / "plan.dxf"
    path.write_text(_drawn("mm", "closed"))
    with path.open("rb") as file:
        assert kind_of(file).name == "plan"
    hidden = "import sys; sys.modules['ezdxf'] = None; from reviews.exchange import read; "
    asked = f"{hidden}read.main(['plan', {str(path)!r}])"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True)
    told = json.loads(done.stdout)
    assert told["read"] == "a plan drawing (DXF), for which a library is missing here"
    assert "muntin[dxf]" in told["expected"]

"""Rows of a file are known again by their source, their outline, their words, their marks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.schedules import BY_SLUG
from reviews.exchange.known_again import Standing, known_again, overlap
from reviews.exchange.proposed import How, ProposedCell, ProposedRow

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))


def row(slug="rooms", source="", shape=(), floor="", **cells) -> ProposedRow:
    hows = {"mark": How.RECKONED if source else How.WRITTEN}
    made = {h: ProposedCell(text=t, how=hows.get(h, How.WRITTEN)) for h, t in cells.items()}
    return ProposedRow(schedule=slug, cells=made, source=source, shape=shape, floor=floor)


def standing(pk, slug="rooms", cells=None, last=None, **origin) -> Standing:
    """A row that is here; last: its cells as a model last had them."""
    told = {"last": {"model": last}} if last else {}
    return Standing(pk=pk, schedule=slug, cells=cells or {}, origin=origin | told)


def met(slug, rows, there, kind="model"):
    found = known_again(BY_SLUG[slug], kind, list(enumerate(rows)), there)
    return {number: each.pk for number, each in found.items()}


def moved(by: float):
    return tuple((x + by, y) for x, y in SQUARE)


def test_a_row_is_known_by_its_source_before_all_else():
    there = [
        standing(1, cells={"room": "Day"}, source="b", kind="model", shape=SQUARE),
        standing(2, cells={"room": "Else"}, source="a", kind="model", shape=moved(9)),
    ]
    assert met("rooms", [row(source="a", shape=SQUARE, room="Day")], there) == {0: 2}


def test_a_source_of_another_kind_of_file_tells_nothing():
    there = [standing(1, source="a", kind="gbxml", shape=SQUARE)]
    assert met("rooms", [row(source="a", shape=SQUARE, room="Day")], there) == {}


@pytest.mark.parametrize(("by", "found"), [(0.0, {0: 1}), (0.4, {0: 1}), (1.0, {}), (9.0, {})])
def test_a_room_whose_id_changed_is_known_by_where_it_lies(by, found):
    there = [standing(1, source="old", kind="model", shape=SQUARE, floor="EG")]
    assert met("rooms", [row(source="new", shape=moved(by), floor="EG", room="x")], there) == found


def test_a_room_above_another_is_another():
    there = [standing(1, source="old", kind="model", shape=SQUARE, floor="EG")]
    assert met("rooms", [row(source="new", shape=SQUARE, floor="OG", room="x")], there) == {}


def test_of_two_outlines_the_nearer_is_meant():
    there = [
        standing(n, source=f"o{n}", kind="model", shape=moved(by)) for n, by in ((1, 0.6), (2, 0))
    ]
    assert met("rooms", [row(source="new", shape=moved(0.1), room="x")], there) == {0: 2}


def test_a_room_that_was_typed_by_hand_is_known_by_its_name_and_never_by_its_mark():
    there = [
        standing(1, cells={"mark": "R1", "room": "Bath"}),
        standing(2, cells={"mark": "R7", "room": "day ROOM"}),
    ]
    rows = [row(source="a", mark="R1", room="Day room"), row(source="b", mark="R2", room="Loft")]
    assert met("rooms", rows, there) == {0: 2}


def test_a_window_of_a_model_is_never_known_by_its_mark():
    there = [standing(1, "windows", {"mark": "W1", "room": "R1"})]
    assert met("windows", [row("windows", source="a", mark="W1", room="R1")], there) == {}


def test_a_mark_that_stands_written_on_the_drawing_is_the_rows_own():
    there = [standing(1, "windows", {"mark": "W1"}), standing(2, "windows", {"mark": "W2"})]
    cells = {"mark": ProposedCell(text="W2", how=How.WRITTEN)}
    drawn = ProposedRow(schedule="windows", source="block 7", cells=cells)
    assert met("windows", [drawn], there, "plan") == {0: 2}


def test_rows_of_a_table_are_known_by_their_marks():
    there = [standing(1, cells={"mark": "R1"}), standing(2, cells={"mark": "R2"})]
    assert met("rooms", [row(mark="R2"), row(mark="R3")], there, "workbook") == {0: 2}


def test_a_mark_that_comes_twice_is_one_row_and_a_new_one():
    there = [standing(1, cells={"mark": "R1"})]
    assert met("rooms", [row(mark="R1"), row(mark="R1")], there, "workbook") == {0: 1}


def test_rows_by_state_are_known_by_all_their_keys():
    there = [standing(1, "rooms_by_state", {"room": "R1", "state": "night"})]
    rows = [
        row("rooms_by_state", room="R1", state="day"),
        row("rooms_by_state", room="R1", state="night"),
    ]
    assert met("rooms_by_state", rows, there, "workbook") == {1: 1}


def test_a_sheet_of_one_row_is_that_row():
    assert met("ramp", [row("ramp")], [standing(5, "ramp")], "workbook") == {0: 5}


LAYERS = [
    {"part": "wall", "layer": name, "mm": mm}
    for name, mm in (("Board", "20"), ("Wool", "120"), ("Ply", "12"))
]


def test_layers_are_known_by_what_is_equal_and_between_by_order():
    there = [standing(n, "envelope", cells) for n, cells in enumerate(LAYERS)]
    thicker = {**LAYERS[1], "mm": "160"}
    new = {"part": "wall", "layer": "Cavity", "mm": "30"}
    rows = [row("envelope", **cells) for cells in (LAYERS[0], new, LAYERS[2])]
    assert met("envelope", rows, there, "workbook") == {0: 0, 1: 1, 2: 2}
    rows = [row("envelope", **cells) for cells in (LAYERS[0], thicker, LAYERS[2], new)]
    assert met("envelope", rows, there, "workbook") == {0: 0, 1: 1, 2: 2}


def test_layers_of_a_model_are_known_by_part_and_name_where_they_were_typed():
    there = [standing(1, "envelope", LAYERS[1])]
    rows = [row("envelope", source="t/0", part="wall", layer="wool", mm="160")]
    assert met("envelope", rows, there) == {0: 1}


def test_an_outline_that_turns_in_on_itself_is_measured_as_it_is():
    ell = ((0, 0), (4, 0), (4, 1), (1, 1), (1, 4), (0, 4))
    assert overlap(ell, ell) == 1.0
    assert overlap(ell, SQUARE) == pytest.approx(7 / 16, abs=0.01)
    assert overlap(ell, ((2, 2), (3, 2), (3, 3), (2, 3))) == 0.0


def test_outlines_without_a_face_are_alike_to_nothing():
    assert overlap(((0, 0), (1, 0)), SQUARE) == 0.0
    assert overlap(((1, 1), (1, 1), (1, 1)), ((1, 1), (1, 1), (1, 1))) == 0.0


sizes = st.floats(0.5, 20)


@given(sizes, sizes, st.floats(-20, 20), st.floats(-20, 20))
def test_the_overlap_of_boxes_is_that_of_their_sides(width, height, x, y):
    box = ((0, 0), (width, 0), (width, height), (0, height))
    other = tuple((a + x, b + y) for a, b in box)
    shared = max(0, width - abs(x)) * max(0, height - abs(y))
    found = overlap(box, other)
    assert found == overlap(other, box)
    assert found == pytest.approx(shared / (width * height), abs=0.04)

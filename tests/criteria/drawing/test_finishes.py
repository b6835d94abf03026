"""Finishes drawn: a hatch a finish in its surface of its room, and what its row says of it."""

import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.finishes import FINISHES, SECTION_MM
from criteria.drawing.marks import Disc, Path, Strokes
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Measured
from criteria.package import read_package
from tests.criteria.drawing.seen import (
    boxes,
    drawn,
    in_each_field,
    seen_of,
    touched,
    touches,
    words,
)

ROOMS = [
    {"mark": "R1", "room": "Day room", "use": "day"},
    {"mark": "R2", "room": "Wash room", "use": "wc"},
]


def finish(mark, room, surface, what, **cells):
    row = {"mark": mark, "room": room, "surface": surface, "finish": what}
    return row | {"cleanable": "yes", "wet": "no"} | cells


FALL = {"fall_rise": "5", "fall_run": "900"}
ROWS = [
    finish("N1", "R1", "floor", "Boards", cleanable="no"),
    finish("N2", "R1", "wall", "Pine", flame_spread="100", smoke="200"),
    finish(
        "N3", "R2", "floor", "Linoleum", wet="yes", friction="0.4", fall_rise="5", fall_run="900"
    ),
    finish("N4", "R2", "ceiling", "Pine", flame_spread="300", smoke="200"),
    finish("N5", "R2", "worktop", "Steel"),
]
EVERY = ["floor_finishes", "cleanable", "flame_spread", "wet_room_fall"]


def tables(*rows, rooms=ROOMS):
    return {"rooms": rooms, "finishes": [*(rows or ROWS)]}


@pytest.mark.parametrize("check", EVERY)
def test_letters_keep_their_height_and_their_distance(check):
    assert len(in_each_field(tables(), check, (check, "all", "yes"))) == 4


def test_a_finish_is_hatched_where_its_surface_lies():
    drawing = drawn(tables(), "floor_finishes")
    (floor,) = boxes(touched(drawing, "N1"))
    assert floor[2] - floor[0] == pytest.approx(SECTION_MM[0])
    walls = boxes(touched(drawing, "N2"))
    assert len(walls) == 2
    assert {box[3] for box in walls} == {floor[1]}
    (ceiling,), (wet,) = boxes(touched(drawing, "N4")), boxes(touched(drawing, "N3"))
    assert ceiling[3] < wet[1]
    assert len([m for m in touched(drawing, "N3") if isinstance(m, Disc)]) == 3
    assert not [m for m in touched(drawing, "N1") if isinstance(m, Disc)]


def test_one_finish_has_one_hatch_wherever_it_is():
    drawing = drawn(tables(), "floor_finishes")

    def leans(row):
        hatch = next(m for m in touched(drawing, row) if isinstance(m, Strokes))
        (one, other) = hatch.segments[len(hatch.segments) // 2]
        return (other[1] - one[1]) / (other[0] - one[0])

    assert leans("N2") == pytest.approx(leans("N4"))  # pine
    assert leans("N1") == pytest.approx(-leans("N2"))


def test_what_rows_say_stands_beside_them():
    drawing = drawn(tables(), "floor_finishes")
    assert {
        "N1 floor: Boards",
        "can't be washed",
        "0.40 wet",
        "falls 5 in 900",
        "class C",
        "no class",
    } <= words(drawing)
    assert set(touches(drawing)) == {"N1", "N2", "N3", "N4", "N5"}
    bare = drawn(tables(finish("N3", "R2", "floor", "Tile", wet="yes")), "floor_finishes")
    assert "wet" in words(bare)


@pytest.mark.parametrize(
    ("check", "row", "fine"),
    [("cleanable", "N1", "N3"), ("flame_spread", "N4", "N2"), ("wet_room_fall", "N3", "N1")],
)
def test_what_doesnt_hold_is_picked_out(check, row, fine):
    drawing = drawn(tables(), check, (check, "all", "yes"))
    assert {m.tone for m in touched(drawing, row) if isinstance(m, Path)} == {Tone.SHORT}
    assert {m.tone for m in touched(drawing, fine) if isinstance(m, Path)} == {Tone.INK}


def test_a_slippery_floor_is_picked_out_by_its_figure():
    drawing = drawn(tables(), "wet_friction", ("wet_friction", "at least", "0.42"))
    assert {m.tone for m in touched(drawing, "N3") if isinstance(m, Path)} == {Tone.SHORT}
    seen = seen_of(tables(), "wet_friction", ("wet_friction", "at least", "0.42"))
    figures = FINISHES.ready(seen).of(Field()).figures
    assert {figure.amount.si for figure in figures} == {0.4, 0.42}
    dry = drawn(tables(), "wet_friction", ("wet_friction", "at least", "0.3"))
    assert {m.tone for m in touched(dry, "N3") if isinstance(m, Path)} == {Tone.INK}


def test_a_floor_without_a_finish_is_dashed_and_named():
    drawing = drawn(tables(ROWS[1]), "floor_finishes", ("floor_finishes", "all", "yes"))
    says = ["R1: floor finish not given", "R2: floor finish not given"]
    assert [gap.says for gap in drawing.gaps] == says
    dashed = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.ASSUMED]
    assert {m.tone for m in dashed} == {Tone.SHORT}
    assert drawing.says.endswith(
        "Not given: R1: floor finish not given; R2: floor finish not given."
    )


def test_odd_and_many_rows_stay_on_a_sheet():
    in_each_field(
        tables(finish("N1", "R1", "sky", ""), finish("N2", "", "wall", "Pine")), "cleanable"
    )
    rooms = [{"mark": f"R{n}", "room": "A room with a long name", "use": "day"} for n in range(200)]
    many = [finish(f"N{n}", f"R{n}", "floor", f"Finish {n}") for n in range(200)]
    for drawing in in_each_field(tables(*many, rooms=rooms), "floor_finishes"):
        assert drawing.key[0].endswith(", R199")


def test_where_nothing_can_be_drawn_nothing_is():
    for given in (tables(rooms=[]), {"rooms": ROOMS}, tables(ROWS[0], ROWS[0])):
        package = read_package(given).package
        asked = Asked(title="", measured=Measured())
        assert FINISHES.ready(Seen(package=package, check="cleanable", asked=asked)) is None

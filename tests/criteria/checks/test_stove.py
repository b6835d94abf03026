"""What burns near a stove: NFPA 211's distances (a secondary source, the hearth from memory)."""

import pytest

from criteria.check_sheet.sheet import judge
from criteria.checks import stove
from criteria.checks.catalogue import CHECKS
from criteria.findings import State
from criteria.package import read_package
from criteria.targets.reading import read_targets
from tests.criteria.checks.test_ways import DOOR, ROOM, bed, cabin, piece

__all__ = ["cabin"]

# 400 × 400 mm in the middle of the right half: 1 m from the upper wall and the lower one
STOVE = piece(
    "U9", 4.3, 4.7, 1, 1.4, kind="stove", flue_mm="0", hearth_mm="1000", front="one long side"
)
STONE = {"mark": "N1", "room": "R1", "surface": "wall", "finish": "Brick"}
PINE = STONE | {"finish": "Pine boards"}


@pytest.fixture
def held(cabin, hold):
    def made(*furniture, finishes=STONE, **more):
        return hold(cabin(*furniture, finishes=finishes, **more), "stove_clear", "0")

    return made


def test_the_distances_are_those_of_the_standard():
    """Oracle states-checks, stove: 36 and 12 in, of a connector 18 and 9 in."""
    inches = (stove.CLEAR_M, stove.SHIELDED_M, stove.PIPE_M, stove.PIPE_SHIELDED_M)
    assert [round(each / 0.0254) for each in inches] == [36, 12, 18, 9]


def test_a_bed_made_at_night_half_a_metre_from_the_stove_is_found(held):
    """By day it lies 1.3 m off, at night 0.5: 914 less 500."""
    sofa = bed("U1", 0.5, 3, 0, 0.9, kind="seat", night="0")
    night = {"mark": "U1", "state": "night", "l": "3300", "x": "2150", "y": "1200", "made": "yes"}
    finding = held(STOVE, sofa, furniture_by_state=night)
    assert (finding.state, finding.in_state) == (State.SHORT, "night")
    assert finding.value == pytest.approx(0.5 - 0.9144, abs=1e-9)
    assert finding.notes[0].write() == "U9 to U1: 500 mm, of 914 mm"
    by_day = held(STOVE, sofa)
    # the hearth, 1,000 − 406, decides: the seat's corner is √(1.3² + 0.1²) off
    assert by_day.value == pytest.approx((1.3**2 + 0.1**2) ** 0.5 - 0.9144, abs=1e-6)


@pytest.mark.parametrize(
    ("cells", "finishes", "beyond", "words"),
    [
        # its walls are 1 m off
        ({}, PINE, 1 - 0.9144, "U9 to a wall of R1: 1\u202f000 mm, of 914 mm"),
        ({"shielded": "yes"}, PINE, 1 - 0.4064, None),
        ({"plate_mm": "400"}, PINE, 1 - 0.4064, None),
        ({"plate_mm": "1100"}, PINE, -0.1, "U9 to a wall of R1: 1\u202f000 mm, of 1\u202f100 mm"),
        ({"hearth_mm": "300"}, PINE, 0.3 - 0.4064, "the hearth before the door of U9: 300 mm, of"),
    ],
)
def test_walls_that_burn_a_shield_a_plate_and_the_hearth(held, cells, finishes, beyond, words):
    finding = held(STOVE | cells, finishes=finishes)
    if words is None:
        beyond = min(beyond, 1 - 0.4064)
    else:
        assert finding.notes[0].write().startswith(words)
    assert finding.value == pytest.approx(beyond, abs=1e-9)


def test_a_pipe_of_a_single_wall_wants_its_own_distance(held):
    """A plate of 150 mm at 400 from a wall: the pipe of 150 stands 600 − 75 = 525 off, of 457.

    Shielded it wants 229; at 300 mm from the wall its pipe is 425 off, 32 short.
    """
    tested = {"plate_mm": "150", "flue_mm": "150"}
    near = piece("U9", 4.3, 4.7, 0.3, 0.7, kind="stove", hearth_mm="1000")
    finding = held(near | tested, finishes=PINE)
    assert finding.value == pytest.approx(0.425 - 0.4572, abs=1e-9)
    assert finding.notes[0].write() == "the flue of U9 to a wall of R1: 425 mm, of 457 mm"
    shielded = held(near | tested | {"shielded": "yes"}, finishes=PINE)
    assert shielded.value == pytest.approx(0.3 - 0.15, abs=1e-9)
    insulated = held(near | tested | {"flue_mm": "0"}, finishes=PINE)
    assert insulated.value == pytest.approx(0.15, abs=1e-9)


def test_what_is_said_not_to_burn_and_what_stands_in_the_next_room_is_left(held):
    bench = piece("U2", 3.5, 4, 1, 1.4, kind="seat")
    assert held(STOVE, bench).value == pytest.approx(0.3 - 0.9144, abs=1e-9)
    assert held(STOVE, bench | {"burns": "no"}).value == pytest.approx(1 - 0.4064, abs=1e-9)


def test_walls_by_their_layers_where_no_finish_is_scheduled(held):
    def layer(words):
        outer = {"part": "wall", "layer": "Pine cladding", "mm": "20"}
        return [outer, {"part": "wall", "layer": words, "mm": "12"}]

    assert held(STOVE, finishes=[], envelope=layer("Plywood")).value == pytest.approx(
        1 - 0.9144, abs=1e-9
    )
    assert held(STOVE, finishes=[], envelope=layer("Steel sheet")).state is State.MEETS
    assert held(STOVE, finishes=STONE | {"finish": "Tiles on ply"}).value < 0.1


def test_walls_nobody_knows_decide_only_where_they_are_near(held):
    near = STOVE | {"plan_y": "500"}
    unknown = held(near, finishes=[])
    assert unknown.state is State.NO_DATA
    assert unknown.missing == ("what the walls of R1 are made of (finish schedule)",)
    assert held(STOVE, finishes=STONE | {"finish": "Limewash"}).state is State.MEETS


def test_a_stove_nobody_placed_is_no_data_and_where_nothing_burns_nothing_is_asked(held):
    bench = piece("U2", 3.5, 4, 1, 1.4, kind="seat")
    none = held(bench, plant={"heater": "wood stove"})
    assert none.missing == ("the stove's place, a row of kind stove (furniture schedule)",)
    unplaced = held(STOVE | {"plan_x": ""})
    assert unplaced.missing == ("U9, On the plan, across (furniture schedule)",)
    for head, label in (("flue_mm", "Flue pipe"), ("hearth_mm", "Hearth")):
        assert held(STOVE | {head: ""}).missing == (f"U9, {label} (furniture schedule)",)
    lost = held(STOVE, bench | {"plan_x": ""})
    assert lost.state is State.NO_DATA
    heat_pump = held(bench, plant={"heater": "heat pump"})
    assert heat_pump.value is None
    assert heat_pump.missing == ()


def test_it_says_what_is_cautioned(cabin):
    check = CHECKS["stove_clear"]
    assert "licensed installer" in check.caution
    target = read_targets([{"id": "T1", "check": "stove_clear", "rule": "at least", "value": "0"}])
    near = bed("U1", 3, 4, 0, 2.4)
    question = judge(cabin(STOVE, near, rooms=ROOM, finishes=STONE), target.targets[0]).question
    assert question.startswith("Piece: -614 mm beyond what it wants to what burns, against 0 mm")


NEAR = piece("U2", 3.5, 4, 1, 1.4, kind="seat", burns="yes", height_mm="450")
SPOILT = [
    *(("furniture", 0, head) for head in STOVE if head not in ("mark", "item", "front")),
    *(("furniture", 1, head) for head in NEAR if head not in ("mark", "item", "n")),
    ("finishes", 0, "finish"),
    ("rooms", 0, "depth_m"),
]


@pytest.mark.parametrize(("slug", "row", "head"), SPOILT)
def test_a_cell_that_cannot_be_read_makes_no_miss_a_pass(hold, slug, row, head):
    tables = {
        "rooms": [dict(ROOM)],
        "doors": [dict(DOOR)],
        "furniture": [STOVE | {"shielded": "no", "plate_mm": "900"}, dict(NEAR)],
        "finishes": [dict(PINE)],
        "plant": [{"heater": "wood stove", "burns": "yes"}],
    }
    assert hold(read_package(tables).package, "stove_clear", "0").state is State.SHORT
    tables[slug][row][head] = "~?"
    found = hold(read_package(tables).package, "stove_clear", "0")
    assert not found.state.is_met
    assert found.state is not State.NO_DATA or found.missing

"""Ways out of the sleeping area: at, under and over each limit."""

import pytest

from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


@pytest.mark.parametrize(
    ("cells", "check", "target", "value", "state"),
    [
        ({"ways_out": "1"}, "ways_out", "2", "1", SHORT),
        ({"ways_out": "2"}, "ways_out", "2", "2", MEETS),
        ({"furthest_m": "15.0"}, "furthest_bunk", "15", "15.0 m", LINE),
        ({"furthest_m": "15.1"}, "furthest_bunk", "15", "15.1 m", OVER),
        (
            {"second_exit_threshold_mm": "2180"},
            "second_exit_threshold",
            "2200",
            "2\u202f180 mm",
            SHORT,
        ),
        ({"drop_mm": "600"}, "guard_height", "1100", "", State.NOT_ASKED),
        ({"drop_mm": "601", "guard_mm": "900"}, "guard_height", "1100", "900 mm", SHORT),
        ({"drop_mm": "601"}, "guard_height", "1100", "", NO_DATA),
        ({}, "ways_out", "2", "", NO_DATA),
    ],
)
def test_ways_out(package, hold, cells, check, target, value, state):
    found = hold(package(ways_out=cells), check, target)
    assert (found.write_value(), found.state) == (value, state)


@pytest.mark.parametrize(
    ("width", "height", "is_hatch"),
    [("749", "2000", True), ("750", "1900", False), ("900", "1899", True), ("", "900", False)],
)
def test_a_hatch_is_climbed_through_at_its_limits(package, hold, width, height, is_hatch):
    door = {"mark": "D2", "place": "Loft", "clear_w": width, "height": height, "outside": "yes"}
    found = hold(package(ways_out={"ways_out": "2"}, doors=door), "ways_out", "2")
    assert bool(found.notes) is is_hatch


def test_the_main_exit_is_no_hatch_and_an_inner_door_is_no_way_out(package, hold):
    small = {"clear_w": "620", "height": "900"}
    doors = [
        {"mark": "D1", "place": "Porch", "outside": "yes", "role": "main exit", **small},
        {"mark": "D2", "place": "Store", "outside": "no", **small},
    ]
    assert hold(package(ways_out={"ways_out": "2"}, doors=doors), "ways_out", "2").notes == ()


@pytest.mark.parametrize(
    ("drift", "said"),
    [
        ("2.0", ("200 mm above the drift",)),
        ("2.2", ("0 mm above the drift",)),
        ("2.5", ("300 mm below the drift",)),
        ("", ()),
    ],
)
def test_the_second_threshold_is_said_against_the_drift(package, hold, drift, said):
    hut = package(ways_out={"second_exit_threshold_mm": "2200"}, site={"drift_m": drift})
    assert hold(hut, "second_exit_threshold", "2200").write_notes() == said


def test_a_hatch_is_said_beside_the_count(package, hold):
    doors = [{"mark": "D2", "place": "Loft", "clear_w": "620", "height": "900", "outside": "yes",
              "role": "second exit"}]  # fmt: skip
    found = hold(package(ways_out={"ways_out": "2"}, doors=doors), "ways_out", "2")
    assert found.write_notes() == ("a hatch, not a door: D2 is 620 mm × 900 mm",)

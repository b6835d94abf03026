"""Windows that their frame, their room or their own clear opening contradicts."""

import pytest

from criteria.odd.values import odd_values
from criteria.package import Package
from criteria.schedules.openings import Window


@pytest.fixture
def of_window(asks):
    def found(head, room=None, **cells):
        room = {
            "mark": "R1",
            "room": "Day room",
            "use": "day",
            "floor_m2": "20",
            "clear_height_m": "2.4",
            **(room or {}),
        }
        window = {
            "mark": "W1",
            "room": "R1",
            "n": "1",
            "frame_w": "1000",
            "frame_h": "1200",
            "glass_w": "840",
            "glass_h": "1040",
            "sill": "700",
            "opens": "side-hung",
            "open_share": "0.9",
            **cells,
        }
        return asks(head, rooms=room, windows=window)

    return found


def test_a_usual_window_is_left_alone(of_window):
    assert of_window("") == []


@pytest.mark.parametrize(
    ("glass", "mended"), [("399", None), ("400", None), ("104", "104 cm"), ("480", None)]
)
def test_glass_that_is_little_of_its_frame(of_window, glass, mended):
    found = of_window("glass_h", glass_h=glass)
    assert bool(found) is (float(glass) < 480)  # 0.4 of 1200
    assert [odd.suggestion for odd in found] == [mended or ""] * len(found)


@pytest.mark.parametrize(("sill", "asked"), [("1400", False), ("1410", False), ("1411", True)])
def test_glass_above_the_ceiling(of_window, sill, asked):
    """1,040 mm of glass under 2,400 mm of height, 50 mm over it being a mean or rounded."""
    assert bool(of_window("sill", sill=sill)) is asked


def test_a_roof_light_and_a_window_under_a_slope_may_stand_higher(of_window):
    assert of_window("sill", sill="1600", opens="roof light") == []
    assert of_window("sill", sill="1600", room={"low_headroom_m2": "3"}) == []


@pytest.mark.parametrize(
    ("sill", "glass", "asked"),
    [
        ("70", "1040", True),
        ("120", "1040", False),
        ("19", "1040", False),
        ("0", "1040", False),
        ("70", "1630", False),
        ("70", "1629", True),
    ],
)
def test_a_sill_in_cm(of_window, sill, glass, asked):
    found = of_window("sill", sill=sill, glass_h=glass, frame_h="1800")
    assert [odd.suggestion for odd in found] == ["70 cm"] * asked


@pytest.mark.parametrize(("n", "asked"), [("13", False), ("14", True)])
def test_more_glass_than_floor(of_window, n, asked):
    """0.8736 m² each: 13 are 11.4 m² of 20, 14 are 12.2, over six tenths."""
    assert bool(of_window("n", n=n)) is asked


@pytest.mark.parametrize(
    ("cells", "head"),
    [
        ({"escape_w": "1001"}, "escape_w"),
        ({"escape_h": "1201"}, "escape_h"),
        ({"escape_w": "841", "frame_w": "", "frame_h": ""}, "escape_w"),
    ],
)
def test_a_clear_opening_larger_than_its_frame(of_window, cells, head):
    (odd,) = of_window(head, **cells)
    assert odd.is_mismatch
    assert of_window(head, escape_w="840", escape_h="1000") == []


def test_glass_as_large_as_its_frame():
    window = Window(
        mark="W1", room="R1", frame_w_m=1.0, frame_h_m=1.0, glass_w_m=0.95, glass_h_m=0.95
    )
    assert [
        (odd.schedule, odd.mark, odd.head) for odd in odd_values(Package(windows=(window,)))
    ] == [("windows", "W1", "glass_w")]

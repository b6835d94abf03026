"""Stairs and ladders: published limits and a rise of 2.1 m by hand."""

import pytest

from criteria.findings import State
from criteria.package import read_package

CLIMB = {
    "mark": "K1",
    "place": "To the loft",
    "kind": "loft stair",
    "rise": "2100",
    "risers": "8",
    "tread": "160",
    "width": "510",
    "headroom": "1900",
    "rail": "yes",
}


def held(package, hold, **cells):
    return hold(package(climbs=CLIMB | cells), "loft_stair", "yes")


@pytest.mark.parametrize(
    ("risers", "tread", "value"),
    [
        # riser 13.78 in is over 12; 11.81 in wants 4.252 in (108.0 mm); 10.33 wants 6.220 (158.0);
        # 9.186 wants 7.752 (196.9); 8.268 wants 8.976 (228.0): 20 in − 4/3 riser, Appendix AQ
        ("6", "400", "not: K1 (riser)"),
        ("7", "108.1", "all"),
        ("7", "107.9", "not: K1 (tread)"),
        ("8", "158.1", "all"),
        ("8", "157.9", "not: K1 (tread)"),
        ("9", "197", "all"),
        ("9", "196.8", "not: K1 (tread)"),
        ("10", "228.1", "all"),
        ("10", "227.9", "not: K1 (tread)"),
        ("12", "400", "not: K1 (riser)"),
    ],
)
def test_a_rise_of_2100_mm_to_a_loft(package, hold, risers, tread, value):
    assert held(package, hold, risers=risers, tread=tread).write_value() == value


STAIR = {
    "kind": "stair",
    "rise": "2540",
    "risers": "14",
    "tread": "10 in",
    "width": "36 in",
    "headroom": "80 in",
}
LADDER = {
    "kind": "ladder",
    "risers": "7",
    "tread": "",
    "width": "12 in",
    "headroom": "",
    "rail": "",
}
SHIP = {
    "kind": "ship's ladder",
    "rise": "9 ft 6 in",
    "risers": "12",
    "tread": "5 in",
    "width": "20 in",
    "headroom": "80 in",
}


@pytest.mark.parametrize(
    ("cells", "value"),
    [
        (STAIR, "all"),
        (STAIR | {"tread": "9.9 in"}, "not: K1 (tread)"),
        (STAIR | {"risers": "12"}, "not: K1 (riser)"),
        (STAIR | {"rise": "7.75 in", "risers": "1"}, "all"),
        (STAIR | {"width": "35 in", "headroom": "79 in"}, "not: K1 (width, headroom)"),
        (STAIR | {"rail": "no"}, "not: K1 (no handrail)"),
        (SHIP, "all"),
        (SHIP | {"risers": "11"}, "not: K1 (riser)"),
        (SHIP | {"tread": "4.9 in"}, "not: K1 (tread)"),
        (LADDER, "all"),
        (LADDER | {"risers": "9"}, "not: K1 (riser)"),
        (LADDER | {"risers": "5"}, "not: K1 (riser)"),
        (LADDER | {"width": "11 in"}, "not: K1 (width)"),
        ({"width": "19 in", "headroom": "73 in"}, "not: K1 (width, headroom)"),
    ],
)
def test_each_kind_by_its_own_limits(package, hold, cells, value):
    assert held(package, hold, **cells).write_value() == value


@pytest.mark.parametrize("head", ["kind", "rise", "risers", "tread", "width", "headroom", "rail"])
@pytest.mark.parametrize("text", ["", "?"])
def test_what_is_blank_or_cannot_be_read_is_no_data(hold, head, text):
    found = hold(read_package({"climbs": [CLIMB | {head: text}]}).package, "loft_stair", "yes")
    assert found.state is State.NO_DATA
    assert found.missing[0].startswith("K1, ")


def test_a_building_without_climbs_is_no_data(package, hold):
    assert hold(package(), "loft_stair", "yes").missing == ("rows of the climbs",)

"""Storeys made of a package's own rows: the oracle's plans typed, and what must never change."""

import math
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from criteria.checks.catalogue import CHECKS
from criteria.package import Package, read_package
from criteria.walking import storeys
from criteria.walking.of_package import Storeys, start_of, storeys_of
from criteria.walking.storeys import ways
from criteria.walking.widest import widest_ways

Box = tuple[float, float, float, float]
Rows = dict[str, Any]

WINDOW = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "900", "glass_h": "900", "faces": "S"}
DOOR = {
    "mark": "D1",
    "place": "Front",
    "leaf_w": "900",
    "clear_w": "900",
    "outside": "yes",
    "role": "main exit",
    "room": "R1",
    "faces": "S",
    "swing": "in",
    "hinge": "left",
}


def room(across: float, up: float) -> dict[str, str]:
    """A room whose window looks south, so that its width runs across the plan."""
    return {
        "mark": "R1",
        "room": "Cabin",
        "use": "sleep",
        "width_m": f"{across:g}",
        "depth_m": f"{up:g}",
        "floor_m2": f"{across * up:g}",
        "clear_height_m": "2.4",
    }


def door(across: float, left: float, right: float) -> dict[str, str]:
    wide = f"{1000 * (right - left):g}"
    return DOOR | {"leaf_w": wide, "clear_w": wide, "left": f"{1000 * (across - right):g}"}


def thing(number: int, kind: str, *figures: float) -> dict[str, str]:
    """Type an oracle's thing: ["rect", x0, x1, y0, y1[, turn]] or ["disc", x, y, r]."""
    row = {"mark": f"U{number}", "item": "Thing", "kind": "other", "n": "1", "room": "R1"}
    if kind == "disc":
        x, y, r = figures
        return row | {
            "l": f"{2000 * r:g}",
            "round": "yes",
            "plan_x": f"{1000 * x:g}",
            "plan_y": f"{1000 * y:g}",
        }
    x0, x1, y0, y1, turn = (*figures, 0.0)[:5]
    return row | {
        "l": f"{1000 * (x1 - x0):g}",
        "w": f"{1000 * (y1 - y0):g}",
        "turn": f"{turn:g}",
        "plan_x": f"{500 * (x0 + x1):g}",
        "plan_y": f"{500 * (y0 + y1):g}",
    }


def made(tables: Rows) -> Package:
    reading = read_package(tables)
    assert not any(reading.refused.values()), reading.refused
    return reading.package


# states-walk/1, “widest”: exact by hand, the working beside each there; walls without thickness
ORACLE = [
    (
        "day",
        (6, 2.4),
        (1.0, 1.9),
        [("rect", 4, 6, 0, 1), ("rect", 2, 3, 1.5, 2.4)],
        [(5.6, 1.7)],
        [0.9],
    ),
    (
        "night",
        (6, 2.4),
        (1.0, 1.9),
        [("rect", 4, 6, 0, 1), ("rect", 4, 5, 1.6, 2.4)],
        [(5.6, 1.7), (3.5, 1.2)],
        [0.6, 0.9],
    ),
    (
        "across a corner",
        (6, 2.4),
        (1.0, 1.9),
        [("rect", 1.95, 2.95, 0, 1), ("rect", 3.25, 4.25, 1.4, 2.4)],
        [(5, 1.2)],
        [0.5],
    ),
    (
        "turned square",
        (6, 2.4),
        (0.2, 1.4),
        [("rect", 2.5, 3.5, 0.7, 1.7, 45)],
        [(5, 1.2)],
        [0.4928932188134524],
    ),
    ("round table", (6, 2.4), (0.2, 1.4), [("disc", 3, 1.2, 0.5)], [(5, 1.2)], [0.7]),
    ("two ways round", (6, 2.4), (1.0, 1.9), [("rect", 2.5, 3.5, 0.4, 1.6)], [(5, 1.2)], [0.8]),
    (
        "two islands",
        (6, 2.4),
        (1.0, 1.9),
        [("rect", 2.2, 3, 0.5, 1.5), ("rect", 4, 4.8, 0.8, 1.8)],
        [(5.4, 1.2), (3.5, 1.2)],
        [0.8, 0.9],
    ),
    ("shut", (6, 2.4), (1.0, 1.9), [("rect", 3, 3.1, 0, 2.4)], [(5, 1.2), (2, 1)], [0.0, 0.9]),
    (
        "pocket",
        (6, 2.4),
        (1.0, 1.9),
        [("rect", 3, 5, 0.3, 0.4), ("rect", 3, 5, 1.5, 1.6), ("rect", 4.9, 5, 0.4, 1.5)],
        [(4.5, 1.0), (5.5, 1.0)],
        [0.9, 0.8],
    ),
    ("all on one lattice", (6, 3), (1, 2), [("rect", 0.75, 1.25, 1.5, 2.5)], [(0.5, 1.0)], [1.0]),
]


@pytest.mark.parametrize(
    ("size", "gap", "things", "targets", "widest"),
    [case[1:] for case in ORACLE],
    ids=[case[0] for case in ORACLE],
)
def test_the_oracles_plans_typed_as_rows_are_as_wide_as_it_says(size, gap, things, targets, widest):
    package = made(
        {
            "rooms": [room(*size)],
            "windows": [WINDOW],
            "doors": [door(size[0], *gap) | {"swing": "slides", "hinge": ""}],
            "furniture": [thing(n, *each) for n, each in enumerate(things, start=1)],
        }
    )
    storey = Storeys(package).of("R1")
    gate, opened = start_of(storey, package)
    found = ways(storey, opened, gate.before, tuple(targets))
    assert [way.width_m for way in found] == pytest.approx(widest, abs=1e-9)


# what must never change

ACROSS, UP = 6.0, 3.0
BED: Box = (4.0, 6.0, 0.0, 0.9)
LENGTHS = st.integers(1, 12).map(lambda tenths: tenths / 10)


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    wide, deep = draw(LENGTHS), draw(LENGTHS)
    x = draw(st.integers(0, round((ACROSS - wide) * 50))) / 50
    y = draw(st.integers(0, round((UP - deep) * 50))) / 50
    return x, x + wide, y, y + deep


FURNITURE = st.lists(boxes(), max_size=6)
TURNS = {0: "S", 45: "SW", 90: "E", 180: "N"}
"""Where the lower wall looks when the building is turned; by 45 the compass turns alone."""


def turned(box: Box, by: int) -> tuple[Box, int]:
    """A box and its own turn as the plan is drawn, when the building is turned."""
    x0, x1, y0, y1 = box
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    half, deep = (x1 - x0) / 2, (y1 - y0) / 2
    if by == 90:
        x, y = UP - y, x
    if by == 180:
        x, y = ACROSS - x, UP - y
    own = 0 if by == 45 else by
    return (x - half, x + half, y - deep, y + deep), own


def cabin(furniture: list[Box], by: int = 0) -> Package:
    rows = []
    for number, box in enumerate((BED, *furniture), start=1):
        there, own = turned(box, by)
        rows.append(thing(number, "rect", *there, own))
    rows[0] |= {"kind": "bed", "night": "1"}
    faces = {"faces": TURNS[by]}
    return made(
        {
            "rooms": [room(ACROSS, UP)],
            "windows": [WINDOW | faces],
            "doors": [door(ACROSS, 1.0, 1.9) | faces],
            "furniture": rows,
        }
    )


def figures(package: Package, *slugs: str) -> list[float | str]:
    found: list[float | str] = []
    for slug in slugs:
        for each in CHECKS[slug].of(package):
            found += each.values if each.values else each.missing
    return found


@given(furniture=FURNITURE, more=boxes())
def test_more_furniture_never_widens_a_way(furniture, more):
    """To places that stay: those beside a bed are looked for anew among what stands there."""
    targets = ((5.0, 2.0), (2.0, 2.5), (0.3, 1.5))
    before, after = cabin(furniture), cabin([*furniture, more])
    widths = []
    for package in (before, after):
        storey = Storeys(package).of("R1")
        gate, opened = start_of(storey, package)
        found = ways(storey, opened, gate.before, targets)
        widths.append([way.width_m or 0.0 for way in found])
    assert all(b <= a + 1e-9 for a, b in zip(*widths, strict=True))


@given(furniture=FURNITURE, by=st.sampled_from([45, 90, 180]))
@example(furniture=[(0.74, 1.74, 0.4, 0.6000000000000001)], by=90)  # 400 mm to the wall, to a hair
def test_turning_the_building_changes_nothing(furniture, by):
    slugs = ("way_to_bed", "walked_out", "doors_open_fully", "room_before")
    before, after = (figures(cabin(furniture, turn), *slugs) for turn in (0, by))
    assert len(before) == len(after)
    for one, other in zip(before, after, strict=True):
        if isinstance(one, str) or isinstance(other, str):
            assert one == other
        else:
            # round corners of the walker are eight-sided: 0.5 % of a bend
            assert math.isclose(one, other, rel_tol=0.006, abs_tol=1e-6)


# hostile rows


@pytest.mark.parametrize(
    ("slug", "cells"),
    [
        ("rooms", {"width_m": "0.3", "depth_m": "0.3"}),
        ("rooms", {"width_m": "30", "depth_m": "30", "at_x": "90", "at_y": "-90"}),
        ("rooms", {"part_of": "R1", "at_x": "0", "at_y": "0"}),
        ("furniture", {"l": "6", "w": "6"}),
        ("furniture", {"l": "6000", "w": "6000", "turn": "360"}),
        ("furniture", {"plan_x": "30000", "plan_y": "30000"}),
        ("furniture", {"n": "200"}),
        ("furniture", {"night": "0"}),
        ("furniture", {"round": "yes", "w": ""}),
        ("doors", {"left": "30000"}),
        ("doors", {"clear_w": "6000", "leaf_w": "300"}),
        ("doors", {"faces": "NE"}),
        ("doors", {"outside": "", "role": ""}),
        ("doors", {"swing": "hatch", "hinge": ""}),
        ("windows", {"faces": "up"}),
        ("windows", {"left": "30000", "sill": "0", "escape_w": "6000", "escape_h": "6000"}),
    ],
)
def test_no_row_however_odd_breaks_a_check_or_passes_in_silence(slug, cells):
    tables: Rows = {
        "rooms": [room(ACROSS, UP)],
        "windows": [WINDOW],
        "doors": [door(ACROSS, 1.0, 1.9)],
        "furniture": [thing(1, "rect", *BED) | {"kind": "bed", "night": "1"}],
    }
    tables[slug][0] = tables[slug][0] | cells
    package = made(tables)
    for check in CHECKS.values():
        if check.topic == "The plan walked":
            for measured in check.of(package):
                assert measured.values or measured.missing
                assert all(math.isfinite(value) for value in measured.values)


@pytest.fixture
def walks(monkeypatch) -> list[int]:
    """How many targets each pass of the widest way is asked for, from now on."""
    asked: list[int] = []

    def counted(plan, start, targets):
        asked.append(len(targets))
        return widest_ways(plan, start, targets)

    monkeypatch.setattr(storeys, "widest_ways", counted)
    return asked


def test_asking_twice_walks_once(walks):
    for _ in range(2):
        CHECKS["way_to_bed"].of(cabin([(2.0, 3.0, 0.0, 1.01)]))
    assert len(walks) == 1
    CHECKS["way_to_bed"].of(cabin([(2.0, 3.0, 0.0, 1.02)]))
    assert len(walks) == 2


def test_checks_of_one_package_make_its_plan_once_and_of_equal_ones_share_it(monkeypatch):
    made_of: list[tuple[str, int]] = []
    make = Storeys._storey

    def counted(self, *key):
        made_of.append(key)
        return make(self, *key)

    monkeypatch.setattr(Storeys, "_storey", counted)
    package, equal = (cabin([(2.0, 3.0, 0.0, 1.04)]) for _ in range(2))
    for slug in ("way_to_bed", "room_before", "walked_out"):
        CHECKS[slug].of(package)
    assert len(made_of) == 1
    assert storeys_of(package).of("R1") is storeys_of(equal).of("R1")
    other = cabin([(2.0, 3.0, 0.0, 1.05)])
    assert storeys_of(other).of("R1") != storeys_of(package).of("R1")


def test_nobody_walks_a_plan_of_which_a_cell_lacks(walks):
    bare = cabin([(2.0, 3.0, 0.0, 1.03)])
    room = bare.rooms[0].but(width_m=None)
    for check in CHECKS.values():
        if check.topic == "The plan walked":
            check.of(bare.but(rooms=(room,)))
    assert walks == []

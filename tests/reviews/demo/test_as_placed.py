"""Packages whose rows place everything: nothing overlaps, and what is walked comes out as told."""

from functools import cache
from itertools import combinations

import pytest

from criteria.check_sheet.sheet import CheckSheet, check_sheet
from criteria.drawing.marks import meet
from criteria.findings import State
from criteria.package import Package, read_package
from criteria.schedules.states import LIVED_KINDS
from criteria.situations import Situation, states_of
from criteria.units import rounded
from criteria.walking.bodies import Body
from criteria.walking.of_package import Storeys
from criteria.walking.storeys import Storey
from reviews.demo.drafting import Cohort
from reviews.demo.generate import headlines
from reviews.demo.tables import given, typed, use_of

PLACED = (("H07", "B"), ("E11", "C"), ("H14", "B"))
every_package = pytest.mark.parametrize(("scheme", "rev"), PLACED)
TOUCH = 1e-6
COHORTS = {letter: Cohort(letter) for letter in "HE"}


@cache
def package_of(scheme: str, rev: str) -> Package:
    cohort = COHORTS[scheme[0]]
    leaders = {"site": [cohort.site], "climate": cohort.climate, **use_of(cohort.letter)}
    reading = read_package({**typed(given(scheme, rev)), **leaders})
    assert reading.refused == {}
    return reading.package


@cache
def sheet_of(scheme: str, rev: str) -> CheckSheet:
    return check_sheet(package_of(scheme, rev), COHORTS[scheme[0]].targets)


def lived_in(package: Package) -> list[Package]:
    return [Situation(state).of(package) for state in states_of(package, LIVED_KINDS)]


def storeys_of(package: Package) -> dict[str, Storey]:
    storeys = Storeys(package)
    return {room.mark: storeys.of(room.mark) for room in package.rooms}


@every_package
def test_furniture_stands_inside_its_room_and_nothing_overlaps_in_any_state(scheme, rev):
    for package in lived_in(package_of(scheme, rev)):
        rooms = {piece.mark: piece.room for piece in package.furniture}
        for storey in set(storeys_of(package).values()):
            places = {place.room: place for place in storey.places}
            for thing in storey.things:  # two bunks over each other cover the same
                place = places[rooms[thing.mark]]
                assert all(_inside(place, corner) for corner in thing.corners), thing.mark
            pairs = [(a, b) for a, b in combinations(storey.things, 2) if a.corners != b.corners]
            lying = [(a.mark, b.mark) for a, b in pairs if _meet(a, b)]
            assert lying == []


def _inside(place, corner) -> bool:
    return all(
        low - 1e-6 <= at <= high + 1e-6
        for low, at, high in zip(place.low, corner, place.high, strict=True)
    )


def _meet(one: Body, other: Body) -> bool:
    spans = [
        [(min(each), max(each)) for each in zip(*b.corners, strict=True)] for b in (one, other)
    ]
    a, b = ((x[0] + TOUCH, y[0] + TOUCH, x[1] - TOUCH, y[1] - TOUCH) for x, y in spans)
    return meet(a, b)


WALKED = (
    ("H07", "B", "way_to_bed", "150 mm"),
    ("H07", "B", "way_to_toilet", "150 mm"),
    ("H07", "B", "second_way_out", "150 mm"),
    ("H07", "B", "circle_reached", "1\u202f488 mm"),
    ("H07", "B", "way_step_free", "820 mm"),
    ("H07", "B", "doors_open_fully", "all"),
    ("H07", "B", "stove_clear", "-414 mm"),
    ("H14", "B", "way_to_bed", "600 mm"),
    ("H14", "B", "way_step_free", "830 mm"),
    ("H14", "B", "walked_out", "12.1 m"),
    ("H14", "B", "escape_at_night", "not: R6 (Warden)"),
    ("H14", "B", "stove_clear", "-184 mm"),
    ("H14", "B", "order_possible", "all"),
    ("H14", "B", "doors_open_fully", "all"),
    ("E11", "C", "way_to_bed", "475 mm"),
    ("E11", "C", "way_to_toilet", "475 mm"),
    ("E11", "C", "second_way_out", "475 mm"),
    ("E11", "C", "way_step_free", "670 mm"),
    ("E11", "C", "circle_reached", "1\u202f070 mm"),
    ("E11", "C", "doors_open_fully", "not: D4 (meets U21)"),
    ("E11", "C", "escape_at_night", "not: R4 (Cabin 1), R5 (Cabin 2), R6 (Cabin 3)"),
)
"""Figures that follow from the rows by hand: mattresses 1,900 long in a shelf 2,750 deep with one
700 wide along the fire leave 150 mm; chairs and benches leave 475 mm, bunks 660 and 670 mm."""


@pytest.mark.parametrize(("scheme", "rev", "check", "value"), WALKED)
def test_the_plan_is_walked_at_night(scheme, rev, check, value):
    found = {finding.check: finding for finding in sheet_of(scheme, rev).findings}
    assert found[check].write_value() == value


PRINTED = {
    "T01": ("day-room light %", 1), "T07": ("floor m²/p", 1), "T08": ("bunk floor m²/p", 2),
    "T13": ("heat loss w", 0), "T14": ("water days", 1), "T18": ("power ratio", 2),
    "T20": ("ramp ratio", 2), "T27": ("lifts", 0), "T28": ("stowage l", 0),
}  # fmt: skip
"""Column and decimals of the table of headline figures, by target."""


@pytest.mark.parametrize(("ref", "column", "places"), [(k, *v) for k, v in PRINTED.items()])
def test_the_folding_hut_comes_out_as_its_headline_is_printed(ref, column, places):
    finding = next(each for each in sheet_of("H14", "B").asked if each.ref == ref)
    value = float(finding.scale.metric.from_si(finding.value))
    assert rounded(value, places) == rounded(headlines()["H14"][column], places)


def test_the_folding_hut_misses_as_many_targets_as_its_headline_says():
    sheet = sheet_of("H14", "B")
    assert sheet.missed == headlines()["H14"]["short/over of 30"]
    assert sheet.count(State.NO_DATA) == 0
    assert sheet.odd == ()

"""The demo's hung sheets: every plan fits its frame at its scale, whatever a schedule lacks."""

from functools import cache

import pytest

from criteria.drawing.border import block_of, border, frame_of
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.lettering import LEAST_MM
from criteria.drawing.marks import Path as Line
from criteria.drawing.marks import box_of, flat, meet
from criteria.drawing.pens import Fill, Pen
from criteria.package import Package, read_package
from reviews.demo.building_section import section
from reviews.demo.drafting import Cohort
from reviews.demo.packages import letters
from reviews.demo.set_tables import set_tables
from reviews.demo.sheets import FOOT, SHEETS, TOP, WIDE, Told, draw_sheets
from reviews.demo.tables import GENERATED, given, read_csv, typed, use_of

COHORTS = {letter: Cohort(letter) for letter in "HE"}
SCHEMES = [row["no"] for row in read_csv("schemes")]
NUMBERS = [number for number, _, _ in SHEETS]
ZONES_MM = 5.5
"""Zones lie outside the frame."""


@cache
def tables_of(scheme: str, rev: str) -> dict[str, list[dict[str, str]]]:
    own = typed(given(scheme, rev))
    return own if own.get("rooms") else typed(given(scheme, rev, GENERATED))


@cache
def package_of(scheme: str, rev: str) -> Package:
    cohort = COHORTS[scheme[0]]
    leaders = {"site": [cohort.site], "climate": cohort.climate, **use_of(cohort.letter)}
    return read_package({**tables_of(scheme, rev), **leaders}).package


@cache
def sheets_of(scheme: str, rev: str, *only: str) -> dict[str, tuple[str, Drawing]]:
    targets = COHORTS[scheme[0]].targets
    package, tables = package_of(scheme, rev), tables_of(scheme, rev)
    made = draw_sheets(told(scheme), package, tables, targets, only)
    return {number: (scale, drawing) for number, _, scale, drawing in made}


def is_within(box, outer) -> bool:
    is_after = outer[0] <= box[0] and outer[1] <= box[1]
    return is_after and box[2] <= outer[2] and box[3] <= outer[3]


def told(scheme: str = "H07") -> Told:
    words = "A hut is a fire with people round it."
    return Told(
        number=scheme,
        name="Hearthbox",
        by="Noor Tavish and Kit Amberley",
        letter="B",
        day="3 December 2026",
        statement=words,
        site="Harl Saddle",
    )


@pytest.mark.parametrize("scheme", SCHEMES)
def test_every_plan_fits_its_sheet_and_its_scale_is_true(scheme):
    rev = letters(scheme)[-1]
    scale, sheet = sheets_of(scheme, rev, "02")["02"]
    ruled = set(border())
    count = next(n for n, mark in enumerate(sheet.marks) if mark in ruled)
    drawn = sheet.marks[:count]
    for mark in drawn:
        box = box_of(mark)
        assert is_within(box, frame_of()), mark
        assert not meet(box, block_of()), mark
    per_m = 1000 / int(scale.removeprefix("1:"))
    floors = [
        (box[2] - box[0], box[3] - box[1])
        for mark in drawn
        if isinstance(mark, Line) and mark.fill is Fill.PAPER and mark.pen is Pen.SEEN
        for box in [box_of(mark)]
    ]
    for room in package_of(scheme, rev).rooms:
        sides = sorted((room.depth_m * per_m, room.width_m * per_m))
        assert any(sorted(each) == pytest.approx(sides, abs=0.01) for each in floors), room.mark


@pytest.mark.parametrize("scheme", SCHEMES)
def test_each_room_of_a_drafted_plan_is_entered_and_each_opening_has_its_wall(scheme):
    rev = letters(scheme)[-1]
    _, sheet = sheets_of(scheme, rev, "02")["02"]
    assert sheet.left_out == () or scheme in ("H03", "H07", "E11"), sheet.left_out
    assert sheet.scale in ("1:50", "1:100")


@pytest.mark.parametrize(
    ("scheme", "shows"),
    [
        ("H06", {"K1 up", "K1 down", "R4 Bunk room A"}),
        ("H08", {"U1 Half of the long table", "U4 Half of the long table"}),
        ("H12", {"U2 Warm bench, water tank T1", "U3 Warm bench, water tank T2"}),
        ("H13", {"K1 up", "K2 up", "K2 down"}),
        ("E07", {f"D{n}" for n in range(5, 11)}),
        ("E10", {"U2 Counting bench at the slot"}),
    ],
)
def test_a_plan_shows_what_its_name_promises(scheme, shows):
    _, sheet = sheets_of(scheme, "B", "02")["02"]
    words = {letter.words for letter in sheet.letters}
    marks = {word.split()[0] for word in words if word}
    assert all(each in words or each.split()[0] in marks for each in shows)


def test_the_long_table_is_nine_metres_long():
    halves = [each for each in package_of("H08", "B").furniture if each.kind == "table"]
    assert sum(each.used_l_m for each in halves) == pytest.approx(9.0)


@pytest.mark.parametrize(("scheme", "rev"), [("H07", "A"), ("H07", "B"), ("H12", "B")])
def test_a_full_package_has_eight_sheets_within_their_frames(scheme, rev):
    sheets = sheets_of(scheme, rev)
    assert list(sheets) == NUMBERS
    left, top, right, bottom = frame_of()
    paper = (left - ZONES_MM, top - ZONES_MM, right + ZONES_MM, bottom + ZONES_MM)
    for _, sheet in sheets.values():
        for mark in flat(sheet.marks):
            assert is_within(box_of(mark), paper), mark
        assert all(letter.cap_mm >= LEAST_MM for letter in sheet.letters)


@pytest.mark.parametrize(("scheme", "rev"), [("H07", "B"), ("E11", "C"), ("H06", "B")])
def test_the_site_and_the_section_stand_on_their_sheets_at_a_scale(scheme, rev):
    for number, caption in (("01", "Site   1:"), ("03", "Section along the building   1:")):
        _, sheet = sheets_of(scheme, rev, number)[number]
        assert any(letters.words.startswith(caption) for letters in sheet.letters), number


def test_a_section_is_as_tall_as_its_rooms():
    package = package_of("H07", "B")
    drawing = section(package, Field(width_mm=WIDE, tallest_mm=156.0))
    assert drawing.scale == "1:50"
    words = {letters.words for letters in drawing.letters}
    heights = {room.mark: room.clear_height_m for room in package.rooms}
    assert {"R2", "R3", "R4", f"{heights['R2']:.2f}", "±0.00"} <= words
    papers = [mark for mark in drawing.flat if getattr(mark, "fill", None) is Fill.PAPER]
    tall = {round((box[3] - box[1]) / 20, 2) for box in map(box_of, papers)}
    assert {heights[mark] for mark in ("R2", "R3", "R4")} <= tall


def test_a_package_of_one_room_and_blank_rows_has_eight_sheets():
    room = {"mark": "R1", "room": "Hut", "floor_m2": "12", "use": "day"}
    tables = {
        "rooms": [room],
        "windows": [{"mark": "W1", "room": "R1"}],
        "pieces": [{"mark": "M1"}],
    }
    made = list(draw_sheets(told(), read_package(tables).package, tables, ()))
    assert [number for number, *_ in made] == NUMBERS


@pytest.mark.parametrize("scheme", ["H03", "H07", "H14", "E11", "H12", "H06"])
def test_the_schedules_have_room_on_their_sheet(scheme):
    drawing = set_tables(tables_of(scheme, letters(scheme)[-1]), WIDE, FOOT - TOP)
    assert drawing.key == ()

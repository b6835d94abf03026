"""The demo's sheets: drawn to scale, from the schedules alone, whatever a schedule lacks."""

from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

import reviews
from criteria.command.folder import read_folder
from criteria.package import Package, read_package
from criteria.schedules import SCHEDULES, SITE
from criteria.typed.columns import Kind
from reviews.demo.drawings.approach import LANDING_M
from reviews.demo.drawings.building import Building, build
from reviews.demo.drawings.canvas import HEIGHT_PX, PAPER, WIDTH_PX, dashes, hatching
from reviews.demo.drawings.fittings import MATTRESS_M
from reviews.demo.drawings.geometry import Rect, sides_facing
from reviews.demo.drawings.heights import heights_of, under_slope
from reviews.demo.drawings.names import mark_named
from reviews.demo.drawings.page import EDGE_MM, TitleBlock, zone_field, zone_lines
from reviews.demo.drawings.pieces import scale_for
from reviews.demo.drawings.plan import placing
from reviews.demo.drawings.sheets import draw_sheets
from reviews.demo.drawings.symbols import Placing

DATA = Path(reviews.__file__).parent / "demo" / "data"
PACKAGES = (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C"))
NUMBERS = ["00", "01", "02", "03", "04", "05", "06", "07"]
PX_PER_MM = 150 / 25.4

every_package = pytest.mark.parametrize(("scheme", "rev"), PACKAGES)


@cache
def package_of(scheme: str, rev: str) -> Package:
    return read_folder(DATA, scheme=scheme, rev=rev).package


@cache
def building_of(scheme: str, rev: str) -> Building:
    return build(package_of(scheme, rev))


def drawn(package: Package, number: str = "H03") -> list:
    tables = {
        schedule.slug: [
            schedule.record(row)
            for row in (
                [getattr(package, schedule.slug)]
                if schedule.is_single
                else package.rows_of(schedule.row)
            )
        ]
        for schedule in SCHEDULES
    }
    statement = "The hut is a shelf set into a calm place."
    block = TitleBlock(number, "Lee Shelf", "Imre Solday", "B", "3 Dec 2026", statement, "Saddle")
    return draw_sheets(block, package, tables)


# --- the plan ---


@every_package
def test_a_drawn_room_has_the_schedules_floor(scheme, rev):
    building = building_of(scheme, rev)
    scheduled = {room.mark: room.floor_m2 for room in building.package.rooms}
    assert {room.room.mark for room in building.plan.rooms} == set(scheduled)
    for room in building.plan.rooms:
        assert room.floor_m2 == pytest.approx(scheduled[room.room.mark], rel=0.01)


@every_package
def test_rooms_of_one_level_lie_inside_the_walls_and_apart(scheme, rev):
    plan = building_of(scheme, rev).plan
    for level in (plan.ground, plan.upper):
        parts = [(room, part) for room in level for part in room.parts]
        assert all(part.within(plan.inner) for _, part in parts)
        apart = [(a, b) for (r, a), (s, b) in combinations(parts, 2) if r is not s and a.meets(b)]
        assert apart == []


@every_package
def test_walls_are_as_thick_as_their_layers(scheme, rev):
    building = building_of(scheme, rev)
    layers = [layer for layer in building.package.envelope if layer.part == "wall"]
    assert building.plan.wall_m == pytest.approx(sum(layer.thickness_m for layer in layers))


def test_each_room_of_the_four_plans_can_be_entered():
    for scheme, rev in PACKAGES:
        building = building_of(scheme, rev)
        inside = [d for d in building.openings.doors if not d.is_outside]
        for room in building.plan.ground:
            touching = [
                d for d in inside if any(d.hole.grown(0.06).meets(part) for part in room.parts)
            ]
            assert touching, f"{scheme} {rev}: {room.room.name} has no door"


# --- windows and doors ---


@every_package
def test_every_window_of_the_schedule_is_placed_as_often_as_it_is_scheduled(scheme, rev):
    building = building_of(scheme, rev)
    placed = [w.window.mark for w in building.openings.windows]
    for window in building.package.windows:
        assert placed.count(window.mark) == window.n


@every_package
def test_a_window_stands_in_a_wall_of_its_room_that_faces_as_scheduled(scheme, rev):
    building = building_of(scheme, rev)
    plan = building.plan
    for placed in building.openings.windows:
        assert placed.room.room.mark == placed.window.room
        assert not placed.is_astray
        assert placed.side in sides_facing(placed.window.faces, plan.turn_deg)
        if not placed.is_roof_light:
            assert placed.side in plan.outside_sides(placed.room)
            assert placed.hole.within(plan.outer)


@every_package
def test_openings_of_one_wall_do_not_overlap(scheme, rev):
    openings = building_of(scheme, rev).openings
    holes = [
        (o.room.is_upper, o.hole)
        for o in (*openings.windows, *openings.doors)
        if not getattr(o, "is_roof_light", False)
    ]
    assert [
        (a, b) for (up, a), (over, b) in combinations(holes, 2) if up is over and a.meets(b)
    ] == []


@every_package
def test_every_door_of_the_schedule_is_hung_with_its_own_leaf(scheme, rev):
    building = building_of(scheme, rev)
    hung = {d.mark: d for d in building.openings.doors if d.mark}
    assert set(hung) == {door.mark for door in building.package.doors}
    for door in building.package.doors:
        assert hung[door.mark].wide_m == pytest.approx(door.leaf_w_m, abs=0.051)
        assert hung[door.mark].is_outside is bool(door.is_outside)


def test_a_place_names_its_room():
    rooms = package_of("H03", "B").rooms
    assert mark_named(rooms, "Porch, main") == "R1"
    assert mark_named(rooms, "Dry toilet 1 (step-free)") == "R7"
    assert mark_named(rooms, "Bunk room B, lower") == "R5"
    assert mark_named(rooms, "") is None


# --- to scale ---


def test_lengths_are_drawn_at_the_scale_said():
    place = Placing(50, 0.0, 0.0)
    assert place.mm(1.0) == pytest.approx(20.0)
    assert place.px(1.0) == pytest.approx(20.0 * PX_PER_MM)
    assert Placing(500, 0.0, 0.0).mm(14.0) == pytest.approx(28.0)


def test_a_window_takes_its_frame_width_in_pixels():
    building = building_of("H03", "B")
    place = placing(building)
    w1 = next(w for w in building.openings.windows if w.window.mark == "W1")
    (x0, _), (x1, _) = place.at(w1.hole.x0, 0), place.at(w1.hole.x1, 0)
    assert (x1 - x0) * PX_PER_MM == pytest.approx(1.400 * 1000 / 50 * PX_PER_MM)


@every_package
def test_the_plan_and_its_ramp_lie_on_the_paper(scheme, rev):
    building = building_of(scheme, rev)
    place = placing(building)
    rects = [building.plan.outer, building.ramp.extent]
    spots = [place.at(x, y) for r in rects for x, y in ((r.x0, r.y0), (r.x1, r.y1))]
    assert all(EDGE_MM < x < 420 - EDGE_MM and EDGE_MM < y < 297 - EDGE_MM for x, y in spots)


def test_a_plan_whose_ramp_is_too_long_for_the_paper_is_drawn_smaller():
    building = build(read_folder(DATA / "generated", scheme="E01", rev="B").package)
    place, ramp = placing(building), building.ramp
    assert ramp.run.width == pytest.approx(21.38)
    assert place.scale == 100
    for x, _ in (
        place.at(*corner) for r in (building.plan.outer, ramp.run) for corner in r.corners
    ):
        assert EDGE_MM < x < 420 - EDGE_MM


@pytest.mark.parametrize(
    ("scheme", "rev", "long_m", "landings"), [("H03", "B", 5.6, 0), ("H07", "B", 8.9, 2)]
)
def test_the_ramp_is_as_long_as_it_is_said_to_be_drawn(scheme, rev, long_m, landings):
    ramp = building_of(scheme, rev).ramp
    assert ramp.run.width == pytest.approx(long_m)
    assert len(ramp.landings) == landings
    assert all(flat.width == pytest.approx(LANDING_M) for flat in ramp.landings)
    assert all(flat.within(ramp.run) for flat in ramp.landings)


def test_pieces_are_drawn_at_a_scale_at_which_all_fit():
    station = package_of("E11", "C").leniently
    assert scale_for(station, station.pieces) == 100
    assert scale_for(Package().leniently, ()) == 50


# --- heights ---


def test_heights_are_counted_from_the_finished_floor():
    heights = heights_of(building_of("E11", "C"))
    assert heights.ground == pytest.approx(-1.4)
    assert heights.floor_m == pytest.approx(0.178)
    assert heights.ridge is None


def test_a_loft_has_the_mean_height_and_low_floor_of_its_row():
    loft = next(r for r in package_of("H07", "B").rooms if r.mark == "R4")
    knee, ridge = under_slope(loft)
    assert (knee + ridge) / 2 == pytest.approx(2.2)
    low_share = (1.5 - knee) / (ridge - knee)
    assert low_share == pytest.approx(3.1 / 15.2)


# --- furniture ---


@pytest.mark.parametrize(("scheme", "rev", "beds"), [("H03", "B", 7), ("E11", "C", 6)])
def test_there_is_a_bed_for_every_sleeper(scheme, rev, beds):
    kinds = [f.kind for f in building_of(scheme, rev).fittings]
    assert sum(kind in ("bed", "bunk", "mattress") for kind in kinds) == beds


def test_furniture_keeps_off_walls_and_other_furniture():
    for scheme, rev in PACKAGES:
        fittings = building_of(scheme, rev).fittings
        assert all(f.rect.within(f.room.main) for f in fittings)
        clashes = [
            (a.kind, b.kind)
            for a, b in combinations(fittings, 2)
            if a.room is b.room and a.rect.meets(b.rect)
        ]
        assert clashes == []


def test_mattresses_lie_side_by_side():
    loft = [f for f in building_of("H07", "A").fittings if f.room.is_upper]
    assert len(loft) == 6
    assert all(min(f.rect.width, f.rect.height) == pytest.approx(MATTRESS_M) for f in loft)


# --- what schedules lack ---


def typed(**tables: list[dict[str, str]]) -> Package:
    return read_package(tables).package


ONE_ROOM = {"mark": "R1", "room": "Hut", "floor_m2": "12", "use": "day"}


def test_one_room_and_nothing_else_is_a_plan():
    building = build(typed(rooms=[ONE_ROOM]))
    assert building.plan.day.floor_m2 == pytest.approx(12)
    assert building.ramp is None
    assert building.openings.windows == []


def test_blank_floors_heights_and_sizes_are_drawn_with_usual_ones():
    package = typed(
        rooms=[ONE_ROOM, {"mark": "R2", "room": "Bunk room", "use": "sleep", "sleepers": "4"}],
        windows=[{"mark": "W1", "room": "R2"}],
        doors=[{"mark": "D1", "place": "Hut", "outside": "yes"}],
        pieces=[{"mark": "M1", "piece": "Panel"}],
        stowage=[{"mark": "S1", "what": "Drawer"}],
        moves=[{"mark": "X1", "item": "Table"}],
        precedents=[{"mark": "P1", "building": "Hut"}],
    )
    assert [sheet.number for sheet in drawn(package)] == NUMBERS


def test_without_rooms_there_is_nothing_to_draw():
    with pytest.raises(ValueError, match="read no rooms; expected a room schedule"):
        build(Package())


def test_a_loft_alone_is_drawn_on_the_ground():
    building = build(typed(rooms=[{**ONE_ROOM, "room": "Loft"}]))
    assert [room.is_upper for room in building.plan.rooms] == [False]


# --- the sheet ---


def test_zones_divide_the_picture_evenly_as_the_page_does():
    across, down = zone_lines()
    assert [x * PX_PER_MM for x in across] == pytest.approx([WIDTH_PX * i / 6 for i in range(1, 6)])
    assert [y * PX_PER_MM for y in down] == pytest.approx([HEIGHT_PX * i / 4 for i in range(1, 4)])
    c4 = zone_field("C4")
    assert (c4.left, c4.right) == pytest.approx((across[2], across[3]))
    assert (c4.top, c4.bottom) == pytest.approx((down[1], down[2]))


@pytest.fixture(scope="module")
def sheets():
    return drawn(package_of("H07", "A"), "H07")


def test_a_package_with_odd_and_blank_values_has_all_eight_sheets(sheets):
    assert [sheet.number for sheet in sheets] == NUMBERS
    assert [sheet.scale for sheet in sheets[1:4]] == ["1:500", "1:50", "1:50"]
    assert all(sheet.image.size == (WIDTH_PX, HEIGHT_PX) for sheet in sheets)
    assert all(sheet.image.mode == "RGB" for sheet in sheets)


def darkest(image, x: int, y: int) -> int:
    near = image.crop((x - 2, y - 2, x + 3, y + 3))
    return min(sum(colour) for _, colour in near.getcolors(25))


def test_every_sheet_has_zone_ticks_between_its_rules(sheets):
    paper = sum(int(PAPER[i : i + 2], 16) for i in (1, 3, 5))
    across, down = zone_lines()
    rule = round((EDGE_MM + 1.5) * PX_PER_MM)
    for sheet in sheets:
        ticks = [(round(at * PX_PER_MM), rule) for at in across]
        ticks += [(rule, round(at * PX_PER_MM)) for at in down]
        assert all(darkest(sheet.image, x, y) < 0.7 * paper for x, y in ticks)
        beside = [(x + (20 if y == rule else 0), y + (20 if x == rule else 0)) for x, y in ticks]
        assert all(darkest(sheet.image, x, y) == paper for x, y in beside)


def test_the_same_package_gives_the_same_pixels(sheets):
    again = drawn(package_of("H07", "A"), "H07")
    assert [s.image.tobytes() for s in again] == [s.image.tobytes() for s in sheets]


def test_every_column_of_a_schedule_can_be_typed_and_set():
    texts = {Kind.TEXT: "words that run on for a while", Kind.YES_NO: "yes", Kind.MARK: "Z1"}
    tables = {
        schedule.slug: [
            {
                c.head: texts.get(c.kind) or (c.choices[0] if c.choices else c.example or "1")
                for c in schedule.columns
            }
        ]
        for schedule in (*SCHEDULES, SITE)
    }
    package = typed(rooms=[ONE_ROOM])
    block = TitleBlock("X9", "Name", "By", "A", "1 May 2026", "Words.", "Site")
    made = draw_sheets(block, package, tables)
    assert made[-1].title == "Schedules"


# --- the drawing hand ---


def test_dashes_follow_a_line_round_its_corners():
    parts = list(dashes([(0, 0), (10, 0), (10, 10)], (4, 2)))
    drawn_mm = sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in parts)
    assert drawn_mm == pytest.approx(20 - 3 * 2)
    assert parts[0] == ((0, 0), (4, 0))


def test_hatching_stays_inside_its_shape():
    square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    lines = list(hatching(square, 1.0, 45))
    assert 12 <= len(lines) <= 14
    for end in (point for line in lines for point in line):
        assert all(-1e-6 <= value <= 10 + 1e-6 for value in end)


def test_rectangles_that_only_touch_do_not_meet():
    assert not Rect(0, 0, 1, 1).meets(Rect(1, 0, 2, 1))
    assert Rect(0, 0, 1, 1).meets(Rect(0.9, 0, 2, 1))
